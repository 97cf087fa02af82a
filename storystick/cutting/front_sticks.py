"""The strips of fronts: one for every column of them, from the foot of the case to its head. Exact, in mm."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from storystick.cutting.front import Front
from storystick.cutting.fronts import fronts_of
from storystick.job.openings import Part
from storystick.job.sticks import Datum, Stick
from storystick.layout.cabinets.pieces import CabinetLayout, Range
from storystick.layout.stations import Face, PlacedPart, Span, SpanKind, StickLayout, end_to_end
from storystick.lengths import Figures
from storystick.wording import ranges


def front_sticks(layout: CabinetLayout, figures: Figures, first_number: int = 1) -> tuple[StickLayout, ...]:
    """A stick for every column of two or more fronts one above another, numbered from ``first_number``.

    Each front is shown as high as it is made, in the middle of the place that it may fill at the dampest.

    Raises:
        Faults: as :func:`~storystick.cutting.fronts.fronts_of`.
    """
    columns: dict[Range, list[Front]] = {}
    for front in fronts_of(layout, figures):
        columns.setdefault(front.x, []).append(front)
    names = [_columns(fronts[0]) for fronts in columns.values()]
    # A door that has its column alone is as high as the list says: nothing is struck for it.
    stacks = [(name, fronts) for name, fronts in zip(names, columns.values(), strict=True) if len(fronts) > 1]
    return tuple(
        _stick(
            layout,
            number,
            name if names.count(name) == 1 else f"row {fronts[0].closing.bays[0].row}, {name}",
            fronts,
            figures,
        )
        for number, (name, fronts) in enumerate(stacks, start=first_number)
    )


def _columns(front: Front) -> str:
    """Before which columns a front lies."""
    numbers = {bay.column for bay in front.closing.bays}
    return f"column{'s' if len(numbers) > 1 else ''} {ranges(numbers)}"


def _stick(layout: CabinetLayout, number: int, column: str, fronts: Sequence[Front], figures: Figures) -> StickLayout:
    foot = min(layout.case.foot, *(front.z.start for front in fronts))
    head = max(layout.case.head, *(front.z.end for front in fronts))
    parts = tuple(_placed(front, foot, figures) for front in sorted(fronts, key=lambda front: front.z.start))
    name = f"{layout.cabinet.name} fronts, {column}"
    spans = tuple(end_to_end(parts, head - foot, lambda *_: "gap"))
    place = Face(layout.cabinet.name, "fronts", column, fronts[0].x, Range(foot, head), many=layout.cabinet.count)
    return StickLayout(Stick(number, name, Datum.BOTTOM, ()), spans, parts, (), faces=(place,))


def _placed(front: Front, foot: Fraction, figures: Figures) -> PlacedPart:
    _, z = front.made
    span = Span(SpanKind.PART, front.name, z.start - foot, z.end - foot)
    return PlacedPart(Part(front.stock, front.name), span, None, figures(span.size))
