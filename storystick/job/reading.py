"""Reading a job file, with the files that it names, into a job.

Units must be said: a job without them could be read wrong by a factor of 25.4.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from storystick.errors import Fault, FaultCollector, Faults, StorystickError, Where
from storystick.job.job import RECTANGLE, Hands, Job, PrintName, for_printer
from storystick.job.keys import Here, Key, by_name, counted, inner, list_of, plain_or
from storystick.job.kinds import BARE, DISTANCE, LONGEST_NAME, NAME, SIZE, Kind, Scope, Table, read_bare_name, word_of
from storystick.job.openings import read_stock
from storystick.job.papers import DEFAULT_MARGIN, DEFAULT_PAPER, PAPER, STEP, Margins, same_margins
from storystick.job.sources import (
    SHOP_FILE,
    Companions,
    FindShop,
    LoadFile,
    Source,
    load_source,
    missing,
    read_tables,
    shop_among,
    shop_on_disk,
)
from storystick.job.sticks import SQUARE_STICK, STICK
from storystick.lengths import DEFAULT_STEP, Units

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
    where: Where


def read_job(
    path: Path,
    shop: Path | None = None,
    settings: Path | None = None,
    printer: AskedPrinter | None = None,
    load_file: LoadFile = load_source,
) -> JobReading:
    """Read a job file, the spreadsheets that it names beside it, and its shop file.

    That is ``shop`` in any case; else the one that the job names, or one that lies beside it or in the folder
    ``settings``. With a ``printer`` the job's own is not looked for.

    Raises:
        Faults: nothing of the file can be read.
    """
    try:
        main = load_file(path)
    except Fault as fault:
        raise Faults([fault.at(Where.in_file(path.name or str(path)))]) from None
    return read_draft(main, path, shop, settings, printer, load_file)


def read_draft(
    main: Source,
    path: Path,
    shop: Path | None = None,
    settings: Path | None = None,
    printer: AskedPrinter | None = None,
    load_file: LoadFile = load_source,
) -> JobReading:
    """As :func:`read_job`, with ``main`` in the place of what is at ``path``.

    Raises:
        Faults: nothing of it can be read.
    """
    find_shop = shop_on_disk(path, shop, settings, load_file)
    return _read(main, lambda name: load_file(path.parent / name), find_shop, printer)


def read_sources(sources: Sequence[Source], printer: AskedPrinter | None = None) -> JobReading:
    """As :func:`read_job`, from files in memory: the job file, and after it those that it names and its shop file.

    Raises:
        Faults: nothing of the first can be read.
    """
    main, *others = sources
    by_name = {source.name: source for source in others}

    def fetch(name: str) -> Source:
        return by_name[name] if name in by_name else missing(name)

    return _read(main, fetch, shop_among(others), printer)


def _read(
    main: Source, fetch: Callable[[str], Source], find_shop: FindShop, printer: AskedPrinter | None
) -> JobReading:
    try:
        document = read_tables(main)
        job, faults = _read_document(document, main, Companions(fetch))
    except Fault as fault:
        raise Faults([fault.at(Where.in_file(main.name))]) from None
    shop, shop_faults = read_found(document.get("shop"), find_shop)
    own_faults = (fault.at(Where.in_file(main.name)) for fault in faults)
    wanted = printer or AskedPrinter(document.get("printer"), Where.in_file(main.name, "printer"))
    return _for_printer(_with_shop(job, shop), wanted, (*own_faults, *shop_faults))


def _with_shop(job: Job, shop: Shop | None) -> Job:
    """The shop's file travels with the job's own."""
    own = (shop.source,) if shop and shop.source else ()
    return replace(job, shop=shop, sources=(*job.sources, *own))


def _for_printer(job: Job, printer: AskedPrinter, faults: tuple[Fault, ...]) -> JobReading:
    """The printer is looked for in a shop that reads well; without one, its absence has been told."""
    if printer.name is None or (faults and job.shop is None):
        return job, faults
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
    table = Table(document)
    units: Units = JOB_FILE["units"].read("units", table, Scope(Units.MM))
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


def _read_cabinets_and_runs(job: Here) -> tuple[tuple[Cabinet, ...], tuple[Run, ...]]:
    cabinets = job("cabinet")
    if not job.given("run"):
        return cabinets, ()
    from storystick.job.runs import read_runs  # only for a job with runs

    return cabinets, read_runs(job.table, job.scope, cabinets)


def _read_boards(job: Here, cabinets: int) -> tuple[Board, ...]:
    """The board templates; those of cabinets only where all the cabinets read well: what is missing has been told."""
    if not job.given("template"):
        return ()
    from storystick.job.boards import CabinetBoard  # only for a job with templates

    boards: tuple[Board, ...] = job("template")
    given = job.table["cabinet"] if job.given("cabinet") else []
    whole = isinstance(given, list) and len(given) == cabinets
    return boards if whole else tuple(board for board in boards if not isinstance(board, CabinetBoard))


def _read_square_sticks(job: Here) -> tuple[SquareStick, ...]:
    """The square sticks; none where a table is at fault, since a stick that they name may be missing for that."""
    square_sticks: tuple[SquareStick, ...] = job("square_stick")
    return square_sticks if job.table.is_sound else ()


def _read_in(units: Units, document: dict[str, object], main: Source, companions: Companions) -> JobReading:
    table = Table(document, known=["units"])
    job = Here(table, Scope(units, files=companions, usual={"title": _title_of(main.name)}), JOB_FILE)
    title, paper, margins, round_to = (job(name) for name in ("title", "paper", "margins", "round_to"))
    job("shop")
    table.has("printer")
    wrap, hands, printed, *_ = (job(name) for name in ("wrap", "hands", "print", "stock", "joint"))
    sticks = job("stick")
    cabinets, runs = _read_cabinets_and_runs(job)
    boards = _read_boards(job, len(cabinets))
    square_sticks = _read_square_sticks(job)
    rectangles = job("rectangle")
    if not job.given("stick", "cabinet", "run", "template", "rectangle"):
        table.fault("the job has neither a stick nor a cabinet", "add a [[cabinet]] or a [[stick]] table")
    read = Job(
        title,
        units,
        paper,
        margins,
        round_to,
        sticks,
        (main, *companions.sources),
        cabinets=cabinets,
        runs=runs,
        boards=boards,
        wrap=wrap,
        square_sticks=square_sticks,
        rectangles=rectangles,
        hands=hands,
        printed=printed,
    )
    faults = FaultCollector()
    with faults.at():
        table.close()
    return read, tuple(faults.faults)


def _title_of(file_name: str) -> str:
    """The title of a job that says none: its file's name without its ending."""
    stem = file_name.rpartition(".")[0] or file_name
    title = "".join(character if character.isprintable() else " " for character in stem)
    return title.strip()[:LONGEST_NAME] or "job"


def _shop_file_name(value: object, _: Scope = BARE) -> str:
    return read_bare_name(value, ".toml", "is not the name of a .toml file", f'write it like "{SHOP_FILE}"')


# The words of cabinets, runs and boards are loaded only for a job that has some: a listing of plain sticks need not
# wait for them.
def _cabinets() -> Kind[Any]:
    from storystick.job.cabinets import EACH_OWN, INSTEAD, Cabinet

    return counted("cabinet", Cabinet, own=EACH_OWN, together=INSTEAD)


def _runs() -> Kind[Any]:
    from storystick.job.runs import RUNS

    return RUNS


def _boards() -> Kind[Any]:
    from storystick.job.boards import BOARDS

    return BOARDS


def _joints() -> Kind[Any]:
    from storystick.job.joints import JOINTS

    return JOINTS


JOB_FILE: Final[Mapping[str, Key]] = {
    "title": Key(
        NAME,
        "what is printed over everything",
        "Linen press",
        usual=lambda scope: scope.usual["title"],
        otherwise="the name of the file",
    ),
    "units": Key(
        replace(word_of(Units), stand_in=Units.MM, form='"inch" or units = "mm"'),
        "what a number without a unit means, and what figures are written in",
        "inch",
    ),
    "paper": Key(
        PAPER,
        "the paper that it is printed on",
        "Letter",
        usual=lambda scope: DEFAULT_PAPER[scope.units],
        otherwise="Letter, or A4 in a job in mm",
    ),
    "margins": Key(
        plain_or(DISTANCE, same_margins, inner(Margins), "left", "right", "top", "bottom"),
        "what the printer cannot reach at each side of a sheet",
        {"left": "1/4", "right": "1/4", "top": "1/4", "bottom": "1/2"},
        usual=lambda scope: same_margins(DEFAULT_MARGIN[scope.units]),
        otherwise="3/8 in, or 10 mm in a job in mm",
    ),
    "round_to": Key(
        STEP,
        "what labels are rounded to; the marks are exact",
        "1/64 in",
        usual=lambda scope: DEFAULT_STEP[scope.units],
    ),
    "wrap": Key(
        DISTANCE,
        "how far every strip runs on over its stick's edge, so that the marks touch the work",
        "3/4",
        Fraction(0),
    ),
    "hands": Key(
        word_of(Hands),
        "which strips of a pair are printed: both, or one where the boards are struck together, face to face",
        "one",
        Hands.BOTH,
    ),
    "print": Key(
        list_of(word_of(PrintName), alone=True),
        "what is printed beside the first page of the job sheet",
        ["strips", "glue-up"],
        None,
        otherwise="what the job and its shop have use for",
    ),
    "shop": Key(
        Kind(
            _shop_file_name,
            "",
            '"…"',
            "the name of a file",
            {"type": "string", "pattern": r"^[^/\\]*\.[Tt][Oo][Mm][Ll]\s*$"},
        ),
        "the shop file, which lies beside the job",
        "shop.toml",
        None,
        otherwise="shop.toml beside the job, or the one in your settings folder",
    ),
    "printer": Key(NAME, "the printer of the shop file that it is drawn for", "office", None, otherwise="a true one"),
    "stock": Key(
        by_name("stock", read_stock, SIZE, "[stock], {}"),
        "the measured thickness of each stock, by its name",
        {"ply": "23/32"},
        (),
    ),
    "joint": Key(_joints, "how parts end on others, each joint by its name", {"shelf": {"kind": "butt"}}, ()),
    "stick": Key(counted("stick", STICK), "plain sticks", [], ()),
    "cabinet": Key(_cabinets, "cabinets, of which sticks, parts, fronts and diagonals follow", [], ()),
    "run": Key(_runs, "runs of cabinets along a wall", [], ()),
    "template": Key(_boards, "boards that are printed full size", [], ()),
    "square_stick": Key(counted("square_stick", SQUARE_STICK), "sticks that are faces of one square stick", [], ()),
    "rectangle": Key(counted("rectangle", RECTANGLE), "rectangles to be squared", [], ()),
}
"""All that can stand in a job file."""


def read_found(value: object, find: FindShop) -> tuple[Shop | None, tuple[Fault, ...]]:
    """The shop for what the job says under ``shop``, None where there is none, and the faults of its file.

    A name that is at fault is told with the job's own.
    """
    try:
        name = None if value is None else _shop_file_name(value)
    except Fault:
        return None, ()
    try:
        if (source := find(name)) is None:
            return None, ()
        from storystick.job.shop import read_shop  # only where there is a shop

        return read_shop(source)
    except StorystickError as error:
        return None, error.faults
