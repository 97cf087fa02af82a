"""The title block of a board template: what it is, which tile this is, and a map of the tiles."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storystick.drawing.board_stations import WORDS_PT, stretch_words
from storystick.drawing.free_places import FreePlaces
from storystick.drawing.lettering import shortened, text_width_mm
from storystick.drawing.pane import Pane
from storystick.drawing.shapes import Box, Line, Shape, Text
from storystick.job.model import Job

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
    for level in (bottom, top):
        yield Line(left, level, left + width, level, _MAP_LINE_MM)
    for side in (left, left + width):
        yield Line(side, bottom, side, top, _MAP_LINE_MM)
