"""All settings of a job's tools in the order of work, and the same as rows of labels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storystick.job.shop import Shop
from storystick.job.tools import Purpose
from storystick.layout.stations import Layout
from storystick.lengths import Figures, Label
from storystick.tooling.bars import bar_findings, bars_of, base_findings, turn_findings
from storystick.tooling.cautions import Caution
from storystick.tooling.drilling import FastenerSetup, fastener_setups
from storystick.tooling.grooves import groove_setups
from storystick.tooling.guided import GuidedCut, guided_cuts, tongue_ends
from storystick.tooling.handwork import Section, hand_sections
from storystick.tooling.mortises import mortise_cuts
from storystick.tooling.saw import choose_saw, saw_cuts, saw_findings, saw_needs
from storystick.tooling.setups import Bar, GrooveSetup, SawCut
from storystick.wording import by_number, capital, listed, small

BARS_TITLE: Final = "Spacer bars"
BARS_WORDS: Final = (
    "A bar is as wide as from the base's edge to the near edge of the cut. Cut a trial groove along a straightedge, "
    "measure from the straightedge to its near edge, and write that under the bar as measured."
)
GROOVES_TITLE: Final = "Grooves, with a router against a straightedge"
GROOVES_WORDS: Final = (
    "Strike each straightedge line at both edges of the board, and clamp the straightedge to both marks. The shims of "
    "the passes lie between straightedge and base; every pass goes down to each of the bit's depths in turn."
)
SAW_TITLE: Final = "Cuts at the table saw"
SAW_WORDS: Final = (
    "The blade's height is above the table. The fence is set to the near or to the far side of the blade: both figures "
    "are given, a kerf apart. Where it runs into a wooden facing on the fence, it is said how far."
)
NO_SHOP: Final = (
    "The job has no shop file, which says what the tools are. Write shop.toml beside the job, or name one with --shop: "
    "[router.NAME] with base_diameter or edge_to_centre, [bit.NAME] with diameter, [saw.NAME] with kerf."
)
NO_SET_UP: Final = "The job has no joint that is cut by router or saw."


@dataclass(frozen=True, slots=True)
class Settings:
    """What the tools of a shop are set to for a job.

    ``findings`` are sentences about the shop's bars and bases, ``saw_findings`` about what its saws lack. ``guided``
    are the cuts along parts that stop, and ``by_hand`` what is sawn away by hand after the saw. ``mortises`` are those
    of face frames, ``sections`` what else is done by hand, and ``fasteners`` what is bored and slotted for those.
    """

    bars: tuple[Bar, ...]
    grooves: tuple[GrooveSetup, ...]
    saw: tuple[SawCut, ...]
    findings: tuple[str, ...]
    saw_findings: tuple[str, ...]
    guided: tuple[GuidedCut, ...] = ()
    by_hand: tuple[str, ...] = ()
    mortises: tuple[GuidedCut, ...] = ()
    sections: tuple[Section, ...] = ()
    fasteners: tuple[FastenerSetup, ...] = ()

    @property
    def has_any(self) -> bool:
        """Whether there is work for router, saw or hand, or a machine lacks something for it."""
        cut = (self.grooves, self.guided, self.mortises, self.saw, self.saw_findings)
        return any((*cut, self.sections, self.fasteners))

    @property
    def grooves_by_bar(self) -> tuple[GrooveSetup, ...]:
        """The grooves in working order: all that one bar serves, then the next one, last those that have none."""
        order = {bar: place for place, bar in enumerate(self.bars)}
        return tuple(sorted(self.grooves, key=lambda setup: order[setup.bar] if setup.bar else len(order)))


def settings_of(layout: Layout) -> Settings:
    """The settings for a job; without a shop they say what they need."""
    shop, figures = layout.job.shop or Shop(), layout.job.figures
    bars = bars_of(shop)
    return Settings(
        bars,
        tuple(_at_router(layout, shop)),
        saw_cuts(layout.cabinets, shop, figures),
        tuple(_findings(bars, shop, figures)),
        tuple(f"{finding}." for finding in _saw_findings(layout, shop)),
        guided_cuts(layout.cabinets, shop, figures),
        tongue_ends(layout.cabinets, figures),
        mortise_cuts(layout.cabinets, shop, figures),
        hand_sections(layout.cabinets, figures),
        fastener_setups(layout.cabinets, figures),
    )


def _at_router(layout: Layout, shop: Shop) -> Iterator[GrooveSetup]:
    """The grooves for the router; an end rabbet of a cabinet that it has no bit for is left to the saw."""
    own, figures = len(layout.job.sticks), layout.job.figures
    sawn = choose_saw(shop, Purpose.RABBETS) is not None
    yield from groove_setups(layout.sticks[:own], shop, figures)
    for setup in groove_setups(layout.sticks[own:], shop, figures):
        if setup.bar or not (sawn and setup.is_rabbet and setup.stopped is None):
            yield setup


def _findings(bars: Iterable[Bar], shop: Shop, figures: Figures) -> Iterator[str]:
    yield from base_findings(shop, figures)
    for router in shop.routers:
        yield from turn_findings(router, figures)
    for bar in bars:
        yield from bar_findings(bar, figures)


def _saw_findings(layout: Layout, shop: Shop) -> Iterator[str]:
    figures = layout.job.figures
    if needs := saw_needs(layout.cabinets, shop, figures):
        yield needs
    yield from saw_findings(layout.cabinets, shop, figures)


BAR_HEADINGS = ("bar", "router", "edge", "bit", "near", "far", "measured")


def bar_rows(bars: Iterable[Bar], label: Label) -> list[tuple[str, ...]]:
    """Each bar under :data:`BAR_HEADINGS`."""
    return [
        (
            bar.name,
            bar.router,
            bar.edge,
            bar.bit,
            label(bar.near),
            label(bar.far),
            "" if bar.measured is None else label(bar.measured),
        )
        for bar in bars
    ]


def bar_words(bar: Bar | None) -> str:
    """The bar of an operation, and its bit."""
    return f"Bar {bar.name}, bit {bar.bit}" if bar else "No bar"


def router_operations(setups: Iterable[GrooveSetup]) -> list[list[GrooveSetup]]:
    """The grooves, those together that are cut at the same settings."""
    together: dict[tuple[object, ...], list[GrooveSetup]] = {}
    for setup in setups:
        key = (setup.bar, setup.side, setup.width, setup.depth, setup.shims, setup.depths)
        together.setdefault(key, []).append(setup)
    return list(together.values())


def router_figures(setup: GrooveSetup, label: Label) -> Iterator[str]:
    """What is the same for all grooves of an operation: a shim a pass across, and a depth a pass down."""
    yield f"groove {label(setup.width)} wide, {label(setup.depth)} deep"
    if len(setup.depths) > 1:
        yield f"bit at {' then '.join(map(label, setup.depths))}"
    if len(setup.shims) > 1:
        yield f"shims {' then '.join(map(label, setup.shims))}"
    if setup.side:
        yield f"straightedge on the {setup.side.value}"


def straightedge_row(setup: GrooveSetup, label: Label) -> tuple[str, str]:
    """A groove by its name, and where its straightedge lies; without a bar, where the groove itself does."""
    name = f"{setup.stick}: {setup.name}"
    if setup.bar is None:
        return name, f"{label(setup.start)} to {label(setup.end)}"
    return name, "off the board: see below" if setup.straightedge is None else label(setup.straightedge)


def groove_warnings(setups: Sequence[GrooveSetup]) -> list[str]:
    """The warnings of grooves, those that are the same said once, after the sticks and grooves that they are about."""
    about: dict[str, list[GrooveSetup]] = {}
    for setup in setups:
        for warning in setup.warnings:
            about.setdefault(warning, []).append(setup)
    return [
        f"{_in_sticks(grooves) if len(grooves) < len(setups) else 'Every groove'}: {small(warning)}"
        for warning, grooves in about.items()
    ]


def _in_sticks(setups: Iterable[GrooveSetup]) -> str:
    """The sticks with the names of their grooves, those that have the same ones together."""
    names: dict[str, list[str]] = {}
    for setup in setups:
        names.setdefault(setup.stick, []).append(setup.name)
    alike: dict[str, list[str]] = {}
    for stick, grooves in names.items():
        alike.setdefault(", ".join(by_number(grooves)), []).append(stick)
    return "; ".join(f"{', '.join(by_number(sticks))}, {grooves}" for grooves, sticks in alike.items())


def saw_figures(cut: SawCut, label: Label) -> Iterator[str]:
    """The settings of a cut: the fence to the near and to the far side of the blade."""
    far = f"to far side {label(cut.fence_far)}"
    yield f"height {label(cut.height)}"
    if cut.fence_near < 0:
        yield f"fence {far}, cutter {label(-cut.fence_near)} into its facing"
    else:
        yield f"fence to near side {label(cut.fence_near)}, {far}"
    if cut.passes > 1:
        yield f"{cut.passes} passes"


def saw_words(cuts: Sequence[SawCut]) -> Iterator[tuple[str, ...]]:
    """What is said of each cut below its settings: how the part lies, what to measure, and what to mind."""
    for cut, caution in zip(cuts, saw_cautions([[cut] for cut in cuts]), strict=True):
        check = f"Check: {cut.check}." if cut.check else ""
        yield tuple(filter(None, (cut.lies, check, " ".join(caution))))


def saw_cautions(groups: Sequence[Sequence[SawCut]]) -> list[list[str]]:
    """What to mind at each group of cuts: all of it once, where it comes first, then by name and that group's number.

    Where it is not for all the cuts of its group, it says for which.
    """
    first: dict[Caution, int] = {}
    said: list[list[str]] = []
    for number, cuts in enumerate(groups, start=1):
        own = [_for_parts(caution, cuts) for caution in dict.fromkeys(each for cut in cuts for each in cut.cautions)]
        said.append([_at(each, cuts) + (each.again(first[each]) if each in first else str(each)) for each in own])
        first |= {caution: number for caution in own if caution not in first}
    return said


def _for_parts(caution: Caution, cuts: Sequence[SawCut]) -> Caution:
    """The caution with all the parts that it is about, none where these are all of the cuts'."""
    parts = {(cut.part, own.parts) for cut in cuts for own in cut.cautions if own == caution}
    if {part for part, _ in parts} == {cut.part for cut in cuts} and not any(some for _, some in parts):
        return replace(caution, parts="")
    return replace(caution, parts="; ".join(dict.fromkeys(some or part for part, some in sorted(parts))))


def _at(caution: Caution, cuts: Sequence[SawCut]) -> str:
    """The cuts that it is for, where it is not for all of them."""
    steps = dict.fromkeys(cut.step for cut in cuts if caution in cut.cautions)
    return f"{capital(listed(list(steps)))}: " if len(steps) < len({cut.step for cut in cuts}) else ""


def saw_operations(cuts: Iterable[SawCut]) -> list[list[list[SawCut]]]:
    """The cuts by operation, and those operations together for which the saw is set alike, one part after the other."""
    own: dict[int, list[SawCut]] = {}
    for cut in cuts:
        own.setdefault(cut.operation, []).append(cut)
    alike: dict[tuple[object, ...], list[list[SawCut]]] = {}
    for operation in own.values():
        alike.setdefault(tuple(cut.setting for cut in operation), []).append(operation)
    return list(alike.values())


def straightedge_rows(group: Sequence[GrooveSetup], label: Label) -> list[tuple[str, str]]:
    """What :func:`straightedge_row` says of grooves that are cut alike, those at one place in one row."""
    places: dict[str, list[GrooveSetup]] = {}
    for setup in group:
        places.setdefault(straightedge_row(setup, label)[1], []).append(setup)
    return [(_at_one_place(setups), place) for place, setups in places.items()]


def _at_one_place(setups: Sequence[GrooveSetup]) -> str:
    """Boards with the faces that are grooved there, and the names of the grooves: "divider 1, left and right face"."""
    faces: dict[str, dict[str, None]] = {}
    for setup in setups:
        faces.setdefault(setup.board, {})[setup.face.words if setup.face else ""] = None
    boards: dict[tuple[str, ...], list[str]] = {}
    for board, own in faces.items():
        boards.setdefault(tuple(own), []).append(board)
    words = (", ".join(filter(None, (", ".join(by_number(those)), _faces(own)))) for own, those in boards.items())
    names = by_number(dict.fromkeys(setup.name for setup in setups))
    return f"{'; '.join(words)}: {', '.join(names)}"


def _faces(names: Sequence[str]) -> str:
    """ "left face", "right face" as "left and right face"."""
    kinds = {name.rpartition(" ")[2] for name in names}
    if len(names) == 1 or len(kinds) > 1:
        return listed(list(names))
    return f"{listed([name.rpartition(' ')[0] for name in names])} {kinds.pop()}"


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
