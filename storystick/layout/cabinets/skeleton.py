"""The skeleton of a case: its uprights and levels, made in an order in which those that another ends on come first.

A level stands between two bands, or between two openings of a column. One between bands is cut by every divider that
runs through there, and every other divider of the two bands ends on it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from graphlib import CycleError, TopologicalSorter
from itertools import count, pairwise
from typing import NamedTuple, TypeAlias

from storystick.errors import Fault, Where
from storystick.job.cabinets import Cabinet, Through
from storystick.job.edgings import BoardEdge
from storystick.job.fronts import FrontKind
from storystick.job.nosings import Nosing
from storystick.layout.cabinets.between import Boundary, Web, dividers_of, reach_into
from storystick.layout.cabinets.case import Grid, SolvedBand
from storystick.layout.cabinets.closings import set_behind, setback_behind
from storystick.layout.cabinets.cover import Cover
from storystick.layout.cabinets.levels import Level
from storystick.layout.cabinets.outer import Outer, both_ends, case_piece, level_of
from storystick.layout.cabinets.pieces import Axis, Case, End, Piece, Range, Role


@dataclass(frozen=True, slots=True)
class Skeleton:
    """The case's level and upright pieces, and how they bound its openings.

    ``uprights[band]`` are the uprights from left to right; ``floors[band][column]`` the levels from below to above.
    ``crossings`` are each shelf and divider that are half-lapped, ``webs`` the web frames
    with what their members are.
    """

    pieces: tuple[Piece, ...]
    uprights: tuple[tuple[Piece, ...], ...]
    floors: tuple[tuple[tuple[Level, ...], ...], ...]
    ends: Mapping[End, Level]
    crossings: tuple[tuple[Piece, Piece], ...] = ()
    webs: tuple[tuple[Piece, Web], ...] = ()
    nosings: tuple[tuple[Piece, Nosing], ...] = ()

    @property
    def levels(self) -> tuple[Level, ...]:
        """Every level once."""
        return tuple(dict.fromkeys(level for band in self.floors for stack in band for level in stack))


class _Divider(NamedTuple):
    """A divider at its place across the case, and the ``first`` and ``last`` of the bands that it runs through."""

    x: Range
    first: int
    last: int


class _Segment(NamedTuple):
    """A level above a ``band``, between two dividers that run through there; None for the side."""

    band: int
    left: _Divider | None
    right: _Divider | None


_Node: TypeAlias = _Divider | _Segment


def make_skeleton(cabinet: Cabinet, case: Case, cover: Cover, grid: Grid, outer: Outer) -> Skeleton:
    """The outer parts, and all levels and dividers between them.

    Raises:
        Fault: a divider has nothing to end on, or parts would have to end on each other.
    """
    plan = _Plan(cabinet, grid)
    dividers = plan.dividers()
    segments = plan.segments(dividers)
    needs = plan.needs(dividers, segments)
    maker = _Maker(cabinet, case, cover, grid, outer)
    # Named from the bottom left, whatever has to be made first.
    names = {node: maker.name(plan.word(node)) for node in needs}
    for node in _in_order(needs):
        maker.make(node, names[node], segments)
    crossings = (
        (level, maker.uprights[each])
        for band, row in enumerate(segments)
        if plan.crosses(band) and (level := maker.levels[row[0]].piece)
        for each in _passing(dividers[band], band)
    )
    return replace(maker.skeleton(dividers, segments), crossings=tuple(crossings))


@dataclass(frozen=True, slots=True)
class _Plan:
    """Which dividers and which levels between bands there are, and which end on which."""

    cabinet: Cabinet
    grid: Grid

    def dividers(self) -> list[tuple[_Divider, ...]]:
        """Band by band, its dividers from the left; one that runs through stands in every one of its bands."""
        firsts: list[dict[Range, int]] = []
        for band, solved in enumerate(self.grid.bands):
            below = firsts[-1] if band and self._lets_through(band - 1) else {}
            firsts.append({x: below.get(x, band) for x in solved.dividers})
        last = {(x, first): band for band, row in enumerate(firsts) for x, first in row.items()}
        return [tuple(_Divider(x, first, last[x, first]) for x, first in row.items()) for row in firsts]

    def _lets_through(self, band: int) -> bool:
        """Whether dividers that stand below and above what is above a band run through it, and are alike."""
        below, above = (dividers_of(self.cabinet, row) for row in self.cabinet.rows[band : band + 2])
        if below != above:
            return False
        return self.cabinet.through is not Through.SHELVES or not self.grid.between[band].standing.carries

    def crosses(self, band: int) -> bool:
        """Whether what is above a band is half-lapped with the dividers that run through it, and not cut by them."""
        return self.cabinet.through is Through.BOTH and self.grid.between[band].standing.role is Role.SHELF

    def segments(self, dividers: Sequence[Sequence[_Divider]]) -> list[tuple[_Segment, ...]]:
        """Above every band but the highest, its level's segments from the left."""
        return [
            tuple(
                _Segment(band, left, right)
                for left, right in pairwise((None, *(() if self.crosses(band) else _passing(row, band)), None))
            )
            for band, row in enumerate(dividers[:-1])
        ]

    def needs(
        self, dividers: Sequence[Sequence[_Divider]], segments: Sequence[Sequence[_Segment]]
    ) -> dict[_Node, list[_Node]]:
        """What each ends on, of these: the levels from the bottom up, then the dividers."""
        found: dict[_Node, list[_Node]] = {
            segment: [each for each in (segment.left, segment.right) if each] for row in segments for segment in row
        }
        for divider in dict.fromkeys(each for row in dividers for each in row):
            met = (_met(divider, segments, band) for band in (divider.first - 1, divider.last))
            found[divider] = [segment for segment in met if segment]
        return found

    def word(self, node: _Node) -> str:
        """What one is called, without its number."""
        return self.grid.between[node.band].standing.kind.value if isinstance(node, _Segment) else "divider"


def _passing(row: Sequence[_Divider], band: int) -> Iterator[_Divider]:
    """The dividers of a band that run on into the next one."""
    return (each for each in row if each.last > band)


def _met(divider: _Divider, segments: Sequence[Sequence[_Segment]], band: int) -> _Segment | None:
    """The segment above a band that a divider ends on; None at the bottom and at the top."""
    if not 0 <= band < len(segments):
        return None
    return next(each for each in segments[band] if each.right is None or divider.x.end <= each.right.x.start)


def _in_order(needs: dict[_Node, list[_Node]]) -> tuple[_Node, ...]:
    try:
        return tuple(TopologicalSorter(needs).static_order())
    except CycleError as error:
        raise Fault(
            "shelves and dividers would end on each other in a ring, so that none of them can be the first",
            "let the shelves run through, or give neighbouring rows the same columns",
            Where.unsaid("through"),
        ) from error


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the pieces, by what was planned of them; ``numbers`` count each kind."""

    cabinet: Cabinet
    case: Case
    cover: Cover
    grid: Grid
    outer: Outer
    uprights: dict[_Divider, Piece] = field(default_factory=dict)
    levels: dict[_Segment, Level] = field(default_factory=dict)
    webs: dict[Piece, Web] = field(default_factory=dict)
    nosings: dict[Piece, Nosing] = field(default_factory=dict)
    numbers: defaultdict[str, Iterator[int]] = field(default_factory=lambda: defaultdict(lambda: count(1)))

    def name(self, word: str) -> str:
        return f"{word} {next(self.numbers[word])}"

    def make(self, node: _Node, name: str, segments: Sequence[Sequence[_Segment]]) -> None:
        """One divider or level, when those that it ends on are made."""
        if isinstance(node, _Segment):
            left, right = (
                self.uprights[each] if each else side
                for each, side in zip((node.left, node.right), self.outer.sides, strict=True)
            )
            self.levels[node] = self._level(self.grid.between[node.band], left, right, name)
            return
        low, high = (_met(node, segments, band) for band in (node.first - 1, node.last))
        below = self.levels[low] if low else self.outer.bottom
        above = self.levels[high] if high else self.outer.top
        self.uprights[node] = self._divider(node, below, above, name)

    def _divider(self, divider: _Divider, below: Level, above: Level, name: str) -> Piece:
        met = [bool(level.piece) or level in (self.outer.bottom, self.outer.top) for level in (below, above)]
        if not all(met):
            raise Fault(
                f"a divider of row {(divider.last if met[0] else divider.first) + 1} has nothing to end on "
                f"{'above' if met[0] else 'below'} it",
                "let a shelf stand there, or give the next row a divider at the same place",
            )
        bands, rule = self.grid.bands, dividers_of(self.cabinet, self.cabinet.rows[divider.first])
        z = Range(bands[divider.first].z.start, bands[divider.last].z.end)
        one_front = self._one_front(divider)
        setback = max(rule.setback, setback_behind(self.cabinet, one_front)) if one_front else rule.setback
        room = divider.x, reach_into(self.case, setback, rule.depth, "divider"), z
        low, high = (self.outer.ending_at(level, rule.joint, room[1]) for level in (below, above))
        front = self.cover.divider(divider.x)
        piece = case_piece(self.cabinet, Role.DIVIDER, name, rule.stock, room, (low, high), front)
        self._check_on_edge(piece)
        return set_behind(piece) if one_front else piece

    def _check_on_edge(self, divider: Piece) -> None:
        """Whether a stretcher on edge stands where a divider does."""
        for piece in self.outer.pieces:
            if piece.on_edge and all(divider.along(axis).overlaps(piece.along(axis)) for axis in Axis):
                raise Fault(
                    f'"{divider.name}" runs into the {piece.name}, which stands on edge',
                    "lay it flat, turn both stretchers, or give the dividers a depth that ends before it",
                    piece.closes.value if piece.closes else "",
                )

    def _one_front(self, divider: _Divider) -> FrontKind | None:
        """The one front over the row in which a divider stands; none over one of several that it runs through."""
        fronts = [band.front for band in self.grid.bands[divider.first : divider.last + 1]]
        if any(fronts) and len(fronts) > 1:
            raise Fault(
                f"a divider runs through rows {divider.first + 1} to {divider.last + 1}, one of which has one front "
                "over all of it",
                "let shelves run through there, or give each column a front",
            )
        return fronts[0]

    def _level(self, boundary: Boundary, left: Piece, right: Piece, name: str) -> Level:
        """What stands at a boundary between two uprights."""
        standing, z, x = boundary.standing, boundary.place, Range(left.x.end, right.x.start)
        if z is None or standing.role is None:
            seen = (
                self.cover.rail_at(boundary.start, standing.rail)
                if standing.has_rail
                else (boundary.start, boundary.start)
            )
            return Level(None, *seen, x, (left, right) if standing.has_rail else None)
        room, ends = (x, standing.into(self.case), z), both_ends((left, right), standing.joint)
        seen_as = self.cover.shelf(z, standing.rail)
        nosed = (BoardEdge.FRONT,) if standing.nosing else ()
        piece = case_piece(self.cabinet, standing.role, name, standing.stock, room, ends, seen_as, covered=nosed)
        piece = set_behind(piece) if standing.behind else piece
        if standing.nosing:
            if self.cabinet.frame and not standing.behind:
                what = f'"{name}" has a nosing, but a rail of the face frame lies before it'
                raise Fault(what, "leave out the nosing or the frame", "shelves")
            self.nosings[piece] = standing.nosing
        if standing.web:
            self.webs[piece] = standing.web
        return level_of(piece)

    def skeleton(self, dividers: Sequence[Sequence[_Divider]], segments: Sequence[Sequence[_Segment]]) -> Skeleton:
        """All of it with the levels inside the columns, in the order of the cutting list and of all pages."""
        left, right = self.outer.sides
        uprights = [(left, *(self.uprights[each] for each in row), right) for row in dividers]
        bottom, top = self.outer.bottom, self.outer.top
        between = [[bottom], *([self.levels[each] for each in row] for row in segments), [top]]
        floors = [
            self._band_floors(band, row, below, above)
            for band, row, (below, above) in zip(self.grid.bands, uprights, pairwise(between), strict=True)
        ]
        # A divider that runs through comes in every one of its bands, but it is one.
        pieces = [
            *self.outer.pieces,
            *(level.piece for row in between[1:-1] for level in row),
            *(piece for row in uprights for piece in row[1:-1]),
            *(level.piece for band in floors for stack in band for level in stack[1:-1]),
        ]
        own, webs = tuple(dict.fromkeys(filter(None, pieces))), tuple(self.webs.items())
        return Skeleton(
            own, tuple(uprights), tuple(floors), self.outer.levels, webs=webs, nosings=tuple(self.nosings.items())
        )

    def _band_floors(
        self, band: SolvedBand, uprights: Sequence[Piece], below: Sequence[Level], above: Sequence[Level]
    ) -> tuple[tuple[Level, ...], ...]:
        """Column by column, the levels that bound its openings, from the one below to the one above."""
        return tuple(
            (
                _over(below, stack.x),
                *(self._level(each, left, right, self.name(each.standing.kind.value)) for each in stack.between),
                _over(above, stack.x),
            )
            for stack, (left, right) in zip(band.stacks, pairwise(uprights), strict=True)
        )


def _over(levels: Sequence[Level], x: Range) -> Level:
    """Which of the levels between two bands bounds a column."""
    return next(level for level in levels if level.x.start <= x.start and x.end <= level.x.end)
