"""The pen that a page's content moves: its state, and the figures and words that it leaves (ISO 32000-1, 8 and 9)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any, Final

from pypdf.generic import ByteStringObject, DictionaryObject

from storystick.errors import Fault
from storystick.proof.figures import Bounds, Figure, Point, Words, corners, filled
from storystick.proof.fonts import Font
from storystick.proof.ink import SLACK_MM, State, grey_of
from storystick.proof.layers import Showing
from storystick.proof.matrices import Matrix
from storystick.proof.objects import COSTLY, entry, items, number_of

MOST_FIGURES: Final = 200_000
"""No page has more lines and areas; the fullest sheet of a roll that we print has a tenth of them."""

_MOST_STATES: Final = 200
_UNSEEN_TEXT: Final = (3, 7)
"""The text rendering modes that put no ink down (ISO 32000-1, table 106)."""

_CUTTING_TEXT: Final = (4, 5, 6, 7)
"""Those that clip what is drawn after them (ISO 32000-1, table 106)."""

_PALEST: Final = 0.5
"""Words in a lighter grey are not read at the bench; all of ours are black."""

_UNIT_SQUARE: Final = Bounds(0.0, 0.0, 1.0, 1.0)
"""Where a picture lies, in its own units (ISO 32000-1, 8.9.4)."""


class Pen:
    """A page while it is drawn, with the state of its pen."""

    def __init__(self, place: Matrix, page: Bounds) -> None:
        self.figures: list[Figure] = []
        self.words: list[Words] = []
        self.blots: list[Bounds] = []
        self.state = State(place, page)
        self._saved: list[State] = []
        self._marked = [Showing.SHOWN]
        self._path: list[list[Point]] = []
        self._curved = False
        self._clipping = False
        self._line = Matrix()
        self._started: Words | None = None

    def save(self, _operands: Sequence[Any] = ()) -> None:
        if len(self._saved) > _MOST_STATES:
            raise COSTLY
        self._saved.append(replace(self.state))

    def restore(self, _operands: Sequence[Any] = ()) -> None:
        if self._saved:
            self.state = self._saved.pop()

    def begin_marked(self, _operands: Sequence[Any] = (), showing: Showing = Showing.SHOWN) -> None:
        """What is drawn from now on belongs together, and to a layer that may be hidden."""
        self._marked.append(showing.within(self._marked[-1]))

    def end_marked(self, _operands: Sequence[Any] = ()) -> None:
        if len(self._marked) > 1:
            self._marked.pop()

    def begin_form(self, showing: Showing) -> list[Showing]:
        """What a form draws belongs to its layer; what it opens and closes does not reach beyond it."""
        outer, self._marked = self._marked, [showing.within(self._marked[-1])]
        return outer

    def end_form(self, outer: list[Showing]) -> None:
        self._marked = outer

    def transform(self, operands: Sequence[Any]) -> None:
        self.state.place = Matrix(*map(float, operands)).then(self.state.place)

    def clip_to(self, box: Bounds) -> None:
        self.rectangle((box.left, box.bottom, box.right - box.left, box.top - box.bottom))
        self.clip()
        self.end()

    def set_from(self, settings: DictionaryObject) -> None:
        if "/LW" in settings:
            self.set_width([entry(settings, "/LW")])
        if "/LC" in settings:
            self.set_cap([number_of(entry(settings, "/LC"))])
        if "/D" in settings:
            self.set_dash(items(entry(settings, "/D")))
        # A soft mask may let any part of the ink through: none of it counts.
        masked = isinstance(entry(settings, "/SMask"), DictionaryObject)
        self.state.fill_opacity = 0.0 if masked else number_of(entry(settings, "/ca"), self.state.fill_opacity)
        self.state.stroke_opacity = 0.0 if masked else number_of(entry(settings, "/CA"), self.state.stroke_opacity)

    def set_font(self, font: Font, size: Any) -> None:
        self.state.font, self.state.font_size = font, float(size)

    def set_width(self, operands: Sequence[Any]) -> None:
        self.state.width = float(operands[0])

    def set_dash(self, operands: Sequence[Any]) -> None:
        self.state.dashed = any(number_of(length) for length in items(operands[0]))

    def set_cap(self, operands: Sequence[Any]) -> None:
        self.state.cap = int(operands[0])

    def set_fill(self, operands: Sequence[Any]) -> None:
        self.state.fill = grey_of(operands)

    def set_stroke(self, operands: Sequence[Any]) -> None:
        self.state.stroke = grey_of(operands)

    def move(self, operands: Sequence[Any]) -> None:
        self._path.append([self._placed(operands)])

    def line(self, operands: Sequence[Any]) -> None:
        self._path[-1].append(self._placed(operands[-2:]))

    def curve(self, operands: Sequence[Any]) -> None:
        """An arc lies within the polygon of its places (ISO 32000-1, 8.5.2.2)."""
        self._curved = True
        for at in range(0, len(operands), 2):
            self.line(operands[at : at + 2])

    def close(self, _operands: Sequence[Any] = ()) -> None:
        # What is drawn on after this begins where the closed path began.
        if self._path:
            self._path[-1].append(self._path[-1][0])

    def rectangle(self, operands: Sequence[Any]) -> None:
        around = [self.state.place.place(*corner) for corner in corners(*map(float, operands))]
        self._path.append([*around, around[0]])

    def _placed(self, operands: Sequence[Any]) -> Point:
        return self.state.place.place(float(operands[0]), float(operands[1]))

    def fill(self, _operands: Sequence[Any] = ()) -> None:
        for points in self._path:
            self._add(filled(points, self.state.fill_ink))
        self.end()

    def stroke(self, _operands: Sequence[Any] = ()) -> None:
        width = self.state.width * self.state.place.size
        for points in self._path:
            for ends in pairwise(points):
                self._add(Figure(ends, self.state.stroke_ink, width, self.state.dashed, self.state.cap))
        self.end()

    def close_and_stroke(self, _operands: Sequence[Any] = ()) -> None:
        self.close()
        self.stroke()

    def fill_and_stroke(self, _operands: Sequence[Any] = ()) -> None:
        path, clipping = list(self._path), self._clipping
        self.fill()
        self._path, self._clipping = path, clipping
        self.stroke()

    def close_fill_and_stroke(self, _operands: Sequence[Any] = ()) -> None:
        self.close()
        self.fill_and_stroke()

    def clip(self, _operands: Sequence[Any] = ()) -> None:
        self._clipping = True

    def end(self, _operands: Sequence[Any] = ()) -> None:
        """The path is painted; where it was to clip as well, nothing is drawn outside it from now on."""
        if self._clipping:
            self.state.clip_to(self._path, self._curved)
        self._path, self._curved, self._clipping = [], False, False

    def _add(self, figure: Figure) -> None:
        """What is cut off by the page or by a clipping path is not there to be struck from, though a part may show."""
        if not self._curved and not self._is_unsure and self.state.clip.holds(figure.bounds, SLACK_MM):
            self.figures.append(figure)
        else:
            self._blot(figure.bounds)
        if len(self.figures) + len(self.blots) > MOST_FIGURES:
            raise Fault(f"it has more than {MOST_FIGURES} lines and areas", "use the file as it was printed")

    @property
    def _is_unsure(self) -> bool:
        return self.state.ragged or self._marked[-1] is not Showing.SHOWN

    def _blot(self, box: Bounds) -> None:
        if self.state.clip.touches(box) and self._marked[-1] is not Showing.HIDDEN:
            self.blots.append(self.state.clip.common(box))

    def picture(self, _operands: Sequence[Any] = ()) -> None:
        self._blot(self.state.place.around(_UNIT_SQUARE))

    def shade(self, _operands: Sequence[Any] = ()) -> None:
        """A shading fills all that is not clipped off."""
        self._blot(self.state.clip)

    def begin_text(self, _operands: Sequence[Any] = ()) -> None:
        self._place_text(Matrix())

    def end_text(self, _operands: Sequence[Any] = ()) -> None:
        """Letters that clip do so from the end of their text on (ISO 32000-1, 9.3.6)."""
        self._keep_words()
        self.state.ragged = self.state.ragged or self.state.cuts_letters

    def set_text_place(self, operands: Sequence[Any]) -> None:
        self._place_text(Matrix(*map(float, operands)))

    def next_line(self, operands: Sequence[Any]) -> None:
        self._place_text(Matrix(e=float(operands[0]), f=float(operands[1])).then(self._line))

    def next_line_and_leading(self, operands: Sequence[Any]) -> None:
        self.state.leading = -float(operands[1])
        self.next_line(operands)

    def lead(self, _operands: Sequence[Any] = ()) -> None:
        self.next_line((0.0, -self.state.leading))

    def set_leading(self, operands: Sequence[Any]) -> None:
        self.state.leading = float(operands[0])

    def set_stretch(self, operands: Sequence[Any]) -> None:
        """The width of letters is given in percent of their own."""
        self.state.stretch = float(operands[0]) / 100

    def set_text_mode(self, operands: Sequence[Any]) -> None:
        self.state.text_mode = int(operands[0])

    def _place_text(self, matrix: Matrix) -> None:
        self._keep_words()
        self._line = matrix

    def _keep_words(self) -> None:
        if self._started and self._started.text.strip():
            self.words.append(self._started)
        self._started = None

    def show(self, operands: Sequence[Any]) -> None:
        """Text that follows other text without a new place is its continuation."""
        whole = self._line.then(self.state.place)
        start = whole.place(0.0, 0.0)
        self.state.cuts_letters = self.state.cuts_letters or self.state.text_mode in _CUTTING_TEXT
        if self._is_unseen(start):
            return
        if self._is_unsure:
            self._blot(Bounds(*start, *start))
            return
        shown = self.state.font.text(_bytes(operands[-1]))
        height, width = self.state.font_size, self.state.font_size * self.state.stretch
        rise, run = (whole.c * height, whole.d * height), (whole.a * width, whole.b * width)
        before = self._started or Words("", start, rise, run)
        self._started = replace(before, text=before.text + shown)

    def _is_unseen(self, start: Point) -> bool:
        # Modes 1 and 5 only outline the letters.
        grey = self.state.stroke_ink if self.state.text_mode % 4 == 1 else self.state.fill_ink
        inside = self.state.clip.holds(Bounds(*start, *start), SLACK_MM)
        return grey > _PALEST or not inside or self.state.text_mode in _UNSEEN_TEXT

    def show_spaced(self, operands: Sequence[Any]) -> None:
        for part in items(operands[0]):
            if isinstance(part, str | bytes):
                self.show([part])

    def show_on_next_line(self, operands: Sequence[Any]) -> None:
        self.lead()
        self.show(operands)


def _bytes(value: object) -> bytes:
    """The bytes of a string as they stand in the content; the library may have read them as text already."""
    match value:
        case ByteStringObject() | bytes():
            return bytes(value)
    original = getattr(value, "original_bytes", None)
    return original if isinstance(original, bytes) else str(value).encode("latin-1", errors="replace")
