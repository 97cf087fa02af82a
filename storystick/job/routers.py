"""Reading a router: its base, round by its diameter or flat by its edges, and its trial cuts at quarter turns."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.shop import BASE_EDGE, Edge, Router
from storystick.job.tables import Table, read_name, size
from storystick.lengths import Units

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
        return Router(name, (Edge(BASE_EDGE, diameter / 2),), True, turns)
    return Router(name, edges, False, turns)


def _read_edges(value: object, units: Units) -> tuple[Edge, ...]:
    """One length for a base with one edge that is used, or a table of lengths by the names of the edges."""
    if not isinstance(value, dict):
        return (Edge(BASE_EDGE, size(units)(value)),)
    if not value:
        raise Fault("the table has no edge", 'name each edge that is used, as in { flat = "3", round = "3 1/8" }')
    table = Table(value)
    edges = []
    for key in table:
        with table.at(key):
            read_name(key)
        edges.append(Edge(key.strip(), table.need(key, size(units))))
    table.close()
    return tuple(edges)


def _read_turns(table: Table, units: Units) -> tuple[Fraction, ...]:
    turns = table.each("turns", size(units))
    written = table["turns"] if table.has("turns") else []
    if isinstance(written, list) and written and len(written) != QUARTERS:
        what = f"the list has {len(written)} entries, and a base is tried at {QUARTERS} quarter turns"
        table.fault(what, "give the distance of each cut from the straightedge, with marks 1 to 4 toward it", "turns")
    return turns
