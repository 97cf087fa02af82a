"""What stands between two openings one above the other: the rule of each boundary, resolved, and its place.

``above`` of an opening or a band says it, else ``between`` of the column, the band or the cabinet, else it is a shelf.
What they leave out is as in the cabinet's shelves.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.errors import Fault, Where
from storystick.job.between import Between, BetweenKind
from storystick.job.cabinets import Cabinet
from storystick.job.cases import PartRule
from storystick.job.compartments import Compartment
from storystick.job.fronts import FrontKind
from storystick.job.joints import Joint
from storystick.job.nosings import Nosing
from storystick.job.openings import Part, Stock
from storystick.job.rows import CabinetColumn, CabinetRow
from storystick.layout.cabinets.closings import setback_behind
from storystick.layout.cabinets.measures import Gap, Measure
from storystick.layout.cabinets.nosings import behind_nosing
from storystick.layout.cabinets.pieces import Case, Range, Role

_ROLES: Final[Mapping[BetweenKind, Role | None]] = {
    BetweenKind.SHELF: Role.SHELF,
    BetweenKind.RAIL: Role.CASE_RAIL,
    BetweenKind.WEB_FRAME: Role.WEB_FRAME,
    BetweenKind.DUST_PANEL: Role.WEB_FRAME,
    BetweenKind.FRAME_RAIL: None,
    BetweenKind.NOTHING: None,
}
_SHELF: Final = Between(BetweenKind.SHELF, width=Fraction(0), groove=Fraction(0))


def reach_into(case: Case, setback: Fraction, depth: Fraction | None, word: str) -> Range:
    """What a part has of the case's depth: from ``setback`` behind the front, ``depth`` deep or to the back.

    Raises:
        Fault: it would reach through the back; it is called by ``word``.
    """
    start = case.y.start + setback
    end = case.inner_y.end if depth is None else start + depth
    if not start < end <= case.inner_y.end:
        what = f"a {word} would reach through the back of the cabinet, or stand behind it"
        raise Fault(what, "make its setback less, or how deep or wide it is")
    return Range(start, end)


@dataclass(frozen=True, slots=True)
class Web:
    """How wide a web frame's members are, how deep their grooves, and what is in these, if anything."""

    width: Fraction
    groove: Fraction
    panel: Stock | None = None


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands at a boundary, with its stock and its joint, and the ``rail`` before it where that has a width of
    its own (mm). ``behind`` is the one front that it stands behind, None where the face has a member before it.
    """

    kind: BetweenKind
    stock: Stock
    joint: Joint | None
    rail: Fraction | None = None
    setback: Fraction = Fraction(0)
    depth: Fraction | None = None
    behind: FrontKind | None = None
    web: Web | None = None
    nosing: Nosing | None = None

    def into(self, case: Case) -> Range:
        """What its piece has of the case's depth; faults as :func:`reach_into`."""
        y = reach_into(case, self.setback, self.depth, self.kind.value)
        return behind_nosing(y, self.nosing)

    @property
    def role(self) -> Role | None:
        """What its piece of the case is; None where nothing of the case stands."""
        return _ROLES[self.kind]

    @property
    def part(self) -> Part | None:
        """What it takes of the case's height; None where nothing of the case stands."""
        return Part(self.stock) if self.role else None

    @property
    def carries(self) -> bool:
        """Whether it is deep enough that dividers can stand on it and end under it."""
        return self.role in (Role.SHELF, Role.WEB_FRAME)

    @property
    def has_rail(self) -> bool:
        """Whether a face frame has a rail there."""
        return self.kind is not BetweenKind.NOTHING and self.behind is None

    def gap(self, measure: Measure) -> Gap:
        """What it takes between two openings in a measure."""
        if not self.role and not self.has_rail:
            return measure.nothing()
        return measure.level(self.stock.thickness if self.role else Fraction(0), self.rail)

    def set_behind(self, front: FrontKind, cabinet: Cabinet) -> Standing:
        """The same behind one front: no rail lies before it, and it begins where an inset front ends."""
        return replace(self, behind=front, setback=max(self.setback, setback_behind(cabinet, front)))


@dataclass(frozen=True, slots=True)
class Boundary:
    """What stands between two openings, from ``start`` to ``end`` (mm): the same where nothing of the case does."""

    standing: Standing
    start: Fraction
    end: Fraction

    @property
    def place(self) -> Range | None:
        """Where its piece of the case lies; None without one."""
        return Range(self.start, self.end) if self.end > self.start else None


def boundaries(standing: Sequence[Standing], openings: Sequence[Range]) -> tuple[Boundary, ...]:
    """What stands between each two openings, in its place."""
    return tuple(
        Boundary(each, low.end, high.start) for each, (low, high) in zip(standing, pairwise(openings), strict=True)
    )


def between_bands(cabinet: Cabinet) -> list[Standing]:
    """What stands above each band but the highest.

    Raises:
        Fault: something is to stand above the highest.
    """
    if cabinet.rows[-1].above:
        what = "something is to stand above the highest row, where the cabinet has its top"
        raise Fault(what, "leave out above there", Where.unsaid(*cabinet.rows[-1].steps, "above"))
    return [_standing(cabinet, row, row.above or cabinet.between, row.rail) for row in cabinet.rows[:-1]]


def shelves_of(cabinet: Cabinet, row: CabinetRow) -> PartRule:
    """What a band says of its shelves, those above it among them, or the cabinet says."""
    return row.shelves or cabinet.shelves


def dividers_of(cabinet: Cabinet, row: CabinetRow) -> PartRule:
    """What a band says of its dividers, or the cabinet says."""
    return row.dividers or cabinet.dividers


def between_openings(cabinet: Cabinet, row: CabinetRow, column: CabinetColumn) -> Standing:
    """What stands between the openings of a column where no opening says otherwise."""
    return _standing(cabinet, row, column.between or row.between or cabinet.between)


def shelf_behind(cabinet: Cabinet, row: CabinetRow, front: FrontKind) -> Standing:
    """A fixed shelf behind the one front of its opening."""
    return _standing(cabinet, row, None).set_behind(front, cabinet)


def standing_above(cabinet: Cabinet, row: CabinetRow, column: CabinetColumn, compartment: Compartment) -> Standing:
    """What stands above an opening or a graduated group of a column."""
    if compartment.above:
        return _standing(cabinet, row, compartment.above)
    return between_openings(cabinet, row, column)


def _standing(cabinet: Cabinet, row: CabinetRow, between: Between | None, rail: Fraction | None = None) -> Standing:
    found, shelves = between or _SHELF, shelves_of(cabinet, row)
    stock, joint = found.stock or shelves.stock, found.joint or shelves.joint
    if found.kind is BetweenKind.SHELF:
        setback = shelves.setback if found.setback is None else found.setback
        depth = found.depth or shelves.depth
        return Standing(found.kind, stock, joint, rail, setback, depth, nosing=shelves.nosing)
    web = Web(found.width, found.groove, _panel(found, cabinet)) if _ROLES[found.kind] is Role.WEB_FRAME else None
    depth = found.depth if web else found.width
    return Standing(found.kind, stock, joint, rail, found.setback or Fraction(0), depth, web=web)


def _panel(found: Between, cabinet: Cabinet) -> Stock | None:
    if found.kind is not BetweenKind.DUST_PANEL:
        return None
    stock = found.panel or (cabinet.back.stock if cabinet.back else None)
    if stock is None:
        raise Fault("a dust panel has no stock: there is no back that it could be like", 'give panel = "…"')
    return stock
