"""Where everything lies: exact stations in mm from each stick's datum, and the rows that list them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

from storystick.job.job import Job
from storystick.job.openings import Part
from storystick.job.sticks import Hand, Stick
from storystick.lengths import Figures
from storystick.wording import listed, ranges

if TYPE_CHECKING:
    from storystick.layout.board import BoardLayout
    from storystick.layout.cabinets.pieces import CabinetLayout, Range
    from storystick.layout.runs import RunLayout


class SpanKind(Enum):
    """What a span is; a blank lies between the bands of a rod, and neither it nor its ends are lettered."""

    PART = "part"
    OPENING = "opening"
    GROOVE = "groove"
    MORTISE = "mortise"
    SLOT = "slot"
    BLANK = "blank"


class PointKind(Enum):
    """What a position with no thickness is."""

    HOLE = "hole"
    CENTRE = "centre"
    FEATURE = "feature"
    STRAIGHTEDGE = "straightedge"


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a stick from station ``start`` to station ``end``, in mm from the datum."""

    kind: SpanKind
    name: str
    start: Fraction
    end: Fraction

    def __post_init__(self) -> None:
        if not 0 <= self.start < self.end:
            raise ValueError(f"{self.kind.value} {self.name!r} runs from {self.start} to {self.end}")

    @property
    def size(self) -> Fraction:
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Point:
    """A position with no thickness, in mm from the datum; ``row`` names the row of holes that it belongs to, if any.

    In that it is the hole of this ``number``, from 1.

    A straightedge's has the name of the groove that it serves. ``note`` is what is lettered before that, and ``toward``
    is 1 where the groove lies farther from the datum, -1 where it lies nearer.
    """

    kind: PointKind
    name: str
    at: Fraction
    row: str | None = None
    number: int = 0
    note: str = ""
    toward: int = 0

    @property
    def words(self) -> str:
        """What is lettered at it."""
        return f"{self.note}: {self.name}" if self.note else self.name


def hole(row: str, number: int, at: Fraction) -> Point:
    """One of a row of holes."""
    return Point(PointKind.HOLE, f"{row} {number}", at, row=row, number=number)


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """A part where it crosses the stick, and the groove that takes it, if its joint cuts one.

    ``figure`` is what is lettered after its name, if anything. ``stopped`` is from where to where a groove runs that
    does not run right across its board, in mm from the front edge.
    """

    part: Part
    span: Span
    groove: Span | None
    figure: str = ""
    stopped: tuple[Fraction, Fraction] | None = None


def end_to_end(
    parts: Iterable[PlacedPart], length: Fraction, opening: Callable[[Fraction, Fraction], str]
) -> Iterator[Span]:
    """The parts with the openings between them, from 0 to ``length``; ``opening`` names one by its start and end."""
    at = Fraction(0)
    for placed in parts:
        if placed.span.start > at:
            yield Span(SpanKind.OPENING, opening(at, placed.span.start), at, placed.span.start)
        yield placed.span
        at = placed.span.end
    if at < length:
        yield Span(SpanKind.OPENING, opening(at, length), at, length)


@dataclass(frozen=True, slots=True)
class Face:
    """What of a cabinet a stick is struck on: a ``board`` or its depth, and in ``words`` which face, empty for its one.

    ``x`` and ``z`` are what that takes in the cabinet's front, from its left and from its floor. A stick is laid on
    it as ``laid``. ``many`` such cabinets are made.
    """

    cabinet: str
    board: str
    words: str
    x: Range
    z: Range
    laid: Hand | None = None
    many: int = 1

    @property
    def told(self) -> str:
        """The cabinet, with how many of it are made."""
        return f"{self.many} × {self.cabinet}" if self.many > 1 else self.cabinet


@dataclass(frozen=True, slots=True)
class StickLayout:
    """One stick, solved. ``spans`` are its parts and openings or blanks in order, end to end from 0 to ``length`` (mm).

    ``beside`` are the members of a face frame that agree with them, shown in a lane of their own. ``notch`` is the
    station up to which a toe notch takes the front of its board, 0 where there is none. ``faces`` are those of a
    cabinet that it is for; a stick of the job's own and one along a wall have none.
    """

    stick: Stick
    spans: tuple[Span, ...]
    parts: tuple[PlacedPart, ...]
    points: tuple[Point, ...]
    beside: tuple[Span, ...] = ()
    notch: Fraction = Fraction(0)
    faces: tuple[Face, ...] = ()

    @property
    def name(self) -> str:
        return self.stick.name

    @property
    def length(self) -> Fraction:
        return self.spans[-1].end

    @property
    def bands(self) -> tuple[PlacedPart, ...]:
        """The parts by the places that they take: of two in one plane, such as stretchers, the first."""
        return tuple({(each.span.start, each.span.end): each for each in reversed(self.parts)}.values())[::-1]

    @property
    def grooves(self) -> tuple[Span, ...]:
        """The grooves by the places that they take."""
        return tuple(placed.groove for placed in self.bands if placed.groove)

    @property
    def bare_edges(self) -> tuple[Fraction, ...]:
        """Stations where an opening ends on no part: between two openings, or at an end of the stick."""
        beside_parts = {edge for placed in self.parts for edge in (placed.span.start, placed.span.end)}
        edges = {Fraction(0), *(span.end for span in self.spans)}
        return tuple(sorted(edges - beside_parts))

    @property
    def lettered_edges(self) -> tuple[Fraction, ...]:
        """Stations where a span ends that bear a figure, rising: all but those at a blank."""
        blank = {edge for span in self.spans if span.kind is SpanKind.BLANK for edge in (span.start, span.end)}
        return tuple(sorted({span.end for span in self.spans} - blank))

    @property
    def struck(self) -> tuple[Span | Point, ...]:
        """All that is listed of it: its spans, its grooves, then its points."""
        return (*self.spans, *self.grooves, *self.points)

    @property
    def marks(self) -> tuple[Fraction, ...]:
        """Every station that something is struck at, each once, rising."""
        edges = {edge for span in (*self.spans, *self.grooves, *self.beside) for edge in (span.start, span.end)}
        return tuple(sorted(edges | {point.at for point in self.points}))


def numbered(sticks: Iterable[StickLayout], first: int) -> Iterator[StickLayout]:
    """The sticks with the numbers that they have in their job."""
    for number, layout in enumerate(sticks, first):
        yield replace(layout, stick=replace(layout.stick, number=number))


@dataclass(frozen=True, slots=True)
class Layout:
    """A job with every stick solved: its own, then those of its cabinets and its runs. ``boards`` are its templates."""

    job: Job
    sticks: tuple[StickLayout, ...]
    cabinets: tuple[CabinetLayout, ...] = ()
    boards: tuple[BoardLayout, ...] = ()
    runs: tuple[RunLayout, ...] = ()

    @property
    def warnings(self) -> tuple[str, ...]:
        """What can be built but should be looked at, each with its cabinet, run, printer or stick."""
        cabinets = (f"{layout.cabinet.name}: {warning}" for layout in self.cabinets for warning in layout.warnings)
        holes = (warning for stick in self.sticks for warning in _holes_in_parts(stick, self.job.figures))
        runs = (f"{run.run.name}: {warning}" for run in self.runs for warning in run.warnings)
        return (*printer_warnings(self.job), *cabinets, *runs, *holes)


def printer_warnings(job: Job) -> Iterator[str]:
    """A correction holds for the paper that it was measured on."""
    printer = job.printer
    if printer and printer.paper and printer.paper.casefold() != job.paper.name.casefold():
        yield (
            f"printer {printer.name}: its correction was measured on {printer.paper}, and this is for "
            f"{job.paper.name}; measure it for that too"
        )


def _holes_in_parts(stick: StickLayout, figures: Figures) -> Iterator[str]:
    """The holes of each row that fall into a part: bored through the side, they would meet its end."""
    for part in (placed.span for placed in stick.parts):
        inside = [point for point in stick.points if point.kind is PointKind.HOLE and part.start < point.at < part.end]
        for row, own in groupby(inside, key=lambda point: point.row):
            holes = list(own)
            which = f"{'hole' if len(holes) == 1 else 'holes'} {ranges(hole.number for hole in holes)} of {row}"
            span = f"{figures(part.start)} to {figures(part.end)}"
            at = listed([figures(hole.at) for hole in holes])
            falls = "falls" if len(holes) == 1 else "fall"
            yield f"{stick.name}: {which}, at {at}, {falls} into {part.name}, from {span}"


MARK_HEADINGS = ("kind", "name", "from", "to", "size")


def mark_rows(stick: StickLayout, figures: Figures) -> list[tuple[str, ...]]:
    """All that is struck, under :data:`MARK_HEADINGS`; a point has neither an end nor a size."""
    return [(mark.kind.value, mark.name, *_mark_labels(mark, figures)) for mark in stick.struck]


def _mark_labels(mark: Span | Point, figures: Figures) -> tuple[str, str, str]:
    if isinstance(mark, Span):
        return figures(mark.start), figures(mark.end), figures(mark.size)
    return figures(mark.at), "", ""


def length_words(stick: StickLayout, figures: Figures) -> str:
    """How long a stick is, from which end its marks are, and whether there are two of it."""
    pair = ", a pair" if stick.stick.pair else ""
    return f"{figures(stick.length)} from the {stick.stick.datum.value}{pair}"
