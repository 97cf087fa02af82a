"""Reading what a shop says of assembly: its tolerance, what pinch rods are made of, its glues, and its pace."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.shop import Glue, GlueUp, RodStock
from storystick.job.tables import NUMBER, Kind, Table, size
from storystick.lengths import INCH_MM, Units, write_figure

_MOST_MINUTES: Final = 24 * 60
_WIDEST_TOLERANCE: Final = INCH_MM
"""Diagonals that differ by more are not those of a square case, whoever judges, in mm: common practice, no source."""


def _read_minutes(value: object) -> Fraction:
    minutes = NUMBER(value)
    if not 0 < minutes <= _MOST_MINUTES:
        raise Fault(f"{as_written(value)} is not a time in minutes, more than 0 and at most a day", "write it like 8")
    return minutes


_MINUTES: Final = Kind(_read_minutes, Fraction(1), "8")


def read_tolerance(shop: Table, units: Units) -> Fraction | None:
    """The most that two diagonals may differ by, under ``[square]``; None where the shop does not say."""
    if (table := _table(shop, "square")) is None:
        return None
    with shop.at("[square]"):
        tolerance = table.get("tolerance", size(units), None)
        if tolerance and tolerance > _WIDEST_TOLERANCE:
            most = f"{write_figure(_WIDEST_TOLERANCE, units)} {units.sign}"
            table.fault(f"a difference of diagonals over {most} is no tolerance", "look at its unit", "tolerance")
        table.close()
        return tolerance
    return None


def read_rod_stock(shop: Table, units: Units) -> RodStock:
    """What new pinch rods are made of, under ``[rod_stock]``."""
    usual = RodStock()
    if (table := _table(shop, "rod_stock")) is None:
        return usual
    with shop.at("[rod_stock]"):
        stock = RodStock(
            table.get("section", size(units), usual.section), table.get("overlap", size(units), usual.overlap)
        )
        table.close()
        return stock
    return usual


def read_glue(name: str, table: Table) -> Glue:
    """A glue, whose closed assembly time takes in the open one."""
    glue = Glue(name, table.need("open", _MINUTES), table.need("closed", _MINUTES))
    table.close()
    if glue.closed < glue.open:
        raise Fault("closed is less than open, and is counted from the same moment", "look at both times", "closed")
    return glue


def read_glue_up(shop: Table, units: Units) -> GlueUp:
    """The shop's pace and cauls, under ``[glue_up]``."""
    usual = GlueUp()
    if (table := _table(shop, "glue_up")) is None:
        return usual
    with shop.at("[glue_up]"):
        glue_up = GlueUp(
            table.get("joint_minutes", _MINUTES, usual.joint_minutes),
            table.get("clamp_minutes", _MINUTES, usual.clamp_minutes),
            table.get("caul", size(units), usual.caul),
            table.get("pin_minutes", _MINUTES, usual.pin_minutes),
        )
        table.close()
        return glue_up
    return usual


def _table(shop: Table, word: str) -> Table | None:
    return shop.get(word, Table, None)
