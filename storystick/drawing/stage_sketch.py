"""A stage of the glue-up as it comes together: what is joined already in grey, what is added dark, drawn apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storystick.drawing.lettering import WORDS_PT
from storystick.drawing.shapes import NARROW_MM, Anchor, Area, Rect, Shape, Text, closed, extent, moved, outline, scaled
from storystick.gluing.order import Assembly
from storystick.gluing.stages import Stage
from storystick.layout.cabinets.corner_blocks import triangle_of
from storystick.layout.cabinets.pieces import BACK_ROLES, BASE_ROLES, CASE_ROLES, FRAME_ROLES, Axis, Piece, Range, Role

_JOINED: Final = 0.86
_ADDED: Final = 0.4
_PLAIN: Final = 1.0
_APART: Final = 0.22
"""How far parts stand apart, by how far their middles are from that of the whole."""

_ARROW_MM: Final = 3.0
_WORDS_MM: Final = 5.0
"""Room below the drawing for the words that say from where it is looked at."""

_GLUED_ROLES: Final = (*CASE_ROLES, *FRAME_ROLES, *BACK_ROLES, *BASE_ROLES)


@dataclass(frozen=True, slots=True)
class _View:
    """From where it is looked at: the directions across the paper and up it, and whether what is far is drawn first."""

    across: Axis
    up: Axis
    words: str

    def nearness(self, piece: Piece) -> float:
        """What is nearer to the eye is more, and drawn later."""
        return -float(piece.y.start) if self.up is Axis.Z else float(piece.z.start)

    def seen(self, piece: Piece) -> Rect:
        """In the cabinet's own mm."""
        x, y = piece.along(self.across), piece.along(self.up)
        return Rect(float(x.start), float(y.start), float(x.end), float(y.end))


_FRONT: Final = _View(Axis.X, Axis.Z, "from the front")
_ABOVE: Final = _View(Axis.X, Axis.Y, "from above, front below")
_OPENED: Final = _View(Axis.X, Axis.Y, "from above, front below, the top left out")


def draw_stage(stage: Stage, width_mm: float, height_mm: float) -> tuple[Shape, ...]:
    """The stage within a room whose upper left corner is at 0, 0: the whole cabinet for the dry run.

    Parts stand apart along the direction in which they are closed, and two arrows say so.
    """
    view, room = _view(stage), height_mm - _WORDS_MM
    drawn = [*_drawn(stage, view)]
    whole = extent(drawn)
    margin = 2 * (_ARROW_MM + 1.0) if stage.closing else 1.0
    scale = min((width_mm - margin) / (whole.right - whole.left), (room - margin) / (whole.top - whole.bottom))
    small = _outlined(moved(scaled(drawn, scale, scale), 0.0, 0.0))
    reach = extent(small)
    drawn_apart = stage.closing and stage.closing.axis in (view.across, view.up)
    arrows = _arrows(reach, view, stage.closing.axis) if stage.closing and drawn_apart else ()
    middle = (reach.left + reach.right) / 2
    placed = moved((*small, *arrows), width_mm / 2 - middle, -margin / 2 - reach.top)
    low = extent(placed).bottom - _WORDS_MM + 1.0
    return (*placed, Text(width_mm / 2, low, view.words, WORDS_PT, Anchor.MIDDLE))


def _view(stage: Stage) -> _View:
    if stage.closing is None:
        return _FRONT
    if _is_blocked(stage):
        return _OPENED if any(piece.role is Role.TOP for piece in stage.closing.pieces) else _ABOVE
    level = all(piece.role is Role.PLINTH for piece in stage.closing.pieces)
    return _ABOVE if level or stage.closing.axis is Axis.Y else _FRONT


def _is_blocked(stage: Stage) -> bool:
    """Whether it puts corner blocks into what is whole by then."""
    return any(joint.piece.role is Role.CORNER_BLOCK for joint in stage.joints)


def _drawn(stage: Stage, view: _View) -> Iterator[Shape]:
    """Filled rectangles, the far ones first, in the cabinet's own mm."""
    shades = dict(_shaded(stage))
    shifts = dict(_shifts(stage))
    if view is _OPENED:
        shades = {piece: grey for piece, grey in shades.items() if piece.role is not Role.TOP}
    for piece in sorted(shades, key=view.nearness):
        shift = shifts.get(piece, 0.0)
        axis = stage.closing.axis if stage.closing else view.across
        across, up = (shift if axis is own else 0.0 for own in (view.across, view.up))
        block = view is not _FRONT and piece.role is Role.CORNER_BLOCK
        shape = _triangle(piece, stage, shades[piece]) if block else view.seen(piece).filled(shades[piece])
        yield shape.moved(across, up)


def _triangle(block: Piece, stage: Stage, grey: float) -> Area:
    """A corner block from above."""
    return Area(tuple((float(x), float(y)) for x, y in triangle_of(stage.layout, block)), grey)


def _shaded(stage: Stage) -> Iterator[tuple[Piece, float]]:
    """Every piece with its grey: of each assembly in the layout's order, since a set has another in each process."""
    if stage.closing is None:
        yield from ((piece, _PLAIN) for piece in stage.layout.of(*_GLUED_ROLES))
        return
    laid = {joint.piece for joint in stage.joints if joint.laid}
    for assembly in stage.closing.assemblies:
        grey = _ADDED if len(assembly) == 1 or assembly & laid else _JOINED
        yield from ((piece, grey) for piece in stage.layout.pieces if piece in assembly)


def _shifts(stage: Stage) -> Iterator[tuple[Piece, float]]:
    """How far each piece is drawn from its place, along the direction in which the stage is closed."""
    if stage.closing is None:
        return
    axis = stage.closing.axis
    middles = [(assembly, _middle(assembly, axis)) for assembly in stage.closing.assemblies]
    whole = _middle(stage.closing.pieces, axis)
    for assembly, middle in middles:
        yield from ((piece, (middle - whole) * _APART) for piece in assembly)


def _middle(assembly: Assembly, axis: Axis) -> float:
    over = Range.over(piece.along(axis) for piece in assembly)
    return float(over.start + over.end) / 2


def _outlined(shapes: Iterable[Shape]) -> Sequence[Shape]:
    return [part for shape in shapes for part in (shape, *_edges(shape))]


def _edges(shape: Shape) -> Iterator[Shape]:
    if isinstance(shape, Area):
        return closed(shape.points, NARROW_MM)
    return outline(shape.extent, NARROW_MM)


def _arrows(around: Rect, view: _View, axis: Axis) -> Iterator[Area]:
    """Two, one toward the other, at both ends of what is drawn apart."""
    level = axis is view.across
    middle = (around.bottom + around.top) / 2 if level else (around.left + around.right) / 2
    low, high = (around.left, around.right) if level else (around.bottom, around.top)
    for edge, way in ((low, -1), (high, 1)):
        tip, tail = edge + way * 1.0, edge + way * (1.0 + _ARROW_MM)
        points = ((tip, middle), (tail, middle + 1.4), (tail, middle - 1.4))
        yield Area(points if level else tuple((y, x) for x, y in points))
