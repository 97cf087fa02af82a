"""What a shape of a value is to a form: a figure, one of a few words, a list, a table of one kind."""

from __future__ import annotations

from typing import Any

from storystick.bench.declared import entry_of, parts
from storystick.job.keys import TableOf
from storystick.job.kinds import Kind


def kind_of(shape: object) -> Kind[Any]:
    """A shape as a kind; one that is bare reads nothing, and only says what may stand there."""
    return shape if isinstance(shape, Kind) else Kind(lambda *_: None, None, "", schema=shape)


def plain_of(shape: object) -> object:
    """The plain value that may stand there: its kind, or its bare shape; None where none may."""
    some = (part for part in parts(shape) if not isinstance(part, TableOf))
    return next((part for part in some if not isinstance(part, dict) or not {"items", "propertyNames"} & {*part}), None)


def words_of(part: object) -> tuple[object, ...]:
    schema = part.schema if isinstance(part, Kind) else part
    return tuple(schema["enum"]) if isinstance(schema, dict) and "enum" in schema else ()


def is_figure(part: object) -> bool:
    """Whether a length or a number stands there."""
    schema = part.schema if isinstance(part, Kind) else part
    match schema:
        case {"oneOf": [{"type": "number"}, *_]} | {"type": "integer"}:
            return True
        case {"anyOf": [first, *_]}:
            return is_figure(first)
    return False


def names_one_of(part: object) -> str:
    """The word of the things that it names one of; empty where it names none, or may as well be a length."""
    return part.names if isinstance(part, Kind) and not is_figure(part) else ""


def is_yes_no(part: object) -> bool:
    schema = part.schema if isinstance(part, Kind) else part
    return isinstance(schema, dict) and schema.get("type") == "boolean"


def words_of_list(shape: object) -> tuple[object, ...]:
    """The words that a list holds, where it can hold no others."""
    entry = entry_of(shape)
    return tuple(word for part in parts(entry) for word in words_of(part)) if entry is not None else ()


def is_a_list(shape: object) -> bool:
    """Whether a list may stand there that is as long as one likes; others are one value in several numbers."""
    some = [part for part in parts(shape) if isinstance(part, dict) and "items" in part]
    return any(part.get("minItems") != part.get("maxItems") and "prefixItems" not in part for part in some)


def is_of_kinds(of: TableOf[Any]) -> bool:
    """Whether the kind of such a table says which table it is, so that it is chosen over all of it."""
    kind = of.keys.get("kind")
    return kind is not None and len(words_of(kind.kind)) == 1
