"""Which of the two a file is, a job or a shop file, and so which keys it has."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any, Final

from storystick.job.keys import Key
from storystick.job.reading import JOB_FILE
from storystick.job.shop import SHOP_KEYS
from storystick.job.sources import SHOP_FILE


@dataclass(frozen=True, slots=True, eq=False)
class FileKind:
    """A kind of file: the ``keys`` at its top."""

    keys: Mapping[str, Key]


JOB: Final = FileKind(JOB_FILE)
SHOP: Final = FileKind(SHOP_KEYS)


@lru_cache(maxsize=8)
def tables_of(text: str) -> Mapping[str, Any] | None:
    """What a text says, to be looked at and not changed: one answer asks for it many times. None for no TOML."""
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except (ValueError, ArithmeticError, RecursionError):
        return None


def kind_of_file(name: str, tables: Mapping[str, object]) -> FileKind:
    """The kind of a file of this name, by what stands in it where its name does not say so."""
    tools = [word for word in tables if word in SHOP_KEYS and (word not in JOB_FILE or isinstance(tables[word], dict))]
    work = [word for word in tables if word not in SHOP_KEYS]
    return SHOP if name.lower() == SHOP_FILE or (tools and not work) else JOB


def is_shop(name: str, text: str) -> bool:
    """Whether a text is a shop file's."""
    return kind_of_file(name, tables_of(text) or {}) is SHOP


def title_of(name: str, text: str) -> str:
    """What a file is called on the page; without a title it is called by its name."""
    if is_shop(name, text):
        return "The shop"
    given = (tables_of(text) or {}).get("title")
    return given if isinstance(given, str) and given.strip() else name
