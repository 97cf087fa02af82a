"""Web frames and dust panels: two rails and the runners between them, made before the case and then a part of it.

The frame as a whole ends on the uprights, takes the dividers that end on it, and is told as one part. Its members lie
in it as they are before its ends and its front edge are worked, tongues and all. A runner stands at either end, and one
under or over every divider that ends on the frame; each enters the rails with a stub tongue. All inner edges of a dust
panel's frame are grooved, in which its panels lie dry.

How deep the grooves are, how wide members are, and what panels have to spare: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from storystick.errors import Fault
from storystick.job.back_makes import PLAY
from storystick.job.case_joints import Tongue
from storystick.job.edgings import BoardEdge
from storystick.job.kinds import Scope
from storystick.job.openings import Stock
from storystick.layout.cabinets.between import Web
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Ending, Piece, Range, Role
from storystick.layout.cabinets.skeleton import Skeleton
from storystick.layout.cabinets.works import Surface, Work, WorkKind, width_of
from storystick.lengths import Figures


def web_members(skeleton: Skeleton, figures: Figures) -> tuple[Piece, ...]:
    """The members of every web frame, frame by frame.

    Raises:
        Fault: they have no room in it; ``figures`` says the lengths.
    """
    dividers = [piece for piece in skeleton.pieces if piece.role is Role.DIVIDER]
    return tuple(
        member
        for web, rule in skeleton.webs
        for member in _Maker(web, rule, figures).members(
            [each for each in dividers if web in (each.low.on, each.high.on)]
        )
    )


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the members of one frame."""

    web: Piece
    rule: Web
    figures: Figures

    @property
    def joint(self) -> Tongue:
        """Of runners with rails: as thick as the panel, or a third of the frame."""
        width = self.panel.thickness if self.panel else self.web.stock.thickness / 3
        # What a panel of a back has to spare in its groove, and half the groove at most.
        gap = min(PLAY(Scope(self.figures.units)), self.rule.groove / 2)
        return Tongue("web frame", width, self.rule.groove, bottom_gap=gap)

    @property
    def panel(self) -> Stock | None:
        return self.rule.panel

    def members(self, dividers: Sequence[Piece]) -> Iterator[Piece]:
        """Front and back rail, runners from the left, then the panels between them."""
        x = Range(self.web.low_end, self.web.low_end + self.web.length)
        start, end = self.web.y.start - self.web.front_tongue, self.web.y.end
        front, back = Range(start, start + self.rule.width), Range(end - self.rule.width, end)
        if front.end + 2 * self.rule.groove >= back.start:
            raise self._no_room("deep", width_of(self.web))
        rails = [
            self._member(Role.WEB_RAIL, f"{word} rail", Axis.X, x, y) for word, y in (("front", front), ("back", back))
        ]
        rails = [
            replace(rail, edged=tuple(edge for edge in self.web.edged if edge is own))
            for rail, own in zip(rails, (BoardEdge.FRONT, BoardEdge.BACK), strict=True)
        ]
        runners = self._runners(x, rails, dividers)
        panels = self._panels(rails, runners) if self.panel else ()
        yield from (*rails, *runners, *panels)

    def _member(self, role: Role, word: str, axis: Axis, x: Range, y: Range) -> Piece:
        return Piece(
            cabinet=self.web.cabinet,
            role=role,
            name=f"{word} of {self.web.name}",
            stock=self.web.stock,
            axis=axis,
            x=x,
            y=y,
            z=self.web.z,
            part_of=self.web,
        )

    def _runners(self, x: Range, rails: Sequence[Piece], dividers: Sequence[Piece]) -> list[Piece]:
        """At both ends, and one at every divider, in the middle of that."""
        half = self.rule.width / 2
        middles = sorted({(each.x.start + each.x.end) / 2 for each in dividers})
        places = [x.start + half, *middles, x.end - half]
        if any(high - low <= self.rule.width + 2 * self.rule.groove for low, high in pairwise(places)):
            raise self._no_room("long" if len(places) == 2 else "long between its dividers", self.web.length)
        words = ["left runner", *_numbered("middle runner", len(middles)), "right runner"]
        front, back = rails
        ends = (Ending(rail, self.joint, self.joint.entry) for rail in rails)
        low, high = ends
        y = Range(front.y.end, back.y.start)
        return [
            replace(self._member(Role.RUNNER, word, Axis.Y, Range(place - half, place + half), y), low=low, high=high)
            for word, place in zip(words, places, strict=True)
        ]

    def _panels(self, rails: Sequence[Piece], runners: Sequence[Piece]) -> Iterator[Piece]:
        """A panel between each two runners, short of the bottoms of its grooves."""
        if self.panel is None:
            return
        thick = self.web.stock.thickness
        if 2 * self.panel.thickness > thick:
            raise Fault(
                f"the panel of {self.web.name} is {self.figures(self.panel.thickness)} thick, more than half of the "
                f"{self.figures(thick)} that its frame has",
                "make the panel thinner or the frame thicker",
            )
        entry = self.joint.entry
        front, back = rails
        y = Range(front.y.end - entry, back.y.start + entry)
        low = self.web.z.start + (thick - self.panel.thickness) / 2
        z = Range(low, low + self.panel.thickness)
        words = _numbered("panel", len(runners) - 1)
        for word, (left, right) in zip(words, pairwise(runners), strict=True):
            place = Range(left.x.end - entry, right.x.start + entry)
            yield replace(self._member(Role.WEB_PANEL, word, Axis.X, place, y), stock=self.panel, z=z)

    def _no_room(self, way: str, size: Fraction) -> Fault:
        return Fault(
            f"{self.web.name} is {self.figures(size)} {way}, which leaves no room between members "
            f"{self.figures(self.rule.width)} wide",
            "make its width less",
        )


def _numbered(word: str, count: int) -> list[str]:
    return [word] if count == 1 else [f"{word} {number}" for number in range(1, count + 1)]


def web_works(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
    """What is worked on a member before the frame is glued: its groove, along the inner edges, and its stub tongues."""
    for edge, met in _inner_edges(layout, board):
        joint = _runners_of(layout, board)[0].low.joint
        groove = joint.groove(board.stock.thickness) if joint else None
        if joint is None or groove is None:
            continue
        whole = Range(Fraction(0), board.length)
        across = Range(*groove)
        yield Work(WorkKind.EDGE_GROOVE, edge, board, met, whole, across, joint.depth, joint, along_board=True)


def _runners_of(layout: CabinetLayout, board: Piece) -> list[Piece]:
    return [piece for piece in layout.of(Role.RUNNER) if piece.part_of is board.part_of]


def _inner_edges(layout: CabinetLayout, board: Piece) -> Iterator[tuple[Surface, Piece]]:
    """The edges of a member that are grooved, each with a piece that enters it.

    A rail's inner edge takes the runners, and all edges along a panel take that.
    """
    own = [piece for piece in layout.of(Role.RUNNER, Role.WEB_PANEL) if piece.part_of is board.part_of]
    if board.role is Role.WEB_RAIL:
        yield Surface.BACK if own[0].y.start >= board.y.end - own[0].low.beyond else Surface.FRONT, own[0]
    if board.role is Role.RUNNER:
        for panel in own:
            if panel.role is Role.WEB_PANEL and panel.x.start < board.x.start < panel.x.end:
                yield Surface.LOW, panel
            if panel.role is Role.WEB_PANEL and panel.x.start < board.x.end < panel.x.end:
                yield Surface.HIGH, panel
