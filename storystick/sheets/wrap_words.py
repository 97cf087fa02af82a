"""What the job sheet says of strips that are folded over the edge of their sticks."""

from __future__ import annotations

from typing import Final

from storystick.sheets.strips import StripSheets

_STEPS: Final = (
    "A wrapped strip is folded at its marking edge: lay a straightedge on the ticks beyond both ends, along the dashed "
    "line, and score it lightly with a bone folder or the back of a knife before the tile is cut out. Cut it along the "
    "outline below the fold, not at the fold.",
    "Ink outside, glue down the side with the words first, the scored line exactly on the edge of the stick, then fold "
    "the rest over. The edges of every band must go on over the fold without a step. On the face that is folded "
    "over, bands, grooves and fine lines run down to where the work lies.",
)
_SIGNS: Final = (
    ("dashed level line and ticks, FOLD", "where a wrapped strip is folded; never a mark"),
    ("black block inside a band, below the fold", "its groove, at the edge that lies on the work"),
)


def wrap_steps(plan: StripSheets) -> tuple[str, ...]:
    """How wrapped strips are folded and glued; nothing where there are none."""
    return _STEPS if _any_wrapped(plan) else ()


def wrap_signs(plan: StripSheets) -> tuple[tuple[str, str], ...]:
    """The signs that only wrapped strips have, with their meanings."""
    return _SIGNS if _any_wrapped(plan) else ()


def _any_wrapped(plan: StripSheets) -> bool:
    return any(cut_strip.drawing.wrap_mm for cut_strip in plan.strips)
