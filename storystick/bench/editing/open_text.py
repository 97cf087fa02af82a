"""A text while it is changed: what stands at a place of it, and what may stand there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from storystick.bench.declared import best_table, entry_of, named_in, shape_at, tables_in
from storystick.bench.editing.toml_items import keep_document, plain, take_document
from storystick.bench.editing.typed_values import writes_text
from storystick.bench.file_kinds import tables_of
from storystick.bench.places import Steps
from storystick.job.keys import Key


class OpenText:
    """A text while it is changed, by ``keys`` that are declared for the top of such a file."""

    def __init__(self, text: str, keys: Mapping[str, Key]) -> None:
        """Raises Fault for a text that is not TOML."""
        self.keys = keys
        self.begin_again(text)
        self.newline = "\r\n" if "\r\n" in text else "\n"

    def begin_again(self, text: str) -> None:
        """Go on from another text."""
        self.document: Any = take_document(text)
        self.writes_text = writes_text(tables_of(text))

    def text(self) -> str:
        """What it has become; nothing more is changed."""
        return keep_document(self.document)

    def item(self, steps: Steps) -> Any:
        """What stands at a place; KeyError where nothing does."""
        item = self.document
        for step in steps:
            item = item[as_step(item, step)]
        return item

    def has(self, steps: Steps) -> bool:
        try:
            self.item(steps)
        except KeyError:
            return False
        return True

    def value(self, steps: Steps) -> Any:
        """What stands there, as a TOML reader gives it; None where nothing does."""
        return plain(self.item(steps)) if self.has(steps) else None

    def shape(self, steps: Steps) -> object:
        """The shape of what may stand at a place; None where nothing may."""
        return shape_at(self.keys, self.document, steps)

    def known(self, steps: Steps) -> Steps:
        """The steps as the file has them: the one thing of a list that stands without brackets has no number."""
        item: Any = self.document
        own: list[str | int] = []
        for step in steps:
            try:
                step = as_step(item, step)
                item = item[step]
            except KeyError:
                if step == 0 and item is not None and not isinstance(item, list) and self._is_alone(tuple(own)):
                    continue
                is_name = isinstance(step, int) and named_in(self.shape(tuple(own))) is not None
                step, item = str(step) if is_name else step, None
            own.append(step)
        return tuple(own)

    def _is_alone(self, steps: Steps) -> bool:
        return bool(steps) and entry_of(self.shape(steps)) is not None


def as_step(item: object, step: str | int) -> str | int:
    """A step as what stands there has it; KeyError where it has none such: a table called by figures has a name."""
    if isinstance(item, dict) and str(step) in item:
        return str(step)
    if isinstance(item, list) and str(step).isdigit() and int(step) < len(item):
        return int(step)
    raise KeyError(step)


def declared_key(text: OpenText, steps: Steps) -> Key | None:
    """The declared key that the steps end with; None where they end with a number or a name."""
    if len(steps) == 1:
        return text.keys.get(str(steps[0]))
    given = text.value(steps[:-1])
    having = [of for of in tables_in(text.shape(steps[:-1])) if steps[-1] in of.keys]
    of = best_table({"oneOf": having}, given if isinstance(given, dict) else {})
    return of.keys[str(steps[-1])] if of else None
