"""A cabinet as solid bodies: every piece a block with its tongues, worked out apart from what the tool says of works.

Where a body stands in the block of another, that much has to be cut out of it. Boxes are in the cabinet: x from the
left, y into the depth, z up.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from storystick.job.case_joints import Housing, Rabbet, RabbetedHousing, Tongue
from storystick.job.dovetails import SlidingDovetail
from storystick.job.joints import Joint
from storystick.layout.cabinets.pieces import FRAME_ROLES, Axis, CabinetLayout, Piece, Range, Role

Reach = tuple[Fraction, Fraction]


class Box(NamedTuple):
    """A block, by where it reaches in each direction."""

    x: Reach
    y: Reach
    z: Reach

    def common(self, other: Box) -> Box | None:
        """What two blocks share."""
        reaches = [(max(a[0], b[0]), min(a[1], b[1])) for a, b in zip(self, other, strict=True)]
        return Box(*reaches) if all(low < high for low, high in reaches) else None

    def along(self, axis: Axis) -> Reach:
        return {Axis.X: self.x, Axis.Y: self.y, Axis.Z: self.z}[axis]


def block(piece: Piece) -> Box:
    """A piece from shoulder to shoulder."""
    return Box(*((found.start, found.end) for found in (piece.x, piece.y, piece.z)))


def end_tongues(piece: Piece) -> Iterator[tuple[Box, Joint]]:
    """What goes into others at both ends."""
    start, end = block(piece).along(piece.axis)
    for ending, low in ((piece.low, True), (piece.high, False)):
        joint, length = ending.joint, entry(ending.joint)
        if joint and ending.on and length:
            reach = (start - length, start) if low else (end, end + length)
            # A groove that stops counts from the finished front edge of its board, edging and all.
            stops = ending.on.y.start - piece.cabinet.edging_of_sides[0] + getattr(joint, "stop", Fraction(0))
            depth = (max(piece.y.start, stops), piece.y.end)
            yield turned(piece, reach, depth, thick(piece, joint)), joint


def front_tongues(piece: Piece, layout: CabinetLayout) -> Iterator[tuple[Piece, Box]]:
    """What goes into each member of the frame that lies before the piece and along it."""
    joint = layout.cabinet.frame.joint if layout.cabinet.frame else None
    length = entry(joint)
    for member in layout.pieces if joint and length else ():
        if member.role in FRAME_ROLES and member.axis is piece.axis and joint:
            low, high = thick(piece, joint)
            across = block(member).x if piece.axis is Axis.Z else block(member).z
            start, end = whole(piece)
            reach = (max(start, block(member).along(piece.axis)[0]), min(end, block(member).along(piece.axis)[1]))
            if across[0] <= low and high <= across[1] and reach[0] < reach[1]:
                yield member, turned(piece, reach, (piece.y.start - length, piece.y.start), (low, high))


def whole(piece: Piece) -> Reach:
    """Along a piece, tongues and all."""
    start, end = block(piece).along(piece.axis)
    return start - entry(piece.low.joint), end + entry(piece.high.joint)


def entry(joint: Joint | None) -> Fraction:
    match joint:
        case (
            Tongue(depth=depth, bottom_gap=gap)
            | Housing(depth=depth, bottom_gap=gap)
            | RabbetedHousing(depth=depth, bottom_gap=gap)
            | SlidingDovetail(depth=depth, bottom_gap=gap)
        ):
            return depth - gap
        case Rabbet(depth=depth):
            return depth
    return Fraction(0)


def thick(piece: Piece, joint: Joint) -> Reach:
    """What of a piece's thickness goes in; off-centre tongues of sides count from the outside of the case."""
    low, high = block(piece).x if piece.axis is Axis.Z else block(piece).z
    whole = high - low
    match joint:
        case Tongue(width=wide, fit=fit, set=at):
            near, width = ((whole - wide) / 2 if at is None else at) + fit / 2, wide - fit
        case RabbetedHousing(width=wide, fit=fit, shoulder_high=on_high):
            near, width = (Fraction(0) if on_high else whole - wide + fit), wide - fit
        case SlidingDovetail(width=wide):
            # At its end and without a gap, where it is as wide as its socket.
            near, width = (whole - wide) / 2, wide
        case _:
            return low, high
    if piece.role is Role.SIDE and piece.name == "right side":
        return high - near - width, high - near
    return low + near, low + near + width


def with_play(entering: Reach, joint: Joint, board: Reach) -> Reach:
    """The groove around what enters: half of the joint's fit wider at either side, but never beyond the board."""
    return max(entering[0] - joint.fit / 2, board[0]), min(entering[1] + joint.fit / 2, board[1])


def turned(piece: Piece, along: Reach, depth: Reach, across: Reach) -> Box:
    return Box(across, depth, along) if piece.axis is Axis.Z else Box(along, depth, across)


class Cut(NamedTuple):
    """What has to be cut out of a board for another piece: along it from its end, and from how far to how far behind
    its front edge; ``front`` is 0 where it may be cut right through to that."""

    name: str
    high: bool
    along: Reach
    front: Fraction
    back: Fraction
    depth: Fraction


def cuts_in(board: Piece, layout: CabinetLayout) -> Iterator[Cut]:
    """For every tongue that stands in the board's block."""
    for piece in layout.pieces:
        if piece.role in FRAME_ROLES or piece.name == board.name:
            continue
        for tongue, joint in end_tongues(piece):
            shared = block(board).common(tongue)
            if shared:
                yield _cut(piece.name, board, shared, joint, layout)


def back_cut(board: Piece, layout: CabinetLayout) -> Box | None:
    """What of the back stands in the board's block."""
    backs = [piece for piece in layout.pieces if piece.role is Role.BACK]
    return block(board).common(block(backs[0])) if backs else None


def front_of(board: Piece, layout: CabinetLayout) -> Fraction:
    frame = layout.cabinet.frame
    return board.y.start - entry(frame.joint if frame else None)


def _cut(name: str, board: Piece, shared: Box, joint: Joint, layout: CabinetLayout) -> Cut:
    start, gap = whole(board)[0], getattr(joint, "bottom_gap", Fraction(0))
    low, high = with_play(shared.along(board.axis), joint, whole(board))
    into = shared.x if board.axis is Axis.Z else shared.z
    faces = block(board).x if board.axis is Axis.Z else block(board).z
    on_high = into[1] == faces[1]
    edge = front_of(board, layout)
    # What lets in a part behind an overhang would be seen, if it were cut right through to the front.
    stops = getattr(joint, "stop", Fraction(0)) or board.y.start < layout.case.y.start
    front = shared.y[0] - edge if stops else Fraction(0)
    return Cut(name, on_high, (low - start, high - start), front, shared.y[1] - edge, into[1] - into[0] + gap)


def reach_of(found: Range) -> Reach:
    return found.start, found.end
