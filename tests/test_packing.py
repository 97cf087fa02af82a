"""Where tiles lie on the sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from functools import partial
from itertools import combinations, pairwise
from math import ceil, floor
from random import Random
from typing import Final

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from storystick.sheets.packing import GAP_MM, Oblong, Placed, fit, pack

# About what A4 leaves: room for five of the lowest strips, and for three of those with many rows of labels.
WIDTH: Final = 269.0
HEIGHT: Final = 178.0
TOUCH_MM: Final = 1e-6

in_many_cases = settings(max_examples=100)

heights: Final = st.sampled_from([29.9, 33.4, 36.9, 40.4, 50.9])
widths: Final = st.floats(40.0, WIDTH)


@st.composite
def strips(draw: st.DrawFn) -> list[Oblong[int]]:
    """Tiles of strips: of each strip all but the last about as long as the paper allows, and its hands alike."""
    sizes: list[tuple[float, float]] = []
    for _ in range(draw(st.integers(1, 4))):
        height = draw(heights)
        tiles = [*draw(st.lists(st.floats(WIDTH - 40, WIDTH), max_size=4)), draw(widths)]
        sizes += [(tile, height) for tile in tiles] * draw(st.integers(1, 2))
    return [Oblong(number, *size) for number, size in enumerate(sizes)]


def fewest_sheets(blocks: list[Oblong[int]]) -> int:
    """What no packing can do with less, whatever its cuts.

    Every block is taken with the gap beside and above it, on a sheet one gap larger, and that no larger than the
    greatest sum of their sides that fits. Lengths of it are counted so that no line across a sheet ever meets more
    than 1: in both directions, that gives such a least number (S. P. Fekete and J. Schepers, "New classes of fast
    lower bounds for bin packing problems", Mathematical Programming 91, 2001, for dual feasible functions).
    """
    wides, highs = ([side + GAP_MM for side in sides] for sides in zip(*map(_sides, blocks), strict=True))
    across = _ways_of_counting(wides, _greatest_sum(wides, WIDTH + GAP_MM))
    upward = _ways_of_counting(highs, _greatest_sum(highs, HEIGHT + GAP_MM))
    return ceil((across @ upward.T).max() - TOUCH_MM)


def _sides(block: Oblong[int]) -> tuple[float, float]:
    return block.width, block.height


def _greatest_sum(lengths: list[float], room: float) -> float:
    """The greatest sum of some of the lengths that a room takes; the room where there are too many to try."""
    sums = {0.0}
    for length in lengths:
        sums |= {round(one + length, 4) for one in sums if one + length <= room + TOUCH_MM}
        if len(sums) > 20_000:
            return room
    return min(room, max(sums) + 1e-3)  # the sums are rounded


def _ways_of_counting(lengths: list[float], room: float) -> NDArray[np.float64]:
    """In rows, each length as it is; those from some length on alike; what leaves no room for some length as a whole
    1; and of so many steps and one more in the room, those that are begun."""
    shares = [length / room for length in lengths]
    ways: list[Callable[[float], float]] = [lambda share: share]
    for least in sorted({round(share, 6) for share in shares}):
        ways.append(partial(_alike, least))
        if least <= 0.5:
            ways.append(partial(_whole_where_alone, least))
    ways += [partial(_begun, steps) for steps in range(1, 8)]
    return np.array([[way(share) for share in shares] for way in ways])


def _alike(least: float, length: float) -> float:
    return 1 / floor(1 / least + TOUCH_MM) if length >= least else 0.0


def _whole_where_alone(least: float, length: float) -> float:
    return 0.0 if length < least else 1.0 if length + least > 1 + TOUCH_MM else length


def _begun(steps: int, length: float) -> float:
    """u(k) of the paper: lengths that are whole steps of 1/(k + 1) count as they are, others as those below them."""
    count = length * (steps + 1)
    return length if abs(count - round(count)) < 1e-9 else floor(count) / steps


def packed(blocks: list[Oblong[int]]) -> list[list[tuple[Oblong[int], Placed[int]]]]:
    """Every placed block beside its size, sheet by sheet."""
    return [[(blocks[place.item], place) for place in sheet] for sheet in pack(blocks, WIDTH, HEIGHT)]


@in_many_cases
@given(strips())
def test_every_block_is_placed_once(blocks: list[Oblong[int]]) -> None:
    placed = Counter(place.item for sheet in pack(blocks, WIDTH, HEIGHT) for place in sheet)
    assert placed == Counter(block.item for block in blocks)


@in_many_cases
@given(strips())
def test_every_block_lies_inside_its_sheet(blocks: list[Oblong[int]]) -> None:
    for sheet in packed(blocks):
        for block, place in sheet:
            assert place.x >= 0
            assert place.y >= -TOUCH_MM
            assert place.x + block.width <= WIDTH + TOUCH_MM
            assert place.y + block.height <= HEIGHT + TOUCH_MM


@in_many_cases
@given(strips())
def test_blocks_keep_a_gap_between_them(blocks: list[Oblong[int]]) -> None:
    gap = GAP_MM - TOUCH_MM
    for sheet in packed(blocks):
        for (one, at), (other, there) in combinations(sheet, 2):
            beside = at.x + one.width + gap <= there.x or there.x + other.width + gap <= at.x
            above = at.y + one.height + gap <= there.y or there.y + other.height + gap <= at.y
            assert beside or above


@in_many_cases
@given(strips())
def test_straight_cuts_across_the_sheet_free_every_lane(blocks: list[Oblong[int]]) -> None:
    """Lanes are what no level cut divides; the blocks of a lane stand side by side, freed by upright cuts."""
    for sheet in packed(blocks):
        for lane in _lanes(sheet):
            row = sorted(lane, key=lambda pair: pair[1].x)
            assert all(at.x + block.width + GAP_MM <= after.x + TOUCH_MM for (block, at), (_, after) in pairwise(row))


def _lanes(sheet: list[tuple[Oblong[int], Placed[int]]]) -> list[list[tuple[Oblong[int], Placed[int]]]]:
    lanes: list[list[tuple[Oblong[int], Placed[int]]]] = []
    floor_of_lane = 0.0
    for block, place in sorted(sheet, key=lambda pair: -(pair[1].y + pair[0].height)):
        if lanes and place.y + block.height > floor_of_lane:
            lanes[-1].append((block, place))
            floor_of_lane = min(floor_of_lane, place.y)
        else:
            lanes.append([(block, place)])
            floor_of_lane = place.y
    return lanes


@in_many_cases
@given(strips())
@example([Oblong(number, 50.0, 29.9 + number / 2) for number in range(20)])
def test_sheets_are_within_one_of_the_least(blocks: list[Oblong[int]]) -> None:
    assert len(pack(blocks, WIDTH, HEIGHT)) <= fewest_sheets(blocks) + 1


@pytest.mark.parametrize(
    ("sizes", "sheets"),
    [
        ([], []),
        ([(WIDTH, HEIGHT)], [[0]]),
        ([(100.0, 40.0)] * 2, [[0, 1]]),
        # Four lanes of 40 with three gaps make 166; a fifth does not go in.
        ([(200.0, 40.0)] * 5, [[0, 1, 2, 3], [4]]),
        # Two of these and a gap are as wide as the sheet.
        ([(133.5, 88.0)] * 4, [[0, 1, 2, 3]]),
        ([(133.6, 88.1)] * 2, [[0], [1]]),
        # Each long one leaves just the room for a short one; short ones together would leave none.
        ([(70.0, 88.0), (70.0, 88.0), (197.0, 88.0), (197.0, 88.0)], [[0, 1, 2, 3]]),
    ],
)
def test_plain_cases_come_out_as_worked_out_by_hand(sizes: list[tuple[float, float]], sheets: list[list[int]]) -> None:
    blocks = [Oblong(number, *size) for number, size in enumerate(sizes)]
    assert [sorted(place.item for place in sheet) for sheet in pack(blocks, WIDTH, HEIGHT)] == sheets


def test_tiles_that_fill_their_lanes_keep_their_order() -> None:
    blocks = [Oblong(number, 250.0 + number % 3, 40.0) for number in range(9)]
    assert [place.item for sheet in pack(blocks, WIDTH, HEIGHT) for place in sheet] == list(range(9))


def random_job(number: int) -> list[Oblong[int]]:
    """Up to twenty strips or pairs of them: tiles about as long as the paper allows, a shorter last one, and each as
    high as its lettering needs: in lines of it, or as long as the words are that stand upright."""
    random = Random(number)
    in_lines = random.random() < 0.5
    sizes: list[tuple[float, float]] = []
    for _ in range(random.choice([1, 2, 3, 5, 8, 13, 20])):
        widths = [*(random.uniform(WIDTH - 40, WIDTH) for _ in range(random.randint(0, 6))), random.uniform(60, WIDTH)]
        tiles = [
            (width, 29.9 + (3.5 * random.randint(0, 7) if in_lines else random.uniform(0, 34))) for width in widths
        ]
        sizes += tiles * random.randint(1, 2)
    return [Oblong(place, *size) for place, size in enumerate(sizes)]


@pytest.mark.parametrize("hundred", [0, 100, 200])
def test_of_300_random_jobs_none_takes_over_one_sheet_more_than_any_packing_must(hundred: int) -> None:
    jobs = [random_job(number) for number in range(hundred, hundred + 100)]
    over = [len(pack(blocks, WIDTH, HEIGHT)) - fewest_sheets(blocks) for blocks in jobs]
    assert min(over) >= 0
    assert max(over) <= 1


@in_many_cases
@given(strips())
def test_sheets_follow_the_order_of_the_job(blocks: list[Oblong[int]]) -> None:
    """Each sheet has the first block that none before it has, and from the top down its lanes begin in order."""
    waiting = list(range(len(blocks)))
    for sheet in packed(blocks):
        lanes = [[block.item for block, _ in sorted(lane, key=lambda pair: pair[1].x)] for lane in _lanes(sheet)]
        assert lanes[0][0] == waiting[0]
        assert [lane[0] for lane in lanes] == sorted(lane[0] for lane in lanes)
        assert all(lane == sorted(lane) for lane in lanes)
        waiting = [number for number in waiting if number not in {item for lane in lanes for item in lane}]


def test_tiles_of_a_strip_stay_together_where_that_takes_no_more_sheets() -> None:
    """Three of 50 go on a sheet, and five of 30: in either order, none goes before one that is named first."""
    high, low = [(250.0, 50.0)] * 6, [(250.0, 30.0)] * 5
    for sizes in (high + low, low + high):
        blocks = [Oblong(number, *size) for number, size in enumerate(sizes)]
        items = [place.item for sheet in pack(blocks, WIDTH, HEIGHT) for place in sheet]
        assert items == list(range(len(blocks)))


def test_a_tight_job_is_packed_tightly_though_its_order_is_lost() -> None:
    """Two of 60 and one of 50 fill a sheet of 178 with their gaps; in order three of 60 would not go on one."""
    blocks = [Oblong(number, 250.0, 60.0 if number < 6 else 50.0) for number in range(9)]
    sheets = [[place.item for place in sheet] for sheet in pack(blocks, WIDTH, HEIGHT)]
    assert sheets == [[0, 1, 6], [2, 3, 7], [4, 5, 8]]


def test_packing_is_the_same_each_time() -> None:
    for number in range(5):
        assert pack(random_job(number), WIDTH, HEIGHT) == pack(random_job(number), WIDTH, HEIGHT)


def used_width(blocks: list[Oblong[int]], sheet: list[Placed[int]]) -> float:
    return max(place.x + blocks[place.item].width for place in sheet)


def test_off_a_roll_a_sheet_is_no_longer_than_its_tiles_need_it() -> None:
    """Four tiles of 40 with their gaps are 166 high: one above another they take 100 of the paper, not 202."""
    blocks = [Oblong(number, 100.0, 40.0) for number in range(4)]
    (whole,), (cut,) = fit(blocks, WIDTH, HEIGHT, any_width=False), fit(blocks, WIDTH, HEIGHT, any_width=True)
    assert used_width(blocks, whole) == 202.0
    assert used_width(blocks, cut) == 100.0
    assert fit([], WIDTH, HEIGHT, any_width=True) == []


@in_many_cases
@given(strips())
def test_off_a_roll_no_more_sheets_are_taken_for_being_shorter(blocks: list[Oblong[int]]) -> None:
    cut = fit(blocks, WIDTH, HEIGHT, any_width=True)
    assert len(cut) == len(pack(blocks, WIDTH, HEIGHT))
    assert sorted(place.item for sheet in cut for place in sheet) == [block.item for block in blocks]
    assert max(used_width(blocks, sheet) for sheet in cut) <= WIDTH + TOUCH_MM
