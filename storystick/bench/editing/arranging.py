"""Adding to lists and to what stands by name, moving what stands there, and making another like it."""

from __future__ import annotations

import copy
import re
from collections.abc import Collection, Iterable
from typing import Final

from tomlkit.container import Container
from tomlkit.items import AoT, Array, Table

from storystick.bench.declared import entry_of, named_in, parts, spelled_out
from storystick.bench.editing.open_text import OpenText, as_step
from storystick.bench.editing.putting import (
    EQUAL,
    SIZED,
    add_entry,
    add_table,
    is_followed,
    put_key,
    replace_item,
    set_value,
    take_out,
)
from storystick.bench.editing.renaming import keeping_up, names_of
from storystick.bench.editing.setting import set_typed
from storystick.bench.editing.toml_items import body_of, end_with_blank, parsed_value, plain, read_value, refill
from storystick.bench.places import Steps
from storystick.errors import Fault
from storystick.job.key_reference import as_toml
from storystick.job.kinds import Kind

_NUMBERED: Final = re.compile(r"(.*?)([ -]?)(\d+)")
_WAYS: Final = {"up": -1, "down": 1}


def add(text: OpenText, at: Steps, value: str) -> None:
    """One more at the end of a list, or one more by name, or a table that is not there yet."""
    at = text.known(at)
    shape = text.shape(at)
    said = read_value(value) if value.strip() else _usual(shape)
    if text.has(at) and isinstance(text.item(at), list):
        add_entry(text, at, len(text.item(at)), said)
    elif text.has(at) and named_in(shape) is not None:
        put_key(text, at, free_name(str(at[-1]), text.item(at)), said)
    elif text.has(at) and entry_of(shape) is not None:
        _second(text, at, said)
    elif text.has(at):
        raise Fault("it is there already", "change what stands in it")
    else:
        set_value(text, at, [said] if entry_of(shape) is not None else said)


def _usual(shape: object) -> object:
    """What is added where nothing is said: an opening that is equal to the others."""
    if spelled_out(entry_of(shape), EQUAL, SIZED):
        return EQUAL
    raise Fault("nothing is said of what is to be added", "say what")


def _second(text: OpenText, at: Steps, value: object) -> None:
    """A list in the place of the one thing that stood there alone."""
    old = text.item(at)
    if not isinstance(old, Table):
        replace_item(text, at, parsed_value(f"[{old.as_string()}, {as_toml(value)}]"))
        return
    outer = text.item(at[:-1])
    some = AoT([old], name=str(at[-1]), parsed=True)
    refill(outer, [(key, some if item is old else item) for key, item in body_of(outer)])
    add_entry(text, at, 1, value)


def name_new(text: OpenText, at: Steps, value: str) -> None:
    """One more of what a place names, by a name that nothing has yet, which the place names then."""
    at = text.known(at)
    words = (part.names for part in parts(text.shape(at)) if isinstance(part, Kind) and part.names)
    word = next((word for word in words if named_in(text.shape((word,))) is not None), None)
    if word is None:
        raise Fault("nothing is named there", "load the page again")
    name = free_name(f"{word} 1", names_of(text, word))
    set_value(text, (word, name), read_value(value))
    set_typed(text, at, name)


@keeping_up
def remove(text: OpenText, at: Steps, _value: str = "") -> None:
    """Take out what stands at a place, with the comment beside it."""
    take_out(text, at, comment_too=True)


@keeping_up
def insert(text: OpenText, at: Steps, value: str) -> None:
    """One more in a list, before the one that stands there."""
    at = text.known(at)
    outer, number = at[:-1], at[-1] if at else ""
    if not text.has(outer) and number == 0:
        add(text, outer, value)
        return
    if not isinstance(number, int) or not text.has(outer) or not isinstance(text.item(outer), list):
        raise Fault("there is no list to put it in", "add it where there is one")
    said = read_value(value) if value.strip() else _usual(text.shape(outer))
    add_entry(text, outer, min(number, len(text.item(outer))), said)


@keeping_up
def move(text: OpenText, at: Steps, value: str) -> None:
    """One place nearer the first ("up") or the last ("down") of those that it stands among."""
    at = text.known(at)
    if value not in _WAYS or not at or not text.has(at):
        raise Fault("nothing there can be moved", "load the page again")
    some = text.item(at[:-1])
    steps = list(range(len(some))) if isinstance(some, list) else list(some)
    own = steps.index(as_step(some, at[-1]))
    other = own + _WAYS[value]
    if not 0 <= other < len(steps):
        raise Fault(f"it is the {'first' if other < 0 else 'last'} already", "move another")
    match some:
        case AoT():
            _move_table(text, at[:-1], own, other)
        case Array():
            some[own], some[other] = (parsed_value(some[number].as_string()) for number in (other, own))
        case Table() | Container():
            _swap(some, str(steps[own]), str(steps[other]))
        case _:
            raise Fault("these are in no order", "move them in the text")


def _move_table(text: OpenText, steps: Steps, own: int, other: int) -> None:
    some = text.item(steps)
    table = some.body[own]
    del some[own]
    some.insert(other, table)
    for each in some.body[:-1]:
        end_with_blank(each.value.body, text.newline)
    if is_followed(text, steps):
        end_with_blank(some.body[-1].value.body, text.newline)


def _swap(table: Table | Container, own: str, other: str) -> None:
    pairs = list(body_of(table))
    names = [key.key if key else None for key, _ in pairs]
    first, second = names.index(own), names.index(other)
    pairs[first], pairs[second] = pairs[second], pairs[first]
    refill(table, pairs)


@keeping_up
def duplicate(text: OpenText, at: Steps, _value: str = "") -> None:
    """Another like it, right behind it, by a name that nothing has yet."""
    at = text.known(at)
    if not at or not text.has(at):
        raise Fault("nothing stands there", "load the page again")
    some, item = text.item(at[:-1]), text.item(at)
    match some:
        case AoT():
            number = int(at[-1])
            made = copy.deepcopy(item)
            if "name" in made:
                made["name"] = free_name(str(plain(made["name"])), (each.get("name") for each in some.body))
            add_table(text, at[:-1], number + 1, made)
        case Array():
            add_entry(text, at[:-1], int(at[-1]) + 1, plain(item))
        case dict() if named_in(text.shape(at[:-1])) is not None:
            put_key(text, at[:-1], free_name(str(at[-1]), some), plain(item))
        case _:
            raise Fault("only one of these can stand there", "choose something that there can be several of")


def free_name(like: str, taken: Iterable[object]) -> str:
    """A name like another that nothing has: the next number behind it."""
    names: Collection[object] = set(taken)
    if like not in names:
        return like
    numbered = _NUMBERED.fullmatch(like)
    stem, gap = (numbered[1], numbered[2]) if numbered else (like, " " if " " in like or like[:1].isupper() else "-")
    numbers = range(2, len(names) + 3)
    return next(name for number in numbers if (name := f"{stem}{gap}{number}") not in names)
