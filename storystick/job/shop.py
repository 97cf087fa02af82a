"""What a shop has, which outlives a job, and the reading of a shop file. Lengths are exact, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.errors import Fault, FaultCollector, Faults, Where, as_written
from storystick.job.keys import Here, Key, by_name, key, section, table, table_of, tables_by_name
from storystick.job.kinds import NAME, NUMBER, SIZE, Kind, Scope, Table, whole, word_of
from storystick.job.sources import Source, read_tables
from storystick.job.tools import (
    BAR,
    ROUTER,
    BarRecord,
    Bit,
    Router,
    Routing,
    Saw,
    Sawing,
    check_bits,
    check_twins,
    read_bar,
)
from storystick.lengths import INCH_MM, Units, write_figure

RULE_READ_TO: Final = {Units.INCH: INCH_MM / 64, Units.MM: Fraction(1, 2)}
"""The finest division of a steel rule that is read in the shop, in mm: common practice, no source."""

MOST_CORRECTION: Final = Fraction(3, 100)
"""A printer itself is not farther out than this: common practice, no source."""

_MOST_MINUTES: Final = 24 * 60
_MOST_CLAMPS: Final = 1000
_WIDEST_TOLERANCE: Final = INCH_MM
"""Diagonals that differ by more are not those of a square case, whoever judges, in mm: common practice, no source."""

_LARGEST_ERROR: Final = INCH_MM / 2
"""A tape that is read with a larger error tells nothing of a diagonal, in mm: common practice, no source."""


def _check_minutes(minutes: Fraction, value: object, _: Scope) -> None:
    if minutes > _MOST_MINUTES:
        raise Fault(f"{as_written(value)} is not a time in minutes, more than 0 and at most a day", "write it like 8")


_MINUTES: Final = replace(NUMBER.limited(_check_minutes), sort="minutes", called="minutes")


def _check_correction(factor: Fraction, value: object, _: Scope) -> None:
    """A factor is near 1; one that is farther off comes from a print that was scaled."""
    if abs(factor - 1) > MOST_CORRECTION:
        raise Fault(
            f"{as_written(value)} is more than 3 % from 1: the sheet that was measured had been scaled",
            "print it again at 100 %, with no fit to page, and measure that",
        )


def _check_doubt(share: Fraction, value: object, _: Scope) -> None:
    """A share of a length is small beside the correction's own limit."""
    if share > MOST_CORRECTION:
        what = f"{as_written(value)} is more than 0.03, the most that a correction may be wrong by"
        raise Fault(what, "measure the printer again")


_CORRECTION: Final = NUMBER.limited(_check_correction)
_DOUBT: Final = NUMBER.limited(_check_doubt)


def _no_more_than(most: Fraction, what: str) -> Kind[Fraction]:
    """Sizes up to ``most``; ``what`` says what is wrong with a larger one, and has room for the limit."""

    def check(length: Fraction, _: object, scope: Scope) -> None:
        if length > most:
            raise Fault(what.format(f"{write_figure(most, scope.units)} {scope.units.sign}"), "look at its unit")

    return SIZE.limited(check)


@table("How square a case is to be, and how well a tape is read.")
class Squaring:
    """How a shop squares, in mm: ``tolerance`` is the most that two diagonals may differ by, ``reading_error`` what a
    reading of a tape may be off by; None for what is usual."""

    tolerance: Fraction | None = key(
        _no_more_than(_WIDEST_TOLERANCE, "a difference of diagonals over {} is no tolerance"),
        "the most that two diagonals may differ by",
        "1/32",
        default=None,
        otherwise="1/32 in (0.8 mm) up to a diagonal of 80 in (2 m), 1/16 in (1.6 mm) beyond",
    )
    reading_error: Fraction | None = key(
        _no_more_than(_LARGEST_ERROR, "a tape that is off by more than {} tells nothing"),
        "what a reading of your tape may be off by",
        "1/32",
        default=None,
        otherwise="one division of the tape",
    )


@table("A pinch rod: two sliding sticks, by their shortest and their longest reach.")
class Rod:
    """A pinch rod, by its shortest and its longest reach."""

    name: str
    closed: Fraction = key(SIZE, "its shortest reach", "14")
    open: Fraction = key(SIZE, "its longest reach", "24")

    def check(self, here: Here) -> None:
        if self.open <= self.closed:
            closed, opened = write_figure(self.closed, here.scope.units), write_figure(self.open, here.scope.units)
            raise Fault(f"{opened} is not more than closed, {closed}", "give the longest reach here", "open")


@table("What new pinch rods are made of.")
class RodStock:
    """What pinch rods are made of: sticks ``section`` mm square, two of which overlap by ``overlap`` mm or more.

    An overlap of eight sections keeps two sticks straight in one hand: common practice, no source.
    """

    section: Fraction = key(SIZE, "each stick is so thick and wide", "3/4", default=INCH_MM * 3 / 4)
    overlap: Fraction = key(SIZE, "two sticks overlap by so much at least", "6", default=6 * INCH_MM)


@table("A glue, by its times in minutes from the first spread: they stand on its label.")
class Glue:
    """A glue by its assembly times, in minutes from the first spread: parts may lie open so long, and be moved and
    drawn together under clamps so long. Open assembly is counted within the closed one. ``clamp_time`` is how many
    minutes the clamps stay on then; None where the shop does not say."""

    name: str
    open: Fraction = key(_MINUTES, "how long parts may lie open", 8)
    closed: Fraction = key(_MINUTES, "how long they may be moved and drawn together, the open time included", 15)
    clamp_time: Fraction | None = key(
        _MINUTES, "how long the clamps stay on", 45, default=None, otherwise="not said: look at the label"
    )

    def check(self, _: Here) -> None:
        if self.closed < self.open:
            what = "closed is less than open, and is counted from the same moment"
            raise Fault(what, "look at both times", "closed")


@table("Clamps of one length.")
class Clamp:
    """Clamps of one length: ``count`` of them, whose jaws open to ``opens`` mm."""

    name: str
    opens: Fraction = key(SIZE, "how far their jaws open", "50")
    count: int = key(whole(1, _MOST_CLAMPS), "how many there are", 8)


@table("How fast you glue up, and with what cauls.")
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

    joint_minutes: Fraction = key(_MINUTES, "minutes that a glued joint takes one person", 1, default=Fraction(1))
    clamp_minutes: Fraction = key(_MINUTES, "minutes that a clamp takes", "1/2", default=Fraction(1, 2))
    caul: Fraction = key(SIZE, "how thick the cauls are", "1 1/2", default=Fraction(3, 2) * INCH_MM)
    pin_minutes: Fraction = key(_MINUTES, "minutes that a pin or a screw takes", "1/6", default=Fraction(1, 6))
    stiff_caul: Fraction = key(
        SIZE, "how high the boards on edge are that lie along a face frame", "3 1/2", default=Fraction(7, 2) * INCH_MM
    )


@table('A printer\'s correction, as "storystick calibrate" measures and writes it.')
class Printer:
    """A printer's correction: what a length must be drawn times, ``along`` and ``across`` the feed, to come out true.

    Along is the way of a sheet's long side, or of a roll's length. ``along_within`` and ``across_within`` are the
    shares of a length that may still be wrong, from how finely the test sheet could be read; None where that is not
    known. ``paper`` and ``date`` say what it was measured on, and when, in the user's words.
    """

    name: str
    along: Fraction = key(
        _CORRECTION,
        "what a length along the feed, the way of a sheet's long side, is drawn times to come out true",
        "1.002",
        usual=lambda _: Fraction(1),
    )
    across: Fraction = key(_CORRECTION, "the same across the feed", "0.999", usual=lambda _: Fraction(1))
    along_within: Fraction | None = key(
        _DOUBT,
        "the share of a length along the feed that may still be wrong",
        "0.001",
        default=None,
        otherwise="not known",
    )
    across_within: Fraction | None = key(
        _DOUBT, "the same across the feed", "0.001", default=None, otherwise="not known"
    )
    paper: str | None = key(NAME, "the paper that it was measured on, in your words", "Letter, 80 g", default=None)
    date: str | None = key(NAME, "when it was measured, in your words", "2 May", default=None)


@table("The shop file: what outlives a job.")
class Shop:
    """The shop file, with what it has in the order of the file.

    ``source`` is the file itself, so that it can travel with the job.
    """

    routers: tuple[Router, ...] = key(tables_by_name("router", ROUTER), "routers", {}, name="router", default=())
    bits: tuple[Bit, ...] = key(tables_by_name("bit", Bit), "bits", {}, name="bit", default=())
    bars: tuple[BarRecord, ...] = key(by_name("bar", read_bar, BAR), "spacer bars", {}, name="bar", default=())
    saws: tuple[Saw, ...] = key(tables_by_name("saw", Saw), "saws", {}, name="saw", default=())
    rods: tuple[Rod, ...] = key(tables_by_name("rod", Rod), "pinch rods", {}, name="rod", default=())
    printers: tuple[Printer, ...] = key(tables_by_name("printer", Printer), "printers", {}, name="printer", default=())
    source: Source | None = None
    square: Squaring = key(section(Squaring, Squaring()), "how square a case is to be", {}, default=Squaring())
    rod_stock: RodStock = key(section(RodStock, RodStock()), "what new pinch rods are made of", {}, default=RodStock())
    glues: tuple[Glue, ...] = key(tables_by_name("glue", Glue), "glues", {}, name="glue", default=())
    glue_up: GlueUp = key(section(GlueUp, GlueUp()), "pace and cauls of a glue-up", {}, default=GlueUp())
    clamps: tuple[Clamp, ...] = key(tables_by_name("clamp", Clamp), "clamps", {}, name="clamp", default=())
    sawing: Sawing = key(section(Sawing, Sawing()), "what is thought safe at the saw", {}, default=Sawing())
    routing: Routing = key(section(Routing, Routing()), "what is thought a fit with the router", {}, default=Routing())


_UNITS: Final = Key(word_of(Units), "what a number without a unit means in this file", "inch", Units.INCH)

SHOP: Final = table_of(Shop)
SHOP_KEYS: Final[Mapping[str, Key]] = {"units": _UNITS, **SHOP.keys}
"""All that can stand in a shop file."""

ShopReading: TypeAlias = tuple[Shop, tuple[Fault, ...]]
"""All of a shop that reads well, and the faults of the rest, with the file's name in front of their places."""


def read_shop(source: Source) -> ShopReading:
    """Read a shop file.

    Raises:
        Faults: nothing of the file can be read.
    """
    try:
        file = Table(read_tables(source))
    except Fault as fault:
        raise Faults([fault.at(Where.in_file(source.name))]) from None
    scope = Scope(_UNITS.read("units", file, Scope(Units.INCH)), "this shop file")
    shop = Shop(source=source, **SHOP.values(Here(file, scope, SHOP.keys)))
    check_bits(file, shop.routers, shop.bits, scope.units)
    check_twins(file, shop.bars)
    faults = FaultCollector()
    with faults.at(Where.in_file(source.name)):
        file.close()
    return shop, tuple(faults.faults)
