"""The record that travels in a print, read back. It is data that anyone may have changed: all of it is checked."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.papers import LONGEST_SIDE, PAPERS, Paper
from storystick.job.reading import AskedPrinter
from storystick.job.tables import NAME, YES_NO, Kind, Table, choice, read_name
from storystick.sheets.choices import RECORD_FILE, Choices, Formats

_AS_PRINTED: Final = "print the job again, or use the file as it was printed"
_EXACT: Final = re.compile(r"[0-9]{1,60}(?:/0*[1-9][0-9]{0,59})?")
"""A side as it is recorded; more digits than any size of paper gives would only take time."""

_FORMATS: Final = choice({formats.value: formats for formats in Formats})


@dataclass(frozen=True, slots=True)
class PrintRecord:
    """Which ``file`` of a print this is, by which ``program``, of which job file, and what was asked beyond the job."""

    program: str
    file: str
    job_file: str
    paper: Paper
    printer: str | None
    choices: Choices

    @property
    def asked_printer(self) -> AskedPrinter:
        """The printer that the job was printed for, which need not be that of its file."""
        return AskedPrinter(self.printer, f"{RECORD_FILE}, printer")


def read_record(data: bytes) -> PrintRecord:
    """The reverse of :func:`storystick.sheets.choices.record`.

    Raises:
        StorystickError: it is not such a record, or a value of it cannot be.
    """
    try:
        content = json.loads(data, object_pairs_hook=_once_each)
    except (ValueError, RecursionError):
        raise Fault("the record of how it was printed cannot be read", _AS_PRINTED) from None
    table = Table(content)
    read = PrintRecord(
        program=table.need("program", NAME),
        file=table.need("file", _FILE_NAME),
        job_file=table.need("job", _FILE_NAME),
        paper=table.need("paper", _PAPER),
        printer=table.get("printer", _read_printer, None),
        choices=_read_choices(table),
    )
    table.close()
    return read


def _once_each(pairs: Sequence[tuple[str, object]]) -> dict[str, object]:
    """A table of the record; of two values under one name nobody could say which was printed."""
    content: dict[str, object] = {}
    for name, value in pairs:
        if name in content:
            raise Fault(f"the record of how it was printed says {as_written(name)} twice", _AS_PRINTED)
        content[name] = value
    return content


def _read_choices(table: Table) -> Choices:
    """An empty list of names stands for all of them, and so does none."""
    only = table.each("only", read_name) if table.has("only") and table["only"] != [] else ()
    boards = table.each("boards", read_name) if table.has("boards") and table["boards"] != [] else ()
    return Choices(only=only, formats=table.need("formats", _FORMATS), boards=boards)


def _read_file_name(value: object) -> str:
    if not isinstance(value, str) or not value:
        raise Fault(f"{as_written(value)} is not the name of a file", _AS_PRINTED)
    return value


_FILE_NAME: Final = Kind(_read_file_name, "", '"chest.toml"')


def _read_printer(value: object) -> str | None:
    return None if value is None else read_name(value)


def _read_side(value: object) -> Fraction:
    side = Fraction(value) if isinstance(value, str) and _EXACT.fullmatch(value) else Fraction(0)
    if not 0 < side <= LONGEST_SIDE:
        what = f"{as_written(value)} is not a side of a sheet: it is above 0 and up to {LONGEST_SIDE} mm"
        raise Fault(what, _AS_PRINTED)
    return side


_SIDE: Final = Kind(_read_side, Fraction(1), '"297"')


def _read_paper(value: object) -> Paper:
    table = Table(value)
    name, roll = table.need("name", NAME), table.need("roll", YES_NO)
    long_side, short_side = table.need("long_side", _SIDE), table.need("short_side", _SIDE)
    table.close()
    paper = Paper(name, long_side, short_side, roll)
    if long_side < short_side or PAPERS.get(name, paper) != paper:
        what = f"paper {as_written(name)} is not {float(long_side):g} by {float(short_side):g} mm"
        raise Fault(what, _AS_PRINTED)
    return paper


_PAPER: Final = Kind(_read_paper, PAPERS["A4"], "a table of its sides")
