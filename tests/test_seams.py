"""Where strips are cut, against a search through every place that a seam could be at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from typing import Final, TypeAlias

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.drawing.shapes import Line
from storystick.drawing.window import Window
from storystick.job.sticks import Hand
from storystick.lengths import Units
from storystick.sheets.seams import CLEARANCE, Grids, Reach, Seam, Stretch, cut, draw_joints
from storystick.sheets.tiles import grids_of

GRIDS: Final = Grids(Fraction(10), Fraction(5))
WHOLE: Final = Grids(Fraction(1), Fraction(1))

in_many_cases = settings(max_examples=300)
in_over_a_thousand_cases = settings(max_examples=1200)


@st.composite
def small_cases(draw: st.DrawFn) -> tuple[list[Fraction], Reach, list[Stretch]]:
    """Marks at whole mm, some of them the edges of parts, and tiles so short that every cut can be tried."""
    length = draw(st.integers(20, 160))
    marks = sorted({0, length, *draw(st.lists(st.integers(1, length - 1), max_size=14))})
    others = draw(st.integers(14, 40))
    reach = Reach(Fraction(others), Fraction(others + draw(st.integers(0, 7))), Fraction(draw(st.integers(3, 12))))
    stretches = [(Fraction(near), Fraction(far)) for near, far in pairwise(marks)]
    return list(map(Fraction, marks)), reach, [stretch for stretch in stretches if draw(st.booleans())]


def clear_stations(marks: list[Fraction]) -> set[int]:
    """Every whole mm that is far enough from all marks. No other place could spare a tile where all figures are whole:
    a seam moved onward until it meets a mark's clearance, or the reach of its tile, comes to a whole mm."""
    whole = [int(mark) for mark in marks]
    return {station for station in range(whole[-1]) if all(abs(station - mark) >= CLEARANCE for mark in whole)}


def tiles_needed(marks: list[Fraction], reach: Reach, stations: set[int]) -> dict[int, int]:
    """From the datum and from each station: the fewest tiles to the far end, where it can be come to at all."""
    length, others, last = int(marks[-1]), int(reach.others), int(reach.last)
    needed: dict[int, int] = {}
    for start in sorted({0, *stations}, reverse=True):
        if length - start <= last:
            needed[start] = 1
        nexts = [needed[seam] + 1 for seam in stations if seam in needed and start < seam <= start + others]
        if nexts:
            needed[start] = min([*nexts, needed.get(start, len(marks) + 999)])
    return needed


def tile_lengths(marks: list[Fraction], seams: tuple[Seam, ...]) -> list[Fraction]:
    return [end - start for start, end in pairwise([Fraction(0), *(seam.at for seam in seams), marks[-1]])]


@in_over_a_thousand_cases
@given(small_cases())
def test_tiles_are_as_few_as_the_clearance_allows(case: tuple[list[Fraction], Reach, list[Stretch]]) -> None:
    marks, reach, parts = case
    needed = tiles_needed(marks, reach, clear_stations(marks))
    seams = cut(marks, reach, GRIDS, parts)
    if 0 in needed:
        assert len(seams) + 1 == needed[0]


@in_many_cases
@given(small_cases())
def test_every_seam_keeps_clear_where_any_cutting_does(case: tuple[list[Fraction], Reach, list[Stretch]]) -> None:
    marks, reach, parts = case
    can_be_clear = 0 in tiles_needed(marks, reach, clear_stations(marks))
    seams = cut(marks, reach, GRIDS, parts)
    assert all(seam.keeps_clear for seam in seams) == can_be_clear


@in_many_cases
@given(small_cases())
def test_seam_says_how_far_the_nearest_mark_is(case: tuple[list[Fraction], Reach, list[Stretch]]) -> None:
    marks, reach, parts = case
    for seam in cut(marks, reach, GRIDS, parts):
        assert seam.clearance == min(abs(mark - seam.at) for mark in marks)


@in_many_cases
@given(small_cases())
def test_tiles_cover_the_length_once_and_none_is_beyond_its_reach(
    case: tuple[list[Fraction], Reach, list[Stretch]],
) -> None:
    marks, reach, parts = case
    *others, last = tile_lengths(marks, cut(marks, reach, GRIDS, parts))
    assert all(0 < length <= reach.others for length in others)
    assert 0 < last <= reach.last


Against: TypeAlias = tuple[int, int, int, int]
"""Whether the last tile is too short; seams in parts, off multiples of 5, and off multiples of 10."""


def against(
    marks: list[Fraction], stations: Sequence[Fraction], shortest: Fraction, parts: list[Stretch], zero: int
) -> Against:
    return (
        int(marks[-1] - stations[-1] < shortest),
        sum(any(near < station < far for near, far in parts) for station in stations),
        sum((station - zero) % 5 != 0 for station in stations),
        sum((station - zero) % 10 != 0 for station in stations),
    )


def least_against(
    marks: list[Fraction], reach: Reach, parts: list[Stretch], count: int, zero: int
) -> tuple[Against, int]:
    """The least that any ``count`` seams at whole mm have against them, and how far on the last of such seams can be.

    Every way is tried, seam by seam from the far end, with each start that the seam before may have.
    """
    clear, length = sorted(clear_stations(marks)), int(marks[-1])

    @cache
    def rest(start: int, left: int) -> tuple[Against, int] | None:
        if left == 0:
            fits = length - start <= reach.last
            return ((int(length - start < reach.shortest), 0, 0, 0), -start) if fits else None
        ways = []
        for station in clear:
            if start < station <= start + reach.others and (after := rest(station, left - 1)):
                own = against(marks, [Fraction(station)], Fraction(0), parts, zero)
                ways.append((tuple(map(sum, zip((0, *own[1:]), after[0], strict=True))), after[1]))
        return min(ways) if ways else None

    found = rest(0, count)
    assert found
    return found[0], -found[1]


@in_many_cases
@given(small_cases(), st.booleans())
def test_as_many_seams_are_round_and_outside_the_parts_as_any_cutting_has_for_as_few_tiles(
    case: tuple[list[Fraction], Reach, list[Stretch]], from_the_far_end: bool
) -> None:
    marks, reach, parts = case
    zero = int(marks[-1]) if from_the_far_end else 0
    seams = [seam.at for seam in cut(marks, reach, replace(GRIDS, zero=Fraction(zero)), parts)]
    if seams and 0 in tiles_needed(marks, reach, clear_stations(marks)):
        least, farthest = least_against(marks, reach, parts, len(seams), zero)
        assert against(marks, seams, reach.shortest, parts, zero) == least
        assert seams[-1] == farthest


@pytest.mark.parametrize(
    ("marks", "reach", "seams"),
    [
        ([0, 100], (60, 100), []),
        ([0, 101], (60, 100), [60]),
        ([0, 500], (200, 207), [200, 400]),
        ([0, 500], (Fraction("199.7"), Fraction("206.7")), [199, 398]),
        # 200 is 1 from a mark, and 198 is 3 from it.
        ([0, 198 + 3, 500], (200, 207), [198, 398]),
        # 400 would leave 12 for the last tile.
        ([0, 412], (200, 207), [200, 382]),
        # The farthest clear place, 197.5, is not round, and 197 is in time.
        ([0, Fraction("200.5"), 380], (200, 207), [197]),
        # Only a place that is not round is in time.
        ([0, 190, Fraction("196.8"), Fraction("400.5")], (199, 207), [Fraction("193.8")]),
    ],
)
def test_seams_of_plain_cases_are_as_worked_out_by_hand(
    marks: list[Fraction], reach: tuple[Fraction, Fraction], seams: list[Fraction]
) -> None:
    found = cut(list(map(Fraction, marks)), Reach(Fraction(reach[0]), Fraction(reach[1]), Fraction(30)), WHOLE)
    assert [seam.at for seam in found] == seams


def test_seam_leaves_a_part_alone_where_an_opening_is_in_time() -> None:
    marks = [Fraction(mark) for mark in (0, 170, 210, 350)]
    reach = Reach(Fraction(200), Fraction(207), Fraction(30))
    assert [seam.at for seam in cut(marks, reach, WHOLE)] == [200]
    assert [seam.at for seam in cut(marks, reach, WHOLE, [(Fraction(170), Fraction(210))])] == [167]


def test_where_no_cutting_keeps_clear_the_seams_say_so_and_are_where_most_room_is() -> None:
    marks = [Fraction(mark) for mark in range(0, 105, 5)]
    seams = cut(marks, Reach(Fraction(40), Fraction(47), Fraction(10)), WHOLE)
    assert [seam.at for seam in seams] == [Fraction("37.5"), Fraction("77.5")]
    assert [(seam.clearance, seam.keeps_clear) for seam in seams] == [(Fraction("2.5"), False)] * 2


def test_tiles_begin_as_usual_again_after_a_seam_that_cannot_keep_clear() -> None:
    marks = [Fraction(mark) for mark in (*range(0, 105, 5), 300)]
    seams = cut(marks, Reach(Fraction(70), Fraction(77), Fraction(10)), WHOLE)
    assert [seam.keeps_clear for seam in seams] == [False, True, True, True]


def test_seam_keeps_out_of_a_part_that_has_another_within_it() -> None:
    marks = [Fraction(mark) for mark in (0, 100, 150, 160, 240, 300)]
    parts = [(Fraction(100), Fraction(240)), (Fraction(150), Fraction(160))]
    reach = Reach(Fraction(230), Fraction(230), Fraction(100))
    assert [seam.at for seam in cut(marks, reach, WHOLE, parts)] == [97]
    assert [seam.at for seam in cut(marks, reach, WHOLE, parts[1:])] == [200]


@pytest.mark.parametrize("hand", Hand)
def test_register_mark_is_whole_where_a_tile_ends_and_half_where_the_next_begins(hand: Hand) -> None:
    """What lies beyond the beginning would be cut away with the edge that is glued on the tab."""
    length, away = Fraction(200), 1 if hand is Hand.LEFT else -1

    def level(start: int, end: int) -> tuple[float, float]:
        window = Window(Fraction(start), Fraction(end), length, hand)
        marks = [line for line in draw_joints(window, [10.0], 0.0, 30.0) if isinstance(line, Line) and not line.dash_mm]
        (mark,) = (line for line in marks if line.y1 == line.y2 == 10.0)
        low, high = sorted(away * (x - window.x(Fraction(100))) for x in (mark.x1, mark.x2))
        return low, high

    arm = level(0, 100)[1]
    assert arm > 1.0
    assert (*level(0, 100), *level(100, 200)) == pytest.approx((-arm, arm, 0.0, arm))


@pytest.mark.parametrize(("units", "round_mm"), [(Units.INCH, Fraction("12.7")), (Units.MM, Fraction(10))])
def test_a_tape_shows_seams_at_a_glance_where_5_mm_of_play_allow(units: Units, round_mm: Fraction) -> None:
    """Each seam may have to give way by nearly a step of the grid, and each that does takes it from the next."""
    for length in range(1000, 1100):
        reach = Reach(Fraction(250), Fraction(257), Fraction(100))
        seams = cut([Fraction(0), Fraction(length)], reach, grids_of(units))
        play = len(seams) * reach.others + reach.last - length
        assert all(seam.at % round_mm == 0 for seam in seams) or play < len(seams) * round_mm
