"""Which parts of the cutting list change between two layouts: their sizes, stock and number. Exact, in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.comparing.marks import former_cabinets
from storystick.comparing.pairing import Pair, paired
from storystick.cutting.part import CutPart
from storystick.cutting.run_parts import single_parts
from storystick.layout.stations import Layout
from storystick.lengths import Figures

DIMENSIONS: Final = {
    "length": ("longer", "shorter"),
    "width": ("wider", "narrower"),
    "thickness": ("thicker", "thinner"),
}
"""The three sizes of a part, and what it is that has more or less of one."""


@dataclass(frozen=True, slots=True)
class PartChange(Pair[CutPart]):
    """A part before and after."""

    def _changed(self, was: CutPart, now: CutPart) -> str:
        return "changed" if _made(was) != _made(now) else "renamed"

    @property
    def is_any(self) -> bool:
        """Whether a row of the list is otherwise than it was."""
        if self.was is None or self.now is None:
            return True
        return _made(self.was) != _made(self.now) or _called(self.was) != _called(self.now)

    def differences(self) -> dict[str, Fraction]:
        """By how much it has more of each size than it had, where that changed."""
        if self.was is None or self.now is None:
            return {}
        each = {name: getattr(self.now, name) - getattr(self.was, name) for name in DIMENSIONS}
        return {name: more for name, more in each.items() if more}

    def words(self, figures: Figures) -> str:
        """What changes, for a person."""
        if self.was is None or self.now is None:
            return "new" if self.was is None else "gone"
        return ", ".join(self._words(self.was, self.now, figures)) or "as it was"

    def _words(self, was: CutPart, now: CutPart, figures: Figures) -> Iterator[str]:
        for name, more in self.differences().items():
            yield f"{figures.apart(abs(more))} {DIMENSIONS[name][more < 0]}"
        if was.stock != now.stock:
            yield f"of {now.stock}, was of {was.stock}"
        if was.count != now.count:
            yield f"{now.count} of it, were {was.count}"

    @property
    def name(self) -> str:
        """What it is called, and what it was called if that was otherwise."""
        if self.was and self.now and _called(self.was) != _called(self.now):
            return f"{_called(self.now)} (was {_called(self.was)})"
        return _called(self.one)


def _called(part: CutPart) -> str:
    return f"{part.cabinet} {part.name}"


def _made(part: CutPart) -> tuple[object, ...]:
    return part.length, part.width, part.thickness, part.stock, part.count


def all_part_pairs(old: Layout, new: Layout) -> tuple[PartChange, ...]:
    """Every part before and after, one by one, whether it changed or not."""
    called = former_cabinets(old, new)

    def cabinet(part: CutPart) -> str:
        return called.get(part.cabinet, part.cabinet)

    def worked(part: CutPart) -> tuple[object, ...]:
        return tuple(work.shape for work in part.works)

    pairs = paired(
        single_parts(old, old.job.figures),
        single_parts(new, new.job.figures),
        lambda part: (cabinet(part), part.name, _made(part), worked(part)),
        lambda part: (cabinet(part), part.role, part.hands, _made(part), worked(part)),
        lambda part: (cabinet(part), part.name),
    )
    return tuple(PartChange(was, now) for was, now in pairs)
