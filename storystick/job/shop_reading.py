"""Reading a shop file into a shop: routers, bits, bars, saws, rods, printers, glues and clamps, each by its name."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import Final, TypeAlias, TypeVar

from storystick.errors import Fault, FaultCollector, Faults, as_written
from storystick.job.materials import read_named
from storystick.job.model import Source
from storystick.job.other_words import unknown
from storystick.job.routers import read_router
from storystick.job.shop import BarRecord, Bit, Edge, Printer, Rod, Router, Shop
from storystick.job.shop_assembly import read_clamp, read_glue, read_glue_up, read_rod_stock, read_square
from storystick.job.shop_cutting import cutting_size, read_routing, read_saw, read_sawing
from storystick.job.tables import NAME, NUMBER, Names, Table, choice, size
from storystick.job.toml_files import read_tables
from storystick.lengths import Units, write_figure

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
    bits = _each(table, "bit", partial(_read_bit, units=units))
    bars = _each(table, "bar", partial(_read_bar, routers=routers, bits=bits, units=units))
    saws = _each(table, "saw", partial(read_saw, units=units))
    rods = _each(table, "rod", partial(_read_rod, units=units))
    printers = _each(table, "printer", _read_printer)
    tolerance, reading_error = read_square(table, units)
    _check_bits(table, routers.sound, bits.sound, units)
    _check_twins(table, bars.sound)
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


def _read_bit(name: str, table: Table, units: Units) -> Bit:
    read = cutting_size(units)
    bit = Bit(name, table.need("diameter", read), table.get("pass_depth", read, None))
    table.close()
    return bit


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


def _read_bar(name: str, table: Table, routers: Names[Router], bits: Names[Bit], units: Units) -> BarRecord:
    router = _need(table, "router", routers.find, '"…"', "the name of a router")
    bit = _need(table, "bit", bits.find, '"…"', "the name of a bit")
    edge = _read_edge(table, router)
    measured = table.get("measured", size(units), None)
    table.close()
    if not (router and edge and bit):
        raise Faults(())  # told at the closing, or where the router or the bit stands
    if not edge.takes(bit):
        raise _too_small(edge, router, bit, units)
    return BarRecord(name, router.name, edge.name, bit.name, measured)


def _need(table: Table, key: str, find: Callable[[object], T], form: str, meaning: str = "") -> T | None:
    """What a key that may not be left out names; None where it has a fault."""
    table.require(key, form, meaning)
    return table.get(key, find, None)


def _read_edge(table: Table, router: Router | None) -> Edge | None:
    """The edge of the router that the bar is for; it may be left out where there is only one."""
    if not table.has("edge") and (router is None or len(router.edges) == 1):
        return router.edges[0] if router else None
    if router is None:
        return None
    return _need(
        table, "edge", partial(_find_edge, router=router), " or ".join(as_written(edge.name) for edge in router.edges)
    )


def _find_edge(value: object, router: Router) -> Edge:
    edges = {edge.name: edge for edge in router.edges}
    if not isinstance(value, str) or value.strip() not in edges:
        raise unknown(value, f"an edge of router {as_written(router.name)}", edges)
    return edges[value.strip()]


def _too_small(edge: Edge, router: Router, bit: Bit, units: Units) -> Fault:
    reach, radius = write_figure(edge.to_centre, units), write_figure(bit.diameter / 2, units)
    what = f"the base of router {as_written(router.name)} reaches {reach} from the centre"
    return Fault(
        f"{what}, and bit {as_written(bit.name)} {radius}: that leaves nothing for a bar",
        "choose a wider base or a smaller bit",
    )


def _check_bits(shop: Table, routers: Sequence[Router], bits: Sequence[Bit], units: Units) -> None:
    """A bit is at fault where there are routers, but none has a base that is large enough for it."""
    widest = max((edge.to_centre for router in routers for edge in router.edges), default=None)
    for bit in bits:
        if widest is not None and bit.diameter / 2 >= widest:
            reach, radius = write_figure(widest, units), write_figure(bit.diameter / 2, units)
            shop.fault(
                f"the bit reaches {radius} from its centre, and the widest base of this shop {reach}",
                "look at both figures, or add a router with a wider base",
                f"[bit.{bit.name}]",
            )


def _check_twins(shop: Table, bars: Sequence[BarRecord]) -> None:
    """No two bars may be for the same router, edge and bit: it would be left open which is meant."""
    first: dict[tuple[str, str, str], BarRecord] = {}
    for bar in bars:
        other = first.setdefault((bar.router, bar.edge, bar.bit), bar)
        if other is not bar:
            what = f"bar {as_written(other.name)} is for the same router, edge and bit"
            shop.fault(what, "keep the one that you use", f"[bar.{bar.name}]")
