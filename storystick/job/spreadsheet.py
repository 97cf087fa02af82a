"""Rows of a spreadsheet saved as CSV, in columns found by their header."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import zip_longest
from typing import Final, TypeVar

from storystick.errors import Fault, FaultCollector, Where, as_written
from storystick.job.kinds import Table
from storystick.job.other_words import unknown
from storystick.job.sources import Source, read_text

_DELIMITERS: Final = ",;\t"
T = TypeVar("T")


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
            with faults.at(_line(line)):
                row = _row_table(columns, cells, needed)
                read.append(read_row(line, row))
                row.close()
    faults.raise_any()
    return tuple(read)


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
        where = _line(reader.line_num)
        raise Fault(f"the file is not CSV: {error}", "look for a missing quote", where) from None


def _line(number: int) -> Where:
    """A line of the file, by its number from 1."""
    return Where(f"line {number}", (number - 1,))


def _find_columns(line: int, header: list[str], known: Sequence[str], needed: Mapping[str, str]) -> list[str]:
    """The header's words in lower case; an empty one heads a column that has to be empty."""
    columns = [cell.lower() for cell in header]
    faults = FaultCollector()
    for column in filter(None, dict.fromkeys(columns)):
        with faults.at(_line(line)):
            if column not in known:
                raise unknown(column, "a column known here", known)
            if columns.count(column) > 1:
                raise Fault(f"there are {columns.count(column)} columns called {column}", "keep one of them")
    faults.raise_any()
    missing = [name for name in needed if name not in columns]
    faults.add(*(Fault(f"the column {name} is missing", needed[name], _line(line)) for name in missing))
    faults.raise_any()
    return columns


def _row_table(columns: list[str], cells: list[str], needed: Mapping[str, str]) -> Table:
    by_column = dict(zip_longest(columns, cells[: len(columns)], fillvalue=""))
    stray = [cell for column, cell in zip_longest(columns, cells, fillvalue="") if cell and not column]
    if stray:
        raise Fault(f"{as_written(stray[0])} stands under no heading", "give its column one, or empty the cell")
    return Table({column: cell for column, cell in by_column.items() if cell or column in needed})
