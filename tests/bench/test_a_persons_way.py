"""A person's way from an empty folder to a printed five-drawer case: by mouse, and again by the keyboard alone."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, Final

import pytest
from click.testing import CliRunner

from storystick.cli import main

TYPED: Final = {
    "Overall height": "40",
    "Overall width": "30",
    "Overall depth": "19",
    "Thickness of the case's parts": "45/64",
}
DRAWER: Final = "/cabinet/0/openings/1"
PRINT_MS: Final = 120_000


def done(*words: str) -> str:
    """What a command says that must end well."""
    ended = CliRunner().invoke(main, list(words))
    assert ended.exit_code == 0, ended.output
    return ended.output


def settled(page: Any) -> dict[str, Any]:
    """What the draft says once all that was typed has been answered."""
    assert page.evaluate("() => bench.settled()")
    return tomllib.loads(page.locator("#draft").input_value())


def sizes(page: Any) -> list[str]:
    """Of the openings, "equal" among them; of one that was split, the share of each half."""
    return [each.get("opening") or each["share"] for each in settled(page)["cabinet"][0]["openings"]]


def drawer(page: Any, name: str) -> Any:
    return page.locator(f".picture:not(.strip) a.place[aria-label^='{name}']")


def show(page: Any, tab: str) -> None:
    page.get_by_role("tab", name=tab, exact=True).click()
    settled(page)


def is_printed_and_true(folder: Path) -> None:
    """The paper is there, and its strips prove themselves by the command."""
    assert {path.name for path in folder.glob("chest-print/*.pdf")} >= {"job-sheet.pdf", "strips.pdf"}
    assert done("verify", str(folder / "chest-print/strips.pdf")).startswith("true: largest difference 0 mm")
    done("check", str(folder / "chest.toml"))


def test_from_an_empty_folder_to_the_paper(page: Any, served: Any, folder: Path) -> None:
    page.goto(served("/"))
    page.get_by_role("link", name="New cabinet").click()
    for label, typed in TYPED.items():
        page.get_by_label(label).fill(typed)
    page.get_by_label("Sizes of the drawers").select_option("equal")
    page.get_by_role("button", name="Make the job").click()

    page.get_by_role("heading", name="Chest", level=1).wait_for()
    assert sizes(page) == ["equal"] * 5
    assert settled(page)["stock"]["ply"] == "45/64"

    # A fault stands at its place in words, and the last drawing stays, marked.
    drawer(page, "drawer 2").click()
    page.wait_for_function("at => document.activeElement.closest(`[data-part='${at}']`)", arg=DRAWER)
    page.keyboard.press("Control+A")
    page.keyboard.type("44")
    settled(page)
    assert "no room is left" in page.locator("#form .fault:visible").inner_text()
    assert page.locator("#stale").is_visible()
    assert drawer(page, "drawer 5").count() == 1
    page.keyboard.press("Control+A")
    page.keyboard.type("6")
    assert sizes(page) == ["equal", "6", "equal", "equal", "equal"]
    assert page.locator("#form .fault:visible").count() == 0
    assert page.locator("#stale").is_hidden()

    # What is chosen in the drawing is split there; undone and done again.
    drawer(page, "drawer 5").click()
    page.locator("#here").get_by_role("button", name="Split").click()
    assert len(sizes(page)) == 6
    page.get_by_role("button", name="Undo").click()
    assert len(sizes(page)) == 5
    page.get_by_role("button", name="Redo").click()
    assert len(sizes(page)) == 6
    page.get_by_role("button", name="Undo").click()
    assert len(sizes(page)) == 5

    page.get_by_role("button", name="Save", exact=True).click()
    page.locator("#state", has_text="Saved").wait_for()
    page.wait_for_function("() => document.getElementById('save').disabled")
    assert (folder / "chest.toml").read_text(encoding="utf-8") == page.locator("#draft").input_value()
    done("check", str(folder / "chest.toml"))

    show(page, "Marks")
    assert page.locator(".strip-marks .figure").count() > 10
    show(page, "Parts")
    assert page.get_by_role("heading", name="ply,").is_visible()
    show(page, "Set-ups")
    assert page.get_by_role("heading", name="Grooves").first.is_visible()

    # A case of 30 by 40 has diagonals of 50; the longer one is to be pushed shorter.
    show(page, "Square")
    page.locator("[data-of=rising]").first.fill("50 1/8")
    page.locator("[data-of=falling]").first.fill("49 7/8")
    page.locator(".rack svg").wait_for()
    assert page.locator(".told .push").inner_text()

    show(page, "Glue-up")
    page.locator("#view input[type=checkbox]").first.check()
    assert page.locator(".ticked").inner_text().startswith("1 of ")

    show(page, "Print")
    page.get_by_role("button", name="Print into chest-print").click()
    page.locator(".print-files a", has_text="strips.pdf").wait_for(timeout=PRINT_MS)
    is_printed_and_true(folder)


def tab_to(page: Any, where: str) -> None:
    """Go on with the Tab key until something is reached."""
    for _ in range(150):
        page.keyboard.press("Tab")
        if page.evaluate("where => document.activeElement.matches(where)", where):
            return
    pytest.fail(f"the Tab key never came to {where}")


def test_the_same_by_the_keyboard_alone(page: Any, served: Any, folder: Path) -> None:
    press, type_ = page.keyboard.press, page.keyboard.type
    page.goto(served("/"))
    tab_to(page, "a[href*='cabinet']")
    press("Enter")
    page.wait_for_selector("#q-height")
    for name, typed in {"height": "40", "width": "30", "depth": "19", "ply": "45/64"}.items():
        tab_to(page, f"#q-{name}")
        type_(typed)
    press("Enter")

    page.wait_for_selector("#draft", state="attached")
    tab_to(page, "[role=tab]")
    press("ArrowRight")
    settled(page)
    assert page.locator("[role=tab][aria-selected=true]").inner_text() == "Strips"
    press("ArrowLeft")
    settled(page)
    tab_to(page, "a.place[aria-label^='drawer 5']")
    press("Enter")
    page.wait_for_function("() => document.activeElement.matches('[data-at$=\"/graduated\"]')")
    press("Control+A")
    type_("44")
    settled(page)
    assert page.locator("#form .fault:visible").count()
    press("Control+A")
    type_("5")
    assert settled(page)["cabinet"][0]["openings"][0]["graduated"] == 5
    assert page.locator("#form .fault:visible").count() == 0
    press("Control+Z")
    settled(page)
    press("Control+Shift+Z")
    settled(page)
    assert page.locator("#faults").is_hidden()
    press("Control+S")
    page.locator("#state", has_text="Saved").wait_for()

    tab_to(page, "[role=tab][aria-selected=true]")
    for _ in ("Strips", "Marks", "Parts", "Set-ups", "Square", "Glue-up", "Print"):
        press("ArrowRight")
    settled(page)
    page.wait_for_selector("#print")
    tab_to(page, "#print .print-go button")
    press("Enter")
    page.locator(".print-files a", has_text="strips.pdf").wait_for(timeout=PRINT_MS)
    is_printed_and_true(folder)
