"""Tables that a file names or counts: how they are called, and the reading of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from storystick.errors import Fault, as_written
from storystick.job.tables import NAME, Names, Table, read_name, tables


def numbered_place(word: str, number: int, name: str) -> str:
    """Where a fault in a stick or a cabinet stands; its name is said where it has one of its own."""
    default = default_name(word, number)
    return default if name == default else f"{default} ({as_written(name)})"


def default_name(word: str, number: int) -> str:
    """The name of a stick or a cabinet that was given none."""
    return f"{word} {number}"


def check(holds: bool, what: str, value: object) -> None:
    if not holds:
        raise ValueError(f"{what}, not {value}")


def read_named(job: Table, word: str, place: str, read: Callable[[str, object], T], of: str = "this job") -> Names[T]:
    """What ``read`` makes of each key under ``[word]``, from the key and its value; ``place`` has room for the key."""
    table = job.get(word, lambda value: _read_heading(word, value), None if job.has(word) else Table({}))
    if table is None:
        return Names(word, None, of)
    things: dict[str, T | None] = dict.fromkeys(table)
    for key in things:
        with job.at(place.format(key)):
            things[key] = read(read_name(key), table[key])
    return Names(word, things, of)


def _read_heading(word: str, value: object) -> Table:
    if isinstance(value, list):
        cure = f"write [{word}] once, with one bracket at each side, and below it a key for each"
        raise Fault("the heading has two brackets at each side", cure)
    return Table(value)


T = TypeVar("T")


def read_numbered(job: Table, word: str, read: Callable[[int, str, Table], T]) -> tuple[T, ...]:
    """What ``read`` makes of each table ``[[word]]``, from its number, its name and itself.

    The faults of those with any are kept in ``job``.
    """
    things: list[T] = []
    numbers: dict[str, int] = {}
    for number, value in enumerate(job.get(word, tables(f"[[{word}]]"), ()), 1):
        with job.at(_place(word, number, value)):
            table = Table(value)
            name = _read_own_name(word, number, numbers, table)
            things.append(read(number, name, table))
    return tuple(things)


def _place(word: str, number: int, value: object) -> str:
    """Where the table stands, with its name as far as that can be read."""
    try:
        return numbered_place(word, number, read_name(Table(value)["name"]))
    except (Fault, KeyError):
        return default_name(word, number)


def _read_own_name(word: str, number: int, numbers: dict[str, int], table: Table) -> str:
    """The name, which no other may have; ``numbers`` are those before it by name."""
    name = table.get("name", NAME, default_name(word, number))
    first = numbers.setdefault(name, number)
    if first != number:
        table.fault(f"{as_written(name)} is already the name of {word} {first}", "give each its own", "name")
    return name
