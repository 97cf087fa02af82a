"""Tiles of any kind on sheets: how large they may be, and where each lies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import Final, Generic, Protocol, TypeVar

from storystick.drawing.shapes import Shape
from storystick.drawing.window import TAB_MM, Window
from storystick.errors import Fault
from storystick.job.job import Job
from storystick.lengths import INCH_MM, Figures, Units, write_figure
from storystick.sheets.bare_sheet import BareSheet, cut_off
from storystick.sheets.packing import Oblong, Placed, fit
from storystick.sheets.seams import Grids, Reach
from storystick.sheets.stacking import ROUNDING_MM

SHORTEST_TILE_MM: Final = Fraction(100)
"""A tile that is shorter is hard to hold straight, and has no room for the words that tell it from others."""

_GRIDS: Final = {Units.INCH: Grids(INCH_MM / 2, INCH_MM / 8), Units.MM: Grids(Fraction(10), Fraction(1))}


def grids_of(units: Units, zero: Fraction = Fraction(0)) -> Grids:
    """The stations that seams should have: whole and half inches, or whole centimetres; else what a tape shows."""
    return replace(_GRIDS[units], zero=zero)


CROP_MM: Final = 0.9
BLEED_MM: Final = 1.0
"""What may stand out beyond a tile: crop ticks, outlines, half an arrowhead."""


class AnyTile(Protocol):
    """A piece of something large: what it shows is drawn with its left at x = 0. All in mm."""

    @property
    def number(self) -> str:
        """Which it is of its thing, such as "2 of 4"."""

    @property
    def mapped_as(self) -> str:
        """What it is called in a reduced picture of its sheet, where there is little room."""

    @property
    def stations(self) -> tuple[Fraction, ...]:
        """What it runs from and to, in mm; where it is cut in two directions, those of the other one follow."""

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


def number_of(window: Window) -> str:
    """Which tile it is of its thing."""
    return f"{window.number} of {window.of}"


def reach_left(window: Window, tick_mm: float) -> float:
    """How far what is printed begins left of a window, in mm: the tab of a right hand stands there."""
    return _beyond(window, tick_mm)[0]


def printed_width(window: Window, tick_mm: float, words_to_mm: float) -> float:
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
    reach = reach_within(bare.free_length - 2 * Fraction(BLEED_MM), Fraction(tick_mm))
    if reach.others < SHORTEST_TILE_MM:
        shown = max(reach.others, Fraction(0)) // job.round_to * job.round_to
        raise paper_too_small(job, f"{write_figure(shown, job.units)} for the length of a tile")
    return reach


def reach_within(room: Fraction, beyond: Fraction) -> Reach:
    """How long tiles may be in a ``room``, that have so much ``beyond`` their ends where no tab is; all in mm.

    Exact, so that two machines cut at the same stations whatever their floats round to.
    """
    return Reach(room - beyond - Fraction(TAB_MM), room - 2 * beyond, SHORTEST_TILE_MM)


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
