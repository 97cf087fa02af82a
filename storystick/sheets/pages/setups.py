"""The set-up pages: a page a machine, its operations in working order, handwork among them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from storystick.drawing.built_up import BuiltUp
from storystick.drawing.cut_pictures import (
    FAR,
    HEIGHT,
    NEAR,
    PICTURE_HEIGHT_MM,
    PICTURE_WIDTH_MM,
    draw_cut,
    draw_guided_cut,
    draw_router_cut,
)
from storystick.drawing.lettering import STATION_MM
from storystick.drawing.shapes import Line, Shape, Text, moved
from storystick.job.job import Job
from storystick.job.shop import Shop
from storystick.lengths import Figures
from storystick.sheets.pages.flow import (
    PITCH_MM,
    RULE_MM,
    TEXT_PT,
    Block,
    Room,
    heading,
    kept_rows,
    paragraph,
    stacked,
)
from storystick.sheets.pages.operation_blocks import (
    GAP_MM,
    LEFT_MM,
    abreast,
    cautions_block,
    figure_row,
    operation_block,
    operation_title,
)
from storystick.tooling.cautions import ROUTER_CAUTIONS, SAW_CAUTIONS
from storystick.tooling.drilling import BORE_CAUTIONS, DRILLING, DRILLING_TITLE, FastenerSetup
from storystick.tooling.guided import BY_HAND, BY_HAND_TITLE, GUIDED, GUIDED_CAUTIONS, GUIDED_TITLE, GuidedCut
from storystick.tooling.mortises import (
    MORTISE_CAUTIONS,
    MORTISES,
    MORTISES_TITLE,
    mortise_figures,
    mortise_operations,
    mortise_rows,
)
from storystick.tooling.settings import (
    Settings,
    groove_warnings,
    router_figures,
    router_operations,
    saw_cautions,
    saw_choices,
    saw_operations,
    straightedge_rows,
)
from storystick.tooling.setups import Bar, GrooveSetup, SawCut
from storystick.wording import capital, small

_LINE_MM: Final = 10.0
"""From one line of figures 5 mm high, built up, to the next."""

_LABEL_MM: Final = 18.0
_SAW: Final = "Set-up: table saw"
_SAW_WORDS: Final = (
    "Height is that of the blade above the table. Near side and far side are from the fence to that side of the blade, "
    "a kerf apart: set either."
)
PLACES: Final = "Where the straightedge lies is from the datum of each stick."
_MANY: Final = 7
"""So many places of the straightedge stand in two columns."""


def setup_blocks(settings: Settings, job: Job, room: Room) -> Iterator[Block]:
    """All pages of a job's set-ups, and below them what its tools lack."""
    width, setups = room.width_mm, settings.grooves_by_bar
    at_router = bool(setups or settings.guided)
    grooves = list(machine_blocks(setups, (), settings.bars, job, width))
    findings = list(_findings(settings.findings, width))
    below, alone = (list(guided_blocks(settings.guided, job.figures, width, setups=each)) for each in (setups, ()))
    # What has all its cautions above it on the same page does not say them again.
    fits = sum(block.height_mm for block in (*grooves, *below, *findings)) <= room.height_mm
    guided = below if fits else alone
    # What is found of bars and bases stands where these are used.
    yield from (*grooves, *findings, *guided) if setups else (*guided, *(findings if at_router else ()))
    yield from mortise_blocks(settings.mortises, job.figures, width)
    yield from machine_blocks((), settings.saw, (), job, width)
    yield from by_hand_blocks(settings.by_hand, width)
    for section in settings.sections:
        yield from section_blocks(section.title, section.words, section.rows, width)
    yield from fastener_blocks(settings.fasteners, job.figures, width)
    yield from (*(() if at_router else findings), *_findings(settings.saw_findings, width))


def _findings(findings: Iterable[str], width: float) -> Iterator[Block]:
    for finding in findings:
        yield from paragraph(finding, width, indent_mm=6.0, sign="!")


def machine_blocks(
    setups: Sequence[GrooveSetup], cuts: Sequence[SawCut], bars: Sequence[Bar], job: Job, width: float
) -> Iterator[Block]:
    """A page for the router and a page for the saw, as far as there is work for them.

    ``setups`` and ``cuts`` are in working order; ``bars`` are listed above the router's work.
    """
    if setups:
        yield from _router_blocks(setups, bars, job.figures, width)
    if cuts:
        yield from _saw_blocks(cuts, job.shop, job.figures, width)


def _router_blocks(
    setups: Sequence[GrooveSetup], bars: Sequence[Bar], figures: Figures, width: float
) -> Iterator[Block]:
    yield replace(heading("Set-up: router against a straightedge", width), starts_page=True)
    used = {setup.bar for setup in setups}
    for bar in bars:
        if bar in used:
            yield figure_row([(f"Bar {bar.name}", _bar_figure(bar, figures))], width)
    yield from paragraph(PLACES, width)
    yield from cautions_block(ROUTER_CAUTIONS, width)
    for number, group in enumerate(router_operations(setup for setup in setups if setup.bar), start=1):
        yield from _router_operation(number, group, figures, width)
    for warning in groove_warnings(setups):
        yield from paragraph(warning, width, indent_mm=6.0, sign="!")


def _bar_figure(bar: Bar, figures: Figures) -> str:
    words = "as proved" if bar.measured is not None else "as computed"
    return f"{figures(bar.used)} {words}, to the far edge {figures(bar.used + bar.diameter)}"


def _router_operation(number: int, group: Sequence[GrooveSetup], figures: Figures, width: float) -> Iterator[Block]:
    """What is the same for some grooves beside its picture, and below it the straightedge's place for each."""
    setup = group[0]
    said = list(router_figures(setup, figures))
    large = [words for words in said if any(map(str.isdigit, words))]
    title = ", ".join((f"{number}. Bar {setup.bar.name if setup.bar else ''}", *(set(said) - set(large))))
    operation = operation_block(title, large, (), draw_router_cut(setup), width)
    yield replace(operation, keeps_next=True)
    rows = _in_columns(straightedge_rows(group, figures), width)
    yield from kept_rows(rows, operation_title(f"{title}, continued", width))
    yield Block(GAP_MM, ())


def _in_columns(rows: Sequence[tuple[str, str]], width: float) -> list[Block]:
    """Rows of figures beside the column of pictures; many of them in two columns across the page, read down."""
    if len(rows) < _MANY:
        return [figure_row([row], width, LEFT_MM) for row in rows]
    half = (len(rows) + 1) // 2
    return [
        figure_row([*rows[place : place + 1], *rows[half + place : half + place + 1]], width, columns=2)
        for place in range(half)
    ]


def _saw_blocks(cuts: Sequence[SawCut], shop: Shop | None, figures: Figures, width: float) -> Iterator[Block]:
    yield replace(heading(_SAW, width), starts_page=True)
    for name, kerf in dict.fromkeys((cut.saw, cut.kerf) for cut in cuts):
        yield figure_row([(f"Saw {name}", f"kerf {figures(kerf)}")], width)
    yield Block(1.0, ())
    for choice in (*saw_choices(cuts, shop), _SAW_WORDS):
        yield from paragraph(choice, width)
    yield from cautions_block(SAW_CAUTIONS, width)
    yield Block(2.0, ())
    groups = saw_operations(cuts)
    cautions = saw_cautions([[cut for operation in group for cut in operation] for group in groups])
    for number, (group, minded) in enumerate(zip(groups, cautions, strict=True), start=1):
        yield replace(_saw_block(number, group, minded, figures, width), header=heading(f"{_SAW}, continued", width))


def _saw_block(
    number: int, group: Sequence[Sequence[SawCut]], minded: Sequence[str], figures: Figures, width: float
) -> Block:
    """An operation in one block: its cuts side by side, and below or beside them what is said of all of it.

    ``group`` are the operations for which the saw is set alike, one for each sort of parts.
    """
    cuts = group[0]
    column = (width - GAP_MM) / 2
    rows = [cuts[first : first + 2] for first in range(0, len(cuts), 2)]
    shown = stacked([abreast([_saw_cut(cut, len(cuts) > 1, figures) for cut in row], column) for row in rows])
    sentences = [words for operation in group for words in _operation_words(operation)] + list(minded)
    beside = len(cuts) == 1
    body = stacked([block for words in sentences for block in paragraph(words, column if beside else width)])
    both = abreast([shown, body], column) if beside else stacked([shown, body])
    title = f"{number}. {capital(cuts[0].work)}"
    return stacked(
        [Block(1.0, (Line(0.0, 0.0, width, 0.0, RULE_MM),)), operation_title(title, width), both, Block(1.0, ())]
    )


def _saw_cut(cut: SawCut, of_several: bool, figures: Figures) -> Block:
    """The picture of a cut with its figures to the right, below its step where it is one of several."""
    head = [Block(PITCH_MM, (Text(0.0, 1.2 - PITCH_MM, capital(cut.step), TEXT_PT, bold=True),))]
    rows = [Block(_LINE_MM, tuple(_labelled(word, figure))) for word, figure in _saw_rows(cut, figures)]
    own = Block(PICTURE_HEIGHT_MM + 1.0, moved(draw_cut(cut), 0.0, -1.0))
    return stacked([*(head if of_several and cut.step else ()), abreast([own, stacked(rows)], PICTURE_WIDTH_MM)])


def _saw_rows(cut: SawCut, figures: Figures) -> Iterator[tuple[str, str]]:
    """What is set, each by its word in the picture."""
    yield HEIGHT, figures(cut.height)
    if cut.fence_near >= 0:
        yield NEAR, figures(cut.fence_near)
    yield FAR, figures(cut.fence_far)
    if cut.fence_near < 0:
        yield "into facing", figures(-cut.fence_near)
    if cut.passes > 1:
        yield "passes", str(cut.passes)


def _labelled(word: str, figure: str) -> Iterator[Shape]:
    large = BuiltUp(figure, STATION_MM, bold=True)
    base = -_LINE_MM / 2 - STATION_MM / 2
    yield Text(0.0, base, word, TEXT_PT)
    yield from large.shapes(_LABEL_MM, base)


def _operation_words(cuts: Sequence[SawCut]) -> Iterator[str]:
    """Of which parts it is, how they lie, and what to measure after which cut."""
    lies = list(dict.fromkeys(cut.lies for cut in cuts))
    if len(lies) == 1:
        yield f"{cuts[0].part}. {lies[0]}"
    else:
        yield f"{cuts[0].part}."
        yield from (f"{capital(cut.step)}: {small(cut.lies)}" for cut in cuts)
    checks = [f"after {cut.step}, {cut.check}" if len(cuts) > 1 else cut.check for cut in cuts if cut.check]
    if checks:
        yield f"Check: {'; '.join(checks)}."


def guided_blocks(
    cuts: Sequence[GuidedCut], figures: Figures, width: float, setups: Sequence[GrooveSetup] = ()
) -> Iterator[Block]:
    """What is cut by the router's edge guide, on a page of its own, or below the router's other ``setups``.

    There it leaves out their cautions. Nothing without cuts.
    """
    if cuts:
        head = heading(f"Set-up: {small(GUIDED_TITLE)}", width)
        yield replace(head, starts_page=not setups)
        more = [words for words in GUIDED_CAUTIONS if not (setups and words in ROUTER_CAUTIONS)]
        yield from cautions_block(more, width) if more else ()
        yield from (replace(block, keeps_next=True) for block in paragraph(GUIDED, width))
    for number, cut in enumerate(cuts, start=1):
        title, parts = f"{number}. {capital(cut.cut)}", (f"{cut.words}.",)
        yield operation_block(title, cut.figures(figures), parts, draw_guided_cut(cut), width)
        yield Block(GAP_MM, ())


def fastener_blocks(setups: Sequence[FastenerSetup], figures: Figures, width: float) -> Iterator[Block]:
    """A page for what is bored and slotted for fasteners; nothing without any."""
    if not setups:
        return
    yield replace(heading(f"Set-up: {small(DRILLING_TITLE)}", width), starts_page=True)
    yield from cautions_block(BORE_CAUTIONS, width)
    yield from (replace(block, keeps_next=True) for block in paragraph(DRILLING, width))
    for number, setup in enumerate(setups, start=1):
        said = [*([f"{capital(setup.words)}."] if setup.words else []), f"{setup.parts}."]
        yield operation_block(f"{number}. {capital(setup.title)}", list(setup.figures(figures)), said, (), width)
        yield Block(GAP_MM, ())


def mortise_blocks(cuts: Sequence[GuidedCut], figures: Figures, width: float) -> Iterator[Block]:
    """The mortises of face frames, on a page of their own; nothing without any."""
    if cuts:
        yield replace(heading(f"Set-up: {small(MORTISES_TITLE)}", width), starts_page=True)
        yield from cautions_block(MORTISE_CAUTIONS, width)
        yield from (replace(block, keeps_next=True) for block in paragraph(MORTISES, width))
    for number, group in enumerate(mortise_operations(cuts), start=1):
        title = f"{number}. Guide on the front face"
        operation = operation_block(title, mortise_figures(group[0], figures), (), draw_guided_cut(group[0]), width)
        yield replace(operation, keeps_next=True)
        rows = [figure_row([row], width, LEFT_MM) for row in mortise_rows(group, figures)]
        yield from kept_rows(rows, operation_title(f"{title}, continued", width))
        yield Block(GAP_MM, ())


def by_hand_blocks(by_hand: Sequence[str], width: float) -> Iterator[Block]:
    """What is done by hand after the machines; nothing where nothing is."""
    if by_hand:
        yield from section_blocks(BY_HAND_TITLE, BY_HAND, by_hand, width)


def section_blocks(title: str, words: str, rows: Sequence[str], width: float) -> Iterator[Block]:
    """A sort of work: how it is done, and which parts have it."""
    yield heading(title, width)
    yield from paragraph(words, width)
    for row in rows:
        yield from paragraph(row, width, indent_mm=6.0, sign="•")
