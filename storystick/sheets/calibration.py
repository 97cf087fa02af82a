"""The test sheet of a printer: long rules both ways, a square, room to write, and what to type then."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.drawing.lettering import WORDS_PT, shortened
from storystick.drawing.shapes import Anchor, Line, Shape, Text, moved
from storystick.errors import Fault
from storystick.job.papers import DEFAULT_MARGIN, PAPERS, Margins, Paper
from storystick.job.shop import RULE_READ_TO
from storystick.lengths import INCH_MM, Figures, Units, nearest_root, write_exact, write_figure
from storystick.sheets.bare_sheet import BareSheet
from storystick.sheets.document import Document, Page
from storystick.sheets.pages.flow import TITLE_PT, Block, heading, paginate, paragraph
from storystick.sheets.pages.trust import EXAMPLES, upward

HAIRLINE_MM: Final = 0.1
_BELOW_MM: Final = 4.5
"""How far an end line goes beyond the rule's line on the side where the steel rule lies."""

_ABOVE_MM: Final = 7.5
_TICKS_MM: Final = (1.3, 2.0, 3.0)
_KEEP_MM: Final = 7.0
_STEPS: Final = {Units.INCH: (INCH_MM / 8, 4, 8), Units.MM: (Fraction(5), 2, 4)}
"""The finest graduation in mm, and after how many of them a longer one and a number come."""


@dataclass(frozen=True, slots=True)
class LongRule:
    """A rule from (``x``, ``y``) to the right, or ``upward``: the middles of its end lines are ``length`` mm apart.

    ``crossed_at`` is how far from its beginning another rule crosses it, in mm: no number stands there.
    """

    x: float
    y: float
    length: Fraction
    units: Units
    upward: bool = False
    crossed_at: float = 0.0

    def draw(self) -> Iterator[Shape]:
        """Its line, end lines, graduations and numbers."""
        end = float(self.length)
        yield self._line(0.0, 0.0, end, 0.0)
        for along in (0.0, end):
            yield self._line(along, -_BELOW_MM, along, _ABOVE_MM)
        step, longer, numbered = _STEPS[self.units]
        for count in range(1, -int(-self.length // step)):
            along = float(count * step)
            yield self._line(along, 0.0, along, _TICKS_MM[(count % longer == 0) + (count % numbered == 0)])
            taken = min(along, end - along, abs(along - self.crossed_at)) < _KEEP_MM
            if count % numbered == 0 and not taken:
                yield self._number(along, write_exact(count * step, self.units))

    def words(self, text: str, size_pt: float, start: float, aside: float) -> Text:
        """Words that run along the rule, from ``start`` on, their baseline ``aside`` mm beside it."""
        x, y = self._place(start, aside)
        return Text(x, y, text, size_pt, bold=True, upward=self.upward)

    def _number(self, along: float, figure: str) -> Text:
        if self.upward:
            return Text(self.x + _TICKS_MM[-1] + 0.8, self.y + along - 1.0, figure, WORDS_PT)
        return Text(self.x + along, self.y + _TICKS_MM[-1] + 0.8, figure, WORDS_PT, Anchor.MIDDLE)

    def _line(self, along: float, aside: float, to: float, aside_to: float) -> Line:
        return Line(*self._place(along, aside), *self._place(to, aside_to), HAIRLINE_MM)

    def _place(self, along: float, aside: float) -> tuple[float, float]:
        return (self.x + aside, self.y + along) if self.upward else (self.x + along, self.y + aside)


ROLL_SHEET: Final = {Units.INCH: 40 * INCH_MM, Units.MM: Fraction(1000)}
"""How long a test sheet is cut off a roll, in mm."""

_WHOLE: Final = {Units.INCH: INCH_MM, Units.MM: Fraction(10)}
_LONGEST_RULE: Final = {Units.INCH: 36 * INCH_MM, Units.MM: Fraction(1000)}
"""No steel rule of a shop is longer, in mm: common practice, no source."""

_SQUARES: Final = {
    Units.INCH: tuple(INCH_MM * side for side in (12, 10, 8, 6, 5, 4, 3)),
    Units.MM: tuple(Fraction(side) for side in (300, 250, 200, 150, 120, 100, 80)),
}
_SKEW: Final = {Units.INCH: Fraction(1, 128), Units.MM: Fraction(1, 100)}
"""The diagonals of a square may differ by this share of its side: a mark then leans by 0.3 mm at most across a strip
40 mm high. Common practice, no source."""

_INK_MM: Final = 0.5
_CROSSING_MM: Final = 6.0
_BAND_MM: Final = 26.0
_GAP_MM: Final = 8.0
_WIDEST_WORDS_MM: Final = 150.0
_COMMAND_MM: Final = 13.0
_WIDEST_COMMAND_MM: Final = 260.0
_BOX_MM: Final = 10.0
_WORDS_PT: Final = 10.0
_ASIDE_MM: Final = 13.2
"""How far beside a rule its words stand."""

_READ_BY_A_SHELL: Final = r'[\\"$`]'
"""What a shell still reads inside double quotes (POSIX.1-2017, Shell Command Language, 2.2.3)."""

_CORNER_MM: Final = 12.0
_FIELDS: Final = ("measured along", "measured across", "printer", "paper kind", "date", "steel rule read to")


@dataclass(frozen=True, slots=True)
class CalibrationSheet:
    """The test sheet for a paper: its rules are ``along`` and ``across`` mm long, in whole inches or centimetres."""

    paper: Paper
    units: Units
    bare: BareSheet
    along: Fraction
    across: Fraction

    @property
    def option(self) -> str:
        """What of a command line asks for this sheet."""
        short, long = (write_exact(side, self.units) for side in (self.paper.short_side, self.paper.long_side))
        if self.paper.roll:
            return f'--roll "{short} {self.units.sign}"'
        named = self.paper.name in PAPERS
        return f"--paper {self.paper.name}" if named else f'--paper "{short} x {long} {self.units.sign}"'

    def figure(self, length: Fraction) -> str:
        """A length with its unit."""
        return f"{write_figure(length, self.units)} {self.units.sign}"


def as_argument(name: str) -> str:
    """A name as it is typed on a command line: in quotes where a shell would read it otherwise."""
    escaped = re.sub(_READ_BY_A_SHELL, r"\\\g<0>", name)
    return name if name.isalnum() else f'"{escaped}"'


def calibration_sheet(paper: Paper, units: Units) -> CalibrationSheet:
    """The sheet, drawn without a correction; off a roll about 1 m of it.

    Raises:
        Fault: the paper is too small.
    """
    margin = DEFAULT_MARGIN[units]
    length = ROLL_SHEET[units] if paper.roll else paper.long_side
    bare = BareSheet(length, paper.short_side, Margins(margin, margin, margin, margin))
    height = Fraction(bare.free_height)
    sheet = CalibrationSheet(paper, units, bare, _longest(bare.free_length, units), _longest(height, units))
    if _square_room(sheet) < _SQUARES[units][-1]:
        raise Fault(
            f"{sheet.figure(paper.short_side)} of paper is too narrow for the test sheet",
            f"take one that is {'8 in' if units is Units.INCH else '200 mm'} wide or wider",
        )
    return sheet


def calibration_document(sheet: CalibrationSheet, printer: str = "") -> Document:
    """The file of one page; ``printer`` is its name where that is known."""
    title = "Printer test sheet"
    return Document(title, f"To measure a printer, {sheet.paper.name}", (_page(sheet, printer or "NAME", title),))


def _page(sheet: CalibrationSheet, printer: str, title: str) -> Page:
    bare = sheet.bare
    how = ("not corrected", "print at 100 %, no fit to page", "measure the two long rules, not the check bars")
    furniture = bare.marked(" · ".join((title, sheet.paper.name, *how)), sheet.units)
    shapes = (*_rules(sheet), *_content(sheet, printer), *furniture)
    return bare.page(shapes, label="test sheet", bookmarks=(title,))


def _longest(room: Fraction, units: Units) -> Fraction:
    """The longest rule of whole inches or centimetres that the room holds."""
    longest = min(room - 2 * Fraction(_INK_MM), _LONGEST_RULE[units])
    return longest // _WHOLE[units] * _WHOLE[units]


def _rules(sheet: CalibrationSheet) -> Iterator[Shape]:
    """Both rules, which cross near the lower left corner, each with its name and what is measured."""
    left, bottom = sheet.bare.left + _INK_MM, sheet.bare.free_bottom + _INK_MM
    along = LongRule(left, bottom + _CROSSING_MM, sheet.along, sheet.units, crossed_at=_CROSSING_MM)
    across = LongRule(left + _CROSSING_MM, bottom, sheet.across, sheet.units, True, crossed_at=_CROSSING_MM)
    ways = ("the roll’s length", "the roll’s width") if sheet.paper.roll else ("the long side", "the short side")
    for rule, name, way in zip((along, across), ("ALONG", "ACROSS"), ways, strict=True):
        yield from rule.draw()
        words = f"{name}, {way}: {sheet.figure(rule.length)} between the middles of the end lines"
        start, end = _BAND_MM, float(rule.length) - 2.0
        yield rule.words(shortened(words, _WORDS_PT, end - start, bold=True), _WORDS_PT, start, _ASIDE_MM)


def _content(sheet: CalibrationSheet, printer: str) -> Iterator[Shape]:
    """What stands above the one rule and beside the other: words, the square, room to write, the command."""
    left, bottom = sheet.bare.left + _BAND_MM, sheet.bare.free_bottom + _BAND_MM
    top, side = bottom + _room_height(sheet), _square(sheet)
    right = sheet.bare.left + sheet.bare.free_width
    width = min(right - left - float(side) - _GAP_MM, _WIDEST_WORDS_MM)
    square_left = left + width + _GAP_MM
    blocks = _words(sheet, width)
    (body, *rest) = paginate(blocks, top - bottom - _COMMAND_MM)
    if rest:
        raise ValueError(f"{sheet.paper.name} has no room for the words of the test sheet")
    yield from moved(body, left, top)
    yield from moved(_draw_square(side, sheet), square_left, top - float(side) - 1.0)
    yield from moved(_fields(min(float(side), 150.0)), square_left, top - float(side) - 3.0)
    yield from moved(_command(sheet, printer, min(right - left, _WIDEST_COMMAND_MM)), left, bottom)


def _room_height(sheet: CalibrationSheet) -> float:
    return sheet.bare.free_height - _BAND_MM


def _square_room(sheet: CalibrationSheet) -> float:
    # The square stands above the fields, which stand beside the words, all above the command.
    across = _room_height(sheet) - _COMMAND_MM - _BOX_MM * (len(_FIELDS) // 2) - 3.0
    return min(across, (sheet.bare.free_width - _BAND_MM - _GAP_MM) / 2)


def _square(sheet: CalibrationSheet) -> Fraction:
    room = _square_room(sheet)
    return next(side for side in _SQUARES[sheet.units] if side <= room)


def _words(sheet: CalibrationSheet, width: float) -> list[Block]:
    read_to = RULE_READ_TO[sheet.units]
    share = read_to / sheet.along
    metre, long = (upward(share * length, sheet.units) for length in EXAMPLES)
    half = write_exact(read_to / 2, sheet.units)
    lines = (
        "Print this sheet at 100 % or “actual size”, never “fit to page”, on the paper, and from the tray, that strips "
        "are printed from. Let it lie in the shop for an hour, flat.",
        "Lay a steel rule, not a tape, on the rule ALONG. Begin at a line inside the steel rule, since its end "
        "may be worn, and take that off. Read from the middle of one end line to the middle of the other, in one go.",
        "Do the same on the rule ACROSS. Write both lengths down, and test the square.",
        "Type the command in the box below. Prints that name this printer then come out full size on paper of this "
        "size. If a rule is more than 3 % out, this sheet was scaled in printing: print it again.",
        f"How finely you read decides how far a strip can still be out: half a division at each end. Read to "
        f"{sheet.figure(read_to)} here, that is {metre} in 1 m and {long} in 2.4 m along. With a magnifier, read to "
        f'half a division, and add --read-to "{half} {sheet.units.sign}": it halves both.',
        "Measure again for another paper, another tray, and after the printer was serviced.",
    )
    title = heading("Printer test sheet", width, TITLE_PT)
    numbered = (paragraph(line, width, 6.0, f"{number}.") for number, line in enumerate(lines, 1))
    return [title, *(block for blocks in numbered for block in blocks)]


def _draw_square(side: Fraction, sheet: CalibrationSheet) -> Iterator[Shape]:
    """The square from the origin, the ends of its diagonals, and what they say."""
    size = float(side)
    corners = ((0.0, 0.0), (size, 0.0), (size, size), (0.0, size))
    yield from _box(0.0, 0.0, size, size, HAIRLINE_MM)
    for x, y in corners:
        inward_x, inward_y = (_CORNER_MM if end == 0 else -_CORNER_MM for end in (x, y))
        yield Line(x, y, x + inward_x, y + inward_y, HAIRLINE_MM)
    words = paginate(_square_words(side, sheet, size - 2 * _CORNER_MM), size)[0]
    yield from moved(words, _CORNER_MM, size - _CORNER_MM)


def _square_words(side: Fraction, sheet: CalibrationSheet, width: float) -> list[Block]:
    square, figures = 2 * side**2, Figures.usual(sheet.units)
    rounded = write_exact(nearest_root(square, figures.step), sheet.units)
    full_or_scant = figures.of_root(square).removeprefix(rounded)
    diagonal = f"{rounded} {sheet.units.sign}{full_or_scant}"
    limit = sheet.figure(side * _SKEW[sheet.units])
    return [
        heading(f"Square of {sheet.figure(side)}", width),
        *paragraph(f"Measure it corner to corner. Both diagonals should be {diagonal}, and alike in any case.", width),
        *paragraph(
            f"If they differ, the print is skewed, and that cannot be corrected. Over {limit} of difference, do not "
            "trust this printer for strips: marks lean.",
            width,
        ),
    ]


def _fields(width: float) -> Iterator[Shape]:
    """Boxes to write in, downwards from the origin, two beside each other."""
    half = width / 2
    for place, name in enumerate(_FIELDS):
        x, y = place % 2 * half, -_BOX_MM * (place // 2)
        yield from _box(x, y - _BOX_MM, half, _BOX_MM)
        yield Text(x + 1.0, y - 3.6, shortened(name, 8.0, half - 2.0), 8.0)


def _command(sheet: CalibrationSheet, printer: str, width: float) -> Iterator[Shape]:
    """What to type afterwards, in a box upwards from the origin."""
    blank = f'"… {sheet.units.sign}"'
    words = f"storystick calibrate {sheet.option} --printer {as_argument(printer)} --along {blank} --across {blank}"
    yield from _box(0.0, 0.0, width, 9.0)
    yield Text(2.0, 3.0, shortened(words, _WORDS_PT, width - 4.0, bold=True), _WORDS_PT, bold=True)


def _box(x: float, y: float, width: float, height: float, pen: float = 0.2) -> Sequence[Line]:
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y))
    return [Line(*corner, *following, pen) for corner, following in pairwise(corners)]
