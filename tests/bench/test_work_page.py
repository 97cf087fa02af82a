"""The page of a job, in a real browser."""

from __future__ import annotations

from shutil import copy
from typing import Any

from conftest import GALLERY, Served


def test_a_change_is_drawn_and_saved(page: Any, served: Served) -> None:
    copy(GALLERY / "tea-shelves" / "tea-shelves.toml", served.folder)
    page.goto(served("/job/tea-shelves.toml"))
    page.get_by_role("tab", name="Text").click()
    field = page.locator("#text")
    field.fill(field.input_value().replace('title = "', 'title = "Other '))
    page.get_by_text("Not saved").wait_for()
    page.keyboard.press("Control+s")
    page.get_by_text("Saved", exact=True).wait_for()
    assert 'title = "Other ' in (served.folder / "tea-shelves.toml").read_text()
