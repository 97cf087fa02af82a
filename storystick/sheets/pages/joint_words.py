"""What a cabinet's drawing sheet says of joints that the drawing does not show: those of the face frame, and stops."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import WorkKind
from storystick.lengths import Figures
from storystick.wording import by_number, listed


def tell_joints(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """How rails and mid stiles are joined, and which parts' grooves stop before the front edge."""
    frame = layout.cabinet.frame
    if frame and frame.joints:
        word = frame.joints.word
        yield f"Rails and mid stiles are {f'joined with {word}' if frame.joints.fasteners else word}."
    stopped: dict[Fraction, dict[str, None]] = {}
    for piece in layout.pieces:
        for work in works_of(layout, piece):
            if work.kind is WorkKind.CUT_BACK and work.joint and work.joint.front_stop:
                stopped.setdefault(work.joint.front_stop, {})[piece.name] = None
    for stop, names in stopped.items():
        yield f"The grooves for {listed(by_number(names))} stop {figures(stop)} before the front edge."
