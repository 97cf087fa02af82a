"""What is not lettered where marks are too close: said on the sheet, on the job sheet and to whoever prints."""

from __future__ import annotations

from dataclasses import dataclass

from storystick.wording import counted, listed


@dataclass(frozen=True, slots=True)
class LeftOut:
    """How many sizes of openings, names, and figures found no room; what bears a figure is counted as that."""

    sizes: int = 0
    names: int = 0
    figures: int = 0

    def __add__(self, other: LeftOut) -> LeftOut:
        return LeftOut(self.sizes + other.sizes, self.names + other.names, self.figures + other.figures)

    def __bool__(self) -> bool:
        return bool(self.sizes or self.names or self.figures)

    @property
    def sentence(self) -> str:
        """That, as the end of what is said of a strip."""
        return f"has its marks so close that {self.words} found no room"

    @property
    def words(self) -> str:
        """Such as "3 sizes, 1 name and 12 figures"; empty for nothing."""
        counts = ((self.sizes, "size"), (self.names, "name"), (self.figures, "figure"))
        return listed([counted(number, word) for number, word in counts if number] or [""])
