"""At which line of a text a place of it stands, and where a text that is not TOML goes wrong.

The text is read statement by statement, each by the reader of the whole file, so that there is one grammar.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import product
from typing import Any, Final

from storystick.bench.places import Steps

_AT_LINE: Final = re.compile(r"\(at line (\d+), column \d+\)$")
_MOST_OPEN: Final = 4
"""Lists and tables that stand open in one another at the end of a line; an entry of deeper ones is at its list."""
_ENDS: Final = ("]", '"""', "'''")
"""What the last line of a statement over several lines has, any of them."""
_MOST_TRIES: Final = 500
"""After so many lines that may end a statement and do not, places from there on are told by what stands before it."""
_CLOSINGS: Final = tuple(
    f"\n{quotes}{''.join(brackets)}"
    for number in range(_MOST_OPEN + 1)
    for brackets in product("]}", repeat=number)
    for quotes in ("", '"""', "'''")
)


@dataclass(frozen=True, slots=True)
class _Statement:
    """A heading, or a key with its value, ``lines`` of the text from the line ``first`` on, in the table ``within``."""

    first: int
    lines: tuple[str, ...]
    within: Steps = ()

    def line_of(self, steps: Steps) -> int:
        """The line by which it has what the steps lead to, or its first one."""
        inner = steps[len(self.within) :]
        if len(self.lines) == 1:
            return self.first
        found = bisect_left(range(len(self.lines)), True, key=lambda number: _has(self.lines[: number + 1], inner))
        return self.first + found % len(self.lines)


@dataclass(frozen=True, slots=True)
class _Text:
    """Which statement first has each place of a text."""

    statements: Mapping[Steps, _Statement]

    def line_of(self, steps: Steps) -> int:
        for end in range(len(steps), 0, -1):
            if found := self.statements.get(steps[:end]):
                return found.line_of(steps[:end])
        return 1


@dataclass(slots=True)
class _Reader:
    """Reads statements in order; ``counts`` are the tables so far under each heading with two brackets."""

    found: dict[Steps, _Statement] = field(default_factory=dict)
    counts: dict[Steps, int] = field(default_factory=dict)
    table: Steps = ()

    def read(self, first: int, lines: tuple[str, ...], tree: dict[str, Any]) -> None:
        if lines[0].lstrip().startswith("["):
            self.table = self._headed(tree)
            self._add(self.table, _Statement(first, lines))
        else:
            statement = _Statement(first, lines, self.table)
            for steps in _places(tree):
                self._add((*self.table, *steps), statement)

    def _add(self, steps: Steps, statement: _Statement) -> None:
        for end in range(1, len(steps) + 1):
            self.found.setdefault(steps[:end], statement)

    def _headed(self, tree: Any) -> Steps:
        """The table that a heading begins: in the last one of those that are counted, and the next of them."""
        steps: Steps = ()
        while tree:
            if isinstance(tree, list):
                self.counts[steps] = self.counts.get(steps, 0) + 1
                tree = tree[0]
            else:
                ((key, tree),) = tree.items()
                steps = (*steps, key)
            if steps in self.counts and not isinstance(tree, list):
                steps = (*steps, self.counts[steps] - 1)
        return steps


def line_of(text: str, steps: Steps) -> int:
    """The line, from 1, at which a place stands, or the nearest thing round it that is there; 1 for the whole text.

    Of a text that is not TOML it is the line at which reading it ends.
    """
    read = _read(text)
    return read if isinstance(read, int) else read.line_of(steps)


@lru_cache(maxsize=4)
def _read(text: str) -> _Text | int:
    try:
        tomllib.loads(text)
    except (ValueError, ArithmeticError, RecursionError) as error:
        return _line_of_error(text, error)
    reader = _Reader()
    for statement in _statements(text.replace("\r\n", "\n").split("\n")):
        reader.read(*statement)
    return _Text(reader.found)


def _line_of_error(text: str, error: Exception) -> int:
    """The line that a reader's error tells; the last one where it tells that the text ends too early."""
    if told := _AT_LINE.search(str(error)):
        return int(told[1])
    return len(text.rstrip().split("\n")) if isinstance(error, tomllib.TOMLDecodeError) else 1


def _statements(lines: list[str]) -> Iterator[tuple[int, tuple[str, ...], dict[str, Any]]]:
    """Each statement's first line, from 1, its lines, and what they say; what says nothing is left out."""
    first = tries = 0
    for number, line in enumerate(lines):
        if tries > _MOST_TRIES:
            return
        if number > first and not _may_end(line):
            continue
        tree = _tree("\n".join(lines[first : number + 1]))
        if tree is None:
            tries += 1
            continue
        if tree:
            yield first + 1, tuple(lines[first : number + 1]), tree
        first, tries = number + 1, 0


def _may_end(line: str) -> bool:
    """Whether a line may be the last of several; what ends in a comma is not, but that may be the end of a comment."""
    return any(end in line for end in _ENDS) and ("#" in line or not line.rstrip().endswith(","))


def _tree(text: str) -> dict[str, Any] | None:
    """What a text says, None where it is not TOML by itself."""
    try:
        return tomllib.loads(text)
    except (ValueError, ArithmeticError, RecursionError):
        return None


def _places(tree: Any) -> Iterator[Steps]:
    """All places in a value, itself among them."""
    yield ()
    entries = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for step, inner in entries:
        for steps in _places(inner):
            yield (step, *steps)


def _has(lines: tuple[str, ...], steps: Steps) -> bool:
    """Whether the first lines of a statement, closed in one way or another, have a place."""
    text = "\n".join(lines)
    trees = (tree for closing in _CLOSINGS if (tree := _tree(text + closing)) is not None)
    thing: Any = next(trees, None)
    try:
        for step in steps:
            thing = thing[step]
    except (LookupError, TypeError):
        return False
    return True
