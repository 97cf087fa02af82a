"""What is cut into a piece and what its ends and edges carry, in words and as features at their places."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.cutting.gathering import Feature
from storystick.job.cabinet import GrooveBack, RabbetBack, Toe
from storystick.job.joints import Housing, Joint, Rabbet, Tongue
from storystick.layout.cabinets.frame import member_name
from storystick.layout.cabinets.model import FRAME_ROLES, Axis, CabinetLayout, Ending, Piece, Role

Label: TypeAlias = Callable[[Fraction], str]

CASE_ROLES: Final = frozenset({Role.SIDE, Role.TOP, Role.BOTTOM, Role.SHELF, Role.DIVIDER})
_TWO_FACED: Final = frozenset({Role.SHELF, Role.DIVIDER, Role.RAIL, Role.MID_STILE})
_ENDS: Final[Mapping[type, str]] = {Tongue: "tongued", Housing: "housed", Rabbet: "let into a rabbet"}
_END_WORDS: Final = {
    Axis.X: ("left end", "right end"),
    Axis.Y: ("front end", "back end"),
    Axis.Z: ("lower end", "upper end"),
}
_SIDES: Final = {Axis.X: ("under", "upper"), Axis.Y: ("left", "right"), Axis.Z: ("left", "right")}


def notes_of(piece: Piece, layout: CabinetLayout, label: Label) -> tuple[str, ...]:
    """What can be said of a piece without naming another."""
    return (
        *_end_notes(piece, label),
        *_front_notes(piece, layout, label),
        *_back_notes(piece, layout, label),
        *_toe_notes(piece, layout, label),
    )


def features_of(piece: Piece, layout: CabinetLayout) -> tuple[Feature, ...]:
    """What is cut for other pieces that end on it and bored for shelves, in order along it."""
    found = (*_entries(piece, layout), *_borings(piece, layout))
    return tuple(sorted(found, key=lambda feature: (feature.start, feature.work)))


def _end_notes(piece: Piece, label: Label) -> Iterator[str]:
    low, high = (_end_work(ending, piece, label) for ending in (piece.low, piece.high))
    if low and low == high:
        yield f"both ends {low}"
        return
    for where, work in zip(_END_WORDS[piece.axis], (low, high), strict=True):
        if work:
            yield f"{where} {work}"


def _end_work(ending: Ending, piece: Piece, label: Label) -> str:
    if not ending.beyond:
        return ""
    word = "tenoned" if piece.role in FRAME_ROLES else _joint_word(ending.joint)
    return f"{word} {label(ending.beyond)}"


def _joint_word(joint: Joint | None) -> str:
    return _ENDS.get(type(joint), "let in")


def _front_notes(piece: Piece, layout: CabinetLayout, label: Label) -> Iterator[str]:
    cabinet = layout.cabinet
    joint = cabinet.frame.joint if cabinet.frame else None
    if piece.role in FRAME_ROLES and joint and joint.depth:
        yield from _back_groove(piece, joint, layout, label)
    if piece.role not in CASE_ROLES:
        return
    if piece.front_tongue:
        member = layout.piece(member_name(piece))
        yield (
            f"front edge {_joint_word(joint)} {label(piece.front_tongue)}, over {label(member.shoulder_length)} of its "
            "length, where its member of the frame is"
        )
    if cabinet.edging:
        yield edging_note(cabinet.edging, label)


def _back_groove(member: Piece, joint: Joint, layout: CabinetLayout, label: Label) -> Iterator[str]:
    """The groove in the back of a frame's member, from its lower, left or outer edge as seen from the front."""
    (behind,) = (piece for piece in layout.pieces if piece.role in CASE_ROLES and member_name(piece) == member.name)
    groove = joint.groove(behind.stock.thickness)
    if groove:
        near = behind.across.start + groove[0] - member.across.start
        edge = "lower" if member.axis is Axis.X else "left"
        if member.role is Role.STILE:
            near, edge = min(near, member.across.end - behind.across.start - groove[1]), "outer"
        yield (
            f"back grooved {label(groove[1] - groove[0])} wide, {label(joint.depth)} deep, {label(near)} from its "
            f"{edge} edge as seen from the front"
        )


def edging_note(edging: Fraction, label: Label) -> str:
    """That a part gets a solid edge in front."""
    return f"front edge takes edging {label(edging)} thick, not in the width"


def _back_notes(piece: Piece, layout: CabinetLayout, label: Label) -> Iterator[str]:
    """The rabbet or groove for the back, in the pieces that have it."""
    match layout.cabinet.back:
        case RabbetBack(width=width, depth=depth) if piece.role is Role.SIDE:
            yield f"back edge rabbeted {label(width)} wide, {label(depth)} deep"
        case GrooveBack(stock=stock, depth=depth, inset=inset) if piece.role in {Role.SIDE, Role.TOP, Role.BOTTOM}:
            sizes = f"{label(stock.thickness)} wide, {label(depth)} deep"
            yield f"grooved for the back {sizes}, {label(inset)} from the back edge"


def _toe_notes(piece: Piece, layout: CabinetLayout, label: Label) -> Iterator[str]:
    toe = layout.cabinet.base
    if isinstance(toe, Toe) and piece.role is Role.SIDE and piece.z.start < layout.piece("bottom").z.start:
        yield (
            f"notched for the toe space, {label(toe.height)} high and {label(toe.recess)} deep from the front edge of "
            "the case; a board before it is left to the shop"
        )


def _entries(board: Piece, layout: CabinetLayout) -> Iterator[Feature]:
    start = board.low_end
    for piece, ending, high in layout.ends_on(board.name):
        joint, beyond = ending.joint, ending.beyond
        groove = joint.groove(piece.stock.thickness) if joint else None
        if piece.role in FRAME_ROLES and beyond:
            near, far = piece.across.start - start, piece.across.end - start
            yield Feature(_work("mortised", board, high), piece.name, near, far, beyond)
        elif joint and groove:
            near, far = (piece.across.start - start + edge for edge in groove)
            done = "rabbeted" if joint.at_end_only else "grooved"
            yield Feature(_work(done, board, high), piece.name, near, far, joint.depth)


def _borings(board: Piece, layout: CabinetLayout) -> Iterator[Feature]:
    """The holes of adjustable shelves, in both uprights beside their opening."""
    if board.role not in {Role.SIDE, Role.DIVIDER}:
        return
    for bay in layout.bays:
        rule = bay.compartment.adjustable
        if rule is None or bay.z.start >= board.z.end or bay.z.end <= board.z.start:
            continue
        near, far = bay.z.start - board.low_end, bay.z.end - board.low_end
        places = (*(height - board.low_end for height in bay.hole_heights()), rule.front, rule.back)
        for touches, high in ((bay.x.start == board.x.end, True), (bay.x.end == board.x.start, False)):
            if touches:
                yield Feature(_work("bored for shelves", board, high), bay.name, near, far, Fraction(0), places)


def _work(done: str, board: Piece, high: bool) -> str:
    """What is done, with the face it is done on where a piece has it on either."""
    if board.role not in _TWO_FACED:
        return done
    return f"{_SIDES[board.axis][high]} {'edge' if board.role in FRAME_ROLES else 'face'} {done}"
