"""What a cabinet takes over from another that it is like becomes its own where it is changed."""

from __future__ import annotations

from typing import Final

from storystick.bench.editing.open_text import OpenText
from storystick.bench.editing.putting import put_key
from storystick.bench.editing.renaming import names_of
from storystick.bench.places import Steps
from storystick.errors import StorystickError
from storystick.job.cabinets import EACH_OWN, INSTEAD
from storystick.job.likeness import LIKE, Likeness

_CABINET: Final = "cabinet"
_LAID_OUT: Final = INSTEAD[0]
"""The keys that say how a cabinet is divided, one of which is meant where nothing of that is its own."""


def take_over(text: OpenText, at: Steps, *, whole: bool, divides: bool) -> None:
    """Write into a cabinet what a change is inside of and what it has from another so far.

    ``whole``: a change of all that stands at the place, not only of what stands below it; ``divides``: of how the
    cabinet is divided.
    """
    at = text.known(at)
    own, below = at[:2], at[2:]
    if len(at) < 2 or at[0] != _CABINET or not isinstance(at[1], int) or not text.has((*own, LIKE)):
        return
    given = text.value((_CABINET,))
    likeness = Likeness(_CABINET, names_of(text, _CABINET), given, EACH_OWN, INSTEAD)
    try:
        said = likeness.whole(at[1])
    except StorystickError:
        return
    wanted = below[:1] if len(below) > 1 or (whole and below) else ()
    if divides or (whole and below[:1] and below[0] in _LAID_OUT):
        wanted = _LAID_OUT
    for name in wanted:
        if isinstance(said, dict) and name in said and name not in given[at[1]]:
            put_key(text, own, str(name), said[str(name)])
