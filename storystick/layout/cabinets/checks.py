"""What cannot be built, and what can be but should be looked at, each with its figures."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from storystick.errors import Fault, FaultCollector
from storystick.job.cabinet import GrooveBack, RabbetBack
from storystick.job.joints import Joint
from storystick.layout.cabinets.model import Axis, CabinetLayout, Piece, Range, Role
from storystick.lengths import Units, write_figure


def check_cabinet(layout: CabinetLayout, units: Units) -> None:
    """Find what cannot be built.

    Raises:
        Faults: all of it at once.
    """
    collector = FaultCollector()
    for checks in (_joints_fit, _grooves_fit, _tongues_keep_apart, _back_fits, _frame_takes_tongues):
        for fault in checks(layout, units):
            with collector.at():
                raise fault
    collector.raise_any()


def warnings_about(layout: CabinetLayout, units: Units) -> Iterator[str]:
    """Grooves on both faces of a divider that leave less than a third of it (common practice, no source)."""
    for board, one, other in _facing_pairs(layout):
        left = _thickness(layout, board) - _groove_depth(one[1]) - _groove_depth(other[1])
        if left < _thickness(layout, board) / 3:
            yield (
                f'the grooves for "{one[0].name}" and "{other[0].name}" in both faces of "{board}" leave '
                f"{write_figure(left, units)} of its {write_figure(_thickness(layout, board), units)}"
            )


def ends_on(layout: CabinetLayout, board: str) -> Iterator[tuple[Piece, Joint | None, bool]]:
    """Every piece that ends on a board, how, and whether it lies on the board's high side (right or above)."""
    for piece in layout.pieces:
        if piece.low.on == board:
            yield piece, piece.low.joint, True
        if piece.high.on == board:
            yield piece, piece.high.joint, False


def across(piece: Piece) -> Range:
    """A level or upright piece's range along its thickness."""
    return piece.x if piece.axis is Axis.Z else piece.z


def _thickness(layout: CabinetLayout, board: str) -> Fraction:
    return layout.piece(board).stock.thickness


def _groove_depth(joint: Joint | None) -> Fraction:
    return joint.depth if joint else Fraction(0)


def _joints_fit(layout: CabinetLayout, units: Units) -> Iterator[Fault]:
    """Whether each joint's groove lies within the thickness of its part, and a rabbet at an end."""
    for piece in layout.pieces:
        for ending in (piece.low, piece.high):
            groove = ending.joint.groove(piece.stock.thickness) if ending.joint else None
            if groove and (groove[0] < 0 or groove[1] > piece.stock.thickness):
                yield Fault(
                    f'"{piece.name}" is {write_figure(piece.stock.thickness, units)} thick, but its joint wants '
                    f"a groove to {write_figure(groove[1], units)} of that",
                    "make the groove narrower, or set it nearer the datum side",
                )
                break
            if ending.joint and ending.joint.at_end_only and not _at_an_end(layout, piece, ending.on):
                yield Fault(f'"{piece.name}" is in a rabbet, but not at an end of "{ending.on}"', "give it a housing")
                break


def _at_an_end(layout: CabinetLayout, piece: Piece, board: str) -> bool:
    along = layout.piece(board).along(layout.piece(board).axis)
    return across(piece).start == along.start or across(piece).end == along.end


def _grooves_fit(layout: CabinetLayout, units: Units) -> Iterator[Fault]:
    for board in layout.pieces:
        for piece, joint, _ in ends_on(layout, board.name):
            depth = _groove_depth(joint)
            if depth >= board.stock.thickness:
                yield Fault(
                    f'the groove for "{piece.name}" is {write_figure(depth, units)} deep, but "{board.name}" is '
                    f"{write_figure(board.stock.thickness, units)} thick",
                    "make the joint's depth less",
                )


def _tongues_keep_apart(layout: CabinetLayout, units: Units) -> Iterator[Fault]:
    for board, one, other in _facing_pairs(layout):
        both = _groove_depth(one[1]) + _groove_depth(other[1])
        if both >= _thickness(layout, board):
            yield Fault(
                f'the grooves for "{one[0].name}" and "{other[0].name}" meet inside "{board}": they are '
                f"{write_figure(both, units)} deep together, and it is "
                f"{write_figure(_thickness(layout, board), units)} thick",
                "make the joint's depth less than half of it",
            )


def _facing_pairs(
    layout: CabinetLayout,
) -> Iterator[tuple[str, tuple[Piece, Joint | None], tuple[Piece, Joint | None]]]:
    """Boards with two pieces let in from both sides at the same place."""
    for board in layout.pieces:
        found = list(ends_on(layout, board.name))
        for (one, joint, high), (other, other_joint, other_high) in combinations(found, 2):
            overlap = across(one).start < across(other).end and across(other).start < across(one).end
            if high != other_high and overlap and joint and other_joint:
                yield board.name, (one, joint), (other, other_joint)


def _back_fits(layout: CabinetLayout, units: Units) -> Iterator[Fault]:
    back, side = layout.cabinet.back, layout.cabinet.sides
    if isinstance(back, RabbetBack | GrooveBack) and back.depth >= side.thickness:
        yield Fault(
            f"the back's {'rabbet' if isinstance(back, RabbetBack) else 'groove'} is "
            f"{write_figure(back.depth, units)} deep, but a side is {write_figure(side.thickness, units)} thick",
            "make it less deep",
        )
    if isinstance(back, RabbetBack) and back.stock.thickness > back.width:
        yield Fault(
            f"the back is {write_figure(back.stock.thickness, units)} thick and will not enter its rabbet, which is "
            f"{write_figure(back.width, units)} wide",
            "make rabbet_width at least as much as the back is thick",
        )


def _frame_takes_tongues(layout: CabinetLayout, units: Units) -> Iterator[Fault]:
    """Whether every groove in the back of the frame lies within its member, and is not too deep."""
    frame = layout.cabinet.frame
    if frame is None or frame.joint is None:
        return
    if _groove_depth(frame.joint) >= frame.stock.thickness:
        yield Fault(
            f"the groove in the back of the frame is {write_figure(_groove_depth(frame.joint), units)} deep, but the "
            f"frame is {write_figure(frame.stock.thickness, units)} thick",
            "make the joint's depth less",
        )
    for piece in layout.of(Role.SIDE, Role.TOP, Role.BOTTOM, Role.SHELF, Role.DIVIDER):
        groove = frame.joint.groove(piece.stock.thickness)
        if groove is None or piece.front is None:
            continue
        start, end = across(piece).start + groove[0], across(piece).start + groove[1]
        if start < piece.front.start or end > piece.front.end:
            yield Fault(
                f'the member of the frame before "{piece.name}" is {write_figure(piece.front.size, units)} wide and '
                f"does not cover the groove for its tongue, which is {write_figure(end - start, units)} wide",
                "make the member wider, or align it otherwise",
            )
