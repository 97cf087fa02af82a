"""Printing from the page: what is asked first, what is written, and what is never touched."""

from __future__ import annotations

import shutil
import time
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, Final

import pytest
from axe_playwright_python.sync_playwright import Axe
from click.testing import CliRunner
from conftest import let_in
from flask import Flask
from flask.testing import FlaskClient
from pypdf import PdfReader

from storystick.bench.print_run import Run, RunState, Wish, begin
from storystick.bench.state import Bench
from storystick.bench.tabs import print_tab
from storystick.cli import main
from storystick.job.job import PrintName
from storystick.sheets.print_choices import Formats

GALLERY: Final = Path(__file__).parents[2] / "gallery"
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
NAME: Final = "seed.toml"
PATIENCE_SECONDS: Final = 120


@pytest.fixture(autouse=True)
def job(folder: Path) -> Path:
    place = folder / NAME
    place.write_text(PLAIN, encoding="utf-8")
    return place


def asked(client: FlaskClient, what: str = "", text: str = PLAIN, **more: object) -> str:
    data = {"text": text, "kind": ["strips", "figures"], "format": "pdf", **more}
    answer = client.post(f"/job/{NAME}/print{what}", data=data)
    assert answer.status_code == 200
    return answer.get_data(as_text=True)


def printed(client: FlaskClient, **more: object) -> str:
    """What is said once it is over."""
    said = asked(client, **more)
    assert 'data-run="running"' in said
    until = time.monotonic() + PATIENCE_SECONDS
    while 'data-run="running"' in said and time.monotonic() < until:
        time.sleep(0.1)
        said = asked(client, "/state")
    return said


def bench_of(app: Flask) -> Bench:
    bench: Bench = app.extensions["bench"]
    return bench


def test_tab_ticks_what_is_usual_and_says_what_it_takes(client: FlaskClient) -> None:
    answer = client.post(f"/job/{NAME}/edit", data={"text": PLAIN, "tab": "print"}).get_data(as_text=True)
    assert '<input type="checkbox" name="kind" value="strips" checked>' in answer
    assert '<input type="checkbox" name="kind" value="figures">' in answer
    assert 'value="parts"' not in answer  # which a plain stick has none of
    assert ">1 sheet<" in answer
    assert "A4, as the job says" in answer


def test_faulty_job_is_mended_first(client: FlaskClient) -> None:
    faulty = PLAIN.replace("120", '"what"')
    answer = client.post(f"/job/{NAME}/edit", data={"text": faulty, "tab": "print"}).get_data(as_text=True)
    assert "it can be printed" in answer
    assert 'id="print"' not in answer


def test_what_is_written_is_what_the_command_writes(client: FlaskClient, job: Path, tmp_path: Path) -> None:
    assert "Printed: 3 files" in printed(client)
    words = ["print", str(job), "--format", "pdf", "--with", "figures", "-o", str(tmp_path / "by command")]
    assert CliRunner().invoke(main, words).exit_code == 0
    by_page = {path.name: path.read_bytes() for path in (job.parent / "seed-print").iterdir()}
    assert {path.name for path in (tmp_path / "by command").iterdir()} == by_page.keys()
    for name in ("strips.pdf", "job-sheet.pdf", "figures.pdf"):
        # The record of what was asked differs by the way it was asked for, the pages do not.
        pages = [PdfReader(place / name).pages for place in (job.parent / "seed-print", tmp_path / "by command")]
        assert [page.get_contents().get_data() for page in pages[0]] == [
            page.get_contents().get_data() for page in pages[1]
        ]


def test_sheets_are_counted_as_they_are_printed(client: FlaskClient, job: Path) -> None:
    said = asked(client, "/plan")
    printed(client)
    pages = {path.name: len(PdfReader(path).pages) for path in (job.parent / "seed-print").glob("*.pdf")}
    assert f"It takes {sum(pages.values())} sheets of paper" in said
    for name, count in pages.items():
        assert f'<th scope="row">{name}</th><td>{count}</td>' in said


def test_what_is_not_saved_is_not_printed(client: FlaskClient, job: Path) -> None:
    said = asked(client, text=PLAIN.replace("120", "125"))
    assert "what is printed is what is saved" in said
    assert not (job.parent / "seed-print").exists()
    assert "what is not saved is not counted" in asked(client, "/plan", text=PLAIN.replace("120", "125"))


def test_an_older_print_is_replaced_on_the_users_word_only(client: FlaskClient, job: Path) -> None:
    printed(client)
    folder = job.parent / "seed-print"
    before = (folder / "strips.pdf").read_bytes()
    longer = PLAIN.replace("120", "125")
    job.write_text(longer, encoding="utf-8")
    said = asked(client, text=longer)
    assert "these 3 files of an older print" in said
    assert (folder / "strips.pdf").read_bytes() == before
    (folder / "figures.pdf").write_bytes(b"mine")
    assert "figures.pdf was changed since" in asked(client, text=longer)
    printed(client, text=longer, replace="1")
    assert (folder / "strips.pdf").read_bytes() != before


def test_files_of_nobodys_print_are_never_touched(client: FlaskClient, job: Path) -> None:
    folder = job.parent / "seed-print"
    folder.mkdir()
    (folder / "strips.pdf").write_bytes(b"mine")
    for more in ({}, {"replace": "1"}):
        assert "strips.pdf in seed-print is not of any print" in asked(client, **more)
    assert [path.name for path in folder.iterdir()] == ["strips.pdf"]
    assert (folder / "strips.pdf").read_bytes() == b"mine"


def test_a_link_out_of_the_folder_is_not_followed(client: FlaskClient, job: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (job.parent / "seed-print").symlink_to(tmp_path / "elsewhere")
    assert "not of any print" in asked(client, replace="1")
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_only_files_of_the_print_are_given_out(client: FlaskClient, job: Path) -> None:
    printed(client, format="pdf+html")
    folder = job.parent / "seed-print"
    (folder / "secret.pdf").write_bytes(b"%PDF-1.7")
    (job.parent / "secret.pdf").write_bytes(b"%PDF-1.7")
    strips = client.get(f"/job/{NAME}/print/file/strips.pdf")
    assert strips.data == (folder / "strips.pdf").read_bytes()
    assert strips.mimetype == "application/pdf"
    assert strips.headers["Content-Disposition"].startswith("inline")
    assert strips.headers["X-Content-Type-Options"] == "nosniff"
    sheet = client.get(f"/job/{NAME}/print/file/bench-sheet.html")
    assert sheet.headers["Content-Disposition"].startswith("attachment")
    for name in ("secret.pdf", "../secret.pdf", "..%2Fsecret.pdf", "print-record.json", "/etc/passwd"):
        assert client.get(f"/job/{NAME}/print/file/{name}").status_code == 404
    (folder / "strips.pdf").unlink()
    (folder / "strips.pdf").symlink_to(job)
    assert client.get(f"/job/{NAME}/print/file/strips.pdf").status_code == 404


def test_a_print_that_is_stopped_leaves_nothing(client: FlaskClient, job: Path) -> None:
    assert 'data-run="running"' in asked(client)
    said = asked(client, "/stop")
    assert "Nothing of it was written" in said
    assert not (job.parent / "seed-print").exists()
    assert "Printed: 3 files" in printed(client)


@pytest.mark.parametrize("wrong", [{"kind": ["nothing"]}, {"format": "gif"}, {"hands": "three"}])
def test_what_the_page_cannot_have_sent_is_refused(client: FlaskClient, wrong: dict[str, Any]) -> None:
    assert client.post(f"/job/{NAME}/print", data={"text": PLAIN, **wrong}).status_code == 400


def test_faults_of_a_print_are_told_without_a_path(client: FlaskClient, job: Path) -> None:
    said = asked(client, printer="nobody's")
    assert "nobody" in said
    assert str(job.parent) not in said
    assert 'data-run="running"' not in said


def test_a_job_is_printed_by_a_person(page: Any, served: Any) -> None:
    for file in (GALLERY / "bead-chest").glob("*.toml"):
        shutil.copy(file, served.folder)
    page.goto(served("/job/bead-chest.toml"))
    page.locator("[data-tab=print]").click()
    page.locator(".print-pages").wait_for(timeout=PATIENCE_SECONDS * 1000)
    for width in (390, 1000, 1600):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    found = Axe().run(page, context="#print")
    assert found.violations_count == 0, found.generate_report()
    for box in page.locator("#print [name=kind]").all():
        box.set_checked(box.get_attribute("value") == "strips")
    page.locator("#print button[type=submit]").click()
    page.locator("[data-run=done]").wait_for(timeout=PATIENCE_SECONDS * 1000)
    assert page.locator(".print-files a").all_text_contents() == ["job-sheet.pdf", "strips.pdf"]
    # Typing goes on: what is ticked stays so, and what is typed is saved before it is printed.
    page.locator("#form input[data-at$='/height']").first.fill("34 1/2")
    page.locator("#state:has-text('Not saved')").wait_for()
    page.wait_for_function("document.querySelectorAll('#print [name=kind]:checked').length === 1")
    page.locator("#print button[type=submit]").click()
    page.locator("[data-print-do=save]").click()
    page.locator("[data-print-do=replace]").wait_for(timeout=PATIENCE_SECONDS * 1000)
    assert "34 1/2" in (served.folder / "bead-chest.toml").read_text(encoding="utf-8")
    page.locator("[data-print-do=replace]").click()
    page.locator("[data-run=done]").wait_for(timeout=PATIENCE_SECONDS * 1000)


def wished(job: Path, known: Mapping[str, str] | None = None) -> Run:
    """A print of the strips, begun."""
    wish = Wish((PrintName.STRIPS,), Formats.PDF)
    return begin(job, None, wish, job.with_name("seed-print"), known or {})


def over(run: Run) -> Run:
    return run.wait(PATIENCE_SECONDS)


def test_a_print_that_is_being_written_is_not_stopped(job: Path) -> None:
    run = wished(job)
    assert run.writing
    writing = run.writing
    writing.acquire()  # As the process does before it writes.
    assert run.stop().state is RunState.RUNNING
    writing.release()
    assert over(run).state is RunState.DONE
    assert {*run.written} <= {path.name for path in job.with_name("seed-print").iterdir()}


def test_what_came_into_the_folder_meanwhile_is_not_written_over(job: Path) -> None:
    run = wished(job)
    assert run.writing
    writing = run.writing
    writing.acquire()
    job.with_name("seed-print").mkdir()
    (job.with_name("seed-print") / "strips.pdf").write_bytes(b"mine")
    writing.release()
    assert over(run).state is RunState.FAILED
    assert "strips.pdf" in run.faults[0]
    assert "meanwhile" in run.faults[0]
    assert [path.name for path in job.with_name("seed-print").iterdir()] == ["strips.pdf"]
    assert (job.with_name("seed-print") / "strips.pdf").read_bytes() == b"mine"


def test_two_windows_that_print_a_job_at_once_have_one_print(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[Run] = []

    def slow(*given: Any) -> Run:
        time.sleep(0.3)
        begun.append(begin(*given))
        return begun[-1]

    monkeypatch.setattr(print_tab, "begin", slow)
    others = [let_in(app) for _ in range(2)]
    with ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(asked, others))
    assert all('data-run="running"' in answer for answer in answers)
    assert len(begun) == 1
    assert over(begun[0]).state is RunState.DONE


def test_prints_end_with_the_page(client: FlaskClient, app: Flask, job: Path) -> None:
    asked(client)
    run = bench_of(app).prints.of(NAME)
    assert run
    process = run.process
    assert process
    bench_of(app).prints.end()
    assert not process.is_alive()
    assert run.state in (RunState.STOPPED, RunState.DONE)
    assert (run.state is RunState.DONE) == job.with_name("seed-print").exists()


def test_who_plans_is_begun_anew_where_it_was_ended(client: FlaskClient, app: Flask) -> None:
    said = asked(client, "/plan")
    planner = bench_of(app).planner
    assert planner.process
    planner.process.kill()
    planner.process.join()
    assert asked(client, "/plan") == said


def test_sheets_are_counted_of_what_is_saved_now(client: FlaskClient, job: Path) -> None:
    assert "<td>1</td>" in asked(client, "/plan")
    longer = PLAIN.replace("140", "1400")
    job.write_text(longer, encoding="utf-8")
    said = asked(client, "/plan", text=longer)
    printed(client, text=longer)
    pages = len(PdfReader(job.with_name("seed-print") / "strips.pdf").pages)
    assert pages > 1
    assert f'<th scope="row">strips.pdf</th><td>{pages}</td>' in said
