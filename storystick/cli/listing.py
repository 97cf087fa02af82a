"""Listings as text, JSON or CSV: every command that lists says what, and this says it."""

from __future__ import annotations

import csv
import io
import json
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping, Sequence
from enum import Enum
from fractions import Fraction
from itertools import zip_longest
from textwrap import wrap
from typing import ClassVar, Final

import click

from storystick.cli.tint import Tint, tinted
from storystick.job.job import Job
from storystick.layout.stations import Layout
from storystick.lengths import INCH_MM, Figures, Units, nearest_root, root, write_exact
from storystick.wording import plain, whole_figures

WIDTH: Final = 96
"""No line of a listing for a person is longer than this, in characters."""


_LOOK: Final = "look at"


class Format(Enum):
    """The shapes that a listing comes in."""

    TEXT = "text"
    JSON = "json"
    CSV = "csv"


class Listing(ABC):
    """What a command lists, in each of its shapes; the class of each command holds what there is to say."""

    headings: ClassVar[Sequence[str]] = ()
    """The first columns of its table, which are there even where it has no row."""

    @abstractmethod
    def text(self) -> None:
        """Print it for a person."""

    @abstractmethod
    def content(self) -> Mapping[str, object]:
        """All of it, for a program."""

    @abstractmethod
    def rows(self) -> Iterable[Mapping[str, object]]:
        """The rows of its table, for a spreadsheet, by their headings; what a row does not have stays empty."""

    def show(self, shape: Format, units: Units = Units.MM) -> None:
        """Print it in a shape; a spreadsheet of an inch job has decimals of an inch besides."""
        match shape:
            case Format.TEXT:
                self.text()
            case Format.JSON:
                click.echo(json.dumps(self.content(), ensure_ascii=False, indent=1))
            case Format.CSV:
                click.echo(_csv(self.headings, list(self.rows()), units), nl=False)


def head_of(job: Job) -> dict[str, object]:
    """What a listing for a program begins with."""
    return {"title": job.title, "units": job.units.value, "digest": job.digest}


def twins(units: Units, **lengths: Fraction | None) -> dict[str, object]:
    """The exact text of each length, and the nearest number of mm."""
    record: dict[str, object] = {}
    for key, length in lengths.items():
        record[key] = None if length is None else write_exact(length, units)
        record[f"{key}_mm"] = None if length is None else float(length)
    return record


def root_twins(key: str, square: Fraction, figures: Figures) -> dict[str, object]:
    """Of a square root (of mm²), which is seldom a fraction: the nearest step as exact text, and number of mm."""
    return {key: write_exact(nearest_root(square, figures.step), figures.units), f"{key}_mm": float(root(square))}


def _csv(headings: Sequence[str], rows: Sequence[Mapping[str, object]], units: Units) -> str:
    """Comma-separated values with a line of headings; lists in a cell are joined by semicolons.

    In an inch job each exact text has, beside its number of mm, a number of inches to the millionth: a spreadsheet
    reads 23/32 as text or as a day.
    """
    header = list(dict.fromkeys([*headings, *(key for row in rows for key in row)]))
    columns: list[tuple[str, str, Callable[[object], object]]] = []
    for key in header:
        columns.append((key, key, lambda cell: cell))
        if units is Units.INCH and (text_key := _text_of(key)) in header:
            columns.append((f"{text_key}_in", key, _in_inches))
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([heading for heading, _, _ in columns])
    writer.writerows([write(_cell(row.get(key))) for _, key, write in columns] for row in rows)
    return text.getvalue()


def _cell(value: object) -> object:
    return "; ".join(map(str, value)) if isinstance(value, list) else value


def _text_of(key: str) -> str:
    """The key of the exact text beside a number of mm; empty for any other key."""
    return key.removesuffix("_mm") if key.endswith("_mm") else ""


def _in_inches(in_mm: object) -> object:
    match in_mm:
        case float():
            return round(in_mm / float(INCH_MM), 6)
        case str() if in_mm:
            return "; ".join(str(round(float(one) / float(INCH_MM), 6)) for one in in_mm.split("; "))
    return in_mm


def echo_table(header: Sequence[str], rows: Sequence[Sequence[str]], right: int) -> None:
    """Print in columns; the last ``right`` of them stand to the right, well apart, and are never broken.

    With less between them, 20 beside 23/32 could be read as 20 23/32. Where all would be wider than :data:`WIDTH`, the
    widest of the others are made narrower, and what is in them goes on in the lines below; where that is not enough
    without breaking words and figures, each row is said in a sentence.
    """
    table = [list(map(whole_figures, row)) for row in (header, *rows)]
    left = len(header) - right
    widths = [max(map(len, column)) for column in zip(*table, strict=True)]
    least = [max(map(_longest_word, column)) for column in zip(*table, strict=True)]
    widths[:left] = _narrowed(widths[:left], least, WIDTH - 2 * len(header) - sum(widths[left:]) - 3 * right)
    if sum(widths) + 2 * len(header) + 3 * right > WIDTH:
        for row in rows:
            echo_words(
                "; ".join(f"{word} {cell}" for word, cell in zip(header, row, strict=True) if cell), "  ", "    "
            )
        return
    for row in table:
        cells = [_lines(cell, widths[place]) if place < left else [cell] for place, cell in enumerate(row)]
        for line in zip_longest(*cells, fillvalue=""):
            words = [text.ljust(width) for text, width in zip(line[:left], widths, strict=False)]
            figures = ["   " + text.rjust(width) for text, width in zip(line[left:], widths[left:], strict=True)]
            click.echo(plain("  ".join(["", *words, *figures]).rstrip()))


def _longest_word(cell: str) -> int:
    """With the space that a word stands in by, where it goes on below."""
    return max((len(word) for word in cell.split(" ")), default=0) + (" " in cell)


def _narrowed(widths: Sequence[int], least: Sequence[int], room: int) -> list[int]:
    """The widths, the widest of them made narrower until all have ``room`` together or none can be."""
    narrowed = list(widths)
    while sum(narrowed) > room:
        spare = [place for place, width in enumerate(narrowed) if width > least[place]]
        if not spare:
            break
        narrowed[max(spare, key=lambda place: narrowed[place])] -= 1
    return narrowed


def _lines(cell: str, width: int) -> list[str]:
    """What stands in a cell, line by line; what goes on below stands in a little."""
    return wrap(cell, width, subsequent_indent=" ", break_on_hyphens=False) if cell else [""]


def echo_words(text: str, first: str = "", rest: str = "") -> None:
    """Print a sentence or more in lines of :data:`WIDTH` at most; ``first`` and ``rest`` stand before the lines."""
    click.echo(_wrapped(text, first, rest))


def echo_sentences(sentences: Iterable[str], first: str = "", rest: str = "  ") -> None:
    """Print sentences, each on lines of its own."""
    for sentence in sentences:
        echo_words(sentence, first, rest)


def _wrapped(text: str, first: str = "", rest: str = "") -> str:
    return plain(click.wrap_text(whole_figures(text), WIDTH, initial_indent=first, subsequent_indent=rest))


def echo_heading(job: Job) -> None:
    """Print what the listing is of, and the unit of its figures."""
    echo_words(job.heading)


def echo_warnings(layout: Layout) -> None:
    """Say beside the listing what can be built but should be looked at."""
    for warning in layout.warnings:
        echo_look(warning)


def echo_look(words: str) -> None:
    """Say beside the listing what should be looked at."""
    # The colour goes on last: what wraps lines counts its signs.
    text = _wrapped(f"{_LOOK} {words}.")
    click.echo(f"{tinted(_LOOK, Tint.LOOK)}{text.removeprefix(_LOOK)}", err=True)
