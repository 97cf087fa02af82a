"""Putting values into a text and taking them out, in braces, on lines or below headings, as they are written there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import tomlkit
from tomlkit.container import Container
from tomlkit.items import AoT, Array, Comment, InlineTable, Table, Trivia

from storystick.bench.declared import named_in, plain_name, spelled_out, tables_in
from storystick.bench.editing.open_text import OpenText, as_step, declared_key
from storystick.bench.editing.toml_items import (
    body_of,
    braces,
    cut_entry,
    cut_line,
    end_with_blank,
    forget_heading,
    headed,
    inner_comments,
    is_line,
    key_text,
    parsed_below,
    parsed_value,
    plain,
    put_entry,
    put_line,
    put_tables,
    refill,
    value_item,
    written_pairs,
    written_pairs_of,
)
from storystick.bench.places import Steps
from storystick.errors import Fault, as_written
from storystick.job.key_reference import as_toml

BELOW_HEADINGS: Final = ("row", "column")
"""What stands below headings inside a cabinet."""

EQUAL: Final = "equal"
SIZED: Final = "opening"


def set_value(text: OpenText, steps: Steps, value: object) -> None:
    """A value at a place, whatever stands there now."""
    steps = text.known(steps)
    if not steps:
        raise Fault("the whole file was to be one value", "change what stands in it")
    if not text.has(steps):
        _set_new(text, steps, value)
        return
    outer, old = text.item(steps[:-1]), text.item(steps)
    if isinstance(old, Table | AoT) or not isinstance(outer, dict | list):
        take_out(text, steps, prune=False)
        _set_new(text, steps, value)
        return
    keep_comments(text, steps)
    replace_item(text, steps, value_item(value))


def keep_comments(text: OpenText, steps: Steps) -> None:
    """Comments inside a list that goes as a whole stand above its line then."""
    outer, item = text.item(steps[:-1]), text.item(steps)
    said = inner_comments(item) if isinstance(item, Array) else []
    if said and isinstance(outer, Table | Container):
        trivia = item.trivia
        lines = [Comment(Trivia(trivia.indent, "", words, text.newline)) for words in said]
        pairs = list(body_of(outer))
        own = next(number for number, (_, each) in enumerate(pairs) if each is item)
        refill(outer, [*pairs[:own], *((None, line) for line in lines), *pairs[own:]])


def _set_new(text: OpenText, steps: Steps, value: object) -> None:
    """A value where nothing stands, and the tables on the way that are missing."""
    depth = next(depth for depth in range(len(steps) - 1, -1, -1) if text.has(steps[:depth]))
    outer, step, inner = steps[:depth], steps[depth], steps[depth + 1 :]
    for number in range(len(inner), 0, -1):
        value = _wrapped(text, steps[: depth + number], inner[number - 1], value)
    item = text.item(outer)
    if isinstance(item, list):
        if step != len(item):
            raise Fault(f"there is no entry {_number(step)} in a list of {len(item)}", "add one first")
        add_entry(text, outer, len(item), value)
    elif isinstance(item, dict):
        put_key(text, outer, str(step), value)
    else:
        _spell_out(text, outer, str(step), value)


def _number(step: str | int) -> str:
    return str(step + 1) if isinstance(step, int) else as_written(step)


def _wrapped(text: OpenText, outer: Steps, step: str | int, value: object) -> object:
    """A table or a list that is made for one thing in it; an opening has a size first."""
    if isinstance(step, int):
        if step:
            raise Fault(f"there is no entry {step + 1} in a list that is empty", "add one first")
        return [value]
    is_opening = any(SIZED in of.keys for of in tables_in(text.shape(outer)))
    return {**((spelled_out(text.shape(outer), EQUAL, step) or {}) if is_opening else {}), step: value}


def _spell_out(text: OpenText, outer: Steps, name: str, value: object) -> None:
    """A table in the place of a plain value, which says more."""
    old = text.value(outer)
    table = spelled_out(text.shape(outer), old, name)
    if table is None:
        raise Fault(f"{as_written(old)} stands where {as_written(name)} was to be said", "take it out first")
    set_value(text, outer, value if list(table) == [name] else {**table, name: value})


def add_entry(text: OpenText, steps: Steps, number: int, value: object) -> None:
    """One more entry in a list that is there, before the one of that number or behind them all."""
    some = text.item(steps)
    if isinstance(some, Array):
        replace_item(text, steps, put_entry(some, number, value))
        return
    if not isinstance(value, dict):
        raise Fault(f"{as_written(value)} stands for a table", "write it as { key = …, key = … }")
    path = tuple(str(step) for step in steps if isinstance(step, str))
    lines = headed(path, value, double=True, below=BELOW_HEADINGS)
    [(_, made)] = parsed_below(lines, len(path) - 1, text.newline)
    assert isinstance(made, AoT)
    add_table(text, steps, number, made.body[0])


def add_table(text: OpenText, steps: Steps, number: int, table: Table) -> None:
    """A table with a heading among others that are counted."""
    some = text.item(steps)
    if number:
        end_with_blank(some.body[number - 1].value.body, text.newline)
    if number < len(some) or is_followed(text, steps):
        end_with_blank(table.value.body, text.newline)
    some.insert(number, table)


def is_followed(text: OpenText, steps: Steps) -> bool:
    """Whether anything is written behind what stands at a place."""
    for depth in range(len(steps), 0, -1):
        outer, step = text.item(steps[: depth - 1]), steps[depth - 1]
        if isinstance(outer, list):
            if int(step) < len(outer) - 1:
                return True
            continue
        body = body_of(outer)
        place = max(number for number, (key, _) in enumerate(body) if key is not None and key.key == step)
        if any(key is not None for key, _ in body[place + 1 :]):
            return True
    return False


def replace_item(text: OpenText, steps: Steps, item: object) -> None:
    """An item in the place of another."""
    outer = text.item(steps[:-1])
    outer[as_step(outer, steps[-1])] = item


def put_key(text: OpenText, outer: Steps, name: str, value: object) -> None:
    """A key that a table has not yet: in its braces, as a line, or below a heading as such things are."""
    table = text.item(outer)
    if isinstance(table, InlineTable):
        set_braces(text, outer, [*written_pairs(table), (key_text(name), as_toml(value))])
    elif lines := _under_headings(text, outer, name, value):
        depth = sum(isinstance(step, str) for step in outer)
        table = _last_part(text, outer)
        place = len(body_of(table)) if outer else _heading_place(text, name)
        put_tables(table, place, parsed_below(lines, depth, text.newline), text.newline, is_followed(text, outer))
    else:
        put_line(table, name, value_item(value), text.newline)


def set_braces(text: OpenText, steps: Steps, pairs: list[tuple[str, str]]) -> None:
    """A table in braces, written anew of keys and values as they are written."""
    replace_item(text, steps, parsed_value(braces(pairs)))


def _last_part(text: OpenText, outer: Steps) -> Any:
    """A table; the last part of one that stands at several places of the file."""
    table = text.item(outer)
    if isinstance(table, Table | Container):
        return table
    body = body_of(text.item(outer[:-1]))
    return next(item for key, item in reversed(body) if key is not None and key.key == outer[-1])


def _under_headings(text: OpenText, outer: Steps, name: str, value: object) -> str:
    """The text of a value that stands below headings; empty for one that stands behind its key."""
    path = (*(str(step) for step in outer if isinstance(step, str)), name)
    if outer and named_in(text.shape(outer)) is not None:
        return _headed(path, value) if isinstance(value, dict) else ""
    if outer and name not in BELOW_HEADINGS:
        return ""
    key = declared_key(text, (*outer, name))
    if key is None or (key.kind.form and not key.kind.take_from):
        return ""
    match value:
        case [dict(), *_] if not key.kind.form:
            return "\n".join(_headed(path, each, double=True) for each in value if isinstance(each, dict))
        case dict() if value and all(isinstance(each, dict) for each in value.values()):
            return "\n".join(_headed((*path, word), each) for word, each in value.items())
        case dict():
            return _headed(path, value)
    return ""


def _headed(path: tuple[str, ...], value: Mapping[str, object], *, double: bool = False) -> str:
    return headed(path, value, double=double, below=BELOW_HEADINGS)


def _heading_place(text: OpenText, name: str) -> int:
    """Where a new heading goes at the top: behind all lines, and behind those that are declared before it."""
    order = list(text.keys)
    before = order[: order.index(name)] if name in order else order
    body = text.document.body
    lines = (number for number, (key, item) in enumerate(body) if key is not None and is_line(key, item))
    behind = (number for number, (key, _) in enumerate(body) if key is not None and key.key in before)
    place = max([*lines, *behind], default=-1) + 1
    while place < len(body) and body[place][0] is None:  # what is written there belongs to what stands before
        place += 1
    return place


def take_out(text: OpenText, steps: Steps, *, comment_too: bool = False, prune: bool = True) -> None:
    """Take out what stands at a place, and tables on the way that are left empty."""
    steps = text.known(steps)
    if not text.has(steps) or not steps:
        return
    outer, item = text.item(steps[:-1]), text.item(steps)
    step = as_step(outer, steps[-1])
    match outer:
        case AoT():
            del outer[int(step)]
        case Array():
            replace_item(text, steps[:-1], cut_entry(outer, int(step)))
        case InlineTable():
            set_braces(text, steps[:-1], _pairs_without(outer, str(step)))
        case Table() | Container() if not isinstance(item, Table | AoT):
            if not comment_too:
                keep_comments(text, steps)
            cut_line(outer, str(step), comment_too=comment_too)
        case _:
            del outer[step]
    if prune:
        _prune(text, steps[:-1])


def _pairs_without(table: InlineTable, name: str) -> list[tuple[str, str]]:
    left = [(key, item) for key, item in table.value.body if key is not None and key.key != name]
    return list(written_pairs_of(left))


def _prune(text: OpenText, steps: Steps) -> None:
    """Take out a table or a list in which nothing is left; a table that could be its plain value is that."""
    if not steps or not text.has(steps):
        return
    item = text.item(steps)
    in_list = isinstance(text.item(steps[:-1]), list)
    if not item and not in_list:
        take_out(text, steps)
    elif isinstance(item, InlineTable) and len(item) == 1 and plain_name(text.shape(steps), item):
        [(_, said)] = written_pairs(item)
        replace_item(text, steps, parsed_value(said))


def carry(text: OpenText, steps: Steps, into: Steps) -> None:
    """Carry what stands at a place over into another table, by the same name and as it is written."""
    name = str(steps[-1])
    item, outer, table = text.item(steps), text.item(steps[:-1]), text.item(into)
    if isinstance(table, InlineTable) or isinstance(outer, InlineTable):
        value = plain(item)
        take_out(text, steps)
        set_value(text, (*into, name), value)
    elif isinstance(item, Table | AoT):
        forget_heading(item)
        refill(outer, [pair for pair in body_of(outer) if pair[1] is not item])
        end_with_blank(table.value.body, text.newline)
        refill(table, [*body_of(table), (tomlkit.key(name), item)])
    else:
        cut_line(outer, name, comment_too=True)
        put_line(table, name, item, text.newline)
