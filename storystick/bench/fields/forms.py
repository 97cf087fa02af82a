"""The fields of a file, thing by thing: the form of what is chosen, and the outline of all that the file has."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from storystick.bench.declared import entry_of, named_in, tables_in
from storystick.bench.fields.examples import Usual, typed_as
from storystick.bench.fields.groups import HEADS
from storystick.bench.fields.labels import sentence
from storystick.bench.fields.making import Maker, Slot, name_field
from storystick.bench.fields.model import Action, Field, Form, Item, Option, Part
from storystick.bench.fields.openings import SPECIAL
from storystick.bench.fields.shapes import kind_of
from storystick.bench.fields.things import Thing, begin_counted, begin_named, is_counted, things_in, told_of
from storystick.bench.file_kinds import FileKind
from storystick.bench.places import Steps
from storystick.errors import Fault
from storystick.job.cabinets import EACH_OWN, INSTEAD
from storystick.job.key_reference import as_toml
from storystick.job.kinds import Kind
from storystick.job.likeness import LIKE, Likeness
from storystick.lengths import Units

_FRAMING: Final = "mortise and tenon"
"""What joins the members of a face frame, where nothing else is said."""


@dataclass(frozen=True, slots=True)
class Forms:
    """The forms of a file that says ``tables``.

    ``follow`` are names of what follows from it and can be named in it, by what they are names of.
    """

    of: FileKind
    tables: Mapping[str, object]
    follow: Mapping[str, Sequence[str]] = field(default_factory=dict)

    @property
    def units(self) -> Units:
        said = self.tables.get("units")
        return next((unit for unit in Units if unit.value == said), Units.INCH)

    def things(self, word: str) -> list[Thing]:
        """What the file has under a word."""
        return list(things_in(word, self.tables.get(word), self.of.keys[word]))

    def maker(self, at: Steps) -> Maker:
        """What makes the fields of this file."""
        named = {word: self.things(word) for word in self.of.keys if self.is_counted(word)}
        names = {word: [thing.name for thing in things] for word, things in named.items()}
        measures = {word: {thing.name: thing.measure for thing in things} for word, things in named.items()}
        for word, some in self.follow.items():
            names[word], measures[word] = list(some), dict.fromkeys(some, "")
        usual = Usual(self.units, names, measures.get("stock", {}))
        kinds = {word: (named_in(key.kind), key) for word, key in self.of.keys.items()}
        begins = {word: as_toml(begin_named(usual, of, key)) for word, (of, key) in kinds.items() if of is not None}
        joint = self.of.keys.get("joint")
        if joint is not None:
            framing = next(of for of in tables_in(named_in(joint.kind)) if of.keys["kind"].example == _FRAMING)
            begins["joints"] = as_toml(usual.begin_table(framing))
        return Maker(usual, measures, at, SPECIAL, begins=begins)

    def at(self, at: Steps) -> Form:
        """The form of the thing that a place belongs to; that of the whole file where it belongs to none."""
        word = str(at[0]) if at else ""
        if word not in self.of.keys or not self.is_apart(word):
            return self._head(at)
        if not self.is_counted(word):
            return self._single(word, at)
        thing = next((thing for thing in self.things(word) if at[: len(thing.steps)] == thing.steps), None)
        if thing is None or told_of(word).together:
            return self._all_of(word, at)
        return self._thing(word, thing, at)

    def _head(self, at: Steps) -> Form:
        keys = {name: key for name, key in self.of.keys.items() if not self.is_apart(name)}
        maker = self.maker(at)
        head = HEADS[self.of]
        items = maker.head(head, keys, self.tables)
        unknown = maker.unknown(self.of.keys, self.tables, ())
        return Form((), head.title, head.words, [*items, *unknown])

    def is_counted(self, word: str) -> bool:
        """Whether there are several of a word, each a thing of its own."""
        return is_counted(self.of.keys[word].kind)

    def is_apart(self, name: str) -> bool:
        """Whether what stands under a key has a form of its own."""
        kind = self.of.keys[name].kind
        return is_counted(kind) or (not kind.in_table and bool(kind.take_from) and bool(tables_in(kind)))

    def _single(self, word: str, at: Steps) -> Form:
        key, maker = self.of.keys[word], self.maker(at)
        item = maker.item(Slot(word, key, self.tables.get(word), (word,)))
        if isinstance(item, Part) and item.is_given:
            return Form((word,), told_of(word).all, item.words, item.items, item.actions)
        return Form((word,), told_of(word).all, sentence(key.words), [], item.actions)

    def _all_of(self, word: str, at: Steps) -> Form:
        """All the things of a word, with what adds one."""
        key, maker = self.of.keys[word], self.maker(at)
        item = maker.item(Slot(word, key, self.tables.get(word) or {}, (word,)))
        items: Sequence[Item] = ()
        if told_of(word).together and isinstance(item, Part):
            items = item.items
        title = told_of(word).all
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
        new = f"New {told_of(word).one}"
        if (of := named_in(shape)) is not None:
            name = maker.usual.free_name(word)
            return (Action(new, "raw", (word, name), as_toml(begin_named(maker.usual, of, key)), chooses=(word, name)),)
        count = len(self.things(word))
        begins = [(of, begin_counted(maker.usual, word, of)) for of in tables_in(entry_of(shape))]
        labels = (
            [new]
            if len(begins) == 1
            else [f"{new}: {of.words.rstrip('.').partition(',')[0].lower()}" for of, _ in begins]
        )
        return tuple(
            Action(label, "add", (word,), as_toml(begin), chooses=(word, count))
            for label, (_, begin) in zip(labels, begins, strict=True)
        )

    def _value(self, steps: Steps) -> object:
        """What the file says at the place of a thing that it has."""
        value: Any = self.tables
        for step in steps:
            value = value[step]
        return value

    def _thing(self, word: str, thing: Thing, at: Steps) -> Form:
        value, key, maker = self._value(thing.steps), self.of.keys[word], self.maker(at)
        named = named_in(key.kind)
        shape = named if named is not None else entry_of(key.kind)
        kind = kind_of(shape)
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


def _next(steps: Steps) -> Steps:
    *outer, last = steps
    return (*outer, last + 1) if isinstance(last, int) else steps
