"""The cards of the first page: what each file of the folder is, when it was changed, and what is to be mended in it."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from storystick.bench.draft import Draft, read_draft
from storystick.bench.file_kinds import is_shop, title_of
from storystick.bench.pictures.job import thumbnail
from storystick.bench.state import Bench
from storystick.errors import Fault, StorystickError
from storystick.job.job import Job
from storystick.wording import counted, listed

_BESIDE: Final = (".csv", ".toml")
_MOST_KEPT: Final = 200


@dataclass(frozen=True, slots=True)
class Heading:
    """What is told of a file at once: its ``name``, ``title``, whether it is a shop's, and ``when`` it was changed."""

    name: str
    title: str
    is_shop: bool
    when: datetime


@dataclass(frozen=True, slots=True)
class Card:
    """What takes longer: in a few words what it is of, its faults, and a small picture as HTML, empty where there is
    none."""

    what: str
    faults: tuple[Fault, ...] = ()
    picture: str = field(default="", repr=False)


def heading_of(bench: Bench, name: str) -> Heading:
    """What is told of a file before it is laid out; without a title it is called by its name."""
    seconds = bench.folder.changed_at(name)
    when = _when(seconds)
    try:
        text = bench.folder.read(name).text
    except StorystickError:
        return Heading(name, name, False, when)
    return Heading(name, title_of(name, text), is_shop(name, text), when)


def _when(seconds: float) -> datetime:
    """The time of a file, which a disk may give in years that no calendar here has: then the first there is."""
    try:
        return datetime.fromtimestamp(seconds)
    except (ValueError, OverflowError, OSError):
        return datetime.fromtimestamp(0)


def card_of(bench: Bench, name: str) -> Card:
    """The rest; as it was the last time, where no file of the folder that it may depend on has changed."""
    version = _versions(bench, name)
    kept = bench.cards.get(name)
    if kept and kept[0] == version and isinstance(kept[1], Card):
        return kept[1]
    card = _made(bench, name)
    bench.cards[name] = version, card
    while len(bench.cards) > _MOST_KEPT:
        bench.cards.pop(next(iter(bench.cards)), None)
    return card


def _versions(bench: Bench, name: str) -> Hashable:
    others = (other for other in bench.folder.taken() if other.endswith(_BESIDE))
    return bench.folder.version(name), tuple(sorted((other, bench.folder.changed_at(other)) for other in others))


def _made(bench: Bench, name: str) -> Card:
    try:
        draft = read_draft(bench, name, bench.folder.read(name).text)
    except StorystickError as error:
        return Card("", error.faults)
    return Card(_what(draft), draft.faults, _picture(draft))


def _what(draft: Draft) -> str:
    if draft.is_shop:
        return "Tools, bits and printers that all jobs here share"
    return _things(draft.layout.job) if draft.layout else ""


def _things(job: Job) -> str:
    rows = (
        (len(job.runs), "wall"),
        (len(job.cabinets), "cabinet"),
        (len(job.sticks), "stick"),
        (len(job.boards), "board"),
    )
    things = [counted(number, word) for number, word in rows if number]
    return listed(things) if things else ""


def _picture(draft: Draft) -> str:
    try:
        return thumbnail(draft.layout) if draft.layout else ""
    except StorystickError:
        return ""
