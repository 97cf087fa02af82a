"""storystick pages: which tile is on which sheet, and the gluing order."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from storystick.cli.listing import Format, echo_csv, echo_json, echo_table
from storystick.cli.options import format_option, job_argument, load_job, only_option, paper_option, shop_option
from storystick.job.papers import Paper
from storystick.laying_out import lay_out
from storystick.wording import counted

if TYPE_CHECKING:
    from storystick.sheets.strips import PlacedTile, Sheet, StripSheets


@click.command()
@job_argument
@shop_option
@format_option
@only_option
@paper_option
def command(job: Path, shop: Path | None, shape: Format, only: tuple[str, ...], paper: Paper | None) -> None:
    """List the tiles in the order of gluing.

    Example: storystick pages chest.toml --paper A3
    """
    from storystick.printing import plan_print  # needs the fonts, which --help does not

    read = load_job(job, shop)
    _SHOW[shape](plan_print(lay_out(replace(read, paper=paper or read.paper)), only))


def _show_text(plan: StripSheets) -> None:
    job = plan.job
    click.echo(f"{job.title}, version {job.digest}: {counted(len(plan.sheets), 'sheet')} of {job.paper.name}\n")
    echo_table(("strip", "tile", "sheet", "from", "to"), plan.tile_rows(), right=3)


def _show_json(plan: StripSheets) -> None:
    sheets = [_sheet_json(sheet) for sheet in plan.sheets]
    echo_json({"paper": plan.job.paper.name, "digest": plan.job.digest, "sheets": sheets})


def _sheet_json(sheet: Sheet) -> dict[str, object]:
    return {
        "number": sheet.number,
        **_page_json(sheet),
        "width_mm": sheet.frame.width_mm,
        "height_mm": sheet.frame.height_mm,
        "tiles": [_tile_json(placed) for placed in sheet.tiles],
    }


def _page_json(sheet: Sheet) -> dict[str, object]:
    from storystick.sheets.strips import STRIPS_FILE

    return {"file": STRIPS_FILE, "page": sheet.number}


def _tile_json(placed: PlacedTile) -> dict[str, object]:
    window, stick = placed.tile.window, placed.tile.strip.layout.stick
    return {
        "stick": stick.name,
        "hand": window.hand.value if window.hand and stick.pair else None,
        "tile": window.number,
        "of": window.of,
        "start_mm": float(window.start),
        "end_mm": float(window.end),
        "x_mm": placed.x_mm,
        "y_mm": placed.y_mm,
        "height_mm": placed.tile.drawing.height_mm,
        "direction": window.direction,
        "scale_x": 1.0,  # there is no other size than full size
        "scale_y": 1.0,
    }


def _show_csv(plan: StripSheets) -> None:
    rows = [
        {"sheet": sheet.number, **_page_json(sheet), **_tile_json(placed)} for sheet, placed in plan.in_gluing_order()
    ]
    echo_csv(list(rows[0]), [list(row.values()) for row in rows])


_SHOW = {Format.TEXT: _show_text, Format.JSON: _show_json, Format.CSV: _show_csv}
