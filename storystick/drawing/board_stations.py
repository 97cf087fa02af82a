"""Stations on a board in words, each with the edge that it is told from."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final

from storystick.job.model import Job
from storystick.layout.board import BoardLayout
from storystick.layout.cabinets.model import Range

WORDS_PT: Final = 8.0
"""The size of all words on a board but its title and its edges."""


def x_words(board: BoardLayout, x: Fraction, job: Job) -> str:
    """A station to the right, with the edge that it is told from."""
    return f"{job.label(board.x_station(x))} from {board.x_datum}"


def y_words(board: BoardLayout, y: Fraction, job: Job) -> str:
    """A station upward, with the edge that it is told from."""
    return f"{job.label(board.y_station(y))} from {board.y_datum}"


def stretch_words(station: Callable[[Fraction], Fraction], stretch: Range, job: Job) -> str:
    """A stretch of a board by its ends, as ``station`` tells each from the board's edge, the lower one first."""
    ends = sorted(station(end) for end in (stretch.start, stretch.end))
    return " to ".join(job.label(end) for end in ends)
