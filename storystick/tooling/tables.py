"""Tool settings as rows of tables, in labels: the same for a listing and for the job sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from storystick.tooling.model import Bar, GrooveSetup, SawCut

Label = Callable[[Fraction], str]

BAR_HEADINGS = ("bar", "router", "edge", "bit", "near", "far", "measured")
GROOVE_HEADINGS = (
    "stick",
    "groove",
    "width",
    "depth",
    "bit",
    "bar",
    "straightedge at",
    "on the",
    "shims",
    "bit's depths",
)
SAW_HEADINGS = (
    "no.",
    "part",
    "cut",
    "saw",
    "height",
    "fence, near",
    "fence, far",
    "passes",
    "part goes",
    "down",
    "on the fence",
)


def bar_rows(bars: Iterable[Bar], label: Label) -> list[tuple[str, ...]]:
    """Each bar under :data:`BAR_HEADINGS`."""
    return [
        (
            *(bar.name, bar.router, bar.edge, bar.bit, label(bar.near), label(bar.far)),
            "" if bar.measured is None else label(bar.measured),
        )
        for bar in bars
    ]


def groove_rows(setups: Iterable[GrooveSetup], label: Label) -> list[tuple[str, ...]]:
    """Each groove under :data:`GROOVE_HEADINGS`: a shim a pass across, and a depth a pass down."""
    return [
        (
            *(setup.stick, setup.name, label(setup.width), label(setup.depth)),
            *((setup.bar.bit, setup.bar.name) if setup.bar else ("", "none")),
            "" if setup.straightedge is None else label(setup.straightedge),
            setup.side.value if setup.side else "",
            ", ".join(label(shim) for shim in setup.shims),
            ", ".join(label(depth) for depth in setup.depths),
        )
        for setup in setups
    ]


def groove_warnings(setups: Sequence[GrooveSetup]) -> list[str]:
    """The warnings of grooves, those that are the same said once, after the sticks and grooves that they are about."""
    about: dict[str, list[GrooveSetup]] = {}
    for setup in setups:
        for warning in setup.warnings:
            about.setdefault(warning, []).append(setup)
    return [
        f"{_in_sticks(grooves) if len(grooves) < len(setups) else 'Every groove'}: {warning}"
        for warning, grooves in about.items()
    ]


def _in_sticks(setups: Iterable[GrooveSetup]) -> str:
    """The sticks, each with the names of its grooves."""
    names: dict[str, list[str]] = {}
    for setup in setups:
        names.setdefault(setup.stick, []).append(setup.name)
    return "; ".join(f"{stick}, {', '.join(grooves)}" for stick, grooves in names.items())


def saw_rows(cuts: Iterable[SawCut], label: Label) -> list[tuple[str, ...]]:
    """Each cut under :data:`SAW_HEADINGS`: the fence to the near and to the far side of the blade."""
    return [
        (
            *(str(number), cut.part, cut.cut, cut.saw, label(cut.height), label(cut.fence_near), label(cut.fence_far)),
            *(str(cut.passes), cut.posture.value, cut.down, cut.against),
        )
        for number, cut in enumerate(cuts, start=1)
    ]


def saw_notes(cuts: Iterable[SawCut]) -> list[str]:
    """What to measure and to mind, after the numbers of the cuts in :func:`saw_rows`."""
    notes = ((f"Check: {cut.check}." if cut.check else "", cut.caution) for cut in cuts)
    return [f"{number}. {' '.join(filter(None, note))}" for number, note in enumerate(notes, start=1) if any(note)]
