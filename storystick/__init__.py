"""Full-size story sticks: exact mark positions from a list of openings, on paper that is glued to a stick.

layout = storystick.load("chest.toml")
storystick.print_job(layout, "chest-print")
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from storystick.errors import Fault, Faults, StorystickError
    from storystick.job.job import Job
    from storystick.laying_out import lay_out, load
    from storystick.layout.stations import Layout, Point, PointKind, Span, SpanKind, StickLayout
    from storystick.lengths import Figures, Units
    from storystick.printing import print_job
    from storystick.sheets.print_choices import Choices, Formats

__all__ = [
    "Choices",
    "Fault",
    "Faults",
    "Figures",
    "Formats",
    "Job",
    "Layout",
    "Point",
    "PointKind",
    "Span",
    "SpanKind",
    "StickLayout",
    "StorystickError",
    "Units",
    "__version__",
    "lay_out",
    "load",
    "print_job",
]

__version__ = "0.1.0"

# Each is loaded when first asked for, so that a listing does not wait for what only printing needs.
_FACE = {
    "errors": ("Fault", "Faults", "StorystickError"),
    "job.job": ("Job",),
    "laying_out": ("lay_out", "load"),
    "layout.stations": ("Layout", "Point", "PointKind", "Span", "SpanKind", "StickLayout"),
    "lengths": ("Figures", "Units"),
    "printing": ("print_job",),
    "sheets.print_choices": ("Choices", "Formats"),
}
_HOMES = {name: f"{__name__}.{home}" for home, names in _FACE.items() for name in names}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
