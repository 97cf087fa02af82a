"""Openings from a spreadsheet saved as CSV: one a row, in columns found by their header."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import zip_longest
from pathlib import PureWindowsPath
from typing import Final, TypeVar

from storystick.errors import Fault, FaultCollector, as_written
from storystick.job.model import Fixed, Opening, Share, Source
from storystick.job.other_words import unknown
from storystick.job.tables import MOST_ENTRIES, NAME, Kind, Table, read_name

LARGEST_FILE: Final = 1_000_000
"""No file of a job has more bytes than this."""

_COLUMNS: Final = ("name", "size")
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


def read_openings(source: Source, read_clear: Callable[[object], Fixed | Share]) -> tuple[Opening, ...]:
    """The openings of the file, row by row; a fault says its line and column."""
    clear: Kind[Fixed | Share] = Kind(read_clear, Share(Fraction(1)), "…", "a length")

    def read_row(_line: int, row: Table) -> Opening:
        return Opening(row.need("size", clear), row.get("name", NAME, None))

    openings = read_rows(source, _COLUMNS, {"size": "write size over the column of the openings"}, read_row)
    if not 0 < len(openings) <= MOST_ENTRIES:
        raise Fault(f"the file holds {len(openings)} openings", f"give 1 to {MOST_ENTRIES} of them, each in a row")
    return openings


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
