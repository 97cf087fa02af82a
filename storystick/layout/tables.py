"""A layout as rows of a table, in labels: the same for a listing and for the job sheet."""

from __future__ import annotations

from fractions import Fraction

from storystick.job.model import Job
from storystick.layout.model import StickLayout

MARK_HEADINGS = ("kind", "name", "from", "to", "size")


def mark_rows(stick: StickLayout, job: Job) -> list[tuple[str, ...]]:
    """Every span and point of a stick, under :data:`MARK_HEADINGS`; a point has neither an end nor a size."""

    def labels(*lengths: Fraction) -> tuple[str, ...]:
        return tuple(job.label(length) for length in lengths)

    spans = (*stick.spans, *stick.grooves)
    return [
        *((span.kind.value, span.name, *labels(span.start, span.end, span.size)) for span in spans),
        *((point.kind.value, point.name, *labels(point.at), "", "") for point in stick.points),
    ]
