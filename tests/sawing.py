"""Sawing by geometry: what the settings of cuts leave of a part's section.

A section is measured by ``u``, mm from the end or edge that is worked on, and ``v``, mm from the low face. At the saw a
point lies ``x`` from the fence and ``y`` above the table, and the blade is a slot a kerf wide.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Final, NamedTuple, TypeAlias

from storystick.tooling.setups import Faces, Posture, SawCut
from storystick.tooling.tongues import EACH_FACE

ZERO: Final = Fraction(0)


class Rect(NamedTuple):
    """A rectangle, by its lower left and its upper right corner: u and v of a section, or x and y at the saw."""

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction

    def touches(self, other: Rect) -> bool:
        """Whether they share more than a corner."""
        across = min(self.right, other.right) - max(self.left, other.left)
        up = min(self.top, other.top) - max(self.bottom, other.bottom)
        return (across > 0 and up >= 0) or (across >= 0 and up > 0)

    def holds(self, other: Rect) -> bool:
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and other.right <= self.right
            and other.top <= self.top
        )


Turning: TypeAlias = Callable[[Rect], Rect]


class Section:
    """A part's section, ``reach`` mm of it, and what was taken from it.

    A cut that is run flat may free nothing: what comes loose there would lie under the part or beside the fence.
    """

    def __init__(self, thickness: Fraction, reach: Fraction) -> None:
        self.whole = Rect(ZERO, ZERO, reach, thickness)
        self.gone: list[Rect] = []

    def solid(self) -> list[Rect]:
        """What is left, in cells."""
        return [cell for cell in cells([self.whole, *self.gone]) if not any(rect.holds(cell) for rect in self.gone)]

    def saw(self, cut: SawCut, faces: Faces) -> None:
        """Run a cut with all its passes, over both faces where it is for each of them."""
        assert cut.thickness == self.whole.top
        for laid in self._layings(cut, faces):
            for number in range(cut.passes):
                self._run(cut, laid, number * cut.fence_far / cut.passes)

    def has_lost(self, wanted: Iterable[Rect]) -> bool:
        """Whether exactly the wanted rectangles are gone."""
        lost = list(wanted)
        return all(
            any(rect.holds(cell) for rect in lost) == any(rect.holds(cell) for rect in self.gone)
            for cell in cells([self.whole, *self.gone, *lost])
        )

    def _layings(self, cut: SawCut, faces: Faces) -> Iterator[Turning]:
        """How the part is laid at the saw: a turning that serves both ways between section and machine."""
        flat = cut.posture is Posture.FLAT
        named = cut.down if flat else cut.against
        assert named in (*faces, EACH_FACE), f"no face {named}"
        for face in faces if named == EACH_FACE else (named,):
            yield self._laid_flat(face == faces.low) if flat else self._stood(face == faces.low)

    def _laid_flat(self, low_is_down: bool) -> Turning:
        """u is x, v is y or what is left of the thickness."""
        return (lambda rect: rect) if low_is_down else self._turned_over

    def _stood(self, low_on_fence: bool) -> Turning:
        """u is y, v is x or what is left of the thickness."""

        def to_saw(rect: Rect) -> Rect:
            seen = rect if low_on_fence else self._turned_over(rect)
            return Rect(seen.bottom, seen.left, seen.top, seen.right)

        return to_saw

    def _turned_over(self, rect: Rect) -> Rect:
        thickness = self.whole.top
        return Rect(rect.left, thickness - rect.top, rect.right, thickness - rect.bottom)

    def _run(self, cut: SawCut, laid: Turning, drawn_away: Fraction) -> None:
        near, far = cut.fence_near, cut.fence_far
        lying = [laid(cell) for cell in self.solid()]
        assert any(cell.left == 0 for cell in lying), "nothing runs on the fence"
        assert any(cell.bottom == 0 for cell in lying), "nothing lies on the table"
        self.gone.append(self._at_section(Rect(near - drawn_away, ZERO, far - drawn_away, cut.height), cut, laid))
        for cell in self._loose():
            assert laid(cell).left + drawn_away >= far, "waste is trapped between blade and fence"
            assert cut.posture is Posture.STANDING, "a flat cut frees waste"
            self.gone.append(cell)

    def _at_section(self, blade: Rect, cut: SawCut, laid: Turning) -> Rect:
        if cut.posture is Posture.FLAT:
            return laid(blade)
        swapped = Rect(blade.bottom, blade.left, blade.top, blade.right)
        return swapped if laid(swapped) == blade else self._turned_over(swapped)

    def _loose(self) -> list[Rect]:
        """The cells that no longer hang on the body of the part."""
        rest = self.solid()
        held = [cell for cell in rest if cell.right == self.whole.right]
        rest = [cell for cell in rest if cell.right != self.whole.right]
        while found := [cell for cell in rest if any(cell.touches(other) for other in held)]:
            held += found
            rest = [cell for cell in rest if cell not in found]
        return rest


def cells(rects: Iterable[Rect]) -> list[Rect]:
    """The first rectangle, divided by the edges of all."""
    whole, *others = rects
    across = _edges(whole.left, whole.right, [edge for rect in others for edge in (rect.left, rect.right)])
    up = _edges(whole.bottom, whole.top, [edge for rect in others for edge in (rect.bottom, rect.top)])
    return [Rect(left, bottom, right, top) for left, right in pairwise(across) for bottom, top in pairwise(up)]


def _edges(start: Fraction, end: Fraction, between: Iterable[Fraction]) -> list[Fraction]:
    return sorted({start, end, *(edge for edge in between if start < edge < end)})
