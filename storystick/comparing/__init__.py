"""Two layouts held against each other: marks that moved, parts and set-ups that change, and what is spoiled by it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from storystick.comparing.marks import StickChange, paired_sticks
from storystick.comparing.parts import PartChange, all_part_pairs
from storystick.comparing.settings import SettingChange, setting_changes
from storystick.comparing.spoiled import Judged, judge_part, judge_stick
from storystick.errors import Fault, FaultCollector, Where
from storystick.job.other_words import unknown
from storystick.layout.stations import Layout


@dataclass(frozen=True, slots=True)
class Comparison:
    """What is otherwise in ``new``; nothing of it where both lay out the same. ``judged`` is what is already cut."""

    old: Layout
    new: Layout
    sticks: tuple[StickChange, ...]
    parts: tuple[PartChange, ...]
    settings: tuple[SettingChange, ...]
    judged: tuple[Judged, ...] = ()

    @property
    def is_same(self) -> bool:
        """Whether nothing that is struck, cut or set is otherwise."""
        return not (self.sticks or self.parts or self.settings)


def compare(old: Layout, new: Layout, cut: Sequence[str] = ()) -> Comparison:
    """Hold a layout against an older one; ``cut`` names parts, sticks or cabinets of the old one that are cut already.

    Raises:
        Faults: nothing in the old one is called so, or a cutting list has no room for something.
    """
    sticks, parts = paired_sticks(old, new), all_part_pairs(old, new)
    return Comparison(
        old,
        new,
        tuple(change for change in sticks if change.is_any),
        tuple(change for change in parts if change.is_any),
        setting_changes(old, new),
        tuple(_judged(sticks, parts, cut, new)),
    )


def _judged(
    sticks: Sequence[StickChange], parts: Sequence[PartChange], cut: Sequence[str], new: Layout
) -> Iterator[Judged]:
    figures, collector = new.job.figures, FaultCollector()
    known = sorted({name for change in parts for name in _names(change)} | _plain(sticks))
    for name in cut:
        own = [change for change in parts if name in _names(change)]
        boards = [change for change in sticks if change.was and not change.was.faces and change.was.name == name]
        if not own and not boards:
            collector.add(_unknown(name, known))
        yield from (judge_part(change, figures) for change in own)
        yield from (judge_stick(change, figures) for change in boards)
    collector.raise_any()


def _plain(sticks: Sequence[StickChange]) -> set[str]:
    """The boards that plain sticks stand for."""
    return {change.was.name for change in sticks if change.was and not change.was.faces}


def _names(change: PartChange) -> tuple[str, ...]:
    """What an old part answers to: its own name, that with its cabinet, and its cabinet alone."""
    part = change.was
    return (part.name, f"{part.cabinet} {part.name}", part.cabinet) if part else ()


def _unknown(name: str, known: Sequence[str]) -> Fault:
    return unknown(name, "a part, a stick or a cabinet of the old job", known).at(Where("--cut"))
