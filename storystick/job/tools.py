"""Routers, bits, bars and saws of a shop, and how it saws and routs. Lengths are exact, in mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final, NamedTuple

from storystick.errors import Fault, Faults, Where, as_written
from storystick.job.dovetails import ANGLE
from storystick.job.keys import Filled, Here, Key, TableOf, each, key, keys, list_of, name_of, table
from storystick.job.kinds import DISTANCE, NAME, SIZE, Kind, Scope, Table, choice, read_name, word_of
from storystick.job.other_words import unknown
from storystick.lengths import INCH_MM, Figures, Units, write_figure

BASE_EDGE: Final = "base"
"""The edge of a base that has one only."""

QUARTERS: Final = 4
"""A base is turned by a quarter from one trial cut to the next."""

LEAST_CUT: Final = INCH_MM / 128

WIDEST_KERF: Final = INCH_MM
"""No blade or stack of blades of a table saw cuts wider, in mm: common practice, no source."""

TALLEST_ON_END: Final = 48 * INCH_MM
"""Nothing taller is stood at a saw's fence, whatever a shop says, in mm: judgement, no source."""

WIDEST_NARROW: Final = 12 * INCH_MM
WIDEST_UNDER: Final = INCH_MM / 16
THICKEST_LEAST_SHIM: Final = INCH_MM / 8


def _check_cut(length: Fraction, value: object, scope: Scope) -> None:
    if length < LEAST_CUT:
        least = f"{Figures.usual(scope.units).at_least(LEAST_CUT)} {scope.units.sign}"
        raise Fault(f"{as_written(value)} is less than {least}, the least that is cut at once", "look at its unit")


_CUT: Final = SIZE.limited(_check_cut)
"""Sizes that a tool can cut: passes beyond counting are a slip of the pen."""


def _up_to(most: Fraction, what: str) -> Kind[Fraction]:
    """Lengths from 0 to ``most``; ``what`` says what a longer one is."""

    def check(length: Fraction, value: object, scope: Scope) -> None:
        if length > most:
            limit = f"{write_figure(most, scope.units)} {scope.units.sign}"
            raise Fault(f"{as_written(value)} is over {limit}, {what}", f"give {limit} or less")

    return DISTANCE.limited(check)


@dataclass(frozen=True, slots=True)
class BaseEdge:
    """An edge of a router's base that is run against a straightedge, ``to_centre`` mm from the collet's centre."""

    name: str
    to_centre: Fraction

    def takes(self, bit: Bit) -> bool:
        """Whether the base stands out beyond the bit, so that there is room for a bar."""
        return self.to_centre > bit.diameter / 2


class _Base(NamedTuple):
    edges: tuple[BaseEdge, ...]
    round: bool


_ROUND, _FLAT = "base_diameter", "edge_to_centre"


def _read_base(here: Here) -> _Base:
    """One of the two kinds of base."""
    given = here.given(_ROUND, _FLAT)
    if len(given) != 1:
        what = f"both {_ROUND} and {_FLAT}" if given else f"neither {_ROUND} nor {_FLAT}"
        here.table.fault(f"the router has {what}", f"give {_ROUND} for a round base, {_FLAT} for a flat one")
    diameter, edges = here(_ROUND), here(_FLAT)
    return _Base(edges, False) if diameter is None else _Base((BaseEdge(BASE_EDGE, diameter / 2),), True)


def _read_edges(value: object, scope: Scope) -> tuple[BaseEdge, ...]:
    if not isinstance(value, dict):
        return (BaseEdge(BASE_EDGE, SIZE.read(value, scope)),)
    if not value:
        raise Fault("the table has no edge", 'name each edge that is used, as in { flat = "3", round = "3 1/8" }')
    table = Table(value)
    edges = []
    for name in table:
        with table.at(name):
            read_name(name)
        edges.append(BaseEdge(name.strip(), table.need(name, SIZE, scope)))
    table.close()
    return tuple(edges)


_BY_NAME: Final = {"type": "object", "minProperties": 1, "propertyNames": NAME, "additionalProperties": SIZE}
_EDGES: Final[Kind[tuple[BaseEdge, ...]]] = Kind(
    _read_edges, (), "…", "a length, or a table of lengths by the names of the edges", {"oneOf": [SIZE, _BY_NAME]}
)
"""One length for a base with one edge that is used, or a table of lengths by the names of the edges."""


def _read_turns(here: Here) -> tuple[Fraction, ...]:
    turns: tuple[Fraction, ...] = here("turns")
    written = here.table["turns"] if here.given("turns") else []
    if isinstance(written, list) and written and len(written) != QUARTERS:
        what = f"the list has {len(written)} entries, and a base is tried at {QUARTERS} quarter turns"
        here.table.fault(
            what, "give the distance of each cut from the straightedge, with marks 1 to 4 toward it", "turns"
        )
    if turns and not here.given(_ROUND):
        here.table.fault("turns are for a round base, which can be turned", "leave them out for a flat one", "turns")
    return turns


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


def _router(name: str, base: _Base, turns: tuple[Fraction, ...]) -> Router:
    return Router(name, base.edges, base.round, turns)


_TURNS: Final = Key(
    list_of(SIZE, least=QUARTERS, most=QUARTERS),
    "how far from the straightedge trial cuts came out, the round base turned by a quarter for each",
    ["2 3/4", "2 3/4", "2 49/64", "2 3/4"],
    (),
    otherwise="the base is taken to be on centre",
)
ROUTER: Final = TableOf(
    _router,
    "A router, by its base: round by its diameter, or flat by the distance of its edges.",
    {
        "base": Filled(
            {
                _ROUND: Key(SIZE, "the diameter of a round base", "6", None),
                _FLAT: Key(
                    _EDGES,
                    "for a flat base: how far its edge is from the middle of the bit, or each of several edges by name",
                    {"long": "3", "short": "2 1/2"},
                    (),
                ),
            },
            _read_base,
        ),
        "turns": Filled({"turns": _TURNS}, _read_turns),
    },
    shape={"oneOf": [{"required": [_ROUND]}, {"required": [_FLAT]}]},
)


def _read_bit_angle(here: Here) -> Fraction:
    """Of a dovetail bit, which has to say it; 0 of a straight one."""
    leaning = here("kind")
    if leaning:
        angle: Fraction = here.need("angle")
        return angle
    if here.given("angle"):
        here.table.fault("a straight bit has no angle", 'leave it out, or write kind = "dovetail"', "angle")
    return Fraction(0)


@table(
    "A straight bit, or a dovetail bit.",
    shape={
        "if": {"required": ["kind"], "properties": {"kind": {"const": "dovetail"}}},
        "then": {"required": ["angle"]},
    },
)
class Bit:
    """A bit; ``angle`` is by how much the side of a dovetail bit leans, in degrees, 0 of a straight one.

    ``pass_depth`` is the most it takes in depth at once, None for half its diameter.
    """

    name: str
    diameter: Fraction = key(_CUT, "its diameter as it cuts, of a dovetail bit at its tip", "1/2")
    pass_depth: Fraction | None = key(
        _CUT, "the most that it cuts in depth at once", "1/8", default=None, otherwise="half its diameter"
    )
    angle: Fraction = keys(
        _read_bit_angle,
        kind=Key(choice({"straight": False, "dovetail": True}), "what it is", "dovetail", False, otherwise="straight"),
        angle=Key(ANGLE, "how far the side of a dovetail bit leans, in degrees", 14, None, otherwise="for no other"),
        default=Fraction(0),
    )


@dataclass(frozen=True, slots=True)
class BarRecord:
    """A spacer bar that the shop has or wants, for a router's edge and a bit; ``measured`` is its proved width."""

    name: str
    router: str
    edge: str
    bit: str
    measured: Fraction | None = None


BAR: Final = TableOf(
    BarRecord,
    "A spacer bar: as wide as from the edge of the base to the near edge of the cut.",
    each(
        router=Key(name_of("router", None), "the router that it is for", "plunge"),
        bit=Key(name_of("bit", None), "the bit that it is for", "half"),
        edge=Key(NAME, "the edge of the router's base", "base", None, otherwise="the only one of the router"),
        measured=Key(
            SIZE,
            "its width, once a trial groove has proved it: from the straightedge to the near edge of the cut",
            "2 3/4",
            None,
            otherwise="what router and bit make it",
        ),
    ),
)


def read_bar(name: str, value: object, scope: Scope) -> BarRecord:
    """A bar for a router and a bit that are read before it, and for one of the router's edges."""
    table = Table(value)
    here = Here(table, scope, BAR.keys)
    router: Router | None = here("router")
    bit: Bit | None = here("bit")
    edge, measured = _read_edge(table, router), here("measured")
    table.close()
    if not (router and edge and bit):
        raise Faults(())  # told at the closing, or where the router or the bit stands
    if not edge.takes(bit):
        raise _too_small(edge, router, bit, scope.units)
    return BarRecord(name, router.name, edge.name, bit.name, measured)


def _read_edge(table: Table, router: Router | None) -> BaseEdge | None:
    """The edge of the router that the bar is for; it may be left out where there is only one."""
    if not table.has("edge") and (router is None or len(router.edges) == 1):
        return router.edges[0] if router else None
    if router is None:
        return None
    edges = {edge.name: edge for edge in router.edges}
    table.require("edge", " or ".join(map(as_written, edges)))
    return table.get("edge", lambda value: _find_edge(value, router, edges), None)


def _find_edge(value: object, router: Router, edges: Mapping[str, BaseEdge]) -> BaseEdge:
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
                Where(f"[bit.{bit.name}]", ("bit", bit.name)),
            )


def check_twins(shop: Table, bars: Sequence[BarRecord]) -> None:
    """No two bars may be for the same router, edge and bit: it would be left open which is meant."""
    first: dict[tuple[str, str, str], BarRecord] = {}
    for bar in bars:
        other = first.setdefault((bar.router, bar.edge, bar.bit), bar)
        if other is not bar:
            what = f"bar {as_written(other.name)} is for the same router, edge and bit"
            shop.fault(what, "keep the one that you use", Where(f"[bar.{bar.name}]", ("bar", bar.name)))


class Purpose(Enum):
    """What a saw can be kept for; the word is the one in the shop file."""

    TONGUES = "tongues"
    RABBETS = "rabbets"
    GROOVES = "grooves"


@table("A table saw, or a cutter set that goes on it.")
class Saw:
    """A table saw, or a cutter set that goes on it, with the width of its cut.

    ``purposes`` are what it is for; empty for whatever no other saw is named for.
    """

    name: str
    kerf: Fraction = key(_CUT, "the width of its cut", "1/8")
    purposes: tuple[Purpose, ...] = keys(
        lambda here: tuple(dict.fromkeys(here("for"))),
        {
            "for": Key(
                list_of(word_of(Purpose), alone=True),
                "what it is for",
                ["tongues", "rabbets"],
                (),
                otherwise="whatever no other saw is named for",
            )
        },
        default=(),
    )

    def check(self, here: Here) -> None:
        if self.kerf > WIDEST_KERF:
            found, most = write_figure(self.kerf, here.scope.units), write_figure(WIDEST_KERF, here.scope.units)
            raise Fault(f"{found} is more than {most}, the most that a blade cuts", "look at its unit", "kerf")


@table("What the shop thinks safe at the saw.")
class Sawing:
    """How a shop saws, in mm; None for what is usual in the job's units.

    Nothing taller or longer than ``on_end`` is stood on its end or edge at the fence. What is narrower than ``narrow``
    is not grooved by itself.
    """

    on_end: Fraction | None = key(
        _up_to(TALLEST_ON_END, "too tall to be stood at a saw's fence"),
        "nothing taller or longer is stood on its end or edge at the fence",
        "24",
        default=None,
        otherwise="24 in, or 600 mm in a job in mm",
    )
    narrow: Fraction | None = key(
        _up_to(WIDEST_NARROW, "not narrow"),
        "narrower parts are grooved in a wide blank, or under featherboards",
        "3",
        default=None,
        otherwise="3 in, or 75 mm in a job in mm",
    )


@table("What the shop thinks a fit with the router.")
class Routing:
    """How a shop routs, in mm; None for what is usual in the job's units.

    A bit that is narrower than a groove by no more than ``bit_under`` cuts it at once. No shim is made that is thinner
    than ``least_shim``.
    """

    bit_under: Fraction | None = key(
        _up_to(WIDEST_UNDER, "too much for a groove that is to fit"),
        "a bit so much narrower than its groove cuts it at once",
        "1/64",
        default=None,
        otherwise="1/64 in, or 0.3 mm in a job in mm",
    )
    least_shim: Fraction | None = key(
        _up_to(THICKEST_LEAST_SHIM, "a shim that can be made"),
        "no thinner shim is made: the fit is tested in scrap",
        "1/32",
        default=None,
        otherwise="1/32 in, or 0.8 mm in a job in mm",
    )
