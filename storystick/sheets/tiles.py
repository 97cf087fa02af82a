"""Tiles of any kind on sheets: where each lies, the page that a sheet becomes, and what is said of tiles and paper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final, Generic, Protocol, TypeVar

from storystick.drawing.shapes import Shape, moved
from storystick.drawing.window import TAB_MM, Window
from storystick.errors import Fault
from storystick.job.job import Job
from storystick.lengths import INCH_MM, Figures, Units, write_figure
from storystick.sheets.bare_sheet import BareSheet, cut_off
from storystick.sheets.document import Page
from storystick.sheets.packing import ROUNDING_MM, Oblong, Placed, fit
from storystick.sheets.seams import CLEARANCE_WORDS, Reach, Seam
from storystick.wording import counted, listed

SHORTEST_TILE_MM: Final = Fraction(100)
"""A tile that is shorter is hard to hold straight, and has no room for the words that tell it from others."""

SEAM_GRID: Final = {Units.INCH: INCH_MM / 8, Units.MM: Fraction(1)}
"""Seams lie on these, in mm, where that costs nothing: stations that a tape shows."""

CROP_MM: Final = 0.9
BLEED_MM: Final = 1.0
"""What may stand out beyond a tile: crop ticks, outlines, half an arrowhead."""


class AnyTile(Protocol):
    """A piece of something large: what it shows is drawn with its left at x = 0. All in mm."""

    @property
    def name(self) -> str:
        """What it is a tile of."""

    @property
    def begins(self) -> bool:
        """Whether it is the first tile of that."""

    @property
    def left_mm(self) -> float:
        """How far what is printed reaches left of x = 0."""

    @property
    def below_mm(self) -> float:
        """How far it reaches below y = 0."""

    @property
    def width_mm(self) -> float:
        """Of all that is printed."""

    @property
    def height_mm(self) -> float:
        """Of the same."""

    def draw(self) -> Iterator[Shape]:
        """Its shapes, with what is needed to cut it out and to join it."""


T = TypeVar("T", bound=AnyTile)


@dataclass(frozen=True, slots=True)
class PlacedTile(Generic[T]):
    """A tile on a sheet, origin at the sheet's lower left, in mm as they come out on the paper.

    ``left_mm``, ``y_mm`` is the place of x = 0, y = 0 of its drawing: of a strip, the left end of its marking edge.
    """

    tile: T
    left_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Sheet(Generic[T]):
    """A printed sheet with its tiles; ``number`` counts from 1 and is its page in the file."""

    number: int
    bare: BareSheet
    tiles: tuple[PlacedTile[T], ...]


def place_tiles(
    tiles: Iterable[T], bare: BareSheet, job: Job, around_mm: float = 0.0, above_mm: float = 0.0
) -> tuple[Sheet[T], ...]:
    """Tiles, each of which has been found to fit, on as few sheets as are found.

    Of their free area the uppermost ``above_mm`` is left. ``around_mm`` is what may stand out beyond a tile and keeps
    off the margins too.
    """
    oblongs = [Oblong(tile, tile.width_mm, tile.height_mm) for tile in tiles]
    width, height = bare.free_width - 2 * around_mm, bare.free_height - above_mm - 2 * around_mm
    return tuple(
        Sheet(number, _as_long_as_needed(bare, placed, job, around_mm), _settle(placed, bare, around_mm))
        for number, placed in enumerate(fit(oblongs, width, height, job.paper.roll), start=1)
    )


def _as_long_as_needed(bare: BareSheet, placed: Sequence[Placed[T]], job: Job, around_mm: float) -> BareSheet:
    used = max(at.x + at.item.width_mm for at in placed)
    return cut_off(bare, used + 2 * around_mm, job.units) if job.paper.roll else bare


def _settle(placed: Sequence[Placed[T]], bare: BareSheet, around_mm: float) -> tuple[PlacedTile[T], ...]:
    """Tiles placed in the free area, as they lie on the sheet."""
    left, bottom = bare.left + around_mm, bare.free_bottom + around_mm
    return tuple(PlacedTile(at.item, left + at.x + at.item.left_mm, bottom + at.y + at.item.below_mm) for at in placed)


def sheet_pages(
    sheets: Sequence[Sheet[T]],
    job: Job,
    kind: str,
    what: str = "",
    title: str = "",
    more: Callable[[Sheet[T]], str] | None = None,
    beside: Callable[[BareSheet], Iterable[Shape]] | None = None,
) -> tuple[Page, ...]:
    """The sheets as pages, with an outline entry where each thing begins, and before them one of the ``title`` if any.

    The line at the foot says ``what`` they are, or their ``kind`` in a word, which is their label too, and ``more`` of
    a sheet; ``beside`` draws what each has besides its tiles.
    """

    def page(sheet: Sheet[T]) -> Page:
        shapes = [shape for at in sheet.tiles for shape in moved(at.tile.draw(), at.left_mm, at.y_mm)]
        words = f"{what or kind}, sheet {sheet.number} of {len(sheets)}{more(sheet) if more else ''}"
        begun = (at.tile.name for at in sheet.tiles if at.tile.begins)
        return sheet.bare.page(
            (*shapes, *(beside(sheet.bare) if beside else ()), *sheet.bare.furniture(job, words)),
            label=f"{kind} {sheet.number}",
            bookmarks=(*([title] if title and sheet.number == 1 else []), *begun),
        )

    return tuple(map(page, sheets))


def left_of(window: Window, tick_mm: float) -> float:
    """How far what is printed begins left of a window, in mm: the tab of a right hand stands there."""
    return _beyond(window, tick_mm)[0]


def width_of(window: Window, tick_mm: float, words_to_mm: float) -> float:
    """The width of all that is printed of a window, whose words reach to ``words_to_mm`` from its left. In mm."""
    left, right = _beyond(window, tick_mm)
    return left + max(window.width + right, words_to_mm)


def _beyond(window: Window, tick_mm: float) -> tuple[float, float]:
    """What stands out left and right of a window: a tab at its end where it has one, else the ticks of a fold."""
    # The near end comes first: at the left of a left hand, at the right of a right one.
    ends = tick_mm, TAB_MM if window.has_tab else tick_mm
    return ends if window.direction > 0 else ends[::-1]


def reach_on(bare: BareSheet, job: Job, tick_mm: float) -> Reach:
    """How long tiles may be on a sheet, that have ``tick_mm`` beyond their ends where no tab is.

    Raises:
        Fault: the paper is too small for any.
    """
    # Exact, so that two machines cut at the same stations whatever their floats round to.
    width = bare.free_length - 2 * Fraction(BLEED_MM) - Fraction(tick_mm)
    others = width - Fraction(TAB_MM)
    if others < SHORTEST_TILE_MM:
        shown = max(others, Fraction(0)) // job.round_to * job.round_to
        raise paper_too_small(job, f"{write_figure(shown, job.units)} for the length of a tile")
    return Reach(others, width - Fraction(tick_mm), SHORTEST_TILE_MM)


def check_room(size_mm: float, room_mm: float, job: Job, wanted: str, other_cure: str = "", less: str = "") -> None:
    """Whether something fits into a room; ``wanted`` says whose size it is, ``less`` what the sheet has besides.

    Raises:
        Fault: it does not.
    """
    if size_mm > room_mm + ROUNDING_MM:
        raise paper_too_small(job, f"less than the {at_least(size_mm, job.figures)} {wanted}", other_cure, less)


def at_least(size_mm: float | Fraction, figures: Figures, times: int = 1) -> str:
    """``times`` a size, rounded up as the job's labels are."""
    steps = ceil((Fraction(size_mm) - Fraction(ROUNDING_MM)) / figures.step)
    return write_figure(times * steps * figures.step, figures.units)


def paper_too_small(job: Job, leaves: str, other_cure: str = "", less: str = "", where: str = "paper") -> Fault:
    """The fault of a paper that ``leaves`` too little room."""
    return Fault(
        f"paper {job.paper.name} less its margins{less or ' and check bars'} leaves {leaves}",
        f"choose a larger paper or smaller margins{other_cure}",
        where=where,
    )


def paper_words(sheets: Sequence[Sheet[T]], job: Job) -> str:
    """How many sheets of which paper, and off a roll how long each is to be cut."""
    words = f"{counted(len(sheets), 'sheet')} of {job.paper.name}"
    if not job.paper.roll:
        return words
    counts = Counter(job.figures(sheet.bare.page_width) for sheet in sheets)
    shown = ((length, f"{count} × " if count > 1 else "") for length, count in counts.items())
    return f"{words}, cut {listed([f'{times}{length} {job.units.sign}' for length, times in shown])} long"


def tile_row(name: str, window: Window, sheet: Sheet[T], figures: Figures) -> tuple[str, ...]:
    """What a tile is of; its number, its sheet, and the stations that it runs from and to, as labels."""
    stations = (figures(station) for station in (window.start, window.end))
    return (name, f"{window.number} of {window.of}", str(sheet.number), *stations)


def near_mark(seam: Seam, whose: str, units: Units, mark: str = "mark") -> Iterator[str]:
    """The warning of a seam that no cut could keep clear of the marks; nothing for one that does.

    ``whose`` says of what it is and where.
    """
    if not seam.keeps_clear:
        yield (
            f"The seam {whose} lies less than {CLEARANCE_WORDS[units]} from a {mark}: no cut within reach keeps "
            f"clear. Check the {mark}s beside it against the tape."
        )
