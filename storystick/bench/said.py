"""Where in a job file each thing is said that a drawing shows: found from the things, never from their names.

A place may not be written yet, where it is the one that would say so: the table that it belongs to is. What a cabinet
takes over from another is said by its ``like``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from storystick.bench.places import Steps
from storystick.job.compartments import Compartment
from storystick.job.openings import Graduated, Item, Part
from storystick.job.sticks import Stick
from storystick.layout.cabinets.closings import Closing
from storystick.layout.cabinets.pieces import BACK_ROLES, Axis, Bay, CabinetLayout, End, Piece, Range, Role
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.stations import Span, SpanKind, StickLayout

Table: TypeAlias = Mapping[str, Any]

_LIKE: Final = "like"
_BY_ROLE: Final[Mapping[Role, tuple[str, ...]]] = {
    Role.SIDE: ("sides", "carcass"),
    Role.TOP: ("top", "carcass"),
    Role.BOTTOM: ("bottom", "carcass"),
    Role.NOSING: ("shelves",),
    Role.NAILER: ("nailers",),
    Role.CLEAT: ("cleats",),
    Role.WALL_CLEAT: ("cleats",),
    Role.CORNER_BLOCK: ("corner_blocks",),
    Role.PLINTH: ("plinth",),
    Role.TOE_BOARD: ("toe",),
    Role.COUNTERTOP: ("countertop",),
    **dict.fromkeys(BACK_ROLES, ("back",)),
}
"""The keys of a cabinet that say a piece of this role, the one that says the most first."""

_LEVELS: Final = frozenset({Role.SHELF, Role.CASE_RAIL, Role.WEB_FRAME})


@dataclass(frozen=True, slots=True)
class _Band:
    """A row or a column as it is written: where, and its table; without one, all is said by another place."""

    at: Steps
    table: Table | None


@dataclass(frozen=True, slots=True)
class CabinetSaid:
    """Where everything of a cabinet is said. ``document`` are the tables of the job's file."""

    layout: CabinetLayout
    document: Table

    @property
    def at(self) -> Steps:
        return "cabinet", self.layout.cabinet.number - 1

    @property
    def _table(self) -> Table:
        table: Table = self.document["cabinet"][self.layout.cabinet.number - 1]
        return table

    def key(self, *keys: str) -> Steps:
        """The first of these keys of the cabinet that is written, else its ``like``, else the first, not written."""
        written = (key for key in (*keys, _LIKE) if key in self._table)
        return (*self.at, next(written, keys[0]))

    def _row(self, number: int) -> _Band:
        table = self._table
        if "row" in table:
            return _Band((*self.at, "row", number - 1), table["row"][number - 1])
        if _LIKE in table and not {"openings", "column", "rows", "columns"} & table.keys():
            return _Band((*self.at, _LIKE), None)
        return _Band(self.at, table)

    def _column(self, row: int, number: int) -> _Band:
        band = self._row(row)
        if band.table is None or "column" not in band.table:
            return band
        return _Band((*band.at, "column", number - 1), band.table["column"][number - 1])

    def row(self, number: int) -> Steps:
        """A row; of a grid, how many there are."""
        band = self._row(number)
        return band.at if band.at != self.at else self.key("rows")

    def column(self, row: int, number: int) -> Steps:
        """A column; of a grid, how many there are."""
        band, column = self._row(row), self._column(row, number)
        if band.table is None:
            return band.at
        return column.at if column.at != band.at else (*band.at, "columns")

    def opening(self, bay: Bay) -> Steps:
        """An opening: its entry in a list, the group or the size inside a front that it comes from, or the list."""
        entry, inside = self._entry(bay)
        return entry if inside is None else (*entry, "inside", inside)

    def _entry(self, bay: Bay) -> tuple[Steps, int | None]:
        """The entry of an opening, and which of the sizes inside it that is, if one."""
        band = self._column(bay.row, bay.column)
        if band.table is None:
            return band.at, None
        at = (*band.at, "openings")
        if not isinstance(band.table.get("openings"), list):
            return at, None
        place, within = self._counted(bay)
        return (*at, place), within if bay.compartment.inside else None

    def _counted(self, bay: Bay) -> tuple[int, int]:
        """Which compartment of its column an opening is of, and which opening of that, both from 0."""
        level = bay.level - 1
        for number, compartment in enumerate(self._compartments(bay)):
            if level < compartment.count:
                return number, level
            level -= compartment.count
        raise ValueError(f"{bay.name} is in no column")

    def _compartments(self, bay: Bay) -> Sequence[Compartment]:
        return self.layout.cabinet.rows[bay.row - 1].columns[bay.column - 1].compartments

    def front(self, closing: Closing) -> Steps:
        """What closes some openings: the row's, the column's or the opening's own front, or the cabinet's."""
        bay = closing.bays[0]
        row, column = self._row(bay.row), self._column(bay.row, bay.column)
        for band in (row, column):
            if band.table and "front" in band.table:
                return (*band.at, "front")
        entry, _ = self._entry(bay)
        if column.table and isinstance(entry[-1], int):
            written = column.table["openings"][entry[-1]]
            if isinstance(written, dict) and "front" in written:
                return (*entry, "front")
        return self.key("fronts", "drawers")

    def on_strip(self, stick: StickLayout, span: Span) -> Steps | None:
        """What a strip of the cabinet shows from one station to another; None where that is no thing of its front."""
        faces = [face for face in stick.faces if face.cabinet == self.layout.cabinet.name]
        boards = (piece for piece in self.layout.pieces for face in faces if (piece.x, piece.z) == (face.x, face.z))
        board = next(boards, None)
        if board is None:
            return None
        where = Range(board.low_end + span.start, board.low_end + span.end)
        if span.kind is SpanKind.OPENING:
            return self._beside(board, where)
        crossing = (piece for piece, _, _ in self.layout.ends_on(board) if piece.across.overlaps(where))
        found = next(crossing, None)
        return self.piece(found) if found else None

    def _beside(self, board: Piece, where: Range) -> Steps | None:
        """The opening of that height beside an upright board, or the column of that width along a level one."""
        upright = board.axis is Axis.Z
        bays = [bay for bay in self.layout.bays if where in ((bay.z, bay.frame_z) if upright else (bay.x, bay.frame_x))]
        if not bays:
            return None
        bay = min(bays, key=lambda bay: board not in (*bay.around.pieces, *bay.framed.pieces))
        return self.opening(bay) if upright else self.column(bay.row, bay.column)

    def piece(self, piece: Piece) -> Steps:
        """A part of the case, the frame, the back or the base."""
        if piece.role in _LEVELS and (found := self._under(piece, framed=False)):
            return self._above(found)
        if piece.closes:
            return self.key(piece.closes.value, "carcass")
        if piece.role is Role.DIVIDER:
            return self._divider(piece)
        if piece.role in _FRAMED:
            return _FRAMED[piece.role](self, piece)
        return self.key(*_BY_ROLE.get(piece.role, ("shelves", "carcass")))

    def _under(self, piece: Piece, framed: bool) -> Bay | None:
        """The first opening that lies right under a piece, which another lies over."""
        for bay in self.layout.bays:
            if (bay.framed if framed else bay.around).above is piece:
                return bay
        return None

    def _is_highest(self, bay: Bay) -> bool:
        """Whether it is the highest of its column."""
        return bay.level == sum(compartment.count for compartment in self._compartments(bay))

    def _above(self, bay: Bay) -> Steps:
        """What stands over an opening: what its own entry says, or its row's, or what lies between all of them."""
        if self._is_highest(bay):
            band = self._row(bay.row)
            own = band.at != self.at and band.table is not None
            return (*band.at, "above") if own else self.key("between", "shelves")
        band, (entry, inside) = self._column(bay.row, bay.column), self._entry(bay)
        if band.table is None or not isinstance(entry[-1], int):
            return self._between(bay)
        place, within = self._counted(bay)
        if within < self._compartments(bay)[place].count - 1:
            return (*entry, "inside") if inside is not None else entry
        return (*entry, "above")

    def _between(self, bay: Bay) -> Steps:
        """What stands between the openings of a list that is no list of the file's own."""
        for band in (self._column(bay.row, bay.column), self._row(bay.row)):
            if band.table and "between" in band.table:
                return (*band.at, "between")
        return self.key("between", "shelves")

    def _divider(self, piece: Piece) -> Steps:
        bay = next((bay for bay in self.layout.bays if bay.around.left is piece), None)
        band = self._row(bay.row) if bay else None
        if band and band.table and "dividers" in band.table:
            return (*band.at, "dividers")
        return self.key("dividers", "carcass")

    def _frame(self, *keys: str) -> Steps:
        """A key of the face frame; of what may be a table in turn, the key in that."""
        at, written = self.key("frame"), self._table.get("frame", {})
        for key in keys:
            if not isinstance(written, dict):
                break
            at, written = (*at, key), written.get(key)
        return at

    def _stile(self, piece: Piece) -> Steps:
        left, *_ = self.layout.of(Role.STILE)
        return self._frame("stile", "left" if piece is left else "right")

    def _rail(self, piece: Piece) -> Steps:
        under = self._under(piece, framed=True)
        if under is None:
            return self._frame(End.BOTTOM.value)
        if self._is_highest(under) and under.row == len(self.layout.cabinet.rows):
            return self._frame(End.TOP.value)
        band = self._row(under.row)
        if self._is_highest(under) and band.table and "rail" in band.table:
            return (*band.at, "rail")
        return self._frame("rail")

    def _mid_stile(self, _piece: Piece) -> Steps:
        return self._frame("mid_stile")


_FRAMED: Final = {
    Role.STILE: CabinetSaid._stile,
    Role.RAIL: CabinetSaid._rail,
    Role.MID_STILE: CabinetSaid._mid_stile,
}


def items_said(stick: Stick, document: Table) -> Iterator[Steps]:
    """Where each part and opening of a stick of the job is said, in their order from the datum."""
    at: Steps = ("stick", stick.number - 1)
    table: Table = document["stick"][stick.number - 1]
    if "order" in table:
        for number, item in enumerate(stick.items):
            yield from [(*at, "order", number)] * _spans_of(item)
        return
    openings = isinstance(table.get("openings"), list)
    for number, item in enumerate(stick.items):
        part = isinstance(item, Part)
        own: Steps = ("part",) if part else ("openings", number // 2) if openings else ("openings",)
        yield from [(*at, *own)] * _spans_of(item)


def _spans_of(item: Item) -> int:
    """How many parts and openings of the layout an item is."""
    if not isinstance(item, Graduated):
        return 1
    return 2 * item.count - 1 if item.between else item.count


def run_at(run: RunLayout) -> Steps:
    """A run: a table of its own, or one of several."""
    return ("run",) if run.run.is_alone else ("run", run.run.number - 1)


def along_wall(placed: Placed, run: RunLayout) -> Steps:
    """What stands or hangs along a wall: a cabinet itself, or its place in the order; a corner's is its run."""
    if placed.item.cabinet:
        return "cabinet", placed.item.cabinet.number - 1
    at = run_at(run)
    own = (*at, "uppers") if placed.upper else at
    row = run.run.uppers if placed.upper else run.run
    for number, item in enumerate(row.order if row else ()):
        if item is placed.item:
            return (*own, "order", number)
    return at
