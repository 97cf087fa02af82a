"""A cabinet's face frame: what its members cover of the parts behind them, and the members themselves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace, EndRule
from storystick.job.frames import Align, EndRail, FrameRule
from storystick.layout.cabinets.levels import Level
from storystick.layout.cabinets.pieces import Axis, Case, End, Ending, Piece, Range, Role
from storystick.lengths import Figures

_SHARE_BELOW: Final = {Align.BOTTOM: Fraction(0), Align.CENTRE: Fraction(1, 2), Align.TOP: Fraction(1)}
"""How much of the difference between a rail's width and its part's thickness lies below the part."""
_NO_FRAME: Final = 'give it a frame, or write "rail" or "nothing"'


def end_levels(
    cabinet: Cabinet, foot: Fraction, figures: Figures
) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
    """From where to where the bottom and the top take the height of the case, over a ``foot`` that a frame begins at.

    They stand at the ends of the case, or where the edge of the frame's rail before each wants its inner face.

    Raises:
        Fault: one would reach out of the case; ``figures`` says the lengths.
    """
    frame = cabinet.frame
    low = _set_back(cabinet.bottom, frame.bottom if frame else None, "bottom", figures)
    high = _set_back(cabinet.top, frame.top if frame else None, "top", figures)
    start, end = foot + low, cabinet.height - high
    return (start, start + cabinet.bottom.takes), (end - cabinet.top.takes, end)


def _set_back(rule: EndRule, rail: EndRail | None, word: str, figures: Figures) -> Fraction:
    """How far a bottom or a top lies inside of its end of the case."""
    if rail is None or rail.edge is None:
        return Fraction(0)
    thick, place = rule.takes, f"frame, {word}"
    if not thick or rule.reaches_front:
        why = f"the {word} lies over the frame as well" if thick else f"the case has no {word}"
        raise Fault(f"{why}, so that edge moves nothing", "leave edge out", place)
    back = rail.width - rail.edge - thick
    if back < 0:
        raise Fault(
            f"the {word} is {figures(thick)} thick, and the edge of its rail leaves only "
            f"{figures(rail.width - rail.edge)} for it before the end of the case",
            f"make the rail {figures.at_least(thick + rail.edge)} wide or wider, or leave out edge",
            place,
        )
    if back and rule.place is EndPlace.OVER:
        wide = figures(thick + rail.edge)
        raise Fault(
            f"the {word} lies over the ends of the sides and cannot be moved by the {figures(back)} that edge asks for",
            f'leave out edge, make the rail {wide} wide, or write place = "between" for the {word}',
            place,
        )
    return back


@dataclass(frozen=True, slots=True)
class Cover:
    """What a face frame covers of the parts behind it. Without a frame, every part covers itself."""

    cabinet: Cabinet
    case: Case

    @property
    def rule(self) -> FrameRule | None:
        return self.cabinet.frame

    @property
    def foot(self) -> Fraction:
        """Where the rails of the frame begin, above the toe space or the base."""
        return self.case.foot

    def side(self, part: Range) -> Range:
        """Before a side: the stile at that edge of the cabinet."""
        if self.rule is None:
            return part
        if part.start == self.case.x.start:
            return Range(Fraction(0), self.rule.stile.left)
        return Range(self.cabinet.width - self.rule.stile.right, self.cabinet.width)

    def bottom(self) -> tuple[Fraction, Fraction]:
        """What is seen at the bottom: its rail, or else what closes the case there; nothing has no height."""
        if self.rule:
            return self.foot, self.foot + self.rule.bottom.width
        return self.case.box_z.start, self.case.inside_z.start

    def top(self) -> tuple[Fraction, Fraction]:
        """What is seen at the top, likewise."""
        if self.rule:
            return self.case.head - self.rule.top.width, self.case.head
        return self.case.inside_z.end, self.case.box_z.end

    def rail(self, thick: Fraction, own: Fraction | None = None) -> tuple[Fraction, Fraction]:
        """How wide the rail before a level part is, and how far it reaches below the part, as align says.

        ``own`` is the width of just this rail, None where it is as the frame's rails are.
        """
        width = own or (self.rule.rail if self.rule else None)
        if self.rule is None or width is None:
            return thick, Fraction(0)
        return width, (width - thick) * _SHARE_BELOW[self.rule.align]

    def shelf(self, part: Range, own: Fraction | None = None) -> Range:
        """Before a shelf: its rail."""
        width, below = self.rail(part.size, own)
        return Range(part.start - below, part.start - below + width)

    def mid_stile(self, thick: Fraction) -> Fraction:
        """How wide the mid stile before a divider is."""
        return (self.rule.mid_stile if self.rule else None) or thick

    def rail_at(self, at: Fraction, own: Fraction | None = None) -> tuple[Fraction, Fraction]:
        """A rail with no part behind it, at a station between two openings: from where to where.

        Raises:
            Fault: nothing says how wide it is.
        """
        if self.rule is None:
            raise Fault("a frame rail stands between two openings, but the cabinet has no face frame", _NO_FRAME)
        if not (own or self.rule.rail):
            what = "a frame rail has no shelf behind it that would say how wide it is"
            raise Fault(what, "give rail = …, a length, in the frame", "frame")
        width, below = self.rail(Fraction(0), own)
        return at - below, at - below + width

    def divider(self, part: Range) -> Range:
        """Before a divider: a mid stile, centred on it."""
        width = self.mid_stile(part.size)
        left = part.start - (width - part.size) / 2
        return Range(left, left + width)


def clear_between(name: str, start: Fraction, end: Fraction, figures: Figures) -> Range:
    """What the members of the frame leave clear of an opening, or along a member.

    Raises:
        Fault: nothing; it is told of opening ``name``.
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


_MEMBER_NAMES: Final = {
    Role.BOTTOM: "{} rail",
    Role.TOP: "{} rail",
    Role.DIVIDER: "mid stile at {}",
    Role.CASE_RAIL: "frame rail at {}",
}
"""What a member of the frame is called after the part that it covers; "rail at" where nothing else is said."""
