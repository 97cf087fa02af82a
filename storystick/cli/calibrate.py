"""storystick calibrate: a test sheet for a printer, and the correction from what it measured."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from storystick.cli.options import check_one_paper, output_option, paper_option
from storystick.errors import Where, placed_in
from storystick.job.papers import DEFAULT_PAPER, Paper, read_roll, read_sides, sides_of
from storystick.job.sources import SHOP_FILE
from storystick.lengths import Units, read_length
from storystick.sheets.print_choices import CALIBRATION_FILE

if TYPE_CHECKING:
    from storystick.calibrating import Measured
    from storystick.calibration import RuleReading
    from storystick.sheets.calibration import CalibrationSheet


@click.command()
@paper_option(help="Paper of the test sheet.  [default: A4 for a shop in mm, else Letter]")
@click.option("--roll", metavar="WIDTH", help="Roll of this width instead of sheets: about 1 m of it is used.")
@output_option(help="Where to write the test sheet.  [default: .]")
@click.option("--printer", metavar="NAME", help="What the printer is called in the shop file.")
@click.option("--along", metavar="LENGTH", help="What the rule along the long side, or the roll, measured.")
@click.option("--across", metavar="LENGTH", help="What the other rule measured.")
@click.option("--read-to", metavar="LENGTH", help="Division that was read to.  [default: 1/64 in or 0.5 mm]")
@click.option("--date", "day", type=click.DateTime(["%Y-%m-%d"]), metavar="YYYY-MM-DD", help="When.  [default: today]")
@click.option(
    "--shop",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Shop file to write into.  [default: shop.toml here if there is one, else in your settings folder]",
)
def command(
    paper: Paper | str | None,
    roll: str | None,
    output: Path | None,
    printer: str | None,
    along: str | None,
    across: str | None,
    read_to: str | None,
    day: datetime | None,
    shop: Path | None,
) -> None:
    """Print a test sheet for a printer, and store its correction.

    \b
    Example: storystick calibrate --paper Letter
             storystick calibrate --paper Letter --printer office --along "9 1/64" --across 7
    """
    check_one_paper(paper, roll)
    place = shop or _shop_at_hand()
    if along is None and across is None:
        if read_to is not None or day is not None:
            raise click.UsageError("--read-to and --date go with --along and --across")
        _write_sheet(_sheet(paper, roll, place), printer, output or Path())
        return
    if along is None or across is None or printer is None:
        raise click.UsageError("a correction needs all of --printer, --along and --across")
    if output:
        raise click.UsageError("--output is for the test sheet, and nothing is printed with --along and --across")
    from storystick.calibrating import Measured

    measured = Measured(printer, along, across, read_to, day.date() if day else date.today())
    _store(measured, _sheet(paper, roll, place), place)


def _shop_at_hand() -> Path:
    here = Path(SHOP_FILE)
    return here if here.is_file() else Path(click.get_app_dir("storystick")) / SHOP_FILE


def _sheet(paper: Paper | str | None, roll: str | None, shop: Path) -> CalibrationSheet:
    """The test sheet that the options ask for, measured in the unit of its paper, or of the roll's width."""
    from storystick.calibration import units_of_paper
    from storystick.sheets.calibration import calibration_sheet

    if roll is not None:
        with placed_in(Where("--roll")):
            units = _units_of_text(roll) or _shop_units(shop)
            return calibration_sheet(read_roll(roll, units), units)
    if isinstance(paper, str):
        with placed_in(Where("--paper")):
            units = _units_of_text(sides_of(paper)[-1]) or _shop_units(shop)
            return calibration_sheet(read_sides(paper, units), units)
    paper = paper or DEFAULT_PAPER[_shop_units(shop)]
    return calibration_sheet(paper, units_of_paper(paper))


def _units_of_text(length: str) -> Units | None:
    """The unit that a length says itself, so that a sheet does not depend on the shop file; None for a bare number."""
    if read_length(length, Units.MM) != read_length(length, Units.INCH):
        return None
    return Units.MM if length.strip().casefold().endswith("m") else Units.INCH


def _shop_units(shop: Path) -> Units:
    from storystick.calibration import units_of_shop

    return units_of_shop(shop)


def _write_sheet(sheet: CalibrationSheet, printer: str | None, folder: Path) -> None:
    from storystick.calibrating import read_printable
    from storystick.files import write_files
    from storystick.sheets.calibration import calibration_document
    from storystick.writers import writer_for  # needs the PDF library, which --help does not

    with placed_in(Where("--printer")):
        document = calibration_document(sheet, read_printable(printer) if printer is not None else "")
    (path,) = write_files(folder, {CALIBRATION_FILE: writer_for(".pdf")(document)})
    click.echo(path)
    click.echo("\nPrint it at 100 %, measure it with a steel rule, and run what stands in its lowest box.")


def _store(measured: Measured, sheet: CalibrationSheet, shop: Path) -> None:
    from storystick.calibrating import fitted_words, keys_of, read_measured, reading_words
    from storystick.calibration import store_printer

    name, along, across = read_measured(measured, sheet)
    keys = keys_of(measured, along, across, sheet)
    store_printer(shop, name, keys, sheet.units)
    for way, reading in (("along", along), ("across", across)):
        for line in reading_words(way, reading, keys[way], sheet):
            click.echo(line)
    if words := fitted_words(along, across, sheet):
        click.echo(click.wrap_text(words, width=96), err=True)
    click.echo(f"\nStored as printer {name} in {shop}")
    _say_use(name, along, sheet)


def _say_use(name: str, along: RuleReading, sheet: CalibrationSheet) -> None:
    from storystick.calibration import as_toml
    from storystick.sheets.calibration import as_argument
    from storystick.sheets.pages.trust import EXAMPLES, upward

    ways = f"storystick print JOB --printer {as_argument(name)}, or printer = {as_toml(name)} in the job file"
    click.echo(f"To draw for it: {ways}.")
    metre, long = (upward(along.within * length, sheet.units) for length in EXAMPLES)
    click.echo(f"A strip of 1 m can still be out along by {metre}, one of 2.4 m by {long}, before its seams.")
