"""A stage of the glue-up, what all stages come to, and which cabinets share them. In mm and minutes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from math import ceil
from typing import Final, NamedTuple

from storystick.gluing.clamps import ClampLine
from storystick.gluing.joints import GluedJoint
from storystick.gluing.order import Step
from storystick.job.job import Rectangle
from storystick.job.shop import Clamp, Glue

DRY_RUN: Final = "dry run, without glue"


class Clamping(NamedTuple):
    """So many clamps that open to ``jaws`` mm or more."""

    clamps: int
    jaws: Fraction


@dataclass(frozen=True, slots=True)
class Stage:
    """What is done in one go. ``step`` is None for the dry run, which glues nothing.

    ``pins`` (or screws) fasten a back or a plinth in place of clamps. ``reach`` (mm) is how far the clamps must open
    at least, 0 without any; times are in minutes for one person, ``spread`` until the glue is spread, ``minutes``
    until all is clamped or fastened. ``rectangles`` are those to be squared by their diagonals. ``twist``: it makes
    something whole that can set twisted. ``dry_back``: a back that is fastened last is laid in to square the case.
    ``glued`` is False for what is fastened without glue. ``needs`` are its clamps by how far they open, the widest
    first; of the dry run, what serves every stage in turn.
    """

    cabinet: str
    name: str
    step: Step | None
    lines: tuple[ClampLine, ...]
    clamps: int
    cauls: int
    pins: int
    reach: Fraction
    spread: Fraction
    minutes: Fraction
    rectangles: tuple[Rectangle, ...]
    glue: Glue | None
    twist: bool = False
    dry_back: bool = False
    glued: bool = True
    needs: tuple[Clamping, ...] = ()

    @property
    def joints(self) -> tuple[GluedJoint, ...]:
        return self.step.joints if self.step else ()

    @property
    def glued_length(self) -> Fraction:
        """The length of all its glue lines together, in mm."""
        return sum((joint.length for joint in self.joints if self.glued), Fraction(0))

    @property
    def moment(self) -> str:
        """When its diagonals are measured."""
        if self.step is None:
            return "under clamps, with every joint home"
        if self.pins:
            return "with one edge fastened, before the others are"
        return "with the clamps on, before the glue grabs"

    @property
    def fits(self) -> bool | None:
        """Whether it is done within the glue's assembly times; None where there is nothing to compare with.

        What is pinned is not drawn together by clamps: its glue may be spread edge by edge.
        """
        if self.glue is None or self.step is None or self.pins:
            return None
        return self.spread <= self.glue.open and self.minutes <= self.glue.closed

    @property
    def slower_glue(self) -> str:
        """What glue it takes, where it does not fit; empty where it does."""
        if self.fits is not False:
            return ""
        return f"a slower glue is needed: at least {ceil(self.spread)} min open and {ceil(self.minutes)} min closed"

    @property
    def in_clamps(self) -> bool:
        """Whether its clamps stay on until the glue holds."""
        return self.step is not None and self.clamps > 0

    @property
    def clamp_time(self) -> Fraction | None:
        """How long its clamps stay on; 0 where none do, None where the shop does not say."""
        if not self.in_clamps:
            return Fraction(0)
        return self.glue.clamp_time if self.glue else None


def needed(stages: Iterable[Sequence[ClampLine]]) -> tuple[Clamping, ...]:
    """The clamps that serve all the stages, one after another, given the lines of each; the widest first."""
    found: list[Clamping] = []
    by_stage = [[line for line in lines if line.clamps] for lines in stages]
    for jaws in sorted({line.jaws for lines in by_stage for line in lines}, reverse=True):
        most = max(sum(line.clamps for line in lines if line.jaws >= jaws) for lines in by_stage)
        if (more := most - sum(clamping.clamps for clamping in found)) > 0:
            found.append(Clamping(more, jaws))
    return tuple(found)


def lacking(stage: Stage, clamps: Sequence[Clamp]) -> tuple[Clamping, ...]:
    """Which clamps a stage takes that are not among the shop's; none where the shop names no clamps.

    Long clamps serve for short ones: at every opening of the jaws as many have to be there as are needed from it up.
    """
    found: list[Clamping] = []
    wanted = 0
    for need in stage.needs if clamps else ():
        wanted += need.clamps
        owned = sum(clamp.count for clamp in clamps if clamp.opens >= need.jaws)
        missing = wanted - owned - sum(lack.clamps for lack in found)
        if missing > 0:
            found.append(Clamping(missing, need.jaws))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Total:
    """What the stages of one cabinet take one person, one stage after another: minutes of work, and in clamps.

    ``in_clamps`` counts the stages after which clamps stay on; ``clamped`` is None where the shop does not say how
    long.
    """

    cabinet: str
    work: Fraction
    in_clamps: int
    clamped: Fraction | None

    @property
    def minutes(self) -> Fraction | None:
        """From the first moment of the dry run until the last clamp comes off."""
        return None if self.clamped is None else self.work + self.clamped


def totals(stages: Iterable[Stage]) -> Iterator[Total]:
    """The total of each cabinet."""
    for cabinet, group in groupby(stages, key=lambda stage: stage.cabinet):
        own = list(group)
        times = [stage.clamp_time for stage in own if stage.in_clamps]
        known = [time for time in times if time is not None]
        clamped = sum(known, Fraction(0)) if len(known) == len(times) else None
        yield Total(cabinet, sum((stage.minutes for stage in own), Fraction(0)), len(times), clamped)


class Enough(NamedTuple):
    """The assembly times, in whole minutes, of a glue that is slow enough; ``over`` are the stages that ask for it."""

    open: int
    closed: int
    over: tuple[Stage, ...]


def enough_glue(stages: Sequence[Stage]) -> Enough | None:
    """What glue would be slow enough for every stage of a plan; None where the one it is made for is."""
    over = tuple(stage for stage in stages if stage.fits is False)
    if not over:
        return None
    timed = [stage for stage in stages if stage.fits is not None]
    return Enough(ceil(max(stage.spread for stage in timed)), ceil(max(stage.minutes for stage in timed)), over)


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
