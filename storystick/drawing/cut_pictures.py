"""Parts on the saw or under the router, with the cutter in them. Small pictures, not to scale.

Each begins at 0, 0 and goes down to ``-PICTURE_HEIGHT_MM``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.drawing.dimensions import level_line, upright_line
from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.shapes import FINE_MM, Anchor, Box, Line, Rect, Shape, Text, outline
from storystick.tooling.guided import GuidedCut
from storystick.tooling.setups import GrooveSetup, Posture, Removed, SawCut, Side

PICTURE_WIDTH_MM: Final = 48.0
PICTURE_HEIGHT_MM: Final = 27.0

_ACROSS_MM: Final = 26.0
_UP_MM: Final = 16.0
_TABLE_Y: Final = -18.0
_TABLE_MM: Final = 1.6
_FENCE_MM: Final = 4.0
_WOOD: Final = 0.86
_IRON: Final = 0.6
_WHITE: Final = 1.0
_CLEAR_MM: Final = 0.5
_AWAY_MM: Final = 2.0
_PITCH_MM: Final = 1.0
_HATCH_MM: Final = 0.15
_SHOWN: Final = {Posture.FLAT: Fraction(2), Posture.STANDING: Fraction(5, 4)}
"""How much of the part is drawn, in thicknesses, where its cuts do not reach farther."""


@dataclass(frozen=True, slots=True)
class _Scene:
    """The saw with its fence at the left: from a place there in mm to a place on paper."""

    cut: SawCut

    @property
    def reach(self) -> Fraction:
        """How much of the part is drawn away from its end or edge."""
        cut = self.cut
        deepest = cut.height if cut.posture is Posture.STANDING else cut.fence_far
        return max(deepest * Fraction(3, 2), cut.thickness * _SHOWN[cut.posture])

    @property
    def part(self) -> Removed:
        zero, thickness = Fraction(0), self.cut.thickness
        if self.cut.posture is Posture.STANDING:
            return Removed(zero, zero, thickness, self.reach)
        return Removed(zero, zero, self.reach, thickness)

    @property
    def scale(self) -> float:
        part = self.part
        widest = max(part.right, self.cut.fence_far)
        return min(_ACROSS_MM / float(widest), _UP_MM / float(part.top))

    def x(self, from_fence: Fraction) -> float:
        return _FENCE_MM + float(from_fence) * self.scale

    def y(self, above_table: Fraction) -> float:
        return _TABLE_Y + float(above_table) * self.scale

    def box(self, cutout: Removed, grey: float) -> Box:
        x, y = self.x(cutout.left), self.y(cutout.bottom)
        return Box(x, y, self.x(cutout.right) - x, self.y(cutout.top) - y, grey)


NEAR: Final = "near side"
FAR: Final = "far side"
HEIGHT: Final = "height"
"""What a length in the picture of a cut at the saw is called, there and beside its figure."""


def draw_cut(cut: SawCut) -> tuple[Shape, ...]:
    """A cut at the saw: table and fence grey, the part light with what is gone left out, its waste hatched, the blade
    black. Measured are from the fence to the blade's near side, or its far side where that is in the fence, and the
    blade's height; their figures are for the words beside it.
    """
    return tuple(_saw_shapes(_Scene(cut), cut))


def _saw_shapes(scene: _Scene, cut: SawCut) -> Iterator[Shape]:
    part = scene.box(scene.part, _WOOD)
    right = _FENCE_MM + _ACROSS_MM + 2.0
    yield part
    yield from outline(part.extent, FINE_MM)
    for gone in cut.gone:
        yield _opened(scene.box(gone, _WHITE), part)
    if cut.waste:
        waste = scene.box(cut.waste, _WHITE)
        yield waste
        yield from hatched(waste)
        yield from outline(waste.extent, FINE_MM)
    yield from _broken(part, cut.posture)
    yield Box(0.0, _TABLE_Y, _FENCE_MM, _UP_MM + 1.0, _IRON)
    yield Box(0.0, _TABLE_Y - _TABLE_MM, right, _TABLE_MM, _IRON)
    near, far, top = max(scene.x(cut.fence_near), 0.0), scene.x(cut.fence_far), scene.y(cut.height)
    yield Box(near, _TABLE_Y - _TABLE_MM, far - near, top - _TABLE_Y + _TABLE_MM)
    end, word = (far, FAR) if cut.fence_near <= 0 else (near, NEAR)
    yield from _measure_below(_FENCE_MM, end, _TABLE_Y - _TABLE_MM, word)
    yield from _measure_right(_TABLE_Y, top, right, HEIGHT)


def _opened(gone: Box, part: Box) -> Box:
    """What is gone, with the part's outline where it meets that."""
    (left, bottom, right, top), wood = gone.extent, part.extent
    left -= FINE_MM if left <= wood.left else 0.0
    bottom -= FINE_MM if bottom <= wood.bottom else 0.0
    right += FINE_MM if right >= wood.right else 0.0
    return Rect(left, bottom, right, top).filled(gone.grey)


def hatched(box: Box) -> Iterator[Line]:
    """Lines rising to the right, within the box."""
    left, bottom, right, top = box.extent
    start = left - box.height + _PITCH_MM / 2
    count = int((box.width + box.height) / _PITCH_MM)
    for number in range(count):
        foot = start + number * _PITCH_MM
        x1, x2 = max(foot, left), min(foot + box.height, right)
        if x1 < x2:
            yield Line(x1, bottom + x1 - foot, x2, min(bottom + x2 - foot, top), _HATCH_MM)


def _measure_below(start: float, end: float, edge: float, figure: str) -> Iterator[Shape]:
    """A dimension line under ``edge``, its figure below it and not left of 0."""
    level = edge - _AWAY_MM
    yield from level_line(start, end, level, edge - _CLEAR_MM, level - _CLEAR_MM)
    middle = max((start + end) / 2, text_width_mm(figure, WORDS_PT) / 2)
    yield Text(middle, level - 3.4, figure, WORDS_PT, Anchor.MIDDLE)


def _measure_right(start: float, end: float, edge: float, figure: str) -> Iterator[Shape]:
    """A dimension line to the right of ``edge``, its figure always level: a 6 on its side could be a 9."""
    plumb = edge + _AWAY_MM
    yield from upright_line(start, end, plumb, edge + _CLEAR_MM, plumb + _CLEAR_MM)
    yield Text(plumb + 1.6, (start + end) / 2 - 1.1, figure, WORDS_PT)


def _broken(part: Box, posture: Posture) -> Iterator[Shape]:
    """Two gaps across the part's far end: it goes on."""
    for at in (0.9, 1.9):
        if posture is Posture.STANDING:
            yield Box(part.x - 0.2, part.y + part.height - at, part.width + 0.4, 0.35, _WHITE)
        else:
            yield Box(part.x + part.width - at, part.y - 0.2, 0.35, part.height + 0.4, _WHITE)


_BOARD_TOP: Final = -9.0
_BOARD_MM: Final = 7.5
_BOARD_WIDTH_MM: Final = 33.0
_STRAIGHT_MM: Final = 5.0
_BASE_MM: Final = 21.0
_BASE_HIGH_MM: Final = 1.8
_BIT_MM: Final = 4.0
_DEPTH_MM: Final = 4.0
_SHIM_MM: Final = 2.2


def draw_router_cut(setup: GrooveSetup) -> tuple[Shape, ...]:
    """A groove with the router in it, in its last pass, proportions as a rule of thumb: the datum is at the left.

    The straightedge is dark, the base grey, the bit black, and the shim of the last pass hatched. Measured are from
    the straightedge to the groove's near edge, and its depth. Nothing where no bar serves.
    """
    return tuple(_router_shapes(setup)) if setup.bar else ()


def _router_shapes(setup: GrooveSetup) -> Iterator[Shape]:
    # With the straightedge beyond the groove, all but the board and its figures is a mirror image.
    flip = _flipped if setup.side is Side.FAR else _as_is
    shim = _SHIM_MM if len(setup.shims) > 1 else 0.0
    near = _STRAIGHT_MM + (_BASE_MM - _BIT_MM) / 2
    board = Box(0.0, _BOARD_TOP - _BOARD_MM, _BOARD_WIDTH_MM, _BOARD_MM, _WOOD)
    yield board
    yield from outline(board.extent, FINE_MM)
    yield flip(Box(near + shim, _BOARD_TOP - _DEPTH_MM, _BIT_MM, _DEPTH_MM + 0.2, _WHITE))
    yield flip(Box(0.0, _BOARD_TOP, _STRAIGHT_MM, 3.0, 0.35))
    if shim:
        strip = flip(Box(_STRAIGHT_MM, _BOARD_TOP, shim, 2.4, _WHITE))
        yield strip
        yield from hatched(strip)
        yield from outline(strip.extent, FINE_MM)
    yield flip(Box(_STRAIGHT_MM + shim, _BOARD_TOP, _BASE_MM, _BASE_HIGH_MM, _IRON))
    yield flip(Box(_STRAIGHT_MM + shim + 4.0, _BOARD_TOP + _BASE_HIGH_MM, _BASE_MM - 8.0, 7.0, 0.8))
    yield flip(Box(near + shim, _BOARD_TOP - _DEPTH_MM, _BIT_MM, _DEPTH_MM + _BASE_HIGH_MM))
    span = flip(Box(_STRAIGHT_MM, 0.0, near - _STRAIGHT_MM, 1.0))
    yield from _measure_below(span.x, span.x + span.width, _BOARD_TOP - _BOARD_MM, "bar")
    yield from _measure_right(_BOARD_TOP - _DEPTH_MM, _BOARD_TOP, _BOARD_WIDTH_MM, "deep")


def _as_is(box: Box) -> Box:
    return box


def _flipped(box: Box) -> Box:
    return Box(_BOARD_WIDTH_MM - box.x - box.width, box.y, box.width, box.height, box.grey)


_PART_MM: Final = 13.0
_LONG_MM: Final = PICTURE_WIDTH_MM - 2.0
_CUT_MM: Final = 2.6
_EDGE_MM: Final = 3.2
_END_MM: Final = 7.0
_GUIDE_MM: Final = 1.6
_LIFT_MM: Final = 1.4


def draw_guided_cut(cut: GuidedCut) -> tuple[Shape, ...]:
    """The part light with its cut black, the guide grey; a line where the cut starts and where it ends.

    It begins at 0, 0 and goes down; the end that figures count from is at the left.
    """
    bottom = -_PART_MM - 4.0
    start = _END_MM if cut.stops[0] else 0.0
    end = _LONG_MM - (_END_MM if cut.stops[1] else 0.0)
    low = bottom + (_EDGE_MM if cut.near else 0.0)
    words = ((start, "from", Anchor.START), (end, "to", Anchor.END))
    return (
        Box(0.0, bottom, _LONG_MM, _PART_MM, _WOOD),
        Box(start, low, end - start, _CUT_MM),
        Box(0.0, bottom - _GUIDE_MM, _LONG_MM, _GUIDE_MM, _IRON),
        *(Line(x, bottom, x, bottom + _PART_MM + _LIFT_MM / 2) for x, _, _ in words),
        *(Text(x, bottom + _PART_MM + _LIFT_MM, word, WORDS_PT, anchor) for x, word, anchor in words),
    )
