"""Cabinets by their overall sizes, and what they are made of.."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import Any, Final

from storystick.job.cases import BACK, Back, EndRule, PartRule, Plinth, Toe, end_kind, part_kind, read_base, sides_kind
from storystick.job.compartments import BAND_KEYS, CabinetRow, read_bands
from storystick.job.fronts import FRAME, DrawerRule, FrameRule, FrontRule
from storystick.job.keys import Here, Key, inner, key, keys, numbered_place, own_name, table
from storystick.job.kinds import Scope, kind_in, size, word_of
from storystick.job.openings import ANY_STOCK, JOINT, STOCK, Stock


class Through(Enum):
    """Which parts run through where shelves and dividers cross."""

    SHELVES = "shelves"
    DIVIDERS = "dividers"


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
    kind = kind_in(STOCK, here.scope)
    cure = f"add carcass = {kind.form}, {kind.sort}, or a stock for {', '.join(bare)}"
    here.table.fault("carcass is missing", cure)
    return ANY_STOCK


def _names_stock(table: Any, name: str) -> bool:
    if not table.has(name):
        return False
    value = table[name]
    return not isinstance(value, dict) or "stock" in value


@table(
    "A cabinet, by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.",
    shape={
        "allOf": [
            *({"not": {"required": list(two)}} for two in (("toe", "plinth"), ("frame", "edging"))),
            *(
                {"not": {"required": list(two)}}
                for two in (("openings", "column"), ("openings", "row"), ("column", "row"))
            ),
            {"anyOf": [{"required": ["carcass"]}, {"required": list(_CASE_PARTS)}]},
        ]
    },
)
class Cabinet:
    """A cabinet by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.

    ``rows`` are bands from the bottom up. ``edging`` is the thickness of the solid edge that a frameless case has on
    its front edges, within the overall depth. ``number`` counts the job's cabinets from 1.
    """

    number: int
    name: str = own_name("cabinet", "Press")
    height: Fraction = key(size, "its overall height", "72")
    width: Fraction = key(size, "its overall width", "40")
    depth: Fraction = key(size, "its overall depth", "22")
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
            sides_kind,
            "the stock of the sides",
            "ply",
            usual=lambda scope: scope.usual["rule"].stock,
            otherwise=_AS_CASE,
        ),
    )
    top: EndRule = keys(
        lambda here: here("top"),
        top=Key(end_kind, "the top: its stock, or more", {"place": "over"}, usual=_any_end, otherwise=_AS_CASE),
    )
    bottom: EndRule = keys(
        lambda here: here("bottom"),
        bottom=Key(end_kind, "the bottom: its stock, or more", "ply", usual=_any_end, otherwise=_AS_CASE),
    )
    shelves: PartRule = keys(
        lambda here: here("shelves"),
        shelves=Key(part_kind, "the shelves: their stock, or more", "ply", _UNKNOWN, otherwise=_AS_CASE),
    )
    dividers: PartRule = keys(
        lambda here: here("dividers"),
        dividers=Key(part_kind, "the dividers: their stock, or more", "ply", _UNKNOWN, otherwise=_AS_CASE),
    )
    rows: tuple[CabinetRow, ...] = keys(read_bands, BAND_KEYS)
    through: Through = key(
        word_of(Through),
        "which parts run through where shelves and dividers cross",
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
    edging: Fraction = key(
        size,
        "how thick the solid edge of a case without a frame is, within the overall depth",
        "1/8",
        default=Fraction(0),
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

    @staticmethod
    def fill(here: Here) -> dict[str, Any]:
        """What is left out of a part is as the case says, and the frame looks at the parts behind it."""
        values = {name: here(name) for name in ("height", "width", "depth")}
        joint, usual = here("joint"), _read_carcass(here)
        rule = PartRule(usual or ANY_STOCK, joint)
        case = here.where(rule=rule, stock=usual)
        values |= {name: case(name) for name in ("sides", "top", "bottom")}
        values |= {name: case(name) if here.given(name) else rule for name in ("shelves", "dividers")}
        frame = case.where(shelves=values["shelves"], dividers=values["dividers"])("frame")
        values |= {"frame": frame, "through": here("through"), "back": case("back"), "base": read_base(case)}
        if len(here.given("edging", "frame")) > 1:
            here.table.fault("edging stands beside frame", "give edging only to a cabinet without a frame")
        of_frame = frame.stock if frame else ANY_STOCK if here.given("frame") else usual
        fronts = case.where(stock=of_frame)
        values |= {"edging": here("edging"), "fronts": fronts("fronts"), "drawers": here("drawers")}
        return {**values, "rows": read_bands(here)}

    @property
    def place(self) -> str:
        """Where a fault in this cabinet stands, in the words of a message."""
        return numbered_place("cabinet", self.number, self.name)
