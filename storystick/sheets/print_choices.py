"""What was asked of a print, what its files are called, and how each PDF says so in an attachment.

That is "storystick-print.json", by which one file is printed again. What lies in a folder after a print is told by
another record, "print-record.json", of :mod:`storystick.print_folder`.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from pathlib import PureWindowsPath
from typing import Final, NamedTuple
from unicodedata import category

from storystick.errors import Fault, Where, as_written
from storystick.job.job import Hands, Job, PrintName
from storystick.job.kinds import BARE, NAME, YES_NO, Kind, Scope, Table, read_name, word_of
from storystick.job.papers import LONGEST_SIDE, PAPERS, Paper
from storystick.job.reading import AskedPrinter
from storystick.sheets.document import AS_INK, FINE, Look, Pen, read_pen

STRIPS_FILE: Final = "strips.pdf"
BARS_FILE: Final = "bars.pdf"
SQUARE_STICKS_FILE: Final = "square-sticks.pdf"
RODS_FILE: Final = "rods.pdf"
TEMPLATES_FILE: Final = "templates.pdf"
JOB_SHEET_FILE: Final = "job-sheet.pdf"
GLUE_UP_FILE: Final = "glue-up.pdf"
SQUARE_FILE: Final = "square.pdf"
FIGURES_FILE: Final = "figures.pdf"
CALIBRATION_FILE: Final = "calibration.pdf"
BENCH_SHEET_FILE: Final = "bench-sheet.html"
FOLDER_RECORD_FILE: Final = "print-record.json"

SHEETS_FILES: Final = (STRIPS_FILE, BARS_FILE, SQUARE_STICKS_FILE, RODS_FILE, TEMPLATES_FILE)
"""The files of sheets in tiles."""

WORDS_FILES: Final = (GLUE_UP_FILE, SQUARE_FILE, FIGURES_FILE)
"""The files of words that are not always printed."""

FORMER_FILES: Final = ("boards.pdf",)
"""What such files were once called."""

PICTURES: Final = ("strip", "wall", "cabinet", "bar", "shim", "square-stick", "rod", "template")
"""What the names of files begin with that hold one thing in one piece."""

FORMER_PICTURES: Final = ("board",)
"""What they once began with."""

_LONGEST_FILE_NAME: Final = 255


def can_be_carried(name: str) -> bool:
    """Whether a print may carry a file of this name: it stays in the folder that it is written to, in sight."""
    # The Windows rules know both slashes and the drive's colon.
    stays = bool(name) and not name.startswith(".") and PureWindowsPath(name).name == name
    plain = not any(category(sign) == "Cc" for sign in name)
    return stays and plain and len(name.encode(errors="replace")) <= _LONGEST_FILE_NAME


RECORD_FILE: Final = "storystick-print.json"
"""The attachment that the choices travel in; no file of a job may have this name."""


class Formats(Enum):
    """Which files to write."""

    PDF = "pdf"
    SVG = "svg"
    BOTH = "both"
    HTML = "html"
    PDF_HTML = "pdf+html"
    ALL = "all"

    @property
    def tiled(self) -> bool:
        """Whether sheets in tiles are among them, all that is printed of one kind in a PDF."""
        return _FILES[self].tiled

    @property
    def ending(self) -> str:
        """How the file ends that each thing has of its own, drawn whole; empty where none has."""
        return _FILES[self].ending

    @property
    def on_paper(self) -> bool:
        """Whether anything is written to be printed or cut, with the pages of words that go with it."""
        return self.tiled or bool(self.ending)

    @property
    def at_bench(self) -> bool:
        """Whether the sheet for a phone or tablet is among them."""
        return _FILES[self].at_bench


class _Files(NamedTuple):
    """Whether there are sheets in tiles, how files end of what is drawn whole, whether there is a bench sheet."""

    tiled: bool = False
    ending: str = ""
    at_bench: bool = False


_FILES: Final = {
    Formats.PDF: _Files(tiled=True),
    Formats.SVG: _Files(ending=".svg"),
    Formats.BOTH: _Files(tiled=True, ending=".svg"),
    Formats.HTML: _Files(at_bench=True),
    Formats.PDF_HTML: _Files(tiled=True, at_bench=True),
    Formats.ALL: _Files(tiled=True, ending=".svg", at_bench=True),
}

ENDINGS: Final = tuple(dict.fromkeys(files.ending for files in _FILES.values() if files.ending))
"""How files end that hold one thing in one piece."""


@dataclass(frozen=True, slots=True)
class Choices:
    """``only`` names the sticks to print, all where it is empty; ``boards`` are boards of cabinets to print besides.

    ``names`` are the kinds of things that are printed beside the first page, None for those that are usual. ``look`` is
    that of what is drawn in one piece.
    """

    only: tuple[str, ...] = ()
    formats: Formats = Formats.BOTH
    boards: tuple[str, ...] = ()
    names: tuple[PrintName, ...] | None = None
    look: Look = AS_INK


ALL: Final = Choices()
"""Every stick, in every format."""


def record(choices: Choices, job: Job, file: str, program: str) -> bytes:
    """The choices as JSON, with the ``file`` of the print that they travel in, its ``program``, and the job's paper,
    printer and hands, which need not be those of the job file. Lengths are exact, in mm."""
    paper, printer = job.paper, job.printer
    content = {
        "program": program,
        "file": file,
        "job": job.file_name,
        "paper": {
            "name": paper.name,
            "long_side": str(paper.long_side),
            "short_side": str(paper.short_side),
            "roll": paper.roll,
        },
        "printer": printer.name if printer else None,
        "only": list(choices.only),
        "boards": list(choices.boards),
        "print": None if choices.names is None else [name.value for name in choices.names],
        "hands": job.hands.value,
        "formats": choices.formats.value,
        "one_piece": _look_content(choices.look),
    }
    return json.dumps(content, ensure_ascii=False, indent=1).encode()


def _look_content(look: Look) -> dict[str, object]:
    pens = {name: pen.words for name in _PENS if (pen := getattr(look, name))}
    return pens | {"outlines": look.outlines, "check_square": look.check_square}


_PENS: Final = ("cut", "mark", "text")
_AS_PRINTED: Final = "print the job again, or use the file as it was printed"
_EXACT: Final = re.compile(r"[0-9]{1,60}(?:/0*[1-9][0-9]{0,59})?")
"""A side as it is recorded; more digits than any size of paper gives would only take time."""

_FORMATS: Final = word_of(Formats)
_NAME: Final = word_of(PrintName)


@dataclass(frozen=True, slots=True)
class PrintRecord:
    """Which ``file`` of a print this is, by which ``program``, of which job file, and what was asked beyond the job."""

    program: str
    file: str
    job_file: str
    paper: Paper
    printer: str | None
    hands: Hands
    choices: Choices

    @property
    def asked_printer(self) -> AskedPrinter:
        """The printer that the job was printed for, which need not be that of its file."""
        return AskedPrinter(self.printer, Where.in_file(RECORD_FILE, "printer"))


def read_record(data: bytes) -> PrintRecord:
    """The reverse of :func:`storystick.sheets.print_choices.record`.

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
        hands=table.get("hands", word_of(Hands).within(BARE), Hands.BOTH),
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
    names = table.each("print", _NAME.within(BARE)) if table.has("print") and table["print"] is not None else None
    look = table.get("one_piece", _read_look, AS_INK)
    return Choices(only, table.need("formats", _FORMATS), boards, names, look)


def _read_file_name(value: object, _: Scope) -> str:
    if not isinstance(value, str) or not value:
        raise Fault(f"{as_written(value)} is not the name of a file", _AS_PRINTED)
    return value


_FILE_NAME: Final = Kind(_read_file_name, "", '"chest.toml"')


def _read_printer(value: object) -> str | None:
    return None if value is None else read_name(value)


def _read_pen(value: object, _: Scope) -> Pen:
    if not isinstance(value, str):
        raise Fault(f"{as_written(value)} is not a pen", _AS_PRINTED)
    return read_pen(value)


_PEN: Final = Kind(_read_pen, FINE, '"#000000 0.12"')


def _read_look(value: object) -> Look:
    table = Table(value)
    pens = {name: table.need(name, _PEN) for name in _PENS if table.has(name)}
    look = Look(**pens, outlines=table.need("outlines", YES_NO), check_square=table.need("check_square", YES_NO))
    table.close()
    return look


def _read_side(value: object, _: Scope) -> Fraction:
    side = Fraction(value) if isinstance(value, str) and _EXACT.fullmatch(value) else Fraction(0)
    if not 0 < side <= LONGEST_SIDE:
        what = f"{as_written(value)} is not a side of a sheet: it is above 0 and up to {LONGEST_SIDE} mm"
        raise Fault(what, _AS_PRINTED)
    return side


_SIDE: Final = Kind(_read_side, Fraction(1), '"297"')


def _read_paper(value: object, _: Scope) -> Paper:
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
