"""The sticks of a cabinet's fronts: for each column of them, where they hang, from the foot of the case.

Where fronts hang lower than that, as overlay fronts may, they begin at the lowest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import count

from storystick.cutting.fronts import Front, fronts_of
from storystick.job.model import Datum, Part, Stick
from storystick.layout.cabinets.model import CabinetLayout, Range
from storystick.layout.model import PlacedPart, Span, SpanKind, StickLayout
from storystick.lengths import Figures


def front_sticks(layout: CabinetLayout, figures: Figures, first_number: int) -> tuple[StickLayout, ...]:
    """A stick for every column of fronts that stand one above another, numbered from ``first_number``.

    Each front is shown as high as it is made, in the middle of the place that it may fill at the dampest.

    Raises:
        Faults: as :func:`~storystick.cutting.fronts.fronts_of`.
    """
    columns: dict[Range, list[Front]] = {}
    for front in fronts_of(layout, figures):
        columns.setdefault(front.x, []).append(front)
    names = [f"column {fronts[0].column}" for fronts in columns.values()]
    return tuple(
        _stick(layout, number, name if names.count(name) == 1 else f"row {fronts[0].row}, {name}", fronts)
        for number, name, fronts in zip(count(first_number), names, columns.values(), strict=False)
    )


def _stick(layout: CabinetLayout, number: int, column: str, fronts: Sequence[Front]) -> StickLayout:
    foot = min(layout.piece("bottom").z.start, *(front.z.start for front in fronts))
    head = max(layout.cabinet.height, *(front.z.end for front in fronts))
    parts = tuple(_placed(front, foot) for front in sorted(fronts, key=lambda front: front.z.start))
    name = f"{layout.cabinet.name} fronts, {column}"
    spans = tuple(_with_gaps(parts, head - foot))
    return StickLayout(Stick(number, name, Datum.BOTTOM, ()), spans, parts, ())


def _placed(front: Front, foot: Fraction) -> PlacedPart:
    _, z = front.made
    span = Span(SpanKind.PART, front.bay, z.start - foot, z.end - foot)
    return PlacedPart(Part(front.stock, front.bay), span, None)


def _with_gaps(parts: Sequence[PlacedPart], length: Fraction) -> Iterator[Span]:
    """The fronts and what lies between them, end to end from 0."""
    at = Fraction(0)
    for placed in parts:
        if placed.span.start > at:
            yield Span(SpanKind.OPENING, "gap", at, placed.span.start)
        yield placed.span
        at = placed.span.end
    if at < length:
        yield Span(SpanKind.OPENING, "gap", at, length)
