"""The files that a job is read from: their bytes, TOML tables, rows of spreadsheets, and where the shop file is."""

from __future__ import annotations

import csv
import io
import os
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import zip_longest
from pathlib import Path, PureWindowsPath
from typing import Final, TypeAlias, TypeVar

from storystick.errors import Fault, FaultCollector, as_written, placed_in
from storystick.job.other_words import unknown
from storystick.job.tables import Table, read_name


@dataclass(frozen=True, slots=True)
class Source:
    """A file that the job was read from: its bare name and its bytes."""

    name: str
    data: bytes = field(repr=False)


LARGEST_FILE: Final = 1_000_000
"""No file of a job has more bytes than this."""

_DELIMITERS: Final = ",;\t"

T = TypeVar("T")


class Companions:
    """The files that a job names, each fetched once, in the order in which they were asked for."""

    def __init__(self, fetch: Callable[[str], Source]) -> None:
        self._fetch = fetch
        self._fetched: dict[str, Source] = {}

    def __getitem__(self, name: str) -> Source:
        if name not in self._fetched:
            self._fetched[name] = self._fetch(name)
        return self._fetched[name]

    @property
    def sources(self) -> tuple[Source, ...]:
        return tuple(self._fetched.values())


def read_text(source: Source) -> str:
    """The file's text, with or without a byte order mark."""
    if len(source.data) > LARGEST_FILE:
        raise Fault("the file is larger than 1 MB, the most that is allowed", "look whether it is the right file")
    try:
        return source.data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Fault("the file is not UTF-8 text", "save it again as UTF-8") from None


def read_rows(
    source: Source, known: Sequence[str], needed: Mapping[str, str], read_row: Callable[[int, Table], T]
) -> tuple[T, ...]:
    """What ``read_row`` makes of each row, from its line's number and its cells by column; empty cells are left out.

    ``known`` are the columns that the file may have. ``needed`` are those that it must have, each with what to do where
    it is missing; their cells stay, even empty ones.

    Raises:
        StorystickError: every fault of the file, each with its line.
    """
    rows = _rows(read_text(source))
    columns = _find_columns(*next(rows, (1, [])), known, needed)
    faults = FaultCollector()
    read: list[T] = []
    with faults.at():
        for line, cells in rows:
            with faults.at(f"line {line}"):
                row = _row_table(columns, cells, needed)
                read.append(read_row(line, row))
                row.close()
    faults.raise_any()
    return tuple(read)


def read_file_name(value: object) -> str:
    """The bare name of a CSV file beside the job file."""
    return read_bare_name(value, ".csv", "is neither a list nor a .csv file", 'write it like ["13", "12"]')


def read_bare_name(value: object, ending: str, otherwise: str, cure: str) -> str:
    """The bare name of a file beside the job file that has this ending, in any letter case."""
    name = read_name(value)
    if not name.lower().endswith(ending):
        raise Fault(f"{as_written(name)} {otherwise}", cure)
    if PureWindowsPath(name).name != name:
        raise Fault(f"{as_written(name)} is in another folder", "put the file beside the job and give its bare name")
    return name


def _rows(text: str) -> Iterator[tuple[int, list[str]]]:
    """The rows that are not blank, each with the number of its line."""
    first = next(filter(str.strip, text.splitlines()), "")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(_DELIMITERS, key=first.count), strict=True)
    try:
        for row in reader:
            cells = [cell.strip() for cell in row]
            if any(cells):
                yield reader.line_num, cells
    except csv.Error as error:
        where = f"line {reader.line_num}"
        raise Fault(f"the file is not CSV: {error}", "look for a missing quote", where) from None


def _find_columns(line: int, header: list[str], known: Sequence[str], needed: Mapping[str, str]) -> list[str]:
    """The header's words in lower case; an empty one heads a column that has to be empty."""
    columns = [cell.lower() for cell in header]
    faults = FaultCollector()
    for column in filter(None, dict.fromkeys(columns)):
        with faults.at(f"line {line}"):
            if column not in known:
                raise unknown(column, "a column known here", known)
            if columns.count(column) > 1:
                raise Fault(f"there are {columns.count(column)} columns called {column}", "keep one of them")
    faults.raise_any()
    missing = [name for name in needed if name not in columns]
    faults.add(*(Fault(f"the column {name} is missing", needed[name], f"line {line}") for name in missing))
    faults.raise_any()
    return columns


def _row_table(columns: list[str], cells: list[str], needed: Mapping[str, str]) -> Table:
    by_column = dict(zip_longest(columns, cells[: len(columns)], fillvalue=""))
    stray = [cell for column, cell in zip_longest(columns, cells, fillvalue="") if cell and not column]
    if stray:
        raise Fault(f"{as_written(stray[0])} stands under no heading", "give its column one, or empty the cell")
    return Table({column: cell for column, cell in by_column.items() if cell or column in needed})


def load_source(path: Path) -> Source:
    """The file's bytes, or so many of them that it is known to be too large."""
    if path.is_dir():
        raise Fault("this is a folder", "give a file")
    try:
        with path.open("rb") as file:
            return Source(os.fsencode(path.name).decode(errors="replace"), file.read(LARGEST_FILE + 1))
    except FileNotFoundError:
        raise Fault("there is no such file", "look at its name and folder") from None
    except (OSError, ValueError):
        raise Fault("the file cannot be opened", "look whether you may read it") from None


def read_tables(source: Source) -> dict[str, object]:
    """The tables of a TOML file, its numbers as they are written."""
    try:
        return tomllib.loads(read_text(source), parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise Fault(f"the file is not TOML: {error}", _cure(str(error))) from None
    except RecursionError:
        raise Fault("its lists and tables stand too deep in one another", "write them flatter") from None
    except (ArithmeticError, ValueError):
        raise Fault("a number or a date in it is beyond reading", "look for one with very many digits") from None


def _cure(error: str) -> str:
    if any(word in error for word in ("overwrite", "twice", "already")):
        return "a key or a table is given there that was given before: leave one of them out"
    return 'look there for a missing quote, bracket or equals sign: a length such as "5 1/2" is written in plain quotes'


SHOP_FILE: Final = "shop.toml"
"""What a shop file is called where nothing else is said."""

_ENDING: Final = ".toml"

FindShop: TypeAlias = Callable[[str | None], Source | None]
"""The shop file, from the name that the job gives it, None for none; None where there is no such file."""


def read_shop_file_name(value: object) -> str:
    """The bare name of a shop file beside the job file."""
    return read_bare_name(value, _ENDING, f"is not the name of a {_ENDING} file", f'write it like "{SHOP_FILE}"')


def shop_on_disk(job: Path, given: Path | None, settings: Path | None) -> FindShop:
    """Finds ``given`` in any case, else what the job names beside itself, else :data:`SHOP_FILE` beside the job or in
    the folder ``settings``."""

    def find(name: str | None) -> Source | None:
        wanted = given or (job.parent / name if name else None)
        return _load(wanted, job) if wanted else _at_hand(job, settings)

    return find


def _at_hand(job: Path, settings: Path | None) -> Source | None:
    """A job may itself be called as a shop file is, and is then not its own shop."""
    beside = job.parent / SHOP_FILE
    if job.name != SHOP_FILE and beside.is_file():
        return _load(beside, job)
    in_settings = settings / SHOP_FILE if settings else None
    return _load(in_settings, job) if in_settings and in_settings.is_file() else None


def _load(path: Path, job: Path) -> Source:
    """The file; it may not be called as the job file is, since the two travel together."""
    with placed_in(path.name or str(path)):
        source = load_source(path)
        check_ending(source.name)
        if source.name == job.name:
            raise Fault("the job file and the shop file have the same name", "give one of them another")
        return source


def check_ending(name: str) -> None:
    """Whether a shop file can be called so."""
    if not name.lower().endswith(_ENDING):
        raise Fault(f"a shop file has a name that ends in {_ENDING}", f'call it "{SHOP_FILE}"')


def shop_among(sources: Sequence[Source]) -> FindShop:
    """Finds what the job names among files in memory, else any one of them that can be a shop file.

    Those are the files that a job names and the shop file that was used, which need not be the one it names.
    """
    candidates = {source.name: source for source in sources if source.name.lower().endswith(_ENDING)}

    def find(name: str | None) -> Source | None:
        source = candidates.get(name or SHOP_FILE, next(iter(candidates.values()), None))
        if name and source is None:
            raise Fault("the file is missing", "give it together with the job file", name)
        return source

    return find
