"""The words for what is worked on a board of a cabinet, on which surface and from where to where.

Lengths are exact, in mm. Along a board they count from its own low end (the lower or the left one), tongue and all;
across a board of the case from its front edge, tongue and all; across a member of the frame from its lower or left edge
as seen from the front.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.job.joints import Joint
from storystick.layout.cabinets.pieces import BACK_ROLES, FLAT_ROLES, FRAME_ROLES, Axis, Bay, End, Piece, Range, Role


class WorkKind(Enum):
    """What is done; the word is the one that people read."""

    GROOVE = "groove"
    RABBET = "rabbet"
    MORTISE = "mortise"
    TONGUE = "tongue"
    HAUNCHING = "haunching"
    LAP = "half lap"
    SLOT = "slot"
    EDGE_GROOVE = "edge groove"
    CUT_BACK = "cut back"
    NOTCH = "notch"
    LINE = "line"


CUTS: Final = frozenset({WorkKind.GROOVE, WorkKind.RABBET, WorkKind.MORTISE})
"""The kinds that another piece is let into."""


class Surface(Enum):
    """Which way a surface of a board looks in the cabinet. Low is left or down, high is right or up."""

    LOW = "low"
    HIGH = "high"
    FRONT = "front"
    BACK = "back"
    LOW_END = "low end"
    HIGH_END = "high end"


ENDS: Final = frozenset({Surface.LOW_END, Surface.HIGH_END})
_SIDES: Final = {Axis.X: ("lower", "upper"), Axis.Y: ("left", "right"), Axis.Z: ("left", "right")}
_END_WORDS: Final = {
    Axis.X: ("left end", "right end"),
    Axis.Y: ("front end", "back end"),
    Axis.Z: ("lower end", "upper end"),
}
"""What is low and what is high on a board, by the axis of its length."""


EDGES: Final = {axis: (f"{low} edge", f"{high} edge") for axis, (low, high) in _SIDES.items()}
"""The low and the high edge of a member of the frame, by the axis of its length."""


@dataclass(frozen=True, slots=True)
class Work:
    """One thing that is worked on a ``board``, for the ``other`` piece, on one of its surfaces.

    ``along`` and ``across`` are its edges on the board, as the module says. ``depth`` goes into the surface; of a
    tongue it is how far that stands out. ``thick`` is what a tongue keeps of the board's thickness, from its low face.
    A mortise lies between ``along``, and between ``across`` in the thickness; so does the haunching beside it. What is
    ``cut back`` is a corner of what enters: ``depth`` of its length.
    An edge groove is across its edge, from the low face on.
    ``along_board`` is whether it runs along the board, as a groove for a back does, or across it.
    ``stops`` is whether wood is left standing before its start and beyond its end, along its run.
    """

    kind: WorkKind
    on: Surface
    board: Piece
    other: Piece
    along: Range
    across: Range
    depth: Fraction
    joint: Joint | None = None
    thick: Range | None = None
    along_board: bool = False
    stops: tuple[bool, bool] = (False, False)

    @property
    def run(self) -> Range:
        """From where to where it runs: along the board from its low end, or across it from its front edge."""
        return self.along if self.along_board else self.across

    @property
    def width(self) -> Fraction:
        return (self.across if self.along_board else self.along).size

    @property
    def edges(self) -> Range:
        """Both edges across its run: along the board from its low end, or across it from its front edge.

        In the back of a frame they count from the edge that the groove is set by.
        """
        if not self.along_board:
            return self.along
        return Range(self.inset, self.inset + self.across.size) if self.board.role in FRAME_ROLES else self.across

    @property
    def is_stopped(self) -> bool:
        return any(self.stops)

    @property
    def at_edge(self) -> bool:
        """Whether it is worked along the edge of a piece of the back."""
        return self.along_board and self.board.role in BACK_ROLES

    @property
    def is_whole(self) -> bool:
        """Whether it runs from one end or edge of the board to the other."""
        return self.run.start == 0 and self.run.end == (self.board.length if self.along_board else width_of(self.board))

    @property
    def words(self) -> str:
        """What it is called at the bench, where it runs along the board."""
        if self.kind is WorkKind.TONGUE:
            return "front tongue"
        if self.board.role in FRAME_ROLES:
            return f"{self.kind.value} in the back"
        if self.kind is WorkKind.LINE:
            return self.other.name
        return f"{self.kind.value} for the {self.other.name}"

    @property
    def inset(self) -> Fraction:
        """How far the near edge of a cut along the board is from the edge that it is set by (:func:`edge_set_by`)."""
        # So that both of a pair have the same edge on a fence: the outer one of stiles is the high one at the right.
        from_high = self.board.role not in FRAME_ROLES or (self.board.role is Role.STILE and self.board.is_right)
        return width_of(self.board) - self.across.end if from_high else self.across.start

    @property
    def shoulders(self) -> tuple[Fraction, Fraction]:
        """What is cut away beside a tongue, from the low and from the high face; nothing beside anything else."""
        if self.thick is None or self.kind is not WorkKind.TONGUE:
            return Fraction(0), Fraction(0)
        return self.thick.start, self.board.stock.thickness - self.thick.end


@dataclass(frozen=True, slots=True)
class HoleRow:
    """A row of holes for the adjustable shelves of an opening: ``across`` the board, at ``places`` along it."""

    on: Surface
    board: Piece
    bay: Bay
    name: str
    across: Fraction
    places: tuple[Fraction, ...]


def front_of(board: Piece) -> Fraction:
    """The station in the cabinet's depth of a board's front edge, tongue and all."""
    return board.y.start - board.front_tongue


def width_of(board: Piece) -> Fraction:
    """How wide a board is: into the depth of the cabinet with its front tongue, or upward on edge, or over the face of
    frame, back and base.

    Of a back's board with what stands out at its edge. A runner, which lies along the depth, is as wide as it reaches
    across the cabinet.
    """
    if board.role is Role.RUNNER:
        return board.x.size
    flat = board.on_edge or board.role in FLAT_ROLES
    return board.across.size + board.edge_tongue if flat else board.y.end - front_of(board)


def work_along(
    kind: WorkKind,
    on: Surface,
    board: Piece,
    other: Piece,
    along: Range,
    across: Range,
    depth: Fraction,
    joint: Joint | None = None,
) -> Work:
    """A work that runs along its board, and stops wherever it ends before that does."""
    stops = (along.start > 0, along.end < board.length)
    return Work(kind, on, board, other, along, across, depth, joint, along_board=True, stops=stops)


def on_board(board: Piece, stretch: Range) -> Range | None:
    """A stretch of the cabinet as it lies along the board; None where the board is not there."""
    low, high = max(stretch.start - board.low_end, Fraction(0)), min(stretch.end - board.low_end, board.length)
    return Range(low, high) if low < high else None


def inside_of(board: Piece) -> Surface:
    """The face of an outer board that looks into the case."""
    return Surface.LOW if board.closes is End.TOP or board.is_right else Surface.HIGH


_SET_BY: Final = {Role.STILE: "outer edge", Role.RAIL: "lower edge", Role.MID_STILE: "left edge"}


def edge_set_by(board: Piece) -> str:
    """The edge that a cut along a board is set by, and that runs on a fence: both of a pair have the same."""
    return _SET_BY.get(board.role, "back edge")


def surface_words(piece: Piece, on: Surface) -> str:
    """A surface of a piece, as it is called at the bench.

    Left and right ones of a pair are told alike, by inside and outside, since they are images of each other.
    """
    if on in ENDS:
        return end_words(piece)[on is Surface.HIGH_END]
    framed = piece.role in FLAT_ROLES or piece.role is Role.RUNNER
    if on in (Surface.FRONT, Surface.BACK):
        return f"{on.value} face" if framed else f"{on.value} edge"
    if piece.on_edge:
        word = "back" if on is Surface.HIGH else "front"
    elif piece.hand is None:
        word = _SIDES[piece.axis][on is Surface.HIGH]
    else:
        inside = (on is Surface.HIGH) is not piece.is_right
        word = ("outer", "inner")[inside] if framed else ("outside", "inside")[inside]
    return f"{word} edge" if framed else f"{word} face"


def corner_of(cut: Work) -> str:
    """The edge that what is cut back lies at."""
    low, high = EDGES[cut.board.axis] if cut.board.role in FRAME_ROLES else ("front edge", "back edge")
    return high if cut.across.start else low


def end_words(piece: Piece) -> tuple[str, str]:
    """The end that stations along a piece count from, and the other one."""
    return _END_WORDS[piece.axis]
