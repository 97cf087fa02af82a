"""What drills, biscuit joiners, mortisers and pocket-hole jigs are set to for fasteners: bit, depth, from which face.

Where the centres lie is struck from strips and templates. Everything here but figures is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import Final

from storystick.job.fasteners import Bore, Tool
from storystick.layout.cabinets.fastening import FastenerRow, fastener_rows
from storystick.layout.cabinets.pieces import CabinetLayout, Piece
from storystick.layout.cabinets.works import surface_words
from storystick.lengths import Figures
from storystick.tooling.cautions import ABOVE_ALL, PROTECT, UNPLUG
from storystick.tooling.setups import names_of

DRILLING_TITLE: Final = "Holes, slots and pockets for fasteners"
DRILLING: Final = (
    "Strike the centres from the strips: the line across the board from its own strip, the places along that line from "
    "the strip of the depth; in an end they lie in the middle of the thickness. Set each stop on the tool, and try it "
    "in a piece of waste of the same thickness. Mark one face of every part, and work all ends from that face, so that "
    "what is not quite in the middle is so on all of them."
)
BORE_CAUTIONS: Final = (
    ABOVE_ALL,
    UNPLUG,
    "Clamp the work down, and keep both hands on the tool until it stands still.",
    PROTECT,
    "Back up a hole that goes through with a piece of waste, and keep fingers from where the bit comes out.",
)

_WHERE_TO_SET: Final = {
    Tool.DRILL: "",
    Tool.BISCUIT_JOINER: (
        "in a face, stand the tool on a straightedge clamped along the part's place, its cutter on the centre line"
    ),
    Tool.MORTISER: "in a face, against a straightedge parallel to the centre line",
    Tool.POCKET_JIG: "no setting is worked out: jig, collar and depth as the jig's manual says for this thickness",
}


@dataclass(frozen=True, slots=True)
class FastenerSetup:
    """A tool set for fasteners of one kind and size, in ``pieces`` alike; lengths in mm.

    ``where`` is what is bored: "faces", "ends" or pockets on a face. ``bore`` is None where the tool's manual governs.
    ``centre`` is from a face of the part, which is ``thick``; None where a strip says where the line is.
    """

    tool: Tool
    name: str
    sizes: str
    where: str
    bore: Bore | None
    centre: Fraction | None
    thick: Fraction
    through: bool
    pieces: tuple[Piece, ...] = ()

    @property
    def title(self) -> str:
        return f"{self.tool.value}: {self.name} {self.sizes}, {self.where}"

    @property
    def parts(self) -> str:
        """The parts in words, what their names share said once."""
        return names_of(self.pieces)

    @property
    def words(self) -> str:
        if self.through:
            return "from the face that is struck, then countersunk from the other"
        return _WHERE_TO_SET[self.tool] if self.centre is None or self.bore is None else ""

    def figures(self, label: Figures) -> Iterator[str]:
        """The figures to set, one by one."""
        if self.bore is None:
            yield f"parts {label(self.thick)} thick"
        elif self.bore.is_round:
            yield f"bit {label(self.bore.across)}"
        else:
            yield f"slot {label(self.bore.along)} long, {label(self.bore.across)} wide"
        if self.bore:
            yield "right through" if self.through else f"{label(self.bore.depth)} deep"
        if self.centre is not None:
            yield f"centre {label(self.centre)} from the face"


def fastener_setups(layouts: Iterable[CabinetLayout], figures: Figures) -> tuple[FastenerSetup, ...]:
    """All of them, those of a tool together, faces before ends; parts that are worked alike in one."""
    alike: dict[FastenerSetup, dict[Piece, None]] = {}
    for layout in layouts:
        for row in fastener_rows(layout):
            for setup, piece in _setups(row, figures):
                alike.setdefault(setup, {})[piece] = None
    found = [replace(setup, pieces=tuple(pieces)) for setup, pieces in alike.items()]
    return tuple(sorted(found, key=lambda setup: list(Tool).index(setup.tool)))


def _setups(row: FastenerRow, figures: Figures) -> Iterator[tuple[FastenerSetup, Piece]]:
    """What is done to the board and to the end of the part, or to its face where it has pockets."""
    part, fastener = row.part_thickness, row.fastener
    made = partial(FastenerSetup, fastener.tool, fastener.word, fastener.sizes(part, figures))
    if row.bored:
        edge = "edges" if row.framed else "faces"
        # The edge of a frame's member is worked in the middle of its thickness, like an end.
        centre = row.board.stock.thickness / 2 if row.framed else None
        thick, through = row.board.stock.thickness, fastener.from_outside
        yield made(f"in {edge}", row.bored, centre, thick, through), row.board
    if row.bored_end:
        yield made("in ends", row.bored_end, part / 2, part, False), row.piece
    if fastener.tool is Tool.POCKET_JIG:
        where = f"pockets on the {surface_words(row.piece, row.pocket_face)}"
        yield made(where, None, None, part, False), row.piece


def fastener_setup_rows(setups: Sequence[FastenerSetup], figures: Figures) -> list[str]:
    """Each with what is set, where, and in which parts, numbered."""
    return [
        f"{number}. {'; '.join(filter(None, (setup.title, *setup.figures(figures), setup.words, setup.parts)))}"
        for number, setup in enumerate(setups, start=1)
    ]
