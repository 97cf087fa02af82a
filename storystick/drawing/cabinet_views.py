"""A cabinet from the front, reduced: its face, its fronts with what they are, its openings named, its dimensions."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from storystick.cutting.fronts import fronts_of
from storystick.drawing.dimensions import level_chain, upright_chain, upright_measure
from storystick.drawing.drawn_fronts import DrawnClosing
from storystick.drawing.opening_words import write_key
from storystick.drawing.projection import Projection, View, hidden, seen
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Line, Shape, closed, extent, outline
from storystick.layout.cabinets.closings import closings_of
from storystick.layout.cabinets.edging import ENDS, Strip, face_of, strips_of
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, Axis, Bay, CabinetLayout, End, Piece, Range, Role
from storystick.lengths import Figures


def front_projection(layout: CabinetLayout, scale: float) -> Projection:
    """From a cabinet's stations across and up to the elevation on paper."""
    return Projection(Axis.X, Axis.Z, layout.cabinet.height, scale)


def draw_elevation(
    layout: CabinetLayout,
    figures: Figures,
    scale: float,
    dimensioned: bool = True,
    band_mm: float = 0.0,
    on_floor: bool = True,
) -> View:
    """The front with the face frame's openings, or the case's where there is no frame.

    One that is not ``dimensioned`` has no words and figures, for what is laid on it. ``band_mm`` is kept free round it
    inside of the dimensions.

    Raises:
        Faults: as :func:`~storystick.cutting.fronts.fronts_of`.
    """
    paper = front_projection(layout, scale)
    fronts = {front.closing: front for front in fronts_of(layout, figures)}
    drawn = [
        DrawnClosing.of(closing, fronts.get(closing), layout, paper, figures if dimensioned else None)
        for closing in closings_of(layout)
    ]
    overall = Range(Fraction(0), layout.cabinet.width)
    shapes = (
        *_face(layout, paper),
        *(shape for closing in drawn for shape in closing.draw()),
        *(_fixed_in(layout, paper) if dimensioned else ()),
        *_contour(layout, paper),
        *(paper.floor(overall) if on_floor else ()),
        *(_dimensions(layout, figures, paper, band_mm) if dimensioned else ()),
    )
    keyed = [(bay.number, bay) for closing in drawn for bay, words, _ in closing.words if words.keyed]
    return View(shapes, tuple(write_key(keyed, figures)))


def pieces_in_front(layout: CabinetLayout) -> tuple[Piece, ...]:
    """What is seen from the front: the face frame, or where there is none the front edges of the case but those that
    stand behind one front.

    What overhangs a frame is seen too, and a countertop.
    """
    if layout.cabinet.frame:
        over = (piece for end in End for piece in layout.at_end(end) if piece.y.start < 0)
        return (*layout.of(*FRAME_ROLES, Role.COUNTERTOP), *over)
    behind = {piece for closing in closings_of(layout) if not closing.is_open for piece in closing.inside}
    front = [piece for piece in layout.of(*CASE_ROLES, Role.COUNTERTOP) if piece not in behind]
    return (*front, *filter(None, map(layout.nosing_before, front)))


def _face(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """The front, and behind it what is seen under it, and what the back is made of."""
    for piece in (*layout.of(Role.BACK_PANEL), *layout.of(Role.BACK_STILE, Role.BACK_RAIL)):
        yield from paper.piece(piece)
    for board in layout.of(Role.BACK_BOARD)[1:]:
        x = paper.x(board.x.start)
        yield Line(x, paper.y(board.z.start), x, paper.y(board.z.end), NARROW_MM)
    plinth = [piece for piece in layout.of(Role.PLINTH) if piece.axis is Axis.X][:1]
    sides = layout.sides if layout.case.foot else ()
    toe = [piece for piece in layout.of(Role.TOE_BOARD) if piece.axis is Axis.X]
    # Where shelves and dividers are half-lapped, the shelves run through in front.
    laps = {shelf for shelf, _ in layout.crossings}
    front = sorted(pieces_in_front(layout), key=lambda piece: piece in laps)
    # A toe board stands before the feet of the sides, but behind stiles that run to the floor.
    # Where a member of a frame is narrower than its part, or stops short of it, an edge of the part is seen beside it.
    beside = [piece for piece in layout.of(*CASE_ROLES) if (member := layout.before(piece)) and _peeps(piece, member)]
    for piece in (*plinth, *sides, *((*toe, *beside, *front) if layout.cabinet.frame else (*front, *toe))):
        yield from paper.piece(piece)
        yield from (shape for strip in strips_of(piece) if strip.edge in ENDS for shape in _strip(strip, paper))


def _strip(strip: Strip, paper: Projection) -> Iterator[Shape]:
    return seen(paper.rect(strip.x, strip.z))


def _fixed_in(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """Cleats and corner blocks in broken lines: most are hidden by fronts, rails or stretchers."""
    for piece in layout.of(Role.CLEAT, Role.WALL_CLEAT, Role.CORNER_BLOCK):
        if piece.y.end <= layout.case.y.end / 2 or piece.role is not Role.CORNER_BLOCK:
            yield from hidden(paper.rect(piece.x, piece.z))


def _peeps(part: Piece, member: Piece) -> bool:
    """Whether the member of the frame before a level part leaves some of its front edge to be seen."""
    across, over = part.across, member.across
    return part.axis is Axis.X and (across.start < over.start or across.end > over.end)


def _contour(layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """Round all that stands in front; below its rails round the legs of a frame whose stiles run on to the floor."""
    pieces = pieces_in_front(layout)
    x, z = (Range.over(face_of(piece, axis) for piece in pieces) for axis in (Axis.X, Axis.Z))
    feet = {piece.z.start for piece in pieces if piece.role is Role.SIDE}
    # Where one side ends above the other, what of the longer goes farther down is by itself.
    whole = paper.rect(x, Range(max(feet), z.end) if len(feet) > 1 else z)
    if z.start == layout.case.foot or layout.cabinet.frame is None:
        yield from outline(whole, WIDE_MM)
        return
    left, right = (paper.rect(stile.x, stile.z) for stile in layout.of(Role.STILE))
    foot = paper.y(layout.case.foot)
    under = (left.right, whole.bottom), (left.right, foot), (right.left, foot), (right.left, whole.bottom)
    low = (whole.left, whole.bottom), *under, (whole.right, whole.bottom)
    yield from closed((*low, (whole.right, whole.top), (whole.left, whole.top)), WIDE_MM)


def _dimensions(layout: CabinetLayout, figures: Figures, paper: Projection, band: float) -> Iterator[Shape]:
    """Chains of what is seen, member by member: widths below, heights at the left; the overall sizes outside them."""
    width, height = (Range(Fraction(0), size) for size in (layout.cabinet.width, layout.cabinet.height))
    across = list({bay.column: bay.frame_x for bay in widest_row(layout)}.values())
    up = [bay.frame_z for bay in layout.bays if bay.column == 1]
    floor = paper.y(Fraction(0))
    chain = tuple(level_chain(paper.chain_x(across, width, figures), floor, band=band))
    yield from chain
    edge = extent(chain).bottom + 1.0 if chain else floor - band
    yield from level_chain([paper.measure_x(width, figures)], edge)
    yield from upright_chain(
        paper.chain_y(up, layout.case.foot, figures, layout.case.head if layout.cabinet.frame else None), 0.0, band=band
    )
    yield from upright_measure(paper.measure_y(height, figures), paper.x(width.end), right=True, band=band)


def widest_row(layout: CabinetLayout) -> list[Bay]:
    """The openings of the first row that has the most columns."""
    columns = max(bay.column for bay in layout.bays)
    row = next(bay.row for bay in layout.bays if bay.column == columns)
    return [bay for bay in layout.bays if bay.row == row]
