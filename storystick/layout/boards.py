"""From a job's board templates to their layouts: boards drawn free, and the faces of its cabinets' boards."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, FaultCollector, placed_in
from storystick.job.boards import Board, CabinetBoard, Face, FreeBoard
from storystick.job.fasteners import Tool
from storystick.job.other_words import unknown
from storystick.layout.board import FRONT, BoardLayout, Cut, CutKind, CutOut, EdgeWords, FineLine, Hole
from storystick.layout.cabinets.fastening import rows_at_ends, rows_on
from storystick.layout.cabinets.pieces import CASE_ROLES, OUTER_ROLES, Axis, CabinetLayout, Piece, Range
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import ENDS, Surface, Work, WorkKind, inside_of, width_of
from storystick.outline import Outline, Place, polygon, rectangle


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


_FACES: Final[Mapping[Axis, Mapping[Face, bool]]] = {
    Axis.Z: {Face.LEFT: False, Face.RIGHT: True},
    Axis.X: {Face.LOWER: False, Face.UPPER: True},
}
"""The faces by the axis of a board's length: whether each is the high one, at the right or above."""

_EDGES: Final = {
    (Axis.Z, True): EdgeWords(FRONT, "BACK", "BOTTOM", "TOP"),
    (Axis.Z, False): EdgeWords("BACK", FRONT, "BOTTOM", "TOP"),
    (Axis.X, True): EdgeWords("LEFT", "RIGHT", FRONT, "BACK"),
    (Axis.X, False): EdgeWords("LEFT", "RIGHT", "BACK", FRONT),
}
_CUT_KINDS: Final = {WorkKind.GROOVE: CutKind.GROOVE, WorkKind.RABBET: CutKind.RABBET, WorkKind.SLOT: CutKind.SLOT}


@dataclass(frozen=True, slots=True)
class BoardFace:
    """One face of a board of a cabinet: its high one (right or upper) or its low one."""

    layout: CabinetLayout
    piece: Piece
    high: bool

    @property
    def board(self) -> str:
        """The cabinet's name and the part's."""
        return self.piece.full_name

    @property
    def face(self) -> Face | None:
        """Its name, None for a board of which only the inside is worked on."""
        if self.piece.role in OUTER_ROLES:
            return None
        return next(face for face, high in _FACES[self.piece.axis].items() if high is self.high)

    @property
    def name(self) -> str:
        """As its stick is called: the board, and its face where it has two."""
        return f"{self.board}, {self.face.value} face" if self.face else self.board


def board_faces(layouts: Sequence[CabinetLayout]) -> Iterator[BoardFace]:
    """Every face that a template can be had of: sides, top and bottom inside, dividers and shelves on both faces."""
    for layout in layouts:
        for piece in (each for each in layout.of(*CASE_ROLES) if not each.on_edge):
            both = (Surface.LOW, Surface.HIGH)
            for surface in (inside_of(piece),) if piece.role in OUTER_ROLES else both:
                yield BoardFace(layout, piece, surface is Surface.HIGH)


def lay_out_face(face: BoardFace, name: str = "") -> BoardLayout:
    """Everything on a face, under ``name`` or its own: the works of its board, turned as the face is looked at."""
    piece, sheet = face.piece, _Sheet(face.piece, face.high)
    width, height = sheet.box
    surface = Surface.HIGH if face.high else Surface.LOW
    works = works_of(face.layout, piece)
    on_face = [work for work in works if work.on is surface or work.kind is WorkKind.SLOT]
    tongues = [work for work in works if work.kind is WorkKind.TONGUE]
    rows = [row for row in holes_of(face.layout, piece) if row.on is surface]
    words = "inside face" if face.face is None else f"{face.face.value} face"
    return BoardLayout(
        name or face.name,
        width,
        height,
        _outline(sheet, works),
        words,
        _EDGES[piece.axis, face.high],
        cuts=tuple(sheet.cut(work) for work in on_face if work.kind in _CUT_KINDS),
        lines=(
            *_butted(sheet, on_face),
            *_mouths(sheet, on_face),
            *(_shoulder(sheet, tongue) for tongue in tongues),
            *_pockets(face.layout, sheet, surface),
        ),
        holes=(
            *(
                Hole(f"{row.bay.name}, {row.name} row", sheet.place(along, row.across))
                for row in rows
                for along in row.places
            ),
            *_centres(face.layout, sheet, surface),
        ),
    )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """From places on a board, along it and across it from its front edge, to those on a face as it is looked at."""

    piece: Piece
    high: bool

    @property
    def upright(self) -> bool:
        return self.piece.axis is Axis.Z

    @property
    def box(self) -> tuple[Fraction, Fraction]:
        """The width and the height of the face as it is drawn."""
        sizes = width_of(self.piece), self.piece.length
        return sizes if self.upright else (sizes[1], sizes[0])

    def place(self, along: Fraction, across: Fraction) -> Place:
        depth = across if self.high else width_of(self.piece) - across
        return Place(depth, along) if self.upright else Place(along, depth)

    def cut(self, work: Work) -> Cut:
        one = self.place(work.along.start, work.across.start)
        other = self.place(work.along.end, work.across.end)
        x, y = Range(*sorted((one.x, other.x))), Range(*sorted((one.y, other.y)))
        name = f"slot for {work.other.name}" if work.kind is WorkKind.SLOT else work.other.name
        return Cut(_CUT_KINDS[work.kind], name, x, y)

    def line(self, name: str, along: Fraction, across: Range) -> FineLine:
        """A line across the board."""
        return FineLine(name, self.place(along, across.start), self.place(along, across.end))


_CORNERS: Final = {WorkKind.NOTCH, WorkKind.CUT_BACK}


def _outline(sheet: _Sheet, works: Sequence[Work]) -> Outline:
    """A rectangle, less what its front corners lose: the toe notch of a side that runs to the floor, or an end that is
    cut back where its groove stops."""
    long, wide, zero = sheet.piece.length, width_of(sheet.piece), Fraction(0)
    lost = [work for work in works if work.kind in _CORNERS and work.across.start == 0]
    if not lost:
        return rectangle(*sheet.box)
    low = next((work for work in lost if work.along.start == 0), None)
    high = next((work for work in lost if work.along.end == long), None)
    corners = [(zero, low.across.end if low else zero), (zero, wide), (long, wide)]
    if high:
        corners += [(long, high.across.end), (high.along.start, high.across.end)]
    corners.append((high.along.start if high else long, zero))
    corners += [(low.along.end, zero), (low.along.end, low.across.end)] if low else []
    return polygon(sheet.place(along, across) for along, across in corners)


def _butted(sheet: _Sheet, works: Sequence[Work]) -> Iterator[FineLine]:
    """Both edges of what ends on the face and is not let in, but for those that are the board's own ends."""
    for work in works:
        edges = (work.along.start, work.along.end) if work.kind is WorkKind.LINE else ()
        for edge in edges:
            if 0 < edge < sheet.piece.length:
                yield sheet.line(work.other.name, edge, work.across)
        for edge in (work.across.start, work.across.end) if work.kind is WorkKind.LINE and work.along_board else ():
            if 0 < edge < width_of(sheet.piece):
                yield FineLine(
                    work.other.name, *(sheet.place(along, edge) for along in (work.along.start, work.along.end))
                )


def _centres(layout: CabinetLayout, sheet: _Sheet, surface: Surface) -> Iterator[Hole]:
    """The centres of fasteners in the face; a slot is left to its machine."""
    for row in rows_on(layout, sheet.piece):
        if row.on is surface and (bore := row.bored):
            name, diameter = f"{row.fastener.word}, {row.piece.name}", bore.across if bore.is_round else None
            yield from (
                Hole(name, sheet.place(along, across), diameter) for along in row.along for across in row.across
            )


def _pockets(layout: CabinetLayout, sheet: _Sheet, surface: Surface) -> Iterator[FineLine]:
    """A line at each pocket, from the end of the part: what a jig is centred on."""
    for row in rows_at_ends(layout, sheet.piece):
        if row.pocket_face is surface and row.fastener.tool is Tool.POCKET_JIG:
            length, long = sheet.piece.length, min(2 * sheet.piece.stock.thickness, sheet.piece.length / 3)
            ends = (Fraction(0), long) if row.end is Surface.LOW_END else (length - long, length)
            for across in row.across_end:
                start, end = (sheet.place(along, across) for along in ends)
                yield FineLine("pocket", start, end)


def _mouths(sheet: _Sheet, works: Sequence[Work]) -> Iterator[FineLine]:
    """Both edges at the face of a socket that is wider at its bottom, as which its cut is drawn."""
    for work in works:
        if work.kind in _CUT_KINDS and work.joint and work.joint.lean:
            for edge in (work.along.start + work.joint.lean, work.along.end - work.joint.lean):
                yield sheet.line(f"mouth of {work.other.name}", edge, work.across)


def _shoulder(sheet: _Sheet, tongue: Work) -> FineLine:
    """Where the board's own end or front edge is cut back, or goes in as it is up to the other's face."""
    low, high = tongue.shoulders
    word = "shoulder at" if (high if sheet.high else low) else "enters up to here:"
    if tongue.on in ENDS:
        station = tongue.along.end if tongue.on is Surface.LOW_END else tongue.along.start
        return sheet.line(f"{word} {tongue.other.name}", station, tongue.across)
    start, end = (sheet.place(along, tongue.depth) for along in (tongue.along.start, tongue.along.end))
    return FineLine(f"{word} face frame", start, end)
