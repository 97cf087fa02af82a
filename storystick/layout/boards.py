"""From a job's board templates to their layouts: boards drawn free, and faces of its cabinets' boards by name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from storystick.errors import Fault, FaultCollector, placed_in
from storystick.job.boards import Board, CabinetBoard, FreeBoard
from storystick.job.other_words import unknown
from storystick.layout.board import BoardLayout, Cut, CutKind, CutOut, Hole
from storystick.layout.cabinets.boards import BoardFace, board_faces, lay_out_face
from storystick.layout.cabinets.pieces import CabinetLayout, Range
from storystick.outline import Place


def lay_out_boards(
    boards: Iterable[Board], cabinets: Sequence[CabinetLayout], collector: FaultCollector
) -> tuple[BoardLayout, ...]:
    """Every board template of a job; those that name no board of its cabinets are kept as faults."""
    found = []
    for board in boards:
        with collector.at(board.place):
            found.append(_lay_out(board, cabinets))
    return tuple(found)


def board_called(name: str, cabinets: Sequence[CabinetLayout]) -> BoardLayout:
    """The face of a cabinet's board by its full name, such as "Chest left side" or "Chest divider 1, left face".

    Raises:
        Fault: there is none of that name.
    """
    return lay_out_face(_find_named(name, cabinets))


def _lay_out(board: Board, cabinets: Sequence[CabinetLayout]) -> BoardLayout:
    if isinstance(board, FreeBoard):
        return _lay_out_free(board)
    face = _find(board, cabinets)
    return lay_out_face(face, face.name if board.name == board.board else board.name)


def _find(board: CabinetBoard, cabinets: Sequence[CabinetLayout]) -> BoardFace:
    """By the board's name, with a face where that has two."""
    faces = [face for face in board_faces(cabinets) if face.board == board.board]
    if not faces:
        with placed_in("board"):
            return _with_face(_find_named(board.board, cabinets), board)
    chosen = [face for face in faces if face.face is board.face]
    if not chosen:
        raise _wrong_face(board, faces)
    return chosen[0]


def _with_face(face: BoardFace, board: CabinetBoard) -> BoardFace:
    """One that is named with its face already."""
    if board.face not in {None, face.face}:
        raise Fault(f'"{board.board}" and its face do not agree', "leave face out")
    return face


def _wrong_face(board: CabinetBoard, faces: Sequence[BoardFace]) -> Fault:
    words = " or ".join(f'face = "{face.face.value}"' for face in faces if face.face)
    if not words:
        return Fault(f'"{board.board}" is worked on its inside face only', "leave face out", "face")
    given = f'face = "{board.face.value}"' if board.face else "no face"
    return Fault(f'"{board.board}" has two faces, and {given} is neither', f"give {words}", "face")


def _find_named(name: str, cabinets: Sequence[CabinetLayout]) -> BoardFace:
    by_name = {face.name: face for face in board_faces(cabinets)}
    if name not in by_name:
        cure = "" if cabinets else "add the cabinet that it belongs to, or give width and height to draw it free"
        raise unknown(name, "a board of the job's cabinets", by_name, cure)
    return by_name[name]


def _lay_out_free(board: FreeBoard) -> BoardLayout:
    return BoardLayout(
        board.name,
        board.width,
        board.height,
        board.outline,
        cuts=(
            *(_cut(CutKind.RABBET, rabbet.name, rabbet.corners(board.width, board.height)) for rabbet in board.rabbets),
            *(_cut(CutKind.GROOVE, groove.name, groove.corners) for groove in board.grooves),
        ),
        holes=tuple(Hole(hole.row, hole.at, hole.diameter) for hole in board.holes),
        cut_outs=tuple(CutOut(circle.name, circle.centre, circle.diameter) for circle in board.circles),
    )


def _cut(kind: CutKind, name: str, corners: tuple[Place, Place]) -> Cut:
    low, high = corners
    return Cut(kind, name, Range(low.x, high.x), Range(low.y, high.y))
