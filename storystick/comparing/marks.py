"""Which marks of which stick moved between two layouts, and by how much: exact, in mm from the datum."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.comparing.pairing import Pair, paired, renamed
from storystick.job.sticks import Datum
from storystick.layout.stations import Layout, SpanKind, StickLayout
from storystick.lengths import Figures
from storystick.wording import without_number

EDGE: Final = "edge"
"""The kind of a mark between two openings, where no part lies."""

_AWAY: Final[Mapping[Datum, tuple[str, str]]] = {
    Datum.BOTTOM: ("up", "down"),
    Datum.TOP: ("down", "up"),
    Datum.LEFT: ("right", "left"),
    Datum.RIGHT: ("left", "right"),
    Datum.FRONT: ("back", "forward"),
    Datum.BACK: ("forward", "back"),
}
"""Which way a mark goes that comes to lie farther from the datum, and nearer to it."""


@dataclass(frozen=True, slots=True)
class Mark:
    """What is struck: a span from ``start`` to ``end``, or a point, which has no end."""

    kind: str
    name: str
    start: Fraction
    end: Fraction | None = None

    @property
    def place(self) -> tuple[Fraction, Fraction | None]:
        return self.start, self.end


@dataclass(frozen=True, slots=True)
class MarkChange(Pair[Mark]):
    """A mark that moved, came, went, or is called otherwise."""

    def _changed(self, was: Mark, now: Mark) -> str:
        return "moved" if was.place != now.place else "renamed"

    @property
    def start_moves(self) -> Fraction | None:
        return self.now.start - self.was.start if self.was and self.now else None

    @property
    def end_moves(self) -> Fraction | None:
        if self.was is None or self.now is None or self.was.end is None or self.now.end is None:
            return None
        return self.now.end - self.was.end

    def words(self, datum: Datum, figures: Figures) -> str:
        """How it moves, for a person: which way, and by how much."""
        if self.start_moves is None:
            return "new" if self.was is None else "gone"
        if self.word == "renamed":
            return "where it was"
        if self.end_moves is None or self.end_moves == self.start_moves:
            return way(self.start_moves, datum, figures)
        ends = {"start": self.start_moves, "end": self.end_moves}
        return ", ".join(f"{end} {way(moves, datum, figures)}" for end, moves in ends.items() if moves)

    @property
    def name(self) -> str:
        """What it is called, and what it was called if that was otherwise."""
        if self.was and self.now and self.was.name != self.now.name:
            return f"{self.now.name} (was {self.was.name})"
        return self.one.name


def way(moves: Fraction, datum: Datum, figures: Figures) -> str:
    """By how much something moves on a stick, and which way."""
    return f"{figures.apart(abs(moves))} {_AWAY[datum][moves < 0]}"


@dataclass(frozen=True, slots=True)
class StickChange(Pair[StickLayout]):
    """A stick of which something changed, came or went, and its marks that did."""

    marks: tuple[MarkChange, ...]

    @property
    def datum(self) -> Datum:
        return self.one.stick.datum

    @property
    def is_any(self) -> bool:
        """Whether anything of it is otherwise than it was."""
        if self.was is None or self.now is None:
            return True
        same = self.was.name == self.now.name and self.was.stick.datum is self.now.stick.datum
        return bool(self.marks) or not same or self.was.length != self.now.length


def paired_sticks(old: Layout, new: Layout) -> tuple[StickChange, ...]:
    """Every stick before and after, by what it is for: its cabinet, board and face; one of the job's by its name."""
    called = former_cabinets(old, new)

    def identity(stick: StickLayout) -> object:
        return tuple((called.get(face.cabinet, face.cabinet), face.board, face.words) for face in stick.faces) or (
            stick.name
        )

    pairs = paired(old.sticks, new.sticks, identity, _shape)
    return tuple(StickChange(was, now, tuple(_mark_changes(was, now)) if was and now else ()) for was, now in pairs)


def former_cabinets(old: Layout, new: Layout) -> dict[str, str]:
    """The former names of cabinets that are only called otherwise."""
    return renamed(
        old.cabinets,
        new.cabinets,
        lambda layout: layout.cabinet.name,
        lambda layout: tuple((piece.role, piece.length) for piece in layout.pieces),
        lambda layout: tuple(piece.role for piece in layout.pieces),
    )


def _shape(stick: StickLayout) -> tuple[object, ...]:
    """All that is struck on it, whatever it is called."""
    return (
        bool(stick.faces),
        stick.stick.datum,
        stick.length,
        tuple((mark.kind, mark.place) for mark in marks_of(stick)),
    )


def marks_of(stick: StickLayout) -> list[Mark]:
    """All that is struck on a stick but its openings, which are what lies between."""
    spans = (span for span in stick.spans if span.kind not in (SpanKind.OPENING, SpanKind.BLANK))
    edges = set(stick.bare_edges) - {0, stick.length}
    return [
        *(Mark(span.kind.value, span.name, span.start, span.end) for span in (*spans, *stick.grooves)),
        *(Mark(EDGE, span.name, span.end) for span in stick.spans if span.end in edges),
        *(Mark(point.kind.value, point.name, point.at) for point in stick.points),
    ]


def _mark_changes(old: StickLayout, new: StickLayout) -> Iterator[MarkChange]:
    """Marks by kind and name; but one of a numbered row that lies where another of it lay is that one, renumbered."""
    pairs = paired(
        marks_of(old),
        marks_of(new),
        lambda mark: (mark.kind, mark.name, mark.place),
        lambda mark: (mark.kind, without_number(mark.name), mark.place),
        lambda mark: (mark.kind, mark.name),
        lambda mark: (mark.kind, mark.place),
    )
    for was, now in pairs:
        if was != now:
            yield MarkChange(was, now)
