"""Which rectangles a step of the glue-up closes, and so which diagonals are measured in it."""

from __future__ import annotations

from storystick.assembly.order import Body, Step
from storystick.assembly.rectangles import case_rectangles, frame_rectangles
from storystick.job.rectangles import Rectangle
from storystick.layout.cabinets.frame import member_name
from storystick.layout.cabinets.model import CASE_ROLES, FRAME_ROLES, Axis, Bay, CabinetLayout, Role


def closed_rectangles(step: Step, layout: CabinetLayout) -> tuple[Rectangle, ...]:
    """What the step makes whole: case, face frame or plinth; before that, every opening that it closes.

    None where no opening is closed yet, or where a whole case is set on a plinth.
    """
    pieces = step.pieces
    frame, plinth = _names(layout, *FRAME_ROLES), _names(layout, Role.PLINTH)
    if pieces & plinth:
        return () if "bottom" in pieces else (_plinth(layout),)
    case = tuple(case_rectangles(layout))
    if pieces >= _names(layout, Role.SIDE, Role.TOP, Role.BOTTOM):
        return case[:1] if step.axis is Axis.Y else case[:2]
    whole, *openings = frame_rectangles(layout) if pieces & frame else case[1:]
    if pieces >= frame and pieces & frame:
        return (whole,)
    closed = (_newly_closed(_around(bay, layout, bool(pieces & frame)), step) for bay in layout.bays)
    return tuple(opening for opening, new in zip(openings, closed, strict=True) if new)


def whole_case(layout: CabinetLayout) -> tuple[Rectangle, ...]:
    """A case outside and inside."""
    return tuple(case_rectangles(layout))[:2]


def _newly_closed(around: Body, step: Step) -> bool:
    return around <= step.pieces and not any(around <= body for body in step.bodies)


def _around(bay: Bay, layout: CabinetLayout, framed: bool) -> Body:
    """The pieces that bound an opening of the case, or the members of the frame that do before it."""
    found = [piece for piece in layout.of(*CASE_ROLES) if any(bay.is_bounded_by(piece, high) for high in (False, True))]
    return frozenset(member_name(piece) if framed else piece.name for piece in found)


def _plinth(layout: CabinetLayout) -> Rectangle:
    """The plinth from above: its width and its depth."""
    pieces = layout.of(Role.PLINTH)
    width = max(piece.x.end for piece in pieces) - min(piece.x.start for piece in pieces)
    depth = max(piece.y.end for piece in pieces) - min(piece.y.start for piece in pieces)
    return Rectangle(f"{layout.cabinet.name} plinth", width, depth)


def _names(layout: CabinetLayout, *roles: Role) -> Body:
    return frozenset(piece.name for piece in layout.of(*roles))
