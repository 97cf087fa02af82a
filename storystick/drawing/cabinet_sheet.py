"""A cabinet drawn to a standard scale: its elevation, over it the plan and beside it the section, cut where marks say.

Laid out in third-angle projection: the plan stands over the elevation, what is seen from the right at its right. Of a
cabinet that is too wide for that the section stands below; all views are named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from functools import cached_property
from itertools import pairwise, product
from typing import Final, TypeAlias

from storystick.drawing.cabinet_sections import (
    BAND_MM,
    Plane,
    Solid,
    draw_section,
    front_at_left,
    front_below,
    level_plane,
    plan_mark,
    side_mark,
    side_plane,
    solids_of,
    title,
)
from storystick.drawing.cabinet_views import draw_elevation
from storystick.drawing.cut_faces import broken_at_words
from storystick.drawing.dimensions import Measure, level_chain, upright_chain
from storystick.drawing.projection import LEAST_CROSS_MM, STANDARD_SCALES, Projection, Scale, View, crossed
from storystick.drawing.shapes import Rect, Shape, Text, extent, moved
from storystick.layout.cabinets.bases import recess_of
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Range
from storystick.layout.walls.behind import Behind
from storystick.lengths import Figures

_GAP_MM: Final = 5.0
_FREE_MM: Final = 8.0
_LEAST_ROUND_MM: Final = 25.0
_OVER_MM: Final = 2.2
_TITLE_MM: Final = BAND_MM + 1.5


class Arrangement(Enum):
    """How the views stand: the plan over the elevation with the section at its right or below it, or all in a row."""

    RIGHT = "right"
    BELOW = "below"
    ROW = "row"

    @property
    def projection(self) -> str:
        """What is said of it in a title block."""
        return "third angle" if self is Arrangement.RIGHT else "as named"

    def least(self, width: float, height: float, depth: float) -> tuple[float, float]:
        """Less than what the views of a cabinet so large on paper take, across and up, with their figures."""
        across, up = {
            Arrangement.RIGHT: (width + depth, height + depth),
            Arrangement.BELOW: (max(width, depth), 2 * height + depth),
            Arrangement.ROW: (2 * width + depth, max(height, depth)),
        }[self]
        return across + _LEAST_ROUND_MM, up + _LEAST_ROUND_MM


@dataclass(frozen=True)
class CabinetDrawing:
    """A cabinet's views at one scale, from 0, 0 at the upper left corner of all down.

    ``notes`` are what found no room in it. ``front`` and ``section`` are where the upper left corners of the cabinet
    stand in those views, ``plan`` where its back left corner does. ``free`` is what the views leave free between them,
    and on to the right; None if nothing.
    """

    scale: Scale
    arrangement: Arrangement
    drawn: tuple[Shape, ...]
    notes: tuple[str, ...]
    width_mm: float
    height_mm: float
    front: tuple[float, float]
    section: tuple[float, float]
    plan: tuple[float, float]
    free: Rect | None = None

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """All of it, narrow lines broken where words stand."""
        return tuple(broken_at_words(self.drawn))


@dataclass(frozen=True)
class CabinetSheet:
    """A cabinet that is to be drawn, with the planes that cut it.

    ``on_wall`` is what its front hides of the wall behind it; one that ``hangs`` is drawn without a floor.

    Raises:
        Faults: at its first drawing, for fronts or boxes that have no room.
    """

    layout: CabinetLayout
    figures: Figures
    on_wall: tuple[Behind, ...] = ()
    hangs: bool = False

    @cached_property
    def solids(self) -> tuple[Solid, ...]:
        return solids_of(self.layout, self.figures)

    @cached_property
    def side(self) -> Plane:
        """A–A, seen from the right."""
        return side_plane(self.layout, self.solids)

    @cached_property
    def plan(self) -> Plane:
        """B–B, seen from above."""
        return level_plane(self.layout, self.solids)

    def drawings(self, width_mm: float, height_mm: float) -> Iterator[CabinetDrawing]:
        """The ways to draw it that go into a box, the largest first; at last the smallest there is, whatever its size.

        At each scale the section stands at the right if it can, with the heights inside the case if those have room.
        """
        cabinet = self.layout.cabinet
        scales = STANDARD_SCALES[self.figures.units]
        for scale, (arrangement, heights) in product(scales, _WAYS):
            across, up = arrangement.least(
                *(float(scale.factor * size) for size in (cabinet.width, cabinet.height, cabinet.depth))
            )
            if across <= width_mm and up <= height_mm:
                drawing = self.draw(scale, arrangement, heights)
                if drawing.width_mm <= width_mm and drawing.height_mm <= height_mm:
                    yield drawing
        yield self.draw(scales[-1], heights=False)

    def draw(self, scale: Scale, arrangement: Arrangement = Arrangement.RIGHT, heights: bool = True) -> CabinetDrawing:
        """All three views at a scale."""
        factor = float(scale.factor)
        front, section, plan = self._front(factor), self._section(factor, heights), self._plan(factor)
        at, above, free = _PLACED[arrangement](front.extent, section.extent, plan.extent)
        shapes = (*front.shapes, *moved(section.shapes, *at), *moved(plan.shapes, *above))
        reaches = (front.extent, section.extent.moved(*at), plan.extent.moved(*above))
        lefts, bottoms, rights, tops = zip(*reaches, strict=True)
        x, y = -min(lefts), -max(tops)
        return CabinetDrawing(
            scale,
            arrangement,
            moved(shapes, x, y),
            front.notes,
            max(rights) + x,
            -min(bottoms) - y,
            (x, y),
            (x + at[0], y + at[1]),
            (x + above[0], y + above[1]),
            free.moved(x, y) if free else None,
        )

    def _front(self, factor: float) -> View:
        """The elevation with its dimensions, and the marks of both planes round it."""
        view = draw_elevation(self.layout, self.figures, factor, band_mm=BAND_MM, on_floor=not self.hangs)
        cabinet = self.layout.cabinet
        right, foot = float(cabinet.width) * factor, -float(cabinet.height) * factor
        x, y = float(self.side.at) * factor, float(self.plan.at - cabinet.height) * factor
        marks = (*side_mark(x, foot), *plan_mark(y, right), *self._on_wall(factor, view))
        return replace(view, shapes=(*view.shapes, *marks, title("Front", 0.0, _TITLE_MM)))

    def _on_wall(self, factor: float, view: View) -> Iterator[Shape]:
        """A cross at each that comes on its back, as large as it is where that is seen; none where words stand."""
        words = [shape.reach() for shape in view.shapes if isinstance(shape, Text)]
        for found in self.on_wall:
            x, y = float(found.x) * factor, float(found.z - self.layout.cabinet.height) * factor
            half = max(LEAST_CROSS_MM, float(found.feature.across) * factor / 2)
            if not any(Rect(x, y, x, y).wider(half).meets(place) for place in words):
                yield from crossed(x, y, half)

    def _section(self, factor: float, heights: bool) -> View:
        """Seen from the right, the front at the left."""
        cabinet = self.layout.cabinet
        paper = Projection(Axis.Y, Axis.Z, cabinet.height, factor)
        drawn = tuple(draw_section(self.side, self.layout, self.solids, paper))
        left, top = extent(drawn).left, max(extent(drawn).top, 0.0)
        return View(
            (
                *drawn,
                *(() if self.hangs else paper.floor(Range(Fraction(0), cabinet.depth))),
                *self._depths(paper),
                *(self._heights(paper) if heights else ()),
                *front_at_left(left, top),
                title("Section A–A", left, top + _TITLE_MM),
            )
        )

    def _plan(self, factor: float) -> View:
        """Seen from above, the front below."""
        cabinet = self.layout.cabinet
        paper = Projection(Axis.X, Axis.Y, cabinet.depth, factor)
        drawn = tuple(draw_section(self.plan, self.layout, self.solids, paper))
        widths = tuple(self._widths(paper))
        reach = extent(drawn)
        front = front_below(paper.x(cabinet.width) / 2, reach.bottom)
        return View(
            (*drawn, *widths, *front, title("Plan B–B", 0.0, (extent(widths) if widths else reach).top + _OVER_MM))
        )

    def _widths(self, paper: Projection) -> Iterator[Shape]:
        """What the case leaves clear, over the plan, where the elevation does not say it."""
        if not self.layout.cabinet.frame:
            return
        cut = (bay.x for bay in self.layout.bays if bay.z.start < self.plan.at < bay.z.end)
        measures = paper.chain_x(sorted(cut, key=lambda x: x.start), self.layout.case.x, self.figures)
        yield from level_chain(measures, paper.y(self.layout.cabinet.depth), above=True)

    def _heights(self, paper: Projection) -> Iterator[Shape]:
        """What the case leaves clear, at the right of the section, where the elevation does not say it."""
        cut = [bay for bay in self.layout.bays if bay.x.start < self.side.at < bay.x.end]
        if self.layout.cabinet.frame or any(bay.column > 1 for bay in cut):
            measures = paper.chain_y([bay.z for bay in cut], self.layout.case.foot, self.figures)
            yield from upright_chain(measures, paper.x(self.layout.cabinet.depth), right=True)

    def _depths(self, paper: Projection) -> Iterator[Shape]:
        """Below the section: the recess of a base, what the depth is made up of, and the whole of it."""
        edge = paper.y(Fraction(0))
        for measures in self._depth_chains(paper):
            shapes = tuple(level_chain(measures, edge))
            yield from shapes
            edge = extent(shapes).bottom + 1.0 if shapes else edge

    def _depth_chains(self, paper: Projection) -> Iterator[list[Measure]]:
        layout, depth = self.layout, self.layout.cabinet.depth
        if recess := recess_of(layout.cabinet, layout.case):
            yield [paper.measure_x(recess, self.figures)]
        # An overlay front lies before the cabinet's own front, at 0.
        ends = {min(solid.y.start for solid in self.solids), Fraction(0), layout.case.y.start, layout.inner_back, depth}
        ends |= {layout.back.y.end} if layout.back else set()
        parts = [Range(low, high) for low, high in pairwise(sorted(ends))]
        if len(parts) > 1:
            yield [paper.measure_x(part, self.figures, int(part.size < depth / 2)) for part in parts]
        yield [paper.measure_x(Range(Fraction(0), depth), self.figures)]


_WAYS: Final = (
    (Arrangement.RIGHT, True),
    (Arrangement.RIGHT, False),
    (Arrangement.BELOW, True),
    (Arrangement.BELOW, False),
    (Arrangement.ROW, True),
    (Arrangement.ROW, False),
)
_Places: TypeAlias = tuple[tuple[float, float], tuple[float, float], Rect | None]
"""Where the section and the plan stand from the elevation, and what is free between them."""


def _at_right(front: Rect, section: Rect, plan: Rect) -> _Places:
    beside, above = front.right + _GAP_MM - section.left, front.top + _GAP_MM - plan.bottom
    left = max(plan.right, front.left + (section.left + beside - front.left) / 2) + _FREE_MM
    free = Rect(left, max(section.top, front.top) + _GAP_MM, section.right + beside, plan.top + above)
    return (beside, 0.0), (0.0, above), free


def _below(front: Rect, section: Rect, plan: Rect) -> _Places:
    below, above = front.bottom - _GAP_MM - section.top, front.top + _GAP_MM - plan.bottom
    free = Rect(section.right + _FREE_MM, section.bottom + below, front.right, section.top + below)
    return (0.0, below), (0.0, above), free


def _in_a_row(front: Rect, section: Rect, plan: Rect) -> _Places:
    second = front.right + _GAP_MM - section.left
    third = second + section.right + _GAP_MM - plan.left
    level = section.top - plan.top
    free = Rect(third + plan.left, min(front.bottom, section.bottom), third + plan.right, plan.bottom + level - _GAP_MM)
    return (second, 0.0), (third, level), free


_PLACED: Final[Mapping[Arrangement, Callable[[Rect, Rect, Rect], _Places]]] = {
    Arrangement.RIGHT: _at_right,
    Arrangement.BELOW: _below,
    Arrangement.ROW: _in_a_row,
}
