"""Reading a job file, with the files that it names, into a job."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from storystick.errors import Fault, FaultCollector, Faults, StorystickError
from storystick.job.job import Job, read_rectangles
from storystick.job.joints import read_joints
from storystick.job.openings import Scope, read_stocks
from storystick.job.papers import read_margins, read_paper, read_step, read_title, read_wrap
from storystick.job.sources import (
    Companions,
    FindShop,
    Source,
    load_source,
    read_shop_file_name,
    read_tables,
    shop_among,
    shop_on_disk,
)
from storystick.job.sticks import read_sticks
from storystick.job.tables import Kind, Table, choice
from storystick.lengths import Units

if TYPE_CHECKING:
    from storystick.job.boards import Board
    from storystick.job.cabinets import Cabinet
    from storystick.job.runs import Run
    from storystick.job.shop import Shop
    from storystick.job.sticks import SquareStick

JobReading = tuple[Job, tuple[Fault, ...]]
"""All of a job that reads well, and the faults of the rest."""


@dataclass(frozen=True, slots=True)
class AskedPrinter:
    """The ``name`` of the printer to draw for, None for none, and ``where`` it was asked for, as faults tell it."""

    name: object
    where: str


def read_job(
    path: Path, shop: Path | None = None, settings: Path | None = None, printer: AskedPrinter | None = None
) -> JobReading:
    """Read a job file, the spreadsheets that it names beside it, and its shop file.

    That is ``shop`` in any case; else the one that the job names, or one that lies beside it or in the folder
    ``settings``. With a ``printer`` the job's own is not looked for.

    Raises:
        Faults: nothing of the file can be read.
    """
    try:
        main = load_source(path)
    except Fault as fault:
        raise Faults([fault.at(path.name or str(path))]) from None
    return _read(main, lambda name: load_source(path.parent / name), shop_on_disk(path, shop, settings), printer)


def read_sources(sources: Sequence[Source], printer: AskedPrinter | None = None) -> JobReading:
    """As :func:`read_job`, from files in memory: the job file, and after it those that it names and its shop file.

    Raises:
        Faults: nothing of the first can be read.
    """
    main, *others = sources
    by_name = {source.name: source for source in others}

    def fetch(name: str) -> Source:
        if name not in by_name:
            raise Fault("the file is missing", "give it together with the job file")
        return by_name[name]

    return _read(main, fetch, shop_among(others), printer)


def _read(
    main: Source, fetch: Callable[[str], Source], find_shop: FindShop, printer: AskedPrinter | None
) -> JobReading:
    try:
        document = read_tables(main)
        job, faults = _read_document(document, main, Companions(fetch))
    except Fault as fault:
        raise Faults([fault.at(main.name)]) from None
    shop, shop_faults = read_found(document.get("shop"), find_shop)
    own_faults = (fault.at(main.name) for fault in faults)
    wanted = printer or AskedPrinter(document.get("printer"), f"{main.name}, printer")
    return _for_printer(_with_shop(job, shop), wanted, (*own_faults, *shop_faults))


def _with_shop(job: Job, shop: Shop | None) -> Job:
    """The shop's file travels with the job's own."""
    own = (shop.source,) if shop and shop.source else ()
    return replace(job, shop=shop, sources=(*job.sources, *own))


def _for_printer(job: Job, printer: AskedPrinter, faults: tuple[Fault, ...]) -> JobReading:
    """The printer is looked for in a shop that reads well; without one, its absence has been told."""
    if printer.name is None or (faults and job.shop is None):
        return job, faults
    from storystick.job.job import for_printer  # only where there is a shop

    try:
        return for_printer(job, printer.name), faults
    except Fault as fault:
        return job, (*faults, fault.at(printer.where))


def _read_document(document: dict[str, object], main: Source, companions: Companions) -> JobReading:
    try:
        units = _read_units(document)
    except Faults as error:
        return _read_without_units(document, main, companions, error.faults)
    return _read_in(units, document, main, companions)


def _read_units(document: dict[str, object]) -> Units:
    words = choice({units.value: units for units in Units})
    table = Table(document)
    units = table.need("units", Kind(words, Units.MM, '"inch" or units = "mm"'))
    table.stop_if_faulty()
    return units


def _read_without_units(
    document: dict[str, object], main: Source, companions: Companions, units_faults: tuple[Fault, ...]
) -> JobReading:
    """Only what is at fault whatever the units are is told; what has sizes, as yet unknown, is not given."""
    (job, faults), (_, other_faults) = (_read_in(units, document, main, companions) for units in Units)
    told = set(map(str, other_faults))
    without_sizes = replace(job, sticks=(), cabinets=(), runs=(), boards=(), square_sticks=(), rectangles=())
    return without_sizes, units_faults + tuple(fault for fault in faults if str(fault) in told)


def _read_cabinets_and_runs(table: Table, scope: Scope) -> tuple[tuple[Cabinet, ...], tuple[Run, ...]]:
    if not any([table.has("cabinet"), table.has("run")]):
        return (), ()
    # Their many words are loaded only for a job that has some: a listing of plain sticks need not wait for them.
    from storystick.job.cabinets import read_cabinets
    from storystick.job.runs import read_runs

    cabinets = read_cabinets(table, scope)
    return cabinets, read_runs(table, scope, cabinets)


def _read_boards(table: Table, units: Units, cabinets: int) -> tuple[Board, ...]:
    """The board templates; those of cabinets only where all the cabinets read well: what is missing has been told."""
    if not table.has("template"):
        return ()
    from storystick.job.boards import (
        CabinetBoard,  # only for a job with templates
        read_boards,
    )

    boards = read_boards(table, units)
    given = table["cabinet"] if table.has("cabinet") else []
    whole = isinstance(given, list) and len(given) == cabinets
    return boards if whole else tuple(board for board in boards if not isinstance(board, CabinetBoard))


def _read_square_sticks(table: Table, units: Units) -> tuple[SquareStick, ...]:
    """The square sticks; none where a table is at fault, since a stick that they name may be missing for that."""
    if not table.has("square_stick"):
        return ()
    from storystick.job.sticks import read_square_sticks  # only for a job with some

    square_sticks = read_square_sticks(table, units)
    return square_sticks if table.is_sound else ()


def _read_in(units: Units, document: dict[str, object], main: Source, companions: Companions) -> JobReading:
    table = Table(document, known=["units"])
    title = read_title(table, main.name)
    paper, margins, step = read_paper(table, units), read_margins(table, units), read_step(table, units)
    table.get("shop", read_shop_file_name, None)
    table.has("printer")
    wrap = read_wrap(table, units)
    scope = Scope(units, read_stocks(table, units), read_joints(table, units), companions)
    sticks = read_sticks(table, scope)
    cabinets, runs = _read_cabinets_and_runs(table, scope)
    boards = _read_boards(table, units, len(cabinets))
    square_sticks = _read_square_sticks(table, units)
    rectangles = read_rectangles(table, units)
    if not any(map(table.has, ("stick", "cabinet", "run", "template", "rectangle"))):
        table.fault("the job has neither a stick nor a cabinet", "add a [[cabinet]] or a [[stick]] table")
    sources = (main, *companions.sources)
    job = Job(title, units, paper, margins, step, sticks, sources, cabinets=cabinets, runs=runs, boards=boards)
    job = replace(job, wrap=wrap, square_sticks=square_sticks, rectangles=rectangles)
    faults = FaultCollector()
    with faults.at():
        table.close()
    return job, tuple(faults.faults)


def read_found(value: object, find: FindShop) -> tuple[Shop | None, tuple[Fault, ...]]:
    """The shop for what the job says under ``shop``, None where there is none, and the faults of its file.

    A name that is at fault is told with the job's own.
    """
    try:
        name = None if value is None else read_shop_file_name(value)
    except Fault:
        return None, ()
    try:
        if (source := find(name)) is None:
            return None, ()
        from storystick.job.shop import read_shop  # only where there is a shop

        return read_shop(source)
    except StorystickError as error:
        return None, error.faults
