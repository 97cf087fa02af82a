"""Where tiles lie on the sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from functools import partial
from itertools import combinations, pairwise, product
from math import ceil, floor
from typing import Final

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

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

    Every block is taken with the gap beside and above it, on a sheet one gap larger that counts 1 each way. A way of
    counting by which no line across a sheet ever meets more than 1 gives, in both directions, such a least number.
    """
    wide, high = WIDTH + GAP_MM, HEIGHT + GAP_MM
    sizes = [((block.width + GAP_MM) / wide, (block.height + GAP_MM) / high) for block in blocks]
    across, upward = (_ways_of_counting(set(lengths)) for lengths in zip(*sizes, strict=True))
    least = max(sum(one(w) * other(h) for w, h in sizes) for one, other in product(across, upward))
    return ceil(least - TOUCH_MM)


def _ways_of_counting(lengths: Iterable[float]) -> list[Callable[[float], float]]:
    """Each length as it is; those from some length on alike; what leaves no room for some length as a whole 1."""
    ways: list[Callable[[float], float]] = [lambda length: length]
    for least in lengths:
        ways.append(partial(_alike, least))
        if least <= 0.5:
            ways.append(partial(_whole_where_alone, least))
    return ways


def _alike(least: float, length: float) -> float:
    return 1 / floor(1 / least + TOUCH_MM) if length >= least else 0.0


def _whole_where_alone(least: float, length: float) -> float:
    return 0.0 if length < least else 1.0 if length + least > 1 + TOUCH_MM else length


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


@in_many_cases
@given(strips())
def test_each_block_is_in_the_first_lane_that_has_room_for_it(blocks: list[Oblong[int]]) -> None:
    """As by looking through all lanes, one after another, from the first."""
    lanes: list[tuple[list[int], float]] = []
    for block in sorted(blocks, key=lambda block: (-block.height, -block.width, block.item)):
        place = next((n for n, (_, used) in enumerate(lanes) if used + block.width <= WIDTH + 1e-6), len(lanes))
        content, used = lanes[place] if place < len(lanes) else ([], 0.0)
        lanes[place : place + 1] = [([*content, block.item], used + block.width + GAP_MM)]
    found: dict[tuple[int, float], list[int]] = {}
    for number, sheet in enumerate(pack(blocks, WIDTH, HEIGHT)):
        heights_of = {placed.item: blocks[placed.item].height for placed in sheet}
        for placed in sheet:
            found.setdefault((number, round(placed.y + heights_of[placed.item], 6)), []).append(placed.item)
    assert sorted(found.values()) == sorted(content for content, _ in lanes)


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
