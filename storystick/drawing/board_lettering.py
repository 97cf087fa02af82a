"""The title block of a board template with its map of tiles, and the words of its rows of holes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Final

from storystick.drawing.board import CROSS_ARM_MM, Pane, stretch_words, x_words, y_words
from storystick.drawing.lettering import WORDS_PT, shortened, text_width_mm
from storystick.drawing.placing_words import FreePlaces
from storystick.drawing.shapes import Anchor, Box, Rect, Shape, Text, outline
from storystick.job.job import Job
from storystick.layout.board import Hole

TITLE_PT: Final = 9.0
_LINE_MM: Final = 3.6
_STEP_MM: Final = 4.0
_MAP_MM: Final = 16.0
_MAP_LINE_MM: Final = 0.15
_LONGEST_MM: Final = 70.0


def title_block(pane: Pane, job: Job, places: FreePlaces) -> Iterator[Shape]:
    """What this is, with a map of the tiles where there are several; less and less of it where there is no room."""
    lines = _title_lines(pane, job)
    for count, mapped in ((len(lines), not pane.is_whole), (len(lines), False), (2, False), (1, False)):
        texts = lines[:count]
        width = max(text_width_mm(text, TITLE_PT, bold=True) for text in texts)
        map_width, map_height = _map_size(pane) if mapped else (0.0, 0.0)
        beside = map_width + 3.0 if mapped else 0.0
        height = max(count * _LINE_MM, map_height)
        corner = places.corner_for(width + beside + 1.0, height + 1.0, _STEP_MM)
        if corner:
            left, bottom = corner
            for number, text in enumerate(texts, start=1):
                bold = number == 1
                baseline = bottom + height - number * _LINE_MM + 1.2
                yield Text(left + beside, baseline, text, TITLE_PT if bold else WORDS_PT, bold=bold)
            yield from _tile_map(pane, left + 0.5, bottom + height) if mapped else ()
            return


def _title_lines(pane: Pane, job: Job) -> list[str]:
    board = pane.board
    x, y = board.x_station, board.y_station
    size = f"{job.label(board.width)} by {job.label(board.height)} {job.units.sign}"
    stretches = (
        f"{stretch_words(x, pane.x, job)} {job.units.sign} from {board.x_datum}",
        f"{stretch_words(y, pane.y, job)} {job.units.sign} from {board.y_datum}",
    )
    tile = f"tile {pane.name} of {pane.columns} × {pane.rows} · {job.digest}"
    name = shortened(board.name, TITLE_PT, _LONGEST_MM, bold=True)
    face = [board.face] if board.face else []
    if pane.is_whole:
        return [name, " · ".join([*face, job.digest]), size]
    return [f"{pane.name} · {name}", tile, *face, *stretches]


def _map_size(pane: Pane) -> tuple[float, float]:
    width, height = float(pane.board.width), float(pane.board.height)
    longer = max(width, height)
    return width / longer * _MAP_MM, height / longer * _MAP_MM


def _tile_map(pane: Pane, left: float, top: float) -> Iterator[Shape]:
    """The board at a glance, its upper left corner there, with the pane's place in it."""
    width, height = _map_size(pane)
    scale = width / float(pane.board.width)
    bottom = top - height
    x, y = left + float(pane.x.start) * scale, bottom + float(pane.y.start) * scale
    yield Box(x, y, pane.width * scale, pane.height * scale)
    yield from outline(Rect(left, bottom, left + width, top), _MAP_LINE_MM)


_BESIDE_MM: Final = 1.4
_ABOVE_MM: Final = 2.1
_FARTHER_MM: Final = 3.0
_RINGS: Final = 3


@dataclass(frozen=True, slots=True)
class HoleLabel:
    """Something to say at some holes, in ``words``, and texts to try in turn, of which the ``whole`` ones say all."""

    words: str
    whole: str
    choices: tuple[Text, ...]


def hole_labels(pane: Pane, job: Job) -> Iterator[HoleLabel]:
    """The stations of the holes that end what shows of each row, then the names; a hole alone has both in one."""
    for name, group in groupby(pane.board.holes, key=lambda hole: hole.row):
        row = [hole for hole in group if pane.shows(hole.at)]
        if not row:
            continue
        named = f"{name}, dia. {job.label(row[0].diameter)}" if row[0].diameter else name
        if len(row) == 1:
            stations = _stations(row[0], pane, job)
            words = f"{named}: {stations}"
            choices = (text for form in (words, stations) for text in _beside(row[0], form, pane))
            yield HoleLabel(words, words, tuple(choices))
            continue
        for hole in (row[0], row[-1]):
            stations = _stations(hole, pane, job)
            yield HoleLabel(f"{name}: {stations}", stations, tuple(_beside(hole, stations, pane)))
        words = f"{named}{_shared(row, pane, job)}"
        yield HoleLabel(words, words, (*_along(row, words, pane), *_beside(row[0], words, pane)))


def _stations(hole: Hole, pane: Pane, job: Job) -> str:
    board = pane.board
    return f"{job.label(board.x_station(hole.at.x))}, {job.label(board.y_station(hole.at.y))}"


def _shared(row: Sequence[Hole], pane: Pane, job: Job) -> str:
    """The station that all holes of a row have, if there is one, with the edge that it is told from."""
    first = row[0].at
    if len({hole.at.x for hole in row}) == 1:
        return f": {x_words(pane.board, first.x, job)}"
    return f": {y_words(pane.board, first.y, job)}" if len({hole.at.y for hole in row}) == 1 else ""


def _reach(hole: Hole) -> float:
    return max(float(hole.diameter or 0) / 2, CROSS_ARM_MM) + _BESIDE_MM


def _beside(hole: Hole, words: str, pane: Pane) -> Iterator[Text]:
    """To the right of a hole, to its left, above or below, level or upward; then a line or two farther off."""
    x, y = pane.at(hole.at)
    for ring in range(_RINGS):
        away = _reach(hole) + ring * _FARTHER_MM
        if ring == 0:
            yield Text(x + away, y - 1.0, words, WORDS_PT)
            yield Text(x - away, y - 1.0, words, WORDS_PT, Anchor.END)
        for up in (away, -away - _ABOVE_MM):
            for anchor in (Anchor.START, Anchor.END, Anchor.MIDDLE):
                yield Text(x, y + up, words, WORDS_PT, anchor)
        for aside in (-away + 0.6, away + _ABOVE_MM):
            for anchor in (Anchor.START, Anchor.END, Anchor.MIDDLE):
                yield Text(x + aside, y, words, WORDS_PT, anchor, upward=True)


def _along(row: Sequence[Hole], words: str, pane: Pane) -> Iterator[Text]:
    """Beside a row, from any of its holes on or in the middle between two; first close to it, then farther off."""
    spots = [pane.at(hole.at) for hole in row]
    between = [((x + u) / 2, (y + v) / 2) for (x, y), (u, v) in pairwise(spots)]
    upright = abs(spots[-1][1] - spots[0][1]) > abs(spots[-1][0] - spots[0][0])
    for ring in range(_RINGS):
        away = _reach(row[0]) + ring * _FARTHER_MM
        for x, y in (*spots, *between):
            for aside in (-away + 0.6, away + _ABOVE_MM) if upright else (away, -away - _ABOVE_MM):
                for anchor in (Anchor.MIDDLE, Anchor.START, Anchor.END):
                    place = (x + aside, y) if upright else (x, y + aside)
                    yield Text(*place, words, WORDS_PT, anchor, upward=upright)
        for x, y in between if upright else ():
            yield Text(x + away, y - 1.0, words, WORDS_PT)
            yield Text(x - away, y - 1.0, words, WORDS_PT, Anchor.END)
