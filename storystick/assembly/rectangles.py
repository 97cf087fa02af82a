"""The rectangles of a job that are squared by their diagonals: those of its cabinets, and those it names itself."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.job.rectangles import Rectangle
from storystick.layout.cabinets.model import CabinetLayout, Range, Role
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import WorkKind
from storystick.layout.model import Layout

BACK_EDGES: Final = "back edges"


def rectangles_of(layout: Layout) -> tuple[Rectangle, ...]:
    """Every rectangle of the job, in working order, each with a name of its own."""
    cabinets = (rectangle for cabinet in layout.cabinets for rectangle in cabinet_rectangles(cabinet))
    return (*cabinets, *layout.job.rectangles)


def cabinet_rectangles(layout: CabinetLayout) -> Iterator[Rectangle]:
    """Of one cabinet: those of its case, and then those of its face frame."""
    yield from case_rectangles(layout)
    yield from frame_rectangles(layout)


def case_rectangles(layout: CabinetLayout) -> Iterator[Rectangle]:
    """The case outside and inside, and every opening of it.

    Sides with a toe notch have no lower corner in front: the outside is measured at the back edges, where it has all
    four. Inside and openings begin above the notch, and have theirs in front as well.
    """
    name = layout.cabinet.name
    sides, bottom, top = layout.of(Role.SIDE), layout.piece("bottom"), layout.piece("top")
    upright = _reach([piece.z for piece in (*sides, bottom, top)])
    notched = any(work.kind is WorkKind.NOTCH for side in sides for work in works_of(layout, side))
    yield Rectangle(f"{name} case, outside", layout.case_x.size, upright.size, BACK_EDGES if notched else "")
    yield _rectangle(f"{name} case, inside", *_inside(layout))
    for bay in layout.bays:
        yield _rectangle(f"{name} {bay.name}", bay.x, bay.z)


def frame_rectangles(layout: CabinetLayout) -> Iterator[Rectangle]:
    """The face frame and every opening of it; none without a frame."""
    name = layout.cabinet.name
    if stiles := layout.of(Role.STILE):
        yield _rectangle(f"{name} face frame", _reach([stile.x for stile in stiles]), _reach([s.z for s in stiles]))
        for bay in layout.bays:
            yield _rectangle(f"{name} {bay.name}, frame", bay.frame_x, bay.frame_z)


def _inside(layout: CabinetLayout) -> tuple[Range, Range]:
    left, right = layout.piece("left side"), layout.piece("right side")
    bottom, top = layout.piece("bottom"), layout.piece("top")
    return Range(left.x.end, right.x.start), Range(bottom.z.end, top.z.start)


def _reach(ranges: list[Range]) -> Range:
    """From the first start to the last end."""
    return Range(min(each.start for each in ranges), max(each.end for each in ranges))


def _rectangle(name: str, width: Range, height: Range) -> Rectangle:
    return Rectangle(name, width.size, height.size)
