"""What cannot be built; what can be but should be looked at, last of it the shelves that the frame does not let in."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import combinations
from typing import Final

from storystick.errors import Fault, FaultCollector, Steps, Where
from storystick.layout.cabinets.back_making import making_warnings
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.edging import edging_faults
from storystick.layout.cabinets.fastener_faults import fastener_faults
from storystick.layout.cabinets.fixed_in import fixed_in_the_way
from storystick.layout.cabinets.frame_checks import base_carries, frame_covers, frame_takes_tongues, legs_stand_free
from storystick.layout.cabinets.frame_ends import frame_ends_fit
from storystick.layout.cabinets.joint_faults import joint_faults
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, Bay, CabinetLayout, End, Piece, Role
from storystick.layout.cabinets.working import cuts_for_back, let_into
from storystick.layout.cabinets.works import Work, WorkKind
from storystick.lengths import Figures
from storystick.wording import by_number, listed

_AS_DEEP: Final = "make both as deep and set them back alike, or let a shelf stand there"
_CUT_WORDS: Final = {
    WorkKind.GROOVE: ("groove", "thick", "joint's depth"),
    WorkKind.RABBET: ("rabbet", "thick", "joint's depth"),
    WorkKind.MORTISE: ("mortise", "wide", "frame's tenon"),
}
"""What is cut, the measure of the board that it goes into, and the key that says how deep."""


def _words_of(cut: Work) -> tuple[str, str, str]:
    word, measure, cure = _CUT_WORDS[cut.kind]
    return word, measure, "joint's depth" if cut.joint else cure


def check_cabinet(layout: CabinetLayout, figures: Figures) -> None:
    """Find what cannot be built.

    Raises:
        Faults: all of it at once.
    """
    collector = FaultCollector()
    # A joint that does not fit its part comes first: what follows may be wrong by that alone.
    base = base_of(layout.cabinet)
    checks: tuple[tuple[Callable[[CabinetLayout, Figures], Iterator[Fault]], Steps], ...] = (
        (_something_between, ()),
        (joint_faults, ()),
        (_ends_are_met, ()),
        (_dividers_are_held, ()),
        (_crosses_no_frame, ("through",)),
        (edging_faults, ()),
        (fastener_faults, ()),
        (_cuts_fit, ()),
        (_cuts_keep_apart, ()),
        (_back_fits, ("back",)),
        (frame_covers, ("frame",)),
        (legs_stand_free, ()),
        (base_carries, ()),
        (frame_takes_tongues, ("frame",)),
        (frame_ends_fit, ("frame",)),
        (base.faults, base.key),
        (_shelves_adjust, ()),
    )
    for faults, key in checks:
        collector.add(*(fault.at(Where.unsaid(*key)) for fault in faults(layout, figures)))
    collector.raise_any()


def warnings_about(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """What leaves little wood: cuts from both sides less than a third of a piece, a rabbet less than a quarter.

    Both limits are common practice, no source. And shelves that the face frame does not let in.
    """
    yield from _thin_between(layout, figures)
    whole = layout.cabinet.sides.thickness
    for cut in cuts_for_back(layout, layout.sides[0]):
        if whole - cut.depth < whole / 4:
            yield f"what is cut for the back leaves {figures(whole - cut.depth)} of a side's {figures(whole)}"
    yield from _held_apart(layout)
    yield from _nailers_in_the_way(layout, figures)
    yield from fixed_in_the_way(layout, figures)
    yield from making_warnings(layout, figures)
    if layout.cabinet.frame:
        yield from passing_warnings(layout, figures)


def _something_between(layout: CabinetLayout, _figures: Figures) -> Iterator[Fault]:
    """Whether anything of the case stands between its sides, or over both."""
    if not any(True for side in layout.sides for _ in layout.ends_on(side)) and not any(
        side.low.on or side.high.on for side in layout.sides
    ):
        yield Fault(
            "nothing stands between the sides, so there is no case",
            'give it a top, a bottom, stretchers, nailers or a shelf: place = "none" leaves one end open',
        )


def _held_apart(layout: CabinetLayout) -> Iterator[str]:
    """At which open ends nothing keeps the sides together. A loose countertop or a back alone does not."""
    held = {End.TOP: layout.of(*FRAME_ROLES), End.BOTTOM: layout.of(*FRAME_ROLES, Role.PLINTH)}
    for end, by in held.items():
        near = layout.case.z.end if end is End.TOP else layout.case.box_z.start
        nailed = any(near in (piece.z.start, piece.z.end) for piece in layout.of(Role.NAILER))
        if not layout.at_end(end) and not by and not nailed:
            yield (
                f"nothing holds the sides together at the {end.value}: give it stretchers or a nailer there, or a "
                "face frame"
            )


def _nailers_in_the_way(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Which adjustable shelves cannot be set everywhere, since a nailer stands before the back there."""
    for nailer in layout.of(Role.NAILER):
        for bay in layout.bays:
            beside = nailer.x.overlaps(bay.x) and nailer.z.overlaps(bay.z) and nailer.y.start < layout.inner_back
            thick = layout.shelf_stock(bay).thickness if bay.compartment.adjustable else Fraction(0)
            # A shelf lies on its pins: at these holes it meets the nailer.
            met = [at for at in bay.hole_heights() if at < nailer.z.end and at + thick > nailer.z.start]
            if not beside or not met:
                continue
            into = dict(layout.hole_rows(bay))["back"]
            hidden = [at for at in met if at >= nailer.z.start]
            words = f"the adjustable shelves of {bay.name} cannot stand where the {nailer.name} is, "
            words += f"{figures(nailer.z.start)} to {figures(nailer.z.end)} above its foot"
            if hidden and nailer.y.start <= into <= nailer.y.end:
                words += f"; holes at {listed([figures(at) for at in hidden])} of the back row lie behind it"
            yield words


def _thin_between(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Where cuts from both sides leave too little; those that leave as much of as much are told as one."""
    alike: dict[tuple[str, str], list[tuple[Piece, Piece, Piece]]] = {}
    for one, other in _facing_cuts(layout):
        whole = one.board.across.size
        left = whole - one.depth - other.depth
        if left < whole / 3:
            alike.setdefault((figures(left), figures(whole)), []).append((one.board, one.other, other.other))
    for (left_of_it, all_of_it), found in alike.items():
        boards, ones, others = (
            listed(by_number(piece.name for piece in pieces)) for pieces in zip(*found, strict=True)
        )
        yield f"what is cut for {ones} and {others} in both sides of {boards} leaves {left_of_it} of {all_of_it}"


def _ends_are_met(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether every part of the case ends on what is as deep as it: else some of its end would be held by nothing.

    Under stretchers that is known.
    """
    for piece in layout.of(*CASE_ROLES):
        for on in dict.fromkeys(ending.on for ending in (piece.low, piece.high)):
            if on and on.role is Role.STRETCHER:
                continue
            beyond = {"front": on.y.start - piece.y.start, "back": piece.y.end - on.y.end} if on else {}
            for edge, over in beyond.items():
                if on and over > 0:
                    yield Fault(
                        f'"{piece.name}" reaches {figures.apart(over)} beyond the {edge} edge of "{on.name}", on which '
                        "it ends",
                        _AS_DEEP + (", with edging on both or on neither" if layout.cabinet.edging else ""),
                    )


def _dividers_are_held(layout: CabinetLayout, _figures: Figures) -> Iterator[Fault]:
    """Whether each divider ends on something, or holds shelves that hold it."""
    crossed = {divider for _, divider in layout.crossings}
    for piece in layout.of(Role.DIVIDER):
        if not piece.low.on and not piece.high.on and piece not in crossed and not any(layout.ends_on(piece)):
            yield Fault(
                f'"{piece.name}" ends on nothing above it and below it',
                "give the case a top or a bottom that it reaches, or a shelf",
            )


def _crosses_no_frame(layout: CabinetLayout, _figures: Figures) -> Iterator[Fault]:
    """A face frame has members of its own where shelves and dividers cross, and they cannot both run through."""
    if layout.crossings and layout.cabinet.frame:
        yield Fault(
            'through = "both" stands beside a face frame, whose rails and mid stiles would run through each other',
            'write through = "shelves" or "dividers", or leave the frame out',
        )


def _cuts_fit(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether a board is thick enough, or a frame's member wide enough, for what is let into it."""
    for board in layout.pieces:
        for cut in let_into(layout, board):
            if cut.depth >= board.across.size:
                word, measure, cure = _words_of(cut)
                yield Fault(
                    f'the {word} for "{cut.other.name}" is {figures(cut.depth)} deep, but "{board.name}" is '
                    f"{figures(board.across.size)} {measure}",
                    f"make the {cure} less",
                )


def _cuts_keep_apart(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    for one, other in _facing_cuts(layout):
        board, both = one.board, one.depth + other.depth
        if both >= board.across.size:
            word, measure, cure = _words_of(one)
            yield Fault(
                f'the {word}s for "{one.other.name}" and "{other.other.name}" meet inside "{board.name}": they are '
                f"{figures(both)} deep together, and it is {figures(board.across.size)} {measure}",
                f"make the {cure} less than half of it",
            )


def _facing_cuts(layout: CabinetLayout) -> Iterator[tuple[Work, Work]]:
    """Cuts into both sides of a board at the same place."""
    for board in layout.pieces:
        for one, other in combinations(let_into(layout, board), 2):
            if one.on is not other.on and one.along.overlaps(other.along) and one.across.overlaps(other.across):
                yield one, other


def _back_fits(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether the boards are thick enough for what is cut for the back, and it for the back."""
    ends = (piece for end in (End.TOP, End.BOTTOM) for piece in layout.at_end(end))
    for name, board in (("a side", layout.sides[0]), *((f"the {piece.name}", piece) for piece in ends)):
        for cut in cuts_for_back(layout, board):
            if cut.depth >= board.stock.thickness:
                yield Fault(
                    f"the back's {cut.kind.value} is {figures(cut.depth)} deep, but {name} is "
                    f"{figures(board.stock.thickness)} thick",
                    "make it less deep",
                )
    yield from back_of(layout.cabinet).faults(figures)


def _shelves_adjust(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether the holes for adjustable shelves are enough, and lie in the case."""
    deep = layout.inner_back - layout.finished_front
    for bay in layout.bays:
        rule = bay.compartment.adjustable
        if rule is None:
            continue
        holes = len(bay.hole_heights())
        if holes < rule.count:
            yield Fault(
                f'opening "{bay.name}" has room for {holes} holes in a row, for {rule.count} shelves',
                "make first or pitch less, or the shelves fewer",
                layout.place_of(bay),
            )
        behind = layout.case.y.end - rule.back - layout.finished_front
        if not layout.cabinet.edging_of_sides[0] < rule.front < behind < deep:
            yield Fault(
                f'opening "{bay.name}" has its rows of holes at {figures(rule.front)} and '
                f"{figures(behind)} from the front, where the depth inside is {figures(deep)}",
                "make front or back less, front more than the edging, and back more than what the back of the cabinet "
                "takes",
                layout.place_of(bay),
            )


def passes(length: Fraction, thickness: Fraction, width: Fraction, height: Fraction) -> bool:
    """Whether a board, seen on its edge as ``length`` by ``thickness``, goes through an opening, tilted if need be.

    Two sides fit as they are, or else by Carver's inequality for a rectangle in a rectangle (American Mathematical
    Monthly 64, 1957, p. 114; from memory, proved in the tests by turning one in small steps).
    """
    long, short = max(length, thickness), min(length, thickness)
    wide, narrow = max(width, height), min(width, height)
    if short > narrow:
        return False
    if long <= wide:
        return True
    return ((wide + narrow) / (long + short)) ** 2 + ((wide - narrow) / (long - short)) ** 2 >= 2


def passing_warnings(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """The adjustable shelves that are longer and thicker than the frame before them lets in, with what would do.

    Backs and drawers are not asked after: a back goes in from behind or at the glue-up, and a drawer is as wide as the
    frame leaves clear.
    """
    alike: dict[tuple[Fraction, Fraction, Fraction, Fraction], list[Bay]] = {}
    for bay in layout.bays:
        length, thickness = bay.shelf_length, layout.shelf_stock(bay).thickness
        if length is not None and length > 0 and not passes(length, thickness, bay.clear_width, bay.clear_height):
            alike.setdefault((length, thickness, bay.clear_width, bay.clear_height), []).append(bay)
    for (length, thickness, width, height), bays in alike.items():
        which = listed(by_number(bay.name for bay in bays))
        yield (
            f"the adjustable shelves of {which} cannot be tilted in through the face frame: they are {figures(length)} "
            f"long and {figures(thickness)} thick, and of that thickness {figures(width)} by {figures(height)} clear "
            f"lets in {_longest(thickness, width, height, figures)} at most; let the frame leave "
            f"{_least_width(length, thickness, height, figures)} clear, or put the shelves in before it is fastened"
        )


def _longest(thickness: Fraction, width: Fraction, height: Fraction, figures: Figures) -> str:
    """The longest board in whole steps that passes."""
    steps = _last(lambda count: passes(count * figures.step, thickness, width, height), width + height, figures.step)
    return figures.at_most(steps * figures.step)


def _least_width(length: Fraction, thickness: Fraction, height: Fraction, figures: Figures) -> str:
    """The least clear width in whole steps that lets a board pass; its own length always does."""
    stuck = _last(lambda count: not passes(length, thickness, count * figures.step, height), length, figures.step)
    return figures.at_least((stuck + 1) * figures.step)


def _last(holds: Callable[[int], bool], most: Fraction, step: Fraction) -> int:
    """The last count of steps that something holds for, which holds for none beyond ``most`` and for all below it."""
    low, high = 0, int(most // step) + 2
    # By halves: what holds once holds for all before it, and whole steps are what a person can measure.
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
