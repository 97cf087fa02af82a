"""The back of a cabinet, by how it is held. Exact, in mm, without positions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Final, TypeAlias

from storystick.errors import Fault, Where
from storystick.job.back_makes import Boards, Framed, InParts, Make
from storystick.job.cases import read_stock, stock_key
from storystick.job.keys import Here, Key, TableOf, each, inner
from storystick.job.kinds import DISTANCE, NAME, SIZE, YES_NO, whole
from storystick.job.openings import Stock
from storystick.lengths import INCH_MM, Figures, Units, write_figure


@dataclass(frozen=True, slots=True)
class RabbetBack:
    """A back in a rabbet: ``width`` along the face of the side from its back edge, ``depth`` into its thickness.

    ``after_painting``: it is fitted dry to square the case, and fastened when all is painted. ``make`` is what it is
    made of, None for one sheet of its stock.
    """

    stock: Stock
    width: Fraction
    depth: Fraction
    after_painting: bool = False
    make: Make | None = None


@dataclass(frozen=True, slots=True)
class GrooveBack:
    """A back in a groove as wide as itself, ``depth`` deep, ``inset`` from the back edge to the groove's near edge.

    It ends ``gap`` short of the bottom of every groove that it stands in.
    """

    stock: Stock
    depth: Fraction
    inset: Fraction
    gap: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class LaidOnBack:
    """A back laid on the back edges of the case, as wide and as high as the case; the rest as in a rabbet."""

    stock: Stock
    after_painting: bool = False
    make: Make | None = None


Back: TypeAlias = RabbetBack | GrooveBack | LaidOnBack

_BOTTOM_GAP: Final = {Units.INCH: INCH_MM / 32, Units.MM: Fraction(1)}
"""What a back has to spare at the bottom of each groove that it stands in (mm), and half the groove at most: common
practice, no source."""

_BACK_CURE: Final = "give rabbet_width and rabbet_depth, or groove_depth and groove_inset, or laid_on = true"


def _rabbet(here: Here, stock: Stock) -> Back:
    return RabbetBack(stock, here.need("rabbet_width"), here.need("rabbet_depth"))


def _groove(here: Here, stock: Stock) -> Back:
    depth, inset = here.need("groove_depth"), here.need("groove_inset")
    gap: Fraction | None = here("bottom_gap")
    return GrooveBack(stock, depth, inset, min(_BOTTOM_GAP[here.scope.units], depth / 2) if gap is None else gap)


def _laid_on(here: Here, stock: Stock) -> Back:
    if not here("laid_on"):
        here.table.fault("laid_on = false does not say how the back is held", _BACK_CURE, Where.unsaid("laid_on"))
    return LaidOnBack(stock)


_HELD: Final[dict[Callable[[Here, Stock], Back], tuple[str, ...]]] = {
    _rabbet: ("rabbet_width", "rabbet_depth"),
    _groove: ("groove_depth", "groove_inset", "bottom_gap"),
    _laid_on: ("laid_on",),
}


def _fill_back(here: Here) -> dict[str, Any]:
    """A back in the one form whose keys the table has."""
    stock = read_stock(here)
    given = {held: here.given(*names) for held, names in _HELD.items()}
    ways = [held for held, names in given.items() if names]
    if len(ways) > 1:
        mixed = " and ".join(names[0] for names in given.values() if names)
        here.table.fault(f"{mixed} stand in one table", "a back is held in one way: give the keys of one")
    if not ways:
        here.table.fault("nothing says how the back is held", _BACK_CURE)
    back = (ways[0] if len(ways) == 1 else _laid_on)(here, stock)
    return {"back": back, "later": here("after_painting"), "make": _read_make(here)}


def _read_make(here: Here) -> Make | None:
    """What it is made of, where that is not one sheet."""
    given = here.given("boards", "framed", "parts")
    if len(given) > 1:
        here.table.fault(
            f"{' and '.join(given)} stand in one table",
            "a back is made in one way: give one of them",
            Where.unsaid(given[0]),
        )
        return None
    parted_at: str | None = here("parted_at")
    if parted_at and "parts" not in given:
        here.table.fault(
            "parted_at says where, but the back is in one part", "add parts = 2", Where.unsaid("parted_at")
        )
    make: Boards | Framed | None = here(given[0]) if given and given[0] != "parts" else None
    return InParts(parted_at) if given == ["parts"] and here("parts") == _TWO else make


def _build_back(back: Back, later: bool, make: Make | None) -> Back:
    return back if isinstance(back, GrooveBack) else replace(back, after_painting=bool(later), make=make)


def _check_back(back: Back, here: Here) -> None:
    units = here.scope.units
    if isinstance(back, RabbetBack) and back.stock.thickness > back.width:
        thickness, width = (write_figure(length, units) for length in (back.stock.thickness, back.width))
        what = f'a back of "{back.stock.name}", {thickness} thick, does not enter a rabbet {width} wide'
        raise Fault(what, f"make it {Figures.usual(units).at_least(back.stock.thickness)} or wider", "rabbet_width")
    if isinstance(back, GrooveBack) and back.gap >= back.depth:
        gap, depth = (write_figure(length, units) for length in (back.gap, back.depth))
        what = f"a gap of {gap} leaves nothing of the back in a groove {depth} deep"
        raise Fault(what, "make it less than groove_depth", "bottom_gap")
    for word in here.given("boards", "framed", "parts") if isinstance(back, GrooveBack) else ():
        what = "a back in grooves is one sheet, which the case shuts in"
        raise Fault(what, f"leave {word} out, or give the back a rabbet or laid_on = true", word)
    if isinstance(back, GrooveBack) and here("after_painting"):
        what = "a back in grooves is shut in by the case, and cannot be fastened after painting"
        raise Fault(what, "leave it out, or give the back a rabbet or laid_on = true", "after_painting")


def _held_by(needed: tuple[str, ...], **more: Any) -> dict[str, Any]:
    """The shape of a back that is held in one way: it has the keys of no other."""
    others = {name: False for names in _HELD.values() if needed[0] not in names for name in names}
    return {"required": list(needed), "properties": {**others, **more}}


_TWO: Final = 2
_OPTIONAL: Final = "only where the back is held so"
BACK: Final = TableOf(
    _build_back,
    "The back: in a rabbet, in a groove, or laid on the back edges.",
    each(
        stock=stock_key("the stock of the back", "the carcass's"),
        rabbet_width=Key(
            SIZE,
            "in a rabbet: its width along the face of the side from its back edge",
            "1/4",
            None,
            otherwise=_OPTIONAL,
        ),
        rabbet_depth=Key(
            SIZE, "in a rabbet: its depth into the thickness of the side", "3/8", None, otherwise=_OPTIONAL
        ),
        groove_depth=Key(SIZE, "in a groove: how deep it is", "1/4", None, otherwise=_OPTIONAL),
        groove_inset=Key(SIZE, "in a groove: from the back edge to its near edge", "1/2", None, otherwise=_OPTIONAL),
        bottom_gap=Key(
            DISTANCE,
            "in a groove: how far the back is short of its bottom",
            "1/32",
            None,
            otherwise="1/32 in, or 1 mm in a job in mm, and half the groove at most",
        ),
        laid_on=Key(YES_NO, "true: laid on the back edges of the case", True, True, otherwise=_OPTIONAL),
        after_painting=Key(
            YES_NO,
            "whether it is fitted dry to square the case, and fastened when all is painted; not in a groove",
            True,
            False,
        ),
        boards=Key(inner(Boards), "upright boards in place of a sheet", {"width": "4"}, None, otherwise="one sheet"),
        framed=Key(
            inner(Framed),
            "a frame with panels in place of a sheet",
            {"stile": "2 1/2", "rail": "2 1/2", "panel": "back"},
            None,
            otherwise="one sheet",
        ),
        parts=Key(whole(1, _TWO), "2: two sheets that meet behind the middle of a shelf", 2, 1),
        parted_at=Key(
            NAME, "the shelf that they meet behind", "shelf 2", None, otherwise="the one nearest to the middle"
        ),
    ),
    '{ stock = "…", rabbet_width = …, rabbet_depth = … }, or with groove_depth and groove_inset, or laid_on = true',
    {
        "oneOf": [
            _held_by(("rabbet_width", "rabbet_depth")),
            _held_by(
                ("groove_depth", "groove_inset"),
                after_painting={"const": False},
                **dict.fromkeys(("boards", "framed", "parts"), False),
            ),
            _held_by(("laid_on",), laid_on={"const": True}),
        ]
    },
    _check_back,
    _fill_back,
)
