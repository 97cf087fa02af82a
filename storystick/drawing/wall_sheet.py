"""A wall drawn to a standard scale: what stands and hangs along it, its windows and features, its floor, dimensions.

Laid out as it is seen from the room. All in mm on paper from the left end of the wall, at the height of its top.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, partial
from itertools import pairwise, product
from typing import Final

from storystick.drawing.cabinet_views import draw_elevation
from storystick.drawing.cut_faces import broken_at_words, cut_face
from storystick.drawing.dimensions import Measure, level_chain, upright_chain
from storystick.drawing.lettering import NAME_MM, WORDS_PT, text_width_mm
from storystick.drawing.projection import LEAST_CROSS_MM, STANDARD_SCALES, Projection, Scale, crossed, hidden, seen
from storystick.drawing.shapes import NARROW_MM, WIDE_MM, Anchor, Line, Rect, Shape, Text, extent, moved, outline
from storystick.drawing.wall_words import Named, beside_levels, names_in_row
from storystick.job.features import Feature, FeatureRow, WallOpening
from storystick.job.runs import CabinetPlace, EndPanel, PieceKind, RunPiece
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Range
from storystick.layout.runs import Placed, RunLayout
from storystick.layout.walls.corners import CornerRoom, RoomKind
from storystick.layout.walls.features import feature_points, heights_on
from storystick.layout.walls.floor import falls_at
from storystick.layout.walls.tops import tops_of
from storystick.lengths import Figures, Units

_LEVEL_DASH_MM: Final = (6.0, 1.0, 1.0, 1.0)
_FEATURE_DASH_MM: Final = (2.4, 1.2)
_TICK_MM: Final = 2.0
_GREYS: Final = {PieceKind.FILLER: 0.82, PieceKind.SCRIBE: 0.82}
_PANEL_GREY: Final = 0.7
_BETWEEN_MM: Final = 1.0
_ROW_MM: Final = 0.6
_ABOVE_ALL: Final = Fraction(1, 12)
"""A wall that says nothing of its height is drawn so much of what stands there higher."""


SCALES: Final = {
    Units.INCH: STANDARD_SCALES[Units.INCH],
    Units.MM: sorted((*STANDARD_SCALES[Units.MM], Scale("1 : 25", Fraction(1, 25))), key=lambda scale: -scale.factor),
}
"""Those of a cabinet's sheet; 1 : 25, which scale rules have beside 1 : 20, is common practice, no source."""


@dataclass(frozen=True, slots=True)
class WallDrawing:
    """A wall's elevation at one scale, from 0, 0 at the upper left corner of all down.

    ``things`` are all that stand or hang there, with their places.
    """

    scale: Scale
    drawn: tuple[Shape, ...]
    width_mm: float
    height_mm: float
    things: tuple[tuple[Placed, Rect], ...]

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """All of it, narrow lines broken where words stand."""
        return tuple(broken_at_words(self.drawn))


@dataclass(frozen=True)
class WallSheet:
    """A wall that is to be drawn; ``runs`` are all of the job, ``cabinets`` its cabinets by their names."""

    run: RunLayout
    runs: Sequence[RunLayout]
    cabinets: Mapping[str, CabinetLayout]
    figures: Figures

    def drawing(self, width_mm: float, height_mm: float) -> WallDrawing:
        """It drawn as large as it goes into a box at a standard scale; the smallest there is where none does.

        Rather than at a smaller scale it is drawn without the names of heights that are seen to be of what is there.
        """
        for scale, all_names in product(SCALES[self.figures.units], (True, False)):
            if float(scale.factor * self.run.length) <= width_mm and float(scale.factor * self.top) <= height_mm:
                drawing = self.draw(scale, all_names)
                if drawing.width_mm <= width_mm and drawing.height_mm <= height_mm:
                    return drawing
        return self.draw(scale, all_names)

    def draw(self, scale: Scale, all_names: bool = True) -> WallDrawing:
        paper = Projection(Axis.X, Axis.Z, self.top, float(scale.factor))
        elevation = _Elevation(self, paper, all_names)
        shapes = tuple(elevation.draw())
        reach = extent(shapes)
        corner = (-reach.left, -reach.top)
        things = tuple(
            (placed, elevation.rect(placed.x, placed.z).moved(*corner)) for placed in self.run.placed if placed.z
        )
        drawn = moved(shapes, *corner)
        return WallDrawing(scale, drawn, reach.right - reach.left, reach.top - reach.bottom, things)

    @cached_property
    def top(self) -> Fraction:
        """How high the wall is drawn, in mm."""
        tops = [placed.z.end for placed in self.run.placed if placed.z]
        levels = self.run.heights.lettered_edges if self.run.heights else ()
        return max([*tops, *levels], default=self.run.length / 3) * (1 + _ABOVE_ALL)

    @property
    def base(self) -> Fraction:
        """How high the lowest cabinet stands, or the wall's third where there is none."""
        standing = (placed.item.cabinet.height for placed in self.run.standing if isinstance(placed.item, CabinetPlace))
        return min(standing, default=self.top / 3)


@dataclass(frozen=True)
class _Elevation:
    """The elevation on paper."""

    sheet: WallSheet
    paper: Projection
    all_names: bool

    @property
    def run(self) -> RunLayout:
        return self.sheet.run

    @property
    def figures(self) -> Figures:
        return self.sheet.figures

    def rect(self, x: Range, z: Range) -> Rect:
        """What lies from one station to another and so high, on paper."""
        return self.paper.rect(self.run.from_left(x), z)

    @cached_property
    def width(self) -> float:
        return self.paper.x(self.run.length)

    @cached_property
    def floor_mm(self) -> float:
        return self.paper.y(Fraction(0))

    def draw(self) -> Iterator[Shape]:
        """What is on the wall first, since cabinets stand before it; words and dimensions last."""
        wall = [*self._ends(), *self._openings(), *self._lines()]
        things = [shape for placed in self.run.placed for shape in self._thing(placed)]
        yield from (*wall, *things, *self._tops(), *self._points(), *self._floor())
        yield from self._around()

    def _ends(self) -> Iterator[Line]:
        """The two ends of the wall."""
        for x in (0.0, self.width):
            yield Line(x, self.floor_mm, x, 0.0, WIDE_MM)

    def _openings(self) -> Iterator[Shape]:
        for opening in self.run.run.features:
            if isinstance(opening, WallOpening):
                z = Range(opening.bottom, opening.top or self.sheet.top)
                edges = self.rect(Range(opening.start, opening.end), z)
                yield from outline(edges, WIDE_MM)
                yield from outline(edges.wider(-_BETWEEN_MM), NARROW_MM)
                if self._is_clear(opening):
                    size = f"{self.figures(opening.end - opening.start)} × {self.figures(z.size)}"
                    x, y = (edges.left + edges.right) / 2, (edges.bottom + edges.top) / 2
                    yield Text(x, y + 0.8, opening.name, WORDS_PT, Anchor.MIDDLE)
                    fits = text_width_mm(size, WORDS_PT, bold=True) < edges.right - edges.left - 4.0
                    if opening.top and fits:
                        yield Text(x, y - 0.8 - NAME_MM, size, WORDS_PT, Anchor.MIDDLE, bold=True)

    def _lines(self) -> Iterator[Line]:
        """What runs up the wall, and rows as ticks at its top."""
        for feature in self.run.run.features:
            for x in self._places(feature):
                if isinstance(feature, FeatureRow):
                    yield Line(x, -_TICK_MM, x, 0.0, NARROW_MM)
                elif isinstance(feature, Feature) and feature.height is None:
                    yield Line(x, self.floor_mm, x, 0.0, NARROW_MM, _FEATURE_DASH_MM)

    def _places(self, feature: Feature | FeatureRow | WallOpening) -> list[float]:
        points = feature_points(feature, self.run.length, self.figures)
        return sorted(self._x(point.at) for point in points)

    def _x(self, station: Fraction) -> float:
        return self.paper.x(station if self.run.left_is_datum else self.run.length - station)

    def _points(self) -> Iterator[Shape]:
        """A cross at what has its height, as large as it is where that is seen."""
        for feature in self.run.run.features:
            if isinstance(feature, Feature) and feature.height:
                x, y = self._x(feature.at), self.paper.y(feature.height)
                half = max(LEAST_CROSS_MM, float(feature.across) * self.paper.scale / 2)
                yield from crossed(x, y, half)

    def _thing(self, placed: Placed) -> Iterator[Shape]:
        match placed.item:
            case CabinetPlace(cabinet=cabinet) if placed.z and cabinet.name in self.sheet.cabinets:
                layout = self.sheet.cabinets[cabinet.name]
                scale = self.paper.scale
                front = draw_elevation(layout, self.figures, scale, dimensioned=False, on_floor=False)
                corner = self.rect(placed.x, placed.z)
                yield corner.filled(1.0)
                yield from moved(front.shapes, corner.left, corner.top)
            case EndPanel() if placed.z:
                yield from _filled(self.rect(placed.x, placed.z), _PANEL_GREY)
            case RunPiece(kind=PieceKind.GAP):
                yield from self._gap(placed)
            case RunPiece(kind=kind) if placed.z:
                yield from _filled(self.rect(placed.x, placed.z), _GREYS[kind])
            case CornerRoom():
                yield from self._corner(placed, placed.item)

    def _gap(self, placed: Placed) -> Iterator[Shape]:
        """What an appliance leaves open in the base: crossed. Over it nothing is drawn."""
        if not placed.upper:
            edges = self.rect(placed.x, Range(Fraction(0), self.sheet.base))
            yield Line(edges.left, edges.bottom, edges.right, edges.top, NARROW_MM, _FEATURE_DASH_MM)
            yield Line(edges.left, edges.top, edges.right, edges.bottom, NARROW_MM, _FEATURE_DASH_MM)

    def _corner(self, placed: Placed, room: CornerRoom) -> Iterator[Shape]:
        """The row on the other wall, cut where it comes to this one; a corner cabinet, which is not worked out here."""
        beside = [each.z for each in (self.run.hanging if placed.upper else self.run.standing) if each.z]
        if beside and room.kind is not RoomKind.PULL:
            nearest = beside[0] if placed.x.start == 0 else beside[-1]
            edges = self.rect(placed.x, nearest)
            yield from hidden(edges) if room.kind is RoomKind.CABINET else cut_face(edges, rising=True)

    def _tops(self) -> Iterator[Shape]:
        for top in tops_of(self.run, self.sheet.runs):
            edges = self.rect(top.x, top.z)
            yield from seen(edges)
            yield from outline(edges, WIDE_MM)

    def _floor(self) -> Iterator[Line]:
        """The floor as it falls; the level of its high point as a chain line, where they part."""
        run = self.run.run
        stations = sorted({Fraction(0), run.length, *(point.at for point in run.floor)})
        ends = [(self._x(at), self.paper.y(-falls_at(run, at))) for at in stations]
        for (x1, y1), (x2, y2) in pairwise(ends):
            yield Line(x1, y1, x2, y2, WIDE_MM)
        if run.floor:
            yield Line(-3.0, self.floor_mm, self.width + 3.0, self.floor_mm, NARROW_MM, _LEVEL_DASH_MM)

    def _around(self) -> Iterator[Shape]:
        """Words and dimensions below, above and beside the wall, each further out than the last."""
        foot = min(
            self.floor_mm, self.paper.y(-max((point.falls for point in self.run.run.floor), default=Fraction(0)))
        )
        yield from self._below(foot)
        yield from self._above()
        yield from self._beside()

    def _below(self, foot: float) -> Iterator[Shape]:
        """How far the floor falls, names and widths of what stands there, and the whole wall."""
        names = [(self._span(placed), placed.span.name) for placed in self._from_left(self.run.standing)]
        whole = [self.paper.measure_x(Range(Fraction(0), self.run.length), self.figures)]
        edge = foot
        for row in (partial(self._names, self._falls()), partial(self._names, names)):
            edge = yield from _outward(row(edge, below=True), edge, below=True)
        for measures in (self._widths(self.run.standing), whole):
            edge = yield from _outward(level_chain(measures, edge), edge, below=True)

    def _above(self) -> Iterator[Shape]:
        """Names and widths of what hangs there, then what is on the wall."""
        hung = [(self._span(placed), placed.span.name) for placed in self._from_left(self.run.hanging) if placed.z]
        edge = yield from _outward(self._names(hung, 0.0), 0.0)
        for measures, names in ((self._widths(self.run.hanging), []), (self._stations(), self._marked())):
            edge = yield from _outward(level_chain(measures, edge, above=True), edge)
            edge = yield from _outward(self._names(names, edge), edge)

    def _names(self, named: Sequence[Named], edge: float, below: bool = False) -> Iterator[Shape]:
        return names_in_row(named, edge + (-1.2 if below else 0.8), below, (0.0, self.width))

    def _falls(self) -> list[Named]:
        """How far the floor lies under its high point, place by place."""
        points = sorted((self._x(point.at), point.falls) for point in self.run.run.floor)
        return [((x, x), f"{self.figures(falls)} low" if falls else "high point") for x, falls in points]

    def _marked(self) -> list[Named]:
        """What is on the wall by its name, from the left; but what is named where it is seen."""
        found: list[Named] = []
        for feature in self.run.run.features:
            if not (isinstance(feature, WallOpening) and self._is_clear(feature)):
                every = f", every {self.figures(feature.pitch)}" if isinstance(feature, FeatureRow) else ""
                places = self._places(feature)
                x = sum(places) / len(places) if isinstance(feature, WallOpening) else places[0]
                found.append(((x, x), f"{feature.name}{every}"))
        return sorted(found)

    def _is_clear(self, opening: WallOpening) -> bool:
        """Whether nothing stands before an opening, and its name has room in it."""
        x, z = Range(opening.start, opening.end), Range(opening.bottom, opening.top or self.sheet.top)
        edges = self.rect(x, z)
        fits = (
            text_width_mm(opening.name, WORDS_PT) < edges.right - edges.left - 4.0 and edges.top - edges.bottom > 12.0
        )
        return fits and not any(
            placed.z and placed.x.overlaps(x) and placed.z.overlaps(z) for placed in self.run.placed
        )

    def _stations(self) -> list[Measure]:
        """From the datum to each feature, and from each to the next; a row is told by its name."""
        ends: set[Fraction] = set()
        for feature in self.run.run.features:
            if not isinstance(feature, FeatureRow):
                ends |= {point.at for point in feature_points(feature, self.run.length, self.figures)}
        if not ends:
            return []
        edges = sorted({Fraction(0), *ends, self.run.length})
        parts = [self.run.from_left(Range(low, high)) for low, high in pairwise(edges)]
        return [self.paper.measure_x(part, self.figures) for part in sorted(parts, key=lambda part: part.start)]

    def _widths(self, row: Sequence[Placed]) -> list[Measure]:
        """Every width from the left; those of fillers are the first to go where there is no room."""
        return [
            self.paper.measure_x(self.run.from_left(placed.x), self.figures, int(placed.item.word != "cabinet"))
            for placed in self._from_left(row)
        ]

    def _from_left(self, row: Sequence[Placed]) -> Sequence[Placed]:
        return row if self.run.left_is_datum else row[::-1]

    def _span(self, placed: Placed) -> tuple[float, float]:
        x = self.run.from_left(placed.x)
        return self.paper.x(x.start), self.paper.x(x.end)

    def _beside(self) -> Iterator[Shape]:
        """At the left what stands and hangs one above another, at the right every height with its name."""
        tops = [top.z for top in tops_of(self.run, self.sheet.runs)][:1]
        hung = [placed.z for placed in self.run.hanging if placed.z][:1]
        standing = [placed.z for placed in self.run.standing if placed.z] or [Range(Fraction(0), self.sheet.base)]
        ends = sorted({each for z in (*standing, *tops, *hung) for each in (z.start, z.end)})
        measures = [self.paper.measure_y(Range(low, high), self.figures) for low, high in pairwise(ends)]
        yield from upright_chain(measures, -1.0)
        given = {height.at for height in self.run.run.heights}
        levels = [
            (self.paper.y(at), name if self.all_names or at in given else "", self.figures(at))
            for name, at in heights_on(self.run.run)
        ]
        yield from beside_levels(levels, self.width, self.floor_mm)


def _outward(shapes: Iterable[Shape], edge: float, below: bool = False) -> Generator[Shape, None, float]:
    """The shapes of a row beyond an edge; it returns the edge of the next."""
    drawn = tuple(shapes)
    yield from drawn
    if not drawn:
        return edge
    return extent(drawn).bottom - _ROW_MM if below else extent(drawn).top + _ROW_MM


def _filled(edges: Rect, grey: float) -> Iterator[Shape]:
    yield edges.filled(grey)
    yield from outline(edges, NARROW_MM)
