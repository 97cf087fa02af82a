"""The words on a board template: which way it lies, names and stations of what is drawn, and what it is.

Edges and seams are lettered first, then what is drawn; what the tile is goes where room is left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil
from typing import Final

from storystick.drawing.board import (
    CROSS_ARM_MM,
    Pane,
    boxes_of,
    cut_paths,
    fine_lines,
    stretch_words,
    x_words,
    y_words,
)
from storystick.drawing.board_labels import SHARES, board_labels
from storystick.drawing.lettering import CAPITAL_MM, SIZE_MM, WORDS_PT, points_of, shortened, text_width_mm
from storystick.drawing.placing_words import FreePlaces
from storystick.drawing.shapes import Anchor, Box, Rect, Shape, Text, outline
from storystick.drawing.window import SEAM_KEEP_MM, WORDS_KEEP_MM
from storystick.job.job import Job
from storystick.lengths import Figures
from storystick.outline import Straight

_TITLE_PT: Final = points_of(SIZE_MM)
"""Of the title and of the words of the edges; all others are ``WORDS_PT``."""

_AROUND_MM: Final = 0.5
_WASTE_MM: Final = 4.0
_SIDES_OF_A_RECTANGLE: Final = 4


@dataclass(frozen=True, slots=True)
class BoardWords:
    """What is lettered on a pane: the names with their stations that it ``says`` whole, and those that it cannot."""

    shapes: tuple[Shape, ...]
    says: tuple[str, ...]
    left_out: tuple[str, ...]


def place_board_words(pane: Pane, job: Job) -> BoardWords:
    """Letter a pane.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    figures = job.figures
    places = _free_places(pane)
    shapes: list[Shape] = [*_edge_words(pane, places), *_seam_words(pane, figures, places)]
    says: list[str] = []
    left_out: list[str] = []
    for label in board_labels(pane, figures):
        text = places.first(label.choices, label.within)
        shapes += [text] if text else []
        (says if text and text.text in label.whole else left_out).append(label.words)
    lines = _title_lines(pane, job)
    title = [*_title_block(pane, lines, places)] or [*_title_block(pane, lines, _among(pane, shapes))]
    return BoardWords((*title, *shapes), tuple(says), tuple(left_out))


# Where words may stand.


def _free_places(pane: Pane) -> FreePlaces:
    """The wood of the pane, away from its seams and from all that is drawn; words on the waste would be cut away."""
    places = _drawn_off(pane)
    for square in _waste(pane):
        places.take_place(square)
    return places


def _among(pane: Pane, shapes: Iterable[Shape]) -> FreePlaces:
    """What the words leave free, waste and all: a tile with no room on the wood says there what it is."""
    places = _drawn_off(pane)
    for shape in shapes:
        if isinstance(shape, Text):
            places.take_place(shape.reach())
    return places


def _drawn_off(pane: Pane) -> FreePlaces:
    """The pane, away from its seams and from all that is drawn."""
    left, bottom, right, top = (
        SEAM_KEEP_MM if seam else WORDS_KEEP_MM
        for seam in (pane.column > 1, pane.row > 1, pane.has_right_tab, pane.has_upper_tab)
    )
    places = FreePlaces(Rect(left, bottom, pane.width - right, pane.height - top))
    places.take(boxes_of(pane), 0.0)
    cuts = (line for path in cut_paths(pane) for line in path.lines)
    places.take((*cuts, *fine_lines(pane)), _AROUND_MM)
    # What is cut out is waste that may be lettered, but for its cross.
    holes = ((hole.at, float(hole.diameter or 0) / 2) for hole in pane.board.holes)
    cut_outs = ((cut_out.centre, 0.0) for cut_out in pane.board.cut_outs)
    for centre, reach in (*holes, *cut_outs):
        x, y = pane.at(centre)
        places.take_place(Rect(x, y, x, y).wider(max(reach, CROSS_ARM_MM) + _AROUND_MM))
    return places


def _waste(pane: Pane) -> Iterator[Rect]:
    """What lies outside the outline, in squares."""
    sides = pane.board.outline.sides
    if len(sides) == _SIDES_OF_A_RECTANGLE and all(isinstance(side, Straight) for side in sides):
        return
    columns, rows = (range(ceil(size / _WASTE_MM)) for size in (pane.width, pane.height))
    left, bottom, half = float(pane.x.start), float(pane.y.start), _WASTE_MM / 2
    middles = [
        (left + column * _WASTE_MM + half, bottom + row * _WASTE_MM + half) for column, row in product(columns, rows)
    ]
    within = set(pane.board.outline.spots_within(middles))
    for x, y in (spot for spot in middles if spot not in within):
        yield Rect(x - left, y - bottom, x - left, y - bottom).wider(half)


# The edges and the seams.

_OVER_HEADS_MM: Final = 0.6
_UNDER_FEET_MM: Final = 0.8
_FROM_CORNER_MM: Final = 6.0
_STEP_MM: Final = 3.0
_STEPS_INWARD: Final = 16


@dataclass(frozen=True, slots=True)
class _Edge:
    """An edge of a board with its words and the sign after them, which points at it, and whether the pane has it.

    A ``level`` edge runs to the right; a ``far`` one lies at the right or the top.
    """

    words: str
    sign: str
    shown: bool
    level: bool
    far: bool


def _edge_words(pane: Pane, places: FreePlaces) -> Iterator[Text]:
    """Which way the board lies, at each of its edges that the pane has."""
    words, board = pane.board.edges, pane.board
    for edge in (
        _Edge(words.left, "▲", pane.x.start == 0, level=False, far=False),
        _Edge(words.right, "▼", pane.x.end == board.width, level=False, far=True),
        _Edge(words.bottom, "▼", pane.y.start == 0, level=True, far=False),
        _Edge(words.top, "▲", pane.y.end == board.height, level=True, far=True),
    ):
        if edge.words and edge.shown and (text := places.first(_edge_choices(edge, pane))):
            yield text


def _edge_choices(edge: _Edge, pane: Pane) -> Iterator[Text]:
    """An edge's words as near it as they can be, away from its ends only where they must."""
    length, across = (pane.width, pane.height) if edge.level else (pane.height, pane.width)
    # An upright line of words has its letters' heads to the left.
    heads_outward = edge.level == edge.far
    keep = WORDS_KEEP_MM + (SIZE_MM + _OVER_HEADS_MM if heads_outward else _UNDER_FEET_MM)
    for step in range(_STEPS_INWARD):
        inset = keep + step * _STEP_MM
        baseline = across - inset if edge.far else inset
        for share in SHARES:
            place = (length * share, baseline) if edge.level else (baseline, length * share)
            words = f"{edge.words} {edge.sign}"
            yield Text(*place, words, _TITLE_PT, Anchor.MIDDLE, bold=True, upward=not edge.level)


def _seam_words(pane: Pane, figures: Figures, places: FreePlaces) -> Iterator[Text]:
    """The station of each seam that the pane begins at; those that it ends at are told on its tabs."""
    for begins, words, level in (
        (pane.column > 1, x_words(pane.board, pane.x.start, figures), False),
        (pane.row > 1, y_words(pane.board, pane.y.start, figures), True),
    ):
        across = SEAM_KEEP_MM + (_UNDER_FEET_MM if level else CAPITAL_MM + _OVER_HEADS_MM)
        length = (pane.width if level else pane.height) - text_width_mm(words, WORDS_PT)
        steps = range(int(max(length, 0) / _STEP_MM))
        starts = (SEAM_KEEP_MM + _FROM_CORNER_MM + step * _STEP_MM for step in steps)
        choices = (
            Text(*((start, across) if level else (across, start)), words, WORDS_PT, upward=not level)
            for start in starts
        )
        if begins and (text := places.first(choices)):
            yield text


# The title block.

_TITLE_LINE_MM: Final = 5.4
_LINE_MM: Final = 4.2
_UNDER_TITLE_MM: Final = 1.2
_BLOCK_KEEP_MM: Final = 1.5
_BLOCK_STEP_MM: Final = 4.0
_LONGEST_MM: Final = 90.0
_MAP_MM: Final = 16.0
_MAP_LINE_MM: Final = 0.15


def _title_lines(pane: Pane, job: Job) -> list[str]:
    board, figures, sign = pane.board, job.figures, job.units.sign
    name = shortened(board.name, _TITLE_PT, _LONGEST_MM, bold=True)
    face = [board.face] if board.face else []
    if pane.is_whole:
        size = f"{figures(board.width)} by {figures(board.height)} {sign}"
        return [name, " · ".join([*face, job.digest]), size]
    tile = f"tile {pane.name} of {pane.columns} × {pane.rows} · {job.digest}"
    stretches = (
        f"{stretch_words(board.x_station, pane.x, figures)} {sign} from {board.x_datum}",
        f"{stretch_words(board.y_station, pane.y, figures)} {sign} from {board.y_datum}",
    )
    return [f"{pane.name} · {name}", tile, *face, *stretches]


def _title_block(pane: Pane, lines: Sequence[str], places: FreePlaces) -> Iterator[Shape]:
    """What this is, with a map of the tiles where there are several; less and less of it where there is no room."""
    for count, mapped in ((len(lines), not pane.is_whole), (len(lines), False), (2, False), (1, False)):
        title, *others = lines[:count]
        widths = (text_width_mm(title, _TITLE_PT, bold=True), *(text_width_mm(text, WORDS_PT) for text in others))
        width = max(widths)
        map_width, map_height = _map_size(pane) if mapped else (0.0, 0.0)
        beside = map_width + 3.0 if mapped else 0.0
        height = max(_TITLE_LINE_MM + len(others) * _LINE_MM, map_height)
        corner = places.corner_for(width + beside + 2 * _BLOCK_KEEP_MM, height + 1.0, _BLOCK_STEP_MM)
        if corner is None:
            continue
        left, bottom = corner[0] + _BLOCK_KEEP_MM, corner[1]
        baseline = bottom + height - _TITLE_LINE_MM + _UNDER_TITLE_MM
        yield Text(left + beside, baseline, title, _TITLE_PT, bold=True)
        for number, text in enumerate(others, start=1):
            yield Text(left + beside, baseline - number * _LINE_MM, text, WORDS_PT)
        if mapped:
            yield from _tile_map(pane, left, bottom + height)
        return


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
