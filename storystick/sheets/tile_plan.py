"""One kind of plan for whatever is cut into tiles: what there is of it, its sheets, its words, and its pages."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from storystick.drawing.shapes import Shape, moved
from storystick.errors import Where, placed_in
from storystick.job.job import Job
from storystick.lengths import Figures, Units
from storystick.sheets.bare_sheet import BareSheet
from storystick.sheets.document import Drawn, Page
from storystick.sheets.seams import CLEARANCE_WORDS, Seam
from storystick.sheets.tiles import AnyTile, PlacedTile, Sheet
from storystick.wording import counted, listed

T = TypeVar("T", bound=AnyTile)
T_co = TypeVar("T_co", bound=AnyTile, covariant=True)


@dataclass(frozen=True, slots=True)
class Lacking:
    """That something has more words than its tiles have room for: a ``sentence`` without its full stop.

    ``whose`` they are and ``what`` they are is that in short. ``words`` are those that found none, where they are read
    nowhere else; else ``elsewhere`` says where they are.
    """

    sentence: str
    whose: str
    what: str
    words: tuple[str, ...] = ()
    elsewhere: str = "print --with figures to read them"

    @property
    def warning(self) -> str:
        told = f": {'; '.join(self.words)}" if self.words else ""
        return f"{self.sentence}{told}. The marks themselves are all there."


def remarks_on(lacking: Iterable[Lacking]) -> tuple[str, ...]:
    """What to tell whoever prints all these: those whose words are read in one place together."""
    by_place: dict[str, dict[str, None]] = {}
    for each in lacking:
        place = "read them on the page of the template" if each.words else each.elsewhere
        by_place.setdefault(place, {})[f"{each.whose} with no room for {each.what}"] = None
    return tuple(f"{listed(list(found))}; {place}" for place, found in by_place.items())


class InTiles(Protocol[T_co]):
    """Something large, cut into tiles."""

    @property
    def name(self) -> str:
        """What it is told by among all of its kind."""

    @property
    def heading(self) -> str:
        """How the outline of the file tells it."""

    @property
    def tiles(self) -> tuple[T_co, ...]:
        """In the order of gluing."""

    def placed_seams(self, figures: Figures) -> Iterator[tuple[Seam, str]]:
        """Its seams, each with where it is: "at" a station, and from what where that is not the datum."""

    @property
    def lacking(self) -> tuple[Lacking, ...]:
        """Of what there is more than room on its tiles."""


def from_datum(seams: Iterable[Seam], figures: Figures) -> Iterator[tuple[Seam, str]]:
    """Seams of something long, each with where it is."""
    return ((seam, f"at {figures(seam.at)}") for seam in seams)


C = TypeVar("C", bound=InTiles[Any])


def _nothing(_: object) -> str:
    return ""


def _no_shapes(_: BareSheet) -> Iterable[Shape]:
    return ()


@dataclass(frozen=True, slots=True)
class TileKind(Generic[T]):
    """What the sheets of one kind are called, and what they have besides their tiles.

    ``label`` is their name on a page's label; the line at the foot says ``foot`` and ``more`` of a sheet. A ``title``
    is an outline entry before those of the things. ``mark`` is what a seam keeps clear of.
    """

    label: str
    foot: str
    title: str = ""
    mark: str = "mark"
    more: Callable[[Sheet[T]], str] = _nothing
    beside: Callable[[BareSheet], Iterable[Shape]] = _no_shapes


@dataclass(frozen=True, slots=True)
class TilePlan(Generic[C, T]):
    """All ``things`` of a kind in the order of the job, and the sheets that their tiles are on; none for no thing."""

    job: Job
    kind: TileKind[T]
    things: tuple[C, ...]
    sheets: tuple[Sheet[T], ...]

    @property
    def paper_words(self) -> str:
        """How many sheets of which paper, and off a roll how long each is to be cut."""
        words = f"{counted(len(self.sheets), 'sheet')} of {self.job.paper.name}"
        if not self.job.paper.roll:
            return words
        counts = Counter(self.job.figures(sheet.bare.page_width) for sheet in self.sheets)
        shown = ((length, f"{count} × " if count > 1 else "") for length, count in counts.items())
        return f"{words}, cut {listed([f'{times}{length} {self.job.units.sign}' for length, times in shown])} long"

    def in_gluing_order(self) -> list[tuple[Sheet[T], PlacedTile[T]]]:
        """Every tile with its sheet: thing by thing, each from its beginning."""
        return [pair for thing in self.things for pair in self.placed(thing)]

    def placed(self, thing: C) -> Iterator[tuple[Sheet[T], PlacedTile[T]]]:
        """The tiles of one of the things with their sheets, in the order of gluing."""
        found = self._by_tile()
        return (found[id(tile)] for tile in thing.tiles)

    def _by_tile(self) -> dict[int, tuple[Sheet[T], PlacedTile[T]]]:
        return {id(at.tile): (sheet, at) for sheet in self.sheets for at in sheet.tiles}

    def tile_rows(self) -> list[tuple[str, ...]]:
        """Thing, tile, sheet, and the stations from and to of every tile in the order of gluing, as labels."""
        return [row for thing in self.things for row in self.rows_of(thing)]

    def rows_of(self, thing: C) -> Iterator[tuple[str, ...]]:
        """The same of one of the things."""
        for sheet, at in self.placed(thing):
            stations = (self.job.figures(station) for station in at.tile.stations)
            yield (thing.heading, at.tile.number, str(sheet.number), *stations)

    @property
    def warnings(self) -> tuple[str, ...]:
        """The seams that no cut could keep clear of the marks, and what has more words than room."""
        return tuple(warning for thing in self.things for warning in self.warnings_of(thing))

    def warnings_of(self, thing: C) -> Iterator[str]:
        """The same of one of the things."""
        units, mark = self.job.units, self.kind.mark
        for seam, where in thing.placed_seams(self.job.figures):
            if not seam.keeps_clear:
                yield _near_mark(f"of {thing.name} {where}", units, mark)
        yield from (lacking.warning for lacking in thing.lacking)

    @property
    def remarks(self) -> tuple[str, ...]:
        """What to tell whoever prints it: what has more words than room."""
        return remarks_on(lacking for thing in self.things for lacking in thing.lacking)

    def pages(self) -> tuple[Page, ...]:
        """The sheets as pages, drawn when they are written, with an outline entry where each thing begins."""
        headings = {id(thing.tiles[0]): thing.heading for thing in self.things}
        return tuple(self._page(sheet, headings) for sheet in self.sheets)

    def _page(self, sheet: Sheet[T], headings: dict[int, str]) -> Page:
        label = f"{self.kind.label} {sheet.number}"
        begun = (headings[id(at.tile)] for at in sheet.tiles if id(at.tile) in headings)
        title = [self.kind.title] if self.kind.title and sheet.number == 1 else []
        return sheet.bare.page(Drawn(lambda: self._shapes(sheet)), label, (*title, *begun))

    def _shapes(self, sheet: Sheet[T]) -> Iterator[Shape]:
        words = f"{self.kind.foot}, sheet {sheet.number} of {len(self.sheets)}{self.kind.more(sheet)}"
        with placed_in(Where.in_file(self.job.file_name)):
            for at in sheet.tiles:
                yield from moved(at.tile.draw(), at.left_mm, at.y_mm)
            yield from self.kind.beside(sheet.bare)
            yield from sheet.bare.furniture(self.job, words)


def _near_mark(whose: str, units: Units, mark: str) -> str:
    return (
        f"The seam {whose} lies less than {CLEARANCE_WORDS[units]} from a {mark}: no cut within reach keeps "
        f"clear. Check the {mark}s beside it against the tape."
    )
