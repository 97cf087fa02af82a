"""The outer parts of a case: its sides, and what closes it at its bottom and its top, if anything does.

What lies over the sides is made before them, since they end on it; what stands between them comes after.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace, EndRule
from storystick.job.joints import Joint
from storystick.job.openings import Stock
from storystick.job.sticks import Hand
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.frame import Cover, seen_of
from storystick.layout.cabinets.levels import Level
from storystick.layout.cabinets.pieces import UPRIGHT_ROLES, Axis, Case, End, Ending, Piece, Range, Role


@dataclass(frozen=True, slots=True)
class Outer:
    """The sides from the left, what closes the case below and above, and how that bounds its openings."""

    sides: tuple[Piece, Piece]
    below: tuple[Piece, ...]
    above: tuple[Piece, ...]
    bottom: Level
    top: Level

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All of them, in the order of the cutting list and of all pages."""
        return (*self.sides, *self.below, *self.above)


def make_outer(cabinet: Cabinet, case: Case, cover: Cover) -> Outer:
    """The outer parts of a case."""
    maker = _Maker(cabinet, case, cover)
    rules = {End.BOTTOM: cabinet.bottom, End.TOP: cabinet.top}
    over = {end: maker.panel(end, rule) for end, rule in rules.items() if rule.place is EndPlace.OVER}
    sides = maker.sides(over.get(End.BOTTOM), over.get(End.TOP))
    below, above = (over.get(end) or maker.panel(end, rule, sides) for end, rule in rules.items())
    return Outer(sides, (below,), (above,), level_of(below), level_of(above))


@dataclass(frozen=True, slots=True)
class _Maker:
    cabinet: Cabinet
    case: Case
    cover: Cover

    def sides(self, below: Piece | None, above: Piece | None) -> tuple[Piece, Piece]:
        """The sides, between what lies ``below`` and ``above`` over their ends."""
        case, cabinet = self.case, self.cabinet
        foot, head = below.z.end if below else case.z.start, above.z.start if above else case.z.end
        lifted = base_of(cabinet).lifted
        ends = ending_on(below, cabinet.bottom.joint), ending_on(above, cabinet.top.joint)

        def side(hand: Hand, x: Range) -> Piece:
            front, z = self.cover.side(x), Range(foot + lifted(hand), head)
            return case_piece(
                cabinet, Role.SIDE, f"{hand.value} side", cabinet.sides, (x, case.y, z), ends, front, hand
            )

        return (
            side(Hand.LEFT, Range(case.x.start, case.inside_x.start)),
            side(Hand.RIGHT, Range(case.inside_x.end, case.x.end)),
        )

    def panel(self, end: End, rule: EndRule, sides: tuple[Piece, Piece] | None = None) -> Piece:
        """A bottom or a top, between ``sides`` or over them."""
        case, role, z = self.case, Role(end.value), self._place(end)
        x, y = (case.inside_x, case.end_y) if sides else (case.x, case.y)
        front = Range(*self._seen(end))
        ends = both_ends(sides, rule.joint) if sides else (Ending(), Ending())
        return case_piece(self.cabinet, role, end.value, rule.stock, (x, y, z), ends, front, closes=end)

    def _place(self, end: End) -> Range:
        """How high a bottom or a top lies."""
        box, inside = self.case.box_z, self.case.inside_z
        return Range(box.start, inside.start) if end is End.BOTTOM else Range(inside.end, box.end)

    def _seen(self, end: End) -> tuple[Fraction, Fraction]:
        return self.cover.bottom() if end is End.BOTTOM else self.cover.top()


def case_piece(
    cabinet: Cabinet,
    role: Role,
    name: str,
    stock: Stock,
    room: tuple[Range, Range, Range],
    ends: tuple[Ending, Ending],
    front: Range,
    hand: Hand | None = None,
    closes: End | None = None,
) -> Piece:
    """A part of the case in its ``room`` across, in depth and up, with its low and its high ending."""
    (x, y, z), (low, high) = room, ends
    # What enters the face frame at the front edge of every part of the case that is not set back from it.
    frame = cabinet.frame
    joint = frame.joint if frame and y.start == frame.stock.thickness else None
    return Piece(
        cabinet=cabinet,
        role=role,
        name=name,
        stock=stock,
        axis=Axis.Z if role in UPRIGHT_ROLES else Axis.X,
        x=x,
        y=y,
        z=z,
        low=low,
        high=high,
        front_tongue=joint.entry if joint else Fraction(0),
        front=front,
        hand=hand,
        closes=closes,
    )


def level_of(piece: Piece) -> Level:
    """What is seen of a level part of the case."""
    seen = seen_of(piece)
    return Level(piece, seen.start, seen.end, piece.x)


def ending_on(on: Piece | None, joint: Joint | None) -> Ending:
    """The end of a piece on another, if it ends on one."""
    return Ending(on, joint, joint.entry if joint else Fraction(0)) if on else Ending()


def both_ends(ons: tuple[Piece, Piece], joint: Joint | None) -> tuple[Ending, Ending]:
    """Both ends alike."""
    low, high = ons
    return ending_on(low, joint), ending_on(high, joint)
