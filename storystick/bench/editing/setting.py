"""What a person typed in a field, set at its place of a text; nothing typed takes out what stands there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from storystick.bench.declared import as_table, best_table, may_be, plain_name, spelled_out, tables_in
from storystick.bench.editing.open_text import OpenText
from storystick.bench.editing.putting import EQUAL, SIZED, set_value, take_out
from storystick.bench.editing.toml_items import read_value
from storystick.bench.editing.typed_values import typed
from storystick.bench.places import Steps
from storystick.errors import Fault


def set_typed(text: OpenText, steps: Steps, said: str) -> None:
    """What a person typed at a place; nothing typed takes out what stands there."""
    steps = text.known(steps)
    if not said.strip():
        _empty(text, steps)
        return
    shape, old = text.shape(steps), text.value(steps)
    if isinstance(old, dict):
        own = _own_plain(shape, old)
        if own is None:
            raise Fault("a table stands there", "change what stands in it")
        set_typed(text, (*steps, own), said)
        return
    set_value(text, steps, typed(said, shape, old, text.writes_text))
    _drop_strange(text, steps)


def say_more(text: OpenText, steps: Steps, begin: str) -> None:
    """A table in the place of a plain value, which says the same; ``begin`` where nothing stands there yet."""
    steps = text.known(steps)
    old = text.value(steps)
    table = None if old is None or isinstance(old, dict | list) else as_table(text.shape(steps), old)
    set_value(text, steps, table or read_value(begin))


def _own_plain(shape: object, old: Mapping[str, object]) -> str | None:
    """The key that says what a plain value in a table's place would, though more stands beside it."""
    names = (plain_name(shape, {name: value}) for name, value in old.items())
    return next((name for name in names if name), None)


def _empty(text: OpenText, steps: Steps) -> None:
    """Take out what stands at a place; an opening keeps a size, which is equal to the others."""
    if not steps or not text.has(steps):
        return
    is_entry = isinstance(text.item(steps[:-1]), list)
    if steps[-1] == SIZED or (is_entry and spelled_out(text.shape(steps), EQUAL, SIZED)):
        set_typed(text, steps, EQUAL)
    elif is_entry:
        raise Fault("an entry of a list cannot be empty", "give it something, or take it out")
    else:
        take_out(text, steps)


def _drop_strange(text: OpenText, steps: Steps) -> None:
    """Where a key tells which table it stands in: take out what the table that it now is has no key for."""
    outer, name = steps[:-1], steps[-1]
    table = text.value(outer)
    if not outer or not isinstance(table, dict) or not isinstance(name, str):
        return
    forms = tables_in(text.shape(outer))
    if len(forms) < 2 or not _tells(forms, name):
        return
    having = [of for of in forms if name in of.keys and may_be(of.keys[name], table[name])]
    of = best_table(
        {"oneOf": having}, {key: said for key, said in table.items() if any(key in of.keys for of in having)}
    )
    for strange in [key for key in table if of and key not in of.keys]:
        take_out(text, (*outer, strange))


def _tells(forms: list[Any], name: str) -> bool:
    """Whether a key tells forms of a table apart: some need it and others have it not, or it has a word for each."""
    having = [of for of in forms if name in of.keys]
    words = [of.keys[name].kind.schema for of in having]
    apart = len(having) < len(forms) and bool(having) and having[0].keys[name].is_needed
    return apart or any(word != words[0] for word in words[1:])
