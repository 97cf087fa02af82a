"""Why parts of a cabinet cannot be joined as the job says, whatever else is cut into them."""

from __future__ import annotations

from collections.abc import Iterator

from storystick.errors import Fault
from storystick.layout.cabinets.pieces import CabinetLayout, Piece
from storystick.layout.cabinets.sliding import is_shut_behind, is_slid, slides_from
from storystick.layout.cabinets.working import groove_stops
from storystick.layout.sticks import enters_within
from storystick.lengths import Figures


def joint_faults(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """What is wrong with the joint of a part, with where its groove stops, or with how it comes in."""
    yield from _joints_fit(layout, figures)
    yield from _stops_leave_a_joint(layout, figures)
    yield from _parts_slide_in(layout)


def _joints_fit(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether each joint's groove lies within the thickness of its part, and a rabbet at an end."""
    for piece in layout.pieces:
        for ending in dict.fromkeys((piece.low, piece.high)):
            groove = ending.joint.groove(piece.stock.thickness) if ending.joint else None
            if groove and ending.joint and not enters_within(ending.joint, piece.stock.thickness):
                yield Fault(
                    f'"{piece.name}" is {figures(piece.stock.thickness)} thick, but its joint wants '
                    f"a groove to {figures(groove[1])} of that",
                    "make the groove narrower, or set it nearer the datum side",
                )
                break
            if ending.joint and ending.joint.at_end_only and ending.on and not _at_an_end(piece, ending.on):
                yield Fault(
                    f'"{piece.name}" is in a rabbet, but not at an end of "{ending.on.name}"', "give it a housing"
                )
                break


def _stops_leave_a_joint(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether each groove that stops does so before its part ends; a part that lies behind the stop keeps all of it."""
    for piece in layout.pieces:
        for ending in dict.fromkeys((piece.low, piece.high)):
            stops = None if piece.on_edge else groove_stops(ending)
            if stops is None or stops < piece.y.end or ending.on is None or ending.joint is None:
                continue
            stop = ending.joint.front_stop
            reach = figures(piece.y.end - stops + stop)
            yield Fault(
                f'the groove for "{piece.name}" stops {figures(stop)} before the front edge of "{ending.on.name}", but '
                f'"{piece.name}" reaches no farther than {reach} from it',
                f"make the joint's stop less than {reach}",
            )
            break


def _parts_slide_in(layout: CabinetLayout) -> Iterator[Fault]:
    """A part slides in from the back or the front: not on edge, nor past a back in grooves that the case shuts in, nor
    where its sockets stop at both edges.
    """
    for piece in filter(is_slid, layout.pieces):
        if piece.on_edge:
            what = f'"{piece.name}" stands on edge and cannot slide in along its sockets'
            yield Fault(what, "give it a tongue or a housing")
        elif slides_from(layout, piece):
            continue
        elif is_shut_behind(layout):
            what = (
                f'"{piece.name}" slides in from the back, since its sockets stop in front, but the back is in grooves'
            )
            yield Fault(what, "give the back a rabbet or laid_on = true, or let the sockets run through")
        else:
            yield Fault(
                f'"{piece.name}" cannot slide in, since its sockets stop before the front and the back edge',
                "let it reach one of both edges, without a stop of its joint there, or give it a housing",
            )


def _at_an_end(piece: Piece, board: Piece) -> bool:
    if piece.on_edge:
        return False
    along = board.along(board.axis)
    return piece.across.start == along.start or piece.across.end == along.end
