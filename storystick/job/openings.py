"""What stands along a stick: parts, openings and graduated groups, and all that they refer to."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final, TypeAlias, TypeVar

from storystick.errors import Fault, FaultCollector, Faults, Where, as_written
from storystick.job.keys import (
    Here,
    Key,
    TableOf,
    inner,
    insist,
    key,
    keys,
    list_of,
    name_of,
    plain_or,
    table,
    table_of,
)
from storystick.job.kinds import (
    MOST_ENTRIES,
    NAME,
    NUMBER,
    SIZE,
    Kind,
    Scope,
    Table,
    read_bare_name,
    read_name,
    whole,
    word_or,
)
from storystick.job.other_words import nearest
from storystick.job.sources import Source

if TYPE_CHECKING:
    from storystick.job.joints import Joint  # loaded for a job that has some

_MOST_GRADUATED: Final = 60
_ONE_OPENING: Final = (
    "keep one of them: opening = … is a clear size, share = … takes that many parts of what is left, and graduated = … "
    "is a group with its own first, step or ratio"
)
_ONE_RULE: Final = "one of step and ratio is needed"
_COLUMNS: Final = ("name", "size")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Stock:
    """A named material with its measured thickness in mm."""

    name: str
    thickness: Fraction

    def __post_init__(self) -> None:
        insist(self.thickness > 0, "a thickness is more than 0", self.thickness)


ANY_STOCK: Final = Stock("", Fraction(1))
STOCK: Final = name_of("stock", ANY_STOCK)


def _check_case_joint(joint: Joint | None, value: object, _: Scope) -> None:
    if joint and not joint.for_case:
        raise Fault(f"{as_written(value)} joins the members of a face frame only", "name it as the frame's joints")


def _check_frame_joint(joint: Joint | None, value: object, _: Scope) -> None:
    if joint and not joint.for_frame:
        from storystick.job.joints import JOINT_KINDS  # loaded already, by the joint

        kinds = " or ".join(as_written(word) for word, kind in JOINT_KINDS.items() if kind.for_frame)
        raise Fault(f"{as_written(value)} does not join the members of a face frame", f"name one of kind {kinds}")


_NAMED: Final[Kind[Joint | None]] = name_of("joint", None)
JOINT: Final = _NAMED.limited(_check_case_joint)
FRAME_JOINT: Final = _NAMED.limited(_check_frame_joint)


def read_stock(name: str, value: object, scope: Scope) -> Stock:
    """A stock, by its thickness alone."""
    if isinstance(value, dict):
        raise Fault("a table is not a thickness", f"write the thickness itself below [stock], as in {name} = …")
    return Stock(name, SIZE.read(value, scope))


@table("A part that the stick crosses.")
class Part:
    """A part that the stick crosses. ``joint`` is how its end is let into the piece that the stick is struck on."""

    stock: Stock = key(STOCK, "the stock of a part that the stick crosses", "ply", name="part")
    name: str | None = key(NAME, "what it is called", "shelf 1", default=None)
    joint: Joint | None = key(
        JOINT, "how its end is let into what the stick is struck on", "shelf", default=None, otherwise="butted"
    )


@dataclass(frozen=True, slots=True)
class Fixed:
    """An opening's clear size as given."""

    size: Fraction

    def __post_init__(self) -> None:
        insist(self.size > 0, "a size is more than 0", self.size)


@table("A share of what is left of the length.")
class Share:
    """An opening's size as ``share`` shares of what is left of the length; ``equal`` is one share."""

    share: Fraction = key(NUMBER, "how many shares of what is left it takes", 2)

    def __post_init__(self) -> None:
        insist(self.share > 0, "a share is more than 0", self.share)


EQUAL: Final = Share(Fraction(1))


CLEAR: Final[Kind[Fixed | Share]] = replace(
    plain_or(word_or("equal", EQUAL, SIZE.made(Fixed, Fixed(Fraction(1)))), lambda taken, _: taken, inner(Share)),
    stand_in=EQUAL,
    called="clear",
)
"""An opening's size: a length, "equal", or a table with its share."""


@table("An opening by its clear size.")
class Opening:
    """The clear space between two parts."""

    size: Fixed | Share = key(CLEAR, "its clear size", "8", name="opening")
    name: str | None = key(NAME, "what it is called", "press drawer", default=None)


def _shared(share: Fraction, name: str | None) -> Opening:
    return Opening(Share(share), name)


SHARED: Final = TableOf(
    _shared,
    "An opening by its share of what is left of the length.",
    {**table_of(Share).filled, "name": table_of(Opening).filled["name"]},
)


@dataclass(frozen=True, slots=True)
class StepRule:
    """Each next opening of a group is smaller by this many mm."""

    step: Fraction

    def __post_init__(self) -> None:
        insist(self.step > 0, "a step is more than 0", self.step)


@dataclass(frozen=True, slots=True)
class RatioRule:
    """Each opening of a group is this many times the next one; more than 1."""

    ratio: Fraction

    def __post_init__(self) -> None:
        insist(self.ratio > 1, "a ratio is more than 1", self.ratio)


def _check_ratio(ratio: Fraction, value: object, _: Scope) -> None:
    if ratio == 1:
        raise Fault("a ratio of 1 makes every opening the same", 'write "equal" for each opening instead')
    if ratio < 1:
        cure = "turn it over: the opening nearest the datum is the largest"
        raise Fault(f"{as_written(value)} is not a ratio above 1", cure)


def _read_rule(here: Here) -> StepRule | RatioRule:
    given = here.given("step", "ratio")
    if len(given) != 1:
        what = f"the graduated group has {'both step and' if given else 'neither step nor'} ratio"
        here.table.fault(what, 'give one of them, as in step = "1/2" or ratio = "6/5"')
    return StepRule(here("step")) if "step" in given else RatioRule(here("ratio"))


def _read_between(here: Here) -> Part | None:
    """The parts inside a group; what it does not say is as in the parts of a plain stick."""
    usual: Part | None = here.scope.usual.get("between")
    given = here.given("joint", "between")
    if given == ["joint"] and usual is None:
        here.table.fault(
            "joint is given without between",
            "name the stock of the parts inside the group with between",
            Where.unsaid("joint"),
        )
    stock = here("between") or (usual.stock if usual else None)
    joint = here("joint") if "joint" in given else (usual.joint if usual else None)
    return Part(stock, joint=joint) if stock else None


@table(
    "A group of openings that get smaller away from the datum.",
    shape={"oneOf": [{"required": ["step"]}, {"required": ["ratio"]}]},
)
class Graduated:
    """``count`` openings that get smaller away from the datum, with ``between`` standing between each two.

    ``first`` is the size of the one nearest the datum; None for a group that fills what is left of the length.
    ``between`` None leaves the openings side by side with no part between.
    """

    count: int = key(
        whole(2, _MOST_GRADUATED), "how many openings there are, the largest nearest the datum", 4, name="graduated"
    )
    rule: StepRule | RatioRule = keys(
        _read_rule,
        step=Key(SIZE, "how much smaller each next one is", "1/2", Fraction(1), otherwise=_ONE_RULE),
        ratio=Key(
            NUMBER.limited(_check_ratio),
            "how many times the next one each is, instead of a step",
            "6/5",
            Fraction(2),
            otherwise=_ONE_RULE,
        ),
    )
    first: Fraction | None = key(
        SIZE,
        "the size of the one nearest the datum",
        "10",
        default=None,
        otherwise="the group fills what is left of the length",
    )
    between: Part | None = keys(
        _read_between,
        default=None,
        between=Key(
            STOCK,
            "the stock of the parts inside the group",
            "ply",
            None,
            otherwise="the part of a plain stick; else nothing stands between",
        ),
        joint=Key(JOINT, "the joint of those parts", "shelf", None, otherwise="that of a plain stick's part"),
    )
    name: str | None = key(NAME, "what they are called, each with its number", "drawer", default=None)

    def __post_init__(self) -> None:
        insist(self.count > 1, "a group has two openings or more", self.count)


Item: TypeAlias = Part | Opening | Graduated

GROUP_ALONE: Final = table_of(Graduated).only("count", "rule", "first", "name")
"""A group of which something else says what stands between its openings."""

GROUP: Final = table_of(Graduated).only("count", "rule", "first", "name", "between")


def forms(written: str, **of: type[Any] | TableOf[Any]) -> Kind[Any]:
    """Tables of several forms, each known by one key; ``written`` is how they are written in a cure."""

    def read(value: object, scope: Scope) -> Any:
        table = Table(value, form=written)
        return table_of(of[choose_form(table, of)]).read(table, scope)

    return Kind(read, None, written, "a table", {"oneOf": list(of.values())})


def choose_form(table: Table, forms: Collection[str]) -> str:
    """The one key of these that the table has."""
    given = [key for key in forms if table.has(key)]
    if len(given) > 1:
        apart = "part" in given or "opening" not in forms
        cure = "give each a table of its own" if apart else _ONE_OPENING
        raise Fault(f"{' and '.join(given)} stand in one table", cure)
    if not given:
        raise _formless(table, forms)
    return given[0]


def _formless(table: Table, forms: Collection[str]) -> Fault:
    near = ((key, nearest(key, forms)) for key in table)
    cure = next((f'try "{form}" for "{key}"' for key, form in near if form), "give one of them")
    return Fault(f"the table has none of the keys {', '.join(forms)}", cure)


def openings_of(entry: Kind[T], build: Callable[[Opening], T]) -> Kind[tuple[T, ...]]:
    """The openings of a list, or of the spreadsheet that is named, of each of which something is built."""
    own = list_of(entry)

    def take(table: Table, name: str, default: object, scope: Scope) -> object:
        if not table.has(name):
            return default
        if isinstance(table[name], str):
            return table.get(name, lambda value: tuple(map(build, _read_file(value, scope))), ())
        if isinstance(table[name], int):
            cure = 'give each its size, as in ["equal", "equal"] for two'
            table.fault(f"{as_written(table[name])} is not a list", cure, name)
            return ()
        return own.take(table, name, default, scope)

    shape = {"oneOf": [{"type": "string", "pattern": r"^[^/\\]*\.[Cc][Ss][Vv]\s*$"}, own.schema]}
    sort = f'{own.sort}; or the name of a spreadsheet beside the job, like "drawers.csv"'
    return replace(own, form="[…, …]", sort=sort, schema=shape, take_from=take)


def _read_file(value: object, scope: Scope) -> tuple[Opening, ...]:
    """The openings of the spreadsheet that is named."""
    name = read_bare_name(value, ".csv", "is neither a list nor a .csv file", 'write it like ["13", "12"]')
    faults = FaultCollector()
    with faults.at(Where.in_file(name)):
        return read_openings(scope.files[name], scope)
    raise Faults(faults.faults)


def read_openings(source: Source, scope: Scope) -> tuple[Opening, ...]:
    """The openings of the file, row by row; a fault says its line and column."""
    from storystick.job.spreadsheet import read_rows  # only for a job with a spreadsheet

    def read_row(_line: int, row: Table) -> Opening:
        return Opening(row.need("size", CLEAR, scope), row.get("name", read_name, None))

    openings = read_rows(source, _COLUMNS, {"size": "write size over the column of the openings"}, read_row)
    if not 0 < len(openings) <= MOST_ENTRIES:
        raise Fault(f"the file holds {len(openings)} openings", f"give 1 to {MOST_ENTRIES} of them, each in a row")
    return openings


_OPENING_FORMS: Final[Mapping[str, Any]] = {"opening": Opening, "share": SHARED, "graduated": GROUP}
_ENTRY: Final = plain_or(
    CLEAR, lambda taken, _: Opening(taken), forms("{ key = …, key = … }", **_OPENING_FORMS), "opening"
)


def read_items(here: Here) -> tuple[Item, ...]:
    """All that stands along the stick, from its datum."""
    stick = here.table
    plain = here.given("part", "joint", "openings")
    if not here.given("order") and not plain:
        stick.fault("the stick has neither openings nor an order", "give part and openings, or order")
        return ()
    if here.given("order") and plain:
        stick.fault(
            f"order stands beside {' and '.join(plain)}",
            "give either order, or part and openings",
            Where.unsaid("order"),
        )
        return ()
    items: tuple[Item, ...] = _read_plain(here) if plain else here("order")
    count = sum(item.count if isinstance(item, Graduated) else 1 for item in items)
    if count > MOST_ENTRIES:
        stick.fault(f"the stick has {count} parts and openings; at most {MOST_ENTRIES} are allowed", "divide it")
    return items


def _read_plain(here: Here) -> tuple[Item, ...]:
    """The same part between the openings and at both ends."""
    part = Part(here.need("part"), joint=here("joint"))
    items: list[Item] = [part]
    for opening in here.where(between=part).need("openings"):
        items += [opening, part]
    return tuple(items)


ITEM_KEYS: Final[Mapping[str, Key]] = {
    "part": Key(
        STOCK, "the stock of the parts: one stands between each two openings, and one at both ends", "ply", None
    ),
    "joint": Key(JOINT, "the joint of those parts", "shelf", None, otherwise="butted"),
    "openings": Key(
        openings_of(_ENTRY, lambda opening: opening),
        "their clear sizes from the datum",
        ["13", "equal", {"share": 2}, {"graduated": 4, "step": "1/2"}],
        (),
        asked=True,
    ),
    "order": Key(
        list_of(forms('{ part = "…" } or { opening = … }', part=Part, **_OPENING_FORMS)),
        "all that stands along the stick, one after the other from the datum, where parts differ",
        [{"part": "ply", "name": "bottom", "joint": "shelf"}, {"opening": "8"}, {"part": "ply"}],
        (),
    ),
}
"""What :func:`read_items` reads."""
