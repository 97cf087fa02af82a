"""What is worked on a piece, in words: for a row of the cutting list, and work by work."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from storystick.cutting.edged import edged_piece
from storystick.cutting.part import PartWork
from storystick.job.joints import Joint
from storystick.layout.cabinets.back_making import making_notes
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.pieces import FRAME_ROLES, CabinetLayout, Piece, Role
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import (
    CUTS,
    ENDS,
    Surface,
    Work,
    WorkKind,
    corner_of,
    edge_set_by,
    end_words,
    surface_words,
)
from storystick.lengths import Label
from storystick.wording import without_number

_TWO_FACED: Final = frozenset({Role.SHELF, Role.WEB_FRAME, Role.DIVIDER, Role.RAIL, Role.MID_STILE})
_PANELS: Final = frozenset({Role.WEB_PANEL, Role.BACK_PANEL})
_DONE: Final = {
    WorkKind.GROOVE: "grooved",
    WorkKind.RABBET: "rabbeted",
    WorkKind.MORTISE: "mortised",
    WorkKind.SLOT: "slotted",
}


FIXED_FROM_BELOW: Final = "overhang included; fixed from below, in slots where it is of solid wood"
"""Of a countertop: common practice, no source."""


GLUED_BEFORE: Final = "glued to its shelf before the case is closed, with clamps or tape along the edge"
"""Of a nosing: common practice, no source."""

_OF_ROLE: Final[Mapping[Role, str]] = {
    Role.NOSING: GLUED_BEFORE,
    Role.COUNTERTOP: FIXED_FROM_BELOW,
    Role.CLEAT: "its upper edge where the under face of what lies on it comes, glued and screwed there before the case "
    "is closed; what lies on it is screwed from below",
    Role.WALL_CLEAT: "fixed level to the wall, into what carries; it slips between the sides, "
    "and the top is screwed down to it",
    Role.CORNER_BLOCK: "a triangle: two from each such square, sawn corner to corner; the kerf comes off the long edge",
}
"""What is said of every piece of a role: common practice, no source."""


def notes_of(piece: Piece, layout: CabinetLayout, label: Label) -> tuple[str, ...]:
    """What can be said of a piece without naming another."""
    works, gap = works_of(layout, piece), back_of(layout.cabinet).gap
    return (
        *_end_notes(piece, works, label),
        *(_front_note(work, label) for work in works if work.kind is WorkKind.TONGUE and work.on is Surface.FRONT),
        *(_frame_note(work, label) for work in works if _is_in_a_frame(work)),
        *_edge_groove_notes(piece, works, label),
        *(["lies dry in its grooves"] if piece.role in _PANELS else []),
        *_web_notes(piece, layout, label),
        *edged_piece(piece, layout).notes(label),
        *(_back_note(work, label) for work in works if work.along_board and _is_behind(work)),
        *(_EDGE_NOTES[work.kind](work, label) for work in works if work.at_edge and work.kind in _EDGE_NOTES),
        *making_notes(piece, layout, label),
        *(_toe_note(work, bool(layout.of(Role.TOE_BOARD)), label) for work in works if work.kind is WorkKind.NOTCH),
        *([_OF_ROLE[piece.role]] if piece.role in _OF_ROLE else []),
        *([f"stands {label(gap)} short of the bottom of each groove"] if piece.role is Role.BACK and gap else []),
    )


def _is_in_a_frame(work: Work) -> bool:
    """Whether it is the groove in the back of a member of the face frame."""
    return work.kind is WorkKind.GROOVE and work.on is Surface.BACK and work.along_board


ONCE_GLUED: Final = "of the frame, once it is glued up"
"""Before what is done to a web frame as a whole, told on its rails."""


def _edge_groove_notes(piece: Piece, works: Sequence[Work], label: Label) -> Iterator[str]:
    """The grooves in the edges of a member of a frame or a board of a back, both together since they are alike."""
    grooves = [work for work in works if work.kind is WorkKind.EDGE_GROOVE]
    for work in grooves[:1]:
        edges = "both edges" if len(grooves) > 1 else surface_words(piece, work.on)
        yield f"{edges} grooved {label(work.width)} wide, {label(work.depth)} deep, in the middle"


def _web_notes(piece: Piece, layout: CabinetLayout, label: Label) -> Iterator[str]:
    """On the rails of a web frame, what is done to the frame as a whole."""
    if piece.role is Role.WEB_RAIL and piece.part_of:
        whole = works_of(layout, piece.part_of)
        done = (_done(work, label) for work in whole)
        if words := tuple(dict.fromkeys((*_end_notes(piece.part_of, whole, label), *filter(None, done)))):
            yield f"{ONCE_GLUED}: {', '.join(words)}"


def _done(work: Work, label: Label) -> str:
    """What is done for another piece, and where that stops; empty for what does not run across."""
    if work.kind not in _DONE or work.along_board:
        return ""
    if work.kind is WorkKind.SLOT:
        return f"slotted {label(work.across.size)} deep from the {surface_words(work.board, work.on)}"
    words = on_face(work.board, work.on, _DONE[work.kind])
    return f"{words} {label(work.run.start)} to {label(work.run.end)} from the front edge" if work.is_stopped else words


def on_face(piece: Piece, on: Surface, words: str) -> str:
    """What is done, with the face it is done on where a piece may have it on either."""
    return f"{surface_words(piece, on)} {words}" if piece.role in _TWO_FACED else words


def _end_notes(piece: Piece, works: Sequence[Work], label: Label) -> Iterator[str]:
    tongues = [work for work in works if work.kind is WorkKind.TONGUE and work.on in ENDS]
    ends = {tongue.on: ", ".join(_end_words(tongue, works, label)) for tongue in tongues}
    if len(ends) == len(ENDS) and len(set(ends.values())) == 1 and piece.low.joint == piece.high.joint:
        yield f"both ends {ends[Surface.LOW_END]}"
        return
    for on, words in ends.items():
        yield f"{surface_words(piece, on)} {words}"


def _end_words(tongue: Work, works: Sequence[Work], label: Label) -> Iterator[str]:
    """What enters at one end, of a frame's member where in its thickness, and what is cut back of it."""
    yield f"{_enters(tongue)} {label(tongue.depth)}"
    if tongue.thick and tongue.board.role in FRAME_ROLES:
        yield f"{label(tongue.thick.size)} thick, {label(tongue.thick.start)} from the front face"
    for cut in works:
        if cut.kind is WorkKind.CUT_BACK and cut.on is tongue.on:
            yield f"cut back {label(cut.depth)} over {label(cut.across.size)} at its {corner_of(cut)}"


def _enters(tongue: Work) -> str:
    framed = tongue.board.role in FRAME_ROLES and tongue.joint is None
    return "tenoned" if framed else _joint_word(tongue.joint)


def _joint_word(joint: Joint | None) -> str:
    return joint.word if joint else "let in"


def _front_note(tongue: Work, label: Label) -> str:
    words = f"front edge {_joint_word(tongue.joint)} {label(tongue.depth)}{_run(tongue, label)}"
    return f"{words}, shouldered beyond" if tongue.is_stopped else words


def _frame_note(groove: Work, label: Label) -> str:
    """The groove in the back of a frame's member, from its lower, outer or left edge; left is seen from the front."""
    seen = " as seen from the front" if groove.board.role is Role.MID_STILE else ""
    return (
        f"back grooved {label(groove.width)} wide, {label(groove.depth)} deep, {label(groove.inset)} from its "
        f"{edge_set_by(groove.board)}{seen}{_run(groove, label)}"
    )


def _is_behind(work: Work) -> bool:
    """Whether it is cut along a board for the back, or for what stands on edge."""
    return work.kind in CUTS and (work.other.role is Role.BACK or work.other.on_edge)


def _back_note(cut: Work, label: Label) -> str:
    """The rabbet or groove for the back, or for what stands on edge."""
    if cut.kind is WorkKind.RABBET:
        return f"back edge rabbeted {label(cut.width)} wide, {label(cut.depth)} deep{_run(cut, label)}"
    sizes = f"{label(cut.width)} wide, {label(cut.depth)} deep"
    words = f"grooved for the {without_number(cut.other.name)} {sizes}"
    return f"{words}, {label(cut.inset)} from the back edge{_run(cut, label)}"


def _edge_tongue_note(work: Work, label: Label) -> str:
    edge, thick = surface_words(work.board, work.on), label(work.board.stock.thickness - sum(work.shoulders))
    if 0 in work.shoulders:
        return f"{edge} lapped {label(work.depth)}, {thick} left at the back"
    return f"{edge} tongued {label(work.depth)}, {thick} thick in the middle"


def _edge_rabbet_note(work: Work, label: Label) -> str:
    sizes = f"{label(work.width)} wide, {label(work.depth)} deep"
    return f"{surface_words(work.board, work.on)} rabbeted {sizes} from the back"


_EDGE_NOTES: Final[Mapping[WorkKind, Callable[[Work, Label], str]]] = {
    WorkKind.TONGUE: _edge_tongue_note,
    WorkKind.RABBET: _edge_rabbet_note,
}
"""What is said of what is cut along the edges of a back's boards, left and right as seen from the front."""


def _run(work: Work, label: Label) -> str:
    """From where to where a work runs along its board, where that is not the whole of it."""
    if work.is_whole:
        return ""
    return f", {label(work.run.start)} to {label(work.run.end)} from its {end_words(work.board)[0]}"


def _toe_note(notch: Work, has_board: bool, label: Label) -> str:
    recess = notch.across.end - notch.board.front_tongue
    left_out = "" if has_board else "; a board before it is left to the shop"
    return (
        f"notched for the toe space, {label(notch.along.end)} high and {label(recess)} deep from the front edge of "
        f"the case{left_out}"
    )


def part_works(piece: Piece, layout: CabinetLayout, label: Label) -> tuple[PartWork, ...]:
    """All works of a piece of the case or the frame, in order along it, and its holes after them."""
    found = (_told(work, label) for work in works_of(layout, piece) if work.kind is not WorkKind.LINE)
    return (*sorted(found, key=lambda work: (work.start, work.kind, work.on)), *_holes(piece, layout))


def _told(work: Work, label: Label) -> PartWork:
    shoulders = work.shoulders
    return PartWork(
        kind=work.kind.value,
        on=surface_words(work.board, work.on),
        name=work.other.name,
        start=work.edges.start,
        end=work.edges.end,
        low=work.run.start,
        high=work.run.end,
        depth=work.depth,
        stops=work.is_stopped,
        along=work.along_board,
        # From the outside, so that a left and a right side are listed as one part.
        shoulders=(shoulders[1], shoulders[0]) if work.board.is_right else shoulders,
        done=_done(work, label),
    )


def _holes(piece: Piece, layout: CabinetLayout) -> Iterator[PartWork]:
    for row in holes_of(layout, piece):
        if row.places:
            yield PartWork(
                kind="holes",
                on=surface_words(piece, row.on),
                name=row.bay.name,
                start=row.across,
                end=row.across,
                low=row.places[0],
                high=row.places[-1],
                along=True,
                places=row.places,
                done=on_face(piece, row.on, "bored for shelves"),
            )
