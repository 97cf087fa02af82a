"""From what a job says of a cabinet to every piece and opening in its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count, pairwise

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet, Through
from storystick.job.cases import EndRule
from storystick.job.joints import Joint
from storystick.job.openings import Stock
from storystick.job.sticks import Hand
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.between import Boundary
from storystick.layout.cabinets.case import Grid, SolvedBand, outline_case, solve_grid, stands_between
from storystick.layout.cabinets.checks import check_cabinet, warnings_about
from storystick.layout.cabinets.frame import Cover, clear_between, members_of, seen_of
from storystick.layout.cabinets.pieces import (
    UPRIGHT_ROLES,
    Around,
    Axis,
    Bay,
    CabinetLayout,
    Case,
    Ending,
    Piece,
    Range,
    Role,
)
from storystick.lengths import Figures


def lay_out_cabinet(cabinet: Cabinet, figures: Figures) -> CabinetLayout:
    """Work out every piece and opening of a cabinet.

    Raises:
        StorystickError: it cannot be built so; ``figures`` says the lengths.
    """
    case = outline_case(cabinet, figures)
    cover = Cover(cabinet, case)
    grid = solve_grid(cover, figures)
    builder = _Builder(cabinet, case, cover, grid, figures)
    skeleton = builder.skeleton()
    # Both sides reach as high, so the back may go by either.
    back = back_of(cabinet).pieces(case, skeleton.pieces[0])
    members = members_of(skeleton.pieces, _rail_names(cabinet, skeleton), cover, figures)
    frame = (members[piece] for piece in skeleton.pieces) if members else ()
    pieces = (*skeleton.pieces, *back, *base_of(cabinet).pieces(cabinet, case), *frame)
    layout = CabinetLayout(cabinet, pieces, tuple(builder.bays(skeleton, members)), case)
    check_cabinet(layout, figures)
    # What was found of its works stays with it where there is nothing to add.
    warnings = tuple(warnings_about(layout, figures))
    return replace(layout, warnings=warnings) if warnings else layout


@dataclass(frozen=True, slots=True, eq=False)
class _Level:
    """What bounds openings from below or from above: its piece, None where nothing of the case stands.

    ``start`` and ``end`` are what is seen of it from the front, the same where nothing is.
    """

    piece: Piece | None
    start: Fraction
    end: Fraction


@dataclass(frozen=True, slots=True)
class _Skeleton:
    """The case's level and upright pieces, and how they bound its openings.

    ``uprights[band]`` are the uprights from left to right; ``floors[band][column]`` the levels from below to above.
    """

    pieces: tuple[Piece, ...]
    uprights: tuple[tuple[Piece, ...], ...]
    floors: tuple[tuple[tuple[_Level, ...], ...], ...]


@dataclass(frozen=True, slots=True)
class _Builder:
    """Makes the pieces in an order in which those that another ends on come before it."""

    cabinet: Cabinet
    case: Case
    cover: Cover
    grid: Grid
    figures: Figures

    def skeleton(self) -> _Skeleton:
        """Sides, bottom, top, shelves and dividers."""
        left, right, *ends = self._outer()
        bottom, top = map(_level_of, ends)
        shelf_numbers = count(1)
        dividers_through = self.cabinet.through is Through.DIVIDERS
        numbers = count(1)
        if dividers_through:
            # The same dividers stand in every band, so they are made once, and numbered before anything else.
            through = self._dividers(self.grid.bands[0], self.case.inside_z, bottom, top, numbers)
            uprights = [(left, *through, right) for _ in self.grid.bands]
            levels = self._levels(bottom, top, uprights, shelf_numbers)
        else:
            levels = self._levels(bottom, top, [(left, right) for _ in self.grid.bands], shelf_numbers)
            uprights = [
                (left, *self._dividers(band, band.z, below[0], above[0], numbers), right)
                for band, (below, above) in zip(self.grid.bands, pairwise(levels), strict=True)
            ]
        floors = [
            self._band_floors(band, band_uprights, below, above, shelf_numbers)
            for band, band_uprights, (below, above) in zip(self.grid.bands, uprights, pairwise(levels), strict=True)
        ]
        # The order of the cutting list and of all pages. A divider that runs through comes in every band, so once.
        pieces = [
            *(left, right, *ends),
            *(level.piece for row in levels[1:-1] for level in row),
            *(piece for row in uprights for piece in row[1:-1]),
            *(level.piece for band in floors for stack in band for level in stack[1:-1]),
        ]
        return _Skeleton(tuple(dict.fromkeys(filter(None, pieces))), tuple(uprights), tuple(floors))

    def _outer(self) -> tuple[Piece, Piece, Piece, Piece]:
        """Both sides, the bottom and the top. What lies over the sides is made before them, since they end on it."""
        rules = {Role.BOTTOM: self.cabinet.bottom, Role.TOP: self.cabinet.top}
        over = {role: self._end(role, rule) for role, rule in rules.items() if not stands_between(rule)}
        left, right = self._sides(over.get(Role.BOTTOM), over.get(Role.TOP))
        bottom, top = (over.get(role) or self._end(role, rule, (left, right)) for role, rule in rules.items())
        return left, right, bottom, top

    def _sides(self, bottom: Piece | None, top: Piece | None) -> tuple[Piece, Piece]:
        """The sides; ``bottom`` and ``top`` are given where they lie over them."""
        case, cabinet = self.case, self.cabinet
        z = Range(bottom.z.end if bottom else case.z.start, top.z.start if top else case.z.end)
        ends = _ending(bottom, cabinet.bottom.joint), _ending(top, cabinet.top.joint)

        def side(hand: Hand, x: Range) -> Piece:
            front = self.cover.side(x)
            return self._piece(Role.SIDE, f"{hand.value} side", cabinet.sides, (x, case.y, z), ends, front, hand)

        return (
            side(Hand.LEFT, Range(case.x.start, case.inside_x.start)),
            side(Hand.RIGHT, Range(case.inside_x.end, case.x.end)),
        )

    def _end(self, role: Role, rule: EndRule, sides: tuple[Piece, Piece] | None = None) -> Piece:
        """The bottom or the top, between ``sides`` or over them."""
        case = self.case
        z, front = (
            (case.bottom_z, self.cover.bottom(case.bottom_z))
            if role is Role.BOTTOM
            else (case.top_z, self.cover.top(case.top_z))
        )
        if sides is None:
            return self._piece(role, role.value, rule.stock, (case.x, case.y, z), (Ending(), Ending()), front)
        room = case.inside_x, case.end_y, z
        return self._piece(role, role.value, rule.stock, room, _endings(sides, rule.joint), front)

    def _levels(
        self, bottom: _Level, top: _Level, uprights: Sequence[tuple[Piece, ...]], numbers: Iterator[int]
    ) -> list[list[_Level]]:
        """Bottom, what stands between the bands, and top: one for every two uprights that it meets."""
        between = [
            [self._level(boundary, left, right, numbers) for left, right in pairwise(band_uprights)]
            for boundary, band_uprights in zip(self.grid.between, uprights, strict=False)
        ]
        return [[bottom], *between, [top]]

    def _dividers(
        self, band: SolvedBand, z: Range, below: _Level, above: _Level, numbers: Iterator[int]
    ) -> list[Piece]:
        rule, y = self.cabinet.dividers, self.case.inner_y
        if band.dividers and not (below.piece and above.piece):
            raise Fault(
                "a divider has nothing to end on where nothing stands between two bands",
                "let a shelf stand there, or leave out the columns",
            )
        ends = _ending(below.piece, rule.joint), _ending(above.piece, rule.joint)
        return [
            self._piece(Role.DIVIDER, f"divider {next(numbers)}", rule.stock, (x, y, z), ends, self.cover.divider(x))
            for x in band.dividers
        ]

    def _band_floors(
        self,
        band: SolvedBand,
        uprights: Sequence[Piece],
        below: Sequence[_Level],
        above: Sequence[_Level],
        numbers: Iterator[int],
    ) -> tuple[tuple[_Level, ...], ...]:
        """Column by column, the levels that bound its openings, from the one below to the one above."""
        return tuple(
            (
                # A level that runs right across has one piece, which bounds every column.
                below[min(column, len(below) - 1)],
                *(self._level(boundary, left, right, numbers) for boundary in stack.between),
                above[min(column, len(above) - 1)],
            )
            for column, (stack, (left, right)) in enumerate(zip(band.stacks, pairwise(uprights), strict=True))
        )

    def _level(self, boundary: Boundary, left: Piece, right: Piece, numbers: Iterator[int]) -> _Level:
        """What stands at a boundary between two uprights."""
        standing, z = boundary.standing, boundary.place
        if z is None:
            return _Level(None, boundary.start, boundary.end)
        room, ends = (Range(left.x.end, right.x.start), self.case.inner_y, z), _endings((left, right), standing.joint)
        shelf = self._piece(
            Role.SHELF, f"shelf {next(numbers)}", standing.stock, room, ends, self.cover.shelf(z, standing.rail)
        )
        return _level_of(shelf)

    def _piece(
        self,
        role: Role,
        name: str,
        stock: Stock,
        room: tuple[Range, Range, Range],
        ends: tuple[Ending, Ending],
        front: Range,
        hand: Hand | None = None,
    ) -> Piece:
        """A part of the case in its ``room`` across, in depth and up, with its low and its high ending."""
        (x, y, z), (low, high) = room, ends
        return Piece(
            cabinet=self.cabinet,
            role=role,
            name=name,
            stock=stock,
            axis=Axis.Z if role in UPRIGHT_ROLES else Axis.X,
            x=x,
            y=y,
            z=z,
            low=low,
            high=high,
            front_tongue=self._tongue(),
            front=front,
            hand=hand,
        )

    def _tongue(self) -> Fraction:
        """What enters the face frame at the front edge of every part of the case."""
        joint = self.cabinet.frame.joint if self.cabinet.frame else None
        return joint.entry if joint else Fraction(0)

    def bays(self, skeleton: _Skeleton, members: Mapping[Piece, Piece]) -> Iterator[Bay]:
        """Every opening, with the opening of the frame before it; ``members`` are the frame's by what each covers."""
        numbers = count(1)
        for row, band in enumerate(self.grid.bands):
            for column, stack in enumerate(band.stacks):
                left, right = skeleton.uprights[row][column : column + 2]
                levels = pairwise(skeleton.floors[row][column])
                for level, (cell, (below, above)) in enumerate(zip(stack.cells, levels, strict=True)):
                    number = next(numbers)
                    name = cell.name or f"opening {number}"
                    around = left, right, below.piece, above.piece
                    yield Bay(
                        own_name=cell.name,
                        number=number,
                        row=row + 1,
                        column=column + 1,
                        level=level + 1,
                        x=stack.x,
                        z=cell.z,
                        frame_x=clear_between(name, seen_of(left).end, seen_of(right).start, self.figures),
                        frame_z=clear_between(name, below.end, above.start, self.figures),
                        around=Around(*around),
                        framed=Around(*(members.get(piece) if piece else None for piece in around)),
                        compartment=cell.compartment,
                    )


def _level_of(piece: Piece) -> _Level:
    """What is seen of a level part of the case."""
    seen = seen_of(piece)
    return _Level(piece, seen.start, seen.end)


def _ending(on: Piece | None, joint: Joint | None) -> Ending:
    return Ending(on, joint, joint.entry if joint else Fraction(0)) if on else Ending()


def _endings(ons: tuple[Piece, Piece], joint: Joint | None) -> tuple[Ending, Ending]:
    """Both ends alike."""
    low, high = ons
    return _ending(low, joint), _ending(high, joint)


def _rail_names(cabinet: Cabinet, skeleton: _Skeleton) -> dict[Piece, str]:
    """What the rails over bands with a name are called, by the parts behind them; those of one band are numbered."""
    names: dict[Piece, str] = {}
    for row, columns in zip(cabinet.rows[:-1], skeleton.floors, strict=False):
        over = [piece for piece in dict.fromkeys(levels[-1].piece for levels in columns) if piece]
        for number, piece in enumerate(over if row.name else (), start=1):
            names[piece] = f"rail over {row.name}{f' {number}' if len(over) > 1 else ''}"
    return names
