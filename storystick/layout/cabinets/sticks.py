"""The sticks that follow from a cabinet: one for every face that other pieces end on, and one for the depth.

A stick begins at the end of the board itself, tongues and all, since that is what it is laid on; where the board
enters another, that much of the other is shown as a part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from storystick.job.openings import Part
from storystick.job.sticks import Datum, Hand, Stick
from storystick.layout.alike import common, positions
from storystick.layout.cabinets.fastener_marks import (
    Across,
    across_ends,
    across_face,
    are_among,
    centres_across,
    centres_along,
)
from storystick.layout.cabinets.fastening import rows_at_ends, rows_on
from storystick.layout.cabinets.holes import Hole, holes_at
from storystick.layout.cabinets.pieces import CASE_ROLES, Axis, CabinetLayout, Piece, Range, Role
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import (
    CUTS,
    ENDS,
    HoleRow,
    Surface,
    Work,
    WorkKind,
    end_words,
    front_of,
    width_of,
)
from storystick.layout.stations import Face, PlacedPart, Point, PointKind, Span, SpanKind, StickLayout, end_to_end, hole
from storystick.wording import by_number, listed

_ENDS_HERE = CUTS | {WorkKind.LINE}
_CUT_HERE = CUTS | {WorkKind.SLOT}
_CUT_SPANS = {WorkKind.MORTISE: SpanKind.MORTISE, WorkKind.SLOT: SpanKind.SLOT}
_INNER_EDGE = "INNER EDGE ▼"
_BACK_EDGE = "FRONT OF BOARDS ▼"


def cabinet_sticks(layout: CabinetLayout, first_number: int) -> tuple[StickLayout, ...]:
    """All sticks of a cabinet, numbered from ``first_number``."""
    sticks = [
        *_sides(layout),
        *_dividers(layout),
        *_levels(layout),
        *_web_rails(layout),
        *_depths(layout),
        *_frame(layout),
        *_boards(layout),
    ]
    return tuple(_numbered(stick, number) for number, stick in enumerate(sticks, start=first_number))


def _numbered(layout: StickLayout, number: int) -> StickLayout:
    return replace(layout, stick=replace(layout.stick, number=number))


def _sides(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Heights, as a pair where both sides are struck alike, else each for itself."""
    left, right = (
        _face(layout, side, high, side.name, laid)
        for side, high, laid in zip(layout.sides, (True, False), Hand, strict=True)
    )
    yield from _paired(layout, left, right, "side")


def _paired(layout: CabinetLayout, left: StickLayout, right: StickLayout, name: str) -> Iterator[StickLayout]:
    # One strip serves both hands only where every mark of the one is a mark of the other, whatever it is for.
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


def _dividers(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Both faces of every divider. Its left face is struck as a right side's is, and its right face as a left one's."""
    for divider in layout.of(Role.DIVIDER):
        yield _face(layout, divider, False, f"{divider.name}, left face", Hand.RIGHT)
        yield _face(layout, divider, True, f"{divider.name}, right face", Hand.LEFT)


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
            yield _face(layout, piece, high, f"{piece.name}, {words}", laid)


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
            yield StickLayout(stick, spans, parts, (), faces=(_struck_face(layout, rail, name, None),))


def _from_end(found: Range, board: Piece) -> tuple[Fraction, Fraction]:
    return found.start - board.low_end, found.end - board.low_end


def _frame(layout: CabinetLayout) -> Iterator[StickLayout]:
    """Stiles as a pair where they agree, and the edges of rails and mid stiles that others end on."""
    stiles = layout.of(Role.STILE)
    if not stiles:
        return
    left, right = (
        _face(layout, stile, high, stile.name, laid, _INNER_EDGE)
        for stile, high, laid in zip(stiles, (True, False), Hand, strict=True)
    )
    yield from _paired(layout, left, right, "stile")
    for member in layout.of(Role.RAIL, Role.MID_STILE):
        edges = ("lower edge", "upper edge") if member.axis is Axis.X else ("left edge", "right edge")
        for high, edge in zip((False, True), edges, strict=True):
            if any(on_high == high for _, _, on_high in layout.ends_on(member)):
                yield _face(layout, member, high, f"{member.name}, {edge}", None)


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


def _face(layout: CabinetLayout, board: Piece, high: bool, name: str, laid: Hand | None, edge: str = "") -> StickLayout:
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

    spans = tuple(end_to_end(_in_one_plane(parts), board.length, opening))
    pins = _pins(row for row in holes_of(layout, board) if row.on is surface)
    centres = centres_along(row for row in rows_on(layout, board) if row.on is surface)
    mouths = (point for work in works for point in _mouth(work))
    points = (*pins, *centres, *(point for work in stopped for point in _stops(work)), *mouths)
    notch = max((work.along.end for work in all_works if work.kind is WorkKind.NOTCH), default=Fraction(0))
    beside = tuple(_beside(layout, board, high, start, end))
    return StickLayout(stick, spans, tuple(parts), points, beside, notch, (_struck_face(layout, board, name, laid),))


def _is_alone(work: Work, others: Iterable[Work]) -> bool:
    """Whether it is for a part on edge that lies beside none of the others, so that its width can be shown."""
    return work.other.on_edge and not any(work.other.z.overlaps(other.other.across) for other in others)


def _from_the_end(work: Work) -> tuple[Fraction, Fraction]:
    """In which order works are met, along the board and then from its front edge."""
    return work.other.across.start, work.across.start


def _in_one_plane(parts: Iterable[PlacedPart]) -> Iterator[PlacedPart]:
    """The parts with those as one that cross a board at one place, one behind the other."""
    places: dict[tuple[Fraction, Fraction], list[PlacedPart]] = {}
    for placed in parts:
        places.setdefault((placed.span.start, placed.span.end), []).append(placed)
    for first, *others in places.values():
        name = " / ".join(each.span.name for each in (first, *others))
        yield replace(first, span=replace(first.span, name=name)) if others else first


def _struck_face(layout: CabinetLayout, board: Piece, name: str, laid: Hand | None) -> Face:
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
    span = Span(SpanKind.PART, piece.name, piece.across.start - start, piece.across.end - start)
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


def _depths(layout: CabinetLayout) -> Iterator[StickLayout]:
    """The depth of the sides, as a pair where they are struck alike, and of every other face or end that is bored.

    Where the sides' has all the centres of fasteners that another has, it serves that too.
    """
    left, right = (
        _depth(layout, side, _INSIDE[hand], f"{side.name} depth", hand)
        for side, hand in zip(layout.sides, Hand, strict=True)
    )
    first, *others = _paired(layout, left, right, "side depth")
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


_INSIDE: Final = {Hand.LEFT: Surface.HIGH, Hand.RIGHT: Surface.LOW}
_UPRIGHT_FACES: Final = (("left face", Hand.RIGHT), ("right face", Hand.LEFT))


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
        _in_one_plane(parts), width_of(board), lambda start, _: "inside" if start < back else "behind the back"
    )
    return StickLayout(stick, tuple(spans), parts, points, faces=(_struck_face(layout, board, name, laid),))


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
