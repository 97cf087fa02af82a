"""Measuring a printer from the page: the correction drawn and in words, and kept in the shop file that the job has."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import pytest
from axe_playwright_python.sync_playwright import Axe
from flask.testing import FlaskClient
from lxml import html

from storystick.drawing.rule_picture import Rule, draw_rules
from storystick.drawing.shapes import Line

NAME: Final = "seed.toml"
PLAIN: Final = """title = "Seed drawers"
units = "mm"
paper = "A4"
[stock]
ply = 18
[[stick]]
name = "Side"
part = "ply"
openings = [120, 130, 140]
"""
TYPED: Final = {"rule_paper": "A4", "rule_printer": "office", "rule_along": "259.5", "rule_across": "170"}


@pytest.fixture(autouse=True)
def job(folder: Path) -> Path:
    place = folder / NAME
    place.write_text(PLAIN, encoding="utf-8")
    return place


def read(client: FlaskClient, text: str = PLAIN, **more: str) -> str:
    answer = client.post(f"/job/{NAME}/calibrate", data={**TYPED, "text": text, **more})
    assert answer.status_code == 200
    return answer.get_data(as_text=True)


def test_a_printer_is_measured_and_its_correction_kept(client: FlaskClient, folder: Path) -> None:
    sheet = client.get("/calibrate/sheet/A4")
    assert sheet.mimetype == "application/pdf"
    assert sheet.data.startswith(b"%PDF")
    assert "so everything is drawn" in read(client)
    assert not (folder / "shop.toml").exists()
    assert "Kept as printer office" in read(client, keep="1")
    assert "[printer.office]" in (folder / "shop.toml").read_text(encoding="utf-8")
    wrong = read(client, rule_along="what")
    assert "along" in wrong
    assert str(folder) not in wrong


def test_the_correction_goes_into_the_shop_file_that_the_job_names(client: FlaskClient, folder: Path) -> None:
    (folder / "barn.toml").write_text('units = "mm"\n', encoding="utf-8")
    text = f'shop = "barn.toml"\n{PLAIN}'
    assert "Kept as printer office in barn.toml" in read(client, text, keep="1")
    assert "[printer.office]" in (folder / "barn.toml").read_text(encoding="utf-8")
    assert not (folder / "shop.toml").exists()


def test_a_shop_file_elsewhere_is_neither_written_nor_hidden_by_a_new_one(
    client: FlaskClient, folder: Path, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "barn.toml"
    elsewhere.write_text('units = "mm"\n', encoding="utf-8")
    (folder / "shop.toml").symlink_to(elsewhere)
    said = read(client, keep="1")
    assert "Kept as" not in said
    assert elsewhere.read_text(encoding="utf-8") == 'units = "mm"\n'
    assert (folder / "shop.toml").is_symlink()


def test_settings_of_the_user_are_told_from_a_terminal(client: FlaskClient, folder: Path, tmp_path: Path) -> None:
    settings = tmp_path / "settings"
    settings.mkdir()
    (settings / "shop.toml").write_text('units = "mm"\n', encoding="utf-8")
    bench = client.application.extensions["bench"]
    object.__setattr__(bench, "settings", settings)
    said = html.fromstring(read(client, keep="1", rule_printer="the 'big' one")).text_content()
    assert """storystick calibrate --printer "the 'big' one" --along "259.5" --across 170 --paper A4""" in said
    assert not (folder / "shop.toml").exists()
    assert "printer" not in (settings / "shop.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(("along", "across"), [("259.5", "170.5"), ("260", "169.5"), ("261", "171")])
def test_rules_are_drawn_as_they_came_out(along: str, across: str) -> None:
    # The sheet of A4 has rules of 260 and 170 mm, which is printed on it.
    read_as = ((Fraction(260), along), (Fraction(170), across))
    drawn = draw_rules([Rule("rule", nominal, Fraction(text), "", text) for nominal, text in read_as])
    levels = [line for line in drawn.shapes if isinstance(line, Line) and line.y1 == line.y2]
    lengths = [line.x2 - line.x1 for line in levels]
    for rule, came, (nominal, text) in zip(lengths[::2], lengths[1::2], read_as, strict=True):
        assert drawn.times
        wanted = rule * float(1 + (Fraction(text) / nominal - 1) * Fraction(drawn.times))
        assert came == pytest.approx(wanted)
    assert max(abs(one - other) for one, other in zip(lengths[::2], lengths[1::2], strict=True)) > 5  # seen, in mm


def test_correction_is_shown_with_its_picture(client: FlaskClient) -> None:
    said = html.fromstring(f"<div>{read(client)}</div>")
    assert said.xpath("//figure/*[name()='svg']")
    assert "times as large as it is" in said.text_content()


def test_true_rules_are_drawn_alike(client: FlaskClient) -> None:
    assert "Both came out as long as they were drawn." in read(client, rule_along="260", rule_across="170")


def test_a_person_measures_a_printer_and_draws_for_it(page: Any, served: Any) -> None:
    page.goto(served(f"/job/{NAME}"))
    page.locator("[data-tab=print]").click()
    page.get_by_text("Measure a printer").click()
    page.get_by_label("What the printer is called").fill("office")
    page.get_by_label("The rule along the long side").fill("259.5")
    page.get_by_label("The other rule").fill("170")
    page.locator(".calibrated svg").wait_for()
    page.get_by_label("The other rule").press("Enter")
    page.wait_for_timeout(300)
    assert not (served.folder / "seed-print").exists()  # Enter shows the correction, and prints nothing.
    assert page.locator("#print-state .print-run, #print-state .print-ask").count() == 0
    assert not Axe().run(page, "#calibrate").response["violations"]
    # What was read stays while something else is typed, and the tab is drawn anew.
    with page.expect_response("**/edit"):
        page.locator("#form input[data-at$='/openings/0']").first.fill("125")
    page.locator("#state:has-text('Not saved')").wait_for()
    assert page.get_by_label("The rule along the long side").input_value() == "259.5"
    page.get_by_role("button", name="Keep it in shop.toml").click()
    page.locator("#print-printer option[value=office]").wait_for(state="attached")
    page.get_by_text("Kept as printer office").wait_for()
    page.locator("#print-printer").select_option("office")
    page.get_by_text("drawn × 1.00193 along the feed").wait_for()
