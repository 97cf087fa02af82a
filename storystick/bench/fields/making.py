"""Fields and parts of a form, made of what is declared of a key and of what a file says there."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from storystick.bench.declared import best_table, entry_of, named_in, parts, tables_in
from storystick.bench.fields.examples import Usual, typed_as
from storystick.bench.fields.groups import Gathered, Head, complete, gathered, is_hidden
from storystick.bench.fields.labels import (
    FEW_WORDS,
    YES_NO,
    adding_words,
    as_usual,
    first_of,
    gist_of,
    label_of,
    sentence,
)
from storystick.bench.fields.model import Action, Field, Item, Option, Part
from storystick.bench.fields.shapes import (
    is_a_list,
    is_figure,
    is_of_kinds,
    is_yes_no,
    kind_of,
    plain_of,
    words_of,
    words_of_list,
)
from storystick.bench.places import Steps
from storystick.job.key_reference import as_toml, left_out_in
from storystick.job.keys import Key, TableOf
from storystick.job.kinds import Kind

_FEW_WORDS: Final = 3
"""So many words are all in sight; of more one is chosen from a list."""

_TWO: Final = 2
_SHARE: Final = "share"
_AS_IN_THE_FILE: Final = "as in the file"
_LOOK_THERE: Final = Key(kind_of(None), "not a key here: take it away, or look for a like one", "")


@dataclass(frozen=True, slots=True)
class Slot:
    """What is to be shown: a ``key`` of some ``name`` at a place, and its ``value``, None where it is left out.

    ``taken`` is what it is by its likeness with ``taken_from``. ``title`` is shown instead of the name.
    """

    name: str
    key: Key
    value: object
    steps: Steps
    title: str = ""
    taken: object = None
    taken_from: str = ""

    @property
    def label(self) -> str:
        return self.title or label_of(self.name)

    @property
    def shape(self) -> Kind[Any]:
        return self.key.kind


@dataclass(frozen=True, slots=True)
class Maker:
    """Makes what is shown of a file: ``things`` that it has, each with what it measures, by word and name.

    ``begins`` is what one more of a word begins with, as a file has it, where a field that names it can make it, or
    of a key that names only some kinds of those.
    What is ``chosen`` is open. ``special`` makes what some keys need made with care, by their table and name.
    ``taken`` is what the outermost table has by its likeness with another, ``taken_from``.
    """

    usual: Usual
    things: Mapping[str, Mapping[str, str]]
    chosen: Steps = ()
    special: Mapping[tuple[TableOf[Any], str], Callable[[Maker, Slot], Item]] = field(default_factory=dict)
    taken: Mapping[str, object] = field(default_factory=dict)
    taken_from: str = ""
    begins: Mapping[str, str] = field(default_factory=dict)

    def item(self, slot: Slot) -> Item:
        """What a key is shown as: its plain value, a table or a list; what is none of those as in the file."""
        shape, value = slot.shape, slot.value
        match value:
            case dict() if named_in(shape) is not None:
                return self.by_name(slot)
            case dict() if tables_in(shape):
                return self.table(slot)
            case list() if words_of_list(shape):
                return self._several(slot)
            case list() if is_a_list(shape):
                return self.entries(slot)
            case dict() | list():
                return self.raw(slot)
        if words_of_list(shape):
            return self._several(slot)
        plain = plain_of(shape)
        if plain is not None:
            return self._plain(slot, plain)
        return self._left_out(slot) if value is None else self.raw(slot)

    # Plain values

    def _plain(self, slot: Slot, plain: object) -> Field:
        words = words_of(plain)
        word = plain.names if isinstance(plain, Kind) else ""
        if word and not is_figure(plain):
            return self._name(slot, word)
        if words or is_yes_no(plain):
            return self._choice(slot, words or (False, True))
        own = replace(self._field(slot, "text"), is_short=is_figure(plain), names=tuple(self.things.get(word, ())))
        return replace(own, placeholder=self._stand_in(slot), example=self.usual.example(slot.key))

    def _field(self, slot: Slot, look: str) -> Field:
        value = "" if slot.value is None else typed_as(slot.value)
        return Field(
            slot.steps,
            look,
            slot.label,
            sentence(slot.key.words),
            value,
            actions=self._more(slot),
            is_needed=slot.key.is_needed and slot.taken is None,
        )

    def _stand_in(self, slot: Slot) -> str:
        """What stands for it while it is empty."""
        if slot.taken is not None:
            return f"{gist_of(slot.taken)}, as {slot.taken_from}"
        words = left_out_in(slot.key, self.usual.units)
        return "" if (slot.key.is_needed and not slot.key.otherwise) or words == "nothing" else words

    def _more(self, slot: Slot) -> tuple[Action, ...]:
        """The way from a plain value to a table that says more."""
        tables = tables_in(slot.shape)
        if not tables:
            return ()
        begin = self.usual.begin(slot.key)
        if slot.value is not None and slot.shape.in_table:
            begin = dict.fromkeys(slot.shape.in_table, slot.value)
        elif not isinstance(begin, dict):
            said = dict.fromkeys(slot.shape.in_table, begin)
            begin = {**self.usual.begin_table(tables[0]), **{n: v for n, v in said.items() if n in tables[0].keys}}
        if list(tables[0].keys) == [_SHARE]:
            spoken = f"{slot.label} as so many shares of what is left"
            return (Action("…", "raw", slot.steps, as_toml(begin), spoken, slot.steps),)
        return (Action("More …", "more", slot.steps, as_toml(begin), f"More of {slot.label.lower()}", slot.steps),)

    def _choice(self, slot: Slot, words: Sequence[object]) -> Field:
        """One of a few words; that which is usual is not said twice."""
        texts = [typed_as(word) for word in words]
        usual = "" if slot.key.is_needed and slot.taken is None else self._stand_in(slot)
        value = "" if slot.value is None or typed_as(slot.value) == usual else typed_as(slot.value)
        options = [Option(text, YES_NO.get(text, text)) for text in texts if text != usual]
        if not slot.key.is_needed or slot.taken is not None:
            label = YES_NO.get(usual, usual)
            options.insert(0, Option("", f"{label} (usual)" if usual in texts else as_usual(label)))
        if value not in {option.value for option in options}:
            options.append(Option(value, value or "choose"))
        look = "radio" if len(texts) <= _FEW_WORDS and len(options) <= _FEW_WORDS + 1 else "select"
        return replace(self._field(slot, look), value=value, options=options, redraws=True)

    def _name(self, slot: Slot, word: str) -> Field:
        """One of the things that the file has, with what each measures."""
        things = self.things.get(word, {})
        value = "" if slot.value is None else typed_as(slot.value)
        options = [Option(name, f"{name} — {size}" if size else name) for name, size in things.items()]
        if not slot.key.is_needed or slot.taken is not None:
            options.insert(0, Option("", as_usual(self._stand_in(slot))))
        if value not in {option.value for option in options}:
            options.append(Option(value, f"{value} — not in this file" if value else "choose"))
        own = self._field(slot, "select")
        return replace(own, value=value, options=options, actions=(*own.actions, *self._new(slot, word)))

    def _new(self, slot: Slot, word: str) -> Iterator[Action]:
        """What makes one more of what a field names, lets the field name it, and shows it."""
        if word in self.begins:
            name = self.usual.free_name(word)
            begin = self.begins.get(slot.name, self.begins[word])
            yield Action("New …", "new", slot.steps, begin, f"a {word} for this", (word, name))

    def _several(self, slot: Slot) -> Field:
        """Several of some words, each switched on and off."""
        words = words_of_list(slot.shape)
        alone = [word for part in parts(slot.shape) for word in words_of(part) if word not in words]
        given = slot.value if isinstance(slot.value, list) else [] if slot.value is None else [slot.value]
        options = [Option(as_toml(word) if given != [word] else "", str(word), given == [word]) for word in alone]
        for word in words:
            left = [each for each in words if (each in given) != (each == word)]
            options.append(Option(as_toml(left) if left else "", str(word), word in given))
        value = "" if slot.value is None else as_toml(slot.value)
        own = self._field(slot, "several")
        return replace(own, value=value, options=options, placeholder=self._stand_in(slot), change="raw")

    def raw(self, slot: Slot) -> Field:
        """What no field is made for, as it is written in the file."""
        value = "" if slot.value is None else as_toml(slot.value)
        words = f"{sentence(slot.key.words)} Shown {_AS_IN_THE_FILE}."
        own = Field(slot.steps, "raw", slot.label, words, value, placeholder=self._stand_in(slot), change="raw")
        away = Action("Take away", "remove", slot.steps, spoken=slot.label.lower(), chooses=slot.steps[:-1])
        return replace(own, example="" if value else as_toml(slot.key.example), actions=(away,) if value else ())

    # Tables, lists and tables by name

    def table(self, slot: Slot, actions: Sequence[Action] = (), of: TableOf[Any] | None = None) -> Part:
        """A table with its keys."""
        value = slot.value if isinstance(slot.value, dict) else {}
        of = of or best_table(slot.shape, value)
        assert of is not None, "asked for only where a table may stand"
        return Part(
            slot.steps,
            slot.label,
            of.words,
            self.gist(value, of),
            self.rows(of, value, slot.steps),
            actions or (self._take_away(slot),),
            is_open=self._is_open(slot.steps),
        )

    def _take_away(self, slot: Slot) -> Action:
        spoken = slot.label.lower()
        return Action("Take away", "remove", slot.steps, spoken=spoken, chooses=slot.steps[:-1])

    def _is_open(self, steps: Steps) -> bool:
        return self.chosen[: len(steps)] == steps

    def rows(self, of: TableOf[Any], value: Mapping[str, object], steps: Steps) -> list[Item]:
        """The keys of a table: those that stand first, the others in a part that is shut."""
        items: list[Item] = []
        for group in gathered(of):
            own = list(self.keys_of(of, value, steps, group.keys))
            items += [self.group(group, own, steps)] if group.title and own else own
        return [*items, *self.unknown(of.keys, value, steps)]

    def head(self, head: Head, keys: Mapping[str, Key], value: Mapping[str, object]) -> list[Item]:
        """Some keys at the top of a file, in the parts of its head."""
        items: list[Item] = []
        for group in complete(head.parts, keys):
            own = [self.item(Slot(name, keys[name], value.get(name), (name,))) for name in group.keys]
            items += [self.group(group, own, ())] if group.title else own
        return items

    def group(self, group: Gathered, items: Sequence[Item], steps: Steps) -> Part:
        """Some keys under a title; one that is a part already keeps its own place."""
        match items:
            case [Part() as only]:
                return replace(only, title=group.title, is_open=only.is_open or group.is_open)
        given = [item.label if isinstance(item, Field) else item.title for item in items if item.is_given]
        counted = [item.gist for item in items if isinstance(item, Part) and item.look in ("openings", "bands")]
        holds = any(self._is_open(item.steps) for item in items)
        return Part(
            (), group.title, gist=", ".join(counted or given).lower(), items=items, is_open=group.is_open or holds
        )

    def keys_of(
        self, of: TableOf[Any], value: Mapping[str, object], steps: Steps, names: Sequence[str]
    ) -> Iterator[Item]:
        """Some keys of a table."""
        for name in names:
            if (name == "kind" and is_of_kinds(of)) or (name not in value and is_hidden(of, name, value)):
                continue
            make = self.special.get((of, name), Maker.item)
            taken = None if name in value else self.taken.get(name)
            inner = replace(self, taken={})
            yield make(inner, Slot(name, of.keys[name], value.get(name), (*steps, name), "", taken, self.taken_from))

    def unknown(self, keys: Mapping[str, Key], value: Mapping[str, object], steps: Steps) -> Iterator[Field]:
        """What stands there and is no key."""
        for name, said in value.items():
            if name not in keys:
                yield self.raw(Slot(name, _LOOK_THERE, said, (*steps, name)))

    def gist(self, value: Mapping[str, object], of: TableOf[Any]) -> str:
        """What is seen of a table while it is shut: the first of what it says, in the order of its keys."""
        said = [gist_of(value[name]) for part in gathered(of) for name in part.keys if name in value]
        return ", ".join(filter(None, said[:FEW_WORDS]))

    def entries(self, slot: Slot) -> Part:
        """A list, with what can be put behind it."""
        values = slot.value if isinstance(slot.value, list) else []
        items = [self.entry(slot, number, value) for number, value in enumerate(values)]
        add = self.adding(slot, len(values))
        gist = f"{len(values)}: {', '.join(filter(None, map(gist_of, values[:FEW_WORDS])))}"
        words = sentence(slot.key.words)
        return Part(slot.steps, slot.label, words, gist, items, add, self._is_open(slot.steps))

    def entry(self, slot: Slot, number: int, value: object) -> Item:
        """An entry of a list, with what moves it and takes it away."""
        entry, steps = entry_of(slot.shape), (*slot.steps, number)
        values = slot.value if isinstance(slot.value, list) else []
        kind = kind_of(entry)
        own = Slot(str(number + 1), Key(kind, slot.key.words, ""), value, steps)
        item = self.item(own)
        actions = (*moves(steps, own.label, len(values)), self._take_away(own))
        if isinstance(item, Part):
            what = self._told_apart(kind, value)
            title = " ".join(filter(None, (f"{own.label}.", what, item.gist)))
            return replace(item, title=title, gist="", actions=actions)
        return replace(item, words="", actions=actions)

    def _told_apart(self, kind: Kind[Any], value: object) -> str:
        """The key that says which of several tables an entry is."""
        tables = tables_in(kind)
        of = best_table(kind, value) if len(tables) > 1 and isinstance(value, dict) else None
        return next((label_of(name) for name, key in of.keys.items() if key.is_needed), "") if of else ""

    def adding(self, slot: Slot, count: int) -> tuple[Action, ...]:
        """What can be put behind the last entry, one for each table that it can be."""
        entry, chooses, usual = entry_of(slot.shape), (*slot.steps, count), self.usual.first_without(slot.value)
        tables = tables_in(entry)
        begin: list[tuple[str, object]] = []
        plain = any(not isinstance(part, TableOf) for part in parts(entry))
        many = len(tables) > 1 or plain
        begin += [(adding_words(of) if many else "Add one", usual.begin_table(of)) for of in tables]
        if plain:
            begin.insert(0, ("Add one", self._one_more(slot, entry)))
        if len(tables) == 1 and isinstance(first := first_of(slot.key.example), dict):
            begin[-1] = (begin[-1][0], usual.adapted(first, entry))
        change, at = ("add", slot.steps) if isinstance(slot.value, list) else ("raw", slot.steps)
        wrap = as_toml if change == "add" else lambda value: as_toml([value])
        return tuple(Action(label, change, at, wrap(value), chooses=chooses) for label, value in begin)

    def _one_more(self, slot: Slot, entry: object) -> object:
        """A plain entry: a name of the file that the list has not yet, or the first of the example."""
        first = self.usual.adapted(first_of(slot.key.example), entry)
        words = [part.names for part in parts(entry) if isinstance(part, Kind) and part.names]
        given = slot.value if isinstance(slot.value, list) else []
        return next((name for word in words for name in self.usual.named.get(word, ()) if name not in given), first)

    def _left_out(self, slot: Slot) -> Part:
        """A table or a list that the file does not have, with what adds it."""
        shape = slot.shape
        actions: tuple[Action, ...] = ()
        if slot.taken is not None:
            own = Action("Change here", "raw", slot.steps, as_toml(slot.taken), chooses=slot.steps)
            actions = (own,)
        elif named_in(shape) is None and entry_of(shape) is not None:
            actions = self._begun(slot) or self.adding(slot, 0)
        else:
            tables = tables_in(shape)
            begins = [self.usual.begin(slot.key)] if len(tables) == 1 else list(map(self.usual.begin_table, tables))
            names = ["Add" if len(tables) == 1 else adding_words(of) for of in tables]
            pairs = zip(names, begins, strict=True)
            actions = tuple(Action(name, "raw", slot.steps, as_toml(one), chooses=slot.steps) for name, one in pairs)
        return Part(
            slot.steps,
            slot.label,
            sentence(slot.key.words),
            self._stand_in(slot),
            actions=actions,
            is_open=self._is_open(slot.steps),
            is_given=False,
        )

    def _begun(self, slot: Slot) -> tuple[Action, ...]:
        """A list of plain values begins with as many as its example."""
        example = slot.key.example
        if (
            not isinstance(example, list)
            or len(example) < _TWO
            or any(isinstance(each, dict | list) for each in example)
        ):
            return ()
        return (Action("Add", "raw", slot.steps, as_toml(self.usual.begin(slot.key)), chooses=slot.steps),)

    def by_name(self, slot: Slot) -> Part:
        """Plain values or tables by their names."""
        value = slot.value if isinstance(slot.value, dict) else {}
        items = [self.named(slot, name, said) for name, said in value.items()]
        return Part(slot.steps, slot.label, sentence(slot.key.words), ", ".join(value), items, look="named")

    def named(self, slot: Slot, name: str, value: object) -> Part:
        """One thing of a name: the name itself, and what it says."""
        of, steps = named_in(slot.shape), (*slot.steps, name)
        kind = kind_of(of)
        own = self.item(Slot(name, Key(kind, slot.key.words, first_of(slot.key.example)), value, steps, "Thickness"))
        lead = [name_field(steps, name)]
        if isinstance(own, Part):
            return replace(own, lead=lead, title=name)
        away = Action("Take away", "remove", steps, spoken=name, chooses=slot.steps)
        return Part(steps, name, lead=[*lead, replace(own, words="")], actions=(away,), look="row")


def name_field(steps: Steps, name: str) -> Field:
    """The name of a thing, which is changed wherever the thing is named."""
    words = "Its name, which no other may have. It is changed wherever it is named."
    return Field(steps, "name", "Name", words, name, change="rename", is_needed=True)


def moves(steps: Steps, what: str, count: int, words: tuple[str, str] = ("Up", "Down")) -> Iterator[Action]:
    """What moves one of ``count`` nearer the first and the last of them, in words for the two."""
    *outer, number = steps
    for word, way, other in zip(words, ("up", "down"), (int(number) - 1, int(number) + 1), strict=True):
        if 0 <= other < count:
            yield Action(word, "move", steps, way, what, (*outer, other))
