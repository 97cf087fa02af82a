"""Every key of the job and the shop file, out of their declarations: walked, as a schema, and as a page to read.

``python -m storystick.job.key_reference shared`` writes the two schemas and ``keys.md`` anew.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from pathlib import Path
from typing import Any, Final, TypeAlias

from storystick.job.keys import Key, TableOf, table_of
from storystick.job.kinds import Kind, Schema, Scope
from storystick.job.likeness import LIKE
from storystick.job.other_words import unknown
from storystick.job.reading import JOB_FILE
from storystick.job.shop import SHOP_KEYS
from storystick.lengths import INCH_MM, Units, write_exact

_WIDTH: Final = 120

_WORK: Final = ("stick", "cabinet", "run", "template", "rectangle")
_FILES: Final[Mapping[str, tuple[str, Mapping[str, Key], Schema]]] = {
    "job": ("Job file", JOB_FILE, {"anyOf": [{"required": [word]} for word in _WORK]}),
    "shop": ("Shop file", SHOP_KEYS, {}),
}
_BESIDES: Final = "What a length's text may be, and what must fit what, the program itself says."
_DESCRIBED: Final = {
    "name": "a name",
    "size": "a length above 0",
    "distance": "a length from 0",
    "number": "a number above 0, without a unit; text for a fraction",
    "place": "two lengths: to the right of a board's lower left corner, and above it",
    "minutes": "minutes; text for a fraction",
    "moisture": "a moisture content in per cent, from 0 to 30",
    "clear": 'a length above 0, "equal", or { share = … } of what is left',
}


_Found: TypeAlias = tuple[str, str, TableOf[Any]]


_FINEST: Final = 128
"""The finest parts of an inch that a length is said in."""

_IN_MM: Final = re.compile(r", or ([^,]*) in a job in mm| \(([^,]*) in a job in mm\)")
"""What of some words is for a job in mm alone, and the length there."""

_BARE_KEY: Final = re.compile(r"[A-Za-z0-9_-]+")

_INCHES: Final = re.compile(r"(?:\d+ )?\d+(?:/\d+)? in(?!\w)")

_LENGTHS: Final = ("size", "distance")
_PLAIN: Final = ("a length", "a name", "a number above 0", "two lengths", "minutes", "a moisture content in per cent")
"""What a fault calls kinds of which more is said here."""


@dataclass(frozen=True, slots=True)
class TablePage:
    """A table where it is first met: in which ``file``, under which dotted ``name`` and which ``heading``."""

    file: str
    name: str
    heading: str
    words: str
    keys: Mapping[str, Key]

    @property
    def title(self) -> str:
        """What is printed over it: its name beside its heading, where that says less."""
        return self.heading if self.name in (self.file, self.heading) else f"{self.name}: {self.heading}"

    def records(self) -> Iterator[dict[str, object]]:
        """What is said of each key."""
        for name, key in self.keys.items():
            yield {
                "key": name,
                "says": key.words,
                "reads": reads(key),
                "left_out": left_out(key),
                "needed": key.is_needed,
                "example": example(name, key),
            }


def find_pages(name: str) -> tuple[TablePage, ...]:
    """The tables of a name, or of the end of one, with those that stand in them; all of them for an empty name.

    A name may be written as its heading is: [[cabinet]], [joint.NAME].

    Raises:
        Fault: there are none.
    """
    name = name.strip("[]").removesuffix(".NAME")
    pages = tuple(table_pages())
    found = tuple(page for page in pages if f".{name}." in f".{page.name}.")
    if name and not found:
        ends = dict.fromkeys(page.name.rpartition(".")[2] for page in pages)
        raise unknown(name, "a table of the job or shop file", ends)
    return found or pages


def table_pages() -> Iterator[TablePage]:
    """Every table of both files, each before those that stand in it; one that stands at several places comes once."""
    for file, (title, keys, _) in _FILES.items():
        yield TablePage(file, file, title, f"What stands at the head of a {title.lower()}, before any table.", keys)
        for name, heading, of in _tables(keys):
            yield TablePage(file, name, heading, of.words, of.keys)


def _tables(keys: Mapping[str, Key], outer: str = "", met: set[int] | None = None) -> Iterator[_Found]:
    """Every table below some keys, with its dotted name and its heading; one that was met is left out."""
    met = set() if met is None else met
    for word, key in keys.items():
        name, inner = f"{outer}{word}", list({id(of): of for of in _inner(key.kind.schema)}.values())
        for of in inner:
            if id(of) in met:
                continue
            met.add(id(of))
            apart = _apart(of) if len(inner) > 1 else ""
            own = f"{name}.{apart}" if apart else name
            if list(of.keys) == ["share"]:
                own = "share"  # stands wherever a clear size does
            yield own, f"{_heading(name, key)}{f', with {apart}' if apart else ''}", of
            yield from _tables(of.keys, f"{name}.", met)


def _apart(of: TableOf[Any]) -> str:
    """The key, or the word under it, that tells a table from others which may stand in its place."""
    name, key = next((name, key) for name, key in of.keys.items() if key.is_needed)
    return str(key.example) if name == "kind" else name


def _heading(name: str, key: Key) -> str:
    """How the table is written: under a heading of its own, or behind its key."""
    kind = key.kind
    if isinstance(kind.schema, dict) and "propertyNames" in kind.schema:
        return f"[{name}.NAME]"
    if not kind.form:
        return f"[[{name}]]"
    if "." not in name and kind.take_from:
        return f"[{name}]"
    return f"{name} = {{ … }}"


def _inner(shape: object) -> Iterator[TableOf[Any]]:
    """The tables in a shape."""
    match shape:
        case TableOf() | type():
            yield table_of(shape)
        case Kind():
            yield from _inner(shape.schema)
        case dict():
            for part in shape.values():
                yield from _inner(part)
        case list() | tuple():
            for part in shape:
                yield from _inner(part)


def reads(key: Key) -> str:
    """What a key reads, in words."""
    kind = key.kind
    match kind.schema:
        case {"enum": list(words)}:
            return " or ".join(map(json.dumps, words))
    return _DESCRIBED[kind.called] if kind.sort in _PLAIN else kind.sort or kind.form


def left_out(key: Key) -> str:
    """What stands for a key that is left out, in words: its own, or the value that is usual in either unit."""
    if key.otherwise or key.is_needed:
        return key.otherwise or "needed"
    inch, mm = (_value_words(key.left_out(Scope(units)), key.kind) for units in Units)
    return inch if inch == mm else f"{inch}, or {mm} in a job in mm"


def left_out_in(key: Key, units: Units) -> str:
    """What stands for a key that is left out, in words, in a job in these ``units``."""
    if not key.otherwise and not key.is_needed:
        return _value_words(key.left_out(Scope(units)), key.kind)
    words, mm = _IN_MM.sub("", key.otherwise), _IN_MM.search(key.otherwise)
    if units is Units.INCH or mm is None:
        return words
    in_mm = mm[1] or mm[2]
    return _INCHES.sub(in_mm, words) if _INCHES.search(words) else in_mm


def _value_words(value: object, kind: Kind[Any]) -> str:
    match value:
        case Enum():
            return str(value.value)
        case bool():
            return str(value).lower()
        case Fraction() if value and kind.called in _LENGTHS:
            units = Units.INCH if _FINEST % (value / INCH_MM).denominator == 0 else Units.MM
            return f"{write_exact(value, units)} {units.sign}"
        case Fraction() | int():
            return str(value)
    return "nothing"


def as_toml(value: object) -> str:
    """A value as it is written in a file."""
    match value:
        case bool():
            return str(value).lower()
        case dict():
            said = ", ".join(f"{_key_text(word)} = {as_toml(part)}" for word, part in value.items())
            return f"{{ {said} }}" if said else "{}"
        case list():
            return f"[{', '.join(map(as_toml, value))}]"
        case str():
            return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
        case Decimal() if not value.is_finite():
            return str(value).lower().replace("infinity", "inf")
    return str(value)


def _key_text(word: str) -> str:
    return word if _BARE_KEY.fullmatch(word) else as_toml(word)


def example(name: str, key: Key) -> str:
    """A key as it may be written; empty for one that only heads tables."""
    return "" if key.example in ({}, []) else f"{name} = {as_toml(key.example)}"


def schema_of(file: str) -> Schema:
    """The JSON Schema of a file."""
    title, keys, shape = _FILES[file]
    writer = _SchemaWriter({id(of): (name, of) for name, _, of in _tables(keys)})
    top = writer.table(keys, shape)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        "description": f"The tables and keys of a {title.lower()}, written in TOML. {_BESIDES}",
        **top,
        "$defs": dict(sorted(writer.definitions.items())),
    }


class _SchemaWriter:
    """Writes kinds and tables as schemas; those with a name once, under ``definitions``."""

    def __init__(self, tables: Mapping[int, tuple[str, TableOf[Any]]]) -> None:
        self._tables = tables
        self.definitions: Schema = {}

    def table(self, keys: Mapping[str, Key], shape: Mapping[str, Any]) -> Schema:
        properties = {
            name: {"description": f"{key.words} ({left_out(key)})", **self.written(key.kind)}
            for name, key in keys.items()
        }
        needed = [name for name, key in keys.items() if key.is_needed]
        required: Schema = {"required": needed} if needed else {}
        if LIKE in keys:
            required = {"anyOf": [{"required": [LIKE]}, required]}
        return {"type": "object", **required, "additionalProperties": False, "properties": properties, **shape}

    def written(self, shape: Any) -> Any:
        """A shape with its kinds and tables written out, or referred to by their names."""
        match shape:
            case TableOf() | type():
                name, of = self._tables[id(table_of(shape))]
                return self._defined(name, lambda: {"description": of.words, **self.table(of.keys, of.shape)})
            case Kind():
                if shape.called:
                    words = _DESCRIBED[shape.called]
                    return self._defined(shape.called, lambda: {"description": words, **self.written(shape.schema)})
                return self.written(shape.schema)
            case dict():
                return {word: self.written(part) for word, part in shape.items()}
            case list() | tuple():
                return [self.written(part) for part in shape]
        return shape

    def _defined(self, name: str, write: Any) -> Schema:
        if name not in self.definitions:
            self.definitions[name] = {}  # before it is written, since a table may stand in itself
            self.definitions[name] = write()
        return {"$ref": f"#/$defs/{name}"}


def page_of_keys() -> str:
    """The page that tells every key."""
    return "\n".join(_page_lines())


def _page_lines() -> Iterable[str]:
    yield "# Every key of the job file and the shop file"
    yield ""
    yield "Written by `python -m storystick.job.key_reference shared`; `storystick keys` says the same."
    yield "Lengths are numbers or text, in the units of the file where they have none of their own."
    for page in table_pages():
        yield ""
        yield f"## {page.heading if page.name == page.file else f'`{page.heading}`'}"
        yield ""
        yield page.words
        yield ""
        yield "| key | says | reads | left out | example |"
        yield "|---|---|---|---|---|"
        for record in page.records():
            shown = record["example"] and f"`{record['example']}`"
            yield f"| `{record['key']}` | {record['says']} | {record['reads']} | {record['left_out']} | {shown} |"
    yield ""


def _in_few_lines(value: object, indent: str = "") -> str:
    """As JSON, what fits in a line in one."""
    flat = json.dumps(value, ensure_ascii=False)
    if not isinstance(value, dict | list) or len(indent) + len(flat) < _WIDTH:
        return flat
    deeper = f"{indent}  "
    if isinstance(value, dict):
        parts = [f"{json.dumps(word)}: {_in_few_lines(part, deeper)}" for word, part in value.items()]
    else:
        parts = [_in_few_lines(part, deeper) for part in value]
    first, last = "{}" if isinstance(value, dict) else "[]"
    return f"{first}\n{deeper}{f',{chr(10)}{deeper}'.join(parts)}\n{indent}{last}"


def files() -> dict[str, str]:
    """What is written for others to read, by the names of the files."""
    schemas = {f"{file}.schema.json": _in_few_lines(schema_of(file)) + "\n" for file in _FILES}
    return {**schemas, "keys.md": page_of_keys()}


if __name__ == "__main__":
    for file_name, text in files().items():
        (Path(sys.argv[1]) / file_name).write_text(text, encoding="utf-8")
