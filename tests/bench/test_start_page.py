"""The first page: jobs as cards, a job from a few sizes or out of a print, and what is done with files."""

from __future__ import annotations

import os
import time
import tomllib
from io import BytesIO
from pathlib import Path
from shutil import copy
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from conftest import GALLERY, Looked, Served
from flask.testing import FlaskClient
from test_saving import type_in

from storystick import load, print_job
from storystick.bench.files.folder import Folder

SHELVES = GALLERY / "tea-shelves" / "tea-shelves.toml"
CHEST = GALLERY / "bead-chest" / "bead-chest.toml"


def no_violations(page: Any) -> None:
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def open_start(page: Any, served: Served) -> None:
    page.goto(served())
    page.wait_for_load_state("networkidle")


@pytest.mark.parametrize("width", [390, 1000, 1600])
def test_cards_tell_what_each_file_is(page: Any, served: Served, width: int) -> None:
    copy(SHELVES, served.folder)
    (served.folder / "broken.toml").write_text("title = \n")
    faulty = SHELVES.read_text().replace('name = "Side"', 'name = "Side"\nheigth = 3\nwidht = 4')
    (served.folder / "faulty.toml").write_text(faulty)
    (served.folder / "shop.toml").write_text('units = "inch"\n')
    for age, name in enumerate(("tea-shelves.toml", "faulty.toml", "broken.toml")):
        os.utime(served.folder / name, (time.time() - 1000 * age,) * 2)
    page.set_viewport_size({"width": width, "height": 2400})
    open_start(page, served)
    cards = page.locator(".card")
    cards.nth(0).locator("svg").wait_for()
    assert [words.splitlines()[0] for words in cards.all_inner_texts()] == [
        *("Tea shelves", "Tea shelves", "broken.toml", "The shop")
    ]
    assert "2 sticks" in cards.nth(0).inner_text()
    assert "2 faults." in cards.nth(1).inner_text()
    assert "heigth" in cards.nth(1).inner_text()
    assert "1 fault." in cards.nth(2).inner_text()
    assert "Tools, bits and printers" in cards.nth(3).inner_text()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    no_violations(page)


def test_empty_folder_says_what_to_do_first(page: Any, served: Served) -> None:
    open_start(page, served)
    assert page.get_by_role("heading", name="No job is here yet").is_visible()
    no_violations(page)
    page.get_by_role("link", name="New cabinet").click()
    page.get_by_role("heading", name="New cabinet").wait_for()
    no_violations(page)


def expects_422(looked: Looked) -> None:
    """A form that comes back is told on the browser's own list of errors too."""
    assert looked.errors.pop().endswith("422 (UNPROCESSABLE ENTITY)")


def test_new_cabinet_is_made_from_its_sizes(page: Any, served: Served, looked: Looked) -> None:
    page.goto(served("/new/cabinet"))
    page.get_by_label("What the cabinet is called").fill("Seed case")
    page.get_by_label("Overall height").fill("thirty")
    page.get_by_role("button", name="Make the job").click()
    page.locator("#q-height-fault").wait_for()
    expects_422(looked)
    assert page.get_by_label("What the cabinet is called").input_value() == "Seed case"
    assert list(served.folder.iterdir()) == []
    page.get_by_label("Overall height").fill("30 1/2")
    page.get_by_role("button", name="Make the job").click()
    page.wait_for_url("**/job/seed-case.toml")
    [cabinet] = load(served.folder / "seed-case.toml").cabinets
    assert cabinet.cabinet.name == "Seed case"


def test_questions_follow_the_answers(page: Any, served: Served) -> None:
    page.goto(served("/new/cabinet"))
    page.get_by_label("Overall width").fill("700")
    page.get_by_label("Units").select_option("mm")
    page.locator("#q-height[placeholder='900']").wait_for()
    page.get_by_label("A face frame").select_option("no")
    page.locator("#q-stile").wait_for(state="detached")
    assert page.get_by_label("Overall width").input_value() == "700"


def test_new_job_never_goes_over_another(client: FlaskClient, folder: Path) -> None:
    assert client.post("/new/stick", data={"name": "Side", "file": "Side"}).status_code == 303
    first = (folder / "Side.toml").read_text()
    answer = client.post("/new/stick", data={"name": "Other", "file": "side"})
    assert answer.status_code == 422
    assert "here already" in answer.text
    assert client.post("/new/stick", data={"name": "Side"}).headers["Location"] == "/job/side-2.toml"
    assert (folder / "Side.toml").read_text() == first


@pytest.mark.parametrize("word", ["cabinet", "stick", "wall"])
def test_every_kind_begins_with_what_is_usual(client: FlaskClient, folder: Path, word: str) -> None:
    assert client.get(f"/new/{word}").status_code == 200
    answer = client.post(f"/new/{word}", data={})
    assert answer.status_code == 303
    [job] = folder.iterdir()
    load(job)
    assert client.get(answer.headers["Location"]).status_code == 200


def test_job_is_copied_renamed_deleted_and_put_back(page: Any, served: Served, looked: Looked) -> None:
    copy(SHELVES, served.folder)
    open_start(page, served)
    page.get_by_text("Copy, rename, delete").click()
    page.get_by_role("button", name="Copy to tea-shelves-2.toml").click()
    page.get_by_text("There is a copy now").wait_for()
    card = page.locator(".card", has_text="tea-shelves-2.toml, changed")
    card.get_by_text("Copy, rename, delete").click()
    card.get_by_label("New name of the file").fill("TEA-shelves")
    card.get_by_role("button", name="Rename").click()
    page.get_by_text("here already").wait_for()
    expects_422(looked)
    page.get_by_label("New name of the file").first.fill("more tea")
    page.get_by_role("button", name="Rename").first.click()
    page.get_by_text("It is called more tea.toml now").wait_for()
    card = page.locator(".card", has_text="more tea.toml, changed")
    card.get_by_text("Copy, rename, delete").click()
    card.get_by_text("Delete…").click()
    card.get_by_role("button", name="Delete more tea.toml").click()
    page.get_by_text("was moved to the deleted jobs").wait_for()
    assert not (served.folder / "more tea.toml").exists()
    page.get_by_text("Deleted jobs (1)").click()
    page.get_by_role("button", name="Put back").click()
    page.get_by_text("more tea.toml is back").wait_for()
    assert (served.folder / "more tea.toml").read_bytes() == SHELVES.read_bytes()
    assert sorted(path.name for path in served.folder.iterdir()) == ["more tea.toml", "tea-shelves.toml"]


@pytest.fixture(scope="module")
def prints(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("prints")
    print_job(load(SHELVES), place)
    return place


def test_print_gives_its_job(page: Any, served: Served, prints: Path) -> None:
    open_start(page, served)
    page.get_by_label("Or open a print").set_input_files(prints / "strips.pdf")
    page.get_by_role("button", name="Open its job").click()
    page.wait_for_url("**/job/tea-shelves.toml", timeout=30_000)
    assert (served.folder / "tea-shelves.toml").read_bytes() == SHELVES.read_bytes()


def test_print_never_goes_over_another_job(client: FlaskClient, folder: Path, prints: Path) -> None:
    def opened() -> Any:
        data = {"print": (BytesIO((prints / "strips.pdf").read_bytes()), "strips.pdf")}
        return client.post("/open-print", data=data)

    (folder / "tea-shelves.toml").write_text("# mine\n")
    assert opened().headers["Location"] == "/job/tea-shelves-2.toml"
    (folder / "tea-shelves.toml").write_bytes(SHELVES.read_bytes())
    assert opened().headers["Location"] == "/job/tea-shelves.toml"
    assert len(list(folder.iterdir())) == 2


@pytest.mark.parametrize("data", [b"", b"no PDF", b"%PDF-1.4\n" + b"x" * 1000])
def test_what_is_no_print_is_told(client: FlaskClient, folder: Path, data: bytes) -> None:
    answer = client.post("/open-print", data={"print": (BytesIO(data), "../../evil.pdf")})
    assert answer.status_code == 422
    assert "/tmp" not in answer.text
    assert list(folder.iterdir()) == []


def test_page_is_ended(page: Any, served: Served, looked: Looked) -> None:
    copy(SHELVES, served.folder)
    page.goto(served("/job/tea-shelves.toml?tab=text"))
    page.get_by_role("tab", name="Text").click()
    page.locator("#text").wait_for()
    type_in(page, "# mine\n")
    page.get_by_role("button", name="End", exact=True).click()
    page.get_by_text("Changes in this window are not saved").wait_for()
    page.get_by_role("button", name="Stay").click()
    page.get_by_role("button", name="End", exact=True).click()
    page.get_by_role("alert").get_by_role("button", name="End", exact=True).click()
    page.get_by_text("The page is ended").wait_for()
    assert not looked.errors


def test_card_is_made_again_only_where_a_file_changed(
    client: FlaskClient, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy(SHELVES, folder)
    assert "2 sticks" in client.get("/card/tea-shelves.toml").text
    with monkeypatch.context() as patched:
        patched.setattr("storystick.bench.pages.cards.read_draft", None)
        assert "2 sticks" in client.get("/card/tea-shelves.toml").text
    (folder / "tea-shelves.toml").write_bytes(CHEST.read_bytes())
    assert "1 cabinet" in client.get("/card/tea-shelves.toml").text


@pytest.mark.parametrize("seconds", [1e13, -1e13, 1e300])
def test_time_of_a_file_that_no_calendar_has_hides_no_job(
    client: FlaskClient, folder: Path, monkeypatch: pytest.MonkeyPatch, seconds: float
) -> None:
    copy(SHELVES, folder)
    monkeypatch.setattr(Folder, "changed_at", lambda _folder, _name: seconds)
    assert "changed <time" in client.get("/").text


def test_an_address_puts_no_words_on_the_page(client: FlaskClient) -> None:
    assert "a.toml is back" in client.get("/?done=back&name=a.toml").text
    assert "evil.example" not in client.get("/?done=back&name=Go to evil.example: your job").text


def test_shop_is_begun_once_and_filled_at_its_own_page(client: FlaskClient, folder: Path) -> None:
    copy(SHELVES, folder)
    assert "New shop" in client.get("/").text
    begun = client.post("/shop", data={"units": "mm"})
    assert (begun.status_code, begun.headers["Location"]) == (303, "/job/shop.toml")
    assert tomllib.loads((folder / "shop.toml").read_text()) == {"units": "mm"}
    assert 'data-change="raw"' in client.get("/job/shop.toml").text
    assert load(folder / SHELVES.name).job.shop is not None
    assert "New shop" not in client.get("/").text
    assert client.post("/shop").status_code == 422
