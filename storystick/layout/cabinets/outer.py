"""The outer parts of a case: its sides, and what closes it at its bottom and its top, if anything does.

What lies over the sides is made before them, since they end on it; what stands between them comes after.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.errors import Fault, Where
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace, EndRule, Overhang
from storystick.job.edgings import BoardEdge
from storystick.job.joints import Joint
from storystick.job.openings import Stock
from storystick.job.sticks import Hand
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.cover import Cover
from storystick.layout.cabinets.edging import edged
from storystick.layout.cabinets.frame import seen_of
from storystick.layout.cabinets.levels import Level
from storystick.layout.cabinets.pieces import UPRIGHT_ROLES, Axis, Case, End, Ending, Piece, Range, Role
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class Outer:
    """The sides from the left, what closes the case below and above, and how that bounds its openings."""

    sides: tuple[Piece, Piece]
    below: tuple[Piece, ...]
    above: tuple[Piece, ...]
    bottom: Level
    top: Level

    @property
    def levels(self) -> Mapping[End, Level]:
        return {End.BOTTOM: self.bottom, End.TOP: self.top}

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All of them, in the order of the cutting list and of all pages."""
        return (*self.sides, *self.below, *self.above)

    def ending_at(self, level: Level, joint: Joint | None, y: Range) -> Ending:
        """The end at a level of a divider that takes ``y`` of the depth: on all that lies in one plane before or behind
        it there, and free at an open end of the case or beside its stretchers.

        It is butted to what stands on edge.
        """
        first = level.piece
        if first is None:
            return Ending()
        inside = first.z.end if first.closes is End.BOTTOM else first.z.start
        plane = [
            each
            for each in self.pieces
            if each.closes is first.closes and each.on_edge is first.on_edge and inside in (each.z.start, each.z.end)
        ]
        met = [each for each in (plane if first.closes else [first]) if each.y.overlaps(y)]
        if not met:
            return Ending()
        on, *also = met
        return replace(ending_on(on, None if on.on_edge else joint), also=tuple(also))


def make_outer(cabinet: Cabinet, case: Case, cover: Cover, figures: Figures) -> Outer:
    """The outer parts of a case.

    Raises:
        Fault: stretchers have no room; ``figures`` says the lengths.
    """
    maker = _Maker(cabinet, case, cover, figures)
    rules = {End.BOTTOM: cabinet.bottom, End.TOP: cabinet.top}
    over = {end: maker.panel(end, rule) for end, rule in rules.items() if rule.place is EndPlace.OVER}
    sides = maker.sides(over.get(End.BOTTOM), over.get(End.TOP))
    below, above = ((over[end],) if end in over else maker.between(end, rule, sides) for end, rule in rules.items())
    return Outer(sides, below, above, maker.level(End.BOTTOM, below), maker.level(End.TOP, above))


@dataclass(frozen=True, slots=True)
class _Maker:
    cabinet: Cabinet
    case: Case
    cover: Cover
    figures: Figures

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
        x, y = (case.inside_x, case.end_y) if sides else self._over(rule.overhang)
        # Under one that lies over the frame too a rail has nothing behind it.
        front = None if rule.reaches_front and self.cover.rule else Range(*self._seen(end))
        ends = both_ends(sides, _joint_at(end, rule)) if sides else (Ending(), Ending())
        return case_piece(self.cabinet, role, end.value, rule.stock, (x, y, z), ends, front, closes=end)

    def _over(self, overhang: Overhang) -> tuple[Range, Range]:
        """How far one over the sides reaches, across and into the depth: as far as they, or beyond the overall sizes.

        What it overhangs in front counts from the finished front, edging and all.
        """
        case, cabinet = self.case, self.cabinet
        reach = (
            (case.x.start, Fraction(0), -overhang.left),
            (case.x.end, cabinet.width, overhang.right),
            (case.y.start, cabinet.edging_of_sides[0], -overhang.front),
            (case.y.end, cabinet.depth, overhang.back),
        )
        left, right, front, back = (beyond + by if by else usual for usual, beyond, by in reach)
        return Range(left, right), Range(front, back)

    def between(self, end: End, rule: EndRule, sides: tuple[Piece, Piece]) -> tuple[Piece, ...]:
        """What closes an end between the sides: a board, two stretchers, or nothing."""
        if rule.place is EndPlace.NONE:
            return ()
        if rule.place is EndPlace.BETWEEN:
            return (self.panel(end, rule, sides),)
        return tuple(self._stretchers(end, rule, sides))

    def _stretchers(self, end: End, rule: EndRule, sides: tuple[Piece, Piece]) -> Iterator[Piece]:
        """One at the front edge of the case, and one that ends at the inner face of the back."""
        room, thick = self.case.inner_y, rule.stock.thickness
        front, back = (thick if on_edge else rule.width for on_edge in (rule.turned.front, rule.turned.back))
        if front + back > room.size:
            raise Fault(
                f"the stretchers at the {end.value} take {self.figures(front + back)} of the depth, of which "
                f"{self.figures(room.size)} can be had",
                f"make them {self.figures.at_most((room.size) / 2)} wide at most, or the cabinet deeper",
                Where.unsaid(end.value),
            )
        places = (
            ("front stretcher", Range(room.start, room.start + front), rule.turned.front),
            ("back stretcher", Range(room.end - back, room.end), rule.turned.back),
        )
        for word, y, on_edge in places:
            flat = case_piece(
                self.cabinet,
                Role.STRETCHER,
                word if end is End.TOP else f"lower {word}",
                rule.stock,
                (self.case.inside_x, y, self._flat_or_on_edge(end, rule.width if on_edge else thick)),
                both_ends(sides, rule.joint if on_edge else _joint_at(end, rule)),
                Range(*self._seen(end)) if y.start == room.start else None,
                closes=end,
                on_edge=on_edge,
            )
            # Its face lies against the frame, where a flat one has its edge in it.
            yield replace(flat, front_tongue=Fraction(0)) if on_edge else flat

    def _flat_or_on_edge(self, end: End, height: Fraction) -> Range:
        box = self.case.box_z
        return Range(box.start, box.start + height) if end is End.BOTTOM else Range(box.end - height, box.end)

    def level(self, end: End, closing: tuple[Piece, ...]) -> Level:
        """How an end bounds the openings next to it."""
        return Level(closing[0] if closing else None, *self._seen(end), self.case.inside_x)

    def _place(self, end: End) -> Range:
        """How high a bottom or a top lies."""
        box, inside = self.case.box_z, self.case.inside_z
        return Range(box.start, inside.start) if end is End.BOTTOM else Range(inside.end, box.end)

    def _seen(self, end: End) -> tuple[Fraction, Fraction]:
        return self.cover.bottom() if end is End.BOTTOM else self.cover.top()


def _joint_at(end: End, rule: EndRule) -> Joint | None:
    """The joint of what lies flat at an end."""
    return rule.joint.at_top() if rule.joint and end is End.TOP else rule.joint


def case_piece(
    cabinet: Cabinet,
    role: Role,
    name: str,
    stock: Stock,
    room: tuple[Range, Range, Range],
    ends: tuple[Ending, Ending],
    front: Range | None,
    hand: Hand | None = None,
    closes: End | None = None,
    on_edge: bool = False,
    covered: Collection[BoardEdge] = (),
) -> Piece:
    """A part of the case in its ``room`` across, in depth and up, with its low and its high ending, less its edging.

    Raises:
        Fault: the edging leaves nothing of it.
    """
    (x, y, z), (low, high) = room, ends
    # What enters the face frame at the front edge of every part of the case that is not set back from it.
    frame = cabinet.frame
    joint = frame.joint if frame and y.start == frame.stock.thickness else None
    piece = Piece(
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
        front_tongue=joint.entry if joint and front else Fraction(0),
        front=front,
        hand=hand,
        closes=closes,
        on_edge=on_edge,
    )
    return edged(piece, covered)


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
