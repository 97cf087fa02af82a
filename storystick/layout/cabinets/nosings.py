"""Nosings in their places before the shelves that they are glued to, from upright to upright."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from storystick.job.nosings import Nosing
from storystick.layout.cabinets.pieces import Axis, Piece, Range, Role


def nosings_of(shelves: Iterable[tuple[Piece, Nosing]]) -> Iterator[Piece]:
    """The strip before each shelf, its upper face flush with it."""
    for shelf, rule in shelves:
        thick, height = rule.stock.thickness, rule.height or shelf.z.size
        yield Piece(
            cabinet=shelf.cabinet,
            role=Role.NOSING,
            name=f"nosing of {shelf.name}",
            stock=rule.stock,
            axis=Axis.X,
            x=shelf.x,
            y=Range(shelf.y.start - thick, shelf.y.start),
            z=Range(shelf.z.end - height, shelf.z.end),
        )


def behind_nosing(y: Range, rule: Nosing | None) -> Range:
    """What a board has of the depth ``y``: behind its nosing."""
    return Range(y.start + rule.stock.thickness, y.end) if rule else y
