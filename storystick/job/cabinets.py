"""Cabinets by their overall sizes: bands and columns of openings, and all around them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Where
from storystick.job.backs import BACK, Back
from storystick.job.bases import Plinth, Toe, read_base
from storystick.job.between import Between, between_key
from storystick.job.cases import END, PARTS, SIDES, EndRule, PartRule
from storystick.job.cleats import CLEATS, CleatRule
from storystick.job.corner_blocks import CORNER_BLOCKS, CornerBlocks
from storystick.job.countertops import Countertop
from storystick.job.edgings import EDGING, BoardEdge, Edging, check_edged_fronts, read_edging
from storystick.job.frames import FRAME, FrameRule
from storystick.job.fronts import DrawerRule, FrontRule
from storystick.job.keys import (
    Here,
    Key,
    inner,
    key,
    keys,
    numbered_place,
    own_name,
    table,
)
from storystick.job.kinds import (
    NAME,
    SIZE,
    Scope,
    whole,
    word_of,
)
from storystick.job.likeness import LIKE
from storystick.job.nailers import NAILERS, NailerRule
from storystick.job.openings import (
    ANY_STOCK,
    JOINT,
    STOCK,
    Stock,
)
from storystick.job.rows import ROW_KEYS, CabinetRow, read_rows

_MOST_ALIKE: Final = 100


class Sizes(Enum):
    """What the sizes of rows, columns and openings are sizes of."""

    CASE = "case"
    FRAME = "frame"
    FRONTS = "fronts"


class Through(Enum):
    """Which parts run through where shelves and dividers cross; both do where they are half-lapped, as in a crate."""

    SHELVES = "shelves"
    DIVIDERS = "dividers"
    BOTH = "both"


EACH_OWN: Final = ("name", "count")
"""What a cabinet that is like another never takes over from it."""

INSTEAD: Final = (("row", "column", "openings", "rows", "columns"), ("toe", "plinth"), ("frame", "edging"))
"""Keys that stand in the place of each other: a cabinet that has one of them takes over none."""

_SEEN_IN: Final[Mapping[Sizes, tuple[str, str]]] = {
    Sizes.FRAME: ("frame", "face frame"),
    Sizes.FRONTS: ("fronts", "fronts"),
}
"""The table that a cabinet needs for sizes in a measure, and what that is called."""


def _read_sizes(here: Here) -> Sizes:
    sizes: Sizes = here("sizes")
    table, word = _SEEN_IN.get(sizes, ("", ""))
    if table and not here.given(table):
        what = f'sizes = "{sizes.value}", but the cabinet has no {word}'
        here.table.fault(what, f'give it {table} = {{ … }}, or write sizes = "case"', Where.unsaid("sizes"))
    return sizes


_CASE_PARTS: Final = ("sides", "top", "bottom", "shelves", "dividers")
_UNKNOWN: Final = PartRule(ANY_STOCK)
_AS_CASE: Final = "as carcass and joint say"


def _any_end(scope: Scope) -> EndRule:
    rule: PartRule = scope.usual["rule"]
    return EndRule(rule.stock, rule.joint)


def _read_carcass(here: Here) -> Stock | None:
    """The stock of the parts that name none; it may be left out only where there are no such parts."""
    if here.given("carcass"):
        stock: Stock = here("carcass")
        return stock
    bare = [name for name in _CASE_PARTS if not _names_stock(here.table, name)]
    if not bare:
        return None
    cure = f"add carcass = {STOCK.form}, {STOCK.sort}, or a stock for {', '.join(bare)}"
    here.table.fault("carcass is missing", cure, Where.unsaid("carcass"))
    return ANY_STOCK


def _names_stock(table: Any, name: str) -> bool:
    if not table.has(name):
        return False
    value = table[name]
    return not isinstance(value, dict) or "stock" in value


def _read_count(here: Here) -> int:
    """How many are made; what it is like is seen to by whoever reads all cabinets."""
    here("like")
    count: int = here("count")
    return count


@table(
    "A cabinet, by its overall sizes: with its frame, its laid-on back and its base, but without its fronts, "
    "overhangs and countertop.",
    shape={
        "allOf": [
            {"not": {"required": ["toe", "plinth"]}},
            {"not": {"required": ["frame", "edging"], "properties": {"edging": {"not": {"type": "object"}}}}},
            *(
                {"not": {"required": list(two)}}
                for two in (
                    *(("openings", "column"), ("openings", "row"), ("column", "row")),
                    *(("rows", "row"), ("columns", "row"), ("columns", "column")),
                )
            ),
            {"anyOf": [{"required": [LIKE]}, {"required": ["carcass"]}, {"required": list(_CASE_PARTS)}]},
        ]
    },
)
class Cabinet:
    """A cabinet by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.

    ``rows`` are bands from the bottom up. ``number`` counts the job's cabinets from 1; ``count`` are made alike.
    """

    number: int
    name: str = own_name("cabinet", "Press")
    height: Fraction = key(SIZE, "its overall height", "72")
    width: Fraction = key(SIZE, "its overall width", "40")
    depth: Fraction = key(SIZE, "its overall depth", "22")
    sides: Stock = keys(
        lambda here: here("sides"),
        joint=Key(JOINT, "the joint of every part that ends on another", "shelf", None, otherwise="butted"),
        carcass=Key(
            STOCK,
            "the stock of every part that names none",
            "ply",
            ANY_STOCK,
            otherwise="needed unless sides, top, bottom, shelves and dividers each name their own",
        ),
        sides=Key(
            SIDES,
            "the stock of the sides",
            "ply",
            usual=lambda scope: scope.usual["rule"].stock,
            otherwise=_AS_CASE,
        ),
    )
    top: EndRule = key(END, "the top: its stock, or more", {"place": "over"}, usual=_any_end, otherwise=_AS_CASE)
    bottom: EndRule = key(END, "the bottom: its stock, or more", "ply", usual=_any_end, otherwise=_AS_CASE)
    shelves: PartRule = key(Key(PARTS, "the shelves: their stock, or more", "ply", _UNKNOWN, otherwise=_AS_CASE))
    dividers: PartRule = key(Key(PARTS, "the dividers: their stock, or more", "ply", _UNKNOWN, otherwise=_AS_CASE))
    rows: tuple[CabinetRow, ...] = keys(read_rows, ROW_KEYS)
    between: Between | None = key(between_key("rows and between the openings of a column", "a shelf"), default=None)
    sizes: Sizes = key(
        word_of(Sizes),
        "what the sizes of rows, columns and openings are sizes of: the clear openings in the case, those seen in the "
        "face frame, or the fronts themselves, a pair with its gap, solid ones with the whole reveal; the case follows",
        "frame",
        default=Sizes.CASE,
    )
    through: Through = key(
        word_of(Through),
        "which parts run through where shelves and dividers cross; both do where they are half-lapped, as in a crate",
        "dividers",
        default=Through.SHELVES,
    )
    back: Back | None = key(
        inner(BACK),
        "the back",
        {"stock": "back", "rabbet_width": "1/4", "rabbet_depth": "3/8"},
        default=None,
        otherwise="none",
    )
    base: Toe | Plinth | None = keys(
        read_base,
        default=None,
        toe=Key(inner(Toe), "a toe space under the bottom", {"height": "4", "recess": "3"}, None, otherwise="none"),
        plinth=Key(
            inner(Plinth), "a base that the case stands on", {"height": "4", "recess": "2"}, None, otherwise="none"
        ),
    )
    frame: FrameRule | None = key(
        inner(FRAME),
        "a face frame",
        {"stock": "frame", "stile": "1 1/2", "top": "2", "bottom": "2"},
        default=None,
        otherwise="none",
    )
    nailers: tuple[NailerRule, ...] = key(
        NAILERS,
        "nailers, or hanging rails, between the sides before the back",
        {"width": "4", "at": ["top", "bottom"]},
        default=(),
        otherwise="none",
    )
    cleats: tuple[CleatRule, ...] = key(
        CLEATS,
        "cleats: strips that shelves or a top lie on, or on the wall",
        {"width": "1 1/2", "at": ["shelves"]},
        default=(),
        otherwise="none",
    )
    corner_blocks: CornerBlocks | None = key(
        CORNER_BLOCKS,
        "corner blocks under the top, or in the plinth",
        {"size": "3"},
        default=None,
        otherwise="none",
    )
    countertop: Countertop | None = key(
        inner(Countertop),
        "a countertop that lies on it, not within its height",
        {"stock": "ply"},
        default=None,
        otherwise="none",
    )
    edging: Edging | None = key(
        EDGING,
        "how thick the edging on the front edges of a case without a frame is, within the overall depth; or more",
        "1/8",
        default=None,
        otherwise="none",
    )
    fronts: FrontRule | None = key(
        inner(FrontRule),
        "drawer fronts and doors",
        {"kind": "inset", "stock": "front", "reveal": "1/16"},
        default=None,
        otherwise="none",
    )
    drawers: DrawerRule | None = key(
        inner(DrawerRule),
        "drawer boxes",
        {"stock": "box", "side": "3/16", "top": "1/4", "back": "1"},
        default=None,
        otherwise="none",
    )
    count: int = keys(
        _read_count,
        default=1,
        count=Key(whole(1, _MOST_ALIKE), "how many are made, all alike", 2, 1),
        like=Key(
            replace(NAME, names="cabinet"),
            "another cabinet: what is not said here is as there",
            "Base 1",
            None,
            otherwise="like none",
        ),
    )

    @staticmethod
    def fill(here: Here) -> dict[str, Any]:
        """What is left out of a part is as the case says, and the frame looks at the parts behind it."""
        values = {"count": _read_count(here), **{name: here(name) for name in ("height", "width", "depth")}}
        joint, usual = here("joint"), _read_carcass(here)
        rule = PartRule(usual or ANY_STOCK, joint)
        case = here.where(rule=rule, stock=usual)
        values |= {name: case(name) for name in ("sides", "top", "bottom")}
        values |= {name: case(name) if here.given(name) else rule for name in ("shelves", "dividers")}
        if values["dividers"] and values["dividers"].nosing:
            here.table.fault("dividers have no nosing", "leave it out, or give it to the shelves", "dividers")
        frame = case.where(shelves=values["shelves"], dividers=values["dividers"])("frame")
        values |= {
            "frame": frame,
            "sizes": _read_sizes(here),
            "between": case("between"),
            "through": here("through"),
            "back": case("back"),
            "nailers": case("nailers"),
            "cleats": case("cleats"),
            "corner_blocks": case("corner_blocks"),
            "countertop": here("countertop"),
            "base": read_base(case),
        }
        of_frame = frame.stock if frame else ANY_STOCK if here.given("frame") else usual
        fronts = case.where(stock=of_frame)
        values |= {"edging": read_edging(here), "fronts": fronts("fronts"), "drawers": here("drawers")}
        with here.table.at("edging"):
            front = values["fronts"]
            check_edged_fronts(values["edging"], bool(here.given("fronts")), bool(front and front.wood))
        return {**values, "rows": read_rows(case.where(shelves=values["shelves"], dividers=values["dividers"]))}

    @property
    def edging_of_sides(self) -> tuple[Fraction, Fraction]:
        """How thick the edging is on the front and the back edges of the sides, in mm: 0 where they have none."""
        rule = self.edging
        free = {BoardEdge.FRONT: self.frame is None, BoardEdge.BACK: self.back is None}
        front, back = (
            rule.thickness if rule and edge in rule.sides.edges and free[edge] else Fraction(0) for edge in free
        )
        return front, back

    @property
    def place(self) -> Where:
        """Where a fault in this cabinet stands."""
        return numbered_place("cabinet", self.number, self.name)

    @property
    def told(self) -> str:
        """What it is called where it is of interest how many are made."""
        return f"{self.count} × {self.name}" if self.count > 1 else self.name

    @property
    def each(self) -> tuple[str, ...]:
        """What every one that is made is called, where each is told by itself."""
        if self.count == 1:
            return (self.name,)
        return tuple(f"{self.name} ({number})" for number in range(1, self.count + 1))
