"""storystick pages: which tile is on which sheet, and the gluing order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from storystick.cli.listing import Format, Listing, echo_table, echo_words
from storystick.cli.options import (
    format_option,
    job_argument,
    load_to_print,
    only_option,
    sheet_options,
    shop_option,
)
from storystick.job.papers import Paper
from storystick.sheets.print_choices import STRIPS_FILE

if TYPE_CHECKING:
    from storystick.sheets.strips import PlacedStripTile, StripSheet, StripSheets


@click.command()
@job_argument
@shop_option
@format_option
@only_option
@sheet_options
def command(
    job: Path,
    shop: Path | None,
    shape: Format,
    only: tuple[str, ...],
    paper: Paper | str | None,
    roll: str | None,
    printer: str | None,
    hands: str | None,
) -> None:
    """List the tiles in the order of gluing.

    Example: storystick pages chest.toml --paper A3
    """
    from storystick.printables import plan_print  # needs the fonts, which --help does not

    layout, asked = load_to_print(job, shop, paper, roll, printer, hands)
    _Pages(plan_print(layout, only or asked.only)).show(shape)


@dataclass(frozen=True)
class _Pages(Listing):
    plan: StripSheets

    def text(self) -> None:
        job = self.plan.job
        echo_words(f"{job.title}, version {job.digest}: {self.plan.paper_words}")
        click.echo()
        echo_table(("strip", "tile", "sheet", "from", "to"), self.plan.tile_rows(), right=3)

    def content(self) -> dict[str, object]:
        job, sheets = self.plan.job, [_sheet_record(sheet) for sheet in self.plan.sheets]
        return {"paper": job.paper.name, "digest": job.digest, "sheets": sheets}

    def rows(self) -> Iterator[dict[str, object]]:
        for sheet, placed in self.plan.in_gluing_order():
            yield {"sheet": sheet.number, **_page_record(sheet), **_tile_record(placed, sheet)}


def _sheet_record(sheet: StripSheet) -> dict[str, object]:
    return {
        "number": sheet.number,
        **_page_record(sheet),
        "width_mm": float(sheet.bare.page_width),
        "height_mm": float(sheet.bare.page_height),
        "tiles": [_tile_record(placed, sheet) for placed in sheet.tiles],
    }


def _page_record(sheet: StripSheet) -> dict[str, object]:
    return {"file": STRIPS_FILE, "page": sheet.number}


def _tile_record(placed: PlacedStripTile, sheet: StripSheet) -> dict[str, object]:
    """Where the tile lies on the page, as drawn; its stations, its height above the marking edge and its wrap below
    that are as they come out on the paper."""
    window, strip = placed.tile.window, placed.tile.strip
    scale_x, scale_y = float(sheet.bare.correction.to_right), float(sheet.bare.correction.upward)
    return {
        "stick": strip.layout.name,
        "letter": strip.letter,
        "serves": list(strip.serves),
        "hand": strip.hand.value if strip.hand else None,
        "tile": window.number,
        "of": window.of,
        "start_mm": float(window.start),
        "end_mm": float(window.end),
        "x_mm": (placed.left_mm + window.x(window.start)) * scale_x,
        "y_mm": placed.y_mm * scale_y,
        "height_mm": placed.tile.piece.height_mm,
        "wrap_mm": placed.tile.wrap_mm,
        "direction": window.direction,
        "scale_x": scale_x,
        "scale_y": scale_y,
    }
