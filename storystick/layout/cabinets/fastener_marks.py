"""The centres of fasteners as points on strips: along a board the line that they stand on, into its depth each of them.

Both parts of a joint are struck from one strip: where what ends on a side has its centres at the same stations, counted
from its own front edge, the side's strip of the depth serves it too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from storystick.layout.cabinets.fastening import FastenerRow
from storystick.layout.cabinets.pieces import Piece
from storystick.layout.stations import Point, PointKind
from storystick.wording import by_number


def centres_along(rows: Iterable[FastenerRow]) -> Iterator[Point]:
    """What is bored into a face, along the board: in a case the middle of each part, in a frame every centre.

    Parts at one place, such as two stretchers, share one mark.
    """
    found: dict[tuple[str, Fraction], list[str]] = {}
    for row in rows:
        if row.bored:
            numbered = len(row.along) > 1
            for number, at in enumerate(row.along, start=1):
                word = f"{row.fastener.word} {number}" if numbered else row.fastener.word
                found.setdefault((word, at), []).append(row.piece.name)
    for (word, at), names in found.items():
        yield Point(PointKind.CENTRE, f"{word}, {', '.join(by_number(names))}", at)


class Across(NamedTuple):
    """Centres across a board that several rows have alike: what they are, where, and for which pieces."""

    word: str
    stations: tuple[Fraction, ...]
    pieces: tuple[Piece, ...]


def across_face(rows: Iterable[FastenerRow]) -> tuple[Across, ...]:
    """Those of rows that are bored into a face, from the front edge of its board."""
    return _alike((row.fastener.word, row.across, row.piece) for row in rows if row.bored and not row.framed)


def across_ends(rows: Iterable[FastenerRow]) -> tuple[Across, ...]:
    """Those in the ends of a part, from its own front edge."""
    return _alike((row.fastener.word, row.across_end, row.piece) for row in rows if not row.over_width)


def _alike(found: Iterable[tuple[str, tuple[Fraction, ...], Piece]]) -> tuple[Across, ...]:
    alike: dict[tuple[str, tuple[Fraction, ...]], dict[Piece, None]] = {}
    for word, stations, piece in found:
        alike.setdefault((word, stations), {})[piece] = None
    return tuple(Across(word, stations, tuple(pieces)) for (word, stations), pieces in alike.items())


def are_among(some: Iterable[Across], others: Iterable[Across]) -> bool:
    """Whether a strip with the others' centres has all of some."""
    known = {(across.word, across.stations) for across in others}
    return all((across.word, across.stations) in known for across in some)


def centres_across(found: Sequence[Across]) -> Iterator[Point]:
    """Every centre across a board; where one kind stands otherwise for other parts, with their names."""
    words = [across.word for across in found]
    for across in found:
        names = ", ".join(by_number(piece.name for piece in across.pieces))
        name = f"{names}, {across.word}" if words.count(across.word) > 1 else across.word
        for number, at in enumerate(across.stations, start=1):
            yield Point(PointKind.CENTRE, f"{name} {number}", at)
