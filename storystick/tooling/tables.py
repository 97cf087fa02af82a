"""Tool settings as rows of tables, in labels: the same for a listing and for the job sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from storystick.job.shop import Shop
from storystick.tooling.cautions import Caution
from storystick.tooling.model import Bar, GrooveSetup, SawCut
from storystick.wording import listed

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
            *(str(number), cut.part, cut.cut, cut.saw, label(cut.height), near_side(cut, label), label(cut.fence_far)),
            *(str(cut.passes), cut.posture.value, cut.down, cut.against),
        )
        for number, cut in enumerate(cuts, start=1)
    ]


def near_side(cut: SawCut, label: Label) -> str:
    """From the fence to the near side of the blade, or how far that is in the fence's facing."""
    return label(cut.fence_near) if cut.fence_near >= 0 else f"{label(-cut.fence_near)} inside"


def saw_notes(cuts: Sequence[SawCut]) -> list[str]:
    """What to measure and to mind, after the numbers of the cuts in :func:`saw_rows`."""
    checks = (f"Check: {cut.check}." if cut.check else "" for cut in cuts)
    notes = enumerate(zip(checks, saw_cautions(cuts), strict=True), start=1)
    return [f"{number}. {' '.join(filter(None, note))}" for number, note in notes if any(note)]


def saw_cautions(cuts: Iterable[SawCut]) -> list[str]:
    """What to mind at each cut: all of it once, where it comes first, and then by name, with the number of that cut."""
    first: dict[Caution, int] = {}
    said: list[str] = []
    for number, cut in enumerate(cuts, start=1):
        said.append(" ".join(each.again(first[each]) if each in first else str(each) for each in cut.cautions))
        first |= {caution: number for caution in cut.cautions if caution not in first}
    return said


def saw_choices(cuts: Iterable[SawCut], shop: Shop | None) -> list[str]:
    """Which saw does what and why, and how to have it otherwise where the shop has several."""
    chosen: dict[tuple[str, str], list[str]] = {}
    for cut in cuts:
        works = chosen.setdefault((cut.saw, cut.why), [])
        works += [cut.purpose.value] if cut.purpose.value not in works else []
    sentences = [f"Saw {saw} for {listed(works)}: {why}." for (saw, why), works in chosen.items()]
    if sentences and shop and len(shop.saws) > 1:
        sentences.append('To have another saw, write what it is for under [saw.NAME], as in for = "grooves".')
    return sentences
