"""A form as the page shows it: fields by their places in a file, in parts that can be shut, with what can be done.

It holds texts only, as a person types and reads them; ``look`` is the macro of ``templates/fields.html`` that shows it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from storystick.bench.places import Steps


@dataclass(frozen=True, slots=True)
class Option:
    """What can be chosen: the ``value`` that is written, empty for what is usual, and what is read for it.

    ``is_on``: of several that can be chosen together, whether this one is; its value is then that without it.
    """

    value: str
    label: str
    is_on: bool = False


@dataclass(frozen=True, slots=True)
class Action:
    """A button: the ``change`` that it makes ``at`` a place, empty for none, and then what it ``chooses``.

    ``spoken`` says it whole where its label says less than a row of them needs.
    """

    label: str
    change: str
    at: Steps
    value: str = ""
    spoken: str = ""
    chooses: Steps | None = None


@dataclass(frozen=True, slots=True)
class Field:
    """What is typed or chosen at one place.

    ``at`` is where its change is made, where that is not its own place. ``placeholder`` is what stands for it while it
    is empty; ``is_short``: a figure, for which a narrow field does; ``redraws`` says that other fields hang on it.
    ``names`` may be typed beside what else may.
    """

    steps: Steps
    look: str
    label: str
    words: str
    value: str = ""
    placeholder: str = ""
    example: str = ""
    options: Sequence[Option] = ()
    actions: Sequence[Action] = ()
    change: str = "set"
    at: Steps | None = None
    is_needed: bool = False
    is_short: bool = False
    redraws: bool = False
    names: Sequence[str] = ()

    @property
    def is_given(self) -> bool:
        return bool(self.value)

    def fields(self) -> Iterator[Field]:
        yield self


@dataclass(frozen=True, slots=True)
class Part:
    """What belongs together at one place; ``gist`` is what is seen of it while it is shut.

    ``is_given``: the file has it. ``lead`` is shown in one line, ``items`` below.
    """

    steps: Steps
    title: str
    words: str = ""
    gist: str = ""
    items: Sequence[Item] = ()
    actions: Sequence[Action] = ()
    is_open: bool = False
    is_given: bool = True
    look: str = "part"
    lead: Sequence[Field] = ()

    def fields(self) -> Iterator[Field]:
        """Every field in it."""
        yield from self.lead
        for item in self.items:
            yield from item.fields()


Item: TypeAlias = Field | Part


@dataclass(frozen=True, slots=True)
class Form:
    """All fields of one thing."""

    steps: Steps
    title: str
    words: str
    parts: Sequence[Item]
    actions: Sequence[Action] = ()

    def fields(self) -> Iterator[Field]:
        """Every field in it."""
        for part in self.parts:
            yield from part.fields()
