"""The drawing on the page, in a real browser: clicked, made larger, followed by what is typed."""

from __future__ import annotations

from shutil import copy
from typing import Any

import pytest
from conftest import GALLERY, Served

CHEST = GALLERY / "bead-chest" / "bead-chest.toml"


def width_of(page: Any) -> float:
    width: float = page.locator(".picture svg").first.bounding_box()["width"]
    return width


def test_a_click_on_a_part_leads_to_its_field(page: Any, served: Served) -> None:
    """The field of the width of the stiles has the focus, and the stiles are marked in the drawing."""
    copy(CHEST, served.folder)
    page.goto(served("/job/bead-chest.toml?at=/cabinet/0"))
    page.locator('.place[aria-label="left stile"]').click()
    page.wait_for_function("document.activeElement.dataset.at?.startsWith('/cabinet/0/frame/stile')")
    page.wait_for_selector(".place.chosen")
    chosen = page.locator(".place.chosen").evaluate_all("all => all.map(each => each.dataset.at)")
    assert set(chosen) == {"/cabinet/0/frame/stile"}


def test_a_place_is_chosen_by_keyboard(page: Any, served: Served) -> None:
    copy(CHEST, served.folder)
    page.goto(served("/job/bead-chest.toml?at=/cabinet/0"))
    page.locator('.place[aria-label="top rail"]').focus()
    page.keyboard.press("Enter")
    page.wait_for_function("document.activeElement.dataset.at?.startsWith('/cabinet/0/frame/top')")


def test_a_drawing_is_made_larger_by_buttons_and_keys(page: Any, served: Served) -> None:
    copy(CHEST, served.folder)
    page.goto(served("/job/bead-chest.toml?at=/cabinet/0"))
    page.wait_for_selector(".picture svg")
    before = width_of(page)
    page.get_by_role("button", name="Larger", exact=True).click()
    larger = width_of(page)
    assert larger == pytest.approx(1.25 * before, rel=0.02)
    page.locator(".picture .paper").first.focus()
    page.keyboard.press("+")
    assert width_of(page) == pytest.approx(1.25 * larger, rel=0.02)
    page.keyboard.press("0")
    assert width_of(page) == pytest.approx(before, rel=0.02)


@pytest.mark.parametrize("width", [390, 1000, 1600])
def test_no_width_makes_the_page_wider_than_the_screen(page: Any, served: Served, width: int) -> None:
    copy(CHEST, served.folder)
    page.set_viewport_size({"width": width, "height": 800})
    for tab in ("Drawing", "Strips"):
        page.goto(served("/job/bead-chest.toml?at=/cabinet/0"))
        page.get_by_role("tab", name=tab, exact=True).click()
        page.wait_for_selector(f".{tab.lower()}.drawing .picture svg, .drawing.{tab.lower()} .picture svg")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
