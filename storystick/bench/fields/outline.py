"""The outline of a file: all the things that it has, how many faults each holds, and what adds one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from storystick.bench.fields.forms import Forms
from storystick.bench.fields.groups import HEADS
from storystick.bench.fields.making import Maker
from storystick.bench.fields.model import Action
from storystick.bench.fields.things import Thing, told_of
from storystick.bench.places import Steps


@dataclass(frozen=True, slots=True)
class Heading:
    """Things of one word; ``chooses`` is what is shown for all of them, None for nothing.

    ``faults`` are those of what it shows itself.
    """

    title: str
    chooses: Steps | None
    things: Sequence[tuple[Thing, int]] = ()
    adds: Sequence[Action] = ()
    faults: int = 0
    gist: str = ""

    @property
    def is_empty(self) -> bool:
        """Whether the file has nothing of it."""
        return self.chooses is None and not self.things


def outline(forms: Forms, faults: Sequence[Steps]) -> Iterator[Heading]:
    """The headings of a file, whose faults stand at these places."""
    words = [word for word in forms.of.keys if forms.is_apart(word)]
    head = sum(not steps or steps[0] not in words for steps in faults)
    yield Heading(HEADS[forms.of].title, (), faults=head)
    maker = forms.maker(())
    for word in words:
        yield _heading(forms, maker, word, [steps for steps in faults if steps and steps[0] == word])


def _heading(forms: Forms, maker: Maker, word: str, faults: Sequence[Steps]) -> Heading:
    title = told_of(word).all
    if not forms.is_counted(word):
        return Heading(title, (word,), faults=len(faults))
    things = forms.things(word)
    if told_of(word).together:
        return Heading(title, (word,), faults=len(faults), gist=", ".join(thing.name for thing in things))
    counted = [(thing, sum(steps[: len(thing.steps)] == thing.steps for steps in faults)) for thing in things]
    adds = [replace(act, label=act.label.replace("New ", "Add a ", 1)) for act in forms.adds(word, maker)]
    return Heading(title, None, counted, adds)
