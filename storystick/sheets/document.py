"""A file to write: pages of shapes, what travels with them, and how what is in one piece is drawn.

That is all that a writer is given. For cutters and plotters a thing in one piece has words above it: how to check an
import, and what its outline is. They lie above the drawing, so that x = 0 and y = 0 stay where they are.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from storystick.drawing.lettering import NAME_MM, WORDS_PT, text_width_mm, wrapped
from storystick.drawing.shapes import Path, Rect, Shape, Text
from storystick.errors import Fault, as_written
from storystick.lengths import Figures, Units

_PEN: Final = re.compile(r"(#[0-9a-f]{6}) +([0-9]{1,3}(?:\.[0-9]{1,6})?)(?: *mm)?", re.IGNORECASE)
_FINEST_MM, _BROADEST_MM = 0.001, 5.0


@dataclass(frozen=True, slots=True)
class Pen:
    """What lines are drawn with: a ``colour`` as #rrggbb, and a width."""

    colour: str = "#000000"
    width_mm: float = 0.12

    @property
    def words(self) -> str:
        """As :func:`read_pen` reads it."""
        return f"{self.colour} {self.width_mm}"


FINE: Final = Pen()
"""Black, and as fine as most machines draw."""


@dataclass(frozen=True, slots=True)
class Look:
    """With which pen is drawn what is cut, what is marked, and what is lettered.

    Without a pen of their own marks and letters are black ink as in a PDF: areas filled, each line as wide as it is.
    With one, all of them are lines. ``outlines`` makes letters outlines, so that no font is needed.
    """

    cut: Pen = FINE
    mark: Pen | None = None
    text: Pen | None = None
    outlines: bool = False
    check_square: bool = True


AS_INK: Final = Look()
"""Black on white, for a printer as for a machine."""


def read_pen(text: str) -> Pen:
    """A pen by its colour and its width in mm, such as "#ff0000 0.1".

    Raises:
        Fault: it is none.
    """
    found = _PEN.fullmatch(text.strip())
    if found is None or not _FINEST_MM <= float(found[2]) <= _BROADEST_MM:
        what = f"{as_written(text)} is not a colour and a width from {_FINEST_MM} to {_BROADEST_MM:g} mm"
        raise Fault(what, 'write them like "#ff0000 0.1"')
    return Pen(found[1].lower(), float(found[2]))


_AROUND_MM: Final = 10.0


@dataclass(frozen=True, slots=True)
class Drawn:
    """Shapes that are drawn each time that somebody goes through them, and kept by nobody."""

    draw: Callable[[], Iterable[Shape]] = field(repr=False)

    def __iter__(self) -> Iterator[Shape]:
        return iter(self.draw())


@dataclass(frozen=True, slots=True)
class Page:
    """One page: shapes in mm, on a page whose lower left corner is at ``left_mm``, ``bottom_mm`` of their coordinates.

    They are gone through any number of times, and may be drawn only then. ``label`` is the page's own number as
    printed on it; ``bookmarks`` are the outline entries that lead to it. ``cut`` is what a machine cuts through: the
    outline first, then what is cut out of it.
    """

    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...] | Drawn
    label: str
    bookmarks: tuple[str, ...] = ()
    left_mm: float = 0.0
    bottom_mm: float = 0.0
    cut: tuple[Path, ...] = ()


def whole_page(
    shapes: Iterable[Shape],
    label: str,
    width_mm: float,
    height_mm: float,
    bottom_mm: float = 0.0,
    cut: Iterable[Path] = (),
) -> Page:
    """Something whole on a page of its own, its lower left corner at 0, ``bottom_mm``, with some room around it."""
    return Page(
        width_mm + 2 * _AROUND_MM,
        height_mm + 2 * _AROUND_MM,
        tuple(shapes),
        label,
        left_mm=-_AROUND_MM,
        bottom_mm=bottom_mm - _AROUND_MM,
        cut=tuple(cut),
    )


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file carried inside another: its bare name and its bytes."""

    name: str
    data: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Document:
    """The pages of one file. ``subject`` says in a line what it is and of which job, ``look`` how an SVG is drawn."""

    title: str
    subject: str
    pages: tuple[Page, ...]
    attachments: tuple[Attachment, ...] = ()
    look: Look = AS_INK


SQUARE_MM: Final = 50
_LINE_MM: Final = 4.2
_INSET_MM: Final = 3.0
_ABOVE_MM: Final = 4.0

_OUTLINE_WORDS: Final = ("Cut on the outline: finished size,", "kerf not compensated")
_HOW_TO_CHECK: Final = (
    "Measure it after the import, both ways. If it is not {size}, scale the whole drawing until it is."
)


def with_notes(page: Page, figures: Figures, check_square: bool) -> Page:
    """A page of something to cut with words on its outline above it, and a check square; any other as it is."""
    if not page.cut:
        return page
    around, outline = -page.left_mm, page.cut[0].points
    left = min(x for x, _ in outline)
    bottom = page.bottom_mm + page.height_mm - around + _ABOVE_MM
    room = page.width_mm - 2 * around
    words = tuple(_outline_words(left, bottom, room))
    top = bottom + len(words) * _LINE_MM
    square = tuple(_check_square(left, top, figures)) if check_square else ()
    top += SQUARE_MM if check_square else 0.0
    shapes = (*square, *words)
    right = max(room, *(shape.extent.right for shape in shapes))
    return replace(
        page,
        width_mm=max(page.width_mm, right + 2 * around),
        height_mm=top + around - page.bottom_mm,
        shapes=(*page.shapes, *shapes),
    )


def _outline_words(left: float, baseline: float, room: float) -> Iterator[Text]:
    """In one line where there is room, else in two."""
    whole = " ".join(_OUTLINE_WORDS)
    lines = (whole,) if text_width_mm(whole, WORDS_PT) <= room else _OUTLINE_WORDS
    for number, line in enumerate(reversed(lines)):
        yield Text(left, baseline + number * _LINE_MM, line, WORDS_PT)


def _check_square(left: float, bottom: float, figures: Figures) -> Iterator[Shape]:
    """A square with its lower left corner there; its lines are centred on its sides."""
    yield Rect(left, bottom, left + SQUARE_MM, bottom + SQUARE_MM).traced()
    size = f"{SQUARE_MM}\u00a0mm"
    in_units = [f"{figures.units.value}: {figures(Fraction(SQUARE_MM))}"] if figures.units is not Units.MM else []
    how = wrapped(_HOW_TO_CHECK.format(size=size), WORDS_PT, SQUARE_MM - 2 * _INSET_MM)
    x, top = left + _INSET_MM, bottom + SQUARE_MM - _INSET_MM - NAME_MM
    yield Text(x, top, "CHECK SQUARE", WORDS_PT, bold=True)
    for number, line in enumerate([f"{size} each way", *in_units, "", *how], start=1):
        if line:
            yield Text(x, top - number * _LINE_MM, line, WORDS_PT)
