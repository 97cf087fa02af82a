"""Corners between two runs, each at one end of its wall, and what they take of both walls. Lengths are exact, in mm."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, Where
from storystick.job.keys import Here, Key, key, keys, name_of, table
from storystick.job.kinds import DISTANCE, SIZE, by_units, word_of
from storystick.job.sticks import Datum


class CornerKind(Enum):
    """How a corner is filled: by the other run's last cabinet, by one across it, or by fillers before both rows."""

    BLIND = "blind"
    DIAGONAL = "diagonal"
    FILLER = "filler"


_FILLER: Final = by_units("2", "50")
_HANDLES: Final = by_units("1 1/2", "40")
"""How wide a filler at a corner is, and how far handles stand out before it: common practice, no source."""

_ENDS: Final = word_of((Datum.LEFT, Datum.RIGHT))
_OWN: Final = {CornerKind.BLIND: ("pull",), CornerKind.DIAGONAL: ("leg", "other_leg"), CornerKind.FILLER: ()}


def _read_kind(here: Here) -> CornerKind:
    """The kind; what belongs to another is told."""
    kind: CornerKind = here("kind")
    for other, names in _OWN.items():
        for name in here.given(*names) if other is not kind else ():
            here.table.fault(
                f'a corner of kind "{kind.value}" has no {name}',
                f'leave it out, or say "{other.value}"',
                Where.unsaid(name),
            )
    if kind is CornerKind.DIAGONAL and not here.given("leg"):
        here.table.fault(
            "leg is missing", "add leg = …, how much of this wall the corner cabinet takes", Where.unsaid("leg")
        )
    return kind


_KIND_KEYS: Final = {
    "kind": Key(
        word_of(CornerKind),
        "what is done with it: the other run's last cabinet goes into it and this run butts against that (blind), "
        "a corner cabinet stands across it (diagonal), or both runs stop at fillers (filler)",
        "blind",
    ),
}


@table("A corner with another run: this run gives way to that.")
class Corner:
    """A corner that a run makes with the run called ``other``, at one end of its own wall.

    A blind cabinet of the other run stands ``pull`` off the corner. ``leg`` and
    ``other_leg`` are what a diagonal cabinet takes of this wall and of the other one.
    """

    other: str = key(name_of("run", ""), "the run on the other wall", "North wall", name="with")
    kind: CornerKind = keys(_read_kind, _KIND_KEYS)
    end: Datum = key(
        _ENDS,
        "the end of this wall that the corner is at, as seen from the room",
        "left",
        name="at",
        default=Datum.LEFT,
    )
    filler: Fraction = key(
        DISTANCE,
        "how wide the filler of this run is between the corner and its first cabinet; of both runs for kind filler",
        "2",
        default=Fraction(50),
        usual=_FILLER,
    )
    handles: Fraction = key(
        DISTANCE,
        "how far handles stand out before fronts, which doors and drawers of the other run must clear",
        "1 1/2",
        default=Fraction(40),
        usual=_HANDLES,
    )
    pull: Fraction = key(DISTANCE, "how far the blind cabinet stands off the corner", "3", default=Fraction(0))
    leg: Fraction | None = key(
        SIZE,
        "how much of this wall a diagonal cabinet takes from the corner",
        "36",
        default=None,
        otherwise="needed there",
    )
    other_leg: Fraction | None = key(
        SIZE, "how much of the other wall it takes", "36", default=None, otherwise="as much"
    )

    @property
    def other_end(self) -> Datum:
        """The end of the other wall: what is left of a corner for one who faces it is right for the other."""
        return Datum.RIGHT if self.end is Datum.LEFT else Datum.LEFT


def check_corners(corners: tuple[Corner, ...]) -> None:
    """That a run makes one corner at each end, at most.

    Raises:
        Fault: it does not.
    """
    if len({corner.end for corner in corners}) < len(corners):
        raise Fault("two corners are at one end", 'give one at = "left" and the other at = "right"', "corner")
