"""A cabinet cut by a plane, reduced: its plan from above and its section from the right, and the marks of the planes.

What the plane cuts is hatched or black; what lies beyond is seen, the nearer before the farther.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.cutting.fronts import fronts_of
from storystick.cutting.parts import behind_front, drawer_boxes
from storystick.drawing.cabinet_views import widest_row
from storystick.drawing.cut_faces import cut_face
from storystick.drawing.lettering import SIZE_MM, WORDS_PT, points_of
from storystick.drawing.projection import HIDDEN_DASH_MM, Projection, hidden, seen
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Anchor, Area, Line, Rect, Shape, Text, closed, outline
from storystick.job.fronts import FrontFit
from storystick.layout.cabinets.corner_blocks import depth_at, triangle_of
from storystick.layout.cabinets.edging import strips_of
from storystick.layout.cabinets.pieces import BACK_ROLES, BASE_ROLES, Axis, CabinetLayout, Piece, Range, Role
from storystick.layout.cabinets.working import cuts_for_back, works_of
from storystick.layout.cabinets.works import WorkKind, front_of
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class Solid:
    """Something upright and rectangular in the cabinet. ``falling`` is which way it is hatched where it is cut.

    ``piece`` is the piece that it is, None for a front, a drawer box or an edging.
    """

    x: Range
    y: Range
    z: Range
    falling: bool = False
    piece: Piece | None = None

    def along(self, axis: Axis) -> Range:
        return {Axis.X: self.x, Axis.Y: self.y, Axis.Z: self.z}[axis]


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane square to an ``axis`` at a station, looked at against that axis: from the right, or from above."""

    axis: Axis
    at: Fraction

    def cuts(self, solid: Solid | Piece) -> bool:
        reach = solid.along(self.axis)
        return reach.start < self.at < reach.end

    def is_beyond(self, solid: Solid) -> bool:
        return solid.along(self.axis).end <= self.at


def solids_of(layout: CabinetLayout, figures: Figures) -> tuple[Solid, ...]:
    """The pieces with their edging, then fronts and drawer boxes; the back is the last.

    Raises:
        Faults: fronts or boxes that have no room.
    """
    backs = layout.of(*BACK_ROLES)
    others = (piece for piece in layout.pieces if piece.role not in BACK_ROLES | {Role.WEB_FRAME})
    return (
        *(solid for piece in others for solid in _of_piece(piece)),
        *_fronts(layout, figures),
        *_boxes(layout, figures),
        *(Solid(back.x, back.y, back.z, piece=back) for back in backs),
    )


def _of_piece(piece: Piece) -> Iterator[Solid]:
    falling = piece.axis is Axis.Z
    yield Solid(piece.x, piece.y, piece.z, falling, piece)
    yield from (Solid(strip.x, strip.y, strip.z, not falling) for strip in strips_of(piece))


def _fronts(layout: CabinetLayout, figures: Figures) -> Iterator[Solid]:
    rule = layout.cabinet.fronts
    for front in fronts_of(layout, figures):
        thick = front.stock.thickness
        overlay = rule is not None and rule.fit is FrontFit.OVERLAY
        y = Range(-thick, Fraction(0)) if overlay else Range(Fraction(0), thick)
        for x, z in front.leaves:
            yield Solid(x, y, z, falling=True)


def _boxes(layout: CabinetLayout, figures: Figures) -> Iterator[Solid]:
    """The sides, the front and the back of every drawer box; bottoms are left to the shop."""
    rule = layout.cabinet.drawers
    for box in drawer_boxes(layout, figures):
        if rule is None:
            continue
        bay, thick = box.bay, box.stock.thickness
        left = max(bay.x.start, bay.frame_x.start) + rule.side
        low = max(bay.z.start, bay.frame_z.start) + rule.bottom
        front = behind_front(layout, bay)
        x, y, z = (Range(at, at + size) for at, size in ((left, box.width), (front, box.depth), (low, box.height)))
        between = Range(x.start + thick, x.end - thick)
        for side in _ends(x, thick):
            yield Solid(side, y, z)
        for end in _ends(y, thick):
            yield Solid(between, end, z)


def _ends(whole: Range, thick: Fraction) -> tuple[Range, Range]:
    return Range(whole.start, whole.start + thick), Range(whole.end - thick, whole.end)


def side_plane(layout: CabinetLayout, solids: Sequence[Solid]) -> Plane:
    """Through the column with the most openings, where the plane lies in no upright and between no two doors."""
    most = max(layout.bays, key=lambda bay: bay.level)
    column = [bay for bay in layout.bays if (bay.row, bay.column) == (most.row, most.column)]
    return _clearest(Axis.X, column[0].x, solids)


def level_plane(layout: CabinetLayout, solids: Sequence[Solid]) -> Plane:
    """Through the row with the most columns, where the plane lies in no shelf and between no two fronts."""
    return _clearest(Axis.Z, Range.over(bay.z for bay in widest_row(layout)), solids)


def _clearest(axis: Axis, reach: Range, solids: Sequence[Solid]) -> Plane:
    """The plane that cuts fewest pieces lengthways, then most fronts, boxes and base, then the nearest to an eighth.

    An eighth of the way, since names and sizes stand in the middle of what it cuts.
    """
    # A back is cut anywhere, whatever it is made of.
    others_than_backs = (solid for solid in solids if solid.piece is None or solid.piece.role not in BACK_ROLES)
    near = [(solid, solid.along(axis)) for solid in others_than_backs if solid.along(axis).overlaps(reach)]
    ends = {end for _, own in near for end in (own.start, own.end) if reach.start < end < reach.end}
    edges = sorted({reach.start, reach.end, *ends})
    lengthways, others = [0] * len(edges), [0] * len(edges)
    for solid, own in near:
        for place in range(bisect_left(edges, own.start), bisect_left(edges, own.end)):
            others[place] += solid.piece is None or solid.piece.role in BASE_ROLES
            lengthways[place] += _runs(solid, axis)
    wanted = reach.start + reach.size / 8
    # A place between every two edges, the wanted one where it lies well between them.
    places = [min(max(wanted, low + (high - low) / 8), high - (high - low) / 8) for low, high in pairwise(edges)]
    costs = ((lengthways[n], -others[n], abs(at - wanted), at) for n, at in enumerate(places))
    return Plane(axis, min(costs)[-1])


def _runs(solid: Solid, square: Axis) -> bool:
    """Whether it is a piece that runs along a plane that is square to a direction; a back is cut in any case."""
    return solid.piece is not None and solid.piece.axis is not square and solid.piece.role not in BACK_ROLES


def draw_section(plane: Plane, layout: CabinetLayout, solids: Sequence[Solid], paper: Projection) -> Iterator[Shape]:
    """What a plane cuts, over what lies beyond it."""
    blocks = layout.of(Role.CORNER_BLOCK) if plane.axis is Axis.Z else ()
    solids = [solid for solid in solids if solid.piece not in blocks]
    for solid in sorted(filter(plane.is_beyond, solids), key=lambda solid: solid.along(plane.axis).end):
        yield from _seen(solid, layout, paper)
    yield from _shelves(plane, layout, paper)
    for solid in filter(plane.cuts, solids):
        if solid.piece and layout.back and solid.piece in layout.of(*BACK_ROLES)[:1]:
            yield from _recess(layout.back, plane, layout, paper)
        yield from cut_face(_rect(_cut_block(solid, plane, layout), paper), not solid.falling)
    for block in blocks:
        # From above they are hidden: under the top, and in the plinth under the bottom.
        corners = [(paper.x(x), paper.y(y)) for x, y in triangle_of(layout, block)]
        yield from closed(corners, NARROW_MM, HIDDEN_DASH_MM)


def _cut_block(solid: Solid, plane: Plane, layout: CabinetLayout) -> Solid:
    """A corner block is less deep the farther from its corner it is cut; anything else is as it is."""
    if solid.piece and solid.piece.role is Role.CORNER_BLOCK:
        return replace(solid, y=depth_at(layout, solid.piece, plane.at))
    return solid


def _rect(solid: Solid, paper: Projection) -> Rect:
    return paper.rect(solid.along(paper.across), solid.along(paper.up))


def _seen(solid: Solid, layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """As a rectangle, or from the side as a side with its foot cut back over a toe space."""
    corners = tuple(_foot(solid.piece, layout, paper)) if solid.piece and paper.up is Axis.Z else ()
    if corners:
        yield Area(corners, 1.0)
        yield from closed(corners, NARROW_MM)
    else:
        yield from seen(_rect(solid, paper))


def _foot(piece: Piece, layout: CabinetLayout, paper: Projection) -> Iterator[tuple[float, float]]:
    """The corners of a piece that is notched for a toe space, its edging before it left out; none of another."""
    for notch in works_of(layout, piece):
        if notch.kind is WorkKind.NOTCH:
            edges = _rect(Solid(piece.x, piece.y, piece.z), paper)
            heel, low = paper.x(front_of(piece) + notch.across.end), paper.y(piece.low_end + notch.along.end)
            yield from ((edges.left, edges.top), (edges.right, edges.top), (edges.right, edges.bottom))
            yield from ((heel, edges.bottom), (heel, low), (edges.left, low))


def _recess(back: Piece, plane: Plane, layout: CabinetLayout, paper: Projection) -> Iterator[Shape]:
    """What is cut away behind a back in a rabbet that is wider than the back is thick."""
    behind = layout.case.y.end
    in_rabbet = any(work.kind is WorkKind.RABBET for work in cuts_for_back(layout, layout.sides[0]))
    if in_rabbet and back.y.end < behind and plane.axis is Axis.Z:
        room = paper.rect(back.x, Range(back.y.end, behind))
        yield room.filled(1.0)
        yield from outline(room, NARROW_MM)


def _shelves(plane: Plane, layout: CabinetLayout, paper: Projection) -> Iterator[Line]:
    """Adjustable shelves, evenly spaced, as broken lines: nothing says where they lie."""
    for bay in layout.bays if plane.axis is Axis.X else ():
        rule = bay.compartment.adjustable
        if rule is None or not bay.x.start < plane.at < bay.x.end:
            continue
        thick = layout.shelf_stock(bay).thickness
        front = max(layout.finished_front, behind_front(layout, bay))
        depth = Range(front, layout.inner_back - rule.depth_play)
        for number in range(1, rule.count + 1):
            level = bay.z.start + bay.z.size * number / (rule.count + 1)
            yield from hidden(paper.rect(depth, Range(level, level + thick)))


BAND_MM: Final = 6.5
"""What the marks take round an elevation."""

_TITLE_PT: Final = points_of(SIZE_MM)
_CHAIN_MM: Final = (6.0, 1.2, 0.6, 1.2)
_ARROW_MM: Final = 2.0
_OUT_MM: Final = 0.6
_IN_MM: Final = 3.8


def title(words: str, left: float, baseline: float) -> Text:
    return Text(left, baseline, words, _TITLE_PT, bold=True)


def side_mark(x: float, foot: float) -> Iterator[Shape]:
    """The mark of the plane A–A over the elevation, arrows to the left, the way it is looked."""
    low, high = foot - BAND_MM, BAND_MM
    yield Line(x, low + _IN_MM, x, high - _IN_MM, NARROW_MM, _CHAIN_MM)
    for out, inner in ((low + _OUT_MM, low + _IN_MM), (high - _OUT_MM, high - _IN_MM)):
        yield Line(x, out, x, inner, WIDE_MM)
        middle = (out + inner) / 2
        yield from _arrow(x, middle, -1.0, 0.0)
        yield Text(x + 1.2, middle - SIZE_MM / 2, "A", _TITLE_PT, bold=True)


def plan_mark(y: float, right: float) -> Iterator[Shape]:
    """The mark of the plane B–B, arrows downward."""
    low, high = -BAND_MM, right + BAND_MM
    yield Line(low + _IN_MM, y, high - _IN_MM, y, NARROW_MM, _CHAIN_MM)
    for out, inner in ((low + _OUT_MM, low + _IN_MM), (high - _OUT_MM, high - _IN_MM)):
        yield Line(out, y, inner, y, WIDE_MM)
        middle = (out + inner) / 2
        yield from _arrow(middle, y, 0.0, -1.0)
        yield Text(middle, y + 1.2, "B", _TITLE_PT, Anchor.MIDDLE, bold=True)


def _arrow(x: float, y: float, across: float, up: float) -> Iterator[Shape]:
    """An arrow from a place: a shaft and a head, each as long."""
    root = (x + _ARROW_MM * across, y + _ARROW_MM * up)
    half_x, half_y = abs(up) * _ARROW_MM / 3, abs(across) * _ARROW_MM / 3
    yield Line(x, y, *root, WIDE_MM)
    tip = (x + 2 * _ARROW_MM * across, y + 2 * _ARROW_MM * up)
    yield Area((tip, (root[0] - half_x, root[1] - half_y), (root[0] + half_x, root[1] + half_y)))


def front_below(x: float, edge: float) -> Iterator[Shape]:
    """The word FRONT under a plan, between two pointers downward."""
    text = Text(x, edge - 4.0, "FRONT", WORDS_PT, Anchor.MIDDLE, bold=True)
    yield text
    for middle in (text.extent.left - 2.4, text.extent.right + 2.4):
        yield _pointer(Rect(middle - 1.1, edge - 4.0, middle + 1.1, edge - 1.6), down=True)


def front_at_left(edge: float, top: float) -> Iterator[Shape]:
    """The same over the upper left corner of a section, a pointer to the left before it."""
    yield _pointer(Rect(edge, top + 3.6, edge + 2.4, top + 5.8), down=False)
    yield Text(edge + 3.4, top + 3.4, "FRONT", WORDS_PT, bold=True)


def _pointer(within: Rect, down: bool) -> Area:
    left, bottom, right, top = within
    corners = ((left, top), (right, top), ((left + right) / 2, bottom))
    return Area(corners if down else ((right, top), (right, bottom), (left, (bottom + top) / 2)))
