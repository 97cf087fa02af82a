"""The sticks into the depth of a cabinet's boards, from the front edge, tongue and all, to the back edge. In mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

from storystick.job.openings import Part
from storystick.job.sticks import Datum, Hand, Stick
from storystick.layout.cabinets.face_sticks import in_one_plane, paired, struck_face
from storystick.layout.cabinets.fastener_marks import (
    Across,
    across_ends,
    across_face,
    are_among,
    centres_across,
)
from storystick.layout.cabinets.fastening import rows_at_ends, rows_on
from storystick.layout.cabinets.pieces import CASE_ROLES, Axis, CabinetLayout, Piece, Role
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import (
    CUTS,
    ENDS,
    Surface,
    Work,
    WorkKind,
    end_words,
    front_of,
    width_of,
)
from storystick.layout.stations import Face, PlacedPart, Point, PointKind, Span, SpanKind, StickLayout, end_to_end
from storystick.wording import by_number, listed

_INSIDE: Final = {Hand.LEFT: Surface.HIGH, Hand.RIGHT: Surface.LOW}
_UPRIGHT_FACES: Final = (("left face", Hand.RIGHT), ("right face", Hand.LEFT))


def depth_sticks(layout: CabinetLayout) -> Iterator[StickLayout]:
    """The depth of the sides, as a pair where they are struck alike, and of every other face or end that is bored.

    Where the sides' has all the centres of fasteners that another has, it serves that too.
    """
    left, right = (
        _depth(layout, side, _INSIDE[hand], f"{side.name} depth", hand)
        for side, hand in zip(layout.sides, Hand, strict=True)
    )
    first, *others = paired(layout, left, right, "side depth")
    marks = across_face(row for row in rows_on(layout, layout.sides[0]) if row.on is Surface.HIGH)
    served: list[Face] = []
    more: list[StickLayout] = []
    for board, surface, words, laid in _other_depths(layout):
        own = _across(layout, board, surface)
        stick = _depth(layout, board, surface, f"{board.name} depth, {words}", laid)
        if own and are_among(own, marks) and len(stick.points) == sum(len(across.stations) for across in own):
            served += stick.faces
        elif stick.points:
            more.append(stick)
    own_strip = {face.board for stick in more for face in stick.faces}
    also = (replace(face, words=face.words if face.board in own_strip else "") for face in served)
    both = (replace(face, laid=hand) for face in also for hand in Hand)
    yield replace(first, faces=tuple(dict.fromkeys((*first.faces, *both))))
    yield from (*others, *more)


def _other_depths(layout: CabinetLayout) -> Iterator[tuple[Piece, Surface, str, Hand]]:
    """Every other surface of a part of the case that may be bored: its faces, then its ends, and how they are laid."""
    for board in layout.of(*CASE_ROLES):
        level = board.axis is Axis.X
        faces = (("upper face", Hand.LEFT), ("lower face", Hand.RIGHT)) if level else _UPRIGHT_FACES
        surfaces = (Surface.HIGH, Surface.LOW) if level else (Surface.LOW, Surface.HIGH)
        if board not in layout.sides:
            yield from ((board, on, words, laid) for on, (words, laid) in zip(surfaces, faces, strict=True))
        for end, words, laid in zip((Surface.LOW_END, Surface.HIGH_END), end_words(board), Hand, strict=True):
            yield board, end, words, laid


def _across(layout: CabinetLayout, board: Piece, surface: Surface) -> tuple[Across, ...]:
    """The centres of fasteners on a face or at an end of a board, from its front edge."""
    if surface in ENDS:
        return across_ends(row for row in rows_at_ends(layout, board) if row.end is surface)
    return across_face(row for row in rows_on(layout, board) if row.on is surface)


def _depth(layout: CabinetLayout, board: Piece, surface: Surface, name: str, laid: Hand) -> StickLayout:
    """The depth of a face or an end of a board, from its front edge, tongue and all, to its back edge."""
    works = works_of(layout, board)
    parts = tuple(
        placed
        for work in sorted(works, key=lambda work: work.across.start)
        if (work.along_board and work.on is surface) or work.on is Surface.FRONT
        for placed in _met_in_depth(work, layout)
    )
    stick = Stick(0, f"{layout.cabinet.name} {name}", Datum.FRONT, (), laid=laid)
    rows = (row for row in holes_of(layout, board) if row.on is surface and row.places)
    rows_of_holes = (Point(PointKind.CENTRE, f"{row.bay.name}, {row.name} row", row.across) for row in rows)
    front_stops = _front_stops(work for work in works if work.on is surface)
    points = (*rows_of_holes, *front_stops, *centres_across(_across(layout, board, surface)))
    back = next((work.across.start for work in works if work.other.role is Role.BACK), width_of(board))
    spans = end_to_end(
        in_one_plane(parts), width_of(board), lambda start, _: "inside" if start < back else "behind the back"
    )
    return StickLayout(stick, tuple(spans), parts, points, faces=(struck_face(layout, board, name, laid),))


def _front_stops(works: Iterable[Work]) -> Iterator[Point]:
    """Where grooves across the board stop before its front edge: once for all that stop at one place."""
    stopped: dict[Fraction, list[str]] = {}
    for work in works:
        if work.kind in CUTS and work.joint and work.joint.front_stop:
            stopped.setdefault(work.across.start, []).append(work.other.name)
    for at, names in stopped.items():
        yield Point(PointKind.FEATURE, f"{listed(by_number(names))} stop{'s' if len(names) == 1 else ''}", at)


def _met_in_depth(work: Work, layout: CabinetLayout) -> Iterator[PlacedPart]:
    """The face frame that a front tongue enters, or the back with what is cut for it."""
    frame = layout.cabinet.frame
    if work.kind is WorkKind.TONGUE and frame:
        span = Span(SpanKind.PART, "face frame", work.across.start, work.across.end)
        yield PlacedPart(Part(frame.stock, "face frame"), span, None)
    elif work.other.on_edge:
        start = work.other.y.start - front_of(work.board)
        span = Span(SpanKind.PART, work.other.name, start, start + work.other.stock.thickness)
        cut = Span(SpanKind.GROOVE, work.other.name, work.across.start, work.across.end)
        yield PlacedPart(Part(work.other.stock, work.other.name), span, cut if work.kind in CUTS else None)
    elif work.kind in CUTS:
        start, thickness = work.across.start, work.other.stock.thickness
        span = Span(SpanKind.PART, work.other.name, start, start + thickness)
        cut = Span(SpanKind.GROOVE, work.other.name, start, work.across.end)
        yield PlacedPart(Part(work.other.stock, work.other.name), span, cut)
