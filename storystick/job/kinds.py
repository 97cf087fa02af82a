"""Kinds of values of a file, each with how it is read, its words and its shape; a table of them, with its faults."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from enum import Enum
from fractions import Fraction
from pathlib import PureWindowsPath
from typing import Any, Final, Generic, TypeAlias, TypeVar, cast

from storystick.errors import Fault, FaultCollector, Faults, Where, as_written
from storystick.job.other_words import unknown
from storystick.job.sources import Companions
from storystick.lengths import INCH_MM, Units, read_distance, read_size

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
    table by key what is more than one value. ``names`` is the word of the tables that it names one of; ``in_table`` are
    the keys that say the same in a table that may stand in the place of a plain value.
    """

    read: Callable[[object, Scope], T]
    stand_in: T
    form: str
    sort: str = ""
    schema: object = None
    called: str = ""
    take_from: Callable[[Table, str, object, Scope], Any] | None = None
    names: str = ""
    in_table: tuple[str, ...] = ()

    def within(self, scope: Scope) -> Callable[[object], T]:
        """Reads values in a scope."""
        return lambda value: self.read(value, scope)

    def made(self, make: Callable[[T], D], stand_in: D) -> Kind[D]:
        """The same kind of value, of which something else is made."""
        return replace(cast(Any, self), read=lambda value, scope: make(self.read(value, scope)), stand_in=stand_in)

    def limited(self, check: Callable[[T, object, Scope], None]) -> Kind[T]:
        """The same kind, of which ``check`` raises what cannot be, from the value as read and as written."""

        def read(value: object, scope: Scope) -> T:
            thing = self.read(value, scope)
            check(thing, value, scope)
            return thing

        return replace(self, read=read)

    def take(self, table: Table, key: str, default: object, scope: Scope) -> Any:
        """The value of a table's key, the default where it is left out or has a fault."""
        if self.take_from:
            return self.take_from(table, key, default, scope)
        return table.get(key, self.within(scope), default)


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

    def names(self, word: str) -> Names[Any]:
        """What is named by a word; nothing where the file has no such table."""
        return self.named.get(word) or Names(word, {}, self.file)


BARE: Final = Scope(Units.MM)
"""For kinds that ask nothing of a scope."""


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


def _read_yes_no(value: object, _: Scope) -> bool:
    if not isinstance(value, bool):
        raise Fault(f"{as_written(value)} is neither true nor false", "write true or false, without quotes")
    return value


def _read_number(value: object, _: Scope) -> Fraction:
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

NAME: Final = Kind(lambda value, _: read_name(value), "", '"…"', "a name", NAME_SHAPE, "name")
YES_NO: Final = Kind(_read_yes_no, False, "true or false", schema={"type": "boolean"})
NUMBER: Final = Kind(_read_number, Fraction(1), "…", "a number above 0", _NUMBER_SHAPE, "number")


def whole(least: int, most: int) -> Kind[int]:
    """Whole numbers from ``least`` to ``most``."""

    def read(value: object, _: Scope) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            what = f"{as_written(value)} is not a whole number from {least} to {most}"
            raise Fault(what, f"write it like {min(least + 3, most)}")
        return value

    shape: Schema = {"type": "integer", "minimum": least, "maximum": most}
    return Kind(read, least, "…", f"a whole number from {least} to {most}", shape)


def choice(options: Mapping[str, T]) -> Kind[T]:
    """What one of some words stands for."""

    def read(value: object, _: Scope) -> T:
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

    def read(value: object, scope: Scope) -> T | D:
        if isinstance(value, str) and value.strip().isalpha():
            if value.strip().casefold() == word:
                return meaning
            raise Fault(f'{as_written(value)} is neither "{word}" nor a length', f'try "{word}"')
        return kind.read(value, scope)

    # A length's text may be any in a schema, so that of the word needs no part of its own.
    return Kind(read, meaning, kind.form, f'"{word}", or {kind.sort}', kind.schema, kind.called)


SIZE: Final = Kind(
    lambda value, scope: read_size(value, scope.units),
    Fraction(1),
    "…",
    "a length",
    _number_or_text({"minLength": 1}, exclusiveMinimum=0),
    "size",
)
"""Lengths above 0, in mm."""

DISTANCE: Final = Kind(
    lambda value, scope: read_distance(value, scope.units),
    Fraction(0),
    "…",
    "a length",
    _number_or_text({"minLength": 1}, minimum=0),
    "distance",
)
"""Lengths from 0, in mm."""


def by_units(inch: str, mm: str) -> Callable[[Scope], Fraction]:
    """A length (mm) that is usual by the units of a file: so many inches, such as "1 1/2", or so many mm."""
    sizes = {Units.INCH: sum(map(Fraction, inch.split())) * INCH_MM, Units.MM: Fraction(mm)}
    return lambda scope: sizes[scope.units]


MOST_ENTRIES: Final = 1000


class Table:
    """One table. A key is known once it was asked for; what a fault spoils is left out when the table is closed."""

    def __init__(self, value: object, known: Iterable[str] = (), form: str = "{ key = …, key = … }") -> None:
        """``form`` is how such a table is written, with … for what only the user knows."""
        if not isinstance(value, dict):
            raise Fault(f"{as_written(value)} is not a table", f"write it as {form}")
        self._values: Mapping[str, object] = value
        self._known = list(known)
        self._faults = FaultCollector()
        self._sound = True

    def has(self, key: str) -> bool:
        """Whether the key is given; having been asked for, it is known from now on."""
        if key not in self._known:
            self._known.append(key)
        return key in self._values

    def __getitem__(self, key: str) -> object:
        return self._values[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    @contextmanager
    def at(self, where: str = "") -> Iterator[None]:
        """Keep the faults raised inside, with ``where`` in front of their places, and go on after the block."""
        sound = False
        with self._faults.at(where):
            yield
            sound = True
        self._sound = self._sound and sound

    def fault(self, what: str, cure: str = "", where: str = "") -> None:
        """Keep one fault."""
        with self.at(where):
            raise Fault(what, cure)

    def get(self, key: str, read: Callable[[object], T], default: D) -> T | D:
        """The key's value; ``default`` where it is left out or has a fault."""
        if self.has(key):
            with self.at(key):
                return read(self._values[key])
        return default

    def need(self, key: str, kind: Kind[T], scope: Scope = BARE) -> T:
        """The value of a key that may not be left out."""
        self.require(key, kind.form, kind.sort)
        return self.get(key, kind.within(scope), kind.stand_in)

    def require(self, key: str, form: str, meaning: str = "") -> None:
        """Keep a fault where the key is left out."""
        if not self.has(key):
            cure = ", ".join(filter(None, (f"add {key} = {form}", meaning)))
            self.fault(f"{key} is missing", cure, Where.unsaid(key))

    def each(self, key: str, read: Callable[[object], T]) -> tuple[T, ...]:
        """Those values of the key's list that can be read; nothing where the key is left out."""
        entries: list[T] = []
        for number, value in enumerate(self.get(key, read_list, ())):
            with self.at(entry_place(key, number)):
                entries.append(read(value))
        return tuple(entries)

    def one_or_each(self, key: str, read: Callable[[object], T]) -> tuple[T, ...]:
        """As :meth:`each`, for a key that may also hold one value without a list."""
        if self.has(key) and not isinstance(self._values[key], list):
            one = self.get(key, read, None)
            return () if one is None else (one,)
        return self.each(key, read)

    @property
    def is_sound(self) -> bool:
        """Whether nothing was at fault so far."""
        return self._sound

    def close(self) -> None:
        """Raise every fault of the table, its unknown keys among them, if any of it could not be read."""
        for key in self._values:
            if key not in self._known:
                with self.at(Where.unsaid(key)):
                    raise unknown(key, "a key here", self._known)
        self.stop_if_faulty()

    def stop_if_faulty(self) -> None:
        """Raise the faults kept so far, if any; keys not yet asked for are left in peace."""
        if not self._sound:
            raise Faults(self._faults.faults)


def entry_place(key: str, number: int) -> Where:
    """Where an entry of a key's list stands, by its number from 0."""
    return Where(f"{key}[{number + 1}]", (key, number))


def read_list(value: object) -> list[object]:
    """A list with something in it, but not too much."""
    if not isinstance(value, list):
        raise Fault(f"{as_written(value)} is not a list", "put it in square brackets")
    if not value:
        raise Fault("the list is empty", "give at least one entry, or leave the key out")
    if len(value) > MOST_ENTRIES:
        raise Fault(f"the list has {len(value)} entries; at most {MOST_ENTRIES} are allowed", "divide it")
    return value


def tables(heading: str) -> Callable[[object], list[object]]:
    """A list of tables, each written under its own ``heading``."""

    def read(value: object) -> list[object]:
        if isinstance(value, dict):
            raise Fault("the table stands alone", f"write its heading with two brackets at each side: {heading}")
        return read_list(value)

    return read
