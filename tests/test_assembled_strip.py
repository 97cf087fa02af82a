"""A long strip as it comes from the printer: its tiles cut out of the pictures of the sheets and joined.

Each tile is laid on the one before by the register marks' own ink, so what goes wrong at a seam adds up here, as it
would at the bench. Then every edge of a part must be where the figures of the job put it, to one dot.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import accumulate
from pathlib import Path
from typing import Any, Final

import pytest
from click.testing import CliRunner
from pictures import DOT_MM, RENDERERS, Picture

from storystick.cli import main

INCH_MM: Final = Fraction(254, 10)


@dataclass(frozen=True)
class LongStick:
    """A job with one stick, and the sizes in mm of its parts and openings in turn, worked out from the figures."""

    text: str
    sizes: tuple[Fraction, ...]

    @property
    def edges(self) -> list[Fraction]:
        """Where every part begins and ends, from the datum."""
        return [Fraction(0), *accumulate(self.sizes)]


def in_turn(parts: list[Fraction], openings: list[Fraction]) -> tuple[Fraction, ...]:
    return (*(size for pair in zip(parts, openings, strict=False) for size in pair), parts[-1])


MM_PART: Final = Fraction("18.3")
IN_MM: Final = LongStick(
    """
    title = "Long stick"
    units = "mm"
    [stock]
    ply = 18.3
    [[stick]]
    name = "Side"
    length = 2400
    pair = true
    part = "ply"
    openings = ["equal", "equal", "equal", "equal", "equal", "equal", "equal", "equal", "equal", "equal", "equal"]
    """,
    in_turn([MM_PART] * 12, [(2400 - 12 * MM_PART) / 11] * 11),
)

OAK, PLY, FIRST, SECOND = (Fraction(size) for size in ("13/16", "23/32", "10.25", "11.375"))
EQUAL: Final = (Fraction("94.5") - 2 * OAK - 7 * PLY - FIRST - SECOND) / 6
IN_INCHES: Final = LongStick(
    """
    title = "Long stick"
    units = "inch"
    [stock]
    oak = "13/16"
    ply = "23/32"
    [[stick]]
    name = "Side"
    length = "94 1/2"
    pair = true
    order = [
      { part = "oak" }, { opening = "10 1/4" }, { part = "ply" }, { opening = "11 3/8" }, { part = "ply" },
      { opening = "equal" }, { part = "ply" }, { opening = "equal" }, { part = "ply" }, { opening = "equal" },
      { part = "ply" }, { opening = "equal" }, { part = "ply" }, { opening = "equal" }, { part = "ply" },
      { opening = "equal" }, { part = "oak" },
    ]
    """,
    tuple(size * INCH_MM for size in in_turn([OAK, *[PLY] * 7, OAK], [FIRST, SECOND, *[EQUAL] * 6])),
)

# So far from full size that no edge of the strip beyond its first 11 mm would pass at another size.
ALONG: Final = Fraction("1.0042")
SHOP: Final = f"[printer.office]\nalong = {float(ALONG)}\nacross = 0.9971\n"


@dataclass(frozen=True)
class Case:
    """A stick, and what its lengths must be times in print: a printer's correction along the sheet."""

    stick: LongStick
    scale: Fraction = Fraction(1)
    printer: tuple[str, ...] = ()


CASES: Final = {
    "mm": Case(IN_MM),
    "inch": Case(IN_INCHES),
    "corrected": Case(IN_MM, ALONG, ("--printer", "office")),
}


@dataclass(frozen=True)
class PrintedSticks:
    """Both hands of a stick in print: their tiles by hand, from the datum on, each with its page."""

    pdf: Path
    tiles: dict[str, list[tuple[dict[str, Any], int]]]


@pytest.fixture(scope="module")
def prints(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], PrintedSticks]:
    @cache
    def printed(name: str) -> PrintedSticks:
        folder, case = tmp_path_factory.mktemp(name), CASES[name]
        job = folder / "job.toml"
        job.write_text(case.stick.text, encoding="utf-8")
        (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
        command("print", job, "-o", folder, "--format", "pdf", *case.printer)
        pages = json.loads(command("pages", job, "--format", "json", *case.printer))
        tiles = [(tile, sheet["page"]) for sheet in pages["sheets"] for tile in sheet["tiles"]]
        tiles.sort(key=lambda pair: pair[0]["tile"])
        hands = {hand: [pair for pair in tiles if pair[0]["hand"] == hand] for hand in ("left", "right")}
        return PrintedSticks(folder / "strips.pdf", hands)

    return printed


def command(*arguments: object) -> str:
    result = CliRunner().invoke(main, list(map(str, arguments)))
    assert result.exit_code == 0, result.stderr
    return result.stdout


def assembled(tiles: list[tuple[dict[str, Any], Picture]], scale: float) -> Iterator[float]:
    """Every edge of a part, in mm from the datum end of the strip that the tiles make.

    The first seam's mark is laid at the station that is printed beside it, as on a tape that is drawn ``scale`` times
    its size; all other marks are found and laid on the ones before.
    """
    joint = tiles[0][0]["end_mm"] * scale
    for tile, picture in tiles:
        start, end = tile["x_mm"], end_of(tile)
        seams = [place for place, is_seam in ((start, tile["tile"] > 1), (end, tile["tile"] < tile["of"])) if is_seam]
        marks = [picture.register_mark(place, tile["y_mm"]) for place in seams]
        laid = joint - tile["direction"] * marks[0]
        across = tile["y_mm"] + 0.15, tile["y_mm"] + 0.5
        for stretch in picture.wide_stretches(min(start, end) - 0.5, max(start, end) + 0.5, *across):
            yield from (laid + tile["direction"] * x for x in stretch)
        joint = laid + tile["direction"] * marks[-1]


def end_of(tile: dict[str, Any]) -> float:
    """Where a tile's last station lies on its page, by the rule that the listing of the pages states."""
    length = (tile["end_mm"] - tile["start_mm"]) * tile["scale_x"]
    x: float = tile["x_mm"] + tile["direction"] * length
    return x


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("renderer", RENDERERS)
def test_every_edge_of_a_strip_joined_at_its_register_marks_is_within_a_dot(
    renderer: str, name: str, prints: Callable[[str], PrintedSticks]
) -> None:
    printed, scale = prints(name), CASES[name].scale

    @cache
    def picture(page: int) -> Picture:
        return RENDERERS[renderer](printed.pdf, page)

    for tiles in printed.tiles.values():
        assert len(tiles) >= 9
        found = assembled([(tile, picture(page)) for tile, page in tiles], float(scale))
        exact = [float(edge * scale) for edge in CASES[name].stick.edges]
        assert sorted(found) == [pytest.approx(edge, abs=DOT_MM) for edge in exact]
