"""A five-drawer case in a face frame, typed by keyboard alone; and what the fields do as they are typed in."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, Final

import pytest
from axe_playwright_python.sync_playwright import Axe

CASE: Final = """\
title = "Chest"
units = "inch"

[stock]
ply = "23/32"
maple = "25/32"               # the frame

[[cabinet]]
name = "Chest"
height = "30"
width = "24"
depth = "20"
carcass = "ply"
"""
WIDTHS: Final = (390, 1000, 1600)


def text_of(page: Any) -> str:
    text: str = page.locator("#draft").input_value()
    return text


def settled(page: Any) -> dict[str, Any]:
    """What the draft says once all that was typed has been answered."""
    page.evaluate("() => bench.settled()")
    return tomllib.loads(text_of(page))


def tab_to(page: Any, where: str) -> None:
    """Go on with the Tab key until something is reached."""
    for _ in range(120):
        page.keyboard.press("Tab")
        if page.evaluate("where => document.activeElement.matches(where)", where):
            return
    pytest.fail(f"the Tab key never came to {where}")


def put(folder: Path, text: str, name: str = "chest.toml") -> None:
    (folder / name).write_text(text, encoding="utf-8")


def test_a_five_drawer_case_is_typed_by_keyboard_alone(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml"))
    press, type_ = page.keyboard.press, page.keyboard.type
    tab_to(page, "[data-at='/cabinet/0/height']")
    press("Control+A")
    type_("36 1/2")
    tab_to(page, "button[data-choose='/cabinet/0/openings/4']")
    press("Enter")
    settled(page)
    page.wait_for_function("() => document.activeElement.dataset.at === '/cabinet/0/openings/4'")
    for size in ("4", "5 1/2", "5 1/2", "6"):
        press("Control+A")
        type_(size)
        press("Enter")
    tab_to(page, "[data-part='/cabinet/0/frame'] > summary")
    press("Enter")
    tab_to(page, "button[data-at='/cabinet/0/frame']")
    press("Enter")
    settled(page)
    page.wait_for_function("() => document.activeElement.dataset.at === '/cabinet/0/frame/stock'")
    type_("maple")
    tab_to(page, "[data-at='/cabinet/0/frame/stile']")
    press("Control+A")
    type_("1 3/4")
    (cabinet,) = settled(page)["cabinet"]
    assert cabinet["height"] == "36 1/2"
    assert cabinet["openings"] == ["equal", "6", "5 1/2", "5 1/2", "4"]
    assert (cabinet["frame"]["stock"], cabinet["frame"]["stile"]) == ("maple", "1 3/4")
    assert page.locator("#faults").is_hidden()
    assert "# the frame" in text_of(page)
    press("Control+S")
    page.wait_for_function("() => document.getElementById('save').disabled")
    assert (folder / "chest.toml").read_text(encoding="utf-8") == text_of(page)


def test_a_fault_stands_at_its_field_and_goes_when_it_is_mended(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml"))
    field = page.locator("#form .field[data-at='/cabinet/0/depth']")
    field.locator("input").fill("twenty")
    field.locator(".fault").wait_for(state="visible")
    assert "twenty" in field.locator(".fault").inner_text()
    assert field.locator("input").get_attribute("aria-invalid") == "true"
    assert page.locator(".outline .thing", has_text="Chest").locator(".count").inner_text().startswith("1")
    field.locator("input").fill("20")
    field.locator(".fault").wait_for(state="hidden")
    assert page.locator(".outline .count").count() == 0


def test_a_place_that_is_chosen_is_opened_and_met_in_its_field(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE + '\n[cabinet.frame]\nstock = "maple"\nstile = "2"\ntop = "2"\nbottom = "2"\nto_floor = true\n')
    page.goto(served("/job/chest.toml"))
    page.evaluate("() => bench.choose('/cabinet/0/frame/to_floor')")
    page.wait_for_function("() => document.activeElement.closest('[data-at=\"/cabinet/0/frame/to_floor\"]')")
    assert page.locator("[data-at='/cabinet/0/frame/to_floor'] input:checked").is_visible()
    page.evaluate("() => bench.choose('/stock/ply')")
    page.wait_for_function("() => document.querySelector('#form h2').textContent === 'Stocks'")


def test_parts_that_were_opened_stay_open_when_the_fields_are_drawn_anew(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml"))
    page.locator("[data-part='Case'] > summary").click()
    page.locator("input[name='/cabinet/0/sizes'][value='fronts']").check()
    settled(page)
    assert page.locator("[data-part='Case']").evaluate("part => part.open")
    assert page.evaluate("() => document.activeElement.value") == "fronts"
    assert "sizes" in settled(page)["cabinet"][0]


def test_a_shop_file_is_worked_at_by_its_own_fields(page: Any, served: Any, folder: Path) -> None:
    put(folder, '[router.plunge]\nbase_diameter = "6"   # measured\n\n[bit.half]\ndiameter = "1/2"\n', "shop.toml")
    page.goto(served("/job/shop.toml?at=/bit/half"))
    page.get_by_label("Diameter").fill("31/64")
    assert settled(page)["bit"]["half"] == {"diameter": "31/64"}
    assert page.locator("#faults").is_hidden()
    page.get_by_label("Diameter").fill("none")
    page.locator("#form .fault:visible").wait_for()


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("at", ["", "/cabinet/0/frame/stile", "/stock", "/joint/case"])
def test_the_fields_fit_their_page_and_can_be_read_aloud(
    page: Any, served: Any, folder: Path, width: int, at: str
) -> None:
    put(folder, (Path(__file__).parents[2] / "gallery/linen-hutch/linen-hutch.toml").read_text(encoding="utf-8"))
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(served(f"/job/chest.toml?at={at}" if at else "/job/chest.toml"))
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width
    found = Axe().run(page, context="#form, #outline")
    assert found.response["violations"] == []


def test_openings_are_split_added_and_graduated_with_the_focus_on_what_is_new(
    page: Any, served: Any, folder: Path
) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml"))
    page.get_by_role("button", name="3 openings").click()
    page.get_by_role("button", name="Add one below").click()
    page.wait_for_function("() => document.activeElement.dataset.at === '/cabinet/0/openings/0'")
    assert settled(page)["cabinet"][0]["openings"] == ["equal"] * 4
    page.locator("[data-part='/cabinet/0/openings/3 more'] > summary").click()
    page.locator("#form button[data-change='remove'][data-at='/cabinet/0/openings/3']").click()
    assert settled(page)["cabinet"][0]["openings"] == ["equal"] * 3
    page.get_by_role("button", name="Graduated").click()
    (group,) = settled(page)["cabinet"][0]["openings"]
    assert group["graduated"] == 3
    page.locator("[data-part='Openings'] > summary .gist", has_text="3 openings").wait_for()


def test_rows_are_added_above_and_below_and_are_shown_as_they_stand(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml"))
    page.get_by_role("button", name="Add a row").click()
    page.wait_for_function("() => document.activeElement.dataset.at === '/cabinet/0/row/1/height'")
    page.keyboard.type("8")
    page.get_by_role("button", name="Add a row below").click()
    page.wait_for_function("() => document.activeElement.dataset.at === '/cabinet/0/row/0/height'")
    assert [row.get("height") for row in settled(page)["cabinet"][0]["row"]] == [None, None, "8"]
    titles = page.locator("#form .bands > .band > summary .title").all_inner_texts()
    assert titles == ["Row 3", "Row 2", "Row 1"]


def test_a_stock_by_another_name_is_named_so_everywhere(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml?at=/stock"))
    name = page.locator("#form input[data-named][data-at='/stock/ply']")
    name.fill("birch")
    name.press("Tab")
    page.locator("#form input[data-named][data-at='/stock/birch']").wait_for()
    read = settled(page)
    assert read["stock"] == {"birch": "23/32", "maple": "25/32"}
    assert read["cabinet"][0]["carcass"] == "birch"


def test_a_cabinet_by_another_name_is_called_so_in_the_outline_and_typing_goes_on(
    page: Any, served: Any, folder: Path
) -> None:
    put(folder, CASE + '\n[[run]]\nlength = "100"\norder = [{ cabinet = "Chest" }, { filler = "equal" }]\n')
    page.goto(served("/job/chest.toml?at=/cabinet/0"))
    page.locator("#at-cabinet-0-name").fill("Tall chest")
    page.keyboard.press("Enter")
    page.locator(".outline .thing", has_text="Tall chest").wait_for()
    page.locator("#form h2", has_text="Tall chest").wait_for()
    assert settled(page)["run"][0]["order"][0] == {"cabinet": "Tall chest"}
    assert page.evaluate("() => document.activeElement.id") == "at-cabinet-0-height"


def test_each_thing_that_the_outline_adds_is_shown_with_its_fields_and_no_fault(
    page: Any, served: Any, folder: Path
) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml"))
    for name, word in (("Add a cabinet", "cabinet"), ("Add a stick", "stick"), ("Add a wall", "run")):
        page.locator(".outline .adds > summary").click()
        page.get_by_role("button", name=name, exact=True).click()
        settled(page)
        assert page.evaluate("() => document.activeElement.closest('#form').dataset.thing").startswith(f"/{word}/")
        assert page.locator("#faults").is_hidden()


def test_a_fault_in_a_part_that_is_shut_is_told_at_its_name(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE + '\n[cabinet.frame]\nstock = "maple"\nstile = "wide"\ntop = "2"\nbottom = "2"\n')
    page.goto(served("/job/chest.toml"))
    summary = page.locator("[data-part='/cabinet/0/frame'] > summary")
    assert "mended" in summary.evaluate("it => getComputedStyle(it, '::after').content")
    page.get_by_role("button", name="Go to it").first.click()
    page.locator("#form .field[data-at='/cabinet/0/frame/stile'] > .fault").wait_for(state="visible")


def test_enter_goes_down_the_thicknesses_and_not_onto_a_name(page: Any, served: Any, folder: Path) -> None:
    put(folder, CASE)
    page.goto(served("/job/chest.toml?at=/stock"))
    page.locator("input[data-change=set][data-at='/stock/ply']").click()
    for thickness in ("18.3 mm", "20 mm"):
        page.keyboard.press("Control+A")
        page.keyboard.type(thickness)
        page.keyboard.press("Enter")
    assert settled(page)["stock"] == {"ply": "18.3 mm", "maple": "20 mm"}
