"""How a form words what keys and a file say: labels, sentences, and what is seen of a part that is shut."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from storystick.bench.fields.examples import typed_as
from storystick.job.keys import TableOf

FEW_WORDS: Final = 3
"""So many words tell what a part holds while it is shut."""

YES_NO: Final[Mapping[str, str]] = {"true": "yes", "false": "no"}


def label_of(name: str) -> str:
    """A key's name as words."""
    words = name.replace("_", " ")
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """Words of a key as a sentence."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."


def as_usual(words: str) -> str:
    """What is read where nothing is chosen."""
    return f"— {words}" if words.startswith("needed") else f"as usual: {words or 'none'}"


def adding_words(of: TableOf[Any]) -> str:
    """What adds such a table, by the first of its words."""
    words = of.words.rstrip(".")
    for sign in (",", ":", " with "):
        words = words.partition(sign)[0]
    return f"Add {words[:1].lower()}{words[1:]}"


def first_of(example: object) -> object:
    match example:
        case list():
            return example[0] if example else ""
        case dict() if example and len(example) == 1:
            return next(iter(example.values()))
    return example


def gist_of(value: object) -> str:
    match value:
        case dict():
            return ", ".join(filter(None, map(gist_of, list(value.values())[:FEW_WORDS])))
        case list():
            return ", ".join(filter(None, map(gist_of, value[:FEW_WORDS])))
        case bool():
            return YES_NO[typed_as(value)]
    return typed_as(value)
