"""The countertop of one cabinet: a piece that lies on it, over its height, and is fixed from below."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from storystick.job.cabinets import Cabinet
from storystick.job.fronts import FrontFit
from storystick.layout.cabinets.pieces import Axis, Piece, Range, Role


def countertop_of(cabinet: Cabinet) -> Iterator[Piece]:
    """The countertop, if there is one."""
    rule = cabinet.countertop
    if rule is None:
        return
    over, fronts = rule.overhang, cabinet.fronts
    before = fronts.stock.thickness if fronts and fronts.fit is FrontFit.OVERLAY else Fraction(0)
    yield Piece(
        cabinet=cabinet,
        role=Role.COUNTERTOP,
        name="countertop",
        stock=rule.stock,
        axis=Axis.X,
        x=Range(-over.left, cabinet.width + over.right),
        y=Range(-before - over.front, cabinet.depth + over.back),
        z=Range(cabinet.height, cabinet.height + rule.stock.thickness),
    )
