"""The printed PDF files of gallery jobs, read by six engines: each says the same of them, and none complains."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final, TypeVar

import pypdf
import pytest
from click.testing import CliRunner
from engines import ATTACHMENTS, COMPLAINTS, FONTS, LABELS, OUTLINES, PAGE_SIZES, PRINTING, Entry, Size

from storystick import load, print_job
from storystick.cli import main

GALLERY: Final = Path(__file__).parent.parent / "gallery"
TOLERANCE_MM: Final = 0.001

A4: Final = (210.0, 297.0)
LETTER: Final = (215.9, 279.4)
# ISO 216 for A sizes; ANSI/ASME Y14.1 for Letter, 8.5 by 11 in. Strips lie along the long side.
STRIP_SHEETS: Final[dict[str, Size]] = {
    "bead-chest": (279.4, 215.9),
    "map-room": (420.0, 297.0),
    "tea-shelves": (297.0, 210.0),
}
JOB_SHEETS: Final[dict[str, Size]] = {"bead-chest": LETTER, "map-room": A4, "tea-shelves": A4}
SOURCES: Final = {
    "bead-chest": ("bead-chest.toml", "shop.toml"),
    "map-room": ("map-room.toml", "bays.csv"),
    "tea-shelves": ("tea-shelves.toml",),
}

Told = TypeVar("Told")
Ask = Callable[[Path], Told]


@dataclass(frozen=True)
class PrintedFile:
    """A printed PDF, and what must be said of it."""

    pdf: Path
    page_size: Size
    labels: list[str]
    outline: list[Entry]
    sources: dict[str, bytes]


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, str], PrintedFile]:
    @cache
    def folder(job: str) -> Path:
        into = tmp_path_factory.mktemp(job)
        print_job(load(GALLERY / job / f"{job}.toml"), into)
        return into

    def file(job: str, name: str) -> PrintedFile:
        pdf = folder(job) / f"{name}.pdf"
        pages = range(1, len(pypdf.PdfReader(pdf).pages) + 1)
        return PrintedFile(
            pdf,
            {"strips": STRIP_SHEETS, "job-sheet": JOB_SHEETS}[name][job],
            [f"{name.replace('-', ' ')} {page}" for page in pages],
            {"strips": beginnings(job), "job-sheet": [("Job sheet", 1)]}[name],
            {source: (GALLERY / job / source).read_bytes() for source in SOURCES[job]},
        )

    return file


@cache
def beginnings(job: str) -> list[Entry]:
    """Every strip of a job, and the page that its first tile is on."""
    listed = CliRunner().invoke(main, ["pages", str(GALLERY / job / f"{job}.toml"), "--format", "json"])
    tiles = [(sheet["page"], tile) for sheet in json.loads(listed.stdout)["sheets"] for tile in sheet["tiles"]]
    return [(_title(tile), page) for page, tile in tiles if tile["tile"] == 1]


def _title(tile: dict[str, Any]) -> str:
    """A strip of several faces is told by all of them, in words that are worked out here for the bead chest's."""
    hand = f", {tile['hand']} hand" if tile["hand"] else ""
    return f"{tile['letter']}  {SERVED.get(tuple(tile['serves']), tile['stick'])}{hand}"


SERVED = {
    ("Chest divider 1, left face", "Chest divider 1, right face"): "Chest divider 1, both faces",
    ("Chest bottom, upper face", "Chest top, lower face"): "Chest bottom, upper face; top, lower face",
    ("Chest bottom rail, upper edge", "Chest top rail, lower edge"): (
        "Chest bottom rail, upper edge; top rail, lower edge"
    ),
    ("Chest mid stile at divider 1, left edge", "Chest mid stile at divider 1, right edge"): (
        "Chest mid stile at divider 1, both edges"
    ),
    ("Chest fronts, column 1", "Chest fronts, column 2"): "Chest fronts, column 1, 2",
}


def each(table: dict[str, Ask[Told]]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("ask", table.values(), ids=table)


@pytest.fixture(params=[(job, file) for job in SOURCES for file in ("strips", "job-sheet")], ids="-".join)
def file(request: pytest.FixtureRequest, printed: Callable[[str, str], PrintedFile]) -> PrintedFile:
    return printed(*request.param)


@each(PAGE_SIZES)
def test_every_page_is_as_large_as_the_paper(ask: Ask[list[Size]], file: PrintedFile) -> None:
    assert ask(file.pdf) == [pytest.approx(file.page_size, abs=TOLERANCE_MM)] * len(file.labels)


@each(PRINTING)
def test_printing_is_asked_for_unscaled_and_on_one_side(ask: Ask[tuple[str, str]], file: PrintedFile) -> None:
    assert ask(file.pdf) == ("/None", "/Simplex")


@each(LABELS)
def test_pages_are_labelled_by_file_and_number(ask: Ask[list[str]], file: PrintedFile) -> None:
    assert ask(file.pdf) == file.labels


@each(OUTLINES)
def test_outline_leads_to_where_every_strip_begins(ask: Ask[list[Entry]], file: PrintedFile) -> None:
    assert ask(file.pdf) == file.outline


@each(ATTACHMENTS)
def test_job_file_and_all_that_it_names_are_attached_as_they_are(ask: Ask[dict[str, bytes]], file: PrintedFile) -> None:
    attached = ask(file.pdf)
    assert {name: attached.get(name) for name in file.sources} == file.sources
    assert attached == ATTACHMENTS["pypdf"](file.pdf)


@each(FONTS)
def test_all_fonts_are_embedded(ask: Ask[dict[str, bool]], file: PrintedFile) -> None:
    fonts = ask(file.pdf)
    assert set(fonts.values()) == {True}, fonts


@each(COMPLAINTS)
def test_nothing_in_the_file_is_complained_of(ask: Ask[str], file: PrintedFile) -> None:
    assert ask(file.pdf) == ""
