"""The listings as tabs of the work page: the same figures as the commands list, of the draft as it stands."""

from __future__ import annotations

import json
from collections import Counter
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
@pytest.mark.parametrize(
    ("job", "tab_name"),
    [
        ("canal-kitchen", "Marks"),
        ("bead-chest", "Square"),
        ("bead-chest", "Parts"),
        ("bead-chest", "Set-ups"),
        ("bead-chest", "Glue-up"),
    ],
)
def test_a_tab_fits_its_screen_and_its_readers(page: Any, served: Served, job: str, tab_name: str, width: int) -> None:
    name = bring(served.folder, job)
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(served(f"/job/{name}"))
    page.get_by_role("tab", name=tab_name).click()
    page.locator("#view .listings").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert not Axe().run(page, "#view").response["violations"]


def squared(client: FlaskClient, name: str, text: str, readings: object) -> Any:
    answer = client.post(f"/job/{name}/square", data={"text": text, "readings": json.dumps(readings)})
    assert answer.status_code == 200
    return html.fromstring(f"<div>{answer.text}</div>")


RECTANGLE = '[[rectangle]]\nname = "Door"\nwidth = 40\nheight = 30\n'


@pytest.mark.parametrize(
    ("rising", "falling", "words"),
    [
        # The rack is the difference of the squares of both diagonals over four times the width (geometry).
        ("50 1/8", "49 7/8", "Move the top 5/32 to the left"),
        ("49 7/8", "50 1/8 in", "Move the top 5/32 to the right"),
        ("50 1/64", "50", "Leave it"),
    ],
)
def test_readings_say_at_once_which_way_to_push(
    folder: Path, client: FlaskClient, rising: str, falling: str, words: str
) -> None:
    (folder / "door.toml").write_text('units = "inch"\n')
    text = f'title = "Door"\nunits = "inch"\n{RECTANGLE}'
    shown = squared(client, "door.toml", text, {"Door": {"rising": rising, "falling": falling}})
    push = spoken(shown.xpath("//p[contains(@class, 'push')]")[0])
    assert push.replace("\N{NO-BREAK SPACE}", " ") == words
    arrows = [list(map(float, each.get("points").replace(",", " ").split())) for each in shown.xpath("//polygon")]
    ways = ["left" if tip[0] < tip[2] else "right" for tip in arrows]
    assert ways == ([words.rpartition(" ")[2]] if "Move" in words else [])


def test_a_reading_that_cannot_be_is_told_at_its_rectangle_and_the_others_are_shown(
    folder: Path, client: FlaskClient
) -> None:
    (folder / "door.toml").write_text("")
    text = f'units = "inch"\n{RECTANGLE}{RECTANGLE.replace("Door", "Gate")}{RECTANGLE.replace("Door", "Lid")}'
    typed = {
        "Door": {"rising": "5o", "falling": "50"},
        "Gate": {"rising": "50", "falling": "60"},
        "Lid": {"rising": "50", "falling": "50", "bottom": "40"},
        "Unknown": {"rising": "1", "falling": "1"},
    }
    shown = squared(client, "door.toml", text, typed)
    faults = [fault.text_content() for fault in shown.xpath("//p[@class='fault']")]
    assert faults[0].startswith('rising: "5o" is not a length')
    assert faults[1].startswith("Gate: ")
    assert len(faults) == 2
    assert "The diagonals are equal: leave it." in shown.text_content()


@pytest.mark.parametrize("sent", ["[]", "{", '{"Door": 1}', "[" * 100_000])
def test_what_is_no_reading_of_the_page_is_refused(folder: Path, client: FlaskClient, sent: str) -> None:
    (folder / "door.toml").write_text("")
    answer = client.post("/job/door.toml/square", data={"text": RECTANGLE, "readings": sent})
    assert answer.status_code == 400


def test_readings_are_kept_by_the_browser_and_not_in_the_job(page: Any, served: Served) -> None:
    name = bring(served.folder, "bead-chest")
    before = (served.folder / name).read_bytes()
    page.goto(served(f"/job/{name}"))
    page.get_by_role("tab", name="Square").click()
    page.get_by_label("rising").first.fill("51 1/8")
    page.get_by_label("falling").first.fill("50⅞")
    page.get_by_text("to the left: set the left ends").wait_for()
    page.reload()
    page.get_by_role("tab", name="Square").click()
    page.locator(".push").wait_for()
    assert page.get_by_label("falling").first.input_value() == "50⅞"
    assert not Axe().run(page, "#view").response["violations"]
    page.get_by_role("button", name="Clear all readings").click()
    page.locator(".push").wait_for(state="detached")
    page.get_by_text("Saved", exact=True).wait_for()
    assert (served.folder / name).read_bytes() == before


SPACE = "\N{NO-BREAK SPACE}"
SIXTY_FOURTH = Fraction(1, 64)


def row_figures(row: Any) -> list[str]:
    return [spoken(each).replace(SPACE, " ") for each in row.xpath("./div/dl[@class='row-figures']/div/dd")]


def test_parts_are_those_of_the_listing_as_many_as_they_are(folder: Path, client: FlaskClient) -> None:
    name = bring(folder, "bead-chest")
    wanted = Counter[tuple[str, ...]]()
    for part in listed("parts", str(folder / name))["parts"]:
        sizes = tuple(label(part[key], "inch", SIXTY_FOURTH) for key in ("length", "width"))
        wanted[sizes] += part["count"]
    shown = Counter[tuple[str, ...]]()
    for row in tab(client, name, "parts").xpath(".//li[@class='row']"):
        number = int(row.xpath(".//*[@class='kind']")[0].text.removesuffix(" ×"))
        shown[tuple(row_figures(row))] += number
        boxes = row.xpath(".//input[@type='checkbox']")
        assert len(boxes) == number
    assert shown == wanted


def test_set_ups_are_those_of_the_listing_with_their_pictures(folder: Path, client: FlaskClient) -> None:
    name = bring(folder, "bead-chest")
    content = listed("setups", str(folder / name))
    shown = tab(client, name, "set-ups")
    bars, grooves, *others = shown.xpath(".//section")
    for row, bar in zip(bars.xpath(".//li"), content["bars"], strict=True):
        exact = [bar[key] for key in ("near", "far", "measured") if bar[key]]
        assert row_figures(row) == [label(each, "inch", SIXTY_FOURTH) for each in exact]
    places = {row_figures(row)[0] for row in grooves.xpath(".//li[@class='row']/ul/li")}
    assert places == {label(each["straightedge"], "inch", SIXTY_FOURTH) for each in content["grooves"] if each["bar"]}
    saw = next(each for each in others if "table saw" in each.xpath("./h2")[0].text_content())
    rows = saw.xpath("./div/ul/li")
    assert len(rows) == len(content["saw"])
    for row, cut in zip(rows, content["saw"], strict=True):
        assert row_figures(row)[0] == f"height {label(cut['height'], 'inch', SIXTY_FOURTH)}"
        assert len(row.xpath("./div[@class='sketch']/*[name()='svg']")) == 1


def test_glue_up_has_every_stage_with_its_sketch_steps_and_clock(folder: Path, client: FlaskClient) -> None:
    name = bring(folder, "bead-chest")
    stages = listed("glueup", str(folder / name))["stages"]
    shown = tab(client, name, "glue-up").xpath(".//section")
    assert [spoken(each.xpath("./h2")[0]).replace(SPACE, " ").partition(": ")[2] for each in shown] == [
        stage["name"] for stage in stages
    ]
    for section, stage in zip(shown, stages, strict=True):
        clocks = section.xpath(".//*[@data-clock]")
        assert len(clocks) == bool(stage["joins"])
        assert section.xpath(".//*[name()='svg']")
        figures = {row_figures(row)[0] for row in section.xpath(".//li[div/dl]")}
        assert figures <= {each["diagonal_label"] for each in stage["diagonals"]}


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("parts", "a plain stick says nothing of parts"),
        ("set-ups", "The shop is not known yet"),
        ("square", "a plain stick says nothing of diagonals"),
        ("glue-up", "no cabinet to glue up"),
    ],
)
def test_what_a_plain_stick_has_nothing_of_is_said(folder: Path, client: FlaskClient, key: str, words: str) -> None:
    name = bring(folder, "tea-shelves")
    assert words in tab(client, name, key).text_content()


def test_ticks_are_kept_by_the_browser(page: Any, served: Served) -> None:
    name = bring(served.folder, "bead-chest")
    before = (served.folder / name).read_bytes()
    page.goto(served(f"/job/{name}"))
    page.get_by_role("tab", name="Parts").click()
    page.get_by_role("checkbox", name="1 × divider 1", exact=True).check()
    page.get_by_label("side, 2 of 2").check()
    page.get_by_text("2 of 63 cut").wait_for()
    page.reload()
    page.get_by_role("tab", name="Parts").click()
    page.get_by_text("2 of 63 cut").wait_for()
    assert page.get_by_label("side, 2 of 2").is_checked()
    assert not page.get_by_label("side, 1 of 2").is_checked()
    page.get_by_role("button", name="Clear all ticks").click()
    page.get_by_text("0 of 63 cut").wait_for()
    assert (served.folder / name).read_bytes() == before


NARROW = "\N{NARROW NO-BREAK SPACE}"
GLUE = "[glue.white]\nopen = 5\nclosed = 12\nclamp_time = 30\n"


def test_the_clock_of_a_stage_goes_by_the_time_of_day_and_says_what_is_left(page: Any, served: Served) -> None:
    name = bring(served.folder, "bead-chest")
    with (served.folder / "shop.toml").open("a") as shop:
        shop.write(GLUE)
    page.clock.install(time="2026-03-02T14:00:00")
    page.goto(served(f"/job/{name}"))
    page.get_by_role("tab", name="Glue-up").click()
    clock = page.locator("[data-clock]").first
    clock.get_by_text("spread by", exact=True).wait_for()
    now, says = clock.get_by_role("timer"), clock.locator("[aria-live]")
    assert now.inner_text() == "+5 min"  # 5:00 would read as an hour of the day
    clock.get_by_role("button", name="Start the clock").press("Enter")
    page.clock.run_for(2_000)
    assert now.inner_text() in ("4:58", "4:59")
    assert says.text_content().replace(NARROW, " ") == "5 minutes left: spread by 02:05 PM."
    page.clock.fast_forward("02:10")  # As when the page sleeps: no tick in between.
    page.clock.run_for(300)
    assert now.inner_text() in ("2:47", "2:48")
    page.clock.fast_forward("02:00")
    page.clock.run_for(300)
    assert clock.get_attribute("data-state") == "short"
    assert says.text_content().replace(NARROW, " ") == "Only 1 minute left: spread by 02:05 PM."
    page.clock.fast_forward("01:00")
    page.clock.run_for(300)
    assert clock.locator(".clock-word").inner_text() == "closed by"
    page.reload()
    page.get_by_role("tab", name="Glue-up").click()
    page.clock.run_for(300)
    clock.get_by_text("closed by", exact=True).wait_for()
    page.clock.fast_forward("08:00")
    page.clock.run_for(300)
    assert clock.get_attribute("data-state") == "over"
    assert says.text_content().replace(NARROW, " ") == "Time is over: closed by 02:12 PM."
    clock.get_by_role("button", name="Closed now").click()
    page.clock.run_for(300)
    assert clock.locator(".clock-word").inner_text() == "unclamp at"
    assert now.inner_text() in ("29:59", "30:00")
    clock.get_by_role("button", name="Stop").click()
    assert clock.get_attribute("data-state") == "still"
    assert now.inner_text() == "+5 min"  # 5:00 would read as an hour of the day


ALIKE = """units = "inch"
[stock]
ply = "3/4"
[joint.dado]
kind = "housing"
depth = "1/4"
"""
STAND = """[[cabinet]]
name = "Stand"
height = 24
width = 18
depth = 16
carcass = "ply"
joint = "dado"
count = 2
openings = [6, "equal"]
"""


def test_cabinets_alike_have_a_clock_and_room_for_readings_each(folder: Path, client: FlaskClient) -> None:
    (folder / "stands.toml").write_text(ALIKE + STAND)
    (folder / "shop.toml").write_text(GLUE)
    shown = tab(client, "stands.toml", "glue-up")
    closing = [each for each in shown.xpath(".//section") if each.xpath(".//*[@data-clock]")]
    assert closing
    for section in closing:
        assert section.xpath(".//*[@class='clock-whose']/text()") == ["Stand (1)", "Stand (2)"]
    kept = shown.xpath(".//*[@data-clock]/@data-clock") + shown.xpath(".//*[@data-kept]/@data-kept")
    assert len(set(kept)) == len(kept)
    names = tab(client, "stands.toml", "square").xpath(".//input[@data-of='rising']/@data-reading")
    assert len(set(names)) == len(names) >= 2


def test_a_tick_never_goes_over_to_a_part_of_another_size(folder: Path, client: FlaskClient) -> None:
    (folder / "stands.toml").write_text(ALIKE + STAND)

    def keys(*cabinets: str) -> list[list[str]]:
        rows = tab(client, "stands.toml", "parts", "".join((ALIKE, *cabinets))).xpath(".//li[@class='row']")
        named = ((row.xpath(".//*[@class='name']")[0].text_content(), row) for row in rows)
        return [row.xpath(".//input/@data-kept") for name, row in named if name == "side"]

    other = STAND.replace("Stand", "Other").replace("height = 24", "height = 30")
    (stand,), (taller,) = keys(STAND), keys(STAND.replace("height = 24", "height = 26"))
    assert not set(stand) & set(taller)
    # Of two parts of one name the first goes: the second does not take its place.
    one, two = keys(STAND, other)
    assert stand in (one, two)
    (alone,) = keys(other)
    assert alone in (one, two)
    assert alone != stand


def test_a_row_of_marks_leads_to_its_field(page: Any, served: Served) -> None:
    name = bring(served.folder, "tea-shelves")
    page.goto(served(f"/job/{name}"))
    page.get_by_role("tab", name="Marks").click()
    first = page.locator("#view .to-field").first
    at = first.get_attribute("data-choose")
    first.press("Enter")
    page.locator(f"#view .to-field.chosen[data-choose='{at}']").first.wait_for()
    page.wait_for_function("document.activeElement.closest('#form')")


@pytest.mark.parametrize("job", ["bead-chest", "canal-kitchen", "map-room", "type-cabinet"])
def test_marks_of_cabinets_lead_to_places_of_the_job(folder: Path, client: FlaskClient, job: str) -> None:
    shown = tab(client, bring(folder, job), "marks")
    places = shown.xpath(".//*[@data-choose]/@data-choose")
    assert places
    assert all(place.startswith(("/cabinet/", "/stick/")) for place in places)
