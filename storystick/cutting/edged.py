"""The edging of a part on the cutting list: how much smaller its board is, how long each strip, and that in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.cutting.part import Edge
from storystick.errors import Fault
from storystick.job.edgings import BoardEdge, Edging
from storystick.layout.cabinets.edging import ENDS, strips_of
from storystick.layout.cabinets.pieces import CabinetLayout, Piece
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import WorkKind, width_of
from storystick.lengths import Label
from storystick.wording import listed

_ALL_ROUND: Final = 4


@dataclass(frozen=True, slots=True)
class EdgedBoard:
    """A board with its edging: ``length`` and ``width`` are its own, in mm, as it is cut.

    ``at_ends`` are its edges at the ends of its length, ``along`` the others. ``between`` is how long those run that
    are held back to its shoulders, None for a board without any.
    """

    length: Fraction
    width: Fraction
    strips: tuple[Edge, ...] = ()
    at_ends: tuple[BoardEdge, ...] = ()
    along: tuple[BoardEdge, ...] = ()
    between: Fraction | None = None

    def notes(self, label: Label) -> Iterator[str]:
        """What it takes, with its sizes when that is on; of the front edge alone these are known from the cabinet."""
        edges = (*self.along, *self.at_ends)
        if not edges:
            return
        names = "all" if len(edges) == _ALL_ROUND else listed([edge.value for edge in edges])
        takes = "edge takes" if len(edges) == 1 else "edges take"
        without = "sizes" if self.along and self.at_ends else "length" if self.at_ends else "width"
        words = f"{names} {takes} edging {label(self.strips[0].thickness)} thick, not in the {without}"
        if edges != (BoardEdge.FRONT,):
            words += f": {' by '.join(map(label, self.finished))} with it"
        yield words + (f", held back to the shoulders: {label(self.between)} long" if self.between else "")

    @property
    def finished(self) -> tuple[Fraction, Fraction]:
        """Its length and its width with its edging."""
        thick = self.strips[0].thickness if self.strips else Fraction(0)
        return self.length + thick * len(self.at_ends), self.width + thick * len(self.along)


def edged_piece(piece: Piece, layout: CabinetLayout) -> EdgedBoard:
    """A piece of the case, with edging above a toe space only."""
    rule = layout.cabinet.edging
    if rule is None or not piece.edged:
        return EdgedBoard(piece.length, width_of(piece))
    notch = max(
        (work.along.end for work in works_of(layout, piece) if work.kind is WorkKind.NOTCH), default=Fraction(0)
    )
    strips = tuple(
        Edge(rule.thickness, strip.length - (notch if strip.edge is BoardEdge.FRONT else 0), rule.stock_name)
        for strip in strips_of(piece)
    )
    along = tuple(edge for edge in piece.edged if edge not in ENDS)
    at_ends = tuple(edge for edge in piece.edged if edge in ENDS)
    held = strips[0].length if along and (enters_others(piece) or piece.part_of) else None
    return EdgedBoard(piece.length, width_of(piece), strips, at_ends, along, held)


def enters_others(piece: Piece) -> bool:
    """Whether an end of the piece stands in another, so that its edging is held back to the shoulder there."""
    return bool(piece.low.beyond or piece.high.beyond)


def edged_loose(
    rule: Edging, edges: Iterable[BoardEdge], ends: Iterable[BoardEdge], length: Fraction, width: Fraction, name: str
) -> EdgedBoard:
    """A part of its own that is ``length`` by ``width`` when done; ``ends`` are the edges at the ends of its length.

    Raises:
        Fault: the edging leaves nothing of it; it is called by ``name``.
    """
    thick, at = rule.thickness, set(edges)
    at_ends = tuple(edge for edge in ends if edge in at)
    along = tuple(edge for edge in BoardEdge if edge in at and edge not in at_ends)
    cut_length, cut_width = length - thick * len(at_ends), width - thick * len(along)
    if min(cut_length, cut_width) <= 0:
        raise Fault(f"the edging leaves nothing of {name}", "make it thinner, or the part larger", "edging")
    strips = (
        *(Edge(thick, length, rule.stock_name) for _ in along),
        *(Edge(thick, cut_width, rule.stock_name) for _ in at_ends),
    )
    return EdgedBoard(cut_length, cut_width, strips, at_ends, along)
