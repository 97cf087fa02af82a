"""Grooves and rabbets that run along a part and stop: cut with a router whose edge guide runs on an edge of the part.

At a saw the blade's rise would run on beyond the stop and cannot be seen, so it gets none of them. Two lines on the
part, from where to where, say where the bit is let in and where it is lifted; both of a pair have the same edge for
the guide. What a front tongue has to lose behind the frame's members is here too, since it is done by hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.job.shop import Shop
from storystick.job.tools import Bit
from storystick.layout.cabinets.pieces import CASE_ROLES, CabinetLayout, Piece
from storystick.layout.cabinets.working import all_works
from storystick.layout.cabinets.works import CUTS, Surface, Work, WorkKind, end_words
from storystick.lengths import Figures
from storystick.tooling.bars import Limits, depths, fit_to_try, limits_of, rank, shims
from storystick.tooling.cautions import ABOVE_ALL, CLAMP, FEATHERBOARDS, PROTECT, UNPLUG, WIDE_BLANK
from storystick.tooling.fence_grooves import at_fence, edge_of
from storystick.tooling.setups import names_of
from storystick.wording import listed

GUIDED: Final = (
    "These stop short of an end of the part, so they are not for the saw. Draw both lines across the face, let the bit "
    "down over the waste between them, and lift it at the far line; the guide runs on the edge that is named. Feed the "
    "router so that the bit pulls the guide to that edge, and of two figures begin with the larger. A part on which "
    "the router would tip, such as a stile, goes to a router table: the same edge on its fence, stop blocks for both "
    f"lines, and {FEATHERBOARDS}; or {WIDE_BLANK}. Square the ends with a chisel."
)
_GUIDE_FARTHER: Final = "run a pass before this one with the guide so much farther off"
BY_HAND: Final = (
    "Run the front tongue the whole length of the edge. Where a stile or a rail crosses in front of it, saw the tongue "
    "off to its shoulder by hand:"
)
BY_HAND_TITLE: Final = "By hand, after the saw"
GUIDED_TITLE: Final = "Grooves and rabbets that stop, with a router and its edge guide"
GUIDED_CAUTIONS: Final = (ABOVE_ALL, UNPLUG, CLAMP, PROTECT)


@dataclass(frozen=True, slots=True)
class GuidedCut:
    """A groove or rabbet that stops, in parts that are cut alike; lengths in mm.

    ``start`` and ``end`` are its edges across the part, ``near`` how far it is from the edge ``against`` which the
    guide runs. It runs from ``low`` to ``high``, counted from the ``datum`` end; ``stops`` is whether wood is left
    standing there. ``settings`` are from the guide to the near side of the bit, pass by pass; empty with ``bit`` None,
    where ``lack`` says why there is none. ``depths`` are the bit's.
    """

    parts: tuple[str, ...]
    words: str
    cut: str
    name: str
    start: Fraction
    end: Fraction
    near: Fraction
    depth: Fraction
    against: str
    low: Fraction
    high: Fraction
    datum: str
    stops: tuple[bool, bool]
    bit: Bit | None
    settings: tuple[Fraction, ...]
    depths: tuple[Fraction, ...]
    lack: str = ""

    @property
    def width(self) -> Fraction:
        return self.end - self.start

    @property
    def title(self) -> str:
        return f"{self.words}: {self.cut}"

    def figures(self, figures: Figures) -> tuple[str, ...]:
        """How large it is, from where to where it runs, and how guide and bit are set."""
        return (
            f"{figures(self.width)} wide, {figures(self.depth)} deep",
            f"from {figures(self.low)}{_open(self.stops[0])} to {figures(self.high)}{_open(self.stops[1])} "
            f"from the {self.datum}",
            *self._settings(figures),
        )

    def _settings(self, figures: Figures) -> Iterator[str]:
        if self.bit is None:
            yield f"{self.lack}; {figures(self.near)} from the {self.against} to its near edge"
            return
        passes = " then ".join(map(figures, self.settings))
        yield f"bit {self.bit.name}, its near side {passes} from the {self.against}"
        if len(self.depths) > 1:
            yield f"bit at {' then '.join(map(figures, self.depths))}"
        tried = fit_to_try(f"bit {self.bit.name}", self.bit.diameter, self.width, figures, _GUIDE_FARTHER)
        if len(self.settings) == 1 and tried:
            yield tried


def _open(stops: bool) -> str:
    return "" if stops else " (the end)"


def guided_rows(cuts: Sequence[GuidedCut], figures: Figures) -> Iterator[str]:
    """Each cut as a sentence, after its number."""
    for number, cut in enumerate(cuts, start=1):
        yield f"{number}. {cut.title}, {'; '.join(cut.figures(figures))}."


def guided_cuts(cabinets: Sequence[CabinetLayout], shop: Shop, figures: Figures) -> tuple[GuidedCut, ...]:
    """Every groove and rabbet along a part that stops, those that are cut alike as one."""
    found: dict[tuple[object, ...], list[Work]] = {}
    for work in all_works(cabinets):
        if work.kind in CUTS and work.along_board and work.is_stopped:
            found.setdefault(_shape(work), []).append(work)
    return tuple(_cut(works, shop, figures) for works in found.values())


def tongue_ends(cabinets: Sequence[CabinetLayout], figures: Figures) -> tuple[str, ...]:
    """What of front tongues is sawn away by hand: the parts, and how much at which ends."""
    found: dict[str, list[Piece]] = {}
    for work in all_works(cabinets):
        if work.kind is WorkKind.TONGUE and work.on is Surface.FRONT and work.is_stopped:
            found.setdefault(_lost(work, figures), []).append(work.board)
    return tuple(f"{names_of(boards)}: {lost}" for lost, boards in found.items())


def _lost(tongue: Work, figures: Figures) -> str:
    ends = end_words(tongue.board)
    sizes = (tongue.run.start, tongue.board.length - tongue.run.end)
    lost = [
        f"{figures(size)} at its {end}" for end, size, stops in zip(ends, sizes, tongue.stops, strict=True) if stops
    ]
    return f"{listed(lost)}, {figures(tongue.depth)} deep"


def _shape(work: Work) -> tuple[object, ...]:
    role = None if work.board.role in CASE_ROLES else work.board.role
    where = (work.run.start, work.run.end, work.inset, work.width, work.depth)
    return (work.kind, role, work.board.axis, work.edges, *where, work.stops)


def _cut(alike: Sequence[Work], shop: Shop, figures: Figures) -> GuidedCut:
    work, boards = alike[0], [work.board for work in alike]
    limits = limits_of(shop.routing, figures.units).with_fit(work.joint.fit if work.joint else Fraction(0))
    bit = bit_for(work.width, shop, limits)
    settings = _settings(work, bit, limits) if bit else ()
    return GuidedCut(
        parts=tuple(board.full_name for board in boards),
        words=names_of(boards),
        cut=work.words,
        name=work.other.name,
        start=work.edges.start,
        end=work.edges.end,
        near=work.inset,
        depth=work.depth,
        against=edge_of(work.board),
        low=work.run.start,
        high=work.run.end,
        datum=end_words(work.board)[0],
        stops=work.stops,
        bit=bit,
        settings=tuple(settings),
        depths=depths(work.depth, bit, figures.units) if bit else (),
        lack=no_bit(bit, shop),
    )


def bit_for(width: Fraction, shop: Shop, limits: Limits) -> Bit | None:
    """The bit that fits best; none that hangs over an edge, where the guide would be in its way."""
    straight = (bit for bit in shop.bits if not bit.angle)
    ranks = [(found, bit) for bit in straight if (found := rank(bit.diameter, width, False, limits)) is not None]
    return min(ranks, key=lambda ranked: ranked[0])[1] if ranks else None


def no_bit(bit: Bit | None, shop: Shop) -> str:
    """Why there is no bit; empty where there is one."""
    return "" if bit else "no bit of the shop is so narrow" if shop.bits else "the shop file has no bit"


def _settings(work: Work, bit: Bit, limits: Limits) -> Sequence[Fraction]:
    """From the guide to the near side of the bit, the farthest first, so that no later pass is a climb cut."""
    if len(shims(work.width, bit.diameter, limits)) == 1:
        return (work.inset,)
    return at_fence(work).settings(bit.diameter)[::-1]
