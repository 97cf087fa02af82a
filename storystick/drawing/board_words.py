"""The words on a board template: what it is, which way it lies, and names and stations of what is drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import ceil
from typing import Final

from storystick.drawing.board import (
    CROSS_ARM_MM,
    Pane,
    boxes_of,
    curves,
    fine_lines,
    straight_sides,
    stretch_words,
    x_words,
    y_words,
)
from storystick.drawing.board_lettering import TITLE_PT, hole_labels, title_block
from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.placing_words import FreePlaces
from storystick.drawing.shapes import FINE_MM, Anchor, Box, Line, Rect, Shape, Text
from storystick.drawing.window import SEAM_KEEP_MM, WORDS_KEEP_MM
from storystick.job.job import Job
from storystick.job.outline import Place, Straight
from storystick.layout.board import BoardLayout, Cut, CutOut, FineLine

_ABOVE_MM: Final = 2.1
_AROUND_MM: Final = 0.5
_EDGE_KEEP_MM: Final = WORDS_KEEP_MM
_OVER_HEADS_MM: Final = 0.6
_UNDER_FEET_MM: Final = 0.8
_FROM_CORNER_MM: Final = 6.0
_STEP_MM: Final = 3.0
_WASTE_MM: Final = 4.0
_SIDES_OF_A_RECTANGLE: Final = 4
_STEPS_INWARD: Final = 16
_SHARES: Final = (0.5, 0.3, 0.7, 0.1, 0.9)


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


@dataclass(frozen=True, slots=True)
class BoardWords:
    """What is lettered on a pane: the names with their stations that it ``says`` whole, and those that it cannot."""

    shapes: tuple[Shape, ...]
    says: tuple[str, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Wanted:
    """Something to letter, in ``words``: texts to try in turn, which of them say all, and the box it may stand in."""

    words: str
    whole: Sequence[str]
    choices: Iterable[Text]
    within: Box | None = None


def place_board_words(pane: Pane, job: Job) -> BoardWords:
    """Letter a pane.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    places = _free_places(pane)
    shapes: list[Shape] = [*_edge_words(pane, places), *_seam_words(pane, job, places)]
    says: list[str] = []
    left_out: list[str] = []
    for wanted in _labels(pane, job):
        label = places.first(wanted.choices, wanted.within)
        shapes += [label] if label else []
        (says if label and label.text in wanted.whole else left_out).append(wanted.words)
    title = [*title_block(pane, job, places)] or [*title_block(pane, job, _among(pane, shapes))]
    return BoardWords((*title, *shapes), tuple(says), tuple(left_out))


def _among(pane: Pane, shapes: Iterable[Shape]) -> FreePlaces:
    """What the words leave free, waste and all: a tile with no room on the wood says there what it is."""
    places = _drawn_off(pane)
    for shape in shapes:
        if isinstance(shape, Text):
            places.take_place(shape.reach())
    return places


def _free_places(pane: Pane) -> FreePlaces:
    """The wood of the pane, away from its seams and from all that is drawn; words on the waste would be cut away."""
    places = _drawn_off(pane)
    for square in _waste(pane):
        places.take_place(square)
    return places


def _waste(pane: Pane) -> Iterator[Rect]:
    """What lies outside the outline, in squares."""
    sides = pane.board.outline.sides
    if len(sides) == _SIDES_OF_A_RECTANGLE and all(isinstance(side, Straight) for side in sides):
        return
    across, up = (ceil(size / _WASTE_MM) for size in (pane.width, pane.height))
    for column, row in product(range(across), range(up)):
        left, bottom = column * _WASTE_MM, row * _WASTE_MM
        middle = Place(
            *(start + Fraction(low + _WASTE_MM / 2) for start, low in ((pane.x.start, left), (pane.y.start, bottom)))
        )
        if not pane.board.outline.holds(middle):
            yield Rect(left, bottom, left + _WASTE_MM, bottom + _WASTE_MM)


def _drawn_off(pane: Pane) -> FreePlaces:
    """The pane, away from its seams and from all that is drawn."""
    right = pane.width - (SEAM_KEEP_MM if pane.has_right_tab else _EDGE_KEEP_MM)
    top = pane.height - (SEAM_KEEP_MM if pane.has_upper_tab else _EDGE_KEEP_MM)
    left = SEAM_KEEP_MM if pane.column > 1 else _EDGE_KEEP_MM
    bottom = SEAM_KEEP_MM if pane.row > 1 else _EDGE_KEEP_MM
    places = FreePlaces(Rect(left, bottom, right, top))
    places.take(boxes_of(pane), 0.0)
    places.take((*straight_sides(pane), *fine_lines(pane), *curves(pane)), _AROUND_MM)
    for centre, reach in _centres(pane.board):
        x, y = pane.at(centre)
        places.take_place(Rect(x, y, x, y).wider(max(reach, CROSS_ARM_MM) + _AROUND_MM))
    return places


def _centres(board: BoardLayout) -> Iterator[tuple[tuple[Fraction, Fraction], float]]:
    """Every cross, with how far it reaches; what is cut out is waste that may be lettered."""
    for hole in board.holes:
        yield hole.at, float(hole.diameter or 0) / 2
    for cut_out in board.cut_outs:
        yield cut_out.centre, 0.0


def _edge_words(pane: Pane, places: FreePlaces) -> Iterator[Text]:
    """Which way the board lies, at each of its edges that the pane has."""
    for edge in _edges(pane):
        if edge.words and edge.shown and (label := places.first(_along(edge, pane))):
            yield label


def _edges(pane: Pane) -> tuple[_Edge, ...]:
    edges, board = pane.board.edges, pane.board
    return (
        _Edge(edges.left, "▲", pane.x.start == 0, level=False, far=False),
        _Edge(edges.right, "▼", pane.x.end == board.width, level=False, far=True),
        _Edge(edges.bottom, "▼", pane.y.start == 0, level=True, far=False),
        _Edge(edges.top, "▲", pane.y.end == board.height, level=True, far=True),
    )


def _along(edge: _Edge, pane: Pane) -> Iterator[Text]:
    """An edge's words as near it as they can be, away from its ends only where they must."""
    length, across = (pane.width, pane.height) if edge.level else (pane.height, pane.width)
    # An upright line of words has its letters' heads to the left.
    heads_outward = edge.level == edge.far
    keep = _EDGE_KEEP_MM + (_ABOVE_MM + _OVER_HEADS_MM if heads_outward else _UNDER_FEET_MM)
    for step in range(_STEPS_INWARD):
        inset = keep + step * _STEP_MM
        baseline = across - inset if edge.far else inset
        for share in _SHARES:
            place = (length * share, baseline) if edge.level else (baseline, length * share)
            yield Text(*place, f"{edge.words} {edge.sign}", TITLE_PT, Anchor.MIDDLE, bold=True, upward=not edge.level)


def _seam_words(pane: Pane, job: Job, places: FreePlaces) -> Iterator[Text]:
    """The station of each seam that the pane begins at; those that it ends at are told on its tabs."""
    for begins, words, level in (
        (pane.column > 1, x_words(pane.board, pane.x.start, job), False),
        (pane.row > 1, y_words(pane.board, pane.y.start, job), True),
    ):
        across = SEAM_KEEP_MM + (_UNDER_FEET_MM if level else _ABOVE_MM + _OVER_HEADS_MM)
        length = (pane.width if level else pane.height) - text_width_mm(words, WORDS_PT)
        steps = range(int(max(length, 0) / _STEP_MM))
        starts = (SEAM_KEEP_MM + _FROM_CORNER_MM + step * _STEP_MM for step in steps)
        choices = (
            Text(*((start, across) if level else (across, start)), words, WORDS_PT, upward=not level)
            for start in starts
        )
        label = places.first(choices) if begins else None
        if label:
            yield label


def _labels(pane: Pane, job: Job) -> Iterator[_Wanted]:
    """Every name and station to letter."""
    board = pane.board
    for cut in board.cuts:
        if box := pane.box(cut):
            forms = _cut_words(cut, board, job)
            yield _Wanted(forms[0], forms[:2], _cut_choices(cut, box, forms), box)
    for line in board.lines:
        for stroke in pane.strokes((line.start, line.end), FINE_MM):
            forms = _line_words(line, board, job)
            yield _Wanted(forms[0], forms[:1], _line_choices(line, stroke, forms))
    for label in hole_labels(pane, job):
        yield _Wanted(label.words, (label.whole,), label.choices)
    for cut_out in board.cut_outs:
        if pane.shows(cut_out.centre):
            forms = _cut_out_words(cut_out, board, job)
            yield _Wanted(forms[0], forms[:1], _in_cut_out(cut_out, pane, forms))


def _cut_words(cut: Cut, board: BoardLayout, job: Job) -> tuple[str, ...]:
    """With its stations, or its name alone."""
    level = cut.along_x
    across, station = (cut.y, board.y_station) if level else (cut.x, board.x_station)
    stations = stretch_words(station, across, job)
    datum = board.y_datum if level else board.x_datum
    return f"{cut.name}: {stations} from {datum}", f"{cut.name}: {stations}", stations, cut.name


def _cut_choices(cut: Cut, box: Box, forms: Sequence[str]) -> Iterator[Text]:
    """In the box where it is high enough for letters, else beside it."""
    level = cut.along_x
    length, thick = (box.width, box.height) if level else (box.height, box.width)
    for words in forms:
        if text_width_mm(words, WORDS_PT) > length - 2.0:
            continue
        middle = thick / 2
        inside = [middle - 1.0 if level else middle + 1.0] if thick > _ABOVE_MM + 1.6 else []
        outside = [thick + 1.4, -_ABOVE_MM - 1.0] if level else [thick + _ABOVE_MM + 0.8, -1.4]
        for away in (*inside, *outside):
            for share in _SHARES:
                place = (box.x + length * share, box.y + away) if level else (box.x + away, box.y + length * share)
                yield Text(*place, words, WORDS_PT, Anchor.MIDDLE, upward=not level)


def _line_words(line: FineLine, board: BoardLayout, job: Job) -> tuple[str, ...]:
    station = y_words(board, line.start.y, job) if line.is_level else x_words(board, line.start.x, job)
    return f"{line.name}, {station}", line.name, station


def _line_choices(line: FineLine, stroke: Line, forms: Sequence[str]) -> Iterator[Text]:
    level = line.is_level
    length = abs(stroke.x2 - stroke.x1) if level else abs(stroke.y2 - stroke.y1)
    low_x, low_y = min(stroke.x1, stroke.x2), min(stroke.y1, stroke.y2)
    for words in forms:
        if text_width_mm(words, WORDS_PT) > length - 2.0:
            continue
        for away in (1.4, -_ABOVE_MM - 0.8) if level else (-1.4, _ABOVE_MM + 0.8):
            for share in _SHARES:
                place = (low_x + length * share, low_y + away) if level else (low_x + away, low_y + length * share)
                yield Text(*place, words, WORDS_PT, Anchor.MIDDLE, upward=not level)


def _cut_out_words(cut_out: CutOut, board: BoardLayout, job: Job) -> tuple[str, ...]:
    size = f"dia. {job.label(cut_out.diameter)}"
    stations = ", ".join((job.label(board.x_station(cut_out.centre.x)), job.label(board.y_station(cut_out.centre.y))))
    return f"{cut_out.name}, {size}: {stations}", f"{cut_out.name}, {size}", size, cut_out.name


def _in_cut_out(cut_out: CutOut, pane: Pane, forms: Sequence[str]) -> Iterator[Text]:
    x, y = pane.at(cut_out.centre)
    reach = float(cut_out.diameter) / 2
    for words in forms:
        for up in (4.2, -6.4, 8.0, -10.2, reach + 1.6, -reach - _ABOVE_MM - 1.4):
            yield Text(x, y + up, words, WORDS_PT, Anchor.MIDDLE)
