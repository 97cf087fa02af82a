"""Strips that are folded over the edge of their sticks: every mark goes on over the fold, down to the work."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import jsonschema
import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from jobs import read, read_well
from lettering_boxes import colliding, text_boxes
from readback import Ink, Rect, Stroke, pdf_by_pdfium, pdf_by_pypdf, pdfium, svg_by_svgelements, svg_by_xml
from strategies import jobs

from storystick.cli import main
from storystick.drawing.shapes import Box, Line, Text
from storystick.drawing.strip import draw_strip, strips_of
from storystick.drawing.strip_bands import white_stretches
from storystick.drawing.window import Window
from storystick.job.job import Job
from storystick.laying_out import lay_out, load
from storystick.printing import planned_files
from storystick.sheets.strips import plan_strips

INCH_MM: Final = Fraction(254, 10)
TOLERANCE_MM: Final = 0.001
SAME_MM: Final = {pdf_by_pypdf: 1e-6, pdf_by_pdfium: 2e-4, svg_by_xml: 1e-6, svg_by_svgelements: 1e-6}
"""How alike two positions are that are the same: pdfium holds them in single precision."""

BAND_MM: Final = 12.0
AROUND_MM: Final = 10.0
SCHEMA: Final = json.loads((Path(__file__).parent.parent / "shared" / "job.schema.json").read_text("utf-8"))


@dataclass(frozen=True)
class Wrapped:
    """A job with one pair, and in mm from its datum what the figures of the job make of it, worked out here anew."""

    text: str
    wrap: Fraction
    parts: tuple[tuple[Fraction, Fraction], ...]
    grooves: tuple[tuple[Fraction, Fraction], ...]
    lines: tuple[Fraction, ...]
    length: Fraction


def laid(thickness: Fraction, openings: list[Fraction]) -> tuple[tuple[Fraction, Fraction], ...]:
    """Parts of one thickness, an opening after each."""
    at, found = Fraction(0), []
    for opening in openings:
        found.append((at, at + thickness))
        at += thickness + opening
    return tuple(found)


PLY_MM: Final = Fraction("18.3")
SHELF_MM: Final = (700 - 3 * PLY_MM - 300) / 2
MM: Final = Wrapped(
    """
    title = "Folded"
    units = "mm"
    wrap = 20
    [stock]
    ply = 18.3
    [joint.shelf]
    kind = "housing"
    depth = 6
    [[stick]]
    name = "Side"
    length = 700
    pair = true
    order = [
      { part = "ply", joint = "shelf" }, { opening = 300 },
      { part = "ply", joint = "shelf" }, { opening = "equal" },
      { part = "ply", joint = "shelf" }, { opening = "equal" },
    ]
    holes = { first = 60, pitch = 32, count = 4, name = "pins" }
    """,
    Fraction(20),
    laid(PLY_MM, [Fraction(300), SHELF_MM, SHELF_MM]),
    laid(PLY_MM, [Fraction(300), SHELF_MM, SHELF_MM]),
    (*(Fraction(60 + 32 * count) for count in range(4)), Fraction(700)),
    Fraction(700),
)
PLY_INCH: Final = Fraction(23, 32) * INCH_MM
BIN_INCH: Final = (24 * INCH_MM - 4 * PLY_INCH) / 3
INCH: Final = Wrapped(
    """
    title = "Folded"
    units = "inch"
    wrap = "3/4"
    [stock]
    ply = "23/32"
    [joint.shelf]
    kind = "tongue"
    width = "1/4"
    depth = "1/4"
    set = "1/128"
    [[stick]]
    name = "Side"
    length = 24
    pair = true
    part = "ply"
    joint = "shelf"
    openings = ["equal", "equal", "equal"]
    centre = 10
    """,
    Fraction(3, 4) * INCH_MM,
    laid(PLY_INCH, [BIN_INCH, BIN_INCH, BIN_INCH, Fraction(0)]),
    tuple(
        (start + INCH_MM / 128, start + INCH_MM / 128 + INCH_MM / 4)
        for start, _ in laid(PLY_INCH, [BIN_INCH] * 3 + [Fraction(0)])
    ),
    (10 * INCH_MM,),
    24 * INCH_MM,
)
ALONG, ACROSS = Fraction("1.0123"), Fraction(197, 200)
SHOP: Final = f'units = "mm"\n[printer.office]\nalong = "{float(ALONG)}"\nacross = "{ACROSS}"\n'

each_job = pytest.mark.parametrize("wrapped", [MM, INCH], ids=["mm", "inch"])
each_pdf_reader = pytest.mark.parametrize("reader", [pdf_by_pypdf, pdf_by_pdfium], ids=["pypdf", "pdfium"])
each_printer = pytest.mark.parametrize("printer", [None, "office"], ids=["true", "corrected"])


@dataclass(frozen=True)
class Seen:
    """A tile of the listing with the ink that lies on it, both as drawn; ``up`` is what heights are drawn times."""

    listing: dict[str, Any]
    ink: Ink

    @property
    def up(self) -> float:
        return float(self.listing["scale_y"])

    @property
    def fold(self) -> float:
        return float(self.listing["y_mm"])

    @property
    def foot(self) -> float:
        """The height of the outer edge, that lies on the work."""
        return self.fold - float(self.listing["wrap_mm"]) * self.up

    def x(self, station: Fraction) -> float:
        listing = self.listing
        along = (float(station) - listing["start_mm"]) * listing["scale_x"]
        return float(listing["x_mm"] + listing["direction"] * along)

    @property
    def ends(self) -> tuple[float, float]:
        left, right = sorted(self.x(Fraction(self.listing[key])) for key in ("start_mm", "end_mm"))
        return left, right

    def stretches(self, spans: tuple[tuple[Fraction, Fraction], ...]) -> list[list[float]]:
        """What shows of some spans, as left and right on the page."""
        low, high = Fraction(self.listing["start_mm"]), Fraction(self.listing["end_mm"])
        shown = [(max(start, low), min(end, high)) for start, end in spans if start < high and end > low]
        return sorted(sorted(map(self.x, stretch)) for stretch in shown)

    def on_it(self, left: float, right: float) -> bool:
        low, high = self.ends
        return low - TOLERANCE_MM <= left and right <= high + TOLERANCE_MM

    def boxes(self, bottom: float, top: float, grey: bool) -> list[Rect]:
        """The bands, or the black boxes, that lie exactly between two heights."""
        return sorted(
            box
            for box in self.ink.boxes
            if (box.grey > 0.5) is grey
            and self.on_it(box.left, box.right)
            and (box.bottom, box.top) == pytest.approx((bottom, top), abs=TOLERANCE_MM)
        )

    @property
    def strokes(self) -> list[Stroke]:
        """The strokes at the tile's own height: other tiles of the sheet lie above or below it."""
        low, high = self.foot - 1, self.fold + self.listing["height_mm"] * self.up + 1
        return [stroke for stroke in self.ink.strokes if all(low < y < high for _, y in (stroke.start, stroke.end))]

    @property
    def above(self) -> list[Rect]:
        return self.boxes(self.fold, self.fold + BAND_MM * self.up, grey=True)

    @property
    def below(self) -> list[Rect]:
        return self.boxes(self.foot, self.fold, grey=True)


def run(*words: str) -> str:
    result = CliRunner().invoke(main, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout


def tiles_of(text: str, folder: Path, reader: Any, printer: str | None = None) -> list[Seen]:
    """Every tile of a printed job; with a printer, as drawn for it."""
    (folder / "job.toml").write_text(text, encoding="utf-8")
    (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    options = ["--printer", printer] if printer else []
    run("print", str(folder / "job.toml"), "-o", str(folder / "out"), *options)
    sheets = json.loads(run("pages", str(folder / "job.toml"), "--format", "json", *options))["sheets"]
    data = (folder / "out" / "strips.pdf").read_bytes()
    inks = {sheet["page"]: reader(data, sheet["page"] - 1) for sheet in sheets}
    return [Seen(tile, inks[sheet["page"]]) for sheet in sheets for tile in sheet["tiles"]]


def in_one_piece(wrapped: Wrapped, folder: Path, reader: Any, hand: str) -> Seen:
    (folder / "job.toml").write_text(wrapped.text, encoding="utf-8")
    run("print", str(folder / "job.toml"), "-o", str(folder / "out"), "--format", "svg")
    ink = reader((folder / "out" / f"strip-side-{hand}-hand.svg").read_bytes())
    length, wrap = float(wrapped.length), float(wrapped.wrap)
    place = {"x_mm": AROUND_MM, "direction": 1} if hand == "left" else {"x_mm": AROUND_MM + length, "direction": -1}
    listing = {"start_mm": 0.0, "end_mm": length, "y_mm": AROUND_MM + wrap, "wrap_mm": wrap}
    return Seen({**listing, **place, "scale_x": 1.0, "scale_y": 1.0}, ink)


def assert_continues(tile: Seen, wrapped: Wrapped, same: float) -> None:
    """Every part's band is above and below the fold, at its exact place, and with the same edges on both sides."""
    wanted = tile.stretches(wrapped.parts)
    for bands in (tile.above, tile.below):
        assert [[box.left, box.right] for box in bands] == [pytest.approx(part, abs=TOLERANCE_MM) for part in wanted]
    for above, below in zip(tile.above, tile.below, strict=True):
        assert (above.left, above.right) == pytest.approx((below.left, below.right), abs=same)
    black = tile.boxes(tile.foot, tile.fold, grey=False)
    for left, right in tile.stretches(wrapped.parts):
        inside = [box for box in black if left - same <= box.left and box.right <= right + same]
        low, high = tile.ends
        own = [edge for edge in (left, right) if low + TOLERANCE_MM < edge < high - TOLERANCE_MM]
        for edge in own:
            assert min(min(abs(box.left - edge), abs(box.right - edge)) for box in inside) <= same


def edges(tile: Seen) -> list[float]:
    return [edge for box in tile.above for edge in (box.left, box.right)]


def extent(stroke: Stroke) -> tuple[float, float, float, float]:
    """The rectangle of a level or upright stroke's ink."""
    (x1, y1), (x2, y2), half = stroke.start, stroke.end, stroke.width / 2
    across, up = (0.0, half) if y1 == y2 else (half, 0.0)
    return min(x1, x2) - across, min(y1, y2) - up, max(x1, x2) + across, max(y1, y2) + up


def crossing(tile: Seen, wrapped: Wrapped) -> Iterator[Stroke]:
    """Strokes that lie over an edge of a band, other than the fine lines of the job's own positions."""
    own = [tile.x(station) for station in wrapped.lines]
    for stroke in tile.ink.strokes:
        left, bottom, right, top = extent(stroke)
        upright = stroke.start[0] == stroke.end[0]
        if upright and any(abs(stroke.start[0] - x) < TOLERANCE_MM for x in own):
            continue
        beside = top < tile.foot + TOLERANCE_MM or bottom > tile.fold + BAND_MM * tile.up - TOLERANCE_MM
        if not beside and any(left < edge < right for edge in edges(tile)):
            yield stroke


@each_job
@each_pdf_reader
@each_printer
def test_every_band_goes_on_over_the_fold_with_the_same_edges(
    wrapped: Wrapped, reader: Any, printer: str | None, tmp_path: Path
) -> None:
    tiles = tiles_of(wrapped.text, tmp_path, reader, printer)
    assert len(tiles) > 4
    assert {tile.listing["scale_y"] for tile in tiles} == {float(ACROSS) if printer else 1.0}
    for tile in tiles:
        assert tile.listing["wrap_mm"] == float(wrapped.wrap)
        assert_continues(tile, wrapped, SAME_MM[reader])
    assert sum(len(tile.below) for tile in tiles) >= 2 * len(wrapped.parts)


@each_job
@pytest.mark.parametrize("reader", [svg_by_xml, svg_by_svgelements], ids=["xml", "svgelements"])
@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_strip_in_one_piece_is_wrapped_too(wrapped: Wrapped, reader: Any, hand: str, tmp_path: Path) -> None:
    strip = in_one_piece(wrapped, tmp_path, reader, hand)
    assert len(strip.below) == len(wrapped.parts)
    assert_continues(strip, wrapped, SAME_MM[reader])
    assert list(crossing(strip, wrapped)) == []
    assert {round(label.start[1], 3) for label in strip.ink.labels if label.text == "FOLD"} <= {
        round(strip.fold - 3.4, 3)
    }


@each_job
@each_printer
def test_no_stroke_crosses_an_edge_of_a_band(wrapped: Wrapped, printer: str | None, tmp_path: Path) -> None:
    for tile in tiles_of(wrapped.text, tmp_path, pdf_by_pypdf, printer):
        assert list(crossing(tile, wrapped)) == []


@each_job
def test_grooves_and_fine_lines_run_down_to_the_work(wrapped: Wrapped, tmp_path: Path) -> None:
    found = 0
    for tile in tiles_of(wrapped.text, tmp_path, pdf_by_pypdf):
        blocks = [
            [box.left, box.right]
            for box in tile.ink.boxes
            if box.grey < 0.01 and abs(box.bottom - tile.foot) < TOLERANCE_MM and box.top < tile.fold - 1
        ]
        shown = [block for block in blocks if tile.on_it(*block)]
        wanted = tile.stretches(wrapped.grooves)
        assert sorted(shown) == [pytest.approx(groove, abs=TOLERANCE_MM) for groove in wanted]
        for station in wrapped.lines:
            if tile.listing["start_mm"] <= station <= tile.listing["end_mm"]:
                x = tile.x(station)
                down = [stroke for stroke in tile.strokes if abs(stroke.start[0] - x) + abs(stroke.end[0] - x) < 1e-6]
                low = min((min(stroke.start[1], stroke.end[1]) for stroke in down if stroke.width > 0.15), default=0.0)
                assert low == pytest.approx(tile.foot, abs=TOLERANCE_MM)
                found += 1
    assert found == 2 * len(wrapped.lines)


def test_a_groove_close_to_the_edge_of_its_part_stays_apart_from_it(tmp_path: Path) -> None:
    """The groove of the job in inches begins 1/128 in, 0.2 mm, beyond its part's edge: a black end is wider."""
    strip = in_one_piece(INCH, tmp_path, svg_by_xml, "left")
    for (start, _), (near, _) in zip(INCH.parts, INCH.grooves, strict=True):
        ends = [
            box.right
            for box in strip.boxes(strip.foot, strip.fold, grey=False)
            if abs(box.left - strip.x(start)) < TOLERANCE_MM
        ]
        assert len(ends) == 1
        assert strip.x(start) < ends[0] < strip.x(near) - 0.05


@each_job
def test_the_fold_is_dashed_over_openings_only_with_ticks_beyond_both_ends(wrapped: Wrapped, tmp_path: Path) -> None:
    for tile in tiles_of(wrapped.text, tmp_path, pdf_by_pypdf):
        left, right = tile.ends
        level = [
            stroke
            for stroke in tile.strokes
            if abs(stroke.start[1] - tile.fold) + abs(stroke.end[1] - tile.fold) < 1e-6
            and left - 8 < min(stroke.start[0], stroke.end[0]) < right + 1
        ]
        inner = [stroke for stroke in level if tile.on_it(*sorted((stroke.start[0], stroke.end[0])))]
        outer = [stroke for stroke in level if stroke not in inner]
        assert inner
        assert all(stroke.dash for stroke in inner)
        for stroke in inner:
            low, high = sorted((stroke.start[0], stroke.end[0]))
            assert all(high <= box.left - 0.5 or low >= box.right + 0.5 for box in tile.above)
            assert all(not low - 0.5 < tile.x(station) < high + 0.5 for station in wrapped.lines)
        sides = sorted(max(stroke.start[0], stroke.end[0]) < left + TOLERANCE_MM for stroke in outer)
        assert sides == [False, True]
        ticks = [abs(stroke.start[0] - stroke.end[0]) for stroke in outer]
        assert min(ticks) > 2


@each_job
def test_tiles_are_cut_out_below_the_fold_and_joined_over_it(wrapped: Wrapped, tmp_path: Path) -> None:
    tiles = tiles_of(wrapped.text, tmp_path, pdf_by_pypdf)
    marks: dict[tuple[str, float], list[list[float]]] = {}
    for tile in tiles:
        left, right = tile.ends
        cuts = [
            stroke
            for stroke in tile.strokes
            if stroke.start[1] == stroke.end[1]
            and sorted((stroke.start[0], stroke.end[0])) == pytest.approx([left, right], abs=1e-6)
        ]
        assert min(stroke.start[1] for stroke in cuts) == pytest.approx(tile.foot - 0.15, abs=1e-6)
        for end in ("start_mm", "end_mm"):
            x = tile.x(Fraction(tile.listing[end]))
            heights = sorted(
                stroke.start[1] - tile.fold
                for stroke in tile.strokes
                if stroke.start[1] == stroke.end[1]
                and stroke.width == pytest.approx(0.2)
                and min(stroke.start[0], stroke.end[0]) - 1e-6 <= x <= max(stroke.start[0], stroke.end[0]) + 1e-6
                and tile.foot < stroke.start[1] < tile.fold + tile.listing["height_mm"]
            )
            if 0 < tile.listing[end] < float(wrapped.length):
                marks.setdefault((tile.listing["hand"], tile.listing[end]), []).append(heights)
    assert marks
    for here, there in marks.values():
        assert here == pytest.approx(there, abs=1e-6)
        assert any(height < -3 for height in here)
        assert any(height > 0 for height in here)


@each_job
def test_no_dot_of_a_wrapped_tile_is_beyond_its_bands(wrapped: Wrapped, tmp_path: Path) -> None:
    """At 600 dots an inch, above and below the fold."""
    dot = 25.4 / 600
    tile = tiles_of(wrapped.text, tmp_path, pdf_by_pypdf)[0]
    with pdfium((tmp_path / "out" / "strips.pdf").read_bytes()) as pdf:
        dots = pdf[0].render(scale=600 / 72).to_numpy()[:, :, 0] < 250
    down, across = (size / count for size, count in zip((tile.ink.height, tile.ink.width), dots.shape, strict=True))
    left, right = (round(end / across) for end in tile.ends)
    wanted = tile.stretches(wrapped.parts)
    assert wanted
    for height in (tile.fold + 0.8, tile.fold - 0.8, tile.foot + 4.5):
        row = round((tile.ink.height - height) / down)
        ink = np.flatnonzero(dots[row, left:right]) + left
        runs = np.split(ink, np.flatnonzero(np.diff(ink) > 1) + 1)
        wide = [[run[0] * across, (run[-1] + 1) * across] for run in runs if len(run) > 12]
        assert wide == [pytest.approx(part, abs=dot) for part in wanted]


@pytest.mark.parametrize(
    ("text", "margin"),
    [(MM.text, 10.0), (MM.text.replace("wrap = 20", "wrap = 138"), 10.0), (INCH.text, 9.5)],
    ids=["mm", "as wide as a sheet holds", "inch"],
)
def test_sheets_hold_wrapped_tiles_within_their_margins_and_apart(text: str, margin: float, tmp_path: Path) -> None:
    tiles = tiles_of(text, tmp_path, pdf_by_pypdf)
    for tile in tiles:
        ink = tile.ink
        xs = [x for stroke in ink.strokes for x in (stroke.start[0], stroke.end[0])]
        ys = [y for stroke in ink.strokes for y in (stroke.start[1], stroke.end[1])]
        assert min(xs) >= margin
        assert max(xs) <= ink.width - margin
        assert min(ys) >= margin
        assert max(ys) <= ink.height - margin
        for other in tiles:
            if other is not tile and other.ink is ink and tile.fold <= other.fold:
                above = other.foot >= tile.fold + tile.listing["height_mm"] + 1
                beside = other.ends[0] > tile.ends[1] + 1 or tile.ends[0] > other.ends[1] + 1
                assert above or beside


def test_stick_s_own_wrap_stands_above_the_job_s(tmp_path: Path) -> None:
    text = MM.text.replace("pair = true", "wrap = 12.5") + '[[stick]]\nname = "Plain"\nwrap = 0\npart = "ply"\n'
    text += 'openings = [100]\n[[stick]]\nname = "As the job says"\npart = "ply"\nopenings = [100]\n'
    tiles = tiles_of(text, tmp_path, pdf_by_pdfium)
    wraps = {tile.listing["stick"]: tile.listing["wrap_mm"] for tile in tiles}
    assert wraps == {"Side": 12.5, "Plain": 0.0, "As the job says": 20.0}
    (plain,) = (tile for tile in tiles if tile.listing["stick"] == "Plain")
    left, right = plain.ends
    below = [
        stroke
        for stroke in plain.ink.strokes
        if left - 1 < stroke.start[0] < right + 1
        and stroke.start[1] == stroke.end[1]
        and plain.fold - 1.8 < max(stroke.start[1], stroke.end[1]) < plain.fold - 1  # The next tile is 2 below.
    ]
    assert below == []


def test_sticks_of_a_cabinet_are_wrapped_as_the_job_says() -> None:
    text = 'units = "mm"\nwrap = 15\nstock = { ply = 18 }\n[[cabinet]]\nheight = 700\nwidth = 500\ndepth = 300\n'
    job = read_well(text + 'carcass = "ply"\nopenings = [200, "equal"]\n')
    strips = strips_of(lay_out(job))
    assert len(strips) >= 2
    assert {strip.wrap for strip in strips} == {15}


def test_a_wrap_changes_nothing_above_the_marking_edge() -> None:
    text = MM.text.replace("wrap = 20", "")
    plain, wrapped = (
        [draw_strip(strip).pieces[0].shapes for strip in strips_of(lay_out(read_well(each)))]
        for each in (text, MM.text)
    )
    for without, with_wrap in zip(plain, wrapped, strict=True):
        digests = {shape.text for shape in without if isinstance(shape, Text)} ^ {
            shape.text for shape in with_wrap if isinstance(shape, Text)
        }
        assert len(digests) == 3  # the headline of either version, with its digest, and FOLD
        kept = [shape for shape in without if not isinstance(shape, Text)]
        assert [shape for shape in with_wrap if not isinstance(shape, Text)][: len(kept)] == kept


@pytest.mark.parametrize(("wrap", "said"), [("160", True), ("100", False)])
def test_wrap_that_no_sheet_holds_is_a_fault_that_says_so(wrap: str, said: bool, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(MM.text.replace("wrap = 20", f"wrap = {wrap}"), encoding="utf-8")
    result = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml")], catch_exceptions=False)
    words = " ".join(result.output.split())
    assert (result.exit_code == 1) is said
    assert (
        "that a strip is high with its wrap. Choose a larger paper or smaller margins, or a narrower wrap" in words
    ) is said


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("wrap = -1", "job.toml, wrap: -1 is less than 0, which is not allowed here."),
        ('wrap = "wide"', 'job.toml, wrap: "wide" is not a length'),
        ("warp = 20", 'job.toml: "warp" is not a key here; try "wrap"'),
    ],
)
def test_a_wrap_that_cannot_be_read_is_a_fault(line: str, sentence: str) -> None:
    _, faults = read(MM.text.replace("wrap = 20", line))
    assert len(faults) == 1
    assert faults[0].startswith(sentence)


def test_schema_knows_a_wrap() -> None:
    validator = jsonschema.Draft202012Validator(SCHEMA)
    stick = {"name": "Side", "part": "ply", "openings": [100], "wrap": "3/4"}
    assert validator.is_valid({"units": "inch", "wrap": 0, "stick": [stick]})
    assert not validator.is_valid({"units": "inch", "wrap": -1, "stick": [stick]})
    assert not validator.is_valid({"units": "inch", "stick": [stick | {"wrap": [1]}]})


def test_job_sheet_says_how_to_fold_only_where_something_is_folded(tmp_path: Path) -> None:
    for text, folded in ((MM.text, True), (MM.text.replace("wrap = 20", ""), False)):
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        pages = planned_files(load(tmp_path / "job.toml"))["job-sheet.pdf"].draw()
        words = " ".join(shape.text for page in pages for shape in page.shapes if isinstance(shape, Text))
        for wanted in ("4  Fold", "along the dashes", "the fold without a step"):
            assert (wanted in words) is folded


def wrapped_jobs() -> st.SearchStrategy[Job]:
    """Any job, with a wrap from too narrow for a register mark to one of two inches."""
    wraps = st.integers(1, 50).map(Fraction)
    return st.builds(lambda job, wrap: replace(job, wrap=wrap), jobs(), wraps)


@given(wrapped_jobs())
def test_whatever_is_wrapped_has_its_bands_twice_and_its_fold_clear_of_them(job: Job) -> None:
    for _, placed in plan_strips(strips_of(lay_out(job)), job).in_gluing_order():
        shapes, wrap = placed.tile.piece.shapes, float(job.wrap)
        grey = [shape for shape in shapes if isinstance(shape, Box) and shape.grey]
        above = [(box.x, box.width) for box in grey if box.y == 0]
        below = [(box.x, box.width) for box in grey if box.y == -wrap]
        assert below == above
        for shape in shapes:
            if isinstance(shape, Line) and shape.y1 == shape.y2 == 0:
                assert shape.dash_mm
                assert all(shape.x2 < x or shape.x1 > x + width for x, width in above)
        boxes = text_boxes(shapes)
        assert colliding(boxes) == []
        for word in (box for box in boxes if box.text == "FOLD"):
            assert 0 <= word.left < word.right <= placed.tile.window.width
            assert all(word.right < x or word.left > x + width for x, width in below)


def test_fold_is_dashed_only_where_an_opening_leaves_room_for_a_dash() -> None:
    """Openings from 18 to 318 and from 336 to 339: a dash is 2 long, and keeps 0.8 off, which leaves the second 1.4."""
    text = 'units = "mm"\nstock = { ply = 18 }\n[[stick]]\nname = "Side"\npart = "ply"\nopenings = [300, 3]\n'
    (stick,) = lay_out(read_well(text)).sticks
    assert white_stretches(stick, Window(Fraction(0), stick.length, stick.length)) == [(18.8, 317.2)]
