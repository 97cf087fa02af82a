"""Routers, bits, bars and saws of a shop, and how it saws and routs. Lengths are exact, in mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import partial
from typing import Final, TypeVar

from storystick.errors import Fault, Faults, as_written
from storystick.job.other_words import unknown
from storystick.job.tables import Kind, Names, Table, choice, distance, read_name, size
from storystick.lengths import INCH_MM, Figures, Units, write_figure

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class BaseEdge:
    """An edge of a router's base that is run against a straightedge, ``to_centre`` mm from the collet's centre."""

    name: str
    to_centre: Fraction

    def takes(self, bit: Bit) -> bool:
        """Whether the base stands out beyond the bit, so that there is room for a bar."""
        return self.to_centre > bit.diameter / 2


@dataclass(frozen=True, slots=True)
class Router:
    """A router. A ``round`` base has one edge all round; a flat one has an edge or more of their own.

    ``turns`` are trial cuts with the base turned by a quarter each, for a base that may be off centre: the distance
    from the straightedge to the near edge of each cut, with the marks 1 to 4 toward the straightedge in turn. Empty
    where they were not made.
    """

    name: str
    edges: tuple[BaseEdge, ...]
    round: bool
    turns: tuple[Fraction, ...] = ()


@dataclass(frozen=True, slots=True)
class Bit:
    """A straight bit. ``pass_depth`` is the most it takes in depth at once, None for half its diameter."""

    name: str
    diameter: Fraction
    pass_depth: Fraction | None = None


@dataclass(frozen=True, slots=True)
class BarRecord:
    """A spacer bar that the shop has or wants, for a router's edge and a bit; ``measured`` is its proved width."""

    name: str
    router: str
    edge: str
    bit: str
    measured: Fraction | None = None


class Purpose(Enum):
    """What a saw can be kept for; the word is the one in the shop file."""

    TONGUES = "tongues"
    RABBETS = "rabbets"
    GROOVES = "grooves"


@dataclass(frozen=True, slots=True)
class Saw:
    """A table saw, or a cutter set that goes on it, with the width of its cut.

    ``purposes`` are what it is for; empty for whatever no other saw is named for.
    """

    name: str
    kerf: Fraction
    purposes: tuple[Purpose, ...] = ()


@dataclass(frozen=True, slots=True)
class Sawing:
    """How a shop saws, in mm; None for what is usual in the job's units.

    Nothing taller or longer than ``on_end`` is stood on its end or edge at the fence. What is narrower than ``narrow``
    is not grooved by itself.
    """

    on_end: Fraction | None = None
    narrow: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Routing:
    """How a shop routs, in mm; None for what is usual in the job's units.

    A bit that is narrower than a groove by no more than ``bit_under`` cuts it at once. No shim is made that is thinner
    than ``least_shim``.
    """

    bit_under: Fraction | None = None
    least_shim: Fraction | None = None


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


BASE_EDGE: Final = "base"
"""The edge of a base that has one only."""


QUARTERS: Final = 4
"""A base is turned by a quarter from one trial cut to the next."""


_BASES: Final = "base_diameter", "edge_to_centre"


_ROUND, _FLAT = _BASES


def read_router(name: str, table: Table, units: Units) -> Router:
    """A router under its name, with one of the two kinds of base."""
    given = [key for key in _BASES if table.has(key)]
    if len(given) != 1:
        what = "both base_diameter and edge_to_centre" if given else "neither base_diameter nor edge_to_centre"
        table.fault(f"the router has {what}", "give base_diameter for a round base, edge_to_centre for a flat one")
    diameter = table.get(_ROUND, size(units), None)
    edges = table.get(_FLAT, lambda value: _read_edges(value, units), ())
    turns = _read_turns(table, units)
    if turns and _ROUND not in given:
        table.fault("turns are for a round base, which can be turned", "leave them out for a flat one", "turns")
    table.close()
    if diameter is not None:
        return Router(name, (BaseEdge(BASE_EDGE, diameter / 2),), True, turns)
    return Router(name, edges, False, turns)


def _read_edges(value: object, units: Units) -> tuple[BaseEdge, ...]:
    """One length for a base with one edge that is used, or a table of lengths by the names of the edges."""
    if not isinstance(value, dict):
        return (BaseEdge(BASE_EDGE, size(units)(value)),)
    if not value:
        raise Fault("the table has no edge", 'name each edge that is used, as in { flat = "3", round = "3 1/8" }')
    table = Table(value)
    edges = []
    for key in table:
        with table.at(key):
            read_name(key)
        edges.append(BaseEdge(key.strip(), table.need(key, size(units))))
    table.close()
    return tuple(edges)


def _read_turns(table: Table, units: Units) -> tuple[Fraction, ...]:
    turns = table.each("turns", size(units))
    written = table["turns"] if table.has("turns") else []
    if isinstance(written, list) and written and len(written) != QUARTERS:
        what = f"the list has {len(written)} entries, and a base is tried at {QUARTERS} quarter turns"
        table.fault(what, "give the distance of each cut from the straightedge, with marks 1 to 4 toward it", "turns")
    return turns


def read_bit(name: str, table: Table, units: Units) -> Bit:
    read = cutting_size(units)
    bit = Bit(name, table.need("diameter", read), table.get("pass_depth", read, None))
    table.close()
    return bit


def read_bar(name: str, table: Table, routers: Names[Router], bits: Names[Bit], units: Units) -> BarRecord:
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


def _read_edge(table: Table, router: Router | None) -> BaseEdge | None:
    """The edge of the router that the bar is for; it may be left out where there is only one."""
    if not table.has("edge") and (router is None or len(router.edges) == 1):
        return router.edges[0] if router else None
    if router is None:
        return None
    return _need(
        table, "edge", partial(_find_edge, router=router), " or ".join(as_written(edge.name) for edge in router.edges)
    )


def _find_edge(value: object, router: Router) -> BaseEdge:
    edges = {edge.name: edge for edge in router.edges}
    if not isinstance(value, str) or value.strip() not in edges:
        raise unknown(value, f"an edge of router {as_written(router.name)}", edges)
    return edges[value.strip()]


def _too_small(edge: BaseEdge, router: Router, bit: Bit, units: Units) -> Fault:
    reach, radius = write_figure(edge.to_centre, units), write_figure(bit.diameter / 2, units)
    what = f"the base of router {as_written(router.name)} reaches {reach} from the centre"
    return Fault(
        f"{what}, and bit {as_written(bit.name)} {radius}: that leaves nothing for a bar",
        "choose a wider base or a smaller bit",
    )


def check_bits(shop: Table, routers: Sequence[Router], bits: Sequence[Bit], units: Units) -> None:
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


def check_twins(shop: Table, bars: Sequence[BarRecord]) -> None:
    """No two bars may be for the same router, edge and bit: it would be left open which is meant."""
    first: dict[tuple[str, str, str], BarRecord] = {}
    for bar in bars:
        other = first.setdefault((bar.router, bar.edge, bar.bit), bar)
        if other is not bar:
            what = f"bar {as_written(other.name)} is for the same router, edge and bit"
            shop.fault(what, "keep the one that you use", f"[bar.{bar.name}]")
