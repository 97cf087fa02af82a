"""How far a mark may lie from its figure: what tapes, tiles and paper can lose, and how that is said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import Final

from storystick.job.shop import RULE_READ_TO
from storystick.layout.stations import StickLayout, printer_warnings
from storystick.lengths import DEFAULT_STEP, Figures, Units, write_exact, write_figure
from storystick.sheets.pages.flow import Block, Column, Room, heading, paragraph, table
from storystick.sheets.strips import CutStrip, StripSheets

SEAM_ERROR: Final = Fraction(1, 4)
"""How far a tile may be laid beside its register marks or its station, in mm: common practice, no source."""

_METRE: Final = Fraction(1000)


@dataclass(frozen=True, slots=True)
class TapeClass:
    """An accuracy class of tapes and rules: ``fixed`` mm, and ``a_metre`` more for each metre that is begun.

    That holds between two of its marks; from a hook or the end of a rule it is ``hook`` mm more.
    OIML R 35-1:2007, clause 4; UK SI 2016/1153, Schedule 1I, paragraph 2.
    """

    fixed: Fraction
    a_metre: Fraction
    hook: Fraction

    def error(self, length: Fraction) -> Fraction:
        """The most that the tape may show wrong, either way, over ``length`` mm, rounded up to a whole metre."""
        return self.fixed + self.a_metre * ceil(length / _METRE)

    def hooked(self, length: Fraction) -> Fraction:
        """The same where the tape is hooked on, or a rule butted, and not read at two marks."""
        return self.error(length) + self.hook

    def between_two(self, length: Fraction) -> Fraction:
        """The most that two sides may differ that are measured apart from the hook: one too long, one too short."""
        return 2 * self.hooked(length)


TAPE_CLASSES: Final = {
    "I": TapeClass(Fraction("0.1"), Fraction("0.1"), Fraction("0.1")),
    "II": TapeClass(Fraction("0.3"), Fraction("0.2"), Fraction("0.2")),
    "III": TapeClass(Fraction("0.6"), Fraction("0.4"), Fraction("0.3")),
}


def lost_joined(tiles: Sequence[Fraction], share: Fraction) -> Fraction:
    """What a strip may lose by its far end where each tile is joined to the one before.

    ``tiles`` are their lengths; ``share`` is that part of a length that the printer may still be wrong by.
    """
    return share * sum(tiles, Fraction(0)) + SEAM_ERROR * (len(tiles) - 1)


def lost_at_stations(tiles: Sequence[Fraction], share: Fraction) -> Fraction:
    """The same where each tile is laid to its own station: nothing adds up, so it is that of the longest tile."""
    return share * max(tiles) + (SEAM_ERROR if len(tiles) > 1 else 0)


EXAMPLES: Final = (Fraction(1000), Fraction(2400))
"""The lengths, in mm, of the strips whose error is said: 1 m, and about that of a sheet of plywood, 2.4 m."""

_TENTH: Final = Fraction(1, 10)


def upward(amount: Fraction, units: Units) -> str:
    """``amount`` (mm), rounded up to 0.1 mm; in an inch job to 1/64 in as well, with the mm beside it."""
    in_mm = f"{write_exact(_up(amount, _TENTH), Units.MM)} mm"
    if units is Units.MM:
        return in_mm
    return f"{write_exact(_up(amount, DEFAULT_STEP[units]), units)} in ({in_mm})"


def upward_percent(share: Fraction) -> str:
    """``share`` in per cent, rounded up to 0.01."""
    return f"{float(_up(share * 100, Fraction(1, 100))):.2f} %"


def _up(amount: Fraction, step: Fraction) -> Fraction:
    return ceil(amount / step) * step


_TAPE: Final = TAPE_CLASSES["II"]
_MOST_ROWS: Final = 6
_SIGN_MM: Final = 15.0
_USUAL: Final = {Units.INCH: "1/16 to 1/8 in", Units.MM: "1.5 to 3 mm"}
"""How far two sides end up apart that were measured one by one: common practice, no source."""

_COLUMNS: Final = (
    Column("strips", 1),
    Column("length", right=True),
    Column("tiles", right=True),
    Column("by tape", right=True),
    Column("tiles joined", right=True),
    Column("tiles at stations", right=True),
)
_SAME_STRIP: Final = (
    "Both sides that are struck from one strip share every error of printer, paper, seams and tape: they agree with "
    "each other whatever the strip itself loses. A left and a right strip share all but the seams: lay them edge to "
    "edge before the glue. The table says, at worst, how far two sides may differ that are each measured with a tape, "
    "and how far the far end of a strip may lie from its figure: its tiles joined one to the next, or each laid to its "
    "own station."
)
_WITHOUT_TAPE: Final = "The last column leaves out the tape’s own error."
_PAPER: Final = (
    "it grows with damp: bond paper by 0.1–0.2 % in all along its grain and 0.2–0.4 % across it, so 1 m of strip by "
    "1–2 mm or 2–4 mm (a paper trade’s source, which does not say from which humidity to which; the test is ISO "
    "8226). So print, let the sheets lie in the shop, glue with dry adhesive, check, and strike the same day."
)


@dataclass(frozen=True, slots=True)
class _Alike:
    """Strips that are alike in this: how long they are, and in tiles of which lengths. In mm."""

    letters: tuple[str, ...]
    length: Fraction
    tiles: tuple[Fraction, ...]

    def loss(self, share: Fraction) -> tuple[Fraction, Fraction, Fraction]:
        """With the tape, joined, and each tile to its station."""
        return (
            _TAPE.between_two(self.length),
            lost_joined(self.tiles, share),
            lost_at_stations(self.tiles, share),
        )


def trust_blocks(plan: StripSheets, room: Room) -> Iterator[Block]:
    """The chapter for strips in tiles, about half a page: the longest strips each, and what is most for the others."""
    width = room.width_mm
    job = plan.job
    share = share_left(plan)
    rows = _rows(plan)
    yield heading("How far to trust it", width)
    cells = [_cells(row, share, job.figures) for row in rows[:_MOST_ROWS]]
    note = paragraph(_WITHOUT_TAPE, width)
    together = (*paragraph(_SAME_STRIP, width), *table(_COLUMNS, cells, width), *note)
    yield from (replace(block, keeps_next=True) for block in together)
    if len(rows) > _MOST_ROWS:
        yield from paragraph(_others_words(rows[_MOST_ROWS:], share, job.units), width)
    for sign, words in (
        ("Tape:", _tape_words(job.units)),
        ("Strip:", _strip_words(plan, share)),
        ("Paper:", _PAPER),
    ):
        yield from paragraph(words, width, indent_mm=_SIGN_MM, sign=sign)
    for warning in printer_warnings(job):
        yield from paragraph(f"Look at {warning}.", width, indent_mm=_SIGN_MM, sign="!")


def share_left(plan: StripSheets) -> Fraction:
    """The share of a length along the strips that the printer may still be wrong by.

    As its test sheet was read; without one, as the shortest check bar of the sheets can be read with a steel rule.
    """
    printer = plan.job.printer
    if printer and printer.along_within is not None:
        return printer.along_within
    return RULE_READ_TO[plan.job.units] / _check_bar(plan)


def _check_bar(plan: StripSheets) -> Fraction:
    return min(sheet.bare.level_check(plan.job.units) for sheet in plan.sheets)


def _rows(plan: StripSheets) -> list[_Alike]:
    """The strips by length and tiles, the longest first; of a pair, one speaks for both."""
    alike: dict[tuple[Fraction, tuple[Fraction, ...]], dict[str, None]] = {}
    for cut_strip in plan.things:
        stick = cut_strip.strip.layout
        alike.setdefault((stick.length, _tiles(stick, cut_strip)), {})[cut_strip.strip.letter] = None
    rows = [_Alike(tuple(letters), length, tiles) for (length, tiles), letters in alike.items()]
    return sorted(rows, key=lambda row: -row.length)


def _tiles(stick: StickLayout, cut_strip: CutStrip) -> tuple[Fraction, ...]:
    stations = (Fraction(0), *(seam.at for seam in cut_strip.seams), stick.length)
    return tuple(far - near for near, far in pairwise(stations))


def _cells(row: _Alike, share: Fraction, figures: Figures) -> tuple[str, ...]:
    losses = (upward(amount, figures.units) for amount in row.loss(share))
    return ", ".join(row.letters), figures(row.length), str(len(row.tiles)), *losses


def _others_words(rows: Sequence[_Alike], share: Fraction, units: Units) -> str:
    most = (max(losses) for losses in zip(*(row.loss(share) for row in rows), strict=True))
    tape, joined, laid = (upward(loss, units) for loss in most)
    number = sum(len(row.letters) for row in rows)
    strips = f"The other {number} shorter strips lose" if number > 1 else "The shortest strip loses"
    return f"{strips} {tape} by tape, {joined} joined and {laid} each to its station, or less."


def _tape_words(units: Units) -> str:
    return (
        "a class II tape may be wrong by ±(0.3 + 0.2 L) mm, L the length in metres, rounded up to a whole one, and by "
        "0.2 mm more from its hook (OIML R 35-1:2007; UK SI 2016/1153, Schedule 1I); two sides measured apart differ "
        "by up to twice that. In the shop they end "
        f"up {_USUAL[units]} different (common practice, no source)."
    )


def _strip_words(plan: StripSheets, share: Fraction) -> str:
    units = plan.job.units
    metre, long = (f"by {upward(share * length, units)}" for length in EXAMPLES)
    return (
        f"{_source_of_share(plan, share)}, so that 1 m can still be out {metre}, and 2.4 m {long}. Each seam adds "
        f"{write_exact(SEAM_ERROR, Units.MM)} mm at most (common practice, no source). With tiles joined one to the "
        "next all of it adds up, so check the far end against the tape before any glue. With each tile laid to its "
        "own station only the longest tile and one seam count, and the tape’s own error moves both hands alike."
    )


def _source_of_share(plan: StripSheets, share: Fraction) -> str:
    """Where the share comes from, in words that begin a sentence."""
    job, percent = plan.job, upward_percent(share)
    if job.printer and job.printer.along_within is not None:
        return f"printer {job.printer.name} was measured, and strips of it are right within {percent}"
    lengths = (_check_bar(plan), RULE_READ_TO[job.units])
    bar, read_to = (f"{write_figure(length, job.units)} {job.units.sign}" for length in lengths)
    return f"a check bar of {bar}, read to {read_to}, shows that strips are right within {percent}"
