"""The things of a file: how the page speaks of them, what it tells of each, and what a new one begins with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from storystick.bench.declared import entry_of, named_in, tables_in
from storystick.bench.fields.examples import Usual, typed_as
from storystick.bench.fields.labels import label_of
from storystick.bench.places import Steps
from storystick.job.keys import Key, TableOf, default_name


@dataclass(frozen=True, slots=True)
class Told:
    """How the page speaks of all the things under a word, and of ``one`` of them, empty for the word itself.

    ``measures`` are the keys that are told of a thing beside its name; ``begins`` is what a new one has beside what it
    needs, None for what is usual. Of those that are ``together`` one form shows all.
    """

    all: str
    one: str = ""
    measures: tuple[str, ...] = ()
    begins: Mapping[str, object] = field(default_factory=dict)
    together: bool = False


_TOLD: Final[Mapping[str, Told]] = {
    "stock": Told("Stocks", together=True),
    "joint": Told("Joints", measures=("kind",)),
    "cabinet": Told("Cabinets", measures=("height", "width", "depth"), begins={"openings": ["equal"], "carcass": None}),
    "stick": Told(
        "Sticks", measures=("length",), begins={"openings": ["equal", "equal"], "length": None, "part": None}
    ),
    "run": Told("Walls", "wall", ("length",), {"order": [{"filler": "equal"}]}),
    "template": Told("Templates"),
    "square_stick": Told("Square sticks", begins={"side": None}),
    "rectangle": Told("Rectangles"),
    "router": Told("Routers", measures=("base_diameter",)),
    "bit": Told("Bits", measures=("diameter",)),
    "bar": Told("Spacer bars", "spacer bar"),
    "saw": Told("Saws"),
    "rod": Told("Pinch rods", "pinch rod"),
    "printer": Told("Printers"),
    "glue": Told("Glues"),
    "clamp": Told("Clamps"),
    "square": Told("Squareness"),
    "rod_stock": Told("New rods"),
    "glue_up": Told("Gluing up"),
    "sawing": Told("At the saw"),
    "routing": Told("With the router"),
}
"""The words of both kinds of files."""


def told_of(word: str) -> Told:
    """How the page speaks of what stands under a word."""
    told = _TOLD.get(word, Told(label_of(word)))
    return told if told.one else replace(told, one=label_of(word).lower())


@dataclass(frozen=True, slots=True)
class Thing:
    """A thing of a file: what it is called, beside its name, and its place."""

    steps: Steps
    name: str
    measure: str


def things_in(word: str, said: object, key: Key) -> Iterator[Thing]:
    """What a file has under a word, of which it says this."""
    match said:
        case dict() if named_in(key.kind) is not None:
            yield from (Thing((word, name), name, _measure(word, each)) for name, each in said.items())
        case dict():
            yield Thing((word,), _own_name(word, 1, said), _measure(word, said))
        case list():
            numbered = enumerate(said)
            yield from (Thing((word, n), _own_name(word, n + 1, each), _measure(word, each)) for n, each in numbered)


def _own_name(word: str, number: int, said: object) -> str:
    name = said.get("name") if isinstance(said, dict) else None
    return name if isinstance(name, str) and name.strip() else default_name(word, number)


def _measure(word: str, said: object) -> str:
    """What is told of a thing beside its name."""
    if not isinstance(said, dict):
        return typed_as(said)
    return " × ".join(typed_as(said[name]) for name in told_of(word).measures if name in said)


def is_counted(shape: object) -> bool:
    """Whether there are several of it, each a thing of its own."""
    return named_in(shape) is not None or (entry_of(shape) is not None and bool(tables_in(entry_of(shape))))


def begin_named(usual: Usual, of: object, key: Key) -> object:
    """What a new thing begins with that stands by its name."""
    tables = tables_in(of)
    if not tables:
        return usual.adapted(next(iter(key.example.values())) if isinstance(key.example, dict) else "", of)
    return usual.begin_table(tables[0])


def begin_counted(usual: Usual, word: str, of: TableOf[Any]) -> dict[str, object]:
    """What a new thing begins with that is counted: its name, what it needs, and what it begins with beside that."""
    begins = told_of(word).begins
    own: dict[str, object] = {"name": usual.free_name(word)} if "name" in of.keys else {}
    for name, key in of.keys.items():
        if key.is_needed or name in begins:
            own[name] = begins.get(name) or usual.begin(key)
    return own
