"""A bar or a shim as a template: how large it is, and what is lettered on it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil
from typing import Final

from storystick.lengths import INCH_MM, Figures, Units
from storystick.tooling.bars import Shim
from storystick.tooling.setups import Bar

_USUAL_LENGTH: Final = {Units.INCH: 12 * INCH_MM, Units.MM: Fraction(300)}
_LENGTH_STEP: Final = {Units.INCH: INCH_MM, Units.MM: Fraction(10)}
_LEAST_SHAPE: Final = Fraction(5, 2)
"""A bar is at least so many times as long as it is wide, so that it does not turn at the mark: common practice."""

_LEAST_FOR_HOLE: Final = Fraction(10)


@dataclass(frozen=True, slots=True)
class Template:
    """A strip ``width`` by ``length`` mm, both exact, with what is lettered on it.

    ``kind`` is bar or shim. ``edges`` are the words at its upper and its lower edge, none where it does not
    matter which way it lies.
    """

    kind: str
    name: str
    width: Fraction
    length: Fraction
    figures: str
    uses: tuple[str, ...]
    edges: tuple[str, str] | None = None

    def __post_init__(self) -> None:
        if not 0 < self.width < self.length:
            raise ValueError(f"a template {self.width} mm wide and {self.length} mm long")

    @property
    def height_mm(self) -> float:
        """How high it is drawn: its width lies upright on the paper."""
        return float(self.width)

    @property
    def title(self) -> str:
        return f"{self.kind.capitalize()} {self.name}"

    @property
    def words(self) -> tuple[str, ...]:
        """All that others named."""
        return (self.title, *self.uses)

    @property
    def has_hole(self) -> bool:
        """Whether it is wide enough to be drilled for hanging."""
        return self.width >= _LEAST_FOR_HOLE


def bar_template(bar: Bar, figures: Figures) -> Template:
    """A spacer bar, as wide as it is used."""
    edge = f", edge {bar.edge}" if bar.edge else ""
    proved = "computed" if bar.measured is None else "measured"
    return Template(
        "bar",
        bar.name,
        bar.used,
        _length(bar.used, figures.units),
        f"{write_both(bar.used)}, {proved}",
        (f"router {bar.router}{edge}, bit {bar.bit}",),
        ("this edge to the mark", "this edge to the straightedge"),
    )


def shim_template(shim: Shim, figures: Figures) -> Template:
    """A shim, named by its width as the job's labels say it."""
    uses = ("between straightedge and base", *shim.serves)
    length = _length(shim.width, figures.units)
    return Template("shim", figures(shim.width), shim.width, length, f"{write_both(shim.width)}, computed", uses)


def write_both(width: Fraction) -> str:
    """A width to 0.001 in and to 0.01 mm, as callipers show it; from the exact value, ties to even."""
    return f"{_decimal(width / INCH_MM, 3)} in · {_decimal(width, 2)} mm"


def _decimal(value: Fraction, places: int) -> Decimal:
    return Decimal(round(value * 10**places)).scaleb(-places)


def _length(width: Fraction, units: Units) -> Fraction:
    step = _LENGTH_STEP[units]
    return max(_USUAL_LENGTH[units], ceil(width * _LEAST_SHAPE / step) * step)
