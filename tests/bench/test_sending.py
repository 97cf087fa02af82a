"""Typing while the program is slow, silent or at fault: every value arrives, in its order, and stays in its field."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, Final

import pytest

SIZES: Final = 10
JOB: Final = f"""\
units = "inch"
[stock]
ply = "23/32"
[[stick]]
name = "Side"
part = "ply"
openings = [{", ".join(['"8"'] * SIZES)}]
"""
SLOW: Final = """
const send = XMLHttpRequest.prototype.send;
XMLHttpRequest.prototype.send = function (body) { setTimeout(() => send.call(this, body), 400); };
"""
EDIT: Final = "**/job/job.toml/edit"


@pytest.fixture
def opened(page: Any, served: Any, folder: Path) -> Any:
    """The page of a stick with ten openings, before a program that takes its time."""
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    page.add_init_script(SLOW)
    page.goto(served("/job/job.toml?at=/stick/0"))
    return page


def said(page: Any) -> dict[str, Any]:
    """What the draft says once all has been answered."""
    assert page.evaluate("() => bench.settled()")
    return tomllib.loads(page.locator("#draft").input_value())


def size(page: Any, number: int) -> Any:
    return page.locator(f"#form input[data-at='/stick/0/openings/{number}']")


def test_ten_fields_are_typed_in_faster_than_they_are_answered(opened: Any) -> None:
    for number in range(SIZES):
        size(opened, number).focus()
        opened.keyboard.press("Control+A")
        opened.keyboard.type(f"{number + 2} 1/2")
    assert said(opened)["stick"][0]["openings"] == [f"{number + 2} 1/2" for number in range(SIZES)]
    assert [size(opened, number).input_value() for number in range(SIZES)] == [
        f"{number + 2} 1/2" for number in range(SIZES)
    ]


def test_what_is_typed_while_the_fields_are_drawn_anew_stays(opened: Any) -> None:
    opened.evaluate(
        "() => { document.addEventListener('bench:shown', () => { window.came = true; }); bench.choose('/stick/0'); }"
    )
    opened.wait_for_timeout(100)
    size(opened, 3).fill("5")
    size(opened, 7).focus()
    opened.keyboard.press("Control+A")
    opened.keyboard.type("6 1/")
    opened.wait_for_function("() => window.came")
    assert size(opened, 3).input_value() == "5"
    size(opened, 7).press("End")
    opened.keyboard.type("2")
    openings = said(opened)["stick"][0]["openings"]
    assert (openings[3], openings[7]) == ("5", "6 1/2")


def test_each_click_of_a_button_is_one_change(opened: Any) -> None:
    opened.evaluate("""() => {
      const button = document.createElement("button");
      Object.assign(button.dataset, { change: "split", at: "/stick/0/openings/4", value: "2" });
      document.querySelector("#form").append(button);
      for (let clicked = 0; clicked < 3; clicked += 1) button.click();
    }""")
    assert len(said(opened)["stick"][0]["openings"]) == SIZES + 3


def test_a_tab_that_is_chosen_while_a_request_is_on_its_way_is_shown(opened: Any) -> None:
    size(opened, 0).fill("9")
    opened.wait_for_timeout(100)
    opened.locator("#tab-marks").click()
    opened.wait_for_selector("#view[data-of='marks']", timeout=5000)
    assert said(opened)["stick"][0]["openings"][0] == "9"


def test_what_is_typed_while_nobody_answers_is_sent_again(opened: Any, looked: Any) -> None:
    opened.route(EDIT, lambda route: route.abort())
    size(opened, 0).fill("7")
    opened.wait_for_function("() => document.querySelector('#say').textContent.includes('does not answer')")
    size(opened, 1).fill("6")
    opened.wait_for_timeout(600)
    opened.unroute(EDIT)
    opened.wait_for_function('() => bench.text().includes(\'"7", "6"\')', timeout=8000)
    assert opened.locator("#say").text_content() == ""
    looked.errors.clear()


def test_a_step_that_the_program_cannot_take_is_undone(opened: Any, looked: Any) -> None:
    def answer(route: Any) -> None:
        if "bang" in (route.request.post_data or ""):
            route.fulfill(status=500, body="")
        else:
            route.continue_()

    opened.route(EDIT, answer)
    size(opened, 0).fill("bang")
    opened.wait_for_function("() => document.querySelector('#say').textContent.includes('went wrong')")
    opened.keyboard.press("Control+Z")
    opened.wait_for_function("() => !bench.pending.length && document.querySelector('#say').textContent === ''")
    opened.wait_for_function(
        "() => document.querySelector(\"#form input[data-at='/stick/0/openings/0']\").value === '8'"
    )
    assert tomllib.loads(JOB) == said(opened)
    looked.errors.clear()
