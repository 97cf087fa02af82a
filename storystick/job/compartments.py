"""What an opening of a cabinet is fitted with: its front, its hinges, its shelves. Exact, in mm, without positions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault, as_written
from storystick.job.between import Between, above_key
from storystick.job.fronts import FRONT_KIND, FrontKind
from storystick.job.keys import Key, TableOf, inner, key, list_of, one, plain_or, table, table_of
from storystick.job.kinds import DISTANCE, SIZE, Schema, Scope, by_units, whole, word_of
from storystick.job.openings import (
    CLEAR,
    EQUAL,
    GROUP_ALONE,
    SHARED,
    Fixed,
    Graduated,
    Opening,
    Share,
    forms,
    openings_of,
)
from storystick.job.sticks import Hand
from storystick.lengths import INCH_MM, Units

_MOST_SHELVES: Final = 60
_PITCH_MM: Final = Fraction(32)
_LEAST_PITCH: Final = {Units.INCH: (INCH_MM / 8, "1/8 in"), Units.MM: (Fraction(3), "3 mm")}
"""Holes that are closer run into each other: no pin is thinner; common practice, no source."""

_PLAY: Final = by_units("1/16", "2")
"""What adjustable shelves have to spare, in length and in depth (mm): common practice, no source."""


def _check_pitch(pitch: Fraction, value: object, scope: Scope) -> None:
    least, words = _LEAST_PITCH[scope.units]
    if pitch < least:
        what = f"{as_written(value)} is less than {words}, which the thinnest pin's hole takes"
        raise Fault(what, "look at its unit; 32 mm is usual")


def _play(words: str) -> Key:
    return Key(DISTANCE, words, "1/8", usual=_PLAY)


@table("Adjustable shelves on rows of holes.", form="{ shelves = …, first = …, front = …, back = … }")
class Adjustable:
    """Adjustable shelves in an opening: how many, on rows of holes ``pitch`` apart.

    The rows stand ``front`` from the finished front edge of the case, its edging included (behind a face frame from the
    back of the frame), and ``back`` from its back edge. The lowest hole is ``first`` above the bottom of the opening,
    and the highest at least as far below its top. Shelves are ``play`` shorter than the opening is wide,
    and ``depth_play`` less deep than the case is inside. Holes 32 mm apart are common practice, no source.
    """

    count: int = key(whole(1, _MOST_SHELVES), "how many shelves there are", 2, name="shelves")
    pitch: Fraction = key(SIZE.limited(_check_pitch), "from a hole to the next", "1", usual=lambda _: _PITCH_MM)
    first: Fraction = key(SIZE, "from the bottom of the opening to its lowest hole", "4", asked=True)
    front: Fraction = key(
        SIZE, "from the finished front edge, edging included, to the front row of holes", "1 1/2", asked=True
    )
    back: Fraction = key(SIZE, "from the back edge of the case to the back row of holes", "2", asked=True)
    play: Fraction = key(_play("how much shorter a shelf is than its opening is wide"))
    depth_play: Fraction = key(_play("how much less deep a shelf is than the case is inside"), default=Fraction(0))


@dataclass(frozen=True, slots=True)
class Compartment:
    """An opening of a column, or a graduated group of them, and what it is fitted with.

    ``front`` None is the cabinet's usual kind. ``hinge`` is the side of a door's hinges, None where nothing is said.
    ``above`` is what stands above it, None where that is what its column has between its openings. ``inside`` are the
    clear sizes between fixed shelves behind its one front, from the bottom up; none without such shelves.
    """

    item: Opening | Graduated
    front: FrontKind | None = None
    adjustable: Adjustable | None = None
    hinge: Hand | None = None
    above: Between | None = None
    inside: tuple[Fixed | Share, ...] = ()

    def check(self) -> None:
        """That what it is fitted with goes together."""
        check_hinge(self.front, self.hinge)
        if self.inside and self.adjustable:
            raise Fault(
                "inside stands beside adjustable", "give one of them: shelves inside are fixed, in the case's joint"
            )
        if self.inside and self.front is FrontKind.DRAWER:
            raise Fault(
                "inside stands beside a drawer", "leave one of them out: a drawer has no fixed shelves behind it"
            )

    @property
    def count(self) -> int:
        """How many openings of the case it is."""
        return len(self.inside) or (self.item.count if isinstance(self.item, Graduated) else 1)


def check_hinge(front: FrontKind | None, hinge: Hand | None) -> None:
    """That only a single door is said to be hinged at a side."""
    if hinge and front not in (None, FrontKind.DOOR):
        raise Fault('hinge stands beside a front other than "door"', 'leave it out, or write front = "door"')


_FRONT: Final = one("front", Key(FRONT_KIND, "what closes it", "pair", None, otherwise="as the cabinet's fronts say"))
HINGE: Final = Key(word_of(Hand), "the side that a single door is hinged at", "left", None, otherwise="not said")


HINGED_DOOR: Final[Schema] = {
    "if": {"required": ["hinge"]},
    "then": {"required": ["front"], "properties": {"front": {"const": "door"}}},
}
"""Of one front over all of something, that only a door is hinged."""


def one_front(of: str) -> Key:
    """One front over all of something."""
    return Key(
        FRONT_KIND,
        f"one front over the whole {of}, with no members of the face frame before what is behind it",
        "pair",
        None,
        otherwise="its openings have fronts of their own",
    )


def check_one_front(of: str, front: FrontKind | None, hinge: Hand | None, behind: Sequence[Compartment]) -> None:
    """That one front over all of something is the only one there, and may have what is ``behind`` it."""
    check_hinge(front, hinge)
    if hinge and front is None:
        raise Fault(f"hinge is given to a {of} without a front", f'leave it out, or write front = "door" for the {of}')
    if front is None:
        return
    if front is FrontKind.DRAWER and sum(each.count for each in behind) > 1:
        raise Fault(f"one drawer front lies over several openings of a {of}", "give each opening a drawer of its own")
    for each in behind:
        if each.front is FrontKind.DRAWER and front is not FrontKind.DRAWER:
            raise Fault(
                f"a drawer stands behind the one front of a {of}: drawers inside are not worked out here",
                "leave its front out and make the drawer to fit, or give each opening a front of its own",
            )
        if each.front or each.hinge:
            what = f"an opening has a front or a hinge of its own behind the one front of its {of}"
            raise Fault(what, "leave one of them out")


_ABOVE: Final = one("above", above_key("it"))
_INSIDE: Final = one(
    "inside",
    Key(
        list_of(CLEAR),
        "clear sizes between fixed shelves behind its one front, from the bottom up",
        ["equal", "equal"],
        (),
        otherwise="no such shelves",
    ),
)
_ADJUSTABLE: Final = one(
    "adjustable",
    Key(
        inner(Adjustable),
        "adjustable shelves in it",
        {"shelves": 2, "first": "4", "front": "1 1/2", "back": "2"},
        None,
        otherwise="none",
    ),
)


def _fitted(of: type[Any] | TableOf[Any], **more: Any) -> TableOf[Compartment]:
    """An opening of a cabinet, with what it is fitted with."""
    own = table_of(of)

    def build(
        front: FrontKind | None,
        hinge: Hand | None,
        above: Between | None,
        adjustable: Adjustable | None = None,
        inside: tuple[Fixed | Share, ...] = (),
        **fields: object,
    ) -> Compartment:
        made = Compartment(own.build(**fields), front, adjustable, hinge, above, inside)
        made.check()
        return made

    shape = {
        **own.shape,
        "if": {"required": ["hinge"]},
        "then": {"properties": {"front": {"const": "door"}}},
        "not": {
            "required": ["inside"],
            "anyOf": [
                {"required": ["adjustable"]},
                {"required": ["front"], "properties": {"front": {"const": "drawer"}}},
            ],
        },
    }
    filled = {**own.filled, **more, "hinge": one("hinge", HINGE), "above": _ABOVE}
    return replace(own, build=build, filled=filled, shape=shape, check=None)


_COMPARTMENT: Final = plain_or(
    CLEAR,
    lambda taken, _: Compartment(Opening(taken)),
    forms(
        "{ key = …, key = … }",
        opening=_fitted(Opening, front=_FRONT, inside=_INSIDE, adjustable=_ADJUSTABLE),
        share=_fitted(SHARED, front=_FRONT, inside=_INSIDE, adjustable=_ADJUSTABLE),
        graduated=_fitted(GROUP_ALONE, front=_FRONT),
    ),
    "opening",
)
_ONE_OPENING: Final = (Compartment(Opening(EQUAL)),)
OPENINGS: Final = Key(
    openings_of(_COMPARTMENT, Compartment),
    "the openings from the bottom up, by their clear sizes",
    ["8", "equal", {"graduated": 4, "step": "1/2"}, {"opening": "equal", "front": "pair"}],
    usual=lambda _: _ONE_OPENING,
    otherwise="one opening",
)
