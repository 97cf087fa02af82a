"""What a back is made of where that is not one sheet: upright boards, a frame with panels, or two parts.

Exact, in mm, without positions.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.errors import Fault
from storystick.job.fronts import SolidWood
from storystick.job.keys import Here, Key, inner, key, keys, table, table_of
from storystick.job.kinds import DISTANCE, SIZE, by_units, word_of
from storystick.job.openings import STOCK, Stock
from storystick.lengths import Figures

_GAPS: Final = by_units("1/16", "2")
_LAPS: Final = by_units("1/4", "6")
_GROOVES: Final = by_units("3/8", "10")
PLAY: Final = by_units("1/32", "1")
"""What boards are left apart by, what tongues and laps are long, how deep a frame's grooves are, and what a tongue or a
panel is short of the bottom of its groove by (mm): common practice, no source."""

_WOOD: Final = inner(table_of(SolidWood).only("species", "cut", "made_at", "driest", "dampest"))
_WOOD_EXAMPLE: Final = {"species": "ash, white", "cut": "flat", "made_at": 8, "driest": 6, "dampest": 12}


_PLAY_KEY: Final = Key(
    DISTANCE,
    "how far what stands in a groove is short of its bottom",
    "1/32",
    usual=PLAY,
)


class BoardJoint(Enum):
    """How the edges of two boards meet: a tongue in a groove, or rabbets that lap."""

    TONGUE = "tongue"
    SHIPLAP = "shiplap"


def _read_gap(here: Here) -> Fraction | None:
    """The gap as given; None where it follows from the wood."""
    gap: Fraction | None = here("gap")
    return _GAPS(here.scope) if gap is None and not here.given("wood") else gap


@table("Upright boards.", form='{ width = …, joint = "tongue" or "shiplap" }')
class Boards:
    """Upright boards of equal widths, none of which is wider than ``width``, its tongue or lap included.

    ``gap`` is what each joint is left open by; None where that follows from the ``wood``.
    """

    width: Fraction = key(SIZE, "the widest that a board may be, its tongue or lap included", "4", asked=True)
    lap: Fraction = key(
        SIZE,
        "how far a tongue or a lap stands out",
        "3/8",
        usual=_LAPS,
    )
    bottom_gap: Fraction = key(_PLAY_KEY)
    gap: Fraction | None = keys(
        _read_gap,
        gap=Key(
            DISTANCE,
            "the gap that each joint is left open by, for the boards to swell",
            "1/16",
            None,
            otherwise="what the wood asks for, or 1/16 in (2 mm in a job in mm)",
        ),
    )
    joint: BoardJoint = key(word_of(BoardJoint), "how their edges meet", "shiplap", default=BoardJoint.TONGUE)
    wood: SolidWood | None = key(
        _WOOD,
        "the wood of the boards, from which the gap follows",
        _WOOD_EXAMPLE,
        default=None,
        otherwise="not told",
    )

    def check(self, here: Here) -> None:
        figures = Figures.usual(here.scope.units)
        if self.width <= 2 * self.lap:
            what = f"boards {figures(self.width)} wide leave nothing between laps of {figures(self.lap)}"
            raise Fault(what, f"make the width more than {figures.at_least(2 * self.lap)}", "width")
        if self.gap is not None and self.gap >= self.lap:
            what = f"a gap of {figures(self.gap)} is open right through, since the lap is {figures(self.lap)}"
            raise Fault(what, "make it less than the lap", "gap")


@table("A frame with panels.", form='{ stile = …, rail = …, panel = "…" }')
class Framed:
    """A frame with panels in its grooves: stiles from end to end, rails with stub tenons as long as a groove is deep.

    ``mid_rail`` is the width of a rail behind the shelf that is nearest to the middle, None without one.
    """

    stile: Fraction = key(SIZE, "the width of its stiles", "2 1/2", asked=True)
    rail: Fraction = key(SIZE, "the width of its rails", "2 1/2", asked=True)
    panel: Stock = key(STOCK, "the stock of its panels, which stand whole in their grooves", "back")
    groove_depth: Fraction = key(
        SIZE,
        "how deep the grooves are that hold its panels and stub tenons",
        "3/8",
        usual=_GROOVES,
    )
    bottom_gap: Fraction = key(_PLAY_KEY)
    mid_rail: Fraction | None = key(
        SIZE, "the width of a rail behind the shelf nearest to the middle", "2 1/2", default=None, otherwise="none"
    )
    wood: SolidWood | None = key(
        _WOOD,
        "the wood of solid panels, which are made narrower by what they swell",
        _WOOD_EXAMPLE,
        default=None,
        otherwise="panels that do not move",
    )


@dataclass(frozen=True, slots=True)
class InParts:
    """Two sheets that meet behind the middle of a shelf, ``at`` the one of this name, or the nearest to the middle."""

    at: str | None = None


Make: TypeAlias = Boards | Framed | InParts
