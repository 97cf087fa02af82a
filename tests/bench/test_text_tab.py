"""The whole file as text, in a real browser: line numbers, marks, and the way from a fault to its line."""

from __future__ import annotations

from shutil import copy
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from conftest import GALLERY, Served

BAD = """\
title = "Bad"
units = "inch"
[stock]
ply = "23/32"
[[cabinet]]
name = "Case"
height = "tall"
width = "30"
depth = "12"
carcass = "ply"
openings = [
  "6",
  "sixe",
]
"""
HEIGHT, SIXE = 7, 13
"""The lines of what is at fault, counted by hand."""


@pytest.fixture
def text(page: Any, served: Served) -> Any:
    """The page with the text in sight."""
    (served.folder / "bad.toml").write_text(BAD)
    page.goto(served("/job/bad.toml"))
    page.get_by_role("tab", name="Text").click()
    page.locator("#text").wait_for()
    return page


def marked(page: Any) -> list[int]:
    return [int(each) for each in page.locator(".text-numbers > .marked").all_text_contents()]


def caret_line(page: Any) -> int:
    line: int = page.evaluate("""() => {
      const area = document.querySelector("#text");
      return area === document.activeElement ? area.value.slice(0, area.selectionStart).split("\\n").length : 0;
    }""")
    return line


def test_faults_are_marked_at_their_lines_and_lead_there(text: Any) -> None:
    assert marked(text) == [HEIGHT, SIXE]
    assert text.locator(".text-numbers > span").count() == BAD.count("\n") + 1
    item = text.locator("#faults > li", has_text="sixe")
    item.get_by_role("button", name=f"Line {SIXE}").click()
    assert caret_line(text) == SIXE
    assert text.evaluate("getSelection().toString()").strip() == '"sixe",'
    assert "sixe" in text.locator("#text-here").inner_text()
    assert text.locator("#text-at").inner_text() == f"Line {SIXE} of {BAD.count(chr(10)) + 1}"


def test_a_mark_lies_beside_its_own_line(text: Any) -> None:
    text.locator("#faults .go").first.click()
    band, number, area = (
        text.locator(place).first.bounding_box() for place in (".text-bands > span", ".text-numbers > .marked", "#text")
    )
    line = area["height"] / (BAD.count("\n") + 1)
    assert band["y"] == pytest.approx(number["y"], abs=1)
    assert (number["y"] - area["y"]) / line == pytest.approx(HEIGHT - 1, abs=0.4)


def test_what_is_typed_is_the_draft_and_the_caret_stays(text: Any) -> None:
    text.keyboard.press("Tab")
    text.locator("#text").focus()
    text.keyboard.press("F8")
    assert caret_line(text) == HEIGHT
    text.keyboard.type('height = "36"', delay=30)
    text.locator(".text-numbers > .marked", has_text=str(HEIGHT)).wait_for(state="detached")
    text.locator(".text-numbers > .marked", has_text=str(SIXE)).wait_for()
    assert caret_line(text) == HEIGHT
    assert marked(text) == [SIXE]
    assert text.locator("#draft").input_value() == BAD.replace("tall", "36")
    assert text.locator("#text").input_value() == BAD.replace("tall", "36")
    text.keyboard.press("F8")
    assert caret_line(text) == SIXE


def test_no_key_is_lost_while_answers_come(text: Any) -> None:
    text.locator("#text").focus()
    text.keyboard.press("Control+Home")
    words = "# 0123456789 abcdefghijklmnopqrstuvwxyz 0123456789 abcdefghij"
    for number, sign in enumerate(words):
        text.keyboard.type(sign)
        text.wait_for_timeout(340 if number % 9 == 0 else 15)
    text.keyboard.press("Enter")
    text.wait_for_function("words => document.querySelector('#draft').value.startsWith(words)", arg=words + "\n")
    text.locator(".text-numbers > .marked", has_text=str(SIXE + 1)).wait_for()
    assert text.locator("#text").input_value() == f"{words}\n{BAD}"
    assert marked(text) == [HEIGHT + 1, SIXE + 1]


def test_a_text_that_is_not_toml_leads_to_the_line_where_it_breaks(text: Any) -> None:
    text.locator("#text").fill(BAD.replace('width = "30"', 'width = "30'))
    text.get_by_text("the file is not TOML").first.wait_for()
    text.get_by_role("tab", name="Drawing").click()
    text.locator("#text").wait_for(state="detached")
    text.get_by_role("button", name="Go to it").click()
    text.locator("#text").wait_for()
    text.wait_for_function("() => document.activeElement.id === 'text'")
    assert caret_line(text) == HEIGHT + 1


def test_the_text_follows_undo_and_the_fields(text: Any) -> None:
    text.locator("#text").fill(BAD.replace("Bad", "Other"))
    text.wait_for_function("() => document.querySelector('#draft').value.includes('Other')")
    text.get_by_role("button", name="Undo").click()
    text.wait_for_function("() => document.querySelector('#text').value.includes('Bad')")
    assert text.locator("#text").input_value() == BAD
    height = text.locator("#form").get_by_label("Height", exact=True)
    height.fill("36")
    text.wait_for_function("() => document.querySelector('#text').value.includes('height = \"36\"')")
    text.locator(".text-numbers > .marked", has_text=str(HEIGHT)).wait_for(state="detached")
    assert marked(text) == [SIXE]


def test_a_fault_leads_to_its_field_from_another_tab(text: Any) -> None:
    text.get_by_role("tab", name="Drawing").click()
    text.locator("#text").wait_for(state="detached")
    text.locator("#faults > li", has_text="tall").get_by_role("button").click()
    text.wait_for_function("() => document.activeElement.dataset.at === '/cabinet/0/height'")
    field = text.locator('#form .field[data-at="/cabinet/0/height"]')
    assert '"tall" is not a length' in field.locator(".fault").inner_text()
    assert "bad.toml" not in field.locator(".fault").inner_text()


@pytest.mark.parametrize("width", [390, 1000, 1600])
def test_the_text_is_for_everyone_at_any_width(text: Any, width: int) -> None:
    text.set_viewport_size({"width": width, "height": 900})
    found = Axe().run(text, context="#view")
    assert found.violations_count == 0, found.generate_report()
    assert text.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert text.get_by_role("textbox", name="The whole file as text").count() == 1


def test_a_job_without_faults_has_no_marks(page: Any, served: Served) -> None:
    copy(GALLERY / "tea-shelves" / "tea-shelves.toml", served.folder)
    page.goto(served("/job/tea-shelves.toml"))
    page.get_by_role("tab", name="Text").click()
    page.locator("#text").wait_for()
    assert marked(page) == []
    assert page.locator("#text-here").is_hidden()
    assert page.locator("#text").get_attribute("aria-invalid") is None
