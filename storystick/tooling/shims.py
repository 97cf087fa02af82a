"""The shims that grooves wider than their bit ask for, each width once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.tooling.model import GrooveSetup


@dataclass(frozen=True, slots=True)
class Shim:
    """A strip laid between straightedge and base, ``width`` mm wide, exact.

    ``serves`` says for which pass of which grooves, a line for each stick and pass.
    """

    width: Fraction
    serves: tuple[str, ...]

    def __post_init__(self) -> None:
        if self.width <= 0:
            raise ValueError(f"a shim is wider than nothing, not {self.width} mm")


def shims_of(setups: Sequence[GrooveSetup]) -> tuple[Shim, ...]:
    """Every shim that the setups ask for, narrowest first."""
    grooves: dict[Fraction, dict[str, list[str]]] = {}
    for width, use, groove in _uses(setups):
        names = grooves.setdefault(width, {}).setdefault(use, [])
        if groove not in names:
            names.append(groove)
    return tuple(
        Shim(width, tuple(f"{use}: {', '.join(names)}" for use, names in uses.items()))
        for width, uses in sorted(grooves.items())
    )


def _uses(setups: Sequence[GrooveSetup]) -> Iterator[tuple[Fraction, str, str]]:
    """Each use of a shim: its width, the stick and the pass, and the groove."""
    for setup in setups:
        for number, width in enumerate(setup.shims, start=1):
            if width:
                yield width, f"{setup.stick}, pass {number} of {len(setup.shims)}", setup.name
