"""Bases: what each kind is for the layout, a row a kind: how high it lifts the case, its pieces, works and faults."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from storystick.errors import Fault
from storystick.job.bases import Plinth, Toe
from storystick.job.cabinets import Cabinet
from storystick.job.cases import EndPlace
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Case, Piece, Range, Role
from storystick.layout.cabinets.works import Surface, Work, WorkKind
from storystick.lengths import Figures


def _no_base(*_: object) -> Iterator[Any]:
    return iter(())


@dataclass(frozen=True, slots=True)
class Base:
    """A base as the layout sees it; what is said of none, a case on the floor, is the default.

    The case begins ``foot`` above the floor, and its bottom ``toe`` above that. ``pieces`` are the base's own, under
    the case; ``notches`` what it takes of a board of the case, and ``faults`` why it cannot be built so.
    """

    foot: Fraction = Fraction(0)
    toe: Fraction = Fraction(0)
    pieces: Callable[[Cabinet, Case], Iterator[Piece]] = _no_base
    notches: Callable[[CabinetLayout, Piece], Iterator[Work]] = _no_base
    faults: Callable[[CabinetLayout, Figures], Iterator[Fault]] = _no_base


def _toe_space(rule: Toe) -> Base:
    """The sides run to the floor, their feet cut back in front."""

    def notches(layout: CabinetLayout, board: Piece) -> Iterator[Work]:
        """What the foot of a side loses in front, right through its thickness."""
        deep = board.front_tongue + rule.recess
        if board.role is Role.SIDE and board.z.start < layout.case.box_z.start and deep:
            across, along = Range(Fraction(0), deep), Range(Fraction(0), rule.height)
            yield Work(WorkKind.NOTCH, Surface.FRONT, board, board, along, across, board.stock.thickness)

    def faults(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
        if layout.cabinet.bottom.place is EndPlace.OVER:
            what = "the bottom lies under the sides, so there is no toe space"
            yield Fault(what, 'give a plinth, or place = "between"')
        yield from _recess_fits(rule.recess, layout.case.y.size, figures)

    return Base(toe=rule.height, notches=notches, faults=faults)


def _plinth(rule: Plinth) -> Base:
    """Four pieces that the case stands on, the front and the back one as long as the case is wide."""
    thick = rule.stock.thickness

    def piece(cabinet: Cabinet, name: str, axis: Axis, x: Range, y: Range) -> Piece:
        z = Range(Fraction(0), rule.height)
        return Piece(cabinet=cabinet, role=Role.PLINTH, name=name, stock=rule.stock, axis=axis, x=x, y=y, z=z)

    def pieces(cabinet: Cabinet, case: Case) -> Iterator[Piece]:
        front, back = (Range(start, start + thick) for start in (case.y.start + rule.recess, case.y.end - thick))
        for name, y in (("plinth front", front), ("plinth back", back)):
            yield piece(cabinet, name, Axis.X, case.x, y)
        # A recess that leaves no room between them is told as a fault later.
        if front.end < back.start:
            for name, start in (("plinth left end", case.x.start), ("plinth right end", case.x.end - thick)):
                yield piece(cabinet, name, Axis.Y, Range(start, start + thick), Range(front.end, back.start))

    def faults(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
        return _recess_fits(rule.recess, layout.case.y.size - 2 * thick, figures)

    return Base(foot=rule.height, pieces=pieces, faults=faults)


_BASES: Final[Mapping[type, Callable[[Any], Base]]] = {Toe: _toe_space, Plinth: _plinth}


def base_of(cabinet: Cabinet) -> Base:
    """The base of a cabinet, by what the job says of it."""
    return _BASES[type(cabinet.base)](cabinet.base) if cabinet.base else Base()


def _recess_fits(recess: Fraction, room: Fraction, figures: Figures) -> Iterator[Fault]:
    if recess >= room:
        yield Fault(
            f"the recess of {figures(recess)} leaves nothing of the depth, of which {figures(room)} can be had",
            f"make the recess less than {figures.at_most(room)}",
        )
