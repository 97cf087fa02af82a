"""The faces of a cabinet's boards: what others cut into each, its own tongues, and its holes for shelves.

A face is drawn as it is looked at, an upright board upright. So an inside face that looks to the right (of the left
side) has the front at its left, one that looks to the left has it at its right; a face that looks up has the front
below, one that looks down above. The right of who looks along a direction d with u upward is the product d x u.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, TypeAlias

from storystick.job.board import Face
from storystick.job.cabinet import GrooveBack, RabbetBack, Toe
from storystick.job.joints import Joint
from storystick.job.outline import Outline, Place, polygon, rectangle
from storystick.layout.board import FRONT, BoardLayout, Cut, CutKind, EdgeWords, FineLine, Hole
from storystick.layout.cabinets.frame import member_name
from storystick.layout.cabinets.model import Axis, Bay, CabinetLayout, Ending, Piece, Range, Role

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
_INSIDE: Final = {"left side": True, "right side": False, "bottom": True, "top": False}
"""The boards of which only the inside is worked on, and whether that is the high face."""


_Edges: TypeAlias = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class BoardFace:
    """One face of a board of a cabinet: its high one (right or upper) or its low one."""

    layout: CabinetLayout
    piece: Piece
    high: bool

    @property
    def board(self) -> str:
        """The cabinet's name and the part's."""
        return f"{self.layout.cabinet.name} {self.piece.name}"

    @property
    def face(self) -> Face | None:
        """Its name, None for a board of which only the inside is worked on."""
        if self.piece.name in _INSIDE:
            return None
        return next(face for face, high in _FACES[self.piece.axis].items() if high is self.high)

    @property
    def name(self) -> str:
        """As its stick is called: the board, and its face where it has two."""
        return f"{self.board}, {self.face.value} face" if self.face else self.board


def board_faces(layouts: Sequence[CabinetLayout]) -> Iterator[BoardFace]:
    """Every face that a template can be had of: sides, top and bottom inside, dividers and shelves on both faces."""
    for layout in layouts:
        for piece in layout.of(Role.SIDE, Role.BOTTOM, Role.TOP, Role.DIVIDER, Role.SHELF):
            for high in (False, True):
                if _INSIDE.get(piece.name, high) is high:
                    yield BoardFace(layout, piece, high)


def lay_out_face(face: BoardFace, name: str = "") -> BoardLayout:
    """Everything on a face, under ``name`` or its own."""
    piece, layout, sheet = face.piece, face.layout, _Sheet(face.piece, face.high)
    width, height = sheet.box
    words = "inside face" if face.face is None else f"{face.face.value} face"
    return BoardLayout(
        name or face.name,
        width,
        height,
        _outline(sheet, layout),
        words,
        _EDGES[piece.axis, face.high],
        cuts=(*_back_cut(sheet, layout), *_grooves(sheet, layout)),
        lines=(*_butted(sheet, layout), *_shoulders(sheet), *_front_shoulder(sheet, layout)),
        holes=tuple(_holes(sheet, layout)),
    )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """From a cabinet's stations to those on the face of a board: along it, and into the depth of the cabinet."""

    piece: Piece
    high: bool

    @property
    def ends(self) -> Range:
        """Along the board, tongues and all."""
        return Range(self.piece.low_end, self.piece.low_end + self.piece.length)

    @property
    def depth(self) -> Range:
        """From its front edge, tongue and all, to its back edge."""
        return Range(self.piece.y.start - self.piece.front_tongue, self.piece.y.end)

    @property
    def upright(self) -> bool:
        return self.piece.axis is Axis.Z

    @property
    def box(self) -> tuple[Fraction, Fraction]:
        """The width and the height of the face as it is drawn."""
        return (self.depth.size, self.ends.size) if self.upright else (self.ends.size, self.depth.size)

    def place(self, along: Fraction, into: Fraction) -> Place:
        length = along - self.ends.start
        depth = into - self.depth.start if self.high else self.depth.end - into
        return Place(depth, length) if self.upright else Place(length, depth)

    def ranges(self, along: Range, into: Range) -> tuple[Range, Range]:
        """The stretches to the right and up of what lies there on the board."""
        one = self.place(max(along.start, self.ends.start), max(into.start, self.depth.start))
        other = self.place(min(along.end, self.ends.end), min(into.end, self.depth.end))
        return Range(*sorted((one.x, other.x))), Range(*sorted((one.y, other.y)))

    def line(self, name: str, along: Fraction, into: Range) -> FineLine:
        """A line across the board."""
        return FineLine(name, self.place(along, into.start), self.place(along, into.end))


def _outline(sheet: _Sheet, layout: CabinetLayout) -> Outline:
    """A rectangle, less the toe notch at the front of a side that runs to the floor."""
    width, height = sheet.box
    toe, piece = layout.cabinet.base, sheet.piece
    if not isinstance(toe, Toe) or piece.role is not Role.SIDE or piece.z.start >= layout.piece("bottom").z.start:
        return rectangle(width, height)
    notch = piece.front_tongue + toe.recess
    if not notch:
        return rectangle(width, height)
    zero, up = Fraction(0), toe.height
    corners = [(notch, zero), (width, zero), (width, height), (zero, height), (zero, up), (notch, up)]
    return polygon(Place(x if sheet.high else width - x, y) for x, y in corners)


def _depth_of(piece: Piece) -> Range:
    """What a part takes of the depth, with its tongue in front."""
    return Range(piece.y.start - piece.front_tongue, piece.y.end)


def _ended_on(sheet: _Sheet, layout: CabinetLayout) -> Iterator[tuple[Piece, _Edges | None, Joint | None]]:
    """Every part that ends on the face, with the edges of its groove in the part's thickness, and its joint."""
    for piece, ending, on_high in layout.ends_on(sheet.piece.name):
        if on_high is sheet.high:
            yield piece, _groove(ending, piece), ending.joint


def _groove(ending: Ending, piece: Piece) -> _Edges | None:
    return ending.joint.groove(piece.stock.thickness) if ending.joint else None


def _grooves(sheet: _Sheet, layout: CabinetLayout) -> Iterator[Cut]:
    """What is cut for the parts that end on the face, as deep into the cabinet as each part is."""
    for piece, groove, joint in _ended_on(sheet, layout):
        if groove and joint:
            start = piece.across.start
            x, y = sheet.ranges(Range(start + groove[0], start + groove[1]), _depth_of(piece))
            yield Cut(CutKind.RABBET if joint.at_end_only else CutKind.GROOVE, piece.name, x, y)


def _butted(sheet: _Sheet, layout: CabinetLayout) -> Iterator[FineLine]:
    """Both edges of what ends on the face and is not let in, but for those that are the board's own ends."""
    for piece, groove, _ in _ended_on(sheet, layout):
        edges = (piece.across.start, piece.across.end) if groove is None else ()
        for edge in edges:
            if sheet.ends.start < edge < sheet.ends.end:
                yield sheet.line(piece.name, edge, _depth_of(piece))


def _back_cut(sheet: _Sheet, layout: CabinetLayout) -> Iterator[Cut]:
    """The rabbet or groove for the back, as long as the back is."""
    rule, piece = layout.cabinet.back, sheet.piece
    for back in layout.of(Role.BACK):
        if isinstance(rule, RabbetBack) and piece.role is Role.SIDE:
            into = Range(piece.y.end - rule.width, piece.y.end)
            yield Cut(CutKind.RABBET, "back", *sheet.ranges(back.z, into))
        elif isinstance(rule, GrooveBack) and piece.role in {Role.SIDE, Role.TOP, Role.BOTTOM}:
            yield Cut(CutKind.GROOVE, "back", *sheet.ranges(back.z if sheet.upright else back.x, back.y))


def _shoulders(sheet: _Sheet) -> Iterator[FineLine]:
    """Where the board's own ends enter what they end on."""
    piece = sheet.piece
    along = piece.along(piece.axis)
    for ending, station in ((piece.low, along.start), (piece.high, along.end)):
        if ending.beyond:
            word = _shoulder_word(ending.joint, piece, sheet.high)
            yield sheet.line(f"{word} {ending.on}", station, sheet.depth)


def _shoulder_word(joint: Joint | None, piece: Piece, high: bool) -> str:
    """Whether the face is cut back to a shoulder there, or goes in as it is, up to the other's face."""
    groove = joint.groove(piece.stock.thickness) if joint else None
    if groove and (groove[1] < piece.stock.thickness if high else groove[0] > 0):
        return "shoulder at"
    return "enters up to here:"


def _front_shoulder(sheet: _Sheet, layout: CabinetLayout) -> Iterator[FineLine]:
    """Where the front edge enters the face frame: along the member that lies before it."""
    piece, frame = sheet.piece, layout.cabinet.frame
    if not piece.front_tongue or frame is None:
        return
    member = layout.piece(member_name(piece)).along(piece.axis)
    word = _shoulder_word(frame.joint, piece, sheet.high)
    ends = (max(member.start, sheet.ends.start), min(member.end, sheet.ends.end))
    start, end = (sheet.place(along, piece.y.start) for along in ends)
    yield FineLine(f"{word} face frame", start, end)


def _beside(bay: Bay, piece: Piece, high: bool) -> bool:
    """Whether the face of an upright is a side of the opening, over part of its height."""
    if piece.axis is not Axis.Z or bay.z.start >= piece.z.end or bay.z.end <= piece.z.start:
        return False
    return bay.x.start == piece.x.end if high else bay.x.end == piece.x.start


def _holes(sheet: _Sheet, layout: CabinetLayout) -> Iterator[Hole]:
    """Those for the adjustable shelves of every opening that the face is a side of."""
    for bay in layout.bays:
        if _beside(bay, sheet.piece, sheet.high):
            yield from _pins(bay, sheet, layout)


def _pins(bay: Bay, sheet: _Sheet, layout: CabinetLayout) -> Iterator[Hole]:
    """Both rows of holes for an opening's adjustable shelves."""
    rule = bay.compartment.adjustable
    if rule is None:
        return
    rows = (("front", layout.case_y.start + rule.front), ("back", layout.case_y.end - rule.back))
    for row, into in rows:
        for height in bay.hole_heights():
            yield Hole(f"{bay.name}, {row} row", sheet.place(height, into))
