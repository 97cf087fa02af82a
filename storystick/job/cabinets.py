"""Cabinets by their overall sizes: what their openings are fitted with, columns and bands of them, and all around."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Any, Final, TypeVar

from storystick.errors import Fault, as_written
from storystick.job.backs import BACK, Back
from storystick.job.bases import Plinth, Toe, read_base
from storystick.job.between import Between, above_key, between_key
from storystick.job.cases import END, PARTS, SIDES, EndRule, PartRule
from storystick.job.frames import FRAME, FrameRule
from storystick.job.fronts import FRONT_KIND, DrawerRule, FrontKind, FrontRule
from storystick.job.keys import (
    Here,
    Key,
    TableOf,
    array_of,
    inner,
    key,
    keys,
    numbered_place,
    one,
    own_name,
    plain_or,
    table,
    table_of,
)
from storystick.job.kinds import (
    DISTANCE,
    MOST_ENTRIES,
    NAME,
    SIZE,
    Kind,
    Scope,
    Table,
    tables,
    whole,
    word_of,
)
from storystick.job.likeness import LIKE
from storystick.job.openings import (
    ANY_STOCK,
    CLEAR,
    EQUAL,
    GROUP_ALONE,
    JOINT,
    SHARED,
    STOCK,
    Fixed,
    Graduated,
    Opening,
    Share,
    Stock,
    forms,
    openings_of,
)
from storystick.job.sticks import Hand
from storystick.lengths import INCH_MM, Units

_MOST_SHELVES: Final = 60
_MOST_IN_GRID: Final = 60
_MOST_ALIKE: Final = 100
_PITCH_MM: Final = Fraction(32)
_LEAST_PITCH: Final = {Units.INCH: (INCH_MM / 8, "1/8 in"), Units.MM: (Fraction(3), "3 mm")}
"""Holes that are closer run into each other: no pin is thinner; common practice, no source."""

_PLAY: Final = {Units.INCH: INCH_MM / 16, Units.MM: Fraction(2)}
"""What adjustable shelves have to spare, in length and in depth (mm): common practice, no source."""

T = TypeVar("T")


def _check_pitch(pitch: Fraction, value: object, scope: Scope) -> None:
    least, words = _LEAST_PITCH[scope.units]
    if pitch < least:
        what = f"{as_written(value)} is less than {words}, which the thinnest pin's hole takes"
        raise Fault(what, "look at its unit; 32 mm is usual")


def _play(words: str) -> Key:
    return Key(DISTANCE, words, "1/8", usual=lambda scope: _PLAY[scope.units])


@table("Adjustable shelves on rows of holes.", form="{ shelves = …, first = …, front = …, back = … }")
class Adjustable:
    """Adjustable shelves in an opening: how many, on rows of holes ``pitch`` apart.

    The rows stand ``front`` from the finished front edge of the case, its edging included (behind a face frame from the
    back of the frame), and ``back`` from its back edge. The lowest hole is ``first`` above the bottom of the opening,
    and the highest at least as far below its top. Shelves are ``play`` shorter than the opening is wide,
    and ``depth_play`` less deep than the case is inside. Holes 32 mm apart are common practice, no source.
    """

    count: int = key(whole(1, _MOST_SHELVES), "how many shelves there are", 2, name="shelves")
    pitch: Fraction = key(SIZE.limited(_check_pitch), "from a hole to the next", "1", usual=lambda _: _PITCH_MM)
    first: Fraction = key(SIZE, "from the bottom of the opening to its lowest hole", "4", asked=True)
    front: Fraction = key(
        SIZE, "from the finished front edge, edging included, to the front row of holes", "1 1/2", asked=True
    )
    back: Fraction = key(SIZE, "from the back edge of the case to the back row of holes", "2", asked=True)
    play: Fraction = key(_play("how much shorter a shelf is than its opening is wide"))
    depth_play: Fraction = key(_play("how much less deep a shelf is than the case is inside"), default=Fraction(0))


@dataclass(frozen=True, slots=True)
class Compartment:
    """An opening of a column, or a graduated group of them, and what it is fitted with.

    ``front`` None is the cabinet's usual kind. ``hinge`` is the side of a door's hinges, None where nothing is said.
    ``above`` is what stands above it, None where that is what its column has between its openings.
    """

    item: Opening | Graduated
    front: FrontKind | None = None
    adjustable: Adjustable | None = None
    hinge: Hand | None = None
    above: Between | None = None


_FRONT: Final = one("front", Key(FRONT_KIND, "what closes it", "pair", None, otherwise="as the cabinet's fronts say"))
_HINGE: Final = one(
    "hinge", Key(word_of(Hand), "the side that a single door is hinged at", "left", None, otherwise="not said")
)
_ABOVE: Final = one("above", above_key("it"))
_ADJUSTABLE: Final = one(
    "adjustable",
    Key(
        inner(Adjustable),
        "adjustable shelves in it",
        {"shelves": 2, "first": "4", "front": "1 1/2", "back": "2"},
        None,
        otherwise="none",
    ),
)


def _fitted(of: type[Any] | TableOf[Any], **more: Any) -> TableOf[Compartment]:
    """An opening of a cabinet, with what it is fitted with."""
    own = table_of(of)

    def build(
        front: FrontKind | None,
        hinge: Hand | None,
        above: Between | None,
        adjustable: Adjustable | None = None,
        **fields: object,
    ) -> Compartment:
        if hinge and front not in (None, FrontKind.DOOR):
            raise Fault('hinge stands beside a front other than "door"', 'leave it out, or write front = "door"')
        return Compartment(own.build(**fields), front, adjustable, hinge, above)

    shape = {**own.shape, "if": {"required": ["hinge"]}, "then": {"properties": {"front": {"const": "door"}}}}
    filled = {**own.filled, **more, "hinge": _HINGE, "above": _ABOVE}
    return replace(own, build=build, filled=filled, shape=shape, check=None)


_COMPARTMENT: Final = plain_or(
    CLEAR,
    lambda taken, _: Compartment(Opening(taken)),
    forms(
        "{ key = …, key = … }",
        opening=_fitted(Opening, front=_FRONT, adjustable=_ADJUSTABLE),
        share=_fitted(SHARED, front=_FRONT, adjustable=_ADJUSTABLE),
        graduated=_fitted(GROUP_ALONE, front=_FRONT),
    ),
)
_ONE_OPENING: Final = (Compartment(Opening(EQUAL)),)
_OPENINGS: Final = Key(
    openings_of(_COMPARTMENT, Compartment),
    "the openings from the bottom up, by their clear sizes",
    ["8", "equal", {"graduated": 4, "step": "1/2"}, {"opening": "equal", "front": "pair"}],
    usual=lambda _: _ONE_OPENING,
    otherwise="one opening",
)


def _share(words: str) -> Key:
    otherwise = "equal: as much of what is left as each other one"
    return Key(CLEAR, words, "30", usual=lambda _: EQUAL, otherwise=otherwise)


@table("A column of openings.")
class CabinetColumn:
    """A column of openings, from the bottom up, ``width`` wide in the clear."""

    width: Fixed | Share = key(_share("how wide it is in the clear"))
    compartments: tuple[Compartment, ...] = key(_OPENINGS, name="openings")
    between: Between | None = key(between_key("its openings", "as its band says"), default=None)


def headed(heading: str, of: type[T]) -> Kind[tuple[T, ...]]:
    """Tables without names under a ``heading`` of their own; those in which nothing is at fault."""

    def take(table: Table, name: str, _default: object, scope: Scope) -> tuple[T, ...]:
        things: list[T] = []
        for number, value in enumerate(table.get(name, tables(heading), ()), 1):
            with table.at(f"{name} {number}"):
                things.append(table_of(of).read(Table(value), scope))
        return tuple(things)

    return Kind(lambda *_: (), (), "", f"tables under {heading}", array_of(of), take_from=take)


def _read_columns(here: Here) -> tuple[CabinetColumn, ...]:
    """The columns of a band, or its openings in each of as many equal columns as it has."""
    if not here.given("column"):
        number: int = here("columns")
        return (CabinetColumn(EQUAL, here("openings")),) * number
    if here.given("columns"):
        here.table.fault("columns stands beside column", "give the number alone, or each column a table of its own")
    columns: tuple[CabinetColumn, ...] = here("column")
    return columns


def _read_own_columns(here: Here) -> tuple[CabinetColumn, ...]:
    if len(here.given("column", "openings")) > 1:
        here.table.fault("column and openings stand side by side", "give openings to each column instead")
    return _read_columns(here)


def _number_of(what: str) -> Key:
    return Key(whole(1, _MOST_IN_GRID), f"how many equal {what}, all with the same openings", 5, 1)


@table(
    "A band across the cabinet.",
    shape={"allOf": [{"not": {"required": ["column", other]}} for other in ("openings", "columns")]},
)
class CabinetRow:
    """A band across the cabinet, ``height`` high in the clear, its columns from left to right."""

    height: Fixed | Share = key(_share("how high it is in the clear"))
    columns: tuple[CabinetColumn, ...] = keys(
        _read_own_columns,
        column=Key(headed("[[cabinet.row.column]]", CabinetColumn), "its columns from the left", [], ()),
        columns=_number_of("columns it has"),
        openings=replace(_OPENINGS, words="its openings from the bottom up, in its one column or in each of columns"),
    )
    between: Between | None = key(between_key("the openings of its columns", "as the cabinet says"), default=None)
    above: Between | None = key(above_key("it"), default=None)
    name: str | None = key(
        NAME, "what the rail over it is called after", "drawers", default=None, otherwise="the part that rail is at"
    )
    rail: Fraction | None = key(
        SIZE,
        "how wide the face frame's rail over it is, where that is not as wide as the others",
        "2",
        default=None,
        otherwise="as the frame says",
    )


def read_bands(here: Here) -> tuple[CabinetRow, ...]:
    """The bands. Without bands, columns or openings stand in one; with none of the three it is one opening."""
    given = here.given("row", "column", "openings")
    if len(given) > 1:
        here.table.fault(f"{' and '.join(given)} stand side by side", "give one of them, and the others inside it")
        return ()
    rows: tuple[CabinetRow, ...] = _read_rows(here) if given == ["row"] else _read_grid(here)
    count = sum(map(_count, rows))
    if count > MOST_ENTRIES:
        here.table.fault(f"the cabinet has {count} openings; at most {MOST_ENTRIES} are allowed", "divide it")
    return rows


def _read_rows(here: Here) -> tuple[CabinetRow, ...]:
    for number in here.given("rows", "columns"):
        here.table.fault(f"{number} stands beside row", "leave it out, or leave the rows out for a grid of equal ones")
    rows: tuple[CabinetRow, ...] = here("row")
    return rows


def _read_grid(here: Here) -> tuple[CabinetRow, ...]:
    """Bands that are all alike: one where no number of them is said."""
    number: int = here("rows")
    return (CabinetRow(EQUAL, _read_columns(here)),) * number


def _count(row: CabinetRow) -> int:
    items = (compartment.item for column in row.columns for compartment in column.compartments)
    return sum(item.count if isinstance(item, Graduated) else 1 for item in items)


BAND_KEYS: Final[Mapping[str, Key]] = {
    "row": Key(headed("[[cabinet.row]]", CabinetRow), "bands from the bottom up", [], ()),
    "column": Key(headed("[[cabinet.column]]", CabinetColumn), "columns from the left, in one band", [], ()),
    "rows": _number_of("bands one above another"),
    "columns": _number_of("columns side by side"),
    "openings": _OPENINGS,
}
"""What :func:`read_bands` reads."""


class Sizes(Enum):
    """What the sizes of rows, columns and openings are sizes of."""

    CASE = "case"
    FRAME = "frame"
    FRONTS = "fronts"


class Through(Enum):
    """Which parts run through where shelves and dividers cross."""

    SHELVES = "shelves"
    DIVIDERS = "dividers"


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
        here.table.fault(what, f'give it {table} = {{ … }}, or write sizes = "case"')
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
    here.table.fault("carcass is missing", cure)
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
    "A cabinet, by its overall sizes: with its frame, its laid-on back and its base, but without its fronts.",
    shape={
        "allOf": [
            *({"not": {"required": list(two)}} for two in (("toe", "plinth"), ("frame", "edging"))),
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

    ``rows`` are bands from the bottom up. ``edging`` is the thickness of the solid edge that a frameless case has on
    its front edges, within the overall depth. ``number`` counts the job's cabinets from 1; ``count`` are made alike.
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
    rows: tuple[CabinetRow, ...] = keys(read_bands, BAND_KEYS)
    between: Between | None = key(between_key("bands and between the openings of a column", "a shelf"), default=None)
    sizes: Sizes = key(
        word_of(Sizes),
        "what the sizes of rows, columns and openings are sizes of: the clear openings in the case, those seen in the "
        "face frame, or the fronts themselves, a pair of doors with its gap; the case follows",
        "frame",
        default=Sizes.CASE,
    )
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
        SIZE,
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
    count: int = keys(
        _read_count,
        default=1,
        count=Key(whole(1, _MOST_ALIKE), "how many are made, all alike", 2, 1),
        like=Key(NAME, "another cabinet: what is not said here is as there", "Base 1", None, otherwise="like none"),
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
        frame = case.where(shelves=values["shelves"], dividers=values["dividers"])("frame")
        values |= {
            "frame": frame,
            "sizes": _read_sizes(here),
            "between": case("between"),
            "through": here("through"),
            "back": case("back"),
            "base": read_base(case),
        }
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
