"""Every glued joint of a cabinet, from which of its pieces end on which, lie against which and are let into which.

Adjustable shelves, fronts and drawer boxes are no part of it: they are not glued into the case.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Final

from storystick.job.usual_joint import Closes
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.fastening import FastenerRow, fastener_rows
from storystick.layout.cabinets.fixed_in import closing_panel, touching
from storystick.layout.cabinets.pieces import (
    CASE_ROLES,
    FRAME_ROLES,
    OUTER_ROLES,
    UPRIGHT_ROLES,
    WEB_ROLES,
    Axis,
    CabinetLayout,
    End,
    Piece,
    Range,
    Role,
)
from storystick.layout.cabinets.sliding import slides_from
from storystick.layout.cabinets.works import Surface, Work, WorkKind


class Held(Enum):
    """What presses a joint until its glue holds, and how the clamps of its line stand.

    They stand at the front and back edges of a case, the only places where bars pass its panels, or at the one edge
    that a part lies at, which reaches less than half way to the other; one on each face of a narrow member of a frame
    or plinth, or spaced along a wide one; over the middle of a lap, from face to face; none where screws draw the joint
    home, nor on a block that is rubbed in; along a stiff caul over the edge of an outer part that something is laid
    on; at the ends of a bowed caul over the inner ones, where no clamp reaches the middle. Pins or screws fasten a
    back and a plinth, one at its middle each upright board of a back, and a groove, a slot or a socket holds what is
    in it.
    """

    DRAWN = "screws"
    EDGES = "edges"
    FRONT = "front edge"
    REAR = "back edge"
    FACES = "faces"
    SPACED = "spaced"
    STIFF = "stiff caul"
    BOWED = "bowed caul"
    PINNED = "pins"
    MIDDLE = "one at the middle"
    GROOVE = "groove"
    SLOT = "slot"
    SOCKET = "socket"
    LAPPED = "laps"
    RUBBED = "rubbed in"


@dataclass(frozen=True, slots=True)
class GluedJoint:
    """A piece and what it is glued to, and how they come together.

    They are closed along ``axis``, ``on`` lying on the ``piece``'s high side (right, behind, above) or its low one;
    where ``slides`` is not None the joint lets the piece slide in along that direction too. Lengths in mm: ``length``
    is the glue line's, ``through`` the thickness between it and the clamp, and ``place`` is where it lies across: for
    what is fastened, its lap. ``runs`` is the direction of its line, where the piece is one of a finished part that is
    laid on another as a whole. ``row`` are the fasteners in it.
    """

    piece: Piece
    on: Piece
    axis: Axis
    on_high: bool
    length: Fraction
    through: Fraction
    place: Range
    held: Held = Held.FACES
    slides: Axis | None = None
    runs: Axis | None = None
    row: FastenerRow | None = None

    @property
    def low(self) -> Piece:
        """Which of the two lies to the left, in front or below."""
        return self.piece if self.on_high else self.on

    @property
    def high(self) -> Piece:
        return self.on if self.on_high else self.piece

    @property
    def laid(self) -> bool:
        return self.runs is not None

    @property
    def words(self) -> str:
        return f"{self.piece.name} to {self.on.name}"


def case_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those that are closed to make the case, with those of a back in grooves, which only then can go in."""
    grooved = grooved_back_joints(layout)
    return (*_end_joints(layout, *CASE_ROLES), *_laps(layout), *grooved)


def grooved_back_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of a back in grooves with the boards that these are in."""
    return tuple(map(_grooved_joint, _cut_for_back(layout, WorkKind.GROOVE)))


def web_joints(layout: CabinetLayout, web: Piece) -> tuple[GluedJoint, ...]:
    """Those of a web frame, made by itself: runners with rails, and panels, which lie dry in the grooves of both."""
    members = [piece for piece in layout.of(*WEB_ROLES) if piece.part_of is web]
    rails, runners, panels = (
        [piece for piece in members if piece.role is role] for role in (Role.WEB_RAIL, Role.RUNNER, Role.WEB_PANEL)
    )
    return (
        *(_in_a_rail(runner, rail, runner.x.size) for runner in runners for rail in rails),
        *(replace(_in_a_rail(panel, rail), held=Held.GROOVE, slides=Axis.X) for panel in panels for rail in rails),
        *(_in_a_runner(panel, runner) for panel in panels for runner in runners if runner.x.overlaps(panel.x)),
    )


def _in_a_rail(piece: Piece, rail: Piece, glued: Fraction = Fraction(0)) -> GluedJoint:
    return GluedJoint(piece, rail, Axis.Y, rail.y.start > piece.y.start, glued, rail.y.size, piece.x)


def _in_a_runner(panel: Piece, runner: Piece) -> GluedJoint:
    on_high, dry = runner.x.start > panel.x.start, Fraction(0)
    return GluedJoint(panel, runner, Axis.X, on_high, dry, runner.x.size, panel.y, Held.GROOVE, slides=Axis.Y)


def nosing_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of nosings with the front edges of their shelves, which are glued before the case is."""
    pairs = ((layout.nosing_before(shelf), shelf) for shelf in layout.of(Role.SHELF))
    return tuple(
        _laid_joint(nosing, shelf, Held.STIFF, nosing.z.start) for nosing, shelf in pairs if nosing is not None
    )


def cleat_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of cleats with the uprights that they are along, each pinned or screwed before the case is closed."""
    return tuple(
        GluedJoint(cleat, on, axis, on_high, cleat.y.size, on.x.size, cleat.z, Held.PINNED)
        for cleat in layout.of(Role.CLEAT)
        for on, axis, on_high in touching(layout.of(*UPRIGHT_ROLES), cleat)
        if axis is Axis.X
    )


def block_joints(layout: CabinetLayout, in_plinth: bool) -> tuple[GluedJoint, ...]:
    """Those of corner blocks in the plinth, or else in the case, with all that they lie against.

    They are glued to a back only where no top is over them, and it is there by then.
    """
    roles = {*CASE_ROLES, *FRAME_ROLES, Role.PLINTH}
    if closing_panel(layout) is None and not back_of(layout.cabinet).waits_for_paint:
        roles.add(Role.BACK)
    return tuple(
        GluedJoint(block, on, axis, on_high, block.x.size, on.along(axis).size, block.along(_LAPS[axis]), Held.RUBBED)
        for block in layout.of(Role.CORNER_BLOCK)
        if in_plinth is (block.z.end <= layout.case.z.start)
        for on, axis, on_high in touching(layout.of(*roles), block)
        if in_plinth is (on.role is Role.PLINTH)
    )


_LAPS: Final = {Axis.X: Axis.Z, Axis.Y: Axis.Z, Axis.Z: Axis.Y}


def frame_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the face frame, made by itself."""
    return tuple(_end_joints(layout, *FRAME_ROLES))


def back_frame_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of a framed back, made by itself: rails with stiles, and panels, which lie dry in the grooves of both."""
    stiles, rails = layout.of(Role.BACK_STILE), layout.of(Role.BACK_RAIL)
    across = [(piece, stile) for piece in (*rails, *layout.of(Role.BACK_PANEL)) for stile in stiles]
    up = [(panel, rail) for panel in layout.of(Role.BACK_PANEL) for rail in rails if rail.z.overlaps(panel.z)]
    return (
        *(_in_back_frame(piece, stile, Axis.X) for piece, stile in across),
        *(_in_back_frame(panel, rail, Axis.Z) for panel, rail in up),
    )


def _in_back_frame(piece: Piece, on: Piece, axis: Axis) -> GluedJoint:
    along = Axis.Z if axis is Axis.X else Axis.X
    on_high, through = on.along(axis).start > piece.along(axis).start, on.along(axis).size
    if piece.role is Role.BACK_RAIL:
        return GluedJoint(piece, on, axis, on_high, piece.z.size, through, piece.z)
    place = piece.along(along)
    return GluedJoint(piece, on, axis, on_high, Fraction(0), through, place, Held.GROOVE, slides=along)


def back_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of a back that is fastened from behind: where it has a rabbet, and with every back edge that it is against.

    One in grooves is against the back edges of shelves too, but it is not fastened.
    """
    if not back_of(layout.cabinet).is_fastened:
        return ()
    rabbeted = [work.board for work in _cut_for_back(layout, WorkKind.RABBET)]
    return tuple(
        _fastened_joint(back, piece)
        for back in layout.of(*_FASTENED_BACK)
        for piece in layout.of(*CASE_ROLES)
        if piece in rabbeted or piece.y.end == back.y.start
        if piece.x.overlaps(back.x) and piece.z.overlaps(back.z)
        # An upright board that were held at an edge as well could not swell from its middle.
        if not (back.role is Role.BACK_BOARD and piece.axis is back.axis)
    )


_FASTENED_BACK: Final = (Role.BACK, Role.BACK_BOARD, Role.BACK_STILE, Role.BACK_RAIL)
"""What of a back is fastened to the case; a frame's panels float in it."""


def front_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the case's front edges with the members of the face frame.

    Clamps reach along the edges of the outermost pieces only.
    """
    return tuple(
        _laid_joint(member, piece, Held.STIFF if piece.role in OUTER_ROLES else Held.BOWED, layout.case.foot)
        for piece in layout.of(*CASE_ROLES)
        if (member := layout.before(piece)) is not None
    )


def plinth_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the plinth's ends with its front and back."""
    pieces = layout.of(Role.PLINTH)
    return tuple(
        GluedJoint(end, rail, Axis.Y, rail.y.start >= end.y.end, length=end.z.size, through=rail.y.size, place=end.x)
        for end in pieces
        for rail in pieces
        if end.axis is Axis.Y and rail.axis is Axis.X
    )


def base_joints(layout: CabinetLayout) -> tuple[GluedJoint, ...]:
    """Those of the plinth with what stands on it: the bottom, or a side over what lies outside it."""
    return tuple(_base_joints(layout, Role.PLINTH))


def toe_joints(layout: CabinetLayout) -> tuple[tuple[GluedJoint, ...], tuple[GluedJoint, ...]]:
    """Those of toe boards with what they stand under, likewise; and those of one that lies on others with these.

    It lies on the heels of the sides' notches, and on the front edges of the boards at ends that are seen.
    """
    laid = tuple(
        GluedJoint(board, on, Axis.Y, True, board.z.size, board.y.size, board.x.shared(on.x), Held.PINNED, runs=Axis.Z)
        for board in layout.of(Role.TOE_BOARD)
        for on in layout.of(Role.SIDE, Role.TOE_BOARD)
        if board.axis is Axis.X and on is not board
        if on.x.overlaps(board.x) and on.z.overlaps(board.z)
    )
    boards = {joint.piece for joint in laid}
    under = (joint for joint in _base_joints(layout, Role.TOE_BOARD) if joint.piece not in boards)
    return tuple(under), laid


def _end_joints(layout: CabinetLayout, *roles: Role) -> Iterator[GluedJoint]:
    """Where pieces end on others: as long as the piece is deep, or a frame's member wide.

    Any part of a case can slide in where others leave no other way, but for what has dowels or the like.
    """
    rows = {(row.piece, row.board, row.on is Surface.LOW): row for row in fastener_rows(layout)}
    for piece in layout.of(*roles):
        for ending, on_high in ((piece.low, False), (piece.high, True)):
            for on in ending.ons:
                through, length, held = on.along(piece.axis).size, piece.across.size, Held.FACES
                if piece.role not in FRAME_ROLES:
                    length = length if piece.on_edge else piece.y.shared(on.y).size
                    held = _at_edges(piece, on)
                row = rows.get((piece, on, on_high))
                held = Held.DRAWN if row and row.fastener.draws else held
                slides = None if piece.role in FRAME_ROLES or (row and not row.fastener.draws) else Axis.Y
                joint = GluedJoint(piece, on, piece.axis, on_high, length, through, piece.across, held, slides, row=row)
                closes = ending.joint.closes if ending.joint else Closes.HOME
                yield _OTHERWISE[closes](joint, layout) if closes in _OTHERWISE else joint


def _laps(layout: CabinetLayout) -> Iterator[GluedJoint]:
    """Where shelves and dividers run through each other: a shelf goes on from the front."""
    for shelf, divider in layout.crossings:
        yield GluedJoint(
            shelf, divider, Axis.Y, True, shelf.y.shared(divider.y).size, divider.x.size, divider.x, Held.SLOT
        )


def _slid(joint: GluedJoint, layout: CabinetLayout) -> GluedJoint:
    from_front = slides_from(layout, joint.piece) is Surface.FRONT
    return replace(joint, axis=Axis.Y, on_high=from_front, held=Held.SOCKET, slides=None)


def _lapped(joint: GluedJoint, _layout: CabinetLayout) -> GluedJoint:
    """Face to face, what ends on the other behind it."""
    return replace(joint, axis=Axis.Y, on_high=False, through=joint.on.y.size, held=Held.LAPPED)


_OTHERWISE: Final[Mapping[Closes, Callable[[GluedJoint, CabinetLayout], GluedJoint]]] = {
    Closes.SLID: _slid,
    Closes.LAPPED: _lapped,
}


def _at_edges(piece: Piece, on: Piece) -> Held:
    """At which edges of what a piece ends on the clamps pass by it."""
    middle = (on.y.start + on.y.end) / 2
    return Held.FRONT if piece.y.end <= middle else Held.REAR if piece.y.start >= middle else Held.EDGES


def _cut_for_back(layout: CabinetLayout, kind: WorkKind) -> Iterator[Work]:
    """What is cut for a back: a groove in sides, top and bottom, or a rabbet in the sides; nothing for one laid on."""
    rule, pieces = back_of(layout.cabinet), layout.of(*CASE_ROLES)
    cuts = (cut for piece in pieces if layout.back for cut in rule.cuts(layout.back, piece))
    return (cut for cut in cuts if cut.kind is kind)


def _grooved_joint(groove: Work) -> GluedJoint:
    """A back is closed with the board across its groove, and slides along it until the last board is on."""
    back, board = groove.other, groove.board
    across = Axis.X if board.axis is Axis.Z else Axis.Z
    # A groove in the low face of a board is one that the back lies below, or left of.
    on_high, run = groove.on is Surface.LOW, back.along(board.axis)
    return GluedJoint(back, board, across, on_high, run.size, board.across.size, run, Held.GROOVE, slides=board.axis)


def _laid_joint(laid: Piece, piece: Piece, held: Held, foot: Fraction = Fraction(0)) -> GluedJoint:
    """Something laid on the front or back edge of a piece, as far as it covers that; of an upright above the ``foot``,
    below which the leg of a frame stands free before a toe space.
    """
    along, covered = piece.along(piece.axis), laid.along(piece.axis)
    low = max(along.start, covered.start, *((foot,) if piece.axis is Axis.Z else ()))
    length = min(along.end, covered.end) - low
    on_high = laid.y.start < piece.y.start
    return GluedJoint(laid, piece, Axis.Y, on_high, length, laid.y.size, piece.across, held, runs=piece.axis)


def _fastened_joint(back: Piece, piece: Piece) -> GluedJoint:
    """A back on the back edge of a piece, or in its rabbet, fastened along the middle of where the two lap."""
    covered = back.x if piece.axis is Axis.Z else back.z
    held = Held.MIDDLE if back.role is Role.BACK_BOARD else Held.PINNED
    return replace(_laid_joint(back, piece, held), place=piece.across.shared(covered))


def _base_joints(layout: CabinetLayout, role: Role) -> Iterator[GluedJoint]:
    """Each piece of a base with the first that stands on it, fastened: no clamp reaches it in a case with a back."""
    standing = (*layout.at_end(End.BOTTOM), *layout.sides)
    for piece in layout.of(role):
        on = next((on for on in standing if on.z.start == piece.z.end and on.x.overlaps(piece.x)), None)
        if on:
            lap = piece.y if piece.axis is Axis.X else piece.x
            length = piece.along(piece.axis).size
            yield GluedJoint(piece, on, Axis.Z, True, length, on.z.size, lap, Held.PINNED, runs=piece.axis)
