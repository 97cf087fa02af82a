"""Kinds of values of a file: how each is read, what it is in words, and its shape in a JSON Schema."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from pathlib import PureWindowsPath
from typing import Any, Final, Generic, TypeAlias, TypeVar

from storystick.errors import Fault, Faults, as_written
from storystick.job.other_words import unknown
from storystick.job.sources import Companions
from storystick.lengths import Units, read_distance, read_size

LONGEST_NAME: Final = 80

_NUMBER: Final = r"[0-9]{1,9}(?:\.[0-9]{1,9})?|(?:[0-9]{1,9} +)?[0-9]{1,9}/[1-9][0-9]{0,8}"
_PLAIN_NUMBER: Final = re.compile(_NUMBER)
_RIGHT_TO_LEFT: Final = {"R", "AL", "AN"}
_NOT_ON_ONE_LINE: Final = {"Cc", "Cs", "Zl", "Zp"}

T = TypeVar("T")
D = TypeVar("D")
E = TypeVar("E", bound=Enum)
Schema: TypeAlias = dict[str, Any]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Kind(Generic[T]):
    """A kind of value: how it is read, and what stands in for one with a fault so that reading goes on.

    ``form`` is how one is written, with … for what only the user knows, and ``sort`` says what that is: nothing that
    could be copied into a file as it stands and make a wrong job pass. ``schema`` is its shape; what is ``called`` by a
    word is described once in a schema; a shape may hold kinds and tables. ``take_from`` takes from a
    table by key what is more than one value.
    """

    read: Callable[[object], T]
    stand_in: T
    form: str
    sort: str = ""
    schema: object = None
    called: str = ""
    take_from: Callable[[Any, str, object], Any] | None = None

    def __call__(self, value: object) -> T:
        return self.read(value)

    def made(self, read: Callable[[object], D], stand_in: D) -> Kind[D]:
        """The same kind of value, of which something else is made."""
        return Kind(read, stand_in, self.form, self.sort, self.schema, self.called)

    def take(self, table: Any, key: str, default: object) -> Any:
        """The value of a table's key, the default where it is left out or has a fault."""
        return self.take_from(table, key, default) if self.take_from else table.get(key, self, default)


class Names(Generic[T]):
    """What a job or another file calls by name; ``of`` says which file that is.

    None stands for a thing, or for all of them, whose own fault is told already: it is told only once.
    """

    def __init__(self, word: str, things: Mapping[str, T | None] | None, of: str = "this job") -> None:
        self._word = word
        self._things = things
        self._of = of

    def __contains__(self, name: object) -> bool:
        return self._things is not None and name in self._things

    @property
    def sound(self) -> tuple[T, ...]:
        """The things without a fault, in their order."""
        return tuple(thing for thing in (self._things or {}).values() if thing is not None)

    def find(self, value: object) -> T:
        """The thing that ``value`` names."""
        if not isinstance(value, str):
            raise unknown(value, f"the name of a {self._word} of {self._of}", self._things or ())
        name = read_name(value)
        things = {name: None} if self._things is None else self._things
        if name not in things:
            raise unknown(name, f"a {self._word} of {self._of}", things, f"add it under [{self._word}]")
        thing = things[name]
        if thing is None:
            raise Faults(())
        return thing


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Scope:
    """What a table may refer to while it is read.

    Those are the ``units`` of numbers without one, what was read so far and is ``named`` by the word of its tables,
    other ``files``, and what is ``usual`` where a key is left out, as an outer table says. ``file`` is this one, in the
    words of a message.
    """

    units: Units
    file: str = "this job"
    named: dict[str, Names[Any]] = field(default_factory=dict)
    files: Companions = field(default_factory=Companions)
    usual: Mapping[str, Any] = field(default_factory=dict)


AnyKind: TypeAlias = Kind[T] | Callable[[Scope], Kind[T]]
"""A kind, or what makes one of the scope that it is read in."""


def kind_in(kind: AnyKind[T], scope: Scope) -> Kind[T]:
    """The kind as it is in a scope."""
    return kind if isinstance(kind, Kind) else kind(scope)


def read_name(value: object) -> str:
    """A name or a title: some text on one line, without spaces around it."""
    if not isinstance(value, str):
        raise Fault(f"{as_written(value)} is not text", "put it in quotes")
    name = value.strip()
    if not name:
        raise Fault("the text is empty", "write a name, or leave the key out")
    if any(unicodedata.category(character) in _NOT_ON_ONE_LINE for character in name):
        raise Fault(f"{as_written(value)} is more than one line of text", "write it on one line, without tabs")
    if any(unicodedata.category(c) == "Cf" or unicodedata.bidirectional(c) in _RIGHT_TO_LEFT for c in name):
        raise Fault(f"{as_written(value)} has signs that do not show or run to the left", "write it from left to right")
    if len(name) > LONGEST_NAME:
        raise Fault(f"{as_written(name)} has {len(name)} characters; at most {LONGEST_NAME} are allowed", "shorten it")
    return name


def read_bare_name(value: object, ending: str, otherwise: str, cure: str) -> str:
    """The bare name of a file beside the job file that has this ending, in any letter case."""
    name = read_name(value)
    if not name.lower().endswith(ending):
        raise Fault(f"{as_written(name)} {otherwise}", cure)
    if PureWindowsPath(name).name != name:
        raise Fault(f"{as_written(name)} is in another folder", "put the file beside the job and give its bare name")
    return name


def _read_yes_no(value: object) -> bool:
    if not isinstance(value, bool):
        raise Fault(f"{as_written(value)} is neither true nor false", "write true or false, without quotes")
    return value


def _read_number(value: object) -> Fraction:
    number = plain_number(value)
    if not number:
        raise Fault(f"{as_written(value)} is not a number above 0", 'write it like 2, 1.5 or "3/2", without a unit')
    return number


def plain_number(value: object) -> Fraction | None:
    """A number from 0 that is not a length, None for anything else.

    It has few digits, so that what is worked out from it has few too.
    """
    text = value.strip() if isinstance(value, str) else as_written(value)
    if not _PLAIN_NUMBER.fullmatch(text):
        return None
    *wholes, last = map(Fraction, text.split())
    return None if wholes and last >= 1 else sum(wholes, last)


def _number_or_text(text: Schema, **limits: object) -> Schema:
    return {"oneOf": [{"type": "number", **limits}, {"type": "string", **text}]}


_NO_CONTROLS: Final = r"[^\u0000-\u001f\u007f]*"
NAME_SHAPE: Final[Schema] = {
    "type": "string",
    "minLength": 1,
    "maxLength": LONGEST_NAME,
    "pattern": rf"^{_NO_CONTROLS}\S{_NO_CONTROLS}$",
}
NUMBER_TEXT: Final[Schema] = {"pattern": rf"^\s*({_NUMBER.replace('?:', '')})\s*$"}
_NUMBER_SHAPE: Final = _number_or_text(NUMBER_TEXT, exclusiveMinimum=0)
_LENGTH_TEXT: Final[Schema] = {"minLength": 1}
_SIZE_SHAPE: Final = _number_or_text(_LENGTH_TEXT, exclusiveMinimum=0)
_DISTANCE_SHAPE: Final = _number_or_text(_LENGTH_TEXT, minimum=0)

NAME: Final = Kind(read_name, "", '"…"', "a name", NAME_SHAPE, "name")
YES_NO: Final = Kind(_read_yes_no, False, "true or false", schema={"type": "boolean"})
NUMBER: Final = Kind(_read_number, Fraction(1), "…", "a number above 0", _NUMBER_SHAPE, "number")


def whole(least: int, most: int) -> Kind[int]:
    """Whole numbers from ``least`` to ``most``."""

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            what = f"{as_written(value)} is not a whole number from {least} to {most}"
            raise Fault(what, f"write it like {least + 3}")
        return value

    shape: Schema = {"type": "integer", "minimum": least, "maximum": most}
    return Kind(read, least, "…", f"a whole number from {least} to {most}", shape)


def choice(options: Mapping[str, T]) -> Kind[T]:
    """What one of some words stands for."""

    def read(value: object) -> T:
        if not isinstance(value, str) or value not in options:
            raise unknown(value, "a word known here", options)
        return options[value]

    return Kind(read, next(iter(options.values())), _one_of(options), schema={"enum": list(options)})


def word_of(options: Iterable[E]) -> Kind[E]:
    """One of an enumeration, by its value."""
    return choice({option.value: option for option in options})


def _one_of(words: Iterable[str]) -> str:
    """ "a", "b" or "c"."""
    *others, last = (f'"{word}"' for word in words)
    return f"{', '.join(others)} or {last}" if others else last


def word_or(word: str, meaning: T, kind: Kind[D]) -> Kind[T | D]:
    """What one word stands for, or else a length of a kind."""

    def read(value: object) -> T | D:
        if isinstance(value, str) and value.strip().isalpha():
            if value.strip().casefold() == word:
                return meaning
            raise Fault(f'{as_written(value)} is neither "{word}" nor a length', f'try "{word}"')
        return kind(value)

    # A length's text may be any in a schema, so that of the word needs no part of its own.
    return Kind(read, meaning, kind.form, f'"{word}", or {kind.sort}', kind.schema, kind.called)


def size(scope: Scope) -> Kind[Fraction]:
    """Lengths above 0, in mm."""
    return Kind(lambda value: read_size(value, scope.units), Fraction(1), "…", "a length", _SIZE_SHAPE, "size")


def distance(scope: Scope) -> Kind[Fraction]:
    """Lengths from 0, in mm."""
    read, shape = (lambda value: read_distance(value, scope.units)), _DISTANCE_SHAPE
    return Kind(read, Fraction(0), "…", "a length", shape, "distance")
