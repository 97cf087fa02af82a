"""Strips in one piece as a browser and a second renderer draw them: full size, with every part edge in its place."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from pathlib import Path
from typing import Final

import pytest
from pictures import SVG_RENDERERS, Picture
from programs import said
from readback import svg_by_xml

from storystick import load, print_job

AROUND_MM: Final = 10.0
"""A strip in one piece lies this far from the left and the lower edge of its drawing."""

JOBS: Final = {
    "mm": """
        title = "Wall shelf"
        units = "mm"
        [stock]
        birch = 18.3
        [[stick]]
        name = "Side"
        length = 700
        pair = true
        part = "birch"
        openings = ["equal", "equal", "equal"]
        """,
    "inch": """
        title = "Wall shelf"
        units = "inch"
        [stock]
        ply = "23/32"
        [[stick]]
        name = "Side"
        pair = true
        part = "ply"
        openings = ["9 1/3", "8", "6 5/7"]
        """,
}


@dataclass(frozen=True)
class Strip:
    """A strip's file, with the places of its part edges in mm from the datum."""

    file: Path
    edges: list[Fraction]
    hand: str

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in mm, as the file states them."""
        ink = svg_by_xml(self.file.read_bytes())
        return ink.width, ink.height


def exact_edges(units: str) -> list[Fraction]:
    """Where every part begins and ends, in mm from the datum, worked out from the figures of the job."""
    birch, ply = Fraction("18.3"), Fraction(23, 32)
    third = (700 - 4 * birch) / 3
    sizes = {
        "mm": [birch, third, birch, third, birch, third, birch],
        "inch": [ply, 9 + Fraction(1, 3), ply, Fraction(8), ply, 6 + Fraction(5, 7), ply],
    }
    unit_mm = {"mm": Fraction(1), "inch": Fraction(127, 5)}[units]
    return [edge * unit_mm for edge in accumulate(sizes[units], initial=Fraction(0))]


@pytest.fixture(scope="module", params=[("mm", "left"), ("inch", "right")], ids="-".join)
def strip(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Strip:
    units, hand = request.param
    folder = tmp_path_factory.mktemp(units)
    (folder / "job.toml").write_text(JOBS[units], encoding="utf-8")
    print_job(load(folder / "job.toml"), folder)
    return Strip(folder / f"strip-side-{hand}-hand.svg", exact_edges(units), hand)


@pytest.fixture(scope="module", params=SVG_RENDERERS)
def drawn(request: pytest.FixtureRequest, strip: Strip) -> Picture:
    return SVG_RENDERERS[request.param](strip.file)


def test_drawing_is_full_size_to_the_dot(drawn: Picture, strip: Strip) -> None:
    rows, columns = drawn.grey.shape
    width, height = strip.size
    assert columns == pytest.approx(width * drawn.dots_per_mm, abs=1)
    assert rows == pytest.approx(height * drawn.dots_per_mm, abs=1)
    assert width == pytest.approx(float(strip.edges[-1]) + 2 * AROUND_MM, abs=1e-9)


def test_every_part_edge_is_within_a_dot_of_its_place(drawn: Picture, strip: Strip) -> None:
    width, _ = strip.size
    bottom, top = AROUND_MM + 0.15, AROUND_MM + 0.5
    found = [edge for stretch in drawn.wide_stretches(0, width, bottom, top) for edge in stretch]
    exact = [float(edge) for edge in strip.edges]
    places = [AROUND_MM + x for x in exact] if strip.hand == "left" else [width - AROUND_MM - x for x in exact]
    assert sorted(found) == [pytest.approx(place, abs=1 / drawn.dots_per_mm) for place in sorted(places)]


def test_browser_shows_a_long_strip_full_size_both_ways(tmp_path: Path) -> None:
    """By the browser's own account of how many of its pixels, of 1/96 in (CSS Values 4, 6.2), a mm takes."""
    job = JOBS["mm"].replace("length = 700", "length = 2400").replace("pair = true", "")
    (tmp_path / "job.toml").write_text(job, encoding="utf-8")
    print_job(load(tmp_path / "job.toml"), tmp_path)
    svg = tmp_path / "strip-side.svg"
    ink = svg_by_xml(svg.read_bytes())
    assert ink.width == 2420.0
    # It cuts a side to 1/64 of a pixel, 0.0041 mm.
    for given, length in zip(browser_scale(svg), (ink.width, ink.height), strict=True):
        assert given / (96 / 25.4) * length == pytest.approx(length, abs=25.4 / 96 / 64)


def browser_scale(svg: Path) -> tuple[float, float]:
    """How many pixels a mm of a drawing that is opened alone takes to the right, and downwards."""
    asked = "const drawing = document.documentElement, m = drawing.getScreenCTM();"
    told = "drawing.setAttribute('data-scale', m.a + ' ' + m.d);"
    asking = svg.with_name("asking.svg")
    drawn = svg.read_text(encoding="utf-8").replace("</svg>", f"<script>{asked} {told}</script></svg>")
    asking.write_text(drawn, encoding="utf-8")
    profile = f"--user-data-dir={svg.parent}/profile"
    options = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", profile, "--dump-dom")
    answer = re.search(r'data-scale="(\S+) (\S+)"', said("chromium", *options, asking))
    assert answer is not None
    return float(answer[1]), float(answer[2])
