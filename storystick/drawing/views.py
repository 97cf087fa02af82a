"""The three views of a cabinet in one picture and one scale: front, section and plan.

Not for measuring.
"""

from __future__ import annotations

from typing import Final

from storystick.drawing.dimensions import FIGURE_PT, extent
from storystick.drawing.elevation import draw_elevation
from storystick.drawing.projection import View
from storystick.drawing.sections import draw_plan, draw_side_section
from storystick.drawing.shapes import Shape, Text, moved
from storystick.job.model import Job
from storystick.layout.cabinets.model import CabinetLayout

_GAP_MM: Final = 7.0
_TITLE_MM: Final = 1.8
_SHRINKING: Final = 0.97
_LEAST_SCALE: Final = 1e-4


def draw_views(layout: CabinetLayout, job: Job, width_mm: float, height_mm: float) -> View:
    """All three as large as they go into a box; from 0, 0 at the upper left corner.

    A box too small for the figures alone is left on its right and lower sides.
    """
    cabinet = layout.cabinet
    scale = min(width_mm / float(cabinet.width + cabinet.depth), height_mm / float(cabinet.height))
    while True:
        views = _draw_each(layout, job, scale)
        for picture in (_plan_below(*views), _plan_beside(*views)):
            if picture.extent.right <= width_mm and -picture.extent.bottom <= height_mm:
                return picture
        if scale < _LEAST_SCALE:
            return _plan_below(*views)
        scale *= _SHRINKING


def _draw_each(layout: CabinetLayout, job: Job, scale: float) -> tuple[View, View, View]:
    front, section, plan = (draw(layout, job, scale) for draw in (draw_elevation, draw_side_section, draw_plan))
    return _titled(front, "front"), _titled(section, "section"), _titled(plan, "plan")


def _plan_below(front: View, section: View, plan: View) -> View:
    """The plan under the front, so that what is the same in two views stands in line."""
    beside = front.extent.right + _GAP_MM - section.extent.left
    below = min(front.extent.bottom, section.extent.bottom) - _GAP_MM - plan.extent.top
    return _together(front, moved(section.shapes, beside, 0.0), moved(plan.shapes, 0.0, below))


def _plan_beside(front: View, section: View, plan: View) -> View:
    """All in one row, for a cabinet that is high and narrow."""
    second = front.extent.right + _GAP_MM - section.extent.left
    third = second + section.extent.right + _GAP_MM - plan.extent.left
    return _together(front, moved(section.shapes, second, 0.0), moved(plan.shapes, third, 0.0))


def _together(front: View, *others: tuple[Shape, ...]) -> View:
    """The front and the others, moved so that they begin at 0, 0."""
    shapes = (*front.shapes, *(shape for other in others for shape in other))
    reach = extent(shapes)
    return View(moved(shapes, -reach.left, -reach.top), front.notes)


def _titled(view: View, title: str) -> View:
    """The view with its name above it."""
    return View((*view.shapes, Text(0.0, _TITLE_MM, title, FIGURE_PT, bold=True)), view.notes)
