"""Bases: what each kind is for the layout, a row a kind: how high it lifts the case, its pieces, works and faults."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault, Steps, Where
from storystick.job.bases import BoardPlace, From, Plinth, Toe, ToeBoard
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace
from storystick.job.openings import Stock
from storystick.job.sticks import Hand
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Case, Piece, Range, Role
from storystick.layout.cabinets.works import Surface, Work, WorkKind
from storystick.lengths import Figures

_NOTHING: Final = Fraction(0)


def _no_base(*_: object) -> Iterator[Any]:
    return iter(())


def _none_lifted(_: Hand) -> Fraction:
    return _NOTHING


@dataclass(frozen=True, slots=True)
class Base:
    """A base as the layout sees it; what is said of none, a case on the floor, is the default. ``key`` leads to it.

    The case begins ``foot`` above the floor, and its bottom ``toe`` above that; ``lifted`` says by how much the foot of
    either side is short of the case's. ``pieces`` are the base's own, under the case; ``notches`` what it takes of a
    board of the case, and ``faults`` why it cannot be built so. A ``loose`` one is set up before the case.
    """

    key: Steps = ()
    foot: Fraction = _NOTHING
    toe: Fraction = _NOTHING
    lifted: Callable[[Hand], Fraction] = _none_lifted
    pieces: Callable[[Cabinet, Case], Iterator[Piece]] = _no_base
    notches: Callable[[CabinetLayout, Piece], Iterator[Work]] = _no_base
    faults: Callable[[CabinetLayout, Figures], Iterator[Fault]] = _no_base
    loose: bool = False


def recess_of(cabinet: Cabinet, case: Case) -> Range | None:
    """From what the recess of a base is told from to where it ends, in the depth; None where it has none."""
    base = cabinet.base
    if base is None or not base.recess:
        return None
    start = _told_from(base, case)
    return Range(start, start + base.recess)


def _told_from(base: Toe | Plinth, case: Case) -> Fraction:
    return case.y.start if base.recess_from is From.CASE else _NOTHING


def _toe_space(rule: Toe) -> Base:
    """The sides run to the floor, their feet cut back in front; at an end that is seen the side ends above it."""
    board = rule.board

    def lifted(hand: Hand) -> Fraction:
        return rule.height if hand in rule.ends else _NOTHING

    def notches(layout: CabinetLayout, piece: Piece) -> Iterator[Work]:
        """What the foot of a side loses in front, right through its thickness."""
        over = board.stock.thickness if board and board.place is BoardPlace.OVER else _NOTHING
        behind = _told_from(rule, layout.case) + rule.recess + over - layout.case.y.start
        deep = piece.front_tongue + behind
        if piece.role is Role.SIDE and piece.z.start < layout.case.foot and deep > 0:
            across, along = Range(_NOTHING, deep), Range(_NOTHING, rule.height)
            yield Work(WorkKind.NOTCH, Surface.FRONT, piece, piece, along, across, piece.stock.thickness)

    def pieces(cabinet: Cabinet, case: Case) -> Iterator[Piece]:
        return _toe_boards(rule, board, cabinet, case) if board else iter(())

    def faults(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
        if layout.cabinet.bottom.place is EndPlace.OVER:
            what = "the bottom lies under the sides, so there is no toe space"
            yield Fault(what, 'give a plinth, or place = "between"')
        yield from _told_from_frame(rule, layout, figures, behind_it=True)
        thick = board.stock.thickness if board else _NOTHING
        start = _told_from(rule, layout.case)
        yield from _recess_fits(rule.recess, layout.case.y.end - start - thick, figures)
        if rule.ends:
            room = (layout.case.x.size - thick * len(rule.ends)) / len(rule.ends)
            yield from _recess_fits(rule.recess, room, figures, "width")

    return Base(("toe",), toe=rule.height, lifted=lifted, notches=notches, pieces=pieces, faults=faults)


def _toe_boards(rule: Toe, board: ToeBoard, cabinet: Cabinet, case: Case) -> Iterator[Piece]:
    """The board in front, and behind it one under each side that ends above the toe space."""
    thick = board.stock.thickness
    front = _told_from(rule, case) + rule.recess
    y, behind = Range(front, front + thick), front + thick
    between = case.inside_x if board.place is BoardPlace.BETWEEN else case.x
    left = case.x.start + rule.recess if Hand.LEFT in rule.ends else between.start
    right = case.x.end - rule.recess if Hand.RIGHT in rule.ends else between.end
    # What leaves nothing is told as a fault later.
    if right - left <= thick * len(rule.ends) or behind >= case.y.end:
        return
    piece = _BaseMaker(cabinet, Role.TOE_BOARD, board.stock)

    def top(x: Range) -> Fraction:
        """They go up to the bottom, which may lie higher behind a frame; but not where they stand under a side."""
        return case.foot if x.start < case.inside_x.start or x.end > case.inside_x.end else case.box_z.start

    for hand, x in ((Hand.LEFT, Range(left, left + thick)), (Hand.RIGHT, Range(right - thick, right))):
        if hand in rule.ends:
            yield piece(f"toe board, {hand.value} end", Axis.Y, x, Range(behind, case.y.end), top(x))
    x = Range(left, right)
    yield piece("toe board", Axis.X, x, y, top(x))


@dataclass(frozen=True, slots=True)
class _BaseMaker:
    """Makes the pieces of a base, which all stand on the floor."""

    cabinet: Cabinet
    role: Role
    stock: Stock

    def __call__(self, name: str, axis: Axis, x: Range, y: Range, top: Fraction) -> Piece:
        z = Range(_NOTHING, top)
        return Piece(cabinet=self.cabinet, role=self.role, name=name, stock=self.stock, axis=axis, x=x, y=y, z=z)


def _plinth(rule: Plinth) -> Base:
    """Four pieces that the case stands on, the front and the back one as long as the plinth is wide."""
    thick = rule.stock.thickness

    def pieces(cabinet: Cabinet, case: Case) -> Iterator[Piece]:
        piece = _BaseMaker(cabinet, Role.PLINTH, rule.stock)
        first = _told_from(rule, case) + rule.recess
        front, back = (Range(start, start + thick) for start in (first, case.y.end - thick))
        left, right = (rule.recess if hand in rule.ends else _NOTHING for hand in Hand)
        start, end = case.x.start + left, case.x.end - right
        # A recess that leaves no room between them is told as a fault later.
        if end - start <= 2 * thick:
            return
        for name, y in (("plinth front", front), ("plinth back", back)):
            yield piece(name, Axis.X, Range(start, end), y, rule.height)
        if front.end < back.start:
            for name, at in (("plinth left end", start), ("plinth right end", end - thick)):
                yield piece(name, Axis.Y, Range(at, at + thick), Range(front.end, back.start), rule.height)

    def faults(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
        yield from _told_from_frame(rule, layout, figures)
        case, start = layout.case, _told_from(rule, layout.case)
        yield from _recess_fits(rule.recess, case.y.end - start - 2 * thick, figures)
        if rule.ends:
            yield from _recess_fits(rule.recess, (case.x.size - 2 * thick) / len(rule.ends), figures, "width")

    return Base(("plinth",), foot=rule.height, pieces=pieces, faults=faults, loose=rule.loose)


_BASES: Final[Mapping[type, Callable[[Any], Base]]] = {Toe: _toe_space, Plinth: _plinth}


def base_of(cabinet: Cabinet) -> Base:
    """The base of a cabinet, by what the job says of it."""
    return _BASES[type(cabinet.base)](cabinet.base) if cabinet.base else Base()


def _recess_fits(recess: Fraction, room: Fraction, figures: Figures, measure: str = "depth") -> Iterator[Fault]:
    if recess >= room:
        yield Fault(
            f"the recess of {figures(recess)} leaves nothing of the {measure}, of which {figures(room)} can be had",
            f"make the recess less than {figures.at_most(room)}",
            Where.unsaid("recess"),
        )


def _told_from_frame(
    rule: Toe | Plinth, layout: CabinetLayout, figures: Figures, behind_it: bool = False
) -> Iterator[Fault]:
    """Whether there is a frame that the recess can be told from, and where that is needed its end lies behind it."""
    if rule.recess_from is not From.FRAME:
        return
    frame = layout.cabinet.frame
    if frame is None:
        what = 'recess_from = "frame", but the cabinet has no face frame'
        yield Fault(
            what, "leave it out: the recess is then told from the case; or give a frame", Where.unsaid("recess_from")
        )
    elif behind_it and rule.recess < frame.stock.thickness:
        thick = frame.stock.thickness
        what = f"the recess of {figures(rule.recess)} from the face of the frame ends within the frame, which is "
        yield Fault(
            f"{what}{figures(thick)} thick",
            f"make the recess {figures.at_least(thick)} or more",
            Where.unsaid("recess"),
        )
