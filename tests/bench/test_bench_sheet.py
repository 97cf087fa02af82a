"""The sheet for a phone: read by a parser and by a browser that is offline, and its figures against the listing."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections.abc import Iterator
from fractions import Fraction
from hashlib import sha256
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, Final

import pytest
from axe_playwright_python.sync_playwright import Axe
from click.testing import CliRunner

from storystick.bench_sheet.built_up import built_up
from storystick.cli import main
from storystick.print_folder import state_of

GALLERY: Final = Path(__file__).parents[2] / "gallery"
JOBS: Final = sorted(path for path in GALLERY.glob("*/*.toml") if path.stem == path.parent.name)
SHOWN: Final = ("bead-chest", "canal-kitchen", "tea-shelves")
"""With a shop and inches; along a wall and in mm; plain sticks."""

WIDTHS: Final = (320, 390, 768, 1280)
VOID: Final = ("meta", "input", "br", "hr", "img", "link")

each_job = pytest.mark.parametrize("job", JOBS, ids=lambda job: job.stem)


def run(*words: object) -> str:
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return done.stdout


def printed(job: Path, folder: Path, *words: object) -> Path:
    run("print", job, "--format", "html", "-o", folder, *words)
    return folder / "bench-sheet.html"


def called(name: str) -> Path:
    return GALLERY / name / f"{name}.toml"


class Parsed(HTMLParser):
    """Every element with what it stands in, and what is read out of it: not what is hidden from screen readers."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[dict[str, Any]] = []
        self.all: list[dict[str, Any]] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        element = {"tag": tag, "at": dict(attributes), "inside": list(self.open), "text": ""}
        self.all.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.all.append({"tag": tag, "at": dict(attributes), "inside": list(self.open), "text": ""})

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1]["tag"] == tag, f"{tag} ends {self.open[-1]['tag']}"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        if not any("aria-hidden" in element["at"] for element in self.open):
            for element in self.open:
                element["text"] += data

    def of(self, kind: str, within: dict[str, Any] | None = None) -> Iterator[dict[str, Any]]:
        for element in self.all:
            classes = (element["at"].get("class") or "").split()
            if kind in (element["tag"], *classes) and (within is None or within in element["inside"]):
                yield element

    def by_id(self, name: str) -> dict[str, Any]:
        (found,) = (element for element in self.all if element["at"].get("id") == name)
        return found


def said(element: dict[str, Any]) -> str:
    return " ".join(element["text"].split())


def number(text: str) -> Fraction:
    """A mixed fraction or a decimal, read apart from the tool."""
    sign = -1 if text.startswith("-") else 1
    return sign * sum(map(Fraction, text.lstrip("-").split()), Fraction(0))


def check_label(label: str, exact: str, step: Fraction) -> None:
    """The nearest step, half a step away at most, and the word says on which side the exact length lies."""
    figure = re.sub(r" (full|scant)$", "", label)
    drift = label.removeprefix(figure).strip()
    away = number(exact) - number(figure)
    assert abs(away) <= step / 2, (label, exact)
    assert (number(figure) / step).denominator == 1
    assert drift == ("full" if away > 0 else "scant" if away < 0 else "")


@each_job
def test_marks_are_those_of_the_listing_rounded(job: Path, tmp_path: Path) -> None:
    marks = json.loads(run("marks", job, "--format", "json"))
    page = Parsed(printed(job, tmp_path).read_text(encoding="utf-8"))
    version = said(next(page.of("version")))
    assert f"Version {marks['digest']}, in {'inches' if marks['units'] == 'inch' else 'millimetres'}" in version
    step = number(version.rpartition("rounded to ")[2])
    section = page.by_id("marks") if marks["sticks"] else None
    groups = [group for group in page.of("group", section) if list(page.of("letter", group))] if section else []
    assert len(groups) == len(marks["sticks"])
    for group, stick in zip(groups, marks["sticks"], strict=True):
        assert said(next(page.of("letter", group))) == stick["letter"]
        shown = [
            [said(value) for value in page.of("value", row)] for row in page.of("row", group) if row["tag"] == "li"
        ]
        exact = [[span["start"], span["end"]] for span in stick["spans"]] + [[point["at"]] for point in stick["points"]]
        assert len(shown) == len(exact)
        for labels, lengths in zip(shown, exact, strict=True):
            for label, length in zip(labels, lengths, strict=False):
                check_label(label, length, step)
            assert len(labels) >= len(lengths)


@each_job
def test_page_is_whole_and_asks_for_nothing(job: Path, tmp_path: Path) -> None:
    text = printed(job, tmp_path).read_text(encoding="utf-8")
    page = Parsed(text)
    assert not {"link", "iframe", "img", "object", "embed", "form", "base"} & {element["tag"] for element in page.all}
    for element in page.all:
        assert not {"src", "style", "action", "srcset"} & element["at"].keys()
        assert not [name for name in element["at"] if name.startswith("on")]
        assert (element["at"].get("href") or "#").startswith("#")
    ids = [name for element in page.all if (name := element["at"].get("id"))]
    assert len(ids) == len(set(ids))
    kept = [key for element in page.all if (key := element["at"].get("data-keep"))]
    assert len(kept) == len(set(kept))
    assert {element["at"]["href"][1:] for element in page.of("a")} <= set(ids)
    (policy,) = (e["at"]["content"] for e in page.of("meta") if e["at"].get("http-equiv") == "Content-Security-Policy")
    for tag in ("style", "script"):
        own = text.partition(f"<{tag}>")[2].partition(f"</{tag}>")[0]
        assert f"{tag}-src 'sha256-{b64encode(sha256(own.encode()).digest()).decode()}'" in policy
    assert policy.startswith("default-src 'none'; ")
    assert "http" not in re.sub(r"<p.*?</p>", "", text.replace(policy, "").replace("http-equiv", ""))


def test_parts_have_a_box_each_and_sizes_of_the_listing(tmp_path: Path) -> None:
    job = called("bead-chest")
    parts = json.loads(run("parts", job, "--format", "json"))["parts"]
    page = Parsed(printed(job, tmp_path).read_text(encoding="utf-8"))
    section = page.by_id("parts")
    boxes = [element for element in page.of("input", section) if element["at"]["type"] == "checkbox"]
    assert len(boxes) == sum(part["count"] for part in parts)
    shown = {tuple(said(value) for value in page.of("value", row)) for row in page.of("row", section)}
    for part in parts:
        assert any(
            all(_is_label(label, part[key]) for label, key in zip(sizes, ("length", "width"), strict=True))
            for sizes in shown
        ), part["name"]


def _is_label(label: str, exact: str) -> bool:
    return abs(number(re.sub(r" (full|scant)$", "", label)) - number(exact)) <= Fraction(1, 128)


def test_diagonals_are_the_roots_of_their_sides(tmp_path: Path) -> None:
    job = called("bead-chest")
    targets = json.loads(run("square", job, "--format", "json"))["diagonals"]
    page = Parsed(printed(job, tmp_path).read_text(encoding="utf-8"))
    rows = list(page.of("row", page.by_id("square")))
    shown = {said(next(page.of("value", row))) for row in rows}
    roots = [(number(each["width"]) ** 2 + number(each["height"]) ** 2) ** Fraction(1, 2) for each in targets]
    for label in shown:
        assert min(abs(float(number(re.sub(r" (full|scant)$", "", label))) - float(root)) for root in roots) < 1 / 127
    assert all(len(list(page.of("written", row))) == 2 for row in rows)


def test_same_job_gives_the_same_bytes_and_stands_in_the_record(tmp_path: Path) -> None:
    job = called("tea-shelves")
    first, second = (printed(job, tmp_path / name) for name in ("one", "two"))
    assert first.read_bytes() == second.read_bytes()
    assert "bench-sheet.html" in (first.parent / "print-record.json").read_text(encoding="utf-8")
    assert state_of(first.parent).others == ()
    first.write_bytes(b"another")
    assert state_of(first.parent).others == ("bench-sheet.html",)


@pytest.mark.parametrize(
    ("format", "endings"),
    [
        ("html", {".html", ".json"}),
        ("pdf+html", {".html", ".json", ".pdf"}),
        ("all", {".html", ".json", ".pdf", ".svg"}),
        ("both", {".json", ".pdf", ".svg"}),
    ],
)
def test_formats_say_which_files_there_are(format: str, endings: set[str], tmp_path: Path) -> None:
    run("print", called("tea-shelves"), "--format", format, "-o", tmp_path)
    assert {path.suffix for path in tmp_path.iterdir()} == endings
    assert len(list(tmp_path.glob("*.html"))) == (1 if ".html" in endings else 0)
    for pdf in tmp_path.glob("*.pdf"):
        run("verify", pdf)


def test_sheet_of_some_sticks_has_their_marks_alone(tmp_path: Path) -> None:
    page = Parsed(printed(called("bead-chest"), tmp_path, "--only", "Chest side").read_text(encoding="utf-8"))
    assert [section["at"]["id"] for section in page.of("section")] == ["marks"]
    assert [said(group).split()[0] for group in page.of("h3")] == ["A"]


def test_nothing_is_written_where_one_file_cannot_be(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> bytes:
        raise OSError("no more room")

    monkeypatch.setattr("storystick.bench_sheet.page.bench_sheet", fail)
    done = CliRunner().invoke(
        main, ["print", str(called("tea-shelves")), "--format", "all", "-o", str(tmp_path / "out")]
    )
    assert done.exit_code != 0
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("text", "read_out"),
    [
        ("8 23/32 full", "8 23/32 full"),
        ("23/32", "23/32"),
        ("-1/4", "-1/4"),
        ("from 5 21/64 to 6", "from 5 21/64 to 6"),
        ("<b> & 1/2", "<b> & 1/2"),
        ("12.5 scant", "12.5 scant"),
        ("0.9 N/mm²", "0.9 N/mm²"),
    ],
)
def test_fractions_are_built_up_and_read_out_whole(text: str, read_out: str) -> None:
    page = Parsed(f"<p>{built_up(text)}</p>")
    assert said(next(page.of("p"))) == read_out
    assert not any(said(under) for under in page.of("under"))


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    return {name: printed(called(name), tmp_path_factory.mktemp(name)) for name in SHOWN}


@pytest.fixture
def opened(browser: Any, sheets: dict[str, Path]) -> Iterator[Any]:
    """Opens a sheet in a browser without a network; at the end nothing was asked for, and nothing failed."""
    wrong: list[str] = []
    contexts = []

    def open_sheet(name: str, **kwargs: Any) -> Any:
        context = browser.new_context(**kwargs)
        contexts.append(context)
        context.set_offline(True)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda words: wrong.append(words.text) if words.type in ("error", "warning") else None)
        address = sheets[name].as_uri()
        page.on("request", lambda sent: wrong.append(sent.url) if sent.url.partition("#")[0] != address else None)
        page.goto(address)
        return page

    yield open_sheet
    for context in contexts:
        context.close()
    assert wrong == []


@pytest.mark.parametrize("name", SHOWN)
def test_sheet_is_read_at_every_width_and_by_everyone(name: str, opened: Any) -> None:
    for shade in ("light", "dark"):
        page = opened(name, color_scheme=shade, viewport={"width": WIDTHS[0], "height": 800})
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate("document.documentElement.scrollWidth") <= width
        page.set_viewport_size({"width": 390, "height": 800})
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()


def test_targets_are_large_and_figures_are_read_at_arms_length(opened: Any) -> None:
    page = opened("bead-chest", viewport={"width": 360, "height": 740})
    sizes = page.evaluate(
        "[...document.querySelectorAll('.line:not(.open), .one, button, nav a, summary')]"
        ".filter(e => e.offsetParent).map(e => Math.min(e.offsetHeight, e.offsetWidth))"
    )
    assert min(sizes) >= 44  # WCAG 2.2, success criterion 2.5.5
    heights = page.evaluate(
        "[...document.querySelectorAll('#marks .value.large')].filter(e => !e.closest('.quiet'))"
        ".map(e => parseFloat(getComputedStyle(e).fontSize))"
    )
    assert min(heights) >= 28


def test_ticks_times_and_readings_are_kept_on_the_device(opened: Any) -> None:
    page = opened("bead-chest", viewport={"width": 390, "height": 800})
    page.locator("#marks label.line").first.click()
    page.locator("#parts label.one").nth(1).click()
    page.locator("#square .written input").first.fill("50 63/64")
    start = page.locator("#glue-up input[type=time]").first
    start.fill("10:50")
    by = page.locator(f"output[for={start.get_attribute('id')}]").first
    minutes = int(float(by.get_attribute("data-after")))
    assert by.text_content() == f"{10 + (50 + minutes) // 60:02}:{(50 + minutes) % 60:02}"
    page.locator("#shade").click()
    page.reload()
    assert page.locator("#marks label.line input").first.is_checked()
    assert page.locator("#parts label.one input").nth(1).is_checked()
    assert not page.locator("#parts label.one input").first.is_checked()
    assert page.locator("#square .written input").first.input_value() == "50 63/64"
    assert start.input_value() == "10:50"
    assert page.evaluate("document.documentElement.getAttribute('data-shade')") == "dark"
    assert page.locator(".count[data-of=marks]").text_content().split()[0] == "1"


def test_ticks_are_cleared_after_a_question_only(opened: Any) -> None:
    page = opened("tea-shelves")
    box = page.locator("label.line input").first
    page.keyboard.press("Tab")
    box.focus()
    page.keyboard.press("Space")
    assert box.is_checked()
    page.once("dialog", lambda asked: asked.dismiss())
    page.locator("#clear").click()
    assert box.is_checked()
    page.once("dialog", lambda asked: asked.accept())
    page.locator("#clear").click()
    assert not box.is_checked()
    page.reload()
    assert not box.is_checked()


def test_ticks_of_another_version_are_not_taken_over(opened: Any) -> None:
    page = opened("tea-shelves")
    page.locator("label.line").first.click()
    places = page.evaluate("Object.keys(localStorage)")
    assert len(places) == 1
    digest = json.loads(run("marks", called("tea-shelves"), "--format", "json"))["digest"]
    assert digest in places[0]


def test_sheet_works_where_the_browser_keeps_nothing(browser: Any, sheets: dict[str, Path]) -> None:
    context = browser.new_context()
    context.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }});"
    )
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(sheets["tea-shelves"].as_uri())
    assert page.locator("#unkept").is_visible()
    box = page.locator("label.line input").first
    page.locator("label.line").first.click()
    assert box.is_checked()
    assert page.locator(".count").nth(1).text_content().split()[0] == "1"
    context.close()
    assert errors == []


def test_sheet_is_read_without_its_script(browser: Any, sheets: dict[str, Path]) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(sheets["tea-shelves"].as_uri())
    page.locator("label.line").first.click()
    assert page.locator("label.line input").first.is_checked()
    assert page.locator("noscript p").is_visible()
    assert not page.locator("#clear").is_visible()
    context.close()
