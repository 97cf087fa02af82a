"""A stage of the glue-up, what all stages come to, and which cabinets share them. In mm and minutes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from fractions import Fraction
from itertools import groupby
from math import ceil
from typing import Final

from storystick.gluing.clamps import ClampLine, ClampSet
from storystick.gluing.joints import GluedJoint, Held
from storystick.gluing.order import Closing
from storystick.job.job import Rectangle
from storystick.job.shop import Glue
from storystick.layout.cabinets.pieces import CabinetLayout, Piece

DRY_RUN: Final = "dry run, without glue"


@dataclass(frozen=True, slots=True)
class Stage:
    """What is done in one go. ``closing`` is None for the dry run, which glues nothing.

    ``needs`` are its clamps by how far they open, the widest first; of the dry run, what serves every stage in turn.
    Times are in minutes for one person, ``spread`` until the glue is spread, ``minutes`` until all is clamped or
    fastened. ``rectangles`` are those to be squared by their diagonals. ``twist``: it makes something whole that can
    set twisted. ``dry_back``: a back that is fastened last is laid in to square the case. ``braced``: its back will
    not hold it square. ``glued`` is False for what is fastened without glue.
    """

    layout: CabinetLayout
    name: str
    closing: Closing | None
    lines: tuple[ClampLine, ...]
    needs: tuple[ClampSet, ...]
    cauls: int
    spread: Fraction
    minutes: Fraction
    rectangles: tuple[Rectangle, ...]
    glue: Glue | None
    twist: bool = False
    dry_back: bool = False
    braced: bool = False
    glued: bool = True

    @property
    def cabinet(self) -> str:
        """The name of the cabinet that it is a stage of."""
        return self.layout.cabinet.name

    @property
    def joints(self) -> tuple[GluedJoint, ...]:
        return self.closing.joints if self.closing else ()

    @property
    def clamps(self) -> int:
        return sum(need.clamps for need in self.needs)

    @property
    def jaws(self) -> Fraction:
        """How far its clamps must open at least (mm); 0 without any."""
        return self.needs[0].jaws if self.needs else Fraction(0)

    @property
    def pins(self) -> int:
        """The pins or screws that fasten a back or a plinth in place of clamps."""
        return sum(line.pins for line in self.lines)

    @property
    def screws(self) -> int:
        """The screws that draw its joints home."""
        return sum(line.screws for line in self.lines)

    @property
    def is_fastened(self) -> bool:
        """Whether pins or screws alone hold it while its glue sets."""
        return bool(self.pins or (self.screws and not self.clamps))

    @property
    def fastened_by(self) -> str:
        """What holds it while its glue sets, in one word for a column."""
        return "pins" if self.pins else "screws" if self.is_fastened else "clamps"

    @property
    def glued_length(self) -> Fraction:
        """The length of all its glue lines together, in mm."""
        return sum((joint.length for joint in self.joints if self.glued), Fraction(0))

    @property
    def moment(self) -> str:
        """When its diagonals are measured."""
        if self.closing is None:
            return "under clamps, with every joint home"
        if all(joint.held is Held.MIDDLE for joint in self.joints):
            return "before the first board is on, and again after the last"
        if self.pins:
            return "with one edge fastened, before the others are"
        if self.is_fastened:
            return "with one screw in each joint, before the others are driven"
        return "with the clamps on, before the glue grabs" if self.lines else "before the glue grabs"

    @property
    def fits(self) -> bool | None:
        """Whether it is done within the glue's assembly times; None where there is nothing to compare with.

        What is pinned, screwed or rubbed in is not drawn together by clamps: its glue may be spread joint by joint.
        """
        rubbed = any(joint.held is Held.RUBBED for joint in self.joints)
        if self.glue is None or self.closing is None or self.is_fastened or rubbed:
            return None
        return self.spread <= self.glue.open and self.minutes <= self.glue.closed

    @property
    def slower_glue(self) -> str:
        """What glue it takes, where it does not fit; empty where it does."""
        enough = enough_glue([self])
        return f"a slower glue is needed: {enough.words}" if enough else ""

    @property
    def in_clamps(self) -> bool:
        """Whether its clamps stay on until the glue holds."""
        return self.closing is not None and self.clamps > 0

    @property
    def clamp_time(self) -> Fraction | None:
        """How long its clamps stay on; 0 where none do, None where the shop does not say."""
        if not self.in_clamps:
            return Fraction(0)
        return self.glue.clamp_time if self.glue else None


@dataclass(frozen=True, slots=True)
class CabinetStages:
    """The stages of one cabinet, and what they take one person, one stage after another, in minutes."""

    stages: tuple[Stage, ...]

    @property
    def cabinet(self) -> str:
        return self.stages[0].cabinet

    @property
    def layout(self) -> CabinetLayout:
        return self.stages[0].layout

    @property
    def work(self) -> Fraction:
        return sum((stage.minutes for stage in self.stages), Fraction(0))

    @property
    def in_clamps(self) -> int:
        """How many stages there are after which clamps stay on."""
        return sum(stage.in_clamps for stage in self.stages)

    @property
    def clamped(self) -> Fraction | None:
        """How long clamps stay on altogether; None where the shop does not say how long."""
        times = [stage.clamp_time for stage in self.stages]
        known = [time for time in times if time is not None]
        return sum(known, Fraction(0)) if len(known) == len(times) else None

    @property
    def minutes(self) -> Fraction | None:
        """From the first moment of the dry run until the last clamp comes off."""
        return None if self.clamped is None else self.work + self.clamped


def by_cabinet(stages: Iterable[Stage]) -> Iterator[CabinetStages]:
    """The stages of every cabinet, in the order of the job."""
    for _, own in groupby(stages, key=lambda stage: stage.layout):
        yield CabinetStages(tuple(own))


@dataclass(frozen=True, slots=True)
class EnoughGlue:
    """A glue that is slow enough, by its assembly times in whole minutes; ``over`` are the stages that ask for it."""

    open: int
    closed: int
    over: tuple[Stage, ...]

    @property
    def words(self) -> str:
        return f"at least {self.open} min open and {self.closed} min closed"


def enough_glue(stages: Sequence[Stage]) -> EnoughGlue | None:
    """What glue would be slow enough for every one of some stages; None where the one they are made for is."""
    over = tuple(stage for stage in stages if stage.fits is False)
    if not over:
        return None
    timed = [stage for stage in stages if stage.fits is not None]
    return EnoughGlue(ceil(max(stage.spread for stage in timed)), ceil(max(stage.minutes for stage in timed)), over)


@dataclass(frozen=True, slots=True)
class SharedStages:
    """The ``stages`` of the first of some ``cabinets`` that are alike, without its name in them.

    ``kinds`` are what those that are made of one cabinet are called together.
    """

    cabinets: tuple[str, ...]
    stages: tuple[Stage, ...]
    kinds: tuple[str, ...] = ()


def shared_stages(stages: Iterable[Stage]) -> Iterator[SharedStages]:
    """The stages gathered by cabinets that are alike, in the order of the first of each."""
    alike: dict[object, SharedStages] = {}
    for own in by_cabinet(stages):
        nameless = tuple(_nameless(stage) for stage in own.stages)
        key = _by_names(nameless)
        before = alike.get(key, SharedStages((), nameless))
        cabinet = own.layout.cabinet
        names, kinds = (*before.cabinets, *cabinet.each), (*before.kinds, cabinet.told)
        alike[key] = replace(before, cabinets=names, kinds=kinds)
    yield from alike.values()


def _nameless(stage: Stage) -> Stage:
    rectangles = (replace(each, name=each.name.removeprefix(f"{stage.cabinet} ")) for each in stage.rectangles)
    return replace(stage, rectangles=tuple(rectangles))


def _by_names(thing: object) -> object:
    """What two cabinets can be compared by: all that is in a thing, but pieces by their names, and not whose it is."""
    match thing:
        case CabinetLayout():
            return None
        case Piece():
            return thing.name
        case tuple():
            return tuple(map(_by_names, thing))
        case frozenset():
            return frozenset(map(_by_names, thing))
        case _ if is_dataclass(thing):
            return tuple(_by_names(getattr(thing, each.name)) for each in fields(thing))
    return thing
