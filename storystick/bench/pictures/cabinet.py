"""The picture of a cabinet: its elevation, where every opening, front and part leads to where it is said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.bench.pictures.picture import Picture, Place
from storystick.bench.said import CabinetSaid
from storystick.drawing.cabinet_views import draw_elevation, front_projection, pieces_in_front, widest_row
from storystick.drawing.shapes import Rect
from storystick.layout.cabinets.closings import Closing, closings_of
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Piece, Range, Role
from storystick.lengths import Figures

_WIDTH_MM: Final = 160.0
_HEIGHT_MM: Final = 130.0
_DIMENSIONS_MM: Final = (30.0, 20.0)
"""What dimensions take beside a cabinet and below it, more or less."""

_BAND_MM: Final = 4.0
_FRONT_MM: Final = (10.0, 4.0)
"""A front is clicked where its pull would be, so wide and so high: the rest of it is its opening's."""


def draw_cabinet(layout: CabinetLayout, said: CabinetSaid, figures: Figures) -> Picture:
    """A cabinet from the front, with its dimensions.

    Raises:
        Faults: fronts that have no room.
    """
    cabinet, (beside, below) = layout.cabinet, _DIMENSIONS_MM
    scale = min((_WIDTH_MM - beside) / float(cabinet.width), (_HEIGHT_MM - below) / float(cabinet.height))
    view = draw_elevation(layout, figures, scale)
    places = tuple(_Elevation(layout, said, figures, scale).places())
    sizes = "{} wide, {} high, {} deep".format(*map(figures, (cabinet.width, cabinet.height, cabinet.depth)))
    return Picture(f"{cabinet.told}, {sizes}", view.shapes, places, view.notes, said.at)


@dataclass(frozen=True, slots=True)
class _Elevation:
    """The places of a cabinet's elevation at a ``scale``."""

    layout: CabinetLayout
    said: CabinetSaid
    figures: Figures
    scale: float

    def places(self) -> Iterator[Place]:
        """Openings and fronts, parts, and rows and columns beside them."""
        for closing in closings_of(self.layout):
            yield from (self._opening(bay, closing) for bay in closing.bays)
            if not closing.is_open:
                yield self._front(closing)
        for piece in self._pieces():
            yield Place(self._rect(piece.x, piece.z), self.said.piece(piece), piece.name)
        yield from self._toe()
        yield from self._rows()
        yield from self._columns()

    def _toe(self) -> Iterator[Place]:
        """A toe space with no board in it, or none that is seen."""
        foot = self.layout.case.foot
        if foot > 0 and self.layout.cabinet.base and not self.layout.of(Role.PLINTH, Role.TOE_BOARD):
            yield Place(
                self._rect(self.layout.case.inside_x, Range(Fraction(0), foot)), self.said.key("toe"), "toe space"
            )

    def _rect(self, x: Range, z: Range) -> Rect:
        return front_projection(self.layout, self.scale).rect(x, z)

    def _opening(self, bay: Bay, closing: Closing) -> Place:
        size = f"{self.figures(bay.frame_x.size)} wide, {self.figures(bay.frame_z.size)} high"
        label = ", ".join((bay.name, _closed_by(closing), size))
        return Place(self._rect(bay.frame_x, bay.frame_z), self.said.opening(bay), label)

    def _front(self, closing: Closing) -> Place:
        """At the middle of its upper edge."""
        edges = self._rect(closing.frame_x, closing.frame_z)
        across, up = min(_FRONT_MM[0], edges.right - edges.left), min(_FRONT_MM[1], (edges.top - edges.bottom) / 3)
        middle = (edges.left + edges.right) / 2
        place = Rect(middle - across / 2, edges.top - up, middle + across / 2, edges.top)
        return Place(place, self.said.front(closing), f"front of {closing.name}, {_closed_by(closing)}")

    def _pieces(self) -> Iterator[Piece]:
        """What is seen, what stands behind fronts, and the base."""
        inside = (piece for closing in closings_of(self.layout) for piece in closing.inside)
        base = self.layout.of(Role.PLINTH, Role.TOE_BOARD)
        yield from dict.fromkeys((*pieces_in_front(self.layout), *inside, *base[:1]))

    def _rows(self) -> Iterator[Place]:
        """Each of several rows in a band beside the cabinet."""
        rows: dict[int, list[Bay]] = {}
        for bay in self.layout.bays:
            rows.setdefault(bay.row, []).append(bay)
        for number, bays in rows.items() if len(rows) > 1 else ():
            edges = self._rect(self.layout.case.x, Range.over(bay.frame_z for bay in bays))
            beside = Rect(edges.left - _BAND_MM, edges.bottom, edges.left, edges.top)
            row = self.layout.cabinet.rows[number - 1]
            yield Place(beside, self.said.row(number), row.name or f"row {number}")

    def _columns(self) -> Iterator[Place]:
        """Each of several columns in a band below the cabinet."""
        columns = {bay.column: bay for bay in widest_row(self.layout)}
        floor = front_projection(self.layout, self.scale).y(Fraction(0))
        for number, bay in columns.items() if len(columns) > 1 else ():
            edges = self._rect(bay.frame_x, bay.frame_z)
            below = Rect(edges.left, floor - _BAND_MM, edges.right, floor)
            yield Place(below, self.said.column(bay.row, number), f"column {number}")


def _closed_by(closing: Closing) -> str:
    return "open" if closing.is_open else closing.kind.value
