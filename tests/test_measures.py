"""Sizes as they are seen in the face frame, or as those of the fronts, against linear equations of what is seen.

The oracle knows no case: it adds up openings (or fronts), what is seen between them and at the ends of a line, and
solves the sum together with what was asked of each by elimination.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import read, read_well

from storystick.cutting.fronts import fronts_of
from storystick.cutting.uneven import uneven_warnings
from storystick.errors import StorystickError
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, CabinetLayout, Piece, Role
from storystick.lengths import Figures, Units

MM: Final = Figures.usual(Units.MM)
HEIGHT, WIDTH, TOE, REVEAL = 3400, 1500, 90, 3


def eliminated(rows: list[list[Fraction]]) -> list[Fraction]:
    """The one solution of linear equations, each its coefficients and then its right side."""
    size = len(rows[0]) - 1
    for column in range(size):
        pivot = next(number for number in range(column, len(rows)) if rows[number][column])
        rows[column], rows[pivot] = rows[pivot], rows[column]
        lead = rows[column]
        for number, row in enumerate(rows):
            if number != column and row[column]:
                times = row[column] / lead[column]
                rows[number] = [one - times * other for one, other in zip(row, lead, strict=True)]
    assert all(row[-1] == 0 for row in rows[size:])
    return [rows[place][-1] / rows[place][place] for place in range(size)]


@dataclass(frozen=True)
class Asked:
    """What a job asks of an opening or a group: as it is written, and ``kind`` with its figures for the oracle."""

    written: str
    kind: str
    count: int = 1
    figure: Fraction = Fraction(0)
    first: Fraction | None = None


def solved(asked: Sequence[Asked], length: Fraction, between: Fraction) -> list[Fraction]:
    """All sizes on a line of ``length``, with ``between`` standing between each two."""
    size = sum(each.count for each in asked)
    rows: list[list[Fraction]] = [[Fraction(1)] * size + [length - between * (size - 1)]]

    def equation(right: Fraction, *terms: tuple[int, Fraction]) -> None:
        row = [Fraction(0)] * size
        for place, times in terms:
            row[place] += times
        rows.append([*row, right])

    place, shared = 0, None
    for each in asked:
        if each.kind == "fixed":
            equation(each.figure, (place, Fraction(1)))
        elif each.kind == "share":
            if shared:
                equation(Fraction(0), (place, shared[1]), (shared[0], -each.figure))
            shared = shared or (place, each.figure)
        else:
            if each.first is not None:
                equation(each.first, (place, Fraction(1)))
            for low in range(place, place + each.count - 1):
                if each.kind == "step":
                    equation(each.figure, (low, Fraction(1)), (low + 1, Fraction(-1)))
                else:
                    equation(Fraction(0), (low, Fraction(1)), (low + 1, -each.figure))
        place += each.count
    return eliminated(rows)


EQUAL: Final = Asked('"equal"', "share", figure=Fraction(1))
_BESIDE: Final = (
    Asked("115", "fixed", figure=Fraction(115)),
    Asked("{ share = 2 }", "share", figure=Fraction(2)),
    Asked("{ graduated = 2, step = 6, first = 90 }", "step", 2, Fraction(6), Fraction(90)),
    Asked('{ graduated = 2, ratio = "5/4", first = 90 }', "ratio", 2, Fraction(5, 4), Fraction(90)),
    EQUAL,
)
_ALONE: Final = (
    Asked("{ graduated = 4, step = 7 }", "step", 4, Fraction(7)),
    Asked('{ graduated = 3, ratio = "6/5" }', "ratio", 3, Fraction(6, 5)),
)


@st.composite
def lines(draw: st.DrawFn) -> list[Asked]:
    """Openings of a column, from the bottom up."""
    if draw(st.booleans()):
        return [draw(st.sampled_from(_ALONE)), *draw(st.lists(st.just(_BESIDE[0]), max_size=1))]
    return draw(st.permutations([EQUAL, *draw(st.lists(st.sampled_from(_BESIDE), max_size=2))]))


@dataclass(frozen=True)
class Fit:
    """Fronts as a job writes them, and how far they reach over what is ``wide``: at the outside, and where shared."""

    written: str
    outer: tuple[Fraction, Fraction]
    shared: tuple[Fraction, Fraction]

    def at_end(self, wide: Fraction) -> Fraction:
        return self.outer[0] + self.outer[1] * wide

    def over(self, wide: Fraction) -> Fraction:
        return self.shared[0] + self.shared[1] * wide if wide else Fraction(-REVEAL, 2)


def _fit(written: str, outer: tuple[int, int], shared: tuple[Fraction | int, Fraction | int]) -> Fit:
    """Each as so much, and so many times what is there."""
    return Fit(written, (Fraction(outer[0]), Fraction(outer[1])), (Fraction(shared[0]), Fraction(shared[1])))


_HALF: Final = Fraction(1, 2)
FITS: Final = (
    _fit('kind = "inset"', (-REVEAL, 0), (-REVEAL, 0)),
    _fit('kind = "overlay", overlay = 6', (6, 0), (6, 0)),
    _fit('kind = "overlay", overlay = { outside = 11, shared = 5 }', (11, 0), (5, 0)),
    _fit('kind = "overlay", overlay = { outside = 13 }', (13, 0), (-_HALF * REVEAL, _HALF)),
    _fit('kind = "overlay", outside = 2', (-2, 1), (-_HALF * REVEAL, _HALF)),
)


@dataclass(frozen=True)
class Tried:
    """A cabinet with what was asked of it, and what is seen of it: widths of members (or parts) and of its ends."""

    layout: CabinetLayout = field(repr=False)
    by_fronts: bool
    sizes: list[list[list[Fraction]]]
    widths: list[Fraction]
    heights: list[Fraction]
    align: str


@st.composite
def tried(draw: st.DrawFn) -> Tried:
    ply = draw(st.sampled_from([Fraction(16), Fraction(18), Fraction(183, 10), Fraction(1825625, 100000)]))
    framed, by_fronts = draw(st.sampled_from([(True, False), (True, True), (False, True)]))
    fit = draw(st.sampled_from(FITS))
    rail, stiles, mid = draw(st.sampled_from([20, 32, 40])), (38, draw(st.sampled_from([38, 60]))), 44
    top, bottom, align = 50, 61, draw(st.sampled_from(["top", "centre", "bottom"]))
    own = draw(st.sampled_from([None, 70]))
    edges = draw(st.sampled_from(["", ', edge = "flush"', ", edge = { proud = 4 }", ", edge = { short = 3 }"]))
    counts = draw(st.lists(st.integers(1, 3), min_size=1, max_size=3))
    columns = draw(st.integers(1, 3))
    stacks = [[draw(lines()) for _ in range(columns)] for _ in counts]
    kind = draw(st.sampled_from(["shelf", "rail", "nothing", *(["frame rail"] if framed else [])]))

    text = [
        f'units = "mm"\n[stock]\nply = "{ply}"\nfront = 20\n[[cabinet]]\nheight = {HEIGHT}\nwidth = {WIDTH}',
        "depth = 400",
        f'carcass = "ply"\nsizes = "{"fronts" if by_fronts else "frame"}"\ntoe = {{ height = {TOE}, recess = 60 }}',
        f'fronts = {{ stock = "front", reveal = {REVEAL}, {fit.written} }}' if by_fronts else "",
        f'frame = {{ stock = "front", stile = {{ left = {stiles[0]}, right = {stiles[1]} }}, rail = {rail}, '
        f'mid_stile = {mid}, align = "{align}", top = {{ width = {top}{edges} }}, '
        f"bottom = {{ width = {bottom}{edges} }} }}"
        if framed
        else "",
    ]
    for number, row in enumerate(stacks):
        text.append(f"[[cabinet.row]]\nheight = {'830' if number else quoted('equal')}")
        if framed and own and number < len(stacks) - 1:
            text.append(f"rail = {own}")
        for column, asked in enumerate(row):
            text.append(f"[[cabinet.row.column]]\nwidth = {'333' if column == 1 else quoted('equal')}")
            text.append(f"openings = [{', '.join(each.written for each in asked)}]")
            text.append(f'between = "{kind}"')
    job = read_well("\n".join(text))
    layout = lay_out_cabinet(job.cabinets[0], job.figures)

    seen = Fraction(rail) if framed else ply
    over = Fraction(own) if framed and own else seen
    upright = Fraction(mid) if framed else ply
    ends = [Fraction(each) for each in (*stiles, bottom, top)] if framed else [ply] * 4

    def gap(wide: Fraction) -> Fraction:
        return wide - 2 * fit.over(wide) if by_fronts else wide

    def length(whole: int, low: Fraction, high: Fraction) -> Fraction:
        reach = fit.at_end(low) + fit.at_end(high) if by_fronts else Fraction(0)
        return whole - low - high + reach

    across = [EQUAL if column != 1 else Asked("333", "fixed", figure=Fraction(333)) for column in range(columns)]
    up = [EQUAL if not number else Asked("830", "fixed", figure=Fraction(830)) for number in range(len(stacks))]
    widths = solved(across, length(WIDTH, *ends[:2]), gap(upright))
    heights = solved(up, length(HEIGHT - TOE, *ends[2:]), gap(over))
    inner = gap(Fraction(0) if kind == "nothing" else seen)
    sizes = [[solved(asked, high, inner) for asked in row] for row, high in zip(stacks, heights, strict=True)]
    return Tried(layout, by_fronts, sizes, widths, heights, align if framed else "")


def quoted(word: str) -> str:
    return f'"{word}"'


HEAD: Final = 'units = "mm"\n[stock]\nply = 18\nfront = 20\n'
CASE: Final = HEAD + '[[cabinet]]\nheight = 836\nwidth = 636\ndepth = 400\ncarcass = "ply"\n'
FRAME: Final = 'frame = { stock = "front", stile = 40, top = 50, bottom = 60, rail = 30 }\n'
INSET: Final = 'fronts = { kind = "inset", stock = "front", reveal = 2 }\n'


def warnings(text: str) -> list[str]:
    job = read_well(text)
    return list(uneven_warnings(lay_out_cabinet(job.cabinets[0], job.figures), job.figures))


def test_fronts_out_of_order_are_told_with_their_sizes() -> None:
    # 764 inside less the shelves: 264 2/3, 254 2/3, 244 2/3. Shelf tops at 300 2/3 and 573 1/3, each rail 30 below;
    # the frame opens from 60 to 270 2/3, from 300 2/3 to 543 1/3, from 573 1/3 to 786; a front loses 4 of each.
    assert warnings(CASE + FRAME + INSET + "openings = [{ graduated = 3, step = 10 }]") == [
        "opening 1–3 are graduated in the case, but their fronts are 206.7 scant, 238.7 scant and 208.7 scant high "
        'from the bottom, and so out of order; write sizes = "fronts" to graduate what is seen'
    ]


def test_equal_openings_with_unequal_fronts_are_told_with_their_sizes() -> None:
    # The shelf's top is at 18 + 391 + 18 = 427, its rail from 397: 337 and 359 open, less 4. Each of three columns is
    # (600 - 36) / 3 = 188 wide, a mid stile of 30 covers 6 of each side of an inner edge, a stile 22 of an outer one.
    both = warnings(
        CASE
        + FRAME.replace("rail = 30", "rail = 30, mid_stile = 30")
        + INSET
        + "".join(f"[[cabinet.column]]\nopenings = {2 * ['equal']}\n" for _ in range(3)).replace("'", '"')
    )
    assert both == [
        'column 1–3 are equal in the case, but their fronts are 156, 172 and 156 wide; write sizes = "fronts" for '
        "equal ones",
        "opening 1–6 are equal in the case, but their fronts are 333 and 355 high; "
        'write sizes = "fronts" for equal ones',
    ]


def test_openings_without_fronts_are_told_by_the_frame() -> None:
    assert warnings(CASE + FRAME + 'openings = ["equal", "equal"]') == [
        "opening 1, 2 are equal in the case, but their openings in the face frame are 337 and 359 high; "
        'write sizes = "frame" for equal ones'
    ]


@pytest.mark.parametrize("sizes", ["fronts", "case"])
def test_what_comes_out_as_asked_is_not_told(sizes: str) -> None:
    # Without a frame, inset fronts are as equal as their openings.
    assert warnings(CASE + f'sizes = "{sizes}"\n' + INSET + 'openings = ["equal", "equal"]') == []


def test_fixed_sizes_are_as_they_were_asked_for() -> None:
    assert warnings(CASE + FRAME + INSET + 'openings = ["300", "equal"]') == []


TWO_COLUMNS: Final = "[[cabinet.row.column]]\n[[cabinet.row.column]]\n"
ROWS: Final = f"[[cabinet.row]]\nname = 'boxes'\n{TWO_COLUMNS}[[cabinet.row]]\n{TWO_COLUMNS}"


@pytest.mark.parametrize(
    ("text", "names"),
    {
        ROWS: ["rail over boxes"],
        "through = 'dividers'\n" + ROWS: ["rail over boxes 1", "rail over boxes 2"],
        "[[cabinet.row]]\nname = 'boxes'\nabove = 'frame rail'\n[[cabinet.row]]": ["rail over boxes"],
        "[[cabinet.row]]\n[[cabinet.row]]": ["rail at shelf 1"],
    }.items(),
)
def test_a_rail_is_called_after_the_row_that_it_lies_over(text: str, names: list[str]) -> None:
    job = read_well(CASE + FRAME + text)
    layout = lay_out_cabinet(job.cabinets[0], job.figures)
    assert [rail.name for rail in layout.of(Role.RAIL) if rail.name not in ("bottom rail", "top rail")] == names


FAULTS: Final = {
    'sizes = "frame"\n': 'sizes = "frame", but the cabinet has no face frame; give it frame = { … }, or write '
    'sizes = "case".',
    'sizes = "fronts"\n': 'sizes = "fronts", but the cabinet has no fronts; give it fronts = { … }, or write '
    'sizes = "case".',
}


@pytest.mark.parametrize(("text", "sentence"), FAULTS.items())
def test_a_measure_wants_what_it_measures(text: str, sentence: str) -> None:
    assert read(CASE + text)[1] == [f"job.toml, cabinet 1: {sentence}"]


UNBUILT: Final = {
    'sizes = "fronts"\n' + FRAME + INSET + 'openings = ["400", "400"]': (
        "parts and openings come to 834, 112 more than length 722, as the fronts and the gaps between them are; "
        'change a size, or let one opening be "equal".'
    ),
    'sizes = "frame"\n'
    + FRAME.replace("rail = 30", "rail = 8").replace("bottom = 60", "bottom = { width = 60, edge = 'flush' }")
    + 'openings = ["4", "equal"]': (
        "behind an opening that is so small the parts of the case would overlap by 6; make the opening larger."
    ),
    'sizes = "fronts"\n'
    'fronts = { kind = "overlay", overlay = 10, stock = "front", reveal = 3 }\nopenings = ["equal", "equal"]': (
        "fronts: fronts would lie over each other by 2 where 18 stands between them; make the overlay less."
    ),
    FRAME.replace("bottom = 60", "bottom = { width = 15, edge = 'flush' }"): (
        "frame, bottom: the bottom is 18 thick, and the edge of its rail leaves only 15 for it before the end of the "
        "case; make the rail 18 wide or wider, or leave out edge."
    ),
    FRAME.replace("top = 50", "top = { width = 50, edge = { short = 3 } }") + "top = { place = 'over' }": (
        "frame, top: the top lies over the ends of the sides and cannot be moved by the 35 that edge asks for; "
        'leave out edge, make the rail 15 wide, or write place = "between" for the top.'
    ),
    FRAME + "[[cabinet.row]]\nname = 'low'\n[[cabinet.row]]\nname = 'high'\nrail = 40": (
        'row 2 ("high"), rail: over the highest row lies the top rail; say its width by top of the frame.'
    ),
    FRAME + "[[cabinet.row]]\nabove = 'nothing'\nrail = 40\n[[cabinet.row]]": (
        "row 1, rail: nothing stands above the row, and no rail before it; leave it out."
    ),
    FRAME.replace("rail", "to_floor = true, rail") + "plinth = { height = 80, recess = 19, recess_from = 'frame' }": (
        "frame, to_floor: the plinth front stands where the left stile and the right stile run to the floor, 20 thick; "
        "make the recess more, or leave out to_floor."
    ),
    FRAME.replace("bottom = 60", "bottom = { width = 60, edge = 'flush' }")
    + "plinth = { height = 80, recess = 30, ends = 'left' }": (
        "frame, bottom: nothing of the base stands under the left side, and the bottom is 42 above it; "
        "leave out ends of the base, or edge of the bottom rail."
    ),
    FRAME.replace("top = 50", "top = { width = 50, edge = 'flush' }") + "top = { place = 'none' }": (
        "frame, top: the case has no top, so that edge moves nothing; leave edge out."
    ),
    "[[cabinet.row]]\nrail = 40\n[[cabinet.row]]": (
        "row 1, rail: the cabinet has no face frame, so there is no rail over the row; leave it out."
    ),
}


@pytest.mark.parametrize(("text", "sentence"), UNBUILT.items(), ids=range(len(UNBUILT)))
def test_what_cannot_be_had_is_told_with_what_to_try(text: str, sentence: str) -> None:
    job = read_well(CASE + text)
    with pytest.raises(StorystickError) as told:
        lay_out_cabinet(job.cabinets[0], job.figures)
    assert [str(fault) for fault in told.value.faults] == [sentence]


@given(tried())
def test_what_is_seen_is_what_was_asked_for(cabinet: Tried) -> None:
    layout = cabinet.layout
    fronts = {bay: front for front in fronts_of(layout, MM) for bay in front.closing.bays}
    for bay in layout.bays:
        x, z = (fronts[bay].x, fronts[bay].z) if cabinet.by_fronts else (bay.frame_x, bay.frame_z)
        assert x.size == cabinet.widths[bay.column - 1]
        assert z.size == cabinet.sizes[bay.row - 1][bay.column - 1][bay.level - 1]
    for row, height in enumerate(cabinet.heights, start=1):
        own = [bay for bay in layout.bays if bay.row == row]
        reach = [fronts[bay].z if cabinet.by_fronts else bay.frame_z for bay in own]
        assert max(z.end for z in reach) - min(z.start for z in reach) == height


@given(tried())
def test_the_case_follows_what_is_seen(cabinet: Tried) -> None:
    layout = cabinet.layout
    for member in layout.of(*FRAME_ROLES):
        part = member.covers
        if part and part.role is Role.DIVIDER:
            assert member.x.start + member.x.end == part.x.start + part.x.end
        elif part and part.role in (Role.SHELF, Role.CASE_RAIL):
            assert agrees(member, part, cabinet.align)
    for bay in layout.bays:
        around = bay.around
        assert around.left
        assert around.right
        assert (bay.x.start, bay.x.end) == (around.left.x.end, around.right.x.start)
        assert around.below is None or bay.z.start == around.below.z.end
        assert around.above is None or bay.z.end == around.above.z.start
    parts = layout.of(*CASE_ROLES)
    for number, one in enumerate(parts):
        assert not any(apart_in_no_direction(one, other) for other in parts[number + 1 :])


def agrees(member: Piece, part: Piece, align: str) -> bool:
    if align == "top":
        return member.z.end == part.z.end
    if align == "bottom":
        return member.z.start == part.z.start
    return member.z.start + member.z.end == part.z.start + part.z.end


def apart_in_no_direction(one: Piece, other: Piece) -> bool:
    return one.x.overlaps(other.x) and one.y.overlaps(other.y) and one.z.overlaps(other.z)
