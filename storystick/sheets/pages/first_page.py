"""Page 1 of the job sheet, to be hung up: the drawing with the strips' letters, their key, and what to do with them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final, TypeAlias

from storystick.drawing.lettering import NAME_MM, SIZE_MM, STATION_MM, points_of, text_width_mm
from storystick.drawing.shapes import Shape, Text, moved
from storystick.drawing.signs import STEP_HEIGHT_MM, STEP_WIDTH_MM, signs_of, steps_of
from storystick.job.job import Job
from storystick.layout.stations import Layout, StickLayout
from storystick.sheets.pages.first_picture import LEAST_STICK_MM, FirstPicture, arrange_picture
from storystick.sheets.pages.flow import NOTHING, TEXT_PT, Block, Room, paragraph, stacked, titled
from storystick.sheets.pages.strip_key import KeyRow, key_block, key_rows, key_table
from storystick.sheets.pages.title_block import Field, title_block
from storystick.sheets.pages.trust import lost_at_stations, lost_joined, share_left, upward
from storystick.sheets.print_choices import GLUE_UP_FILE, STRIPS_FILE
from storystick.sheets.seams import CLEARANCE_WORDS
from storystick.sheets.strips import StripSheets
from storystick.wording import listed

_GAP_MM: Final = 5.0
_LINE_MM: Final = 4.4
_LEAST_PICTURE_MM: Final = 62.0
"""Where less than this is left for a picture that could be larger, the key of the strips has a page of its own."""


_MOST_STATIONS: Final = 40
"""Of more seams that are close to marks only the letters of their strips are told."""

_CAUTIONS: Final = (
    "Measure the stock with calipers first: the marks hold for the thicknesses in the job file.",
    "Lay each tile so that the tape, hooked at the datum, agrees with its seam.",
    "Never join tiles of two versions. No water-based glue: paper grows with it.",
    "Strike at the edge of the ink, beside the cross; fine lines at their middle.",
    "Strike one part, and try in it what it takes, before the others.",
)
_HANDED: Final = "LEFT and RIGHT go on inside faces, FRONT toward the front edge."
_TIPPING: Final = "Fix tall cabinets and those with drawers to the wall, as your local code asks."
_WRAPPED: Final = (
    "Score a wrapped strip along its dashed line, a straightedge on the ticks beyond both ends, before it is cut out "
    "below the fold. Glue the side with the words first, the scored line on the edge of the stick: every band goes "
    "on over the fold without a step.",
)


_Line: TypeAlias = tuple[str, str]
"""Words and the sign before them."""


def first_page(layout: Layout, plan: StripSheets, files: Collection[str], room: Room) -> Iterator[Block]:
    """Page 1: the picture and the key from the top, the words, the signs, the steps and the title block at the foot.

    It is one block that fills the page. A key for which it has no room goes on after it. ``files`` are printed too.
    """
    tiled = STRIPS_FILE in files
    width, rows = room.width_mm, key_rows(plan, tiled)
    warnings = tuple(_warnings(plan)) if tiled else ()
    lines = [*(("–", line) for line in _lines(layout, plan, files)), *(("!", warning) for warning in warnings)]
    foot = _spaced([_steps(_is_wrapped(plan), width), _title(plan, tiled, width)])
    upper = Room(width, room.height_mm - foot.height_mm - _GAP_MM)
    body, alone = (_largest(layout, plan, each, lines, upper) for each in (rows, ()))
    with_key = not rows or _is_large(body, alone, layout)
    body = body if with_key else alone
    shapes = (*body.draw(), *moved(foot.shapes, 0.0, foot.height_mm - room.height_mm))
    yield Block(room.height_mm, shapes, starts_page=True)
    if not with_key:
        yield from titled("Key of the strips", key_table(rows, width), width)


@dataclass(frozen=True, slots=True)
class _Body:
    """What stands above the steps: the picture in ``picture_mm``, perhaps with signs beside it, the key, the words.

    It is ``height_mm`` high.
    """

    picture: FirstPicture
    picture_mm: float
    key: Block
    words: Block
    height_mm: float
    signs: Block = NOTHING
    signs_left_mm: float = 0.0

    def draw(self) -> Iterator[Shape]:
        """The picture and the key from the top, the words at the foot."""
        # A picture may be lower than the signs beside it.
        upper = _side_by_side(self.picture.block(), self.signs, self.signs_left_mm)
        yield from _spaced([upper, self.key]).shapes
        yield from moved(self.words.shapes, 0.0, self.words.height_mm - self.height_mm)


def _largest(layout: Layout, plan: StripSheets, rows: Sequence[KeyRow], lines: Sequence[_Line], room: Room) -> _Body:
    """With the signs where most of the job has room, and is largest: beside the words, above them, by the picture."""
    sticks = [cut_strip.strip.layout for cut_strip in plan.things]
    width, key = room.width_mm, key_block(rows, room.width_mm) if rows else NOTHING
    columns = _in_columns(lines, width)

    def body(words: Block, picture_width: float = width) -> _Body:
        height = max(room.height_mm - _spaced([key, words]).height_mm - _GAP_MM, _GAP_MM)
        picture = arrange_picture(layout, plan, picture_width, height)
        return _Body(picture, height, key, words, room.height_mm)

    if not sticks:
        return body(columns)
    at = width - _SIGNS_ACROSS * _SIGN_PITCH_MM
    bodies = [
        body(_side_by_side(_list(lines, at - 2 * _GAP_MM), _signs(sticks, _SIGNS_ACROSS), at)),
        body(_spaced([_signs(sticks, _SIGNS_IN_ROW), columns])),
    ]
    if layout.cabinets:
        left, beside = width - 2 * _SIGN_PITCH_MM - _GAP_MM, _signs(sticks, 2)
        narrow = replace(body(columns, left), signs=beside, signs_left_mm=left + _GAP_MM)
        bodies += [narrow] if narrow.picture_mm >= beside.height_mm else []
    return max(bodies, key=lambda each: (-each.picture.left_out, -each.picture.across, each.picture.scale))


def _spaced(blocks: Iterable[Block]) -> Block:
    """Blocks one below another, with room between them."""
    gap = Block(_GAP_MM, ())
    return stacked([each for block in blocks if block.shapes for each in (gap, block)][1:])


def _side_by_side(left: Block, right: Block, at: float) -> Block:
    return Block(max(left.height_mm, right.height_mm), (*left.shapes, *moved(right.shapes, at, 0.0)))


def _is_wrapped(plan: StripSheets) -> bool:
    return any(cut_strip.drawing.wrap_mm for cut_strip in plan.things)


def _is_large(body: _Body, alone: _Body, layout: Layout) -> bool:
    """Whether all of the picture is shown above its key, and large enough, or as large as it would be ``alone``."""
    if body.picture.left_out:
        return False
    if not (layout.cabinets or layout.job.runs):
        return body.picture_mm >= LEAST_STICK_MM
    return body.picture_mm >= _LEAST_PICTURE_MM or body.picture.scale >= alone.picture.scale


def _title(plan: StripSheets, tiled: bool, width: float) -> Block:
    job = plan.job
    fits = text_width_mm(job.title, points_of(STATION_MM), bold=True) < width * 15 / 24 - 4.0
    paper = plan.paper_words if tiled and plan.sheets else "in one piece" if plan.things else "none"
    rows = (
        (
            Field("job", job.title, 15, STATION_MM if fits else SIZE_MM),
            Field("version", job.digest, 4, SIZE_MM),
            Field("units", job.units.plural, 5, SIZE_MM),
        ),
        (
            Field("strips", paper, 5),
            Field("printer", _printer_words(job), 6),
            Field("date", "", 3),
            Field("level bar, measured", "", 5),
            Field("upright bar, measured", "", 5),
        ),
    )
    return title_block(rows, width)


def _printer_words(job: Job) -> str:
    printer = job.printer
    if printer is None:
        return "no correction"
    along, across = (f"{float(factor):.5f}" for factor in (printer.along, printer.across))
    return f"{printer.name}, × {along} along, × {across} across"


def _lines(layout: Layout, plan: StripSheets, files: Collection[str]) -> Iterator[str]:
    """How far to trust the strips, and the cautions that belong to printing and striking.

    That a cabinet may tip over is said here where neither the page of a run nor a glue-up that is printed says it.
    """
    if STRIPS_FILE in files and plan.things:
        yield _trust(plan)
    yield from _CAUTIONS
    if any(cut_strip.strip.laid for cut_strip in plan.things):
        yield _HANDED
    yield from _WRAPPED if _is_wrapped(plan) else ()
    if layout.cabinets and not layout.job.runs and GLUE_UP_FILE not in files:
        yield _TIPPING


def _warnings(plan: StripSheets) -> Iterator[str]:
    """What to look at in this print, by letters; both hands of a pair are cut at the same stations."""
    figures, units = plan.job.figures, plan.job.units
    near: dict[str, list[str]] = {}
    for cut_strip in plan.things:
        stations = [figures(seam.at) for seam in cut_strip.seams if not seam.keeps_clear]
        near |= {cut_strip.strip.letter: stations} if stations else {}
    if near:
        few = sum(map(len, near.values())) <= _MOST_STATIONS
        seams = "; ".join(f"{letter} at {listed(at)}" for letter, at in near.items()) if few else listed(list(near))
        clear = CLEARANCE_WORDS[units]
        yield f"Seams less than {clear} from a mark: {seams}. Check the marks beside them against the tape."
    lacking = list(dict.fromkeys(cut_strip.strip.letter for cut_strip in plan.things if cut_strip.lacking))
    if lacking:
        yield f"Not all words found room on {listed(lacking)}: the marks themselves are all there."


def _trust(plan: StripSheets) -> str:
    """How far the far end of the longest strip can be out, each way of laying it."""
    longest = max(plan.things, key=lambda cut_strip: cut_strip.strip.layout.length)
    stations = (Fraction(0), *(seam.at for seam in longest.seams), longest.strip.layout.length)
    tiles = [far - near for near, far in pairwise(stations)]
    share, units = share_left(plan), plan.job.units
    laid, joined = (upward(lost(tiles, share), units) for lost in (lost_at_stations, lost_joined))
    the_longest = ", the longest," if len({cut_strip.strip.letter for cut_strip in plan.things}) > 1 else ""
    if len(tiles) == 1:
        return f"The far end of a strip can be out by {laid}."
    return (
        f"Strip {longest.strip.letter}{the_longest} can be out by {laid} at its far end with each tile laid to the "
        f"tape, by {joined} with each only joined to the next."
    )


def _steps(wrapped: bool, width: float) -> Block:
    steps = steps_of(wrapped)
    pitch = (width - STEP_WIDTH_MM) / (len(steps) - 1)
    shapes: list[Shape] = []
    for number, step in enumerate(steps):
        x, y = number * pitch, -STEP_HEIGHT_MM - 2.0 - NAME_MM
        shapes += moved(step.draw(), x, -STEP_HEIGHT_MM)
        shapes.append(Text(x, y, f"{number + 1}  {step.verb}", TEXT_PT, bold=True))
        shapes.append(Text(x, y - _LINE_MM, step.words, TEXT_PT))
    return Block(STEP_HEIGHT_MM + 2.0 + 2 * _LINE_MM, tuple(shapes))


def _list(lines: Iterable[_Line], width: float) -> Block:
    return stacked([block for sign, words in lines for block in paragraph(words, width, 3.4, sign)])


def _in_columns(lines: Sequence[_Line], width: float) -> Block:
    """The words in two columns, the first as high as the second or a little higher."""
    half = (width - 2 * _GAP_MM) / 2
    splits = range(1, len(lines) + 1)
    pairs = ((_list(lines[:split], half), _list(lines[split:], half)) for split in splits)
    left, right = min(pairs, key=lambda pair: max(pair[0].height_mm, pair[1].height_mm))
    return _side_by_side(left, right, half + 2 * _GAP_MM)


_SIGN_PITCH_MM: Final = 23.0
_SIGNS_ACROSS: Final = 3
_SIGNS_IN_ROW: Final = 8


def _signs(sticks: Sequence[StickLayout], across: int) -> Block:
    """The signs that some sticks have, so many to a row."""
    signs = signs_of(sticks)
    if not signs:
        return NOTHING
    high = max(sign.height_mm for sign in signs)
    pitch = high + 2.0 + NAME_MM + _GAP_MM
    shapes: list[Shape] = []
    for number, sign in enumerate(signs):
        row, column = divmod(number, across)
        x, y = column * _SIGN_PITCH_MM, -row * pitch - high
        shapes += moved(sign.draw(), x + 5.0, y)
        shapes.append(Text(x, y - 2.0 - NAME_MM, sign.words, TEXT_PT))
    rows = (len(signs) - 1) // across + 1
    return Block(rows * pitch - _GAP_MM, tuple(shapes))
