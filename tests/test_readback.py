"""Every job of the gallery, printed and read back: each edge where it belongs, on paper as in the layout."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Final

import numpy as np
import pikepdf
import pytest
from click.testing import CliRunner
from jobs import GALLERY_JOBS
from readback import Ink, Reader, Rect, pdf_by_pdfium, pdf_by_pypdf, pdfium, svg_by_svgelements, svg_by_xml

from storystick.cli import main
from storystick.laying_out import load
from storystick.printing import print_job

GALLERY: Final = Path(__file__).parent.parent / "gallery"
DEMO: Final = Path(str(files("storystick") / "demo" / "drawer-bank.toml"))
JOBS: Final = {path.stem: path for path in (DEMO, *GALLERY_JOBS)}

TOLERANCE_MM: Final = 0.001
DOT_MM: Final = 25.4 / 600
AROUND_MM: Final = 10.0
"""A strip in one piece lies this far from the left and the lower edge of its drawing."""

each_job = pytest.mark.parametrize("name", JOBS)


@dataclass
class Printed:
    """A printed job: its files by name, and what the listings say of it."""

    files: dict[str, bytes]
    marks: dict[str, Any]
    pages: dict[str, Any]
    sticks: dict[str, Any] = field(init=False)

    def __post_init__(self) -> None:
        self.sticks = {stick["name"]: stick for stick in self.marks["sticks"]}


@pytest.fixture(scope="module")
def prints(tmp_path_factory: pytest.TempPathFactory) -> Any:
    @cache
    def printed(name: str) -> Printed:
        paths = print_job(load(JOBS[name]), tmp_path_factory.mktemp(name))
        return Printed({path.name: path.read_bytes() for path in paths}, listing("marks", name), listing("pages", name))

    return printed


def listing(command: str, name: str) -> dict[str, Any]:
    result = CliRunner().invoke(main, [command, str(JOBS[name]), "--format", "json"])
    assert result.exit_code == 0, result.stderr
    read: dict[str, Any] = json.loads(result.stdout)
    return read


def inside(stick: dict[str, Any], kind: str, start: float, end: float) -> Iterator[tuple[float, float]]:
    """The spans of a kind as far as they lie between two stations."""
    for span in stick["spans"]:
        if span["kind"] == kind and span["start_mm"] < end and span["end_mm"] > start:
            yield max(span["start_mm"], start), min(span["end_mm"], end)


def on_page(tile: dict[str, Any], stretch: tuple[float, float]) -> list[float]:
    """Left and right of a stretch of stations, by the rule that the listing of the pages states."""
    return sorted(
        tile["x_mm"] + tile["direction"] * (station - tile["start_mm"]) * tile["scale_x"] for station in stretch
    )


def bands(ink: Ink, low: float, high: float) -> list[Rect]:
    """The grey bands that stand on the marking edge of a strip between two heights."""
    return [box for box in ink.boxes if box.grey > 0.5 and abs(box.bottom - low) < TOLERANCE_MM and box.top <= high]


def blacks(ink: Ink, low: float, high: float) -> list[Rect]:
    return [box for box in ink.boxes if box.grey < 0.01 and low - TOLERANCE_MM <= box.bottom and box.top <= high]


def assert_edges(ink: Ink, stick: dict[str, Any], tile: dict[str, Any]) -> None:
    """Every part and groove of a tile has its band, edge for edge, and there is no band besides."""
    low, high = tile["y_mm"], tile["y_mm"] + tile["height_mm"] + TOLERANCE_MM
    left, right = on_page(tile, (tile["start_mm"], tile["end_mm"]))
    here = [box for box in bands(ink, low, high) if left - 1 < box.left and box.right < right + 1]
    black = [box for box in blacks(ink, low, high) if left - 1 < box.left and box.right < right + 1]
    parts = [on_page(tile, stretch) for stretch in inside(stick, "part", tile["start_mm"], tile["end_mm"])]
    assert sorted([box.left, box.right] for box in here) == [
        pytest.approx(part, abs=TOLERANCE_MM) for part in sorted(parts)
    ]
    for stretch in inside(stick, "groove", tile["start_mm"], tile["end_mm"]):
        groove = on_page(tile, stretch)
        assert any(
            [box.left, box.right] == pytest.approx(groove, abs=TOLERANCE_MM) for box in black if box.bottom > low + 5
        )
    # What stands on the marking edge in black belongs to a band, and ends where it does.
    for box in black:
        if abs(box.bottom - low) < TOLERANCE_MM:
            assert any(part[0] - TOLERANCE_MM <= box.left and box.right <= part[1] + TOLERANCE_MM for part in parts)
    for part, (start, end) in zip(parts, inside(stick, "part", tile["start_mm"], tile["end_mm"]), strict=True):
        for edge, station in zip(part, (start, end) if tile["direction"] > 0 else (end, start), strict=True):
            if tile["start_mm"] < station < tile["end_mm"]:
                ends = [end for box in black if abs(box.bottom - low) < TOLERANCE_MM for end in (box.left, box.right)]
                assert min(abs(end - edge) for end in ends) < TOLERANCE_MM


def test_gallery_has_jobs_of_both_units_and_one_that_is_6_m_long(prints: Any) -> None:
    listings = [prints(name).marks for name in JOBS]
    assert {listing["units"] for listing in listings} == {"inch", "mm"}
    assert max(stick["length_mm"] for listing in listings for stick in listing["sticks"]) >= 6000
    assert max(len(stick["spans"]) for listing in listings for stick in listing["sticks"] if stick["pair"]) >= 21


@each_job
@pytest.mark.parametrize("read", [pdf_by_pypdf, pdf_by_pdfium], ids=["pypdf", "pdfium"])
def test_every_edge_on_every_sheet_is_where_the_listing_says(name: str, read: Reader, prints: Any) -> None:
    printed = prints(name)
    for sheet in printed.pages["sheets"]:
        ink = read(printed.files[sheet["file"]], sheet["page"] - 1)
        assert (ink.width, ink.height) == pytest.approx((sheet["width_mm"], sheet["height_mm"]), abs=TOLERANCE_MM)
        for tile in sheet["tiles"]:
            assert_edges(ink, printed.sticks[tile["stick"]], tile)


@each_job
def test_tiles_of_every_strip_cover_it_once(name: str, prints: Any) -> None:
    printed = prints(name)
    strips: dict[tuple[str, str | None], list[dict[str, Any]]] = {}
    for sheet in printed.pages["sheets"]:
        for tile in sheet["tiles"]:
            strips.setdefault((tile["stick"], tile["hand"]), []).append(tile)
    hands = [(True, {"left", "right"}), (False, {None})]
    for stick in printed.marks["sticks"]:
        assert {hand for of, hand in strips if of == stick["name"]} == dict(hands)[stick["pair"]]
    for (stick_name, _), tiles in strips.items():
        tiles.sort(key=lambda tile: tile["tile"])
        assert tiles[0]["start_mm"] == 0
        assert [tile["end_mm"] for tile in tiles] == [
            *(tile["start_mm"] for tile in tiles[1:]),
            printed.sticks[stick_name]["length_mm"],
        ]


@each_job
@pytest.mark.parametrize("read", [svg_by_xml, svg_by_svgelements], ids=["xml", "svgelements"])
def test_every_edge_of_a_strip_in_one_piece_is_where_the_layout_says(name: str, read: Reader, prints: Any) -> None:
    printed = prints(name)
    strips = [
        (stick, hand) for stick in printed.marks["sticks"] for hand in (("left", "right") if stick["pair"] else (None,))
    ]
    runs = {
        (tile["stick"], tile["hand"]): tile["direction"] for sheet in printed.pages["sheets"] for tile in sheet["tiles"]
    }
    drawings = [read(data, 0) for file, data in printed.files.items() if re.fullmatch(r"strip-.*\.svg", file)]
    assert len(drawings) == len(strips)
    for ink, (stick, hand) in zip(drawings, strips, strict=True):
        length, direction = stick["length_mm"], runs[stick["name"], hand]
        start = AROUND_MM if direction > 0 else AROUND_MM + length
        tile = {"start_mm": 0.0, "end_mm": length, "x_mm": start, "y_mm": AROUND_MM, "direction": direction}
        assert_edges(ink, stick, {**tile, "height_mm": ink.height - 2 * AROUND_MM, "scale_x": 1.0})


@each_job
def test_left_and_right_hand_differ_by_nothing(name: str, prints: Any) -> None:
    """Edge for edge, a place on the left hand and its twin on the right one come to the same two ends."""
    printed = prints(name)
    for stick in (stick for stick in printed.marks["sticks"] if stick["pair"]):
        stem = "-".join(stick["name"].lower().split())
        left, right = (svg_by_xml(printed.files[f"strip-{stem}-{hand}-hand.svg"]) for hand in ("left", "right"))
        places = [sorted((box.left, box.right) for box in bands(ink, AROUND_MM, ink.height)) for ink in (left, right)]
        both_ends = 2 * AROUND_MM + stick["length_mm"]
        mirrored = sorted((both_ends - end, both_ends - start) for start, end in places[1])
        assert places[0] == [pytest.approx(place, abs=1e-9) for place in mirrored]


def joined(stretches: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Stretches, rising, those that touch as one: their bands are one stretch of ink."""
    found: list[tuple[float, float]] = []
    for start, end in sorted(stretches):
        if found and start - found[-1][1] < DOT_MM:
            start, _ = found.pop()
        found.append((start, end))
    return found


@each_job
def test_no_dot_of_a_band_is_beyond_its_edges(name: str, prints: Any) -> None:
    """The first sheet at 600 dots an inch: 0.8 mm above the marking edge, no band begins early or ends late."""
    printed = prints(name)
    sheet = printed.pages["sheets"][0]
    with pdfium(printed.files[sheet["file"]]) as pdf:
        dots = pdf[sheet["page"] - 1].render(scale=600 / 72).to_numpy()[:, :, 0] < 250
    # A page that is not a whole number of dots is stretched to the next one.
    down, across = (sheet[side] / count for side, count in zip(("height_mm", "width_mm"), dots.shape, strict=True))
    for tile in sheet["tiles"]:
        row = round((sheet["height_mm"] - tile["y_mm"] - 0.8) / down)
        stick = printed.sticks[tile["stick"]]
        parts = joined(on_page(tile, stretch) for stretch in inside(stick, "part", tile["start_mm"], tile["end_mm"]))
        left, right = (round(edge / across) for edge in on_page(tile, (tile["start_mm"], tile["end_mm"])))
        ink = np.flatnonzero(dots[row, left:right]) + left
        runs = np.split(ink, np.flatnonzero(np.diff(ink) > 1) + 1)
        wide = [(run[0] * across, (run[-1] + 1) * across) for run in runs if len(run) > 12]
        assert wide == [pytest.approx(part, abs=DOT_MM) for part in parts]


@each_job
@pytest.mark.parametrize("file", ["strips.pdf", "job-sheet.pdf"])
def test_pdf_is_valid_and_asks_for_full_size(name: str, file: str, prints: Any, tmp_path: Path) -> None:
    (tmp_path / file).write_bytes(prints(name).files[file])
    with pikepdf.open(tmp_path / file) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert str(pdf.Root.ViewerPreferences.PrintScaling) == "/None"
        assert str(pdf.Root.ViewerPreferences.Duplex) == "/Simplex"
        attached = {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}
    assert attached[JOBS[name].name] == JOBS[name].read_bytes()


@each_job
def test_same_job_gives_same_bytes(name: str, prints: Any, tmp_path: Path) -> None:
    again = print_job(load(JOBS[name]), tmp_path)
    assert {path.name: path.read_bytes() for path in again} == prints(name).files


@each_job
def test_every_sheet_says_the_job_s_digest(name: str, prints: Any) -> None:
    printed = prints(name)
    for file, count in (("strips.pdf", len(printed.pages["sheets"])), ("job-sheet.pdf", 1)):
        with pdfium(printed.files[file]) as pdf:
            words = [pdf[page].get_textpage().get_text_bounded() for page in range(len(pdf))]
        assert len(words) >= count
        assert all(printed.marks["digest"] in page for page in words)
