"""What a shop has, which outlives a job, and the reading of a shop file. Lengths are exact, in mm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from typing import Final, TypeAlias, TypeVar

from storystick.errors import Fault, FaultCollector, Faults, as_written
from storystick.job.keys import read_named
from storystick.job.sources import Source, read_tables
from storystick.job.tables import NAME, NUMBER, Kind, Names, Table, choice, size, whole
from storystick.job.tools import (
    BarRecord,
    Bit,
    Router,
    Routing,
    Saw,
    Sawing,
    check_bits,
    check_twins,
    read_bar,
    read_bit,
    read_router,
    read_routing,
    read_saw,
    read_sawing,
)
from storystick.lengths import INCH_MM, Units, write_figure

RULE_READ_TO: Final = {Units.INCH: INCH_MM / 64, Units.MM: Fraction(1, 2)}
"""The finest division of a steel rule that is read in the shop, in mm: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Rod:
    """A pinch rod, by its shortest and its longest reach."""

    name: str
    closed: Fraction
    open: Fraction


@dataclass(frozen=True, slots=True)
class RodStock:
    """What pinch rods are made of: sticks ``section`` mm square, two of which overlap by ``overlap`` mm or more.

    An overlap of eight sections keeps two sticks straight in one hand: common practice, no source.
    """

    section: Fraction = Fraction(3, 4) * INCH_MM
    overlap: Fraction = 6 * INCH_MM


@dataclass(frozen=True, slots=True)
class Glue:
    """A glue by its assembly times, in minutes from the first spread: parts may lie open so long, and be moved and
    drawn together under clamps so long. Open assembly is counted within the closed one. ``clamp_time`` is how many
    minutes the clamps stay on then; None where the shop does not say."""

    name: str
    open: Fraction
    closed: Fraction
    clamp_time: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Clamp:
    """Clamps of one length: ``count`` of them, whose jaws open to ``opens`` mm."""

    name: str
    opens: Fraction
    count: int


@dataclass(frozen=True, slots=True)
class GlueUp:
    """How a shop glues up: minutes that a glued joint, a clamp and a pin take one person; its cauls' thickness in mm.

    A ``stiff_caul`` is laid along a face frame: a board on edge, so that few clamps serve; its height is common
    practice, no source.

    The minutes are common practice, no source: a minute spreads both faces of a joint and puts it in its place, half a
    minute sets a clamp, ten seconds drive a pin or a screw. What is laid on is put in its place once, so each of its
    edges takes half a joint's minutes and the whole another half. So taken, a case with a dozen compartments comes to
    about 45, which is what one person is said to take for bringing it together under clamps; a test holds it between
    30 and 60.
    """

    joint_minutes: Fraction = Fraction(1)
    clamp_minutes: Fraction = Fraction(1, 2)
    caul: Fraction = Fraction(3, 2) * INCH_MM
    pin_minutes: Fraction = Fraction(1, 6)
    stiff_caul: Fraction = Fraction(7, 2) * INCH_MM


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer's correction: what a length must be drawn times, ``along`` and ``across`` the feed, to come out true.

    Along is the way of a sheet's long side, or of a roll's length. ``along_within`` and ``across_within`` are the
    shares of a length that may still be wrong, from how finely the test sheet could be read; None where that is not
    known. ``paper`` and ``date`` say what it was measured on, and when, in the user's words.
    """

    name: str
    along: Fraction
    across: Fraction
    along_within: Fraction | None = None
    across_within: Fraction | None = None
    paper: str | None = None
    date: str | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """The shop file: routers, bits, bars, saws, pinch rods, printers, glues and clamps in the order of the file.

    ``square`` is the most that two diagonals may differ by, in mm; None for what is usual at their size.
    ``reading_error`` is what a reading of a tape may be off by, in mm; None for one division of it. ``source`` is
    the file itself, so that it can travel with the job.
    """

    routers: tuple[Router, ...] = ()
    bits: tuple[Bit, ...] = ()
    bars: tuple[BarRecord, ...] = ()
    saws: tuple[Saw, ...] = ()
    rods: tuple[Rod, ...] = ()
    printers: tuple[Printer, ...] = ()
    source: Source | None = None
    square: Fraction | None = None
    rod_stock: RodStock = RodStock()
    glues: tuple[Glue, ...] = ()
    glue_up: GlueUp = GlueUp()
    clamps: tuple[Clamp, ...] = ()
    reading_error: Fraction | None = None
    sawing: Sawing = field(default_factory=Sawing)
    routing: Routing = field(default_factory=Routing)


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


T = TypeVar("T")

THIS_SHOP: Final = "this shop file"

ShopReading: TypeAlias = tuple[Shop, tuple[Fault, ...]]
"""All of a shop that reads well, and the faults of the rest, with the file's name in front of their places."""


def read_shop(source: Source) -> ShopReading:
    """Read a shop file.

    Raises:
        Faults: nothing of the file can be read.
    """
    try:
        table = Table(read_tables(source))
    except Fault as fault:
        raise Faults([fault.at(source.name)]) from None
    shop = _read_shop(table, source)
    faults = FaultCollector()
    with faults.at(source.name):
        table.close()
    return shop, tuple(faults.faults)


def _read_shop(table: Table, source: Source) -> Shop:
    """What reads well; the faults are kept in ``table``."""
    units = table.get("units", choice({units.value: units for units in Units}), Units.INCH)
    routers = _each(table, "router", partial(read_router, units=units))
    bits = _each(table, "bit", partial(read_bit, units=units))
    bars = _each(table, "bar", partial(read_bar, routers=routers, bits=bits, units=units))
    saws = _each(table, "saw", partial(read_saw, units=units))
    rods = _each(table, "rod", partial(_read_rod, units=units))
    printers = _each(table, "printer", _read_printer)
    tolerance, reading_error = read_square(table, units)
    check_bits(table, routers.sound, bits.sound, units)
    check_twins(table, bars.sound)
    return Shop(
        routers.sound,
        bits.sound,
        bars.sound,
        saws.sound,
        rods.sound,
        printers.sound,
        source,
        tolerance,
        read_rod_stock(table, units),
        _each(table, "glue", read_glue).sound,
        read_glue_up(table, units),
        _each(table, "clamp", partial(read_clamp, units=units)).sound,
        reading_error,
        read_sawing(table, units),
        read_routing(table, units),
    )


def _each(shop: Table, word: str, read: Callable[[str, Table], T]) -> Names[T]:
    """The tables ``[word.NAME]``, read from their names and themselves."""
    return read_named(shop, word, f"[{word}.{{}}]", lambda name, value: read(name, Table(value)), THIS_SHOP)


MOST_CORRECTION: Final = Fraction(3, 100)
"""A printer itself is not farther out than this: common practice, no source."""


def _read_printer(name: str, table: Table) -> Printer:
    printer = Printer(
        name,
        along=table.get("along", _read_correction, Fraction(1)),
        across=table.get("across", _read_correction, Fraction(1)),
        along_within=table.get("along_within", _read_doubt, None),
        across_within=table.get("across_within", _read_doubt, None),
        paper=table.get("paper", NAME, None),
        date=table.get("date", NAME, None),
    )
    table.close()
    return printer


def _read_correction(value: object) -> Fraction:
    """A factor near 1; one that is farther off comes from a print that was scaled."""
    factor = NUMBER(value)
    if abs(factor - 1) > MOST_CORRECTION:
        raise Fault(
            f"{as_written(value)} is more than 3 % from 1: the sheet that was measured had been scaled",
            "print it again at 100 %, with no fit to page, and measure that",
        )
    return factor


def _read_doubt(value: object) -> Fraction:
    """A share of a length, small beside the correction's own limit."""
    share = NUMBER(value)
    if share > MOST_CORRECTION:
        what = f"{as_written(value)} is more than 0.03, the most that a correction may be wrong by"
        raise Fault(what, "measure the printer again")
    return share


def _read_rod(name: str, table: Table, units: Units) -> Rod:
    rod = Rod(name, table.need("closed", size(units)), table.need("open", size(units)))
    table.close()
    if rod.open <= rod.closed:
        closed, opened = write_figure(rod.closed, units), write_figure(rod.open, units)
        raise Fault(f"{opened} is not more than closed, {closed}", "give the longest reach here", "open")
    return rod
