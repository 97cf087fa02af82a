"""Templates of bars and shims: as wide as computed, on paper and in figures, and each of them once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import ROUND_HALF_EVEN, Decimal, localcontext
from fractions import Fraction
from itertools import pairwise
from typing import Any, Final

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lettering_boxes import TextBox, colliding, text_boxes
from readback import READERS, Ink, pdf_by_pdfium, pdf_by_pypdf, pdfium, svg_by_svgelements, svg_by_xml

from storystick.drawing.bar import bar_template, shim_template, write_both
from storystick.drawing.bar_drawing import TemplateDrawing, draw_template
from storystick.drawing.shapes import Line, Text
from storystick.errors import StorystickError
from storystick.job.job import Job
from storystick.job.papers import DEFAULT_MARGIN, DEFAULT_PAPER, PAPERS, Margins, Paper, custom_paper
from storystick.lengths import DEFAULT_STEP, INCH_MM, Units
from storystick.sheets.bars import (
    TEMPLATE_CAUTIONS,
    TemplateSheets,
    TemplateTile,
    plan_templates,
    template_page,
)
from storystick.sheets.document import Document
from storystick.sheets.tiles import PlacedTile
from storystick.tooling.bars import Shim, shims_of
from storystick.tooling.setups import Bar, GrooveSetup, Side
from storystick.writers import writer_for

TOLERANCE_MM: Final = 0.001
DOT_MM: Final = 25.4 / 600
BEFORE_WORDS_MM: Final = 3.5
"""Neither words nor register marks stand so near the left of a piece."""

NEAR_MM: Final = 0.6
"""Nothing else is drawn so close to a template's edges."""


def bar(near: Fraction, name: str = "trim half", measured: Fraction | None = None) -> Bar:
    return Bar(name, "trim", "flat", "1/2", INCH_MM / 2, near, measured)


def job(units: Units = Units.INCH, paper: Paper | None = None) -> Job:
    margin = DEFAULT_MARGIN[units]
    return Job(
        title="Herbarium chest",
        units=units,
        paper=paper or DEFAULT_PAPER[units],
        margins=Margins(margin, margin, margin, margin),
        round_to=DEFAULT_STEP[units],
        sticks=(),
    )


def setup(name: str, *shims: Fraction, stick: str = "Chest side") -> GrooveSetup:
    return GrooveSetup(
        stick=stick,
        name=name,
        start=Fraction(10),
        end=Fraction(28),
        depth=Fraction(6),
        bar=bar(Fraction(70)),
        side=Side.DATUM,
        straightedge=Fraction(-60),
        shims=shims,
        depths=(Fraction(6),),
    )


BARS: Final = (
    bar(INCH_MM * 11 / 4),
    bar(Fraction(82, 3), "palm quarter", Fraction("27.41")),
    bar(INCH_MM / 2, "laminate"),
    bar(INCH_MM * 33 / 8, "a wide one with quite a long name"),
    bar(Fraction(15), "low"),
    bar(Fraction(1000, 7), "widest"),
)
SHIMS: Final = (
    Shim(INCH_MM / 64, ("Divider, pass 2 of 3: shelf 1",)),
    Shim(INCH_MM * 7 / 32, ("Chest side, pass 2 of 2: bottom, shelf 1", "Divider, pass 3 of 3: shelf 1")),
    Shim(Fraction(19), tuple(f"Bank {number}, pass 2 of 2: rail 1, rail 2, rail 3" for number in range(1, 12))),
)
JOBS: Final = {units.value: job(units) for units in Units} | {"one piece": job(paper=PAPERS["A2"])}

each_job = pytest.mark.parametrize("name", JOBS)


def planned(name: str) -> TemplateSheets:
    return plan_templates(BARS, SHIMS, JOBS[name])


def as_pdf(plan: TemplateSheets) -> bytes:
    return writer_for(".pdf")(Document("Templates", "", plan.pages()))


def placed(plan: TemplateSheets) -> Iterator[tuple[int, PlacedTile[TemplateTile]]]:
    return ((sheet.number - 1, tile) for sheet in plan.sheets for tile in sheet.tiles)


def ink_at(ink: Ink, left: float, bottom: float) -> tuple[float, float]:
    """Length and width of the filled area whose lower left corner is there, the largest of them."""
    found = [
        box for box in ink.boxes if abs(box.left - left) < TOLERANCE_MM and abs(box.bottom - bottom) < TOLERANCE_MM
    ]
    return max((box.right - box.left, box.top - box.bottom) for box in found)


def height(drawing: TemplateDrawing) -> float:
    return float(drawing.template.width)


@each_job
@pytest.mark.parametrize("reader", [pdf_by_pypdf, pdf_by_pdfium])
def test_printed_ink_is_as_wide_as_the_bar(name: str, reader: Callable[[bytes, int], Ink]) -> None:
    plan = planned(name)
    data = as_pdf(plan)
    inks = [reader(data, page) for page in range(len(plan.sheets))]
    for page, tile in placed(plan):
        length, width = ink_at(inks[page], tile.left_mm, tile.y_mm)
        window = tile.tile.piece.window
        assert width == pytest.approx(height(tile.tile.drawing), abs=TOLERANCE_MM)
        assert length == pytest.approx(window.width, abs=TOLERANCE_MM)


@each_job
def test_rendered_ink_is_as_wide_as_the_bar_to_a_dot(name: str) -> None:
    plan = planned(name)
    with pdfium(as_pdf(plan)) as document:
        pages = [page.render(scale=600 / 72).to_numpy()[:, :, 0] < 128 for page in document]
    for page, tile in placed(plan):
        bare, width = plan.sheets[page].bare, height(tile.tile.drawing)
        low, high = dark_stretch(pages[page], tile, bare.width_mm, bare.height_mm)
        assert high - low == pytest.approx(width, abs=DOT_MM + TOLERANCE_MM)
        assert (low, high) == pytest.approx((tile.y_mm, tile.y_mm + width), abs=DOT_MM + TOLERANCE_MM)


def dark_stretch(
    dots: Any, tile: PlacedTile[TemplateTile], page_width: float, page_height: float
) -> tuple[float, float]:
    """From where to where, in mm from the page's lower edge, a column of dots is dark at a template and close to it."""
    # A page that is not a whole number of dots is stretched to the next one.
    down, across = page_height / len(dots), page_width / len(dots[0])
    top, bottom = page_height - tile.y_mm - height(tile.tile.drawing), page_height - tile.y_mm
    first = round((top - NEAR_MM) / down)
    column = dots[first : round((bottom + NEAR_MM) / down), round((tile.left_mm + BEFORE_WORDS_MM) / across)]
    dark = np.flatnonzero(column) + first
    return page_height - (dark[-1] + 1) * down, page_height - dark[0] * down


@pytest.mark.parametrize("wanted", [*BARS, *SHIMS])
@pytest.mark.parametrize("read", [svg_by_xml, svg_by_svgelements])
def test_svg_has_the_bar_whole_from_its_lower_left_corner(
    wanted: Bar | Shim, read: Callable[[bytes, int], Ink]
) -> None:
    page = template_page(wanted, job().figures)
    ink = read(writer_for(".svg")(Document("", "", (page,))), 0)
    length, width = ink_at(ink, -page.left_mm, -page.bottom_mm)
    exact = wanted.used if isinstance(wanted, Bar) else wanted.width
    assert width == pytest.approx(float(exact), abs=TOLERANCE_MM)
    assert length >= 2.5 * width


def test_readers_are_those_of_the_other_prints() -> None:
    assert {pdf_by_pypdf, pdf_by_pdfium, svg_by_xml, svg_by_svgelements} == {reader for _, reader in READERS.values()}


@given(st.fractions(min_value=0, max_value=500, max_denominator=10**6))
def test_figures_are_rounded_once_from_the_exact_width(width: Fraction) -> None:
    with localcontext(prec=200):
        inches, mm = (Decimal(exact.numerator) / exact.denominator for exact in (width / INCH_MM, width))
        expected = (
            inches.quantize(Decimal("0.001"), ROUND_HALF_EVEN),
            mm.quantize(Decimal("0.01"), ROUND_HALF_EVEN),
        )
    assert write_both(width) == f"{expected[0]} in · {expected[1]} mm"


@pytest.mark.parametrize(
    ("width", "figures"),
    [
        (INCH_MM * 11 / 4, "2.750 in · 69.85 mm"),
        (INCH_MM * Fraction("0.0625"), "0.062 in · 1.59 mm"),
        (INCH_MM * Fraction("0.1875"), "0.188 in · 4.76 mm"),
        (Fraction("10.005"), "0.394 in · 10.00 mm"),
        (Fraction("10.015"), "0.394 in · 10.02 mm"),
    ],
)
def test_figures_of_ties_end_even(width: Fraction, figures: str) -> None:
    assert write_both(width) == figures


def test_measured_width_is_what_is_drawn_and_said() -> None:
    template = bar_template(bar(Fraction(70), measured=Fraction("70.2")), job(Units.MM).figures)
    assert template.width == Fraction("70.2")
    assert template.figures == "2.764 in · 70.20 mm, measured"
    assert bar_template(bar(Fraction(70)), job(Units.MM).figures).figures == "2.756 in · 70.00 mm, computed"


@pytest.mark.parametrize(
    ("width", "units", "length"),
    [
        (Fraction(70), Units.MM, Fraction(300)),
        (Fraction(70), Units.INCH, 12 * INCH_MM),
        (Fraction(121), Units.MM, Fraction(310)),
        (5 * INCH_MM, Units.INCH, 13 * INCH_MM),
    ],
)
def test_bar_is_long_enough_for_its_width(width: Fraction, units: Units, length: Fraction) -> None:
    assert bar_template(bar(width), job(units).figures).length == length


@pytest.mark.parametrize("width", [Fraction(tenths, 10) for tenths in range(2, 1500, 7)])
@pytest.mark.parametrize("seams", [(), (Fraction(200),), (Fraction(100), Fraction(200))])
def test_words_stand_on_the_bar_or_beside_it(width: Fraction, seams: tuple[Fraction, ...]) -> None:
    for template in (
        bar_template(bar(width), job(Units.MM).figures),
        shim_template(Shim(width, SHIMS[2].serves), job(Units.MM).figures),
    ):
        drawing = draw_template(template, job(Units.MM).figures, seams)
        for piece in drawing.pieces:
            boxes = text_boxes(piece.shapes)
            assert not colliding(boxes)
            assert all(clear_of_edges(box, float(width)) for box in boxes)
            assert all(box.left > 2.6 and box.right < piece.window.width - 2.6 for box in boxes)
            assert all(drawing.bottom_mm < box.bottom and box.top < drawing.top_mm for box in boxes)
            assert min(text.size_pt for text in piece.shapes if isinstance(text, Text)) >= 8


def clear_of_edges(box: TextBox, width: float) -> bool:
    return box.top < -0.3 or box.bottom > width + 0.3 or (box.bottom > 0.35 and box.top < width - 0.35)


def test_words_stand_beside_a_bar_that_is_too_narrow_alone() -> None:
    beside = [
        draw_template(bar_template(bar(Fraction(w)), job().figures), job().figures).bottom_mm < 0
        for w in (5, 13, 15, 30, 70)
    ]
    assert beside == [True, True, True, False, False]


@pytest.mark.parametrize("wanted", [*BARS, *SHIMS])
def test_no_stroke_crosses_an_edge(wanted: Bar | Shim) -> None:
    page = template_page(wanted, job().figures)
    width = float(wanted.used if isinstance(wanted, Bar) else wanted.width)
    for line in (shape for shape in page.shapes if isinstance(shape, Line)):
        low, high = sorted((line.y1, line.y2))
        spread = line.width_mm / 2 if line.y1 == line.y2 else 0.0
        outside_ends = max(line.x1, line.x2) < -0.3 or min(line.x1, line.x2) > 300
        assert outside_ends or not any(low - spread < edge < high + spread for edge in (0.0, width))


@each_job
def test_nothing_on_a_sheet_is_in_the_way_of_anything_else(name: str) -> None:
    for page in planned(name).pages():
        boxes = text_boxes(page.shapes)
        assert not colliding(boxes)
        assert all(box.left > 0 and box.right < page.width_mm for box in boxes)


def test_bar_longer_than_the_sheet_is_tiled() -> None:
    plan = plan_templates([BARS[0]], [], job())
    (drawing,) = (template.drawing for template in plan.things)
    windows = [piece.window for piece in drawing.pieces]
    assert all(one.end == other.start for one, other in pairwise(windows))
    assert windows[-1].end == drawing.template.length == 12 * INCH_MM
    assert [float(window.start / INCH_MM) for window in windows] == [0.0, 8.0]
    words = [text.text for piece in drawing.pieces for text in piece.shapes if isinstance(text, Text)]
    assert [text for text in words if text.startswith("tile")] == ["tile 1 of 2, 0 to 8 in", "tile 2 of 2, 8 to 12 in"]


def test_tiles_meet_at_the_same_register_marks() -> None:
    plan = plan_templates([BARS[0]], [], job())
    first, second = (tile.tile for _, tile in placed(plan))
    seam = first.piece.window.width
    heights = [
        {line.y1 for line in tile.draw() if isinstance(line, Line) and line.y1 == line.y2 and line.x1 <= x < line.x2}
        & set(tile.drawing.register_mm)
        for tile, x in ((first, seam), (second, 0.0))
    ]
    assert heights[0] == heights[1] == set(first.drawing.register_mm)


def test_sheet_that_is_long_enough_takes_a_bar_whole() -> None:
    assert [len(template.tiles) for template in planned("one piece").things] == [1] * len(BARS + SHIMS)


def test_each_is_printed_once() -> None:
    shims = (Shim(Fraction(5), ("A, pass 2 of 2: a",)), Shim(Fraction(5), ("B, pass 2 of 2: b",)))
    plan = plan_templates([BARS[0], BARS[1], BARS[0]], shims, job(Units.MM))
    templates = [template.drawing.template for template in plan.things]
    assert [template.title for template in templates] == ["Bar trim half", "Bar palm quarter", "Shim 5"]
    assert templates[2].uses == ("between straightedge and base", "A, pass 2 of 2: a", "B, pass 2 of 2: b")


def test_shims_are_gathered_exactly_and_by_width() -> None:
    narrow, wide = Fraction(1, 3), Fraction(2, 3)
    setups = (
        setup("bottom", Fraction(0), wide),
        setup("shelf 1", Fraction(0), wide),
        setup("shelf 1", Fraction(0), wide),
        setup("top", Fraction(0), narrow, wide, stick="Divider"),
        setup("back", Fraction(0)),
    )
    assert shims_of(setups) == (
        Shim(narrow, ("Divider, pass 2 of 3: top",)),
        Shim(wide, ("Chest side, pass 2 of 2: bottom, shelf 1", "Divider, pass 3 of 3: top")),
    )


def test_no_shims_and_no_bars_make_no_sheets() -> None:
    assert shims_of([]) == ()
    assert plan_templates([], [], job()).pages() == ()


def test_shim_has_a_width() -> None:
    with pytest.raises(ValueError, match="wider than nothing"):
        Shim(Fraction(0), ())


def test_pages_are_numbered_and_in_the_outline() -> None:
    pages = planned("inch").pages()
    assert [page.label for page in pages] == [f"bars {number}" for number in range(1, len(pages) + 1)]
    marks = [mark for page in pages for mark in page.bookmarks]
    assert marks[0] == "Bars and shims"
    assert sorted(marks[1:]) == sorted(template.drawing.template.title for template in planned("inch").things)


@each_job
def test_every_sheet_says_the_cautions_the_digest_and_its_number(name: str) -> None:
    for number, page in enumerate(planned(name).pages(), start=1):
        words = " ".join(shape.text for shape in page.shapes if isinstance(shape, Text) and shape.text != "!")
        assert all(caution in words for caution in TEMPLATE_CAUTIONS)
        assert f"{JOBS[name].digest} · bars and shims, sheet {number} of" in words
        assert "print at 100 %" in words


@pytest.mark.parametrize(
    ("wanted", "paper", "message"),
    [
        (bar(Fraction(170), "huge"), PAPERS["A4"], "less than the 174 that the template of Bar huge is high"),
        (bar(Fraction(40)), custom_paper(Fraction(130), Fraction(120), "card"), "for the length of a tile"),
        (bar(Fraction(40), "漢"), PAPERS["A4"], "has letters that cannot be printed: 漢"),
    ],
)
def test_what_cannot_be_printed_is_a_fault(wanted: Bar, paper: Paper, message: str) -> None:
    with pytest.raises(StorystickError) as raised:
        plan_templates([wanted], [], job(Units.MM, paper))
    assert message in str(raised.value)
