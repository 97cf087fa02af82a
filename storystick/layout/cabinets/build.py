"""From what a job says of a cabinet to every piece and opening in its place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import count, pairwise
from typing import Final

from storystick.job.cabinets import Cabinet
from storystick.layout.cabinets.back_making import pieces_of_back
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.case import Cell, Grid, outline_case, solve_grid
from storystick.layout.cabinets.checks import check_cabinet, warnings_about
from storystick.layout.cabinets.cleats import cleats_of
from storystick.layout.cabinets.corner_blocks import corner_blocks_of
from storystick.layout.cabinets.countertops import countertop_of
from storystick.layout.cabinets.cover import Cover
from storystick.layout.cabinets.frame import clear_between, members_of, rails_alone, seen_of
from storystick.layout.cabinets.levels import Level
from storystick.layout.cabinets.nailers import nailers_of
from storystick.layout.cabinets.nosings import nosings_of
from storystick.layout.cabinets.outer import make_outer
from storystick.layout.cabinets.pieces import Around, Bay, CabinetLayout, Case, Piece
from storystick.layout.cabinets.skeleton import Skeleton, make_skeleton
from storystick.layout.cabinets.web_frames import web_members
from storystick.lengths import Figures
from storystick.wording import without_number

_OUTER: Final = 4
"""How many parts a closed case begins with, both sides, bottom and top: a rail at an open end comes after theirs."""


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
    nailers = nailers_of(cabinet, case, skeleton, figures)
    # Both sides reach as high, so the back may go by either.
    whole = next(back_of(cabinet).pieces(case, skeleton.pieces[0]), None)
    back = pieces_of_back(whole, skeleton.pieces, figures) if whole else ()
    names = _rail_names(cabinet, skeleton)
    members = members_of(skeleton.pieces, skeleton.ends, names, cover, figures)
    rails = rails_alone(skeleton.levels, members, names, cabinet.frame, figures) if cabinet.frame else {}
    # What stands before a part comes in the order of the parts.
    placed = sorted(members, key=lambda part: skeleton.pieces.index(part) if isinstance(part, Piece) else _OUTER)
    frame = (*(members[part] for part in placed), *rails.values())
    webs = web_members(skeleton, figures)
    pieces = (
        *skeleton.pieces,
        *webs,
        *nosings_of(skeleton.nosings),
        *nailers,
        *back,
        *base_of(cabinet).pieces(cabinet, case),
        *frame,
        *countertop_of(cabinet),
    )
    before = dict[Piece | Level, Piece]((*members.items(), *rails.items()))
    bays = tuple(builder.bays(skeleton, before))
    layout = CabinetLayout(cabinet, pieces, bays, case, skeleton.crossings, back=whole)
    layout = _with_added(layout, cleats_of, figures)
    layout = _with_added(layout, corner_blocks_of, figures)
    check_cabinet(layout, figures)
    # What was found of its works stays with it where there is nothing to add.
    warnings = tuple(warnings_about(layout, figures))
    return replace(layout, warnings=warnings) if warnings else layout


def _with_added(
    layout: CabinetLayout, making: Callable[[CabinetLayout, Figures], tuple[Piece, ...]], figures: Figures
) -> CabinetLayout:
    """A cabinet with what is fixed into it afterwards."""
    added = making(layout, figures)
    return replace(layout, pieces=(*layout.pieces, *added)) if added else layout


@dataclass(frozen=True, slots=True)
class _Builder:
    """Makes a cabinet's skeleton, and its openings from that and the members of the frame before it."""

    cabinet: Cabinet
    case: Case
    cover: Cover
    grid: Grid
    figures: Figures

    def skeleton(self) -> Skeleton:
        """Sides, bottom, top, shelves and dividers."""
        outer = make_outer(self.cabinet, self.case, self.cover, self.figures)
        return make_skeleton(self.cabinet, self.case, self.cover, self.grid, outer)

    def bays(self, skeleton: Skeleton, members: Mapping[Piece | Level, Piece]) -> Iterator[Bay]:
        """Every opening, with that of the frame before it; ``members`` are the frame's by what each stands before."""
        numbers, names = count(1), _opening_names(self.grid)
        for row, band in enumerate(self.grid.bands):
            for column, stack in enumerate(band.stacks):
                left, right = skeleton.uprights[row][column : column + 2]
                levels = pairwise(skeleton.floors[row][column])
                for level, (cell, (below, above)) in enumerate(zip(stack.cells, levels, strict=True)):
                    number = next(numbers)
                    own_name = names[cell]
                    name = own_name or f"opening {number}"
                    around = Around(left, right, below.piece, above.piece)
                    before = (left, right, below.piece or below, above.piece or above)
                    yield Bay(
                        own_name=own_name,
                        number=number,
                        row=row + 1,
                        column=column + 1,
                        level=level + 1,
                        x=stack.x,
                        z=cell.z,
                        frame_x=clear_between(name, seen_of(left).end, seen_of(right).start, self.figures),
                        frame_z=clear_between(name, below.end, above.start, self.figures),
                        around=around,
                        framed=Around(*map(members.get, before)),
                        compartment=cell.compartment,
                    )


def _opening_names(grid: Grid) -> dict[Cell, str | None]:
    """The name of every opening that has one; what a grid repeats is counted on from column to column."""
    stacks = [stack for band in grid.bands for stack in band.stacks]
    repeats = Counter(each for stack in stacks for each in {id(cell.compartment) for cell in stack.cells})
    numbers: Counter[str] = Counter()
    names: dict[Cell, str | None] = {}
    for cell in (cell for stack in stacks for cell in stack.cells):
        names[cell] = cell.name
        if cell.name and repeats[id(cell.compartment)] > 1:
            word = without_number(cell.name)
            numbers[word] += 1
            names[cell] = f"{word} {numbers[word]}"
    return names


def _rail_names(cabinet: Cabinet, skeleton: Skeleton) -> dict[Piece | Level, str]:
    """What the rails over bands with a name are called, by what each stands before; those of one band are numbered."""
    names: dict[Piece | Level, str] = {}
    for row, columns in zip(cabinet.rows[:-1], skeleton.floors, strict=False):
        over = list(dict.fromkeys(levels[-1].piece or levels[-1] for levels in columns))
        for number, found in enumerate(over if row.name else (), start=1):
            names[found] = f"rail over {row.name}{f' {number}' if len(over) > 1 else ''}"
    return names
