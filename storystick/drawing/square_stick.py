"""The faces of a square stick on one sheet, one above another as it is folded round the stick.

Origin at the left end of the first face's marking edge. Each face is as high as a side of the stick is wide, and its
strip stands on its lower edge, which comes to lie on an edge of the stick. The last fold parts off the glue lap.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from storystick.drawing.lettering import WORDS_PT, shortened
from storystick.drawing.shapes import Shape, Text, moved
from storystick.drawing.strip import Strip, StripDrawing, StripPiece, draw_windows
from storystick.drawing.strip_bands import OFF_INK_MM, draw_fold, fold_ticks, white_stretches
from storystick.drawing.window import SEAM_KEEP_MM, Window, windows_between
from storystick.job.sticks import SquareStick
from storystick.layout.stations import Layout, StickLayout

LAP_MM: Final = 8.0
"""The glue lap beyond the last face, to be pasted under the first or on the next side: common practice, no source."""

_LAP_BASELINE: Final = 2.8
_BESIDE_MM: Final = 2.0


@dataclass(frozen=True, slots=True)
class SquareFaces:
    """A square stick with the strips on its faces, in order round it. Lengths are in mm from the common datum."""

    square: SquareStick
    strips: tuple[Strip, ...]

    @property
    def length(self) -> Fraction:
        """That of its longest face."""
        return max(strip.layout.length for strip in self.strips)

    @property
    def marks(self) -> tuple[Fraction, ...]:
        """Every station that something is struck at on any face, each once, rising."""
        return tuple(sorted({mark for strip in self.strips for mark in strip.layout.marks}))

    @property
    def parts(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """From where to where a part stands on any face, rising; those of different faces may overlap."""
        spans = (placed.span for strip in self.strips for placed in strip.layout.parts)
        return tuple(sorted((span.start, span.end) for span in spans))


@dataclass(frozen=True, slots=True)
class SquareStickDrawing:
    """A square stick in its tiles, whose ``windows`` are in order from the datum; ``faces`` are drawn in them.

    A face that is shorter than the longest has no pieces beyond its end.
    """

    faces: SquareFaces
    windows: tuple[Window, ...]
    drawings: tuple[StripDrawing, ...]

    @property
    def side_mm(self) -> float:
        return float(self.faces.square.side)

    @property
    def folds_mm(self) -> tuple[float, ...]:
        """How high each fold lies; the last one parts off the lap."""
        side = self.faces.square.side
        return tuple(float(side * number) for number in range(1, len(self.drawings) + 1))

    @property
    def lower_edges_mm(self) -> tuple[float, ...]:
        """How high the marking edge of each face lies."""
        return (0.0, *self.folds_mm[:-1])

    @property
    def height_mm(self) -> float:
        return self.folds_mm[-1] + LAP_MM

    @property
    def register_mm(self) -> tuple[float, ...]:
        """The heights of the register marks: two to a face, in the rows that its strip keeps free, one on the lap."""
        on_faces = (
            edge + height
            for edge, drawing in zip(self.lower_edges_mm, self.drawings, strict=True)
            for height in drawing.register_mm
        )
        return (*on_faces, self.folds_mm[-1] + LAP_MM / 2)

    def shapes(self, window: Window) -> Iterator[Shape]:
        """What is drawn of one of the windows, from x = 0 at its left."""
        for edge, drawing in zip(self.lower_edges_mm, self.drawings, strict=True):
            for piece in drawing.pieces:
                if piece.window.number == window.number:
                    yield from moved(_settled(piece, window).shapes, _inset(piece.window, window), edge)
        above = [*(white_above_fold(strip.layout, window) for strip in self.faces.strips[1:]), [(0.0, window.width)]]
        for fold, stretches in zip(self.folds_mm, above, strict=True):
            yield from draw_fold(stretches, fold)
            yield from fold_ticks(window, fold)
        yield self._lap_words(window)

    def right_mm(self, window: Window) -> float:
        """How far right the lettering of a window reaches."""
        pieces = [piece for drawing in self.drawings for piece in drawing.pieces]
        here = [_settled(piece, window) for piece in pieces if piece.window.number == window.number]
        return max([window.width, *(piece.right_mm + _inset(piece.window, window) for piece in here)])

    def _lap_words(self, window: Window) -> Text:
        square = self.faces.square
        names = " · ".join(f"{number} {face}" for number, face in enumerate(square.faces, 1))
        words = f"GLUE LAP · {square.name}, from below: {names}"
        room = window.width - 2 * SEAM_KEEP_MM
        text = shortened(words, WORDS_PT, room)
        return Text(SEAM_KEEP_MM, self.folds_mm[-1] + _LAP_BASELINE, text, WORDS_PT)


def square_faces(square: SquareStick, layout: Layout) -> SquareFaces:
    """The strips of a square stick's faces, all with the datum at one end; every face names a stick of the layout."""
    sticks = {stick.name: stick for stick in layout.sticks}
    return SquareFaces(square, tuple(Strip(sticks[face], square.hand, layout.job) for face in square.faces))


def draw_square_stick(faces: SquareFaces, seams: Sequence[Fraction] = ()) -> SquareStickDrawing:
    """Draw a square stick, cut at ``seams``: rising stations in mm, strictly inside its length.

    Raises:
        Fault: the font has no sign for a character of a name.
    """
    windows = windows_between(seams, faces.length, faces.square.hand)
    drawings = []
    for strip in faces.strips:
        shown = (_within(window, strip.layout.length) for window in windows)
        drawings.append(draw_windows(strip, [window for window in shown if window], float(faces.square.side)))
    return SquareStickDrawing(faces, windows, tuple(drawings))


def white_above_fold(layout: StickLayout, window: Window) -> list[tuple[float, float]]:
    """Where a fold may be dashed below a face: along its openings, and beyond its end where it is a shorter one."""
    shown = _within(window, layout.length)
    if shown is None:
        return [(0.0, window.width)]
    inset = _inset(shown, window)
    stretches = [(left + inset, right + inset) for left, right in white_stretches(layout, shown)]
    end = window.x(shown.end)
    beyond = (end + OFF_INK_MM, window.width) if window.direction > 0 else (0.0, end - OFF_INK_MM)
    return [*stretches, *([beyond] if beyond[1] - beyond[0] > OFF_INK_MM else [])]


def _within(window: Window, length: Fraction) -> Window | None:
    """As much of a window as a face of some ``length`` reaches; None where it ends before."""
    if length <= window.start:
        return None
    return Window(window.start, min(window.end, length), length, window.laid, window.number, window.of)


def _settled(piece: StripPiece, window: Window) -> StripPiece:
    """A face's piece; what found no room above a short end that runs to the left is moved onto the paper beyond it."""
    width, beyond = piece.window.width, piece.right_mm - piece.window.width
    if window.direction > 0 or not 0 < beyond <= _inset(piece.window, window) - SEAM_KEEP_MM:
        return piece
    shapes = tuple(
        shape.moved(-piece.right_mm - _BESIDE_MM, 0.0) if shape.extent.left > width else shape for shape in piece.shapes
    )
    return replace(piece, draw=lambda: shapes, right_mm=width)


def _inset(shown: Window, window: Window) -> float:
    """How far the left of what is shown of a face lies from the window's left."""
    return float(window.end - shown.end) if window.direction < 0 else 0.0
