"""Edging: solid or rolled strips on the edges of parts, by part and edge. Exact, in mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault, Where, as_written
from storystick.job.keys import Here, Key, array_of, inner, key, plain_or, table
from storystick.job.kinds import SIZE, Kind, Scope, read_list, word_of
from storystick.job.openings import STOCK, Stock


class BoardEdge(Enum):
    """An edge of a part as it stands in the cabinet, by its word."""

    FRONT = "front"
    BACK = "back"
    TOP = "top"
    BOTTOM = "bottom"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Edged:
    """Which edges of the parts of one kind are edged, where nothing covers them; each of them is ``insisted`` on where
    it was named: then one that is covered on all of these parts is a fault.
    """

    edges: tuple[BoardEdge, ...] = ()
    insisted: bool = False


_NONE: Final = Edged()
_FRONT: Final = Edged((BoardEdge.FRONT,))
_ALL: Final = "all"
_NOT: Final = "none"
_IN_DEPTH: Final = (BoardEdge.FRONT, BoardEdge.BACK)
_ENDS_UP: Final = (BoardEdge.TOP, BoardEdge.BOTTOM)
_ENDS_ACROSS: Final = (BoardEdge.LEFT, BoardEdge.RIGHT)


def _edges_of(known: tuple[BoardEdge, ...]) -> Kind[Edged]:
    """A list of the edges that parts of a kind have, or all or none of them."""
    word = word_of(known)

    def read(value: object, scope: Scope) -> Edged:
        if value == _ALL:
            return Edged(known)
        if value == _NOT:
            return _NONE
        named = read_list(value) if isinstance(value, list) else [value]
        edges = {word.read(each, scope) for each in named}
        return Edged(tuple(edge for edge in known if edge in edges), insisted=True)

    names = [edge.value for edge in known]
    form = f'"all", "none", or a list of {", ".join(map(as_written, names))}'
    schema = {"oneOf": [{"enum": [_ALL, _NOT, *names]}, array_of({"enum": names}, most=len(names))]}
    return Kind(read, _NONE, form, schema=schema)


def _case_edges(words: str, ends: Iterable[BoardEdge]) -> Any:
    """Those of the parts of the case of one kind."""
    return key(
        Key(
            _edges_of((*_IN_DEPTH, *ends)),
            f"which edges of the {words} get it, where nothing covers them",
            ["front"],
            usual=lambda scope: _NONE if scope.usual.get("framed") else _FRONT,
            otherwise="the front ones; none with a face frame",
        ),
        default=_FRONT,
    )


@table(
    "Edging on the edges of parts, within their finished sizes.",
    form='{ thickness = …, shelves = ["front"], fronts = "all" }',
    shape={"anyOf": [{"required": ["thickness"]}, {"required": ["stock"]}]},
)
class Edging:
    """Edging ``thickness`` thick, of a ``stock`` or of none that is named, and which edges of what get it."""

    thickness: Fraction = key(
        Key(SIZE, "how thick it is, within the finished sizes", "1/8", Fraction(1), otherwise="as its stock")
    )
    stock: Stock | None = key(STOCK, "what it is made of", "frame", default=None, otherwise="not said")
    sides: Edged = _case_edges("sides", _ENDS_UP)
    top: Edged = _case_edges("top, or of the stretchers in its place,", _ENDS_ACROSS)
    bottom: Edged = _case_edges("bottom, or of the stretchers in its place,", _ENDS_ACROSS)
    shelves: Edged = _case_edges("shelves and rails, adjustable shelves among them,", _ENDS_ACROSS)
    dividers: Edged = _case_edges("dividers", _ENDS_UP)
    fronts: Edged = key(
        _edges_of((*_ENDS_UP, *_ENDS_ACROSS)),
        "which edges of drawer fronts and doors get it, as seen from the front",
        "all",
        default=_NONE,
        otherwise="none",
    )

    @staticmethod
    def fill(here: Here) -> dict[str, Any]:
        """A thickness that is left out is that of the stock."""
        stock: Stock | None = here("stock")
        size = stock.thickness if stock and not here.given("thickness") else here.need("thickness")
        names = ("sides", "top", "bottom", "shelves", "dividers", "fronts")
        return {"thickness": size, "stock": stock, **{name: here(name) for name in names}}

    @property
    def stock_name(self) -> str:
        return self.stock.name if self.stock else ""


EDGING: Final = plain_or(SIZE, lambda thickness, _: Edging(thickness), inner(Edging), "thickness")
"""A length, for the front edges of the case, or more in a table."""


def read_edging(here: Here) -> Edging | None:
    """What a cabinet says of edging, to which its frame and its fronts must leave some edges."""
    framed, table = bool(here.given("frame")), here.table
    rule: Edging | None = here.where(framed=framed)("edging")
    if framed and here.given("edging") and not isinstance(table["edging"], dict):
        table.fault(
            "edging stands beside frame", "give edging only to a cabinet without a frame", Where.unsaid("edging")
        )
    return rule


def check_edged_fronts(rule: Edging | None, has_fronts: bool, of_wood: bool) -> None:
    """That there are fronts to edge, and that they are of a board that stays as wide as it is.

    Raises:
        Fault: there are none, or they are of solid wood.
    """
    if rule is None or not rule.fronts.edges:
        return
    if not has_fronts:
        raise Fault("fronts are to be edged, but the cabinet has none", "leave it out, or add fronts = { … }", "fronts")
    if of_wood:
        what = "fronts of solid wood move across the grain, and edging across it comes off"
        raise Fault(what, "leave out fronts here, or wood in the table of fronts", "fronts")
