"""Edging on the parts of a case: which edges are free to take it, how much smaller the boards are, where it lies.

A part is laid out by what it has of the depth behind the front edges of the sides, and at its ends by what it has when
done; here it becomes the board that is cut. Exact, in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, Where
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndRule
from storystick.job.edgings import BoardEdge, Edged, Edging
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, End, Piece, Range, Role
from storystick.lengths import Figures

_NOTHING: Final = Fraction(0)
ENDS: Final = (BoardEdge.TOP, BoardEdge.BOTTOM, BoardEdge.LEFT, BoardEdge.RIGHT)
"""The edges at the ends of a part of the case."""

_LISTS: Final[Mapping[Role, str]] = {
    Role.SIDE: "sides",
    Role.SHELF: "shelves",
    Role.CASE_RAIL: "shelves",
    Role.WEB_FRAME: "shelves",
    Role.DIVIDER: "dividers",
}
_LOW: Final = {Axis.X: BoardEdge.LEFT, Axis.Z: BoardEdge.BOTTOM}
_HIGH: Final = {Axis.X: BoardEdge.RIGHT, Axis.Z: BoardEdge.TOP}


def list_of(piece: Piece) -> str | None:
    """Whose edges those of a piece are, by the key of the table; None for what has none."""
    return piece.closes.value if piece.closes else _LISTS.get(piece.role)


def told_of(rule: Edging, word: str) -> Edged:
    """What the table says by a key."""
    told: Edged = getattr(rule, word)
    return told


def _rule_of(piece: Piece) -> EndRule | None:
    ends = {End.TOP: piece.cabinet.top, End.BOTTOM: piece.cabinet.bottom}
    return ends[piece.closes] if piece.closes else None


def _front_is_free(piece: Piece) -> bool:
    """With a frame only that of a top or bottom that lies over it."""
    rule = _rule_of(piece)
    return (rule is not None and rule.reaches_front) if piece.cabinet.frame else piece.front is not None


def _back_is_free(piece: Piece) -> bool:
    """Where there is no back, or beyond it."""
    behind = piece.cabinet.depth
    return piece.y.end > behind or (piece.cabinet.back is None and piece.y.end == behind)


_FREE: Final[Mapping[BoardEdge, Callable[[Piece], bool]]] = {
    BoardEdge.FRONT: _front_is_free,
    BoardEdge.BACK: _back_is_free,
    BoardEdge.LEFT: lambda piece: piece.low.on is None,
    BoardEdge.RIGHT: lambda piece: piece.high.on is None,
    BoardEdge.BOTTOM: lambda piece: piece.low.on is None and piece.cabinet.base is None,
    BoardEdge.TOP: lambda piece: piece.high.on is None and piece.cabinet.countertop is None,
}


def edged(piece: Piece, covered: Collection[BoardEdge] = ()) -> Piece:
    """The board of a part, less its edging; none lies on edges that are ``covered`` by what comes later.

    Raises:
        Fault: the edging leaves nothing of it.
    """
    rule, word = piece.cabinet.edging, list_of(piece)
    if rule is None:
        return piece
    told = told_of(rule, word).edges if word and not piece.on_edge else ()
    piece = replace(piece, edged=tuple(edge for edge in told if edge not in covered and _FREE[edge](piece)))
    ends = piece.edging_at(_LOW[piece.axis]), piece.edging_at(_HIGH[piece.axis])
    along = piece.along(piece.axis)
    return replace(
        piece,
        **{piece.axis.value: _less(along, *ends, piece), "y": _depth(piece, rule.thickness, covered)},  # type: ignore[arg-type]
    )


def _depth(piece: Piece, thick: Fraction, covered: Collection[BoardEdge]) -> Range:
    """What the board has of the depth.

    One that ends on others reaches no farther than their boards, where these fall short by the edging, ``thick`` mm: it
    stands in them and not in the edging. What stands on edge keeps its thickness, and is moved.
    """
    start, end = piece.y.start, piece.y.end
    ons = [] if piece.role is Role.SIDE else [on for on in (piece.low.on, piece.high.on) if on]
    if piece.front is not None or BoardEdge.FRONT in (*piece.edged, *covered):
        front = start - piece.cabinet.edging_of_sides[0]
        start = max(
            [front + piece.edging_at(BoardEdge.FRONT), *(on.y.start for on in ons if on.y.start <= front + thick)]
        )
    behind = [on.y.end for on in ons if on.y.end >= end - thick]
    end = min([end - piece.edging_at(BoardEdge.BACK), *behind])
    if piece.on_edge:
        size = piece.y.size
        return Range(end - size, end) if end < piece.y.end else Range(start, start + size)
    return _less(piece.y, start - piece.y.start, piece.y.end - end, piece)


def _less(room: Range, low: Fraction, high: Fraction, piece: Piece) -> Range:
    if room.size <= low + high:
        raise Fault(f'the edging leaves nothing of "{piece.name}"', "make it thinner, or the part larger", "edging")
    return Range(room.start + low, room.end - high)


@dataclass(frozen=True, slots=True)
class Strip:
    """Edging in its place on an edge of a part, ``length`` long (mm)."""

    edge: BoardEdge
    x: Range
    y: Range
    z: Range
    length: Fraction


def strips_of(piece: Piece) -> Iterator[Strip]:
    """The edging of a piece. That at its ends goes on first, and what runs along it lies over those (common practice,
    no source).
    """
    for edge in piece.edged:
        thick, y, along = piece.edging_at(edge), piece.y, piece.along(piece.axis)
        # A rail of a web frame has edging where the frame is seen, between what its ends stand in.
        whole = face_of(piece.part_of or piece, piece.axis)
        if edge not in ENDS:
            y = Range(y.start - thick, y.start) if edge is BoardEdge.FRONT else Range(y.end, y.end + thick)
            along, length = whole, whole.size
        else:
            low = edge is _LOW[piece.axis]
            along, length = Range(whole.start, along.start) if low else Range(along.end, whole.end), y.size
        x, z = (along, piece.z) if piece.axis is Axis.X else (piece.x, along)
        yield Strip(edge, x, y, z, length)


def face_of(piece: Piece, axis: Axis) -> Range:
    """What a piece covers in one direction across the face of the cabinet, with the edging at its ends."""
    own = piece.along(axis)
    if axis is not piece.axis or not piece.edged:
        return own
    return Range(own.start - piece.edging_at(_LOW[axis]), own.end + piece.edging_at(_HIGH[axis]))


def edging_faults(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Edges that were named and are covered on all parts of their kind; and joints that would be cut in edging."""
    rule = layout.cabinet.edging
    if rule is None:
        return
    for word in ("sides", "top", "bottom", "shelves", "dividers"):
        told, pieces = told_of(rule, word), [piece for piece in layout.pieces if list_of(piece) == word]
        for edge in told.edges if told.insisted and pieces else ():
            if not any(edge in piece.edged for piece in pieces) and not _is_free_on_loose(layout, word, edge):
                what = f"the {edge.value} edges of the {word}" if word.endswith("s") else f"the {edge.value} edge of it"
                lie = "lie" if word.endswith("s") else "lies"
                yield Fault(
                    f"{what} {lie} {_why(layout, word, edge)}", "leave it out there", Where.keys("edging", word)
                )
    yield from _joints_in_edging(layout, figures)


def _is_free_on_loose(layout: CabinetLayout, word: str, edge: BoardEdge) -> bool:
    """Whether adjustable shelves have the edge free."""
    loose = any(bay.compartment.adjustable for bay in layout.bays)
    return word == "shelves" and loose and edge in edges_of_loose(layout.cabinet)


def edges_of_loose(cabinet: Cabinet) -> tuple[BoardEdge, ...]:
    """Which edges of adjustable shelves are edged: no nosing lies before them, and no back behind them."""
    rule = cabinet.edging
    covered = {BoardEdge.FRONT: cabinet.shelves.nosing, BoardEdge.BACK: cabinet.back}
    return tuple(edge for edge in rule.shelves.edges if not covered.get(edge)) if rule else ()


def _why(layout: CabinetLayout, word: str, edge: BoardEdge) -> str:
    if edge is BoardEdge.FRONT:
        return "behind the face frame" if layout.cabinet.frame else "behind something else, a nosing or a face"
    if edge is BoardEdge.BACK:
        return "against the back, or before it"
    return "against the parts that they end on, or on what they stand on" if word.endswith("s") else "against the sides"


def _joints_in_edging(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether what goes into a board goes into it beside the edging at its ends."""
    for board in layout.pieces:
        if not any(edge in ENDS for edge in board.edged):
            continue
        whole = board.along(board.axis)
        for piece, ending, _ in layout.ends_on(board):
            taken = piece.entering(ending.joint)
            if taken is None:
                continue
            start, end = piece.across.start + taken.start, piece.across.start + taken.end
            over = max(whole.start - start, end - whole.end)
            if over > 0:
                yield Fault(
                    f'the joint of "{piece.name}" would lie {figures.apart(over)} in the edging at the end of '
                    f'"{board.name}"',
                    "leave the edging out there, let the board overhang, or use a joint that lies farther in",
                    "edging",
                )
