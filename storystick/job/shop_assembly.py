"""Reading what a shop says of assembly: how it measures, what pinch rods are made of, its glues, clamps and pace."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.shop import Clamp, Glue, GlueUp, RodStock
from storystick.job.tables import NUMBER, Kind, Table, size, whole
from storystick.lengths import INCH_MM, Units, write_figure

_MOST_MINUTES: Final = 24 * 60
_MOST_CLAMPS: Final = 1000
_WIDEST_TOLERANCE: Final = INCH_MM
"""Diagonals that differ by more are not those of a square case, whoever judges, in mm: common practice, no source."""

_LARGEST_ERROR: Final = INCH_MM / 2
"""A tape that is read with a larger error tells nothing of a diagonal, in mm: common practice, no source."""


def _read_minutes(value: object) -> Fraction:
    minutes = NUMBER(value)
    if not 0 < minutes <= _MOST_MINUTES:
        raise Fault(f"{as_written(value)} is not a time in minutes, more than 0 and at most a day", "write it like 8")
    return minutes


_MINUTES: Final = Kind(_read_minutes, Fraction(1), "…", "minutes")


def read_square(shop: Table, units: Units) -> tuple[Fraction | None, Fraction | None]:
    """The most that two diagonals may differ by, and what a reading may be off by, under ``[square]``.

    None for what the shop does not say.
    """
    if (table := _table(shop, "square")) is None:
        return None, None
    with shop.at("[square]"):
        tolerance, error = (table.get(key, size(units), None) for key in ("tolerance", "reading_error"))
        if tolerance and tolerance > _WIDEST_TOLERANCE:
            most = f"{write_figure(_WIDEST_TOLERANCE, units)} {units.sign}"
            table.fault(f"a difference of diagonals over {most} is no tolerance", "look at its unit", "tolerance")
        if error and error > _LARGEST_ERROR:
            most = f"{write_figure(_LARGEST_ERROR, units)} {units.sign}"
            table.fault(f"a tape that is off by more than {most} tells nothing", "look at its unit", "reading_error")
        table.close()
        return tolerance, error
    return None, None


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
    times = (table.need("open", _MINUTES), table.need("closed", _MINUTES), table.get("clamp_time", _MINUTES, None))
    glue = Glue(name, *times)
    table.close()
    if glue.closed < glue.open:
        raise Fault("closed is less than open, and is counted from the same moment", "look at both times", "closed")
    return glue


def read_clamp(name: str, table: Table, units: Units) -> Clamp:
    """Clamps of one length, and how many of them."""
    clamp = Clamp(name, table.need("opens", size(units)), table.need("count", whole(1, _MOST_CLAMPS)))
    table.close()
    return clamp


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
            table.get("stiff_caul", size(units), usual.stiff_caul),
        )
        table.close()
        return glue_up
    return usual


def _table(shop: Table, word: str) -> Table | None:
    return shop.get(word, Table, None)
