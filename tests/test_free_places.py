"""Free places for words: nothing is lettered over, and what is far away costs nothing."""

from __future__ import annotations

from typing import Final

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.drawing.placing_words import FreePlaces, Rect
from storystick.drawing.shapes import Box

PANE: Final = Rect(0.0, 0.0, 200.0, 120.0)


def rects(longest: int) -> st.SearchStrategy[Rect]:
    """Rectangles by whole mm, so that edges often touch; some reach beyond the pane."""
    places, sizes = st.integers(-20, 200), st.integers(1, longest)
    return st.builds(lambda x, y, wide, high: Rect(x, y, x + wide, y + high), places, places, sizes, sizes)


def pixels(rect: Rect) -> tuple[slice, slice]:
    left, bottom, right, top = (int(edge) + 50 for edge in rect)
    return slice(bottom, top), slice(left, right)


@given(st.lists(rects(150), max_size=12), rects(40))
def test_place_is_free_where_it_has_no_area_in_common_with_what_is_taken(taken: list[Rect], place: Rect) -> None:
    places = FreePlaces(PANE)
    for rect in taken:
        places.take_place(rect)
    # The pane, with room around it, as pixels of 1 mm, those that may not be lettered painted.
    painted = np.ones((500, 500), bool)
    painted[pixels(PANE)] = False
    for rect in taken:
        painted[pixels(rect)] = True
    assert places.is_free(place) is bool(not painted[pixels(place)].any())


def test_box_that_words_may_lie_within_is_no_hindrance_but_what_is_in_it_is() -> None:
    box = Box(10.0, 10.0, 100.0, 30.0)
    places = FreePlaces(PANE)
    places.take([box], 0.0)
    assert not places.is_free(Rect(20, 20, 40, 25))
    assert places.is_free(Rect(20, 20, 40, 25), box)
    places.take_place(Rect(30, 20, 50, 25))
    assert not places.is_free(Rect(20, 20, 40, 25), box)


def test_corner_is_the_lowest_that_is_free_then_the_leftmost_and_is_taken_then() -> None:
    places = FreePlaces(PANE)
    places.take_place(Rect(0, 0, 200, 10))
    places.take_place(Rect(0, 10, 50, 30))
    assert places.corner_for(60, 20, 10) == (50, 10)
    assert places.corner_for(90, 20, 10) == (110, 10)
    assert places.corner_for(60, 20, 10) == (0, 30)
    assert places.corner_for(60, 111, 10) is None


def test_what_is_taken_far_away_is_not_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    places = FreePlaces(PANE)
    for column in range(100):
        for row in range(60):
            places.take_place(Rect(column * 2, row * 2, column * 2 + 1, row * 2 + 1))
    looked_at: list[Rect] = []
    monkeypatch.setattr(Rect, "meets", lambda _, other: looked_at.append(other))
    assert places.is_free(Rect(101, 61, 102, 62))
    assert 0 < len(looked_at) < 6000 / 100
