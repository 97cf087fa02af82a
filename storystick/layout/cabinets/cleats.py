"""Cleats in their places: under the ends of shelves, along the sides under a top, or on the wall behind the back.

What lies on a cleat is butted to what the cleat is on. One on the wall has square edges, and the top of a wall unit
lies on it; pairs of bevelled ones are not laid out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.cleats import CleatAt, CleatRule
from storystick.layout.cabinets.fixed_in import check_room, clear_depth, closing_panel, under_top
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Ending, Piece, Range, Role
from storystick.lengths import Figures

_KEY: Final = "cleats"


def cleats_of(layout: CabinetLayout, figures: Figures) -> tuple[Piece, ...]:
    """All cleats of a cabinet that is laid out but for them.

    Raises:
        Fault: what would lie on one is let in, or something else stands there; ``figures`` says the lengths.
    """
    cleats = tuple(
        cleat
        for rule in layout.cabinet.cleats
        for at in CleatAt
        if at in rule.at
        for cleat in _PLACES[at](layout, rule, figures)
    )
    for number, cleat in enumerate(cleats):
        check_room(layout, (cleat,), _KEY, figures, besides=cleats[:number])
    return cleats


def _under_shelves(layout: CabinetLayout, rule: CleatRule, figures: Figures) -> Iterator[Piece]:
    shelves = layout.of(Role.SHELF)
    if not shelves:
        raise Fault('cleats at = "shelves", but no fixed shelf stands in the case', "leave them out", _KEY)
    for shelf in shelves:
        _check_butted(shelf, shelf.low, shelf.high)
        yield from _pair(layout, rule, f"cleat of {shelf.name}", (shelf.x, shelf.y, shelf.z.start), figures)


def _under_top(layout: CabinetLayout, rule: CleatRule, figures: Figures) -> Iterator[Piece]:
    """Along the sides, from the front to the back, or between what stands there."""
    case, panel = layout.case, closing_panel(layout)
    if panel:
        _check_butted(panel, panel.low, panel.high, *(side.high for side in layout.sides))
    room = case.inside_x, Range(case.y.start, case.inner_y.end), under_top(layout)
    yield from _pair(layout, rule, "cleat of the top", room, figures)


def _check_butted(lying: Piece, *endings: Ending) -> None:
    if any(ending.on and ending.beyond for ending in endings):
        raise Fault(
            f'"{lying.name}" is let in, so that it needs no cleats',
            'leave them out, or give it a joint of kind "butt"',
            _KEY,
        )


def _pair(
    layout: CabinetLayout, rule: CleatRule, words: str, room: tuple[Range, Range, Fraction], figures: Figures
) -> Iterator[Piece]:
    """One at either end of what lies between two uprights, with its upper edge at the under face of that."""
    x, y, top = room
    thick, z = rule.stock.thickness, Range(top - rule.width, top)
    if 2 * thick > x.size:
        what = f"cleats {figures(thick)} thick leave nothing between them of {figures(x.size)}"
        raise Fault(what, f"take a stock {figures.at_most(x.size / 2)} thick at most", _KEY)
    for hand, across in (("left", Range(x.start, x.start + thick)), ("right", Range(x.end - thick, x.end))):
        start, end = clear_depth(layout, across, z, y)
        start = max(start, y.start + rule.setback)
        if start >= end:
            what = f"the {hand} {words} has no length: {figures(end - y.start)} can be had"
            raise Fault(what, f"make setback less than {figures.at_most(end - y.start)}", _KEY)
        yield _cleat(layout, rule, f"{hand} {words}", Axis.Y, (across, Range(start, end), z))


def _on_wall(layout: CabinetLayout, rule: CleatRule, figures: Figures) -> Iterator[Piece]:
    """Behind the back, under a top that reaches over it to the wall."""
    case, panel, thick = layout.case, closing_panel(layout), rule.stock.thickness
    if panel is None or panel.y.end < case.y.end:
        raise Fault(
            "no top reaches to the wall, so that nothing of the cabinet would lie on the cleat",
            "give it a top, and a back in grooves before its back edge; or hang it by nailers",
            _KEY,
        )
    room = max(case.y.end - (layout.back.y.end if layout.back else case.inner_y.end), Fraction(0))
    if layout.back and room < thick:
        raise Fault(
            f"behind the back there is {figures(room)}, and the cleat on the wall is {figures(thick)} thick",
            f"hold the back in grooves, with groove_inset {figures.at_least(thick)} or more",
            _KEY,
        )
    top = panel.z.start
    place = case.inside_x, Range(case.y.end - thick, case.y.end), Range(top - rule.width, top)
    yield _cleat(layout, rule, "wall cleat", Axis.X, place)


_PLACES: Final[Mapping[CleatAt, Callable[[CabinetLayout, CleatRule, Figures], Iterator[Piece]]]] = {
    CleatAt.SHELVES: _under_shelves,
    CleatAt.TOP: _under_top,
    CleatAt.WALL: _on_wall,
}


def _cleat(layout: CabinetLayout, rule: CleatRule, name: str, axis: Axis, room: tuple[Range, Range, Range]) -> Piece:
    x, y, z = room
    role = Role.CLEAT if axis is Axis.Y else Role.WALL_CLEAT
    return Piece(cabinet=layout.cabinet, role=role, name=name, stock=rule.stock, axis=axis, x=x, y=y, z=z)
