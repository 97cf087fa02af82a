"""Reading what a shop cuts with and how: its saws, and what it thinks safe at the saw and fitting with the router."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.shop import Purpose, Routing, Saw, Sawing
from storystick.job.tables import Kind, Table, choice, distance, size
from storystick.lengths import INCH_MM, Figures, Units, write_figure

LEAST_CUT: Final = INCH_MM / 128

WIDEST_KERF: Final = INCH_MM
"""No blade or stack of blades of a table saw cuts wider, in mm: common practice, no source."""

TALLEST_ON_END: Final = 48 * INCH_MM
"""Nothing taller is stood at a saw's fence, whatever a shop says, in mm: judgement, no source."""

WIDEST_NARROW: Final = 12 * INCH_MM
WIDEST_UNDER: Final = INCH_MM / 16
THICKEST_LEAST_SHIM: Final = INCH_MM / 8

_PURPOSE: Final = choice({purpose.value: purpose for purpose in Purpose})


def cutting_size(units: Units) -> Kind[Fraction]:
    """Sizes that a tool can cut: passes beyond counting are a slip of the pen."""

    def read(value: object) -> Fraction:
        length = size(units)(value)
        if length < LEAST_CUT:
            least = f"{Figures.usual(units).at_least(LEAST_CUT)} {units.sign}"
            raise Fault(f"{as_written(value)} is less than {least}, the least that is cut at once", "look at its unit")
        return length

    return Kind(read, size(units).stand_in, size(units).form, size(units).sort)


def read_saw(name: str, table: Table, units: Units) -> Saw:
    """A saw by its kerf, and what it is for."""
    kerf = table.need("kerf", cutting_size(units))
    purposes = tuple(dict.fromkeys(table.one_or_each("for", _PURPOSE)))
    table.close()
    if kerf > WIDEST_KERF:
        found, most = write_figure(kerf, units), write_figure(WIDEST_KERF, units)
        raise Fault(f"{found} is more than {most}, the most that a blade cuts", "look at its unit", "kerf")
    return Saw(name, kerf, purposes)


def read_sawing(shop: Table, units: Units) -> Sawing:
    """What the shop thinks safe at the saw, under ``[sawing]``."""
    if (table := shop.get("sawing", Table, None)) is None:
        return Sawing()
    with shop.at("[sawing]"):
        on_end = table.get("on_end", _up_to(TALLEST_ON_END, units, "too tall to be stood at a saw's fence"), None)
        narrow = table.get("narrow", _up_to(WIDEST_NARROW, units, "not narrow"), None)
        table.close()
        return Sawing(on_end, narrow)
    return Sawing()


def read_routing(shop: Table, units: Units) -> Routing:
    """What the shop thinks fits, under ``[routing]``."""
    if (table := shop.get("routing", Table, None)) is None:
        return Routing()
    with shop.at("[routing]"):
        under = table.get("bit_under", _up_to(WIDEST_UNDER, units, "too much for a groove that is to fit"), None)
        least = table.get("least_shim", _up_to(THICKEST_LEAST_SHIM, units, "a shim that can be made"), None)
        table.close()
        return Routing(under, least)
    return Routing()


def _up_to(most: Fraction, units: Units, what: str) -> Callable[[object], Fraction]:
    """Lengths from 0 to ``most``; ``what`` says what a longer one is."""

    def read(value: object) -> Fraction:
        length = distance(units)(value)
        if length > most:
            limit = f"{write_figure(most, units)} {units.sign}"
            raise Fault(f"{as_written(value)} is over {limit}, {what}", f"give {limit} or less")
        return length

    return read
