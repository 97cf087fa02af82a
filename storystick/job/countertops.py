"""A countertop on one cabinet. Exact, in mm."""

from __future__ import annotations

from fractions import Fraction

from storystick.job.cases import OVERHANG, Overhang
from storystick.job.keys import Key, key, table
from storystick.job.openings import STOCK, Stock
from storystick.lengths import INCH_MM, Units

_USUAL = {
    Units.INCH: Overhang(front=INCH_MM),
    Units.MM: Overhang(front=Fraction(25)),
}
"""Before the fronts, in mm: common practice, no source."""


@table("A countertop that lies on the cabinet, not within its height.", form='{ stock = "…", overhang = … }')
class Countertop:
    """A countertop: how far it reaches beyond the overall sizes, and in front beyond the fronts."""

    stock: Stock = key(STOCK, "its stock", "ply")
    overhang: Overhang = key(
        Key(
            OVERHANG,
            "how far it reaches beyond the overall sizes, and in front beyond the fronts",
            {"front": "1", "left": "1/2"},
            usual=lambda scope: _USUAL[scope.units],
            otherwise="1 in in front, or 25 mm in a job in mm",
        )
    )
