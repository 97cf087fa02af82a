"""What a person typed, as a value that its place reads, written as the file writes such."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Final

from storystick.bench.declared import is_plain, parts
from storystick.job.kinds import Kind

_WHOLE: Final = re.compile(r"(?:0|[1-9][0-9]{0,8})")
_DECIMAL: Final = re.compile(r"(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?")
_PLAIN_NUMBERS: Final = ("number", "minutes", "moisture")
"""What is never written as text where it can be a number."""

_YES_NO: Final[Mapping[str, bool]] = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}


def typed(text: str, shape: object, old: object, as_text: bool) -> object:
    """What a person typed, as a value that the place reads: a number that stands there as text stays text.

    ``as_text``: the file writes lengths as text, even where they could be numbers.
    """
    text = text.strip()
    plain = [part for part in parts(shape) if isinstance(part, Kind) or is_plain(part)]
    types = {name for part in plain for name in _types(part.schema if isinstance(part, Kind) else part)}
    if "boolean" in types and text.lower() in _YES_NO:
        return _YES_NO[text.lower()]
    if "integer" in types and _WHOLE.fullmatch(text):
        return int(text)
    if isinstance(old, str) and _DECIMAL.fullmatch(old.strip()) and "string" in types:
        return text
    as_number = isinstance(old, int | Decimal) or any(getattr(part, "called", "") in _PLAIN_NUMBERS for part in plain)
    if "number" in types and _DECIMAL.fullmatch(text) and (as_number or not as_text or "string" not in types):
        return Decimal(text)
    return text


def _types(schema: object) -> Iterator[str]:
    match schema:
        case {"oneOf": list(some)} | {"anyOf": list(some)}:
            for part in some:
                yield from _types(part)
        case {"type": str(name)}:
            yield name
        case _:
            yield "string"


def writes_text(document: object) -> bool:
    """Whether a file writes plain numbers as text more often than not."""
    texts, numbers = 0, 0
    left: list[object] = [document]
    while left:
        match left.pop():
            case dict() as table:
                left += table.values()
            case list() as some:
                left += some
            case str() as text:
                texts += bool(_DECIMAL.fullmatch(text))
            case int() | Decimal() as number if not isinstance(number, bool):
                numbers += 1
    return texts > numbers
