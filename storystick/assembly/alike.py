"""Cabinets whose glue-up is alike but for their names, which are worked through from the same pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from storystick.assembly.stages import Stage
from storystick.job.rectangles import Rectangle


@dataclass(frozen=True, slots=True)
class SharedStages:
    """The stages of ``cabinets`` that are alike, without the name of any in them."""

    cabinets: tuple[str, ...]
    stages: tuple[Stage, ...]


def shared_stages(stages: Sequence[Stage]) -> Iterator[SharedStages]:
    """The stages gathered by cabinets that are alike, in the order of the first of each."""
    by_stages: dict[tuple[Stage, ...], list[str]] = {}
    for cabinet, own in groupby(stages, key=lambda stage: stage.cabinet):
        by_stages.setdefault(tuple(_nameless(stage) for stage in own), []).append(cabinet)
    for nameless, cabinets in by_stages.items():
        yield SharedStages(tuple(cabinets), nameless)


def _nameless(stage: Stage) -> Stage:
    return replace(stage, cabinet="", rectangles=tuple(_of_any(each, stage.cabinet) for each in stage.rectangles))


def _of_any(rectangle: Rectangle, cabinet: str) -> Rectangle:
    return replace(rectangle, name=rectangle.name.removeprefix(f"{cabinet} "))
