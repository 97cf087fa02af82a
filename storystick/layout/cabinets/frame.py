"""The members of a cabinet's face frame in their places: stiles, rails and mid stiles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.frames import FrameRule
from storystick.layout.cabinets.cover import Cover
from storystick.layout.cabinets.levels import Level
from storystick.layout.cabinets.pieces import Axis, End, Ending, Piece, Range, Role
from storystick.lengths import Figures

_MEMBER_NAMES: Final = {
    Role.BOTTOM: "{} rail",
    Role.TOP: "{} rail",
    Role.DIVIDER: "mid stile at {}",
    Role.CASE_RAIL: "frame rail at {}",
}
"""What a member of the frame is called after the part that it covers; "rail at" where nothing else is said."""


def clear_between(name: str, start: Fraction, end: Fraction, figures: Figures) -> Range:
    """What the members of the frame leave clear of an opening, or along a member.

    Raises:
        Fault: they leave nothing, which is told of the opening ``name``; ``figures`` says by how much they overlap.
    """
    if end <= start:
        over = figures.apart(start - end)
        raise Fault(
            f'the face frame closes opening "{name}": its members overlap by {over} there',
            "make the members narrower or the opening larger",
        )
    return Range(start, end)


def seen_of(piece: Piece) -> Range:
    """What is seen of a part from the front: the frame's member before it, or its own edge."""
    if piece.front is None:
        raise ValueError(f"{piece.name} has no front edge")
    return piece.front


def members_of(
    parts: Sequence[Piece],
    ends: Mapping[End, Level],
    names: Mapping[Piece | Level, str],
    cover: Cover,
    figures: Figures,
) -> Mapping[Piece | Level, Piece]:
    """Stiles, rails and mid stiles, each by the part of the case that it lies before; the sides come first of these.

    At the ``ends`` of the case a rail may have nothing behind it: it stands under what lies over it too, or at an open
    end. ``names`` are those of members that are not called after their part. None lies before what stands
    behind one front.
    """
    if cover.rule is None:
        return {}
    maker = _Members(cover.rule, cover, ends, names, figures, {})
    left, right, *others = (part for part in parts if not part.is_behind)
    maker.add_stiles(left, right)
    for end in ends:
        maker.add_bare(end)
    for part in others:
        if part.front is not None:
            maker.add(part)
    return maker.made


def rails_alone(
    levels: Sequence[Level],
    members: Mapping[Piece | Level, Piece],
    names: Mapping[Piece | Level, str],
    rule: FrameRule,
    figures: Figures,
) -> dict[Level, Piece]:
    """The rails with nothing behind them, each by the level that it stands at, between ``members`` by what they cover.

    ``names`` are those of rails that are not only numbered.

    Raises:
        Fault: the uprights beside one leave nothing of it.
    """
    made: dict[Level, Piece] = {}
    for level in levels:
        if level.rail_on is None:
            continue
        name = names.get(level) or f"frame rail {len(made) + 1}"
        left, right = (members[on] for on in level.rail_on)
        made[level] = Piece(
            cabinet=left.cabinet,
            role=Role.RAIL,
            name=name,
            stock=rule.stock,
            axis=Axis.X,
            x=clear_between(name, left.x.end, right.x.start, figures),
            y=left.y,
            z=Range(level.start, level.end),
            low=_member_ending(left, rule),
            high=_member_ending(right, rule),
        )
    return made


@dataclass(frozen=True, slots=True)
class _Members:
    """Makes members in an order in which those that another ends on come before it: ``made``, by what each covers."""

    rule: FrameRule
    cover: Cover
    ends: Mapping[End, Level]
    names: Mapping[Piece | Level, str]
    figures: Figures
    made: dict[Piece | Level, Piece]

    @property
    def _y(self) -> Range:
        return Range(Fraction(0), self.rule.stock.thickness)

    def add_stiles(self, *sides: Piece) -> None:
        z = Range(Fraction(0) if self.rule.to_floor else self.cover.foot, self.cover.case.head)
        for side in sides:
            name = f"{side.hand.value} stile" if side.hand else "stile"
            self.made[side] = Piece(
                cabinet=side.cabinet,
                role=Role.STILE,
                name=name,
                stock=self.rule.stock,
                axis=Axis.Z,
                x=seen_of(side),
                y=self._y,
                z=z,
                hand=side.hand,
                covers=side,
            )

    def add_bare(self, end: End) -> None:
        """The rail at an end of the case that no part stands behind, if it is so."""
        level = self.ends[end]
        if level.piece and level.piece.front:
            return
        left, right = self._stiles
        self.made[level.piece or level] = Piece(
            cabinet=left.cabinet,
            role=Role.RAIL,
            name=f"{end.value} rail",
            stock=self.rule.stock,
            axis=Axis.X,
            x=clear_between(end.value, left.x.end, right.x.start, self.figures),
            y=self._y,
            z=Range(level.start, level.end),
            low=_member_ending(left, self.rule),
            high=_member_ending(right, self.rule),
        )

    @property
    def _stiles(self) -> tuple[Piece, Piece]:
        left, right, *_ = self.made.values()
        return left, right

    def _stands_on(self, part: Piece) -> tuple[Piece, Piece]:
        """The members that the one before a part ends on: stiles, or of a divider what is at its ends."""
        usual = self._stiles
        if part.role is Role.DIVIDER:
            low, high = (
                self.made[on or self.ends[end]] if on is None or on.front is None else self.add(on)
                for on, end in ((part.low.on, End.BOTTOM), (part.high.on, End.TOP))
            )
            return low, high
        low, high = (
            self.add(on) if on else stile for on, stile in zip((part.low.on, part.high.on), usual, strict=True)
        )
        return low, high

    def add(self, part: Piece) -> Piece:
        """The rail or mid stile before a part; those that it ends on are added first."""
        if part in self.made:
            return self.made[part]
        # A top or bottom that lies over the sides ends on nothing, but its rail still stands between the stiles.
        low, high = self._stands_on(part)
        upright = part.role is Role.DIVIDER
        start, end = (low.z.end, high.z.start) if upright else (low.x.end, high.x.start)
        length, wide = clear_between(part.name, start, end, self.figures), seen_of(part)
        x, z = (wide, length) if upright else (length, wide)
        self.made[part] = Piece(
            cabinet=part.cabinet,
            role=Role.MID_STILE if upright else Role.RAIL,
            name=self.names.get(part) or _MEMBER_NAMES.get(part.role, "rail at {}").format(part.name),
            stock=self.rule.stock,
            axis=part.axis,
            x=x,
            y=self._y,
            z=z,
            low=_member_ending(low, self.rule),
            high=_member_ending(high, self.rule),
            covers=part,
        )
        return self.made[part]


def _member_ending(on: Piece, rule: FrameRule) -> Ending:
    return Ending(on, rule.joints, rule.joints.reach(on.across.size) if rule.joints else rule.tenon)
