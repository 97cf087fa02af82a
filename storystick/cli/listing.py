"""Listings as text, JSON or CSV: every command that lists says what, and this says it."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping, Sequence
from enum import Enum
from fractions import Fraction

import click

from storystick.layout.model import Layout
from storystick.lengths import Units, write_exact


class Format(Enum):
    """The shapes that a listing comes in."""

    TEXT = "text"
    JSON = "json"
    CSV = "csv"


def twins(key: str, length: Fraction, units: Units) -> dict[str, object]:
    """The exact text of a length, and the nearest number of mm."""
    return {key: write_exact(length, units), f"{key}_mm": float(length)}


def echo_json(content: Mapping[str, object]) -> None:
    """Print as JSON, letters of any script as they are."""
    click.echo(json.dumps(content, ensure_ascii=False, indent=1))


def echo_csv(header: Sequence[str], rows: Sequence[Sequence[object]]) -> None:
    """Print as comma-separated values with a line of headings."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([header, *rows])
    click.echo(text.getvalue(), nl=False)


def echo_table(header: Sequence[str], rows: Sequence[Sequence[str]], right: int) -> None:
    """Print in columns; the last ``right`` of them stand to the right, well apart.

    With less between them, 20 beside 23/32 could be read as 20 23/32.
    """
    widths = [max(len(row[place]) for row in [header, *rows]) for place in range(len(header))]
    for row in [header, *rows]:
        cells = [
            "   " + cell.rjust(width) if place >= len(header) - right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        click.echo("  ".join(["", *cells]).rstrip())


def echo_warnings(layout: Layout) -> None:
    """Say beside the listing what can be built but should be looked at."""
    for warning in layout.warnings:
        click.echo(click.wrap_text(f"look at {warning}.", width=96), err=True)
