"""What stands first in a form, in the order in which it is needed; all other keys follow in a part that is shut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from storystick.bench.file_kinds import JOB, SHOP, FileKind
from storystick.job.backs import BACK
from storystick.job.cabinets import Cabinet
from storystick.job.frames import FRAME
from storystick.job.fronts import DrawerRule, FrontRule
from storystick.job.keys import TableOf, table_of
from storystick.job.rows import CabinetColumn, CabinetRow
from storystick.job.runs import Run
from storystick.job.sticks import STICK

MORE: Final = "More"
_FEW: Final = 6
"""So many keys are looked over at once."""


@dataclass(frozen=True, slots=True)
class Gathered:
    """Some ``keys`` of a table that stand together, under a ``title``, empty for what needs none."""

    title: str
    keys: Sequence[str]
    is_open: bool = False


_JOB: Final = (
    Gathered("", ("title", "units", "paper", "printer")),
    Gathered("On paper", ("margins", "round_to", "wrap", "hands", "print", "shop")),
)
_SHOP: Final = (Gathered("", ("units",)),)


@dataclass(frozen=True, slots=True)
class Head:
    """What stands before all the things of a file: its form's ``title`` and ``words``, and its keys as they stand."""

    title: str
    words: str
    parts: Sequence[Gathered]


HEADS: Final[Mapping[FileKind, Head]] = {
    JOB: Head("Job", "What holds for everything in it.", _JOB),
    SHOP: Head("Shop", "What the shop has: it is for every job beside it.", _SHOP),
}

_CAREFULLY: Final[Sequence[tuple[type[Any] | TableOf[Any], Sequence[Gathered]]]] = (
    (
        Cabinet,
        (
            Gathered("", ("name", "height", "width", "depth", "carcass", "sizes")),
            Gathered("Openings", ("row", "column", "openings", "between", "rows", "columns"), is_open=True),
            Gathered("Face frame", ("frame",)),
            Gathered("Fronts", ("fronts",)),
            Gathered("Drawer boxes", ("drawers",)),
            Gathered("Back", ("back",)),
            Gathered("Base", ("toe", "plinth")),
            Gathered("Case", ("joint", "sides", "top", "bottom", "shelves", "dividers", "through")),
            Gathered("Edging", ("edging",)),
            Gathered(MORE, ("count", "like", "nailers", "cleats", "corner_blocks", "countertop")),
        ),
    ),
    (CabinetRow, (Gathered("", ("height", "name", "columns", "column", "openings")),)),
    (CabinetColumn, (Gathered("", ("width", "openings")),)),
    (FRAME, (Gathered("", ("stock", "stile", "top", "bottom", "rail", "mid_stile", "joints")),)),
    (FrontRule, (Gathered("", ("kind", "stock", "reveal", "overlay", "outside", "front")),)),
    (DrawerRule, (Gathered("", ("stock", "side", "top", "bottom", "back")),)),
    (BACK, (Gathered("", ("stock", "rabbet_width", "rabbet_depth", "groove_depth", "groove_inset")),)),
    (
        STICK,
        (
            Gathered("", ("name", "datum", "length", "part", "joint")),
            Gathered("Openings", ("openings",), is_open=True),
            Gathered("In order", ("order",)),
            Gathered("Holes and marks", ("holes", "centre")),
        ),
    ),
    (
        Run,
        (
            Gathered("", ("name", "length", "datum")),
            Gathered("What stands along it", ("order",), is_open=True),
            Gathered("What hangs over it", ("uppers",)),
            Gathered("The wall itself", ("features",)),
            Gathered("The floor", ("floor_fall", "floor")),
            Gathered("Corners", ("corner",)),
            Gathered("Countertop", ("countertop",)),
        ),
    ),
)
_BY_TABLE: Final[Mapping[TableOf[Any], Sequence[Gathered]]] = {table_of(of): parts for of, parts in _CAREFULLY}


def gathered(of: TableOf[Any]) -> Sequence[Gathered]:
    """The keys of a table, all of them, each in one place."""
    first = _BY_TABLE.get(of) or _usual(of)
    return complete(first, of.keys)


def complete(parts: Sequence[Gathered], keys: Mapping[str, object]) -> Sequence[Gathered]:
    """Some parts, with all keys that none of them has in a last one."""
    placed = {name for part in parts for name in part.keys}
    known = [Gathered(part.title, [name for name in part.keys if name in keys], part.is_open) for part in parts]
    rest = [name for name in keys if name not in placed]
    if not rest:
        return known
    if known and known[-1].title == MORE:
        return [*known[:-1], Gathered(MORE, [*known[-1].keys, *rest])]
    return [*known, Gathered(MORE, rest)]


def _usual(of: TableOf[Any]) -> Sequence[Gathered]:
    """Few keys all at once; of many those that are needed, or the first."""
    names = list(of.keys)
    needed = [name for name, key in of.keys.items() if key.is_needed and name != "kind"]
    return (Gathered("", names if len(names) <= _FEW else needed or names[:_FEW]),)


_INSTEAD: Final[Mapping[TableOf[Any], Sequence[tuple[Sequence[str], Sequence[str]]]]] = {
    table_of(Cabinet): (
        (("row",), ("column", "openings", "rows", "columns")),
        (("column",), ("row", "openings", "columns")),
        (("", "openings", "rows", "columns"), ("row", "column")),
        (("toe",), ("plinth",)),
        (("plinth",), ("toe",)),
    ),
    table_of(CabinetRow): ((("column",), ("openings", "columns")), (("", "openings", "columns"), ("column",))),
    table_of(STICK): ((("order",), ("part", "joint", "openings")), (("", "part", "openings"), ("order",))),
}
"""By table: where one of the first keys is given, or nothing where one of those is empty, the others stand apart."""


def is_hidden(of: TableOf[Any], name: str, value: Mapping[str, object]) -> bool:
    """Whether a key that is not given cannot stand beside what is."""
    for given, hidden in _INSTEAD.get(of, ()):
        others_given = any(other in value for other in hidden)
        if name in hidden and (any(key in value for key in given) or ("" in given and not others_given)):
            return True
    return False
