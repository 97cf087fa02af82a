"""The sticks that follow from a cabinet: one for every face that other pieces end on, and one for the depth.

Which there are is said here; ``face_sticks.py`` and ``depth_sticks.py`` lay out each.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from storystick.job.openings import Part
from storystick.job.sticks import Datum, Hand, Stick
from storystick.layout.cabinets.depth_sticks import depth_sticks
from storystick.layout.cabinets.face_sticks import face_stick, paired, struck_face
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Piece, Range, Role
from storystick.layout.stations import (
    Face,
    PlacedPart,
    Point,
    PointKind,
    Span,
    SpanKind,
    StickLayout,
    end_to_end,
    numbered,
)

_INNER_EDGE = "INNER EDGE ▼"
_BACK_EDGE = "FRONT OF BOARDS ▼"


def cabinet_sticks(layout: CabinetLayout, first_number: int = 1) -> tuple[StickLayout, ...]:
    """All sticks of a cabinet, numbered from ``first_number``."""
    sticks = [
        *_sides(layout),
        *_dividers(layout),
        *_levels(layout),
        *_web_rails(layout),
        *depth_sticks(layout),
        *_frame(layout),
        *_boards(layout),
    ]
    return tuple(numbered(sticks, first_number))


def _sides(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Heights, as a pair where both sides are struck alike, else each for itself."""
    left, right = (
        face_stick(layout, side, high, side.name, laid)
        for side, high, laid in zip(layout.sides, (True, False), Hand, strict=True)
    )
    yield from paired(layout, left, right, "side")


def _dividers(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Both faces of every divider. Its left face is struck as a right side's is, and its right face as a left one's."""
    for divider in layout.of(Role.DIVIDER):
        yield face_stick(layout, divider, False, f"{divider.name}, left face", Hand.RIGHT)
        yield face_stick(layout, divider, True, f"{divider.name}, right face", Hand.LEFT)


def _levels(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Widths of what runs from side to side, for each face that dividers end on; a lower face is seen from below."""
    for piece in layout.of(Role.BOTTOM, Role.STRETCHER, Role.SHELF, Role.WEB_FRAME, Role.TOP):
        if piece.role in (Role.SHELF, Role.WEB_FRAME) and (piece.low.on, piece.high.on) != layout.sides:
            continue
        struck = {high for other, _, high in layout.ends_on(piece) if other.role is Role.DIVIDER}
        # What it is slotted for stands alike on both its faces: one of them serves.
        struck = struck or {True for shelf, _ in layout.crossings if shelf is piece}
        # Where no divider ends on it, it still gets a stick, of the face that looks into the case.
        inside = piece.role is not Role.TOP
        usual = set() if piece.role in (Role.STRETCHER, Role.WEB_FRAME) else {inside}
        for high in sorted(struck or usual, reverse=True):
            words, laid = ("upper face", Hand.LEFT) if high else ("lower face", Hand.RIGHT)
            yield face_stick(layout, piece, high, f"{piece.name}, {words}", laid)


def _web_rails(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Where runners stand along the rails of a web frame, unless they only stand at its ends; both rails are alike."""
    for web in layout.of(Role.WEB_FRAME):
        own = [piece for piece in layout.of(Role.WEB_RAIL, Role.RUNNER) if piece.part_of is web]
        rail, runners = own[0], [piece for piece in own if piece.role is Role.RUNNER]
        if len(runners) > 2:
            parts = tuple(
                PlacedPart(Part(each.stock, each.name), Span(SpanKind.PART, each.name, *_from_end(each.x, rail)), None)
                for each in runners
            )
            name = f"{rail.name}, back edge"
            spans = tuple(end_to_end(parts, rail.length, lambda *_: "between runners"))
            stick = Stick(0, f"{layout.cabinet.name} {name}", Datum.LEFT, ())
            yield StickLayout(stick, spans, parts, (), faces=(struck_face(layout, rail, name, None),))


def _from_end(found: Range, board: Piece) -> tuple[Fraction, Fraction]:
    return found.start - board.low_end, found.end - board.low_end


def _frame(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Stiles as a pair where they agree, and the edges of rails and mid stiles that others end on."""
    stiles = layout.of(Role.STILE)
    if not stiles:
        return
    left, right = (
        face_stick(layout, stile, high, stile.name, laid, _INNER_EDGE)
        for stile, high, laid in zip(stiles, (True, False), Hand, strict=True)
    )
    yield from paired(layout, left, right, "stile")
    for member in layout.of(Role.RAIL, Role.MID_STILE):
        edges = ("lower edge", "upper edge") if member.axis is Axis.X else ("left edge", "right edge")
        for high, edge in zip((False, True), edges, strict=True):
            if any(on_high == high for _, _, on_high in layout.ends_on(member)):
                yield face_stick(layout, member, high, f"{member.name}, {edge}", None)


def _boards(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Where each upright board of the back begins, and its middle where it is fastened, from the back's left end."""
    boards, back = layout.of(Role.BACK_BOARD), layout.back
    if back is None or not boards:
        return
    start = back.x.start
    points = [
        Point(kind, f"{board.name.removeprefix('back ')}{words}", at - start)
        for board in boards
        for kind, words, at in (
            (PointKind.FEATURE, " begins", board.x.start),
            (PointKind.CENTRE, "", (board.x.start + board.x.end) / 2),
        )
    ]
    stick = Stick(0, f"{layout.cabinet.name} back", Datum.LEFT, (), edge_words=_BACK_EDGE)
    spans = end_to_end((), back.x.size, lambda *_: "back")
    face = Face(layout.cabinet.name, "back", "", back.x, back.z, many=layout.cabinet.count)
    yield StickLayout(stick, tuple(spans), (), tuple(points), faces=(face,))
