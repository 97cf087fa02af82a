"""What is worked on every board of a cabinet: said here once, and read by strips, templates, list, set-ups and checks.

Joints, backs, bases and frames each bring their own works; stations are as in ``works``.

A groove for a back runs out where the rest of it would stand inside a joint, since nobody sees it there; a rabbet
stops at the shoulder, since it would leave the other's groove open at its back edge. Stiles are grooved as far as the
tongue behind them reaches; rails and mid stiles right through, since their ends lie on other members.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from typing import Final, TypeAlias
from weakref import WeakKeyDictionary

from storystick.job.case_joints import Housing
from storystick.layout.cabinets.back_working import board_edges, panel_grooves
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.frame_ends import let_into_member, member_ends
from storystick.layout.cabinets.pieces import (
    CASE_ROLES,
    FRAME_ROLES,
    UPRIGHT_ROLES,
    WEB_ROLES,
    CabinetLayout,
    Ending,
    Piece,
    Range,
    Role,
)
from storystick.layout.cabinets.web_frames import web_works
from storystick.layout.cabinets.works import (
    CUTS,
    HoleRow,
    Surface,
    Work,
    WorkKind,
    front_of,
    on_board,
    width_of,
    work_along,
)


def works_of(layout: CabinetLayout, board: Piece) -> tuple[Work, ...]:
    """All that is worked on a board but for its holes: what is let into it, its own tongues, and its toe notch."""
    found = _FOUND.setdefault(layout, {})
    if board not in found:
        found[board] = tuple(_works_of(layout, board))
    return found[board]


_FOUND: Final[WeakKeyDictionary[CabinetLayout, dict[Piece, tuple[Work, ...]]]] = WeakKeyDictionary()
"""The works of boards that have been asked for: strips, list, set-ups and checks ask many times for the same."""


def _works_of(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    makers = next((makers for roles, makers in _MAKERS if board.role in roles), ())
    return (work for maker in makers for work in maker(layout, board))


def all_works(layouts: Iterable[CabinetLayout]) -> tuple[Work, ...]:
    """The works of every board of some cabinets, board by board."""
    return tuple(work for layout in layouts for board in layout.pieces for work in works_of(layout, board))


def let_into(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What is cut across a board's faces, or into a member's edges, for the pieces that end there."""
    if board.role in WEB_ROLES:
        return iter(())
    entries = let_into_member if board.role in FRAME_ROLES else _entries
    return (work for work in entries(layout, board) if work.kind in CUTS)


def holes_of(layout: CabinetLayout, board: Piece) -> tuple[HoleRow, ...]:
    """The rows of holes of every opening that an upright is a side of, the front row of each before the back one."""
    if board.role not in UPRIGHT_ROLES:
        return ()
    return tuple(
        HoleRow(
            surface,
            board,
            bay,
            name,
            into - front_of(board),
            tuple(height - board.low_end for height in bay.hole_heights()),
        )
        for bay in layout.bays
        for surface in (Surface.LOW, Surface.HIGH)
        if bay.is_bounded_by(board, surface is Surface.HIGH)
        for name, into in layout.hole_rows(bay)
    )


def cuts_for_back(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What is cut for the back along a board of the case."""
    if layout.back:
        yield from back_of(layout.cabinet).cuts(layout.back, board)


def _notches(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    return base_of(layout.cabinet).notches(layout, board)


def _from(start: Fraction, found: Range) -> Range:
    return Range(found.start - start, found.end - start)


def _whole(board: Piece) -> Range:
    return Range(Fraction(0), width_of(board))


def _entries(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """For every piece that ends on a board of the case: its groove or rabbet, or the line of its edges."""
    back_cuts = tuple(cuts_for_back(layout, board))
    for piece, ending, high in layout.ends_on(board):
        on = Surface.HIGH if high else Surface.LOW
        if piece.on_edge:
            yield _edgewise(board, piece, ending, on)
            continue
        front = front_of(board)
        met = Range(max(front_of(piece), front), min(piece.y.end, board.y.end))
        across = _from(front, met)
        taken = piece.within(ending.joint)
        if ending.joint is None or taken is None:
            if edges := on_board(board, piece.across):
                yield Work(WorkKind.LINE, on, board, piece, edges, across, Fraction(0), ending.joint)
            continue
        start = piece.across.start
        # With a fit a groove is wider than its part, but at the end of a board there is no wood for the play.
        along = on_board(board, Range(start + taken.start, start + taken.end))
        if along is None:
            continue
        kind = WorkKind.RABBET if ending.joint.at_end_only else WorkKind.GROOVE
        if ending.joint.front_stop:
            begins = max(_groove_begins(piece, ending), met.start)
            if begins >= met.end:
                continue
            across = _from(front, Range(begins, met.end))
        # No wood stands behind a groove that meets the rabbet for the back, so it does not stop there.
        runs_out = any(_opens_into(cut, on, along, across, ending.joint.depth) for cut in back_cuts)
        stops = (across.start > 0, across.end < width_of(board) and not runs_out)
        yield Work(kind, on, board, piece, along, across, ending.joint.depth, ending.joint, stops=stops)


def _slots(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """Half of a lap: a shelf is slotted from its back edge and a divider from its front edge, each to the middle."""
    for shelf, divider in layout.crossings:
        if board in (shelf, divider):
            middle = (max(front_of(shelf), front_of(divider)) + min(shelf.y.end, divider.y.end)) / 2 - front_of(board)
            other, on = (divider, Surface.BACK) if board is shelf else (shelf, Surface.FRONT)
            whole = width_of(board)
            across = Range(middle, whole) if board is shelf else Range(Fraction(0), middle)
            along, thick = _from(board.low_end, other.across), board.stock.thickness
            # As deep as the board is thick, since it goes right through.
            joint, stops = Housing("half lap", thick), (board is shelf, board is divider)
            yield Work(WorkKind.SLOT, on, board, other, along, across, thick, joint, stops=stops)


def _groove_begins(piece: Piece, ending: Ending) -> Fraction:
    """The station in the depth where the groove for an end of a piece begins: at its front edge, or where it stops."""
    front, stops = front_of(piece), groove_stops(ending)
    return front if stops is None else max(front, stops)


def groove_stops(ending: Ending) -> Fraction | None:
    """The station in the depth of a groove that stops before the finished front edge of its board; None for none."""
    if ending.on is None or ending.joint is None or not ending.joint.front_stop:
        return None
    return ending.on.finished_front + ending.joint.front_stop


def _edgewise(board: Piece, piece: Piece, ending: Ending, on: Surface) -> Work:
    """For one that stands on edge: its groove along the board, or the lines of where it ends."""
    along = on_board(board, piece.z) or _from(board.low_end, piece.z)
    start, taken = piece.y.start - front_of(board), piece.within(ending.joint)
    if ending.joint is None or taken is None:
        across = Range(start, start + piece.stock.thickness)
        return work_along(WorkKind.LINE, on, board, piece, along, across, Fraction(0), ending.joint)
    across = Range(max(start + taken.start, Fraction(0)), min(start + taken.end, width_of(board)))
    return work_along(WorkKind.GROOVE, on, board, piece, along, across, ending.joint.depth, ending.joint)


def _opens_into(cut: Work, on: Surface, along: Range, across: Range, depth: Fraction) -> bool:
    """Whether what lies so on a board runs out into a rabbet for the back that is at least as deep."""
    beside = cut.along.start <= along.start and along.end <= cut.along.end and across.end >= cut.across.start
    return cut.kind is WorkKind.RABBET and cut.on is on and beside and cut.depth >= depth


def _end_tongues(_layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What enters others at the board's own ends: tongues, or the whole of it; and what is cut back of it in front."""
    ends: tuple[tuple[Surface, Ending, Fraction], ...] = (
        (Surface.LOW_END, board.low, Fraction(0)),
        (Surface.HIGH_END, board.high, board.length - board.high.beyond),
    )
    for on, ending, start in ends:
        cut = Fraction(0) if board.on_edge else _groove_begins(board, ending) - front_of(board)
        if ending.on and ending.beyond and cut < width_of(board):
            along, across = Range(start, start + ending.beyond), Range(cut, width_of(board))
            thick = board.entering(ending.joint)
            yield Work(WorkKind.TONGUE, on, board, ending.on, along, across, ending.beyond, ending.joint, thick)
            if cut:
                corner = Range(Fraction(0), cut)
                yield Work(WorkKind.CUT_BACK, on, board, ending.on, along, corner, ending.beyond, ending.joint)


def _front_tongue(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """Where a member of the frame lies before the board; over a toe notch there is no edge to carry it."""
    frame, member = layout.cabinet.frame, layout.before(board)
    if frame is None or member is None or not board.front_tongue:
        return
    along = on_board(board, member.along(member.axis))
    notched = next((notch.along.end for notch in _notches(layout, board)), Fraction(0))
    if along is None or along.end <= notched:
        return
    along = Range(max(along.start, notched), along.end)
    yield Work(
        kind=WorkKind.TONGUE,
        on=Surface.FRONT,
        board=board,
        other=member,
        along=along,
        across=Range(Fraction(0), board.front_tongue),
        depth=board.front_tongue,
        joint=frame.joint,
        thick=board.entering(frame.joint),
        along_board=True,
        stops=(along.start > notched, along.end < board.length),
    )


def _frame_groove(layout: CabinetLayout, member: Piece) -> Iterator[Work]:
    """The groove in a member's back. It runs out at ends that lie on other members, where nobody sees it."""
    joint = layout.cabinet.frame.joint if layout.cabinet.frame else None
    board = member.covers
    taken = board.within(joint) if board else None
    if joint is None or board is None or taken is None:
        return
    # From stations on the part to those on the member before it, along and across.
    shift, start = board.low_end - member.low_end, board.across.start - member.across.start
    for tongue in _front_tongue(layout, board):
        along = Range(
            Fraction(0) if member.low.on else tongue.along.start + shift,
            member.length if member.high.on else tongue.along.end + shift,
        )
        across = Range(start + taken.start, start + taken.end)
        yield work_along(WorkKind.GROOVE, Surface.BACK, member, board, along, across, joint.depth, joint)


_Maker: TypeAlias = Callable[[CabinetLayout, Piece], Iterator[Work]]
_CASE: Final[tuple[_Maker, ...]] = (cuts_for_back, _entries, _slots, _end_tongues, _front_tongue, _notches)
_MEMBER: Final[tuple[_Maker, ...]] = (let_into_member, member_ends, _frame_groove)
_BOARD: Final[tuple[_Maker, ...]] = (board_edges,)
_OF_FRAME: Final[tuple[_Maker, ...]] = (panel_grooves, _end_tongues)
_WEB: Final[tuple[_Maker, ...]] = (web_works, _end_tongues)
_MAKERS: Final = (
    (CASE_ROLES, _CASE),
    (FRAME_ROLES, _MEMBER),
    (WEB_ROLES, _WEB),
    ({Role.BACK_BOARD}, _BOARD),
    ({Role.BACK_STILE, Role.BACK_RAIL}, _OF_FRAME),
)
