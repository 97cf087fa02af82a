"""Full-size story sticks: exact mark positions from a list of openings, on paper that is glued to a stick.

job = storystick.load("chest.toml")
layout = storystick.lay_out(job)
storystick.print_job(layout, "chest-print")
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from storystick.errors import StorystickError
    from storystick.laying_out import lay_out
    from storystick.loading import load
    from storystick.printing import print_job

__all__ = ["StorystickError", "__version__", "lay_out", "load", "print_job"]

__version__ = "0.1.0"

# Each is loaded when first asked for, so that a listing does not wait for what only printing needs.
_HOMES = {
    "StorystickError": "storystick.errors",
    "lay_out": "storystick.laying_out",
    "load": "storystick.loading",
    "print_job": "storystick.printing",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
