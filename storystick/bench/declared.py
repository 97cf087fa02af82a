"""What may stand at a place of a file, by the declared keys."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from storystick.bench.places import Steps
from storystick.job.keys import Key, TableOf, table_of
from storystick.job.kinds import Kind


def parts(shape: object) -> Iterator[Any]:
    """What one of a shape may be: tables, kinds of plain values, and the shapes of lists and of tables by name."""
    match shape:
        case TableOf() | type():
            yield table_of(shape)
        case Kind():
            inner = list(parts(shape.schema))
            yield from [shape] if all(map(is_plain, inner)) else inner
        case {"anyOf": list(some)} | {"oneOf": list(some)}:
            for part in some:
                yield from parts(part)
        case dict():
            yield shape


def is_plain(part: object) -> bool:
    """Whether a shape is of plain values, and of no list or tables by name."""
    return isinstance(part, dict) and not {"items", "additionalProperties"} & part.keys()


def tables_in(shape: object) -> list[TableOf[Any]]:
    """The tables that may stand there."""
    return [part for part in parts(shape) if isinstance(part, TableOf)]


def entry_of(shape: object) -> object:
    """The shape of an entry, where a list may stand; None where none may."""
    return next((part["items"] for part in parts(shape) if isinstance(part, dict) and "items" in part), None)


def named_in(shape: object) -> object:
    """The shape of each, where tables or values by their names stand; None where they do not."""
    named = (
        part["additionalProperties"] for part in parts(shape) if isinstance(part, dict) and "propertyNames" in part
    )
    return next(named, None)


def best_table(shape: object, value: Mapping[str, object]) -> TableOf[Any] | None:
    """The table that such a value is meant as; None where no table may stand."""
    return min(tables_in(shape), key=lambda of: _unlike(of, value), default=None)


def _unlike(of: TableOf[Any], value: Mapping[str, object]) -> int:
    """How many keys of a value are not those of a table, or say another kind; what a table cannot do without counts."""
    strange = sum(not (name in of.keys and may_be(of.keys[name], said)) for name, said in value.items())
    return 2 * strange + any(key.is_needed and name not in value for name, key in of.keys.items())


def may_be(key: Key, said: object) -> bool:
    match key.kind.schema:
        case {"enum": list(words)}:
            return said in words or not isinstance(said, str)
    return True


def shape_at(keys: Mapping[str, Key], document: object, steps: Steps) -> object:
    """The shape of what may stand at a place; None where nothing may.

    ``keys`` are those at the top of the file, ``document`` is what it says.
    """
    if not steps or steps[0] not in keys:
        return None
    shape: object = keys[str(steps[0])].kind
    value = _value_below(document, steps[0])
    for step in steps[1:]:
        shape, value = _below(shape, step, value), _value_below(value, step)
    return shape


def _value_below(value: object, step: str | int) -> object:
    match value:
        case dict():
            return value.get(str(step))
        case list() if isinstance(step, int) and step < len(value):
            return value[step]
    return None


def _below(shape: object, step: str | int, value: object) -> object:
    named = named_in(shape)
    if named is not None:
        return named
    if isinstance(step, int):
        return entry_of(shape)
    given = value if isinstance(value, dict) else {}
    fitting = [of for of in tables_in(shape) if step in of.keys]
    of = min(fitting, key=lambda of: _unlike(of, given), default=None)
    return of.keys[step].kind if of else None


def spelled_out(shape: object, plain: object, name: str) -> dict[str, object] | None:
    """A table that says what a plain value says, so that ``name`` can be said beside it; None where none may stand."""
    for own, of in _plain_or_tables(shape):
        if name in of.keys:
            return {key: plain for key in own if key in of.keys}
    return None


def as_table(shape: object, plain: object) -> dict[str, object] | None:
    """A table that says what a plain value says; None where none may stand."""
    tables = ({key: plain for key in own if key in of.keys} for own, of in _plain_or_tables(shape))
    return next((table for table in tables if table), None)


def plain_name(shape: object, value: Mapping[str, object]) -> str | None:
    """The one key of a table in whose place its value could stand alone; None where there is none such."""
    for own, of in _plain_or_tables(shape):
        if len(own) == 1 and own[0] in value and not value.keys() - of.keys.keys():
            return own[0]
    return None


def _plain_or_tables(shape: object) -> Iterator[tuple[tuple[str, ...], TableOf[Any]]]:
    """Each table that may stand in the place of a plain value, with the keys by which it says the same."""
    match shape:
        case Kind(schema={"anyOf": [plain, more]}):
            for of in tables_in(more):
                yield shape.in_table, of
            yield from _plain_or_tables(plain)
        case Kind():
            yield from _plain_or_tables(shape.schema)
        case {"anyOf": list(some)} | {"oneOf": list(some)}:
            for part in some:
                yield from _plain_or_tables(part)
