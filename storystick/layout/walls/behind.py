"""Where sockets and pipes of a wall come on the backs of the cabinets before them. Exact, in mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from storystick.job.features import Feature
from storystick.layout.cabinets.pieces import BACK_ROLES, CabinetLayout, Piece, Range
from storystick.layout.runs import Placed, RunLayout
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class Behind:
    """A feature of a wall that a cabinet stands or hangs before.

    ``x`` and ``z`` are the feature's middle from the cabinet's left and floor. ``left``, as seen from the front, and
    ``up`` are from the left and the lower edge of its back, or of its case where it has none; ``right`` is from the
    right edge, the left one for who sees the back from behind. ``meets`` are the parts that the feature would be
    behind: it is not in the clear.
    """

    feature: Feature
    placed: Placed
    cabinet: CabinetLayout
    run: RunLayout
    x: Fraction
    z: Fraction
    left: Fraction
    right: Fraction
    up: Fraction
    meets: tuple[Piece, ...]

    def name(self, figures: Figures) -> str:
        """The cabinet's name, with where it stands if there are several of it."""
        span, cabinet = self.placed.span, self.cabinet.cabinet
        many = cabinet.count > 1
        return f"{span.name}, from {figures(span.start)} to {figures(span.end)}" if many else span.name

    @property
    def has_back(self) -> bool:
        return self.cabinet.back is not None


def behind_cabinets(run: RunLayout, cabinets: Iterable[CabinetLayout]) -> Iterator[Behind]:
    """The features of a run with a height that come behind its cabinets, cabinet by cabinet from the datum."""
    layouts = {layout.cabinet.name: layout for layout in cabinets}
    for placed in run.placed:
        layout = layouts.get(placed.item.cabinet.name) if placed.item.cabinet else None
        for feature in run.run.features if layout else ():
            if layout and isinstance(feature, Feature) and feature.height and _is_before(placed, feature):
                found = _behind(feature, feature.height, placed, layout, run)
                # What lies lower is in the toe space, and the back is not cut for it.
                if found.up > -feature.across / 2:
                    yield found


def _is_before(placed: Placed, feature: Feature) -> bool:
    """Whether what is placed covers any of a feature; one without size at its very edge, too."""
    if placed.z is None or feature.height is None:
        return False
    half = feature.across / 2
    return (
        placed.x.start - half <= feature.at <= placed.x.end + half
        and placed.z.start - half < feature.height < placed.z.end + half
    )


def _behind(feature: Feature, height: Fraction, placed: Placed, layout: CabinetLayout, run: RunLayout) -> Behind:
    span, foot = placed.span, placed.z.start if placed.z else Fraction(0)
    x = feature.at - span.start if run.left_is_datum else span.end - feature.at
    z = height - foot
    across, upward = _outline(layout)
    half = feature.across / 2
    meets = tuple(
        piece
        for piece in layout.pieces
        if piece.role not in BACK_ROLES
        and piece.y.end >= layout.inner_back
        and _touches(piece.x, x, half)
        and _touches(piece.z, z, half)
    )
    return Behind(feature, placed, layout, run, x, z, x - across.start, across.end - x, z - upward.start, meets)


def _outline(layout: CabinetLayout) -> tuple[Range, Range]:
    """What the back takes across and up, with what of it is let into other parts; of the case where there is none."""
    back = layout.back
    return (back.x, back.z) if back else (layout.case.x, layout.case.z)


def _touches(part: Range, at: Fraction, half: Fraction) -> bool:
    return part.start <= at + half and at - half <= part.end
