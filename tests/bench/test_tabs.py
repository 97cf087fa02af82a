"""The listings as tabs of the work page: the same figures as the commands list, of the draft as it stands."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from shutil import copy
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from click.testing import CliRunner
from conftest import GALLERY, Served
from flask.testing import FlaskClient
from lxml import html

from storystick.cli import main

WIDTHS = (390, 1000, 1600)


def bring(folder: Path, job: str) -> str:
    """A job of the gallery with all that it needs, by its file's name."""
    for file in (GALLERY / job).iterdir():
        if file.suffix in (".toml", ".csv"):
            copy(file, folder)
    return f"{job}.toml"


def tab(client: FlaskClient, name: str, key: str, text: str | None = None) -> Any:
    """What a tab shows of a job's text, saved or not."""
    if text is None:
        text = html.fromstring(client.get(f"/job/{name}").text).get_element_by_id("draft").text.lstrip("\n")
    answer = html.fromstring(client.post(f"/job/{name}/edit", data={"text": text, "tab": key}).text)
    found = answer.xpath("//*[@id='view']")
    return found[0] if found else None


def listed(*command: str) -> Any:
    done = CliRunner().invoke(main, [*command, "--format", "json"])
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def label(exact: str, units: str, step: Fraction) -> str:
    """An exact text rounded to a step of its own unit, ties to even, as anyone would write it beside a mark."""
    value = sum(map(Fraction, exact.split()))
    steps, rest = divmod(value, step)
    up = rest * 2 > step or (rest * 2 == step and steps % 2)
    near = (steps + up) * step
    whole, part = divmod(near, 1)
    drift = "" if near == value else " full" if value > near else " scant"
    if units == "mm":
        return f"{float(near):g}{drift}"
    return " ".join(filter(None, [str(whole) if whole or not part else "", str(part) if part else ""])) + drift


def figures(row: Any) -> list[str]:
    """The figures of a row as they are read out; nothing for an empty cell."""
    return [" ".join(cell.xpath(".//*[@class='spoken']/text()")) or cell.text_content() for cell in row.xpath("td")]


def spoken(element: Any) -> str:
    """What a screen reader says: all but what is hidden from it."""
    hidden = element.xpath("descendant-or-self::*[@aria-hidden='true']")
    return "".join(
        text
        for text in element.xpath(".//text()")
        if not any(each in hidden for each in text.getparent().iterancestors()) and text.getparent() not in hidden
    ).strip()


@pytest.mark.parametrize(("job", "step"), [("bead-chest", Fraction(1, 64)), ("map-room", Fraction(1, 10))])
def test_marks_are_those_of_the_listing(folder: Path, client: FlaskClient, job: str, step: Fraction) -> None:
    name = bring(folder, job)
    content = listed("marks", str(folder / name))
    shown = tab(client, name, "marks").xpath(".//section[@class='strip-marks']")
    assert [each.xpath(".//h2/span/text()")[0] for each in shown] == [each["letter"] for each in content["sticks"]]
    for section, stick in zip(shown, content["sticks"], strict=True):
        rows = section.xpath(".//tbody/tr")
        marks = [*stick["spans"], *stick["points"]]
        assert len(rows) == len(marks)
        for row, mark in zip(rows, marks, strict=True):
            kind, *cells = map(spoken, row.xpath("td"))
            assert kind == mark["kind"]
            exact = [mark["start"], mark["end"]] if "start" in mark else [mark["at"]]
            assert cells[: len(exact)] == [label(each, content["units"], step) for each in exact]


def test_marks_are_of_what_is_typed_and_not_yet_saved(folder: Path, client: FlaskClient) -> None:
    name = bring(folder, "tea-shelves")
    text = (folder / name).read_text()
    assert spoken(tab(client, name, "marks", text.replace('title = "', 'title = "Other ')).xpath(".//p")[0]).startswith(
        "Other "
    )


def test_what_has_faults_keeps_the_last_list_and_says_so_in_a_tab_that_has_none(
    folder: Path, client: FlaskClient
) -> None:
    name = bring(folder, "tea-shelves")
    faulty = (folder / name).read_text() + "\n[[stick"
    assert "mended first" in tab(client, name, "marks", faulty).text_content()
    answer = client.post(f"/job/{name}/edit", data={"text": faulty, "tab": "marks", "shown": "marks"}).text
    stale = html.fromstring(answer).get_element_by_id("stale")
    assert "hidden" not in stale.attrib
    assert 'id="view"' not in answer


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(("job", "tab_name"), [("canal-kitchen", "Marks")])
def test_a_tab_fits_its_screen_and_its_readers(page: Any, served: Served, job: str, tab_name: str, width: int) -> None:
    name = bring(served.folder, job)
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(served(f"/job/{name}"))
    page.get_by_role("tab", name=tab_name).click()
    page.locator("#view .listings").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert not Axe().run(page, "#view").response["violations"]
