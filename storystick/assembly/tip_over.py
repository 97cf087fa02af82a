"""Whether a cabinet may come under a rule against tipping over, as far as its sizes say.

The sizes are those of 16 CFR 1261, which adopts ASTM F2057-23: free-standing clothing storage units, 27 in high or
more, 30 lb or more, enclosing 3.2 ft³ or more, made after 1 September 2023.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from storystick.cutting.drawers import inner_back
from storystick.cutting.fronts import front_kind
from storystick.job.cabinet import FrontKind
from storystick.job.model import Job
from storystick.layout.cabinets.model import CabinetLayout
from storystick.lengths import INCH_MM, Units

LEAST_HEIGHT: Final = 27 * INCH_MM
"""In mm."""

CUBIC_FOOT: Final = (12 * INCH_MM) ** 3
"""In mm³."""

LEAST_VOLUME: Final = Fraction(16, 5) * CUBIC_FOOT
"""In mm³."""

_LITRE: Final = 10**6

FIX: Final = (
    "Fix tall cabinets and those with drawers to the wall, as your local code asks. Your code and the text of the "
    "standard decide, not this sheet."
)
_EUROPE: Final = (
    "In Europe EN 14749:2016+A1:2022 covers storage for home, kitchen and bath; the wall and what fixes a unit to "
    "it are not covered."
)


def enclosed_volume(layout: CabinetLayout) -> Fraction:
    """The clear volume behind drawers and doors, in mm³, from the front of the case to the face of its back."""
    deep = inner_back(layout) - layout.case_y.start
    closed = (bay for bay in layout.bays if front_kind(layout, bay) is not FrontKind.NONE)
    return sum((bay.x.size * bay.z.size * deep for bay in closed), Fraction(0))


def large_enough(layout: CabinetLayout) -> bool:
    """Whether the cabinet has the height and the enclosed volume from which the American rule applies."""
    return layout.cabinet.height >= LEAST_HEIGHT and enclosed_volume(layout) >= LEAST_VOLUME


def tip_over_words(layouts: Sequence[CabinetLayout], job: Job) -> Iterator[str]:
    """What to say of tipping over for the cabinets of a job."""
    yield FIX
    for layout in layouts:
        if large_enough(layout):
            height = f"{job.figures(layout.cabinet.height)} {job.units.sign}"
            volume = _volume(enclosed_volume(layout), job.units)
            yield (
                f"{layout.cabinet.name} is {height} high and encloses {volume}: in the United States 16 CFR 1261 (ASTM "
                "F2057-23; 27 in or higher, 30 lb or more, 3.2 ft³ or more enclosed, made after 1 September 2023) may "
                "apply if it stands free and holds clothes; built-in units and bookcases are out of its scope."
            )
    yield _EUROPE


def _volume(volume: Fraction, units: Units) -> str:
    feet = f"{float(volume / CUBIC_FOOT):.1f} ft³"
    return feet if units is Units.INCH else f"{float(volume / _LITRE):.0f} litres ({feet})"
