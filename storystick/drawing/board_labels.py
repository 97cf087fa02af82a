"""Names and stations to letter on a board beside what is drawn, each with the places where that is tried.

A label is a row of texts to try in turn, the fullest words at the best place first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise, product
from typing import Final

from storystick.drawing.board import CROSS_ARM_MM, Pane, stretch_words, x_words, y_words
from storystick.drawing.lettering import CAPITAL_MM, WORDS_PT, text_width_mm
from storystick.drawing.shapes import FINE_MM, Anchor, Box, Line, Text
from storystick.layout.board import BoardLayout, Cut, CutOut, FineLine, Hole
from storystick.lengths import Figures
from storystick.outline import Place

SHARES: Final = (0.5, 0.3, 0.7, 0.1, 0.9)
"""At these shares of a length the middle of its words is tried."""


@dataclass(frozen=True, slots=True)
class BoardLabel:
    """Something to letter, in ``words``: texts to try in turn, which of them say all, and the box it may stand in."""

    words: str
    whole: Sequence[str]
    choices: Iterable[Text]
    within: Box | None = None


def board_labels(pane: Pane, figures: Figures) -> Iterator[BoardLabel]:
    """Every name and station to letter."""
    board = pane.board
    for cut in board.cuts:
        if box := pane.box(cut):
            forms = _cut_words(cut, board, figures)
            yield BoardLabel(forms[0], forms[:2], _cut_choices(cut, box, forms), box)
    for line in board.lines:
        for stroke in pane.strokes((line.start, line.end), FINE_MM):
            forms = _line_words(line, board, figures)
            yield BoardLabel(forms[0], forms[:1], _line_choices(line, stroke, forms))
    yield from _hole_labels(pane, figures)
    for cut_out in board.cut_outs:
        if pane.shows(cut_out.centre):
            forms = _cut_out_words(cut_out, board, figures)
            yield BoardLabel(forms[0], forms[:1], _cut_out_choices(cut_out, pane, forms))


# Cuts, lines and cut-outs: the forms of their words, the fullest first, and where each is tried.


def _cut_words(cut: Cut, board: BoardLayout, figures: Figures) -> tuple[str, ...]:
    """With its stations, or its name alone."""
    across, station, datum = (
        (cut.y, board.y_station, board.y_datum) if cut.along_x else (cut.x, board.x_station, board.x_datum)
    )
    stations = stretch_words(station, across, figures)
    return f"{cut.name}: {stations} from {datum}", f"{cut.name}: {stations}", stations, cut.name


def _cut_choices(cut: Cut, box: Box, forms: Sequence[str]) -> Iterator[Text]:
    """In the box where it is high enough for letters, else beside it."""
    level = cut.along_x
    length, thick = (box.width, box.height) if level else (box.height, box.width)
    middle = thick / 2
    inside = [middle - CAPITAL_MM / 2 if level else middle + CAPITAL_MM / 2] if thick > CAPITAL_MM + 1.6 else []
    outside = [thick + 1.4, -CAPITAL_MM - 1.0] if level else [thick + CAPITAL_MM + 0.8, -1.4]
    return _alongside(forms, box.x, box.y, length, level, (*inside, *outside))


def _line_words(line: FineLine, board: BoardLayout, figures: Figures) -> tuple[str, ...]:
    station = y_words(board, line.start.y, figures) if line.is_level else x_words(board, line.start.x, figures)
    return f"{line.name}, {station}", line.name, station


def _line_choices(line: FineLine, stroke: Line, forms: Sequence[str]) -> Iterator[Text]:
    level = line.is_level
    length = abs(stroke.x2 - stroke.x1) if level else abs(stroke.y2 - stroke.y1)
    beside = (1.4, -CAPITAL_MM - 0.8) if level else (-1.4, CAPITAL_MM + 0.8)
    return _alongside(forms, min(stroke.x1, stroke.x2), min(stroke.y1, stroke.y2), length, level, beside)


def _alongside(
    forms: Sequence[str], x: float, y: float, length: float, level: bool, aways: Sequence[float]
) -> Iterator[Text]:
    """Words that go along a ``length`` from ``x``, ``y`` on, their baseline so far ``aways`` from it."""
    for words in forms:
        if text_width_mm(words, WORDS_PT) > length - 2.0:
            continue
        for away, share in product(aways, SHARES):
            place = (x + length * share, y + away) if level else (x + away, y + length * share)
            yield Text(*place, words, WORDS_PT, Anchor.MIDDLE, upward=not level)


def _cut_out_words(cut_out: CutOut, board: BoardLayout, figures: Figures) -> tuple[str, ...]:
    size = f"dia. {figures(cut_out.diameter)}"
    stations = _place_words(cut_out.centre, board, figures)
    return f"{cut_out.name}, {size}: {stations}", f"{cut_out.name}, {size}", size, cut_out.name


def _cut_out_choices(cut_out: CutOut, pane: Pane, forms: Sequence[str]) -> Iterator[Text]:
    """Inside it above and below its cross, or else above and below it."""
    x, y = pane.at(cut_out.centre)
    reach = float(cut_out.diameter) / 2
    for words, up in product(forms, (4.2, -6.4, 8.0, -10.2, reach + 1.6, -reach - CAPITAL_MM - 1.4)):
        yield Text(x, y + up, words, WORDS_PT, Anchor.MIDDLE)


# Rows of holes.

_BESIDE_MM: Final = 1.4
_FARTHER_MM: Final = 3.0
_RINGS: Final = 3
"""So many distances from a hole are tried, each ``_FARTHER_MM`` more."""


def _hole_labels(pane: Pane, figures: Figures) -> Iterator[BoardLabel]:
    """The stations of the holes that end what shows of each row, then the names; a hole alone has both in one."""
    for name, group in groupby(pane.board.holes, key=lambda hole: hole.row):
        row = [hole for hole in group if pane.shows(hole.at)]
        if not row:
            continue
        named = f"{name}, dia. {figures(row[0].diameter)}" if row[0].diameter else name
        if len(row) == 1:
            stations = _place_words(row[0].at, pane.board, figures)
            words = f"{named}: {stations}"
            choices = (text for form in (words, stations) for text in _beside_hole(row[0], form, pane))
            yield BoardLabel(words, (words,), choices)
            continue
        for hole in (row[0], row[-1]):
            stations = _place_words(hole.at, pane.board, figures)
            yield BoardLabel(f"{name}: {stations}", (stations,), _beside_hole(hole, stations, pane))
        words = f"{named}{_shared_station(row, pane.board, figures)}"
        yield BoardLabel(words, (words,), (*_beside_row(row, words, pane), *_beside_hole(row[0], words, pane)))


def _place_words(place: Place, board: BoardLayout, figures: Figures) -> str:
    return f"{figures(board.x_station(place.x))}, {figures(board.y_station(place.y))}"


def _shared_station(row: Sequence[Hole], board: BoardLayout, figures: Figures) -> str:
    """The station that all holes of a row have, if there is one, with the edge that it is told from."""
    first = row[0].at
    if len({hole.at.x for hole in row}) == 1:
        return f": {x_words(board, first.x, figures)}"
    return f": {y_words(board, first.y, figures)}" if len({hole.at.y for hole in row}) == 1 else ""


def _rings(hole: Hole) -> Iterator[float]:
    """How far from a hole's centre words begin, nearer ones first."""
    reach = max(float(hole.diameter or 0) / 2, CROSS_ARM_MM) + _BESIDE_MM
    return (reach + ring * _FARTHER_MM for ring in range(_RINGS))


def _beside_hole(hole: Hole, words: str, pane: Pane) -> Iterator[Text]:
    """To the right of a hole, to its left, above or below, level or upward; then a line or two farther off."""
    x, y = pane.at(hole.at)
    anchors = (Anchor.START, Anchor.END, Anchor.MIDDLE)
    for ring, away in enumerate(_rings(hole)):
        if ring == 0:
            yield Text(x + away, y - CAPITAL_MM / 2, words, WORDS_PT)
            yield Text(x - away, y - CAPITAL_MM / 2, words, WORDS_PT, Anchor.END)
        for up, anchor in product((away, -away - CAPITAL_MM), anchors):
            yield Text(x, y + up, words, WORDS_PT, anchor)
        for aside, anchor in product((-away + 0.6, away + CAPITAL_MM), anchors):
            yield Text(x + aside, y, words, WORDS_PT, anchor, upward=True)


def _beside_row(row: Sequence[Hole], words: str, pane: Pane) -> Iterator[Text]:
    """Beside a row, from any of its holes on or in the middle between two; first close to it, then farther off."""
    spots = [pane.at(hole.at) for hole in row]
    between = [((x + u) / 2, (y + v) / 2) for (x, y), (u, v) in pairwise(spots)]
    upright = abs(spots[-1][1] - spots[0][1]) > abs(spots[-1][0] - spots[0][0])
    anchors = (Anchor.MIDDLE, Anchor.START, Anchor.END)
    for away in _rings(row[0]):
        asides = (-away + 0.6, away + CAPITAL_MM) if upright else (away, -away - CAPITAL_MM)
        for (x, y), aside, anchor in product((*spots, *between), asides, anchors):
            place = (x + aside, y) if upright else (x, y + aside)
            yield Text(*place, words, WORDS_PT, anchor, upward=upright)
        for x, y in between if upright else ():
            yield Text(x + away, y - CAPITAL_MM / 2, words, WORDS_PT)
            yield Text(x - away, y - CAPITAL_MM / 2, words, WORDS_PT, Anchor.END)
