"""A typed view of one table of a file: it reads keys, keeps every fault with its place, and knows no trade."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Final, TypeVar

from storystick.errors import Fault, FaultCollector, Faults, as_written
from storystick.job.kinds import Kind
from storystick.job.other_words import unknown

MOST_ENTRIES: Final = 1000

T = TypeVar("T")
D = TypeVar("D")


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

    def need(self, key: str, kind: Kind[T], meaning: str = "") -> T:
        """The value of a key that may not be left out; ``meaning`` is what it says, where its name does not."""
        self.require(key, kind.form, meaning or kind.sort)
        return self.get(key, kind, kind.stand_in)

    def require(self, key: str, form: str, meaning: str = "") -> None:
        """Keep a fault where the key is left out."""
        if not self.has(key):
            self.fault(f"{key} is missing", ", ".join(filter(None, (f"add {key} = {form}", meaning))))

    def each(self, key: str, read: Callable[[object], T]) -> tuple[T, ...]:
        """Those values of the key's list that can be read; nothing where the key is left out."""
        entries: list[T] = []
        for number, value in enumerate(self.get(key, read_list, ()), 1):
            with self.at(f"{key}[{number}]"):
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
                with self.at():
                    raise unknown(key, "a key here", self._known)
        self.stop_if_faulty()

    def stop_if_faulty(self) -> None:
        """Raise the faults kept so far, if any; keys not yet asked for are left in peace."""
        if not self._sound:
            raise Faults(self._faults.faults)


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
