"""Reading the tables that a job counts, its sticks and cabinets: each has a number and a name of its own."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from storystick.errors import Fault, as_written
from storystick.job.model import default_name, numbered_place
from storystick.job.tables import NAME, Table, read_name, tables

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
