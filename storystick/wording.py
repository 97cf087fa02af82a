"""Small pieces of English that several pages and listings say."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

_NUMBERED: Final = re.compile(r"(.* )([1-9][0-9]{0,5})(\D*)")
_BEFORE_FIGURES: Final = "and|at|by|for|from|in|is|of|or|over|than|the|to|under|with"
_IN_NAME: Final = re.compile(
    rf"\b(?!(?:{_BEFORE_FIGURES})\b)([^\W\d_]+) (?=[1-9][0-9]{{0,2}}(?![0-9/]|\.[0-9]| [0-9]+/))"
)
_IN_PAIR: Final = re.compile(r"(\N{NO-BREAK SPACE}[1-9][0-9]{0,2}), (?=[1-9][0-9]{0,2}(?![0-9/,]|\.[0-9]| [0-9]+/))")
_IN_FIGURE: Final = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9]|(?:full|scant|in|mm|m|ft|min|%)(?![a-z]))")


def counted(number: int, word: str) -> str:
    """A number of things, in the singular for one."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def number_of(number: int, things: str) -> str:
    """The same for things that are given in their plural, which ends in "s"."""
    return f"{number} {things.removesuffix('s') if number == 1 else things}"


def listed(things: Sequence[str]) -> str:
    """Things one after another, with "and" before the last."""
    *others, last = things
    return f"{', '.join(others)} and {last}" if others else last


def ranges(numbers: Iterable[int]) -> str:
    """Numbers, rising, those of three or more in a row by their ends: 1–30, or 1, 2, 5–7; nothing for none."""
    rising = sorted(set(numbers))
    breaks = [place for place, (low, high) in enumerate(pairwise(rising), 1) if high != low + 1]
    runs = [rising[start:end] for start, end in pairwise([0, *breaks, len(rising)])] if rising else []
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def by_number(names: Iterable[str]) -> list[str]:
    """Names in the order of the first of each kind, those that differ by their last number alone as one.

    "shelf 1", "shelf 2", "shelf 3", "top" give "shelf 1–3" and "top"; "bay 1, frame" and "bay 2, frame" give "bay 1 and
    2, frame", where a comma would make a thing of its own of what all of them end with.
    """
    kinds: dict[tuple[str, str], list[int]] = {}
    for name in names:
        before, number, after = _numbered(name)
        kinds.setdefault((before, after), []).extend([number] if number else [])
    return [f"{before}{_with_end(ranges(numbers), after)}" for (before, after), numbers in kinds.items()]


def _with_end(numbers: str, after: str) -> str:
    return f"{listed(numbers.split(', '))}{after}" if after else numbers


def in_order(names: Iterable[str]) -> list[str]:
    """The same for names whose order says something: only those that follow each other, rising, become one."""
    rows: list[list[str]] = []
    for name in names:
        before, number, after = _numbered(name)
        if rows and (last := _numbered(rows[-1][-1])) and (last[0], last[2]) == (before, after) and last[1] < number:
            rows[-1].append(name)
        else:
            rows.append([name])
    return [words for row in rows for words in by_number(row)]


def _numbered(name: str) -> tuple[str, int, str]:
    """What comes before the last number of a name, the number, 0 for none, and what comes after it."""
    found = _NUMBERED.fullmatch(name)
    return (found[1], int(found[2]), found[3]) if found else (name, 0, "")


def without_number(name: str) -> str:
    """A name less its last number: "shelf 1" and "shelf 2" are both a "shelf"."""
    before, number, after = _numbered(name)
    return f"{before.rstrip()}{after}" if number else name


def capital(words: str) -> str:
    """Words as they begin a sentence or a heading."""
    return words[:1].upper() + words[1:]


def small(words: str) -> str:
    """Words as they go on within a sentence."""
    return words[:1].lower() + words[1:]


def unbroken(text: str) -> str:
    """The text with spaces at which no line is broken, so that 3 51/64 is not read as 3 or as 51/64."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")


def whole_figures(text: str) -> str:
    """The text with no line to be broken inside a figure, before what says how it was rounded, or in "shelf 1, 4"."""
    named = _IN_NAME.sub("\\1\N{NO-BREAK SPACE}", text)
    return _IN_FIGURE.sub("\N{NO-BREAK SPACE}", _IN_PAIR.sub("\\1,\N{NO-BREAK SPACE}", named))


def plain(text: str) -> str:
    """The text with ordinary spaces again."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


def kinds_alike(kinds: Sequence[str], made: int) -> str:
    """Kinds that are ``made`` alike, and how many; one kind alone says its number itself: "2 × Base"."""
    return "; ".join(kinds) + (f" ({made} alike)" if len(kinds) > 1 else "")


def about(number: float) -> str:
    """A number to its first digit."""
    digits = max(len(f"{number:.0f}") - 1, 0)
    return f"{round(number, -digits):.0f}"
