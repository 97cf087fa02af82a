"""Clamps, pins and screws of a stage of the glue-up in words: how they stand on each line, and how many.

Figures in it have no-break spaces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import Final

from storystick.gluing.clamps import ClampLine, ClampSet, lacking
from storystick.gluing.joints import Held
from storystick.gluing.stages import Stage
from storystick.job.job import Job
from storystick.job.shop import Shop
from storystick.layout.cabinets.pieces import Piece, Role
from storystick.lengths import INCH_MM, Figures, Units
from storystick.wording import counted, in_order, listed, number_of, unbroken

FEWER: Final = "or fewer with stiffer cauls, or pins or pocket screws from inside; it goes on in one piece and at once"
"""Of a face frame, which is laid on and clamped along its edges: common practice, no source."""

CROSSING: Final = "where cauls cross, pack up under the upper one"
"""Of a face frame as well: common practice, no source."""

HALF: Final = "the outer ones half as far from the ends"
"""Of clamps and pins that stand evenly along a line."""

_FRAME_CURE: Final = "fasten the frame with pins or pocket screws from inside"
_CASE_CURE: Final = "draw some of the joints home with screws, where they will not show"
"""What serves in place of clamps: common practice, no source."""

_ON_A_FRAME: Final = (Held.STIFF, Held.BOWED)
_SPACED: Final = (Held.SPACED, Held.STIFF, Held.PINNED)
_COARSE: Final = {Units.INCH: INCH_MM / 4, Units.MM: Fraction(5)}
"""What the eye sets clamps to, in mm: common practice, no source."""

# With glue on his hands nobody reads more kinds of blocks, nor sizes of clamps, of which those nearest to each other
# become one class.
_MOST_BLOCKS: Final = 4
_MOST_CLASSES: Final = 4
_LEAST_STEPS: Final = 4
"""Fewer such steps from clamp to clamp are said exactly."""


def called(pieces: Iterable[Piece]) -> str:
    """Pieces by their names, those that follow each other as one."""
    return ", ".join(in_order(piece.name for piece in pieces))


def line_words(lines: Sequence[ClampLine], figures: Figures) -> Iterator[str]:
    """How many clamps or pins go on each line, how they stand, and what else it needs: lines treated alike gathered."""
    alike = Counter((line.length, _holders(line), _WHERE[line.held](line, figures)) for line in lines)
    for (length, holders, where), number in alike.items():
        each = " on each" if number > 1 else ""
        yield f"{counted(number, 'line')} of {unbroken(figures(length))}: {holders}{each}, {where}"
    if any(line.held in _SPACED for line in lines):
        yield HALF
    yield from _notches(lines)
    yield from _blocks(lines, figures)
    if len({(line.held, line.joints[0].runs) for line in lines if line.held in _ON_A_FRAME}) > 1:
        yield CROSSING
    if any(line.held is Held.STIFF for line in lines):
        yield FEWER


def _holders(line: ClampLine) -> str:
    if line.screws:
        return number_of(line.screws, listed(_screw_words([line])))
    return counted(line.pins, "pin") if line.pins else counted(line.clamps, "clamp")


def _screw_words(lines: Iterable[ClampLine]) -> list[str]:
    """What the screws of some lines are called."""
    rows = (joint.row for line in lines if line.screws for joint in line.joints)
    return list(dict.fromkeys(row.fastener.word for row in rows if row))


def _spaced(line: ClampLine, figures: Figures) -> str:
    return f"{_about(line.spacing, figures)} apart"


_WHERE: Final[dict[Held, Callable[[ClampLine, Figures], str]]] = {
    Held.DRAWN: lambda _line, _figures: "a clamp or a helper holds it flush while they are driven",
    Held.EDGES: lambda _line, _figures: "at the front and back edges, over bowed cauls",
    Held.FRONT: lambda _line, _figures: "at the front edge, over blocks",
    Held.REAR: lambda _line, _figures: "at the back edge, over blocks",
    Held.FACES: lambda _line, _figures: "one on each face",
    Held.SPACED: lambda line, figures: f"{_spaced(line, figures)}, by turns on either face",
    Held.STIFF: lambda line, figures: f"{_spaced(line, figures)}, on a stiff caul along it",
    Held.BOWED: lambda _line, _figures: "at the ends of a bowed caul",
    Held.LAPPED: lambda _line, _figures: "over the middle of each lap, a block on either face",
    Held.MIDDLE: lambda line, figures: f"at the middle of its width, on a lap of {_lap(line, figures)}",
    Held.PINNED: lambda line, figures: f"{_spaced(line, figures)}, along the middle of a lap of {_lap(line, figures)}",
}


def _lap(line: ClampLine, figures: Figures) -> str:
    return unbroken(figures(line.lap))


def _about(spacing: Fraction, figures: Figures) -> str:
    """A distance that is set by eye, unless it is so small that rounding would tell."""
    coarse = _COARSE[figures.units]
    steps = round(spacing / coarse)
    if steps < _LEAST_STEPS:
        return unbroken(figures(spacing))
    return f"about {unbroken(figures(steps * coarse))}"


def _notches(lines: Sequence[ClampLine]) -> Iterator[str]:
    """The cauls that come over tongues that are free by then, or over the tenons of a frame."""
    for word, framed in (("tongue", False), ("tenon", True)):
        if parts := dict.fromkeys(piece for line in lines if line.framed is framed for piece in line.notched):
            yield f"notch the caul over the free {word} of {called(parts)}, so that it bears on the shoulders"


def _blocks(lines: Sequence[ClampLine], figures: Figures) -> Iterator[str]:
    """What is put into empty places, by its length and by what it stands between; counted where that is much."""
    alike: dict[tuple[Fraction, tuple[Piece, Piece]], list[Piece]] = {}
    for line in lines:
        for place in line.empty:
            alike.setdefault((place.length, place.between), []).extend(joint.piece for joint in line.joints)
    if len(alike) > _MOST_BLOCKS:
        sizes = [unbroken(figures(length)) for length in sorted({length for length, _ in alike})]
        size = f"of {sizes[0]}" if len(sizes) == 1 else f"from {sizes[0]} to {sizes[-1]}"
        places = sum(len(line.empty) for line in lines)
        yield f"blocks {size}, dry, in {places} empty places: wherever a line meets no part in an opening"
        return
    for (length, (low, high)), opposite in alike.items():
        parts = called(dict.fromkeys(opposite))
        yield f"blocks of {unbroken(figures(length))}, dry, between {low.name} and {high.name} in line with {parts}"


_PRESSED: Final = "none: press the slots home by hand, or with a mallet and a block"
_NO_CLAMPS: Final[Mapping[Held, str]] = {
    Held.SOCKET: "none: what slides in is held by its sockets",
    Held.RUBBED: "none: rub each to and fro in its glue until it grabs, and leave it; screw it as well where the "
    "top or the case is screwed down to it",
}
"""What holds a joint that takes neither clamps nor pins: common practice, no source."""


def holder_words(stage: Stage, units: Units) -> str:
    """The pins or screws of a stage; or how many clamps, how far they must open, and how many cauls."""
    if stage.pins and all(line.held is Held.MIDDLE for line in stage.lines):
        return f"{stage.pins} pins or screws, one at the middle of each board on each part that it crosses"
    if stage.pins:
        each = all(joint.piece.role is Role.CLEAT for joint in stage.joints)
        return f"{stage.pins} {'screws' if each else 'pins or screws, one edge first'}"
    if not stage.clamps and not stage.screws:
        if stage.closing is None:
            return "a clamp or a helper, joint by joint"
        held = {joint.held for joint in stage.joints}
        return next((words for each, words in _NO_CLAMPS.items() if each in held), _PRESSED)
    screws = number_of(stage.screws, listed(_screw_words(stage.lines))) if stage.screws else ""
    clamps = "" if screws and not stage.clamps else f"{clamp_words(stage, units)}, {counted(stage.cauls, 'caul')}"
    return " and ".join(filter(None, (screws, clamps)))


def clamp_words(stage: Stage, units: Units) -> str:
    """How many clamps, and how far each of them must open; of many kinds, in a few classes by the widest of each."""
    if not (classes := _classes(stage.needs, units)):
        return counted(stage.clamps, "clamp")
    first, *others = classes
    if not others:
        opens = "opens" if stage.clamps == 1 else "open"
        return f"{counted(stage.clamps, 'clamp')} that {opens} to {_opening(first.jaws, units)} or more"
    kinds = [f"{first.clamps} that open to {_opening(first.jaws, units)} or more"]
    kinds += [f"{need.clamps} to {_opening(need.jaws, units)}" for need in others]
    return f"{stage.clamps} clamps ({listed(kinds)})"


def _classes(needs: Sequence[ClampSet], units: Units) -> list[ClampSet]:
    """The needs, widest first, those in one step of the rack as one, and the others so few that they are read.

    Two neighbours become one where that asks for the least length of bars over what the clamps must open to.
    """
    step = _COARSE[units]
    by_jaws: Counter[Fraction] = Counter()
    for need in needs:
        by_jaws[ceil(need.jaws / step) * step] += need.clamps
    classes = [ClampSet(clamps, jaws) for jaws, clamps in by_jaws.items()]
    while len(classes) > _MOST_CLASSES:
        over = [low.clamps * (high.jaws - low.jaws) for high, low in pairwise(classes)]
        place = over.index(min(over))
        high, low = classes[place : place + 2]
        classes[place : place + 2] = [ClampSet(high.clamps + low.clamps, high.jaws)]
    return classes


def _opening(jaws: Fraction, units: Units) -> str:
    """How far a clamp must open, in steps that one looks for at the rack; never less than it must."""
    return unbroken(Figures(units, _COARSE[units]).at_least(jaws))


def short_of(stage: Stage, shop: Shop | None) -> tuple[ClampSet, ...]:
    """The clamps that a shop has to get for a stage; none where it does not say which it has."""
    return lacking(stage.needs, shop.clamps if shop else ())


def lack_words(stage: Stage, job: Job) -> str:
    """Which clamps the shop has not got for a stage, and what would do; empty where it has enough."""
    if not (lacks := short_of(stage, job.shop)):
        return ""
    more = listed([_missing(lack, job.units) for lack in lacks])
    framed = any(line.held in _ON_A_FRAME for line in stage.lines)
    return f"the shop is short of clamps: get or borrow {more}, or {_FRAME_CURE if framed else _CASE_CURE}"


def _missing(lack: ClampSet, units: Units) -> str:
    opens = "opens" if lack.clamps == 1 else "open"
    return f"{counted(lack.clamps, 'more clamp')} that {opens} to {_opening(lack.jaws, units)}"
