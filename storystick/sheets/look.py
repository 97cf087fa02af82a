"""How a thing in one piece is drawn: a pen for each layer, letters as text or as outlines, the check square."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from storystick.errors import Fault, as_written

_PEN: Final = re.compile(r"(#[0-9a-f]{6}) +([0-9]{1,3}(?:\.[0-9]{1,6})?)(?: *mm)?", re.IGNORECASE)
_FINEST_MM, _BROADEST_MM = 0.001, 5.0


@dataclass(frozen=True, slots=True)
class Pen:
    """What lines are drawn with: a ``colour`` as #rrggbb, and a width."""

    colour: str = "#000000"
    width_mm: float = 0.12

    @property
    def words(self) -> str:
        """As :func:`read_pen` reads it."""
        return f"{self.colour} {self.width_mm}"


FINE: Final = Pen()
"""Black, and as fine as most machines draw."""


@dataclass(frozen=True, slots=True)
class Look:
    """With which pen is drawn what is cut, what is marked, and what is lettered.

    Without a pen of their own marks and letters are black ink as in a PDF: areas filled, each line as wide as it is.
    With one, all of them are lines. ``outlines`` makes letters outlines, so that no font is needed.
    """

    cut: Pen = FINE
    mark: Pen | None = None
    text: Pen | None = None
    outlines: bool = False
    check_square: bool = True


AS_INK: Final = Look()
"""Black on white, for a printer as for a machine."""


def read_pen(text: str) -> Pen:
    """A pen by its colour and its width in mm, such as "#ff0000 0.1".

    Raises:
        Fault: it is none.
    """
    found = _PEN.fullmatch(text.strip())
    if found is None or not _FINEST_MM <= float(found[2]) <= _BROADEST_MM:
        what = f"{as_written(text)} is not a colour and a width from {_FINEST_MM} to {_BROADEST_MM:g} mm"
        raise Fault(what, 'write them like "#ff0000 0.1"')
    return Pen(found[1].lower(), float(found[2]))
