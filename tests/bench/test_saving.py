"""Saving and what is kept meanwhile, in a real browser: nothing that was typed is lost, and nothing is overwritten."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from conftest import Looked, Served
from flask.testing import FlaskClient

JOB = 'title = "Case"\nunits = "mm"\n[[stick]]\nname = "Side"\npart = 18\nopenings = [200, 140]\n'
NAME = "case.toml"
ADDRESS = f"/job/{NAME}"


@pytest.fixture
def place(served: Served) -> Path:
    place = served.folder / NAME
    place.write_text(JOB)
    return place


@pytest.fixture
def opened(page: Any, served: Served, place: Path) -> Any:
    assert place.is_file()
    page.goto(served(ADDRESS))
    page.get_by_role("tab", name="Text").click()
    page.locator("#text").wait_for()
    return page


def titled(title: str) -> str:
    return JOB.replace("Case", title)


def type_in(page: Any, text: str) -> None:
    """Type a whole text, and wait until it is in the draft."""
    page.locator("#text").fill(text)
    draft_is(page, text)


def draft_is(page: Any, text: str) -> None:
    page.wait_for_function("text => document.querySelector('#draft').value === text && !bench.pending.length", arg=text)


def saved(page: Any) -> None:
    page.locator("#state", has_text="Saved").filter(has_not_text="Not").wait_for()


def asked(page: Any) -> Any:
    section = page.locator("section.saving")
    section.wait_for()
    return section


@pytest.fixture
def conflict(opened: Any, place: Path) -> Any:
    """A page on which something is typed, saved over a file that changed meanwhile."""
    type_in(opened, titled("Mine"))
    place.write_text(titled("Theirs"))
    opened.keyboard.press("Control+s")
    asked(opened)
    assert place.read_text() == titled("Theirs")
    return opened


def test_both_are_shown_where_the_file_changed_meanwhile(conflict: Any) -> None:
    section = asked(conflict)
    assert section.locator(".mine").all_inner_texts() == ['Yours\n1\ntitle = "Mine"']
    assert section.locator(".theirs").all_inner_texts() == ['In the file\n1\ntitle = "Theirs"']
    assert section.locator(".gap").inner_text() == "4 lines the same"
    assert conflict.evaluate("document.activeElement.id") == "saving"


def test_mine_is_kept_over_it(conflict: Any, place: Path) -> None:
    conflict.get_by_role("button", name="Keep mine").click()
    saved(conflict)
    assert place.read_text() == titled("Mine")
    assert not conflict.locator("section.saving").count()


def test_a_third_version_is_not_overwritten_by_that(conflict: Any, place: Path) -> None:
    place.write_text(titled("Third"))
    conflict.get_by_role("button", name="Keep mine").click()
    conflict.locator(".theirs", has_text="Third").wait_for()
    assert place.read_text() == titled("Third")


def test_theirs_is_taken_and_mine_stays_in_undo(conflict: Any, place: Path) -> None:
    conflict.get_by_role("button", name="Take what is in the file").click()
    draft_is(conflict, titled("Theirs"))
    saved(conflict)
    conflict.get_by_role("button", name="Undo").click()
    draft_is(conflict, titled("Mine"))
    conflict.keyboard.press("Control+s")
    saved(conflict)
    assert place.read_text() == titled("Mine")


def test_mine_is_saved_under_another_name(conflict: Any, served: Served, place: Path) -> None:
    (served.folder / "other.toml").write_text("# mine\n")
    name = conflict.get_by_label("Save mine under another name")
    assert name.input_value() == "case-2.toml"
    name.fill("other")
    conflict.get_by_role("button", name="Save it there").click()
    conflict.get_by_text("here already").wait_for()
    name.fill("my case")
    conflict.get_by_role("button", name="Save it there").click()
    conflict.wait_for_url("**/job/my%20case.toml")
    assert (served.folder / "my case.toml").read_text() == titled("Mine")
    assert (place.read_text(), (served.folder / "other.toml").read_text()) == (titled("Theirs"), "# mine\n")


def test_file_that_was_deleted_is_written_again(opened: Any, place: Path) -> None:
    type_in(opened, titled("Mine"))
    place.unlink()
    type_in(opened, titled("Mine still"))
    opened.keyboard.press("Control+s")
    assert "The file is gone" in asked(opened).inner_text()
    assert not place.exists()
    opened.get_by_role("button", name="Write mine again").click()
    saved(opened)
    assert place.read_text() == titled("Mine still")


@pytest.mark.parametrize("number", [13, 28])
def test_disk_that_takes_nothing_is_told_and_the_draft_is_kept(
    opened: Any, place: Path, served: Served, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def full(at: Path, _: bytes) -> None:
        raise OSError(number, os.strerror(number), str(at))

    type_in(opened, titled("Mine"))
    with monkeypatch.context() as disk:
        disk.setattr("storystick.files._write", full)
        opened.keyboard.press("Control+s")
        words = asked(opened).inner_text()
    assert os.strerror(number) in words
    assert str(served.folder) not in words
    assert opened.locator("#state").inner_text() == "Not saved"
    opened.get_by_role("button", name="Try again").click()
    saved(opened)
    assert place.read_text() == titled("Mine")


def test_page_notices_that_the_file_changed(opened: Any, place: Path) -> None:
    place.write_text(titled("Theirs"))
    opened.get_by_role("button", name="Look at both").click(timeout=10_000)
    opened.get_by_role("button", name="Take what is in the file").click()
    draft_is(opened, titled("Theirs"))
    saved(opened)
    assert not opened.get_by_role("button", name="Look at both").is_visible()


def reload(page: Any, address: str) -> None:
    assert page.url == address
    page.reload()


def close(page: Any, address: str) -> None:
    page.goto("about:blank")
    page.goto(address)


@pytest.mark.parametrize("leave", [reload, close])
def test_what_was_not_saved_is_offered_again(opened: Any, leave: Callable[[Any, str], None], place: Path) -> None:
    type_in(opened, titled("Mine"))
    leave(opened, opened.url)
    draft_is(opened, JOB)
    offer = opened.get_by_role("region", name="Changes that were not saved")
    assert "changed since" not in offer.inner_text()
    opened.get_by_role("button", name="Take them up again").click()
    draft_is(opened, titled("Mine"))
    opened.keyboard.press("Control+s")
    saved(opened)
    assert place.read_text() == titled("Mine")
    opened.reload()
    opened.wait_for_timeout(1500)
    assert not offer.is_visible()


def test_what_began_from_an_older_version_says_so_and_does_not_overwrite(
    opened: Any, served: Served, place: Path
) -> None:
    type_in(opened, titled("Mine"))
    opened.goto("about:blank")
    place.write_text(titled("Theirs"))
    opened.goto(served(ADDRESS))
    opened.get_by_text("The file has been changed since then").wait_for()
    opened.get_by_role("button", name="Take them up again").click()
    draft_is(opened, titled("Mine"))
    opened.keyboard.press("Control+s")
    asked(opened)
    assert place.read_text() == titled("Theirs")


def test_what_is_thrown_away_is_not_offered_again(opened: Any) -> None:
    type_in(opened, titled("Mine"))
    opened.reload()
    opened.get_by_role("button", name="Throw them away").click()
    opened.reload()
    opened.wait_for_timeout(1500)
    assert not opened.get_by_role("button", name="Take them up again").is_visible()


def test_two_windows_on_one_job_keep_each_their_own(opened: Any, served: Served) -> None:
    type_in(opened, titled("First"))
    second = opened.context.new_page()
    second.goto(served(ADDRESS))
    second.get_by_text("Another window has this job open").wait_for()
    assert not second.get_by_role("button", name="Take them up again").is_visible()
    second.get_by_role("tab", name="Text").click()
    type_in(second, titled("Second"))
    opened.get_by_text("Another window has this job open").wait_for()
    second.keyboard.press("Control+s")
    saved(second)
    opened.keyboard.press("Control+s")
    opened.locator(".theirs", has_text="Second").wait_for()
    opened.close()
    second.close()
    third = served.folder / NAME
    assert third.read_text() == titled("Second")


def test_what_was_typed_while_nobody_answered_is_kept(opened: Any, looked: Looked) -> None:
    opened.route("**/edit", lambda route: route.abort())
    opened.locator("#text").fill(titled("Mine"))
    opened.get_by_text("The program does not answer").wait_for()
    opened.unroute("**/edit")
    assert looked.errors
    looked.errors.clear()
    opened.reload()
    opened.get_by_role("button", name="Take them up again").click()
    draft_is(opened, titled("Mine"))


def test_answers_say_no_place_of_this_machine(client: FlaskClient, folder: Path) -> None:
    (folder / NAME).write_text(JOB)
    folder.joinpath("folder.toml").mkdir()
    for path in (ADDRESS, "/job/folder.toml", "/job/none.toml"):
        for what in ("", "/version"):
            assert str(folder).encode() not in client.get(path + what).data
        for what in ("/save", "/save-as", "/compare", "/edit"):
            answer = client.post(path + what, data={"text": 'shop = "none.toml"', "version": "0", "as": NAME})
            assert answer.status_code in (200, 422)
            assert str(folder.parent).encode() not in answer.data


def test_last_key_is_kept_while_its_answer_is_on_its_way(opened: Any) -> None:
    opened.route("**/edit", lambda _route: None)
    with opened.expect_request("**/edit"):
        opened.locator("#text").fill(titled("Mine"))
    opened.wait_for_function("!document.querySelector('#save').disabled")
    opened.reload()
    opened.unroute_all(behavior="ignoreErrors")
    opened.get_by_role("button", name="Take them up again").click()
    draft_is(opened, titled("Mine"))


def name_typed(page: Any) -> None:
    """A name is typed, and its field is not left."""
    field = page.locator("#form input[data-late]").first
    field.focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("Left side")


def test_field_that_has_not_been_left_is_saved(opened: Any, place: Path) -> None:
    name_typed(opened)
    opened.keyboard.press("Control+s")
    saved(opened)
    assert place.read_text() == JOB.replace("Side", "Left side")
    assert opened.evaluate("document.activeElement.value") == "Left side"


def test_field_that_has_not_been_left_is_kept(opened: Any) -> None:
    name_typed(opened)
    opened.reload()
    opened.get_by_role("button", name="Take them up again").click()
    draft_is(opened, JOB.replace("Side", "Left side"))
