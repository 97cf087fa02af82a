"""Where everything of a cabinet lies.

Stations are exact, in mm, from the cabinet's left (``x``), front (``y``, into the depth) and floor (``z``, up).

Openings are those of the case: where a rail is wider than the part behind it, the job sheet says what it takes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from itertools import accumulate

from storystick.errors import Where
from storystick.job.cabinets import Cabinet
from storystick.job.compartments import Compartment
from storystick.job.edgings import BoardEdge
from storystick.job.joints import Joint
from storystick.job.openings import Stock
from storystick.job.sticks import Hand


@dataclass(frozen=True, slots=True)
class Range:
    """From one station to another along one of the three directions."""

    start: Fraction
    end: Fraction

    def __post_init__(self) -> None:
        if self.start >= self.end:
            raise ValueError(f"a range from {self.start} to {self.end}")

    @classmethod
    def over(cls, ranges: Iterable[Range]) -> Range:
        """From the first start of some ranges to the last end."""
        starts, ends = zip(*((each.start, each.end) for each in ranges), strict=True)
        return cls(min(starts), max(ends))

    @property
    def size(self) -> Fraction:
        return self.end - self.start

    def overlaps(self, other: Range) -> bool:
        """Whether they share more than an end."""
        return self.start < other.end and other.start < self.end

    def shared(self, other: Range) -> Range:
        """What two that overlap share."""
        return Range(max(self.start, other.start), min(self.end, other.end))


def _shared(one: Range, other: Range) -> Fraction:
    return min(one.end, other.end) - max(one.start, other.start)


class Axis(Enum):
    """A direction: across the cabinet, into its depth, or up."""

    X = "x"
    Y = "y"
    Z = "z"


class End(Enum):
    """An end of a case, by its word."""

    BOTTOM = "bottom"
    TOP = "top"


class Role(Enum):
    """What a piece is in the cabinet; the word is the one on the cutting list."""

    SIDE = "side"
    TOP = "top"
    BOTTOM = "bottom"
    STRETCHER = "stretcher"
    SHELF = "shelf"
    DIVIDER = "divider"
    CASE_RAIL = "case rail"
    WEB_FRAME = "web frame"
    WEB_RAIL = "web frame rail"
    RUNNER = "runner"
    WEB_PANEL = "dust panel"
    NAILER = "nailer"
    NOSING = "nosing"
    CLEAT = "cleat"
    WALL_CLEAT = "wall cleat"
    CORNER_BLOCK = "corner block"
    BACK = "back"
    BACK_BOARD = "back board"
    BACK_STILE = "back stile"
    BACK_RAIL = "back rail"
    BACK_PANEL = "back panel"
    STILE = "stile"
    RAIL = "rail"
    MID_STILE = "mid stile"
    PLINTH = "plinth"
    COUNTERTOP = "countertop"
    TOE_BOARD = "toe board"


CASE_ROLES = frozenset(
    {
        Role.SIDE,
        Role.TOP,
        Role.BOTTOM,
        Role.STRETCHER,
        Role.SHELF,
        Role.DIVIDER,
        Role.CASE_RAIL,
        Role.WEB_FRAME,
        Role.NAILER,
    }
)
UPRIGHT_ROLES = frozenset({Role.SIDE, Role.DIVIDER})
OUTER_ROLES = frozenset({Role.SIDE, Role.TOP, Role.BOTTOM, Role.STRETCHER})
WEB_ROLES = frozenset({Role.WEB_RAIL, Role.RUNNER, Role.WEB_PANEL})
"""The members of a web frame, which is told as a whole among the parts of the case."""
FRAME_ROLES = frozenset({Role.STILE, Role.RAIL, Role.MID_STILE})
BACK_ROLES = frozenset({Role.BACK, Role.BACK_BOARD, Role.BACK_STILE, Role.BACK_RAIL, Role.BACK_PANEL})
BASE_ROLES = frozenset({Role.PLINTH, Role.TOE_BOARD})
FIXED_IN_ROLES = frozenset({Role.CLEAT, Role.CORNER_BLOCK})
"""What is glued to parts of the case or the base, and is in the way inside of it."""
FLAT_ROLES = FRAME_ROLES | BACK_ROLES | BASE_ROLES | {Role.NOSING, Role.CLEAT, Role.WALL_CLEAT}


@dataclass(frozen=True, slots=True)
class Ending:
    """One end of a piece: the piece that it ends on, if any, and how it is let in.

    ``beyond`` is what the piece has past its shoulder there, in mm: its tongue, tenon, or the part that is housed.
    ``also`` are others that lie in one plane with it, as two stretchers do.
    """

    on: Piece | None = None
    joint: Joint | None = None
    beyond: Fraction = Fraction(0)
    also: tuple[Piece, ...] = ()

    @property
    def ons(self) -> tuple[Piece, ...]:
        """All that it ends on."""
        return (self.on, *self.also) if self.on else ()


@dataclass(frozen=True, slots=True, eq=False, kw_only=True, repr=False)
class Piece:
    """A piece of a cabinet in its place: itself, and equal to no other. ``name`` is what people call it.

    ``x``, ``y``, ``z`` are what is seen of it, from shoulder to shoulder: what enters other pieces lies beyond.
    Its length runs along ``axis``, with an ending ``low`` and ``high``; ``front_tongue`` enters the face frame (mm),
    and ``edge_tongue`` stands out beyond the high edge of a back's board, into the next or over it.
    ``front`` is the range that the frame's member in front of it covers along the piece's thickness, None without one.
    ``hand`` is the one of a pair that it is: a right one is the image of the left one in a mirror. ``covers`` is the
    part of the case that a member of the frame lies before.
    ``part_of`` is the web frame that it is a member of. ``closes`` is the end of the case that it is at: a top, a
    bottom, or a stretcher in the place of one. One that stands ``on_edge`` has its thickness in the cabinet's depth.
    ``is_behind``: no member of the frame lies before it, since it stands between openings that have one front.
    ``edged`` are the edges that take edging, which is beyond its ranges.
    """

    cabinet: Cabinet
    role: Role
    name: str
    stock: Stock
    axis: Axis
    x: Range
    y: Range
    z: Range
    low: Ending = Ending()
    high: Ending = Ending()
    front_tongue: Fraction = Fraction(0)
    edge_tongue: Fraction = Fraction(0)
    front: Range | None = None
    hand: Hand | None = None
    covers: Piece | None = None
    is_behind: bool = False
    part_of: Piece | None = None
    closes: End | None = None
    on_edge: bool = False
    edged: tuple[BoardEdge, ...] = ()

    def edging_at(self, edge: BoardEdge) -> Fraction:
        """How thick the edging on one of its edges is, beyond its board; 0 where it has none."""
        rule = self.cabinet.edging
        return rule.thickness if rule and edge in self.edged else Fraction(0)

    @property
    def finished_front(self) -> Fraction:
        """Where its front edge is when done, with its edging."""
        return self.y.start - self.edging_at(BoardEdge.FRONT)

    def __repr__(self) -> str:
        # Pieces refer to pieces: all of them written out would fill books.
        return f"<{self.full_name}>"

    @property
    def full_name(self) -> str:
        """The cabinet's name and its own."""
        return f"{self.cabinet.name} {self.name}"

    @property
    def is_right(self) -> bool:
        """Whether it is the right one of a pair."""
        return self.hand is Hand.RIGHT

    def within(self, joint: Joint | None) -> Range | None:
        """The groove that a joint cuts for it, from its low face (mm); None where nothing is cut.

        The joint counts from the outside of a side, so that left and right ones are images of each other.
        """
        return self._handed(joint.groove(self.stock.thickness) if joint else None)

    def entering(self, joint: Joint | None) -> Range | None:
        """What of its thickness goes into that groove, likewise from its low face: its tongue, or all of it."""
        return self._handed(joint.enters(self.stock.thickness) if joint else None)

    def _handed(self, edges: tuple[Fraction, Fraction] | None) -> Range | None:
        if edges is None:
            return None
        near, far = edges
        thickness = self.stock.thickness
        return Range(thickness - far, thickness - near) if self.is_right else Range(near, far)

    def along(self, axis: Axis) -> Range:
        """Its range in one direction."""
        return self.x if axis is Axis.X else self.z if axis is Axis.Z else self.y

    @property
    def across(self) -> Range:
        """Its range across itself as seen from the front: the thickness of a part, the width of a frame's member."""
        return self.x if self.axis is Axis.Z else self.z

    @property
    def low_end(self) -> Fraction:
        """Where the piece itself begins along its length, tongue or tenon and all."""
        return self.along(self.axis).start - self.low.beyond

    @property
    def shoulder_length(self) -> Fraction:
        return self.along(self.axis).size

    @property
    def length(self) -> Fraction:
        """Its finished length, with what enters other pieces at both ends."""
        return self.shoulder_length + self.low.beyond + self.high.beyond


@dataclass(frozen=True, slots=True)
class Around:
    """The pieces that bound an opening, of the case or of the face frame; None where nothing stands."""

    left: Piece | None = None
    right: Piece | None = None
    below: Piece | None = None
    above: Piece | None = None

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All that there are."""
        return tuple(piece for piece in (self.left, self.right, self.below, self.above) if piece)


@dataclass(frozen=True, slots=True, eq=False)
class Bay:
    """An opening of the cabinet with its place and its clear sizes: itself, and equal to no other.

    ``own_name`` is the one that the job gives it, if any, and ``number`` counts all of the cabinet from 1. ``row``,
    ``column`` and ``level`` count from 1, from below and from the left. ``frame_x`` and ``frame_z`` are the opening in
    the face frame before it; without a frame they are ``x`` and ``z``. ``around`` bounds it in the case, and ``framed``
    in the face frame. Where nothing stands between it and the next, both end at one station.
    """

    own_name: str | None
    number: int
    row: int
    column: int
    level: int
    x: Range
    z: Range
    frame_x: Range
    frame_z: Range
    around: Around
    framed: Around
    compartment: Compartment

    @property
    def name(self) -> str:
        """What people call it."""
        return self.own_name or f"opening {self.number}"

    def is_bounded_by(self, board: Piece, high: bool) -> bool:
        """Whether a face of a board, its high or its low one, is a side of the opening: of the case's, or for the
        frame's members of the frame's.
        """
        around = self.framed if board.role in FRAME_ROLES else self.around
        return board in ((around.left, around.below) if high else (around.right, around.above))

    @property
    def clear_width(self) -> Fraction:
        """What the case and the frame before it both leave clear across."""
        return _shared(self.x, self.frame_x)

    @property
    def clear_height(self) -> Fraction:
        """What the case and the frame before it both leave clear upward."""
        return _shared(self.z, self.frame_z)

    @property
    def shelf_length(self) -> Fraction | None:
        """How long its adjustable shelves are, None without any; not more than 0 where their play leaves nothing."""
        rule = self.compartment.adjustable
        return self.x.size - rule.play if rule else None

    def hole_heights(self) -> tuple[Fraction, ...]:
        """The stations of the holes for its adjustable shelves, from the floor; none where it has no such shelves."""
        rule = self.compartment.adjustable
        if rule is None:
            return ()
        # The last hole is at least as far below the top of the opening as the first is above its bottom.
        count = (self.z.size - 2 * rule.first) // rule.pitch + 1
        return tuple(self.z.start + rule.first + place * rule.pitch for place in range(count))


@dataclass(frozen=True, slots=True)
class Case:
    """A case by its ranges, in mm from the cabinet's left, front and floor.

    ``x``, ``y``, ``z`` are its outside, without frame, edging, laid-on back and base; ``inside_x`` and ``inside_z`` lie
    between its sides, and between what is at its bottom and its top, if anything; ``box_z`` is over these. ``foot`` is
    where a face frame begins, above the toe space or the base; the bottom may stand higher. ``head`` is where it ends,
    under a top that lies over it too. ``inner_y`` is what shelves and dividers have of the depth, ``end_y`` what the
    top and the bottom have.
    """

    x: Range
    y: Range
    z: Range
    inside_x: Range
    inside_z: Range
    box_z: Range
    foot: Fraction
    head: Fraction
    inner_y: Range
    end_y: Range


@dataclass(frozen=True, slots=True, eq=False, repr=False, weakref_slot=True)
class CabinetLayout:
    """A cabinet, solved: its pieces in working order, and its openings from the bottom left. Equal to no other.

    ``crossings`` are each shelf and divider that run through each other, half-lapped.
    ``warnings`` are sentences about what can be built but should be looked at. ``back`` is the back as one piece,
    whatever it is made of.
    """

    cabinet: Cabinet
    pieces: tuple[Piece, ...]
    bays: tuple[Bay, ...]
    case: Case
    crossings: tuple[tuple[Piece, Piece], ...] = ()
    warnings: tuple[str, ...] = ()
    back: Piece | None = None

    def __repr__(self) -> str:
        return f"<{self.cabinet.name}, {len(self.pieces)} pieces>"

    @property
    def finished_front(self) -> Fraction:
        """The front edge of the case as it is when done, where rows of holes count from: edging and all.

        Behind a face frame it is the back of the frame, where the boards begin; what enters the frame does not count.
        """
        return self.case.y.start - self.cabinet.edging_of_sides[0]

    @property
    def inner_back(self) -> Fraction:
        """Where the inner face of the back is, or the back edge of a case without one."""
        return self.case.inner_y.end

    def place_of(self, bay: Bay) -> Where:
        """Where an opening stands in its cabinet, which messages say by its name."""
        row = self.cabinet.rows[bay.row - 1]
        column = row.columns[bay.column - 1]
        ends = accumulate(compartment.count for compartment in column.compartments)
        number = sum(end < bay.level for end in ends)
        return Where.unsaid(*row.steps, *column.steps, "openings", number)

    def shelf_stock(self, bay: Bay) -> Stock:
        """What the adjustable shelves of an opening are made of."""
        return (self.cabinet.rows[bay.row - 1].shelves or self.cabinet.shelves).stock

    def hole_rows(self, bay: Bay) -> tuple[tuple[str, Fraction], ...]:
        """The rows of holes for an opening's adjustable shelves, and how deep in the cabinet each stands."""
        rule = bay.compartment.adjustable
        if rule is None:
            return ()
        return ("front", self.finished_front + rule.front), ("back", self.case.y.end - rule.back)

    def of(self, *roles: Role) -> tuple[Piece, ...]:
        """Its pieces of these roles, in order."""
        return tuple(piece for piece in self.pieces if piece.role in roles)

    @property
    def sides(self) -> tuple[Piece, Piece]:
        """The left one and the right one."""
        left, right = self.of(Role.SIDE)
        return left, right

    def at_end(self, end: End) -> tuple[Piece, ...]:
        """What closes an end of the case: a top or a bottom, stretchers from the front, or nothing at all."""
        return tuple(piece for piece in self.pieces if piece.closes is end)

    def before(self, board: Piece) -> Piece | None:
        """The member of the face frame that lies before a part of the case."""
        return next((piece for piece in self.pieces if piece.covers is board), None)

    def nosing_before(self, board: Piece) -> Piece | None:
        """The nosing that is glued to the front edge of a board."""
        return next((each for each in self.of(Role.NOSING) if each.x == board.x and each.z.end == board.z.end), None)

    def ends_on(self, board: Piece) -> Iterator[tuple[Piece, Ending, bool]]:
        """Every piece that ends on a board, with that ending, and whether it lies on its high side: right or above."""
        for piece in self.pieces:
            if any(on is board for on in piece.low.ons):
                yield piece, piece.low, True
            if any(on is board for on in piece.high.ons):
                yield piece, piece.high, False
