"""Rows and columns of openings of a cabinet: each by itself, or a grid of equal ones. Exact, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from fractions import Fraction
from typing import Any, Final, TypeVar

from storystick.errors import Fault, Steps, Where
from storystick.job.between import Between, above_key, between_key
from storystick.job.cases import PARTS, PartRule
from storystick.job.compartments import HINGE, HINGED_DOOR, OPENINGS, Compartment, check_one_front, one_front
from storystick.job.fronts import FrontKind
from storystick.job.keys import Here, Key, array_of, key, keys, table, table_of
from storystick.job.kinds import MOST_ENTRIES, NAME, SIZE, Kind, Scope, Table, tables, whole
from storystick.job.openings import CLEAR, EQUAL, Fixed, Share
from storystick.job.sticks import Hand

_MOST_IN_GRID: Final = 60
T = TypeVar("T")


def _share(words: str) -> Key:
    otherwise = "equal: as much of what is left as each other one"
    return Key(CLEAR, words, "30", usual=lambda _: EQUAL, otherwise=otherwise)


@table("A column of openings.", shape=HINGED_DOOR)
class CabinetColumn:
    """A column of openings, from the bottom up, ``width`` wide in the clear.

    ``steps`` lead to its table; there are none where it is one of so many equal ones.
    """

    width: Fixed | Share = key(_share("how wide it is, in the clear or as sizes says"))
    compartments: tuple[Compartment, ...] = key(OPENINGS, name="openings")
    between: Between | None = key(between_key("its openings", "as its row says"), default=None)
    front: FrontKind | None = key(one_front("column"), default=None)
    hinge: Hand | None = key(HINGE, default=None)
    steps: Steps = field(default=(), compare=False)

    def check(self, _: Here) -> None:
        """That one front over the whole column is the only one there."""
        check_one_front("column", self.front, self.hinge, self.compartments)


def _headed(heading: str, of: type[T]) -> Kind[tuple[T, ...]]:
    """Tables without names under a ``heading`` of their own; those in which nothing is at fault."""

    def take(table: Table, name: str, _default: object, scope: Scope) -> tuple[T, ...]:
        things: list[T] = []
        for number, value in enumerate(table.get(name, tables(heading), ())):
            where = Where(f"{name} {number + 1}", (name, number))
            with table.at(where):
                things.append(table_of(of).read(Table(value), scope, steps=where.steps))
        return tuple(things)

    return Kind(lambda *_: (), (), "", f"tables under {heading}", array_of(of), take_from=take)


def _read_columns(here: Here) -> tuple[CabinetColumn, ...]:
    """The columns of a band, or its openings in each of as many equal columns as it has."""
    if not here.given("column"):
        number: int = here("columns")
        return (CabinetColumn(EQUAL, here("openings")),) * number
    if here.given("columns"):
        here.table.fault(
            "columns stands beside column",
            "give the number alone, or each column a table of its own",
            Where.unsaid("columns"),
        )
    columns: tuple[CabinetColumn, ...] = here("column")
    return columns


def _read_own_columns(here: Here) -> tuple[CabinetColumn, ...]:
    if len(here.given("column", "openings")) > 1:
        here.table.fault(
            "column and openings stand side by side", "give openings to each column instead", Where.unsaid("openings")
        )
    return _read_columns(here)


def _number_of(what: str) -> Key:
    return Key(whole(1, _MOST_IN_GRID), f"how many equal {what}, all with the same openings", 5, 1)


def _own_parts(word: str, words: str) -> Any:
    """The parts of one kind in a band, by a key of this ``word``; what is left out is as the cabinet says."""
    said = Key(PARTS, f"{words}: their stock, or more", {"setback": "1"}, None, otherwise="as the cabinet says")
    read = lambda here: here.where(rule=here.scope.usual[word])(word) if here.given(word) else None  # noqa: E731
    return keys(read, {word: said}, default=None)


@table(
    "A row across the cabinet.",
    shape={"allOf": [{"not": {"required": ["column", other]}} for other in ("openings", "columns")], **HINGED_DOOR},
)
class CabinetRow:
    """A band across the cabinet, ``height`` high in the clear, its columns from left to right.

    ``steps`` lead to its table; there are none where it is one of so many equal ones.
    """

    height: Fixed | Share | None = key(
        Key(
            CLEAR,
            "how high it is, in the clear or as sizes says",
            "30",
            None,
            otherwise="what its openings come to, where they share nothing; else equal to each other such row",
        )
    )
    columns: tuple[CabinetColumn, ...] = keys(
        _read_own_columns,
        column=Key(_headed("[[cabinet.row.column]]", CabinetColumn), "its columns from the left", [], ()),
        columns=_number_of("columns it has"),
        openings=replace(OPENINGS, words="its openings from the bottom up, in its one column or in each of columns"),
    )
    between: Between | None = key(between_key("the openings of its columns", "as the cabinet says"), default=None)
    above: Between | None = key(above_key("it"), default=None)
    shelves: PartRule | None = _own_parts("shelves", "its shelves and the one above it")
    dividers: PartRule | None = _own_parts("dividers", "its dividers")
    front: FrontKind | None = key(one_front("row"), default=None)
    hinge: Hand | None = key(HINGE, default=None)
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
    steps: Steps = field(default=(), compare=False)

    def check(self, _: Here) -> None:
        """That one front over the whole row is the only one there."""
        behind = [compartment for column in self.columns for compartment in column.compartments]
        check_one_front("row", self.front, self.hinge, behind)
        if self.front and any(column.front for column in self.columns):
            raise Fault("a column has a front of its own behind the one front of its row", "leave one of them out")


def read_rows(here: Here) -> tuple[CabinetRow, ...]:
    """The bands. Without bands, columns or openings stand in one; with none of the three it is one opening."""
    given = here.given("row", "column", "openings")
    if len(given) > 1:
        here.table.fault(
            f"{' and '.join(given)} stand side by side",
            "give one of them, and the others inside it",
            Where.unsaid(given[-1]),
        )
        return ()
    rows: tuple[CabinetRow, ...] = _read_each_row(here) if given == ["row"] else _read_grid(here)
    count = sum(map(_count, rows))
    if count > MOST_ENTRIES:
        here.table.fault(f"the cabinet has {count} openings; at most {MOST_ENTRIES} are allowed", "divide it")
    return rows


def _read_each_row(here: Here) -> tuple[CabinetRow, ...]:
    for number in here.given("rows", "columns"):
        here.table.fault(
            f"{number} stands beside row",
            "leave it out, or leave the rows out for a grid of equal ones",
            Where.unsaid(number),
        )
    rows: tuple[CabinetRow, ...] = here("row")
    return rows


def _read_grid(here: Here) -> tuple[CabinetRow, ...]:
    """Bands that are all alike: one where no number of them is said."""
    number: int = here("rows")
    return (CabinetRow(EQUAL, _read_columns(here)),) * number


def _count(row: CabinetRow) -> int:
    return sum(compartment.count for column in row.columns for compartment in column.compartments)


ROW_KEYS: Final[Mapping[str, Key]] = {
    "row": Key(_headed("[[cabinet.row]]", CabinetRow), "rows from the bottom up", [], ()),
    "column": Key(_headed("[[cabinet.column]]", CabinetColumn), "columns from the left, in one row", [], ()),
    "rows": _number_of("rows one above another"),
    "columns": _number_of("columns side by side"),
    "openings": OPENINGS,
}
"""What :func:`read_rows` reads."""
