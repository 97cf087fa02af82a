"""Arguments and options that several commands share, and how they read a job."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from storystick.cli import completing
from storystick.cli.listing import Format
from storystick.errors import Where, placed_in
from storystick.job.job import Hands
from storystick.job.papers import PAPERS, Paper, names_sides, read_roll, read_sides
from storystick.job.reading import AskedPrinter
from storystick.laying_out import as_printed, load
from storystick.layout.stations import Layout
from storystick.lengths import Units

if TYPE_CHECKING:
    from storystick.sheets.document import Look, Pen
    from storystick.sheets.print_choices import Choices

job_argument = click.argument("job", type=click.Path(path_type=Path), shell_complete=completing.job_files)
shop_option = click.option(
    "--shop",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Shop file to use instead of the job's own.",
)
format_option = click.option(
    "--format",
    "shape",
    type=click.Choice([shape.value for shape in Format]),
    default=Format.TEXT.value,
    show_default=True,
    callback=lambda _context, _option, value: Format(value),
    help="How to write the listing.",
)
only_option = click.option(
    "--only",
    metavar="NAME",
    multiple=True,
    shell_complete=completing.of_job(completing.stick_names),
    help="Only the stick of this name; may be given several times.",
)


def load_job(job: Path, shop: Path | None) -> Layout:
    """The job laid out, with ``shop``, or the one beside the job or in the user's settings, if there is one.

    A printed PDF stands for the job that it carries, with all of its files and as it was printed.
    """
    return _load_with_choices(job, shop, None)[0] if is_print(job) else _load(job, shop, None)


def is_print(job: Path) -> bool:
    """Whether a printed PDF is given in the job's place."""
    return job.suffix.lower() == ".pdf"


def _load(job: Path, shop: Path | None, printer: AskedPrinter | None) -> Layout:
    return load(job, shop, Path(click.get_app_dir("storystick")), printer)


def _load_with_choices(job: Path, shop: Path | None, printer: AskedPrinter | None) -> tuple[Layout, Choices]:
    from storystick.sheets.print_choices import ALL

    if not is_print(job):
        return _load(job, shop, printer), ALL
    from storystick.prints import load_print  # only this needs the library that reads a PDF

    printed = load_print(job, shop, printer)
    return printed.layout, printed.choices


def paper_option(**attributes: Any) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """A paper by its name or its two sides."""
    names = f"[{'|'.join(PAPERS)}|WIDTHxHEIGHT]"
    return click.option("--paper", metavar=names, callback=_read_paper_option, **attributes)


def _read_paper_option(context: click.Context, option: click.Parameter, value: str | None) -> Paper | str | None:
    """A named paper; two sides stay text, since their unit may be that of a job."""
    if value is None or names_sides(value):
        return value
    named = {name.casefold(): paper for name, paper in PAPERS.items()}.get(value.strip().casefold())
    if named is None:
        what = f"{value!r} is not one of {', '.join(PAPERS)}, nor two sides as in '13 x 19 in'."
        raise click.BadParameter(what, context, option)
    return named


def paper_in(paper: Paper | str | None, units: Units) -> Paper | None:
    """The paper of a :func:`paper_option`, its sides in ``units`` where they say none themselves."""
    if not isinstance(paper, str):
        return paper
    with placed_in(Where("--paper")):
        return read_sides(paper, units)


def check_one_paper(paper: Paper | str | None, roll: str | None) -> None:
    """Whether sheets or a roll are asked for, and not both."""
    if paper and roll is not None:
        raise click.UsageError("give either --paper or --roll")


def sheet_options(command: Callable[..., None]) -> Callable[..., None]:
    """The options that say what is drawn and on what, instead of what the job says: hands, paper, roll, printer."""
    for option in (
        click.option(
            "--hands",
            type=click.Choice([hands.value for hands in Hands]),
            help="Both strips of a pair, or one, for boards that are struck face to face.",
        ),
        click.option(
            "--printer",
            metavar="NAME",
            shell_complete=completing.of_job(completing.printer_names),
            help="Printer of the shop file to draw for, with its correction.",
        ),
        click.option("--roll", metavar="WIDTH", help="Roll of paper of this width to use instead of sheets."),
        paper_option(help="Paper to use instead of the job's own."),
    ):
        command = option(command)
    return command


def look_options(command: Callable[..., None]) -> Callable[..., None]:
    """The options that say how things in one piece are drawn."""
    pens = {
        "--cut-line": "The outline to cut, in the SVG files: colour and width in mm.  [default: '#000000 0.12']",
        "--mark-line": "Draw their marks as lines of this colour and width, nothing filled.",
        "--text-line": "Draw their letters as lines of this colour and width, nothing filled.",
    }
    square = "--check-square/--no-check-square"
    command = click.option(square, default=None, help="A square of 50 mm above them, to check an import by.")(command)
    command = click.option(
        "--text", "letters", type=click.Choice(["text", "outlines"]), help="Their letters as text, or as outlines."
    )(command)
    for name, words in reversed(pens.items()):
        command = click.option(name, metavar="'#RRGGBB MM'", callback=_read_pen_option, help=words)(command)
    return command


def _read_pen_option(_: click.Context, option: click.Parameter, value: str | None) -> Pen | None:
    if value is None:
        return None
    from storystick.sheets.document import read_pen

    with placed_in(Where(option.opts[0])):
        return read_pen(value)


def look_from(
    asked: Look,
    cut_line: Pen | None,
    mark_line: Pen | None,
    text_line: Pen | None,
    letters: str | None,
    check_square: bool | None,
) -> Look:
    """What :func:`look_options` say, and what a print asked for where they say nothing."""
    return replace(
        asked,
        cut=cut_line or asked.cut,
        mark=mark_line or asked.mark,
        text=text_line or asked.text,
        outlines=asked.outlines if letters is None else letters == "outlines",
        check_square=asked.check_square if check_square is None else check_square,
    )


def load_to_print(
    job: Path,
    shop: Path | None,
    paper: Paper | str | None,
    roll: str | None,
    printer: str | None,
    hands: str | None,
) -> tuple[Layout, Choices]:
    """The job laid out, with what :func:`sheet_options` say for its own; and what a print asked for beyond it."""
    check_one_paper(paper, roll)
    asked_printer = AskedPrinter(printer, Where("--printer")) if printer is not None else None
    layout, asked = _load_with_choices(job, shop, asked_printer)
    units = layout.job.units
    chosen = paper_in(paper, units)
    if roll is not None:
        with placed_in(Where("--roll")):
            chosen = read_roll(roll, units)
    return as_printed(layout, chosen or layout.job.paper, Hands(hands) if hands else layout.job.hands), asked


def output_option(**attributes: Any) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """The folder to write into."""
    return click.option("-o", "--output", metavar="FOLDER", callback=_read_folder, **attributes)


def default_folder(job: Path) -> Path:
    """Where a job is printed when no folder is named: beside where the command is run."""
    return Path(f"{job.stem}-print")


def _read_folder(context: click.Context, option: click.Parameter, value: str | None) -> Path | None:
    if value == "":
        raise click.BadParameter("it is empty; name a folder.", context, option)
    return Path(value) if value else None
