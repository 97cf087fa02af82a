"""The stick of one face of a board along its length, and one stick for two faces that are struck alike.

A stick begins at the end of the board itself, tongues and all, since that is what it is laid on; where the board
enters another, that much of the other is shown as a part. Stations are exact, in mm, from that end.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from storystick.job.openings import Part
from storystick.job.sticks import Datum, Hand, Stick
from storystick.layout.alike import common, positions
from storystick.layout.cabinets.fastener_marks import (
    centres_along,
)
from storystick.layout.cabinets.fastening import rows_on
from storystick.layout.cabinets.holes import Hole, holes_at
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Piece, Range
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import (
    CUTS,
    HoleRow,
    Surface,
    Work,
    WorkKind,
)
from storystick.layout.stations import Face, PlacedPart, Point, PointKind, Span, SpanKind, StickLayout, end_to_end, hole

_ENDS_HERE = CUTS | {WorkKind.LINE}
_CUT_HERE = CUTS | {WorkKind.SLOT}
_CUT_SPANS = {WorkKind.MORTISE: SpanKind.MORTISE, WorkKind.SLOT: SpanKind.SLOT}


def face_stick(
    layout: CabinetLayout, board: Piece, high: bool, name: str, laid: Hand | None, edge: str = ""
) -> StickLayout:
    """The stick of one face (or edge) of a board: its high one (right or upper) or its low one."""
    start, end = board.low_end, board.low_end + board.length
    surface = Surface.HIGH if high else Surface.LOW
    all_works = works_of(layout, board)
    works = [
        work
        for work in all_works
        if not work.along_board and (work.kind is WorkKind.SLOT or (work.on is surface and work.kind in _ENDS_HERE))
    ]
    on_edge = [work for work in all_works if work.on is surface and _is_alone(work, works)]
    along = [work for work in all_works if work.along_board and work.on in {surface, Surface.FRONT, Surface.BACK}]
    stopped = [work for work in along if work not in on_edge]
    parts = [
        *_own_end(all_works, Surface.LOW_END),
        *(_crossing(work, start) for work in sorted((*works, *on_edge), key=_from_the_end)),
        *_own_end(all_works, Surface.HIGH_END),
    ]
    datum = Datum.BOTTOM if board.axis is Axis.Z else Datum.LEFT
    # Its number follows from all that come before it, in ``cabinet_sticks``.
    stick = Stick(0, f"{layout.cabinet.name} {name}", datum, (), laid=laid, edge_words=edge)
    holes = [hole for hole in holes_at(board, layout.bays) if hole.is_bounded_by(board, high)]

    def opening(low: Fraction, top: Fraction) -> str:
        return _opening_name(Range(low + start, top + start), board, holes, layout)

    spans = tuple(end_to_end(in_one_plane(parts), board.length, opening))
    pins = _pins(row for row in holes_of(layout, board) if row.on is surface)
    centres = centres_along(row for row in rows_on(layout, board) if row.on is surface)
    mouths = (point for work in works for point in _mouth(work))
    points = (*pins, *centres, *(point for work in stopped for point in _stops(work)), *mouths)
    notch = max((work.along.end for work in all_works if work.kind is WorkKind.NOTCH), default=Fraction(0))
    beside = tuple(_beside(layout, board, high, start, end))
    return StickLayout(stick, spans, tuple(parts), points, beside, notch, (struck_face(layout, board, name, laid),))


def _is_alone(work: Work, others: Iterable[Work]) -> bool:
    """Whether it is for a part on edge that lies beside none of the others, so that its width can be shown."""
    return work.other.on_edge and not any(work.other.z.overlaps(other.other.across) for other in others)


def _from_the_end(work: Work) -> tuple[Fraction, Fraction]:
    """In which order works are met, along the board and then from its front edge."""
    return work.other.across.start, work.across.start


def in_one_plane(parts: Iterable[PlacedPart]) -> Iterator[PlacedPart]:
    """The parts with those as one that cross a board at one place, one behind the other."""
    places: dict[tuple[Fraction, Fraction], list[PlacedPart]] = {}
    for placed in parts:
        places.setdefault((placed.span.start, placed.span.end), []).append(placed)
    for first, *others in places.values():
        name = " / ".join(each.span.name for each in (first, *others))
        yield replace(first, span=replace(first.span, name=name)) if others else first


def struck_face(layout: CabinetLayout, board: Piece, name: str, laid: Hand | None) -> Face:
    """The face of a board that a stick of this ``name`` is for, such as "divider 1 depth, left face"."""
    which, _, words = name.removeprefix(board.name).partition(", ")
    return Face(layout.cabinet.name, f"{board.name}{which}", words, board.x, board.z, laid, layout.cabinet.count)


def _mouth(work: Work) -> Iterator[Point]:
    """Both edges at the face of a socket that is wider at its bottom."""
    if work.kind in CUTS and work.joint and work.joint.lean:
        for at in (work.along.start + work.joint.lean, work.along.end - work.joint.lean):
            yield Point(PointKind.FEATURE, f"mouth of {work.other.name}", at)


def _own_end(works: Iterable[Work], end: Surface) -> Iterator[PlacedPart]:
    """Where the board itself enters another: that much of the other is crossed."""
    for work in works:
        if work.on is end and work.kind is WorkKind.TONGUE:
            span = Span(SpanKind.PART, work.other.name, work.along.start, work.along.end)
            yield PlacedPart(Part(work.other.stock, work.other.name), span, None)


def _crossing(work: Work, start: Fraction) -> PlacedPart:
    """What ends on the board, with its groove, rabbet or mortise, unless that is left to the shop."""
    piece = work.other
    # Edging at the end of the board lies before or beyond it, and what ends there may reach over that.
    low, high = max(piece.across.start - start, Fraction(0)), min(piece.across.end - start, work.board.length)
    span = Span(SpanKind.PART, piece.name, low, high)
    part = Part(piece.stock, piece.name, work.joint)
    if work.joint is None or work.kind not in _CUT_HERE or work.along_board:
        return PlacedPart(part, span, None)
    groove = Span(_CUT_SPANS.get(work.kind, SpanKind.GROOVE), piece.name, work.along.start, work.along.end)
    return PlacedPart(part, span, groove, stopped=(work.run.start, work.run.end) if work.is_stopped else None)


def _opening_name(gap: Range, board: Piece, holes: Sequence[Hole], layout: CabinetLayout) -> str:
    """The name of the opening that a gap along a board belongs to."""
    upright = board.axis is Axis.Z
    for each in holes:
        if gap == (each.z if upright else each.x):
            return each.name if upright else f"column {each.column}"
    # What stands on edge in front takes less of the height behind it.
    if upright and (within := [each for each in holes if gap.start <= each.z.start and each.z.end <= gap.end]):
        return within[-1].name
    if upright and gap.start >= layout.case.box_z.end:
        return "above the top"
    if upright and gap.end <= layout.case.box_z.start:
        # With a raised bottom it is more than the toe space; a stile's is the leg under the bottom rail.
        return "toe space" if gap.end == layout.case.foot else "below the bottom"
    return "opening"


def _beside(layout: CabinetLayout, board: Piece, high: bool, start: Fraction, end: Fraction) -> Iterator[Span]:
    """The members of the face frame that end on the one before this board, where they lie along it."""
    before = layout.before(board)
    if before is None:
        return
    members = (piece for piece, _, on_high in layout.ends_on(before) if on_high == high)
    for member in sorted(members, key=lambda member: member.across.start):
        low, top = max(member.across.start, start), min(member.across.end, end)
        if low < top:
            yield Span(SpanKind.PART, member.name, low - start, top - start)


def _pins(rows: Iterable[HoleRow]) -> Iterator[Point]:
    """The holes of an opening's adjustable shelves, as heights on the face beside it: both its rows are alike."""
    for bay, places in {row.bay: row.places for row in rows}.items():
        for number, height in enumerate(places, start=1):
            yield hole(f"{bay.name} pins", number, height)


def _stops(work: Work) -> Iterator[Point]:
    """Where something that runs along the board starts and ends short of the board's own ends."""
    for stops, word, at in zip(work.stops, ("starts", "ends"), (work.run.start, work.run.end), strict=True):
        if stops:
            yield Point(PointKind.FEATURE, f"{work.words} {word}", at)


def paired(layout: CabinetLayout, left: StickLayout, right: StickLayout, name: str) -> Iterator[StickLayout]:
    """One stick for both hands where every mark of the one is a mark of the other, whatever it is for; else each."""
    if _stations(left) != _stations(right):
        yield from (left, right)
        return
    stick = replace(left.stick, name=f"{layout.cabinet.name} {name}", pair=True, laid=None)
    both = common(left, right)
    yield replace(both, stick=stick, faces=tuple(_of_both(face, name) for face in (*left.faces, *right.faces)))


def _of_both(face: Face, name: str) -> Face:
    """A face as one of a pair: its hand says which."""
    return replace(face, board=name, words="")


def _stations(stick: StickLayout) -> tuple[object, ...]:
    """All that is struck, without its names."""
    stopped = [placed.stopped for placed in stick.parts]
    return (positions(stick), stopped, [(point.kind, point.at) for point in stick.points])
