"""What is worked on the members of a face frame where they end on each other, by their joint; and why it cannot be.

Stations are as in ``works``; across what goes into a member's edge or face they count from its front face.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Any, Final

from storystick.errors import Fault
from storystick.job.frame_joints import HalfLap, MortiseAndTenon
from storystick.layout.cabinets.pieces import FRAME_ROLES, CabinetLayout, Ending, Piece, Range
from storystick.layout.cabinets.works import Surface, Work, WorkKind, width_of
from storystick.lengths import Figures

_NOTHING: Final = Fraction(0)


@dataclass(frozen=True, slots=True)
class _End:
    """One end of a ``piece`` of the frame, by its ``ending``: the low or the ``high`` one."""

    piece: Piece
    ending: Ending
    high: bool

    @property
    def on(self) -> Piece:
        if self.ending.on is None:
            raise ValueError(f"{self.piece.name} ends on nothing")
        return self.ending.on

    @property
    def surface(self) -> Surface:
        return Surface.HIGH_END if self.high else Surface.LOW_END

    @property
    def edge(self) -> Surface:
        """The edge of the other member that it ends on."""
        return Surface.LOW if self.high else Surface.HIGH

    @property
    def along_other(self) -> Range:
        """Where the member lies along the other, from that one's low end."""
        return Range(self.piece.across.start - self.on.low_end, self.piece.across.end - self.on.low_end)

    def last(self, length: Fraction) -> Range:
        """So much of the piece at this end."""
        start = self.piece.length - length if self.high else _NOTHING
        return Range(start, start + length)

    def tongue(self, across: Range) -> Work:
        ending = self.ending
        thick = self.piece.entering(ending.joint)
        along = self.last(ending.beyond)
        return Work(
            WorkKind.TONGUE, self.surface, self.piece, self.on, along, across, ending.beyond, ending.joint, thick
        )


def _ends_of(piece: Piece) -> Iterator[_End]:
    for ending, high in ((piece.low, False), (piece.high, True)):
        if ending.on:
            yield _End(piece, ending, high)


def member_ends(_layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What a member has at its own ends: tenons, laps."""
    for end in _ends_of(board):
        if end.ending.beyond:
            yield from _worked(end).own(end)


def let_into_member(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What is cut into a member for those that end on it, or the lines of their edges."""
    for piece, ending, on_high in layout.ends_on(board):
        end = _End(piece, ending, not on_high)
        yield from _worked(end).others(end)


def _left_to_the_shop(end: _End) -> Iterator[Work]:
    """A mortise of which nothing is known but where the rail is and how long its tenon; nothing without one."""
    kind = WorkKind.MORTISE if end.ending.beyond else WorkKind.LINE
    across = Range(_NOTHING, end.on.stock.thickness)
    yield Work(kind, end.edge, end.on, end.piece, end.along_other, across, end.ending.beyond)


def _whole(end: _End) -> Iterator[Work]:
    yield end.tongue(Range(_NOTHING, width_of(end.piece)))


def _insets(end: _End, joint: MortiseAndTenon) -> tuple[Fraction, Fraction]:
    """How far the tenon is set in from the piece's low and from its high edge.

    At the end of the other member it keeps clear of that end, so that wood is left standing beyond the mortise.
    """
    along, wanted = end.along_other, joint.cut_back(end.piece.across.size)
    room = along.start, end.on.length - along.end
    low, high = (max(joint.shoulder, wanted - max(left, _NOTHING)) for left in room)
    return low, high


def _tenon_across(end: _End, joint: MortiseAndTenon) -> Range | None:
    """What of the piece's width goes into the mortise; None where nothing is left of it."""
    low, high = _insets(end, joint)
    far = end.piece.across.size - high
    return Range(low, far) if low < far else None


def _haunches(end: _End, joint: MortiseAndTenon) -> Iterator[tuple[Range, bool]]:
    """The stretches beside the tenon at ends of the other member: across the piece, and whether it is the high one."""
    width, along = end.piece.across.size, end.along_other
    low, high = _insets(end, joint)
    if low > joint.shoulder:
        yield Range(max(-along.start, _NOTHING), low), False
    if high > joint.shoulder:
        yield Range(width - high, min(width, width + end.on.length - along.end)), True


def _mortise(end: _End) -> Iterator[Work]:
    joint, tenon = _mortised(end), _tenon_across(end, _mortised(end))
    if tenon is None:
        return
    start, walls = end.along_other.start, Range(*joint.groove(end.on.stock.thickness))

    def into(kind: WorkKind, part: Range, depth: Fraction) -> Work:
        along = Range(start + part.start, start + part.end)
        return Work(kind, end.edge, end.on, end.piece, along, walls, depth, joint)

    yield into(WorkKind.MORTISE, tenon, joint.depth)
    if haunch := joint.haunch_length(end.piece.stock.thickness):
        for part, _ in _haunches(end, joint):
            yield into(WorkKind.HAUNCHING, part, haunch)


def _tenon(end: _End) -> Iterator[Work]:
    """The tenon, and what is cut back beside it: to the haunch, or to the shoulder."""
    joint, tenon = _mortised(end), _tenon_across(end, _mortised(end))
    if tenon is None:
        return
    yield end.tongue(tenon)
    haunch = joint.haunch_length(end.piece.stock.thickness)
    haunched = {high for _, high in _haunches(end, joint)}
    for start, stop, high in ((_NOTHING, tenon.start, False), (tenon.end, width_of(end.piece), True)):
        length = joint.length - (haunch if high in haunched else _NOTHING)
        if start < stop:
            across = Range(start, stop)
            yield Work(WorkKind.CUT_BACK, end.surface, end.piece, end.on, end.last(length), across, length, joint)


def _mortised(end: _End) -> MortiseAndTenon:
    joint = end.ending.joint
    if not isinstance(joint, MortiseAndTenon):
        raise TypeError(f"{end.piece.name} has no tenon")
    return joint


def _lapped(end: _End) -> Iterator[Work]:
    """The edges of what is lapped, and the half that the other member loses behind, right across it."""
    yield Work(
        WorkKind.LINE, end.edge, end.on, end.piece, end.along_other, Range(_NOTHING, end.on.stock.thickness), _NOTHING
    )
    half = end.on.stock.thickness / 2
    across = Range(_NOTHING, width_of(end.on))
    yield Work(WorkKind.LAP, Surface.BACK, end.on, end.piece, end.along_other, across, half, end.ending.joint)


@dataclass(frozen=True, slots=True)
class _Made:
    """What a joint makes of a member's own end, and of the member that it ends on."""

    own: Callable[[_End], Iterator[Work]]
    others: Callable[[_End], Iterator[Work]]


_USUAL: Final = _Made(_whole, _left_to_the_shop)
_MADE: Final[Mapping[type[Any], _Made]] = {
    MortiseAndTenon: _Made(_tenon, _mortise),
    HalfLap: _Made(_whole, _lapped),
}


def _worked(end: _End) -> _Made:
    return _MADE.get(type(end.ending.joint), _USUAL)


def frame_ends_fit(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether the members of the frame can be joined as the job says."""
    for piece in layout.of(*FRAME_ROLES):
        for end in _ends_of(piece):
            yield from _tenon_left(end, figures)
    yield from _laps_keep_apart(layout)
    yield from _keeps_clear_behind(layout, figures)


def _tenon_left(end: _End, figures: Figures) -> Iterator[Fault]:
    joint = end.ending.joint
    if isinstance(joint, MortiseAndTenon) and _tenon_across(end, joint) is None:
        yield Fault(
            f'"{end.piece.name}" is {figures(end.piece.across.size)} wide, and haunch and shoulders leave no tenon of '
            f'it in "{end.on.name}"',
            "make haunch_width or shoulder less, or the member wider",
        )


def _laps_keep_apart(layout: CabinetLayout) -> Iterator[Fault]:
    """Two members that lap a third behind cannot both have all of its width."""
    for board in layout.of(*FRAME_ROLES):
        laps = [work for work in let_into_member(layout, board) if work.kind is WorkKind.LAP]
        for one, other in combinations(laps, 2):
            if one.along.overlaps(other.along):
                yield Fault(
                    f'"{one.other.name}" and "{other.other.name}" both lap "{board.name}" at the same place',
                    "give the frame a mortise and tenon",
                )


def _keeps_clear_behind(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether the groove behind, for the case, leaves what the members are joined by: no tenon, no lap may be cut."""
    frame = layout.cabinet.frame
    if frame is None or frame.joint is None or frame.joints is None:
        return
    taken = frame.joints.enters(frame.stock.thickness)
    reaches = taken[1] if taken else _NOTHING
    left = frame.stock.thickness - frame.joint.depth
    if reaches > left:
        yield Fault(
            f"what joins the members of the frame reaches {figures(reaches)} from its front face, and the groove for "
            f"the case leaves {figures(left)} there",
            "make the joint of the case less deep, set a tenon nearer the front, or leave the case butted",
        )
