"""What closes a cabinet's openings: its fronts and drawer boxes. Exact, in mm, without positions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, Where, as_written
from storystick.job.cases import read_stock, stock_key
from storystick.job.keys import Here, Key, inner, key, keys, table
from storystick.job.kinds import (
    DISTANCE,
    NAME,
    NUMBER_TEXT,
    Kind,
    Schema,
    Scope,
    choice,
    plain_number,
    word_of,
)
from storystick.job.openings import STOCK, Stock
from storystick.job.reaching import OUTSIDE, OVERLAY, Inset, Reach
from storystick.lengths import INCH_MM, Figures

GAP_GRADES: Final[Mapping[str, Fraction]] = {
    "premium": INCH_MM / 32,
    "custom": INCH_MM / 16,
    "economy": INCH_MM * 3 / 32,
}
"""Reveals in mm by the gap grades of architectural woodwork (shared/gap_grades.toml)."""

_MOST_MOISTURE: Final = 30


class FrontKind(Enum):
    """What closes an opening."""

    DRAWER = "drawer"
    DOOR = "door"
    PAIR = "pair of doors"
    FALSE = "false front"
    NONE = "none"

    @property
    def lies(self) -> bool:
        """Whether its grain runs across the cabinet, as a drawer front's does; a door's runs upward."""
        return self in (FrontKind.DRAWER, FrontKind.FALSE)


FRONT_KIND: Final = choice(
    {
        "drawer": FrontKind.DRAWER,
        "door": FrontKind.DOOR,
        "pair": FrontKind.PAIR,
        "false": FrontKind.FALSE,
        "none": FrontKind.NONE,
    }
)


class FrontFit(Enum):
    """How fronts sit: inside their openings, or over what is round them."""

    INSET = "inset"
    OVERLAY = "overlay"


class Sawn(Enum):
    """How a board was sawn: which of the two coefficients its width moves by."""

    FLAT = "flat"
    QUARTER = "quarter"


def _read_percent(value: object, _: Scope) -> Fraction:
    content = plain_number(value)
    if content is None or content > _MOST_MOISTURE:
        what = f"{as_written(value)} is not a moisture content from 0 to {_MOST_MOISTURE} per cent"
        raise Fault(what, "write it like 8 or 8.5, without a sign")
    return content


_PERCENT_SHAPE: Final[Schema] = {
    "oneOf": [{"type": "number", "minimum": 0, "maximum": _MOST_MOISTURE}, {"type": "string", **NUMBER_TEXT}]
}
_PERCENT: Final = Kind(_read_percent, Fraction(8), "…", "a moisture content in per cent", _PERCENT_SHAPE, "moisture")
_SPECIES: Final = replace(NAME, sort="a wood by its name in the table of movements")


@table(
    "Solid wood, with moisture contents in per cent.",
    form='{ species = "…", cut = "flat" or "quarter", made_at = …, driest = …, dampest = … }',
)
class SolidWood:
    """Solid wood: the ``species`` of the Wood Handbook's table, and moisture contents in per cent.

    ``made_at`` is the content when it is cut to size; ``driest`` and ``dampest`` are the range of a year.
    ``least_reveal`` is what an inset front keeps across its grain at the dampest (mm); None keeps the whole reveal.
    """

    species: str = key(_SPECIES, "the wood, by its name in the Wood Handbook's table of movements", "cherry, black")
    cut: Sawn = key(word_of(Sawn), "how the boards were sawn", "flat")
    made_at: Fraction = key(_PERCENT, "the moisture content when it is cut to size", 8)
    driest: Fraction = key(_PERCENT, "the least moisture content of a year", 6)
    dampest: Fraction = key(_PERCENT, "the most moisture content of a year", 11)
    least_reveal: Fraction | None = key(
        DISTANCE,
        "what an inset front keeps across its grain when it is dampest",
        "1/32",
        default=None,
        otherwise="the whole reveal",
    )

    def check(self, here: Here) -> None:
        if not self.driest <= self.made_at <= self.dampest:
            figures = ", ".join(f"{key} {as_written(here.table[key])}" for key in ("driest", "made_at", "dampest"))
            raise Fault(f"the moisture contents do not rise: {figures}", "let made_at lie between driest and dampest")


def _read_reveal(here: Here) -> Fraction:
    """The reveal as given, or that of the grade."""
    if len(here.given("reveal", "grade")) > 1:
        here.table.fault("reveal stands beside grade", "give one of them", Where.unsaid("reveal"))
    by_grade: Fraction = here("grade")
    reveal: Fraction | None = here("reveal")
    return by_grade if reveal is None else reveal


_ADD_REACH: Final = (
    "add overlay = …, how far a front lies over each edge of its opening; or outside = …, full overlay by gaps: "
    "how far inside the outside of the face fronts end"
)


def _read_reach(here: Here) -> Reach:
    """How far fronts reach, by the kind that they are; inset where that has a fault."""
    kind = here.table["kind"] if here.given("kind") else None
    given = here.given("overlay", "outside")
    if kind == FrontFit.INSET.value:
        for name in given:
            here.table.fault(
                f"{name} is given to inset fronts", 'leave it out, or write kind = "overlay"', Where.unsaid(name)
            )
    if len(given) > 1:
        here.table.fault("overlay stands beside outside", "give one of them", Where.unsaid("overlay"))
    if kind == FrontFit.OVERLAY.value and not given:
        here.table.fault("overlay is missing", _ADD_REACH, Where.unsaid("overlay"))
    reach: Reach | None = here("outside") or here("overlay")
    return reach or Inset()


@table(
    "What closes the openings.",
    form='{ kind = "inset", reveal = … } or { kind = "overlay", overlay = … }',
    shape={
        "not": {"required": ["reveal", "grade"]},
        "if": {"properties": {"kind": {"const": "overlay"}}},
        "then": {"oneOf": [{"required": ["overlay"]}, {"required": ["outside"]}]},
        "else": {"properties": {"overlay": False, "outside": False}},
    },
)
class FrontRule:
    """Fronts: how far they ``reach`` over the edges of their openings. ``reveal`` is all round inset ones and between
    neighbours; ``pair_gap`` is between the two of a pair, None for as much as the reveal there.
    """

    fit: FrontFit = key(
        word_of(FrontFit), "whether fronts sit inside their openings, or over what is round them", "inset", name="kind"
    )
    stock: Stock = keys(read_stock, stock=stock_key("the stock of the fronts", "the frame's, or the carcass's"))
    reveal: Fraction = keys(
        _read_reveal,
        reveal=Key(
            DISTANCE,
            "the gap round an inset front and between a pair, or between overlay fronts",
            "1/16",
            None,
            otherwise="as the grade says",
        ),
        grade=Key(
            choice(GAP_GRADES),
            "a grade of architectural woodwork for the gap: premium 1/32 in, custom 1/16 in, economy 3/32 in",
            "premium",
            GAP_GRADES["custom"],
            otherwise="custom",
        ),
    )
    reach: Reach = keys(
        _read_reach,
        default=Inset(),
        overlay=Key(
            OVERLAY,
            "how far a front lies over each edge of its opening",
            "1/2",
            None,
            otherwise="needed for overlay fronts without outside, and for no others",
            asked=True,
        ),
        outside=Key(
            OUTSIDE,
            "full overlay by gaps: how far inside the outside of the face fronts end, the reveal between them",
            "1/16",
            None,
            otherwise="as overlay says",
        ),
    )
    kind: FrontKind = key(
        FRONT_KIND, "what closes an opening that says nothing else", "door", name="front", default=FrontKind.DRAWER
    )
    pair_gap: Fraction | None = key(
        DISTANCE, "the gap between the two doors of a pair", "3/32", default=None, otherwise="as the reveal"
    )
    wood: SolidWood | None = key(
        inner(SolidWood),
        "solid fronts, made to a size that still opens in the damp season",
        {"species": "cherry, black", "cut": "flat", "made_at": 8, "driest": 6, "dampest": 11},
        default=None,
        otherwise="fronts that do not move",
    )

    @property
    def least(self) -> Fraction:
        """The reveal that is kept across the grain at the dampest."""
        given = self.wood.least_reveal if self.wood else None
        return self.reveal if given is None else given

    def check(self, here: Here) -> None:
        least = self.wood.least_reveal if self.wood else None
        if least is None:
            return
        if self.fit is FrontFit.OVERLAY:
            raise Fault("least_reveal is given to overlay fronts", "leave it out", Where.keys("wood", "least_reveal"))
        if least > self.reveal:
            figures = Figures.usual(here.scope.units)
            what = f"{figures(least)} is more than the reveal of {figures(self.reveal)}"
            raise Fault(what, f"make it {figures.at_most(self.reveal)} or less", Where.keys("wood", "least_reveal"))


@table("Drawer boxes, by the clear space round each.", form='{ stock = "…", side = …, top = …, back = … }')
class DrawerRule:
    """Drawer boxes: ``stock`` of their sides, and the clear space that each leaves in its opening."""

    stock: Stock = key(STOCK, "the stock of their sides", "box")
    side: Fraction = key(DISTANCE, "the clear space at each side of a box, as its slide needs", "3/16", asked=True)
    top: Fraction = key(DISTANCE, "the clear space above a box", "1/4", asked=True)
    bottom: Fraction = key(DISTANCE, "the clear space below a box", "1/8", usual=lambda _: Fraction(0))
    back: Fraction = key(DISTANCE, "the clear space behind a box", "1", asked=True)
