"""Whether what stands or hangs along a wall comes to its length, and who could give or take what is over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.errors import Fault
from storystick.job.openings import Fixed
from storystick.job.runs import PieceKind, RunPiece
from storystick.layout.walls.corners import Stander
from storystick.lengths import Figures


@dataclass(frozen=True, slots=True)
class NamedItem:
    """An item of a run, by its own name or by its kind and number."""

    item: Stander
    name: str

    @property
    def said(self) -> str:
        """What it is called in a sentence."""
        return f'{self.item.word} "{self.name}"' if self.item.name else self.name

    @property
    def fixed(self) -> Fraction | None:
        """Its given size in mm; None where it takes what is left."""
        return self.item.size.size if isinstance(self.item.size, Fixed) else None


def named(order: Sequence[Stander], after: Sequence[Stander] = ()) -> Iterator[NamedItem]:
    """All that stands in an order; what has no name is counted: filler 1, filler 2.

    What hangs is counted on ``after`` what stands on the same wall, so that no two have one name.
    """
    numbers = Counter(item.word for item in after)
    for item in order:
        numbers[item.word] += 1
        yield NamedItem(item, item.name or f"{item.word} {numbers[item.word]}")


def check_fit(order: Sequence[Stander], length: Fraction, figures: Figures, after: Sequence[Stander] = ()) -> None:
    """Whether an order comes to the length of its wall (mm), with some of it left for what takes what is left.

    Raises:
        Fault: it does not; ``figures`` says the lengths.
    """
    standing = tuple(named(order, after))
    takers = [each for each in standing if each.fixed is None]
    total = sum((each.fixed for each in standing if each.fixed is not None), Fraction(0))
    over = total - length
    comes, apart, wall = figures(total), figures.apart(abs(over)), figures(length)
    if takers and over >= 0:
        too_much = f"{apart} more than" if over else "all of"
        what = f"no room is left for {_joined(takers)}: the rest comes to {comes}, {too_much} the wall of {wall}"
        raise Fault(what, _who_gives(standing, over, lambda most: f"less than {figures.at_most(most)}", figures))
    if not takers and over > 0:
        what = f"the run comes to {comes}, {apart} more than the wall of {wall}"
        raise Fault(what, _who_gives(standing, over, lambda width: _exactly(width, figures), figures))
    if not takers and over < 0:
        what = f"the run comes to {comes}, {apart} less than the wall of {wall}"
        raise Fault(what, _who_takes(standing, -over, figures))


def _who_takes(standing: Sequence[NamedItem], left: Fraction, figures: Figures) -> str:
    """The widest filler, with the width that takes up what is left."""
    for filler, size in _fillers(standing)[:1]:
        return f"{filler.said} could take it up: make it {_exactly(size + left, figures)}"
    return 'add { filler = "equal" } where it may take that up'


def _exactly(width: Fraction, figures: Figures) -> str:
    """A width for the filler that decides: its figure where that says all of it, else the word that always fits."""
    return f'{figures(width)}, or "equal"' if figures.is_said(width) else '"equal"'


def _who_gives(standing: Sequence[NamedItem], over: Fraction, said: Callable[[Fraction], str], figures: Figures) -> str:
    """The filler that has ``over`` to give and something left, or as many of them as have it together.

    ``said`` writes what the filler is to be made.
    """
    fillers = _fillers(standing)
    for filler, size in fillers:
        if size > over:
            given = figures.apart(over) if over else "some"
            return f"{filler.said} could give {given}: make it {said(size - over)}"
    if sum(size for _, size in fillers) > over:
        return f"{_joined([filler for filler, _ in fillers])} could give it between them"
    return "no filler could give so much: make cabinets, panels or gaps narrower"


def _fillers(standing: Sequence[NamedItem]) -> list[tuple[NamedItem, Fraction]]:
    """The fillers of a given size, the widest first, and after them the scribes."""
    found = [
        (each, each.fixed, each.item.kind is PieceKind.SCRIBE)
        for each in standing
        if each.fixed is not None and isinstance(each.item, RunPiece) and not each.item.is_gap
    ]
    # A scribe is cut to the wall by hand, so it is asked last to give or take.
    return [(each, size) for each, size, _ in sorted(found, key=lambda found: (found[2], -found[1]))]


def _joined(things: Sequence[NamedItem]) -> str:
    *others, last = (named.said for named in things)
    return f"{', '.join(others)} and {last}" if others else last
