"""The fields of a file, thing by thing: the form of what is chosen, and the outline of all that the file has."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from storystick.bench.declared import entry_of, named_in, tables_in
from storystick.bench.fields.examples import Usual, typed_as
from storystick.bench.fields.making import Maker, Slot, complete_rows, label_of, name_field, sentence
from storystick.bench.fields.model import Action, Field, Form, Item, Option, Part
from storystick.bench.fields.openings import SPECIAL
from storystick.bench.file_kinds import FileOfKeys
from storystick.bench.places import Steps
from storystick.errors import Fault
from storystick.job.cabinets import EACH_OWN, INSTEAD
from storystick.job.key_reference import as_toml
from storystick.job.keys import Key, TableOf, default_name
from storystick.job.kinds import Kind
from storystick.job.likeness import LIKE, Likeness
from storystick.lengths import Units

_WORDS: Final[Mapping[str, str]] = {
    "stock": "Stocks",
    "joint": "Joints",
    "cabinet": "Cabinets",
    "stick": "Sticks",
    "run": "Walls",
    "template": "Templates",
    "square_stick": "Square sticks",
    "rectangle": "Rectangles",
    "router": "Routers",
    "bit": "Bits",
    "bar": "Spacer bars",
    "saw": "Saws",
    "rod": "Pinch rods",
    "printer": "Printers",
    "glue": "Glues",
    "clamp": "Clamps",
    "square": "Squareness",
    "rod_stock": "New rods",
    "glue_up": "Gluing up",
    "sawing": "At the saw",
    "routing": "With the router",
}
_SINGLE: Final[Mapping[str, str]] = {"run": "wall", "bar": "spacer bar", "rod": "pinch rod"}
_MEASURES: Final[Mapping[str, tuple[str, ...]]] = {
    "cabinet": ("height", "width", "depth"),
    "joint": ("kind",),
    "router": ("base_diameter",),
    "bit": ("diameter",),
    "stick": ("length",),
    "run": ("length",),
}
"""What is told of a thing beside its name, where it is chosen."""


def title_of(word: str) -> str:
    """What all the things of a word are called."""
    return _WORDS.get(word, label_of(word))


def is_counted(shape: object) -> bool:
    """Whether there are several of it, each a thing of its own."""
    return named_in(shape) is not None or (entry_of(shape) is not None and bool(tables_in(entry_of(shape))))


@dataclass(frozen=True, slots=True)
class Thing:
    """A thing of a file: what it is called, beside its name, and its place."""

    steps: Steps
    name: str
    measure: str


@dataclass(frozen=True, slots=True)
class Forms:
    """The forms of a file that says ``tables``."""

    of: FileOfKeys
    tables: Mapping[str, object]

    @property
    def units(self) -> Units:
        said = self.tables.get("units")
        return next((unit for unit in Units if unit.value == said), Units.INCH)

    def things(self, word: str) -> list[Thing]:
        """What the file has under a word."""
        match self.tables.get(word):
            case dict() as named if named_in(self.of.keys[word].kind) is not None:
                return [Thing((word, name), name, _measure(word, said)) for name, said in named.items()]
            case dict() as alone:
                return [Thing((word,), _own_name(word, 1, alone), _measure(word, alone))]
            case list() as some:
                numbered = enumerate(some)
                return [Thing((word, n), _own_name(word, n + 1, said), _measure(word, said)) for n, said in numbered]
        return []

    def maker(self, at: Steps) -> Maker:
        """What makes the fields of this file."""
        named = {word: self.things(word) for word in self.of.keys if is_counted(self.of.keys[word].kind)}
        names = {word: [thing.name for thing in things] for word, things in named.items()}
        measures = {word: {thing.name: thing.measure for thing in things} for word, things in named.items()}
        return Maker(Usual(self.units, names), measures, at, SPECIAL)

    def at(self, at: Steps) -> Form:
        """The form of the thing that a place belongs to; that of the whole file where it belongs to none."""
        word = str(at[0]) if at else ""
        if word not in self.of.keys or not (is_counted(self.of.keys[word].kind) or tables_in(self.of.keys[word].kind)):
            return self._head(at)
        if not is_counted(self.of.keys[word].kind):
            return self._single(word, at)
        thing = next((thing for thing in self.things(word) if at[: len(thing.steps)] == thing.steps), None)
        if thing is None or word == "stock":
            return self._all_of(word, at)
        return self._thing(word, thing, at)

    def _head(self, at: Steps) -> Form:
        keys = {name: key for name, key in self.of.keys.items() if not self.is_apart(name)}
        maker = self.maker(at)
        items = complete_rows(maker, keys, self.of.head, self.tables)
        unknown = maker.unknown(self.of.keys, self.tables, ())
        return Form((), self.of.title, self.of.words, [*items, *unknown])

    def is_counted(self, word: str) -> bool:
        """Whether there are several of a word, each a thing of its own."""
        return is_counted(self.of.keys[word].kind)

    def is_apart(self, name: str) -> bool:
        """Whether what stands under a key has a form of its own."""
        kind = self.of.keys[name].kind
        return is_counted(kind) or (not kind.in_table and bool(kind.take_from) and bool(tables_in(kind)))

    def _single(self, word: str, at: Steps) -> Form:
        key, maker = self.of.keys[word], self.maker(at)
        if not self.is_apart(word):
            return self._head(at)
        item = maker.item(Slot(word, key, self.tables.get(word), (word,)))
        if isinstance(item, Part) and item.is_given:
            return Form((word,), title_of(word), item.words, item.items, item.actions)
        return Form((word,), title_of(word), sentence(key.words), [], item.actions)

    def _all_of(self, word: str, at: Steps) -> Form:
        """All the things of a word, with what adds one."""
        key, maker = self.of.keys[word], self.maker(at)
        item = maker.item(Slot(word, key, self.tables.get(word) or {}, (word,)))
        items: Sequence[Item] = ()
        if word == "stock" and isinstance(item, Part):
            items = item.items
        title = title_of(word)
        return Form((word,), title, sentence(key.words), items, self.adds(word, maker))

    @property
    def first(self) -> Steps:
        """What is shown where nothing is chosen: the first thing that is made."""
        found = (
            thing.steps for word in ("cabinet", "stick", "run") if word in self.of.keys for thing in self.things(word)
        )
        return next(found, ())

    def adds(self, word: str, maker: Maker | None = None) -> tuple[Action, ...]:
        """What adds a thing of a word, and shows it then."""
        maker = maker or self.maker(())
        shape, key = self.of.keys[word].kind, self.of.keys[word]
        new = f"New {_SINGLE.get(word, label_of(word).lower())}"
        if (of := named_in(shape)) is not None:
            name = maker.usual.free_name(word)
            return (Action(new, "raw", (word, name), as_toml(_begin_named(maker, of, key)), chooses=(word, name)),)
        count = len(self.things(word))
        begins = [(of, _begin_counted(maker, word, of)) for of in tables_in(entry_of(shape))]
        labels = [new] if len(begins) == 1 else [f"{new}: {_first_words(of)}" for of, _ in begins]
        return tuple(
            Action(label, "add", (word,), as_toml(begin), chooses=(word, count))
            for label, (_, begin) in zip(labels, begins, strict=True)
        )

    def _thing(self, word: str, thing: Thing, at: Steps) -> Form:
        value, key, maker = _at(self.tables, thing.steps), self.of.keys[word], self.maker(at)
        named = named_in(key.kind)
        shape = named if named is not None else entry_of(key.kind)
        kind = shape if isinstance(shape, Kind) else Kind(lambda *_: None, None, "", schema=shape)
        item = maker.item(Slot(word, replace(key, of=kind), value, thing.steps, thing.name))
        if not isinstance(item, Part):
            return Form(thing.steps, thing.name, sentence(key.words), [item])
        items = list(item.items)
        if named is not None:
            items = [name_field(thing.steps, thing.name), *self._kinds(kind, value, thing.steps), *items]
        if taken := self._taken(word, thing):
            items = list(_with_taken(maker, kind, value, thing.steps, *taken))
        items = [_as_name(each, thing.steps) for each in items]
        copy = Action("Make another like it", "duplicate", thing.steps, chooses=_next(thing.steps))
        return Form(thing.steps, thing.name, item.words, items, (copy, *item.actions))

    def _kinds(self, kind: Kind[Any], value: object, steps: Steps) -> Iterator[Field]:
        """The choice of a kind that says which other keys there are: what both kinds have stays."""
        tables = tables_in(kind)
        if len(tables) < 2 or not isinstance(value, dict):
            return
        words = [str(of.keys["kind"].example) for of in tables]
        options = [Option(word, word) for word in words]
        now = typed_as(value.get("kind", ""))
        if now not in words:
            options.insert(0, Option(now, now or "choose"))
        said = "What it is: the fields below are those of its kind."
        yield Field((*steps, "kind"), "select", "Kind", said, now, options=options, is_needed=True, redraws=True)

    def _taken(self, word: str, thing: Thing) -> tuple[Mapping[str, object], str] | None:
        """What a cabinet has by its likeness with another, and the name of that."""
        values, number = self.tables.get(word), thing.steps[-1]
        if word != "cabinet" or not isinstance(values, list) or not isinstance(number, int):
            return None
        own = values[number]
        if not isinstance(own, dict) or LIKE not in own:
            return None
        names = [each.name for each in self.things(word)]
        try:
            whole = Likeness(word, names, values, EACH_OWN, INSTEAD).whole(number)
        except Fault:
            return None
        assert isinstance(whole, dict)
        return {name: said for name, said in whole.items() if name not in own}, typed_as(own[LIKE])


def _as_name(item: Item, steps: Steps) -> Item:
    """The name of a thing that is counted is changed wherever it is named."""
    if isinstance(item, Field) and item.steps == (*steps, "name"):
        return replace(item, change="rename", at=steps, redraws=True)
    return item


def _with_taken(
    maker: Maker, kind: Kind[Any], value: object, steps: Steps, taken: Mapping[str, object], name: str
) -> Iterator[Item]:
    (of,) = tables_in(kind)
    assert isinstance(value, dict)
    yield from replace(maker, taken=taken, taken_from=name).rows(of, value, steps)


def _begin_named(maker: Maker, of: object, key: Key) -> object:
    tables = tables_in(of)
    if not tables:
        return maker.usual.adapted(next(iter(key.example.values())) if isinstance(key.example, dict) else "", of)
    return maker.usual.begin_table(tables[0])


def _begin_counted(maker: Maker, word: str, of: TableOf[Any]) -> dict[str, object]:
    begin: dict[str, object] = {"name": maker.usual.free_name(word)} if "name" in of.keys else {}
    for name, key in of.keys.items():
        if key.is_needed or name in _BEGINS_WITH.get(word, {}):
            begin[name] = _BEGINS_WITH.get(word, {}).get(name) or maker.usual.begin(key)
    if "carcass" in of.keys:
        begin["carcass"] = maker.usual.begin(of.keys["carcass"])
    if word == "stick":
        begin["part"] = maker.usual.begin(of.keys["part"])
    return begin


_BEGINS_WITH: Final[Mapping[str, Mapping[str, object]]] = {
    "cabinet": {"openings": ["equal"]},
    "stick": {"openings": ["equal", "equal"], "length": ""},
    "run": {"order": [{"filler": "equal"}]},
}
"""What a new thing has beside what it needs."""


def _first_words(of: TableOf[Any]) -> str:
    return of.words.rstrip(".").partition(",")[0].lower()


def _at(tables: object, steps: Steps) -> object:
    for step in steps:
        tables = tables[step]  # type: ignore[index]  # steps of a thing that is there
    return tables


def _next(steps: Steps) -> Steps:
    *outer, last = steps
    return (*outer, last + 1) if isinstance(last, int) else steps


def _own_name(word: str, number: int, said: object) -> str:
    name = said.get("name") if isinstance(said, dict) else None
    return name if isinstance(name, str) and name.strip() else default_name(word, number)


def _measure(word: str, said: object) -> str:
    """What is told of a thing beside its name."""
    if not isinstance(said, dict):
        return typed_as(said)
    return " × ".join(typed_as(said[name]) for name in _MEASURES.get(word, ()) if name in said)
