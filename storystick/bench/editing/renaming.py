"""Another name for a thing of a file, with all that refers to it by name."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import wraps
from typing import Any, Final, TypeAlias

from tomlkit.items import AoT

from storystick.bench.declared import best_table, entry_of, named_in, parts
from storystick.bench.editing.open_text import OpenText, declared_key
from storystick.bench.editing.putting import replace_item, set_value, take_out
from storystick.bench.editing.toml_items import body_of, plain, renamed, value_item
from storystick.bench.places import Steps
from storystick.errors import Fault, as_written
from storystick.job.keys import default_name
from storystick.job.kinds import Kind, read_name

_NAME: Final = "name"
_CABINET: Final = "cabinet"
_MEANWHILE: Final = "\ue000"
"""What begins a name that no thing has, while names change places."""

Change: TypeAlias = Callable[..., None]

_STICKS: Final = ("cabinet", "stick")
_OF_CABINETS: Final = (("template", "board"), ("square_stick", "faces"))
"""What is called by a cabinet's name and a word behind that, by its table and its key."""


def rename(text: OpenText, at: Steps, value: str) -> None:
    """Call a thing otherwise: one that stands by its name, or one that is counted, which may have no name of its own.

    Raises:
        Fault: another of its kind has that name.
    """
    at = text.known(at)
    own = at[:-1] if at[-1:] == (_NAME,) else at
    new = read_name(value) if value.strip() else ""
    if len(own) == 2 and named_in(text.shape(own[:1])) is not None:
        _rename_named(text, own, new)
    elif len(own) <= 2 and own and text.has(own) and declared_key(text, (*own, _NAME)):
        _rename_counted(text, own, new)
    elif new:
        set_value(text, (*own, _NAME), new)
    else:
        take_out(text, (*own, _NAME))


def _rename_named(text: OpenText, at: Steps, new: str) -> None:
    word, old = str(at[0]), str(at[1])
    table = text.item((word,))
    if not new:
        raise Fault(f"each {word} has a name", "write one")
    if new == old or old not in table:
        return
    if new in table:
        raise Fault(f"{as_written(new)} is already the name of a {word}", "give each its own")
    if hasattr(table, "value") and hasattr(table.value, "body"):
        renamed(table, old, new)
    else:
        for key, part in list(text.document.body):
            if key is not None and key.key == word and old in part:
                renamed(part, old, new)
    refer_to(text, word, old, new)


def _rename_counted(text: OpenText, at: Steps, new: str) -> None:
    word = str(at[0])
    number = at[1] if len(at) == 2 and isinstance(at[1], int) else 0
    old = names_of(text, word)[number]
    others = [name for count, name in enumerate(names_of(text, word)) if count != number]
    if new in others:
        raise Fault(f"{as_written(new)} is already the name of {word} {names_of(text, word).index(new) + 1}", _OWN)
    if new:
        set_value(text, (*at, _NAME), new)
    else:
        take_out(text, (*at, _NAME))
    refer_to(text, word, old, new or default_name(word, number + 1))


_OWN: Final = "give each its own"


def keeping_up(change: Change) -> Change:
    """A change of what is counted, after which all that refers to a thing by its number refers to the same thing."""

    @wraps(change)
    def changed(text: OpenText, at: Steps, value: str = "") -> None:
        at = text.known(at)
        some = text.item(at[:1]) if len(at) == 2 and text.has(at[:1]) else None
        if not isinstance(some, AoT):
            change(text, at, value)
            return
        word = str(at[0])
        before = list(zip(some.body, names_of(text, word), strict=True))
        change(text, at, value)
        names = names_of(text, word)
        after = {id(table): name for table, name in zip(some.body, names, strict=True)} if text.has(at[:1]) else {}
        moved = {old: after.get(id(table), "") for table, old in before}
        _refer_anew(text, word, {old: new for old, new in moved.items() if new != old and (new or old in names)})

    return changed


def _refer_anew(text: OpenText, word: str, moved: Mapping[str, str]) -> None:
    """Other names for several things at once; what has none any more is told as taken away."""
    for number, old in enumerate(moved):
        refer_to(text, word, old, f"{_MEANWHILE}{number}")
    for number, (old, new) in enumerate(moved.items()):
        refer_to(text, word, f"{_MEANWHILE}{number}", new or f"{old}, taken away")


def names_of(text: OpenText, word: str) -> list[str]:
    """The names of what is counted, or stands by name, under a word."""
    given = text.value((word,)) or []
    if named_in(text.shape((word,))) is not None:
        return list(given)
    some = given if isinstance(given, list) else [given]
    names = (each.get(_NAME) if isinstance(each, dict) else None for each in some)
    return [
        name.strip() if isinstance(name, str) and name.strip() else default_name(word, number)
        for number, name in enumerate(names, 1)
    ]


def refer_to(text: OpenText, word: str, old: str, new: str) -> None:
    """Let all that refers to a thing of this kind by its old name say the new one."""
    longer = [name for name in names_of(text, _CABINET) if name != new and name.startswith(f"{old} ")]
    for steps, kinds, said in list(_texts(text)):
        own = said.strip()
        begins = own.startswith(f"{old} ") and not any(own.startswith(f"{name} ") for name in (*longer,))
        if own == old and (word in kinds or (word in _STICKS and _path(steps) in _OF_CABINETS)):
            replace_item(text, steps, value_item(new))
        elif word == _CABINET and begins and _path(steps) in _OF_CABINETS:
            replace_item(text, steps, value_item(new + own.removeprefix(old)))


def _path(steps: Steps) -> tuple[str, ...]:
    return tuple(step for step in steps if isinstance(step, str))


def _texts(text: OpenText) -> Iterator[tuple[Steps, set[str], str]]:
    """Every text of a file, with the words of what it may name."""
    for key, item in body_of(text.document):
        if key is not None and key.key in text.keys:
            yield from _below(text.keys[key.key].kind, (key.key,), plain(item))


def _below(shape: object, steps: Steps, value: Any) -> Iterator[tuple[Steps, set[str], str]]:
    match value:
        case str():
            yield steps, {part.names for part in parts(shape) if isinstance(part, Kind)}, value
        case list():
            for number, each in enumerate(value):
                yield from _below(entry_of(shape), (*steps, number), each)
        case dict():
            named = named_in(shape)
            of = best_table(shape, value)
            for name, each in value.items():
                kind = named or (of.keys[name].kind if of and name in of.keys else None)
                yield from _below(kind, (*steps, name), each)
