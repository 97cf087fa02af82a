"""Openings from a spreadsheet saved as CSV: one a row, in columns found by their header."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import zip_longest
from pathlib import PureWindowsPath
from typing import Final

from storystick.errors import Fault, FaultCollector, as_written
from storystick.job.model import Fixed, Opening, Share, Source
from storystick.job.tables import MOST_ENTRIES, NAME, Kind, Table, read_name, unknown

LARGEST_FILE: Final = 1_000_000
"""No file of a job has more bytes than this."""

_COLUMNS: Final = ("name", "size")
_DELIMITERS: Final = ",;\t"


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
    rows = _rows(read_text(source))
    columns = _find_columns(*next(rows, (1, [])))
    faults = FaultCollector()
    openings: list[Opening] = []
    with faults.at():
        for line, cells in rows:
            with faults.at(f"line {line}"):
                openings.append(_read_row(columns, cells, read_clear))
    faults.raise_any()
    if not 0 < len(openings) <= MOST_ENTRIES:
        raise Fault(f"the file holds {len(openings)} openings", f"give 1 to {MOST_ENTRIES} of them, each in a row")
    return tuple(openings)


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


def _find_columns(line: int, header: list[str]) -> list[str]:
    """The header's words in lower case; an empty one heads a column that has to be empty."""
    columns = [cell.lower() for cell in header]
    faults = FaultCollector()
    for column in filter(None, dict.fromkeys(columns)):
        with faults.at(f"line {line}"):
            if column not in _COLUMNS:
                raise unknown(column, "a column known here", _COLUMNS)
            if columns.count(column) > 1:
                raise Fault(f"there are {columns.count(column)} columns called {column}", "keep one of them")
    faults.raise_any()
    if "size" not in columns:
        raise Fault("the column size is missing", "write size over the column of the openings", f"line {line}")
    return columns


def _read_row(columns: list[str], cells: list[str], read_clear: Callable[[object], Fixed | Share]) -> Opening:
    by_column = dict(zip_longest(columns, cells[: len(columns)], fillvalue=""))
    stray = [cell for column, cell in zip_longest(columns, cells, fillvalue="") if cell and not column]
    if stray:
        raise Fault(f"{as_written(stray[0])} stands under no heading", "give its column one, or empty the cell")
    row = Table({column: cell for column, cell in by_column.items() if cell or column == "size"})
    clear: Kind[Fixed | Share] = Kind(read_clear, Share(Fraction(1)), '"13"')
    opening = Opening(row.need("size", clear), row.get("name", NAME, None))
    row.close()
    return opening
