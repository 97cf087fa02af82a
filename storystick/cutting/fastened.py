"""What is bored or slotted for fasteners, in words and as works of a part; and how many fasteners a job takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from storystick.cutting.notes import ONCE_GLUED, on_face
from storystick.cutting.part import PartWork
from storystick.job.fasteners import Bore, Tool
from storystick.layout.cabinets.fastening import FastenerRow, fastener_rows, rows_at_ends, rows_on
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Piece, Role
from storystick.layout.cabinets.works import surface_words
from storystick.lengths import Label
from storystick.wording import listed, number_of

_COUNTED_FROM: Final = {Axis.X: "lower edge", Axis.Z: "left edge"}
"""What stations across an end of a face frame's member are told from, by the axis of its length."""


def fastener_notes(piece: Piece, layout: CabinetLayout, label: Label) -> Iterator[str]:
    """The fasteners at the ends of a piece, both together where alike; on a rail also those of its web frame."""
    ends: dict[tuple[str, str], list[FastenerRow]] = {}
    for row in rows_at_ends(layout, piece):
        ends.setdefault(_end_words(row, label), []).append(row)
    for (what, where), rows in ends.items():
        end = "each end" if len(rows) > 1 else f"the {surface_words(piece, rows[0].end)}"
        yield f"{what} at {end}, {where}"
    if piece.role is Role.WEB_RAIL and piece.part_of:
        yield from (f"{ONCE_GLUED}: {words}" for words in fastener_notes(piece.part_of, layout, label))


def _end_words(row: FastenerRow, label: Label) -> tuple[str, str]:
    """How many, of which sizes; and where across the end, and how deep."""
    fastener = row.fastener
    what = f"{number_of(len(row.centres), fastener.word)} {fastener.sizes(row.part_thickness, label)}"
    edge = _COUNTED_FROM[row.piece.axis] if row.over_width else "front edge"
    stations = listed(list(map(label, row.across_end)))
    return what, f"{stations} from the {edge}{_bored(row, label)}"


def _bored(row: FastenerRow, label: Label) -> str:
    """What is made in the end, or on which face the pockets are."""
    if row.fastener.tool is Tool.POCKET_JIG:
        return f", pockets on its {surface_words(row.piece, row.pocket_face)}"
    bore = row.bored_end
    return f", {bore_words(bore, label)}" if bore else ""


def bore_words(bore: Bore, label: Label) -> str:
    """A hole or a slot by its depth."""
    return f"{'holes' if bore.is_round else 'slots'} {label(bore.depth)} deep"


def fastener_works(piece: Piece, layout: CabinetLayout) -> Iterator[PartWork]:
    """What is bored or slotted into the faces of a board for what ends on it."""
    for row in rows_on(layout, piece):
        if (bore := row.bored) is None:
            continue
        # Along a frame's member the centres run along it, and stand in the middle of its thickness.
        run, beside = (row.along, row.across[0]) if row.over_width else (row.across, row.along[0])
        yield PartWork(
            kind="holes" if bore.is_round else "slots",
            on=surface_words(piece, row.on),
            name=row.piece.name,
            start=beside,
            end=beside,
            low=run[0],
            high=run[-1],
            depth=bore.depth,
            along=row.over_width,
            places=run,
            bore=(bore.along, bore.across),
            done=on_face(piece, row.on, f"{'bored' if bore.is_round else 'slotted'} for {row.fastener.word}"),
        )


@dataclass(frozen=True, slots=True)
class Hardware:
    """So many fasteners of one kind and size, for a whole job."""

    name: str
    sizes: str
    count: int

    @property
    def words(self) -> str:
        return f"{self.name} {self.sizes}: {self.count}"


def hardware_of(layouts: Iterable[CabinetLayout], label: Label) -> tuple[Hardware, ...]:
    """All fasteners that the cabinets of a job take, in the order in which they are first needed."""
    found: dict[tuple[str, str], int] = {}
    for layout in layouts:
        for row in fastener_rows(layout):
            key = row.fastener.word, row.fastener.sizes(row.part_thickness, label)
            found[key] = found.get(key, 0) + len(row.centres) * layout.cabinet.count
    return tuple(Hardware(name, sizes, count) for (name, sizes), count in found.items())


HARDWARE_HEADINGS: Final = ("hardware", "size", "number")


def hardware_rows(hardware: Iterable[Hardware]) -> list[tuple[str, ...]]:
    """Each under :data:`HARDWARE_HEADINGS`."""
    return [(each.name, each.sizes, str(each.count)) for each in hardware]
