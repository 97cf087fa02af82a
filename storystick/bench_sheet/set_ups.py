"""The set-ups on a bench sheet: a group a machine, in working order, each operation with a box to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from storystick.bench_sheet.content import Figure, Group, Picture, Row, Section, picture_of
from storystick.drawing.cut_pictures import draw_cut, draw_guided_cut, draw_router_cut
from storystick.layout.stations import Layout
from storystick.lengths import Figures
from storystick.sheets.pages.setups import PLACES
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
    BAR_HEADINGS,
    BARS_TITLE,
    BARS_WORDS,
    GROOVES_TITLE,
    GROOVES_WORDS,
    SAW_TITLE,
    SAW_WORDS,
    Settings,
    bar_rows,
    bar_words,
    groove_warnings,
    router_figures,
    router_operations,
    saw_choices,
    saw_figures,
    saw_words,
    settings_of,
    straightedge_rows,
)
from storystick.tooling.setups import GrooveSetup, SawCut
from storystick.wording import capital

_WORDS_OF_BAR = 4
_SECTION = "The cut in section, with cutter and part"


def set_ups(layout: Layout) -> Section:
    """All settings of a job's tools; no group where there is work for none."""
    settings = settings_of(layout)
    groups = tuple(_groups(settings, layout)) if settings.has_any else ()
    return Section("set-ups", "Set-ups", groups)


def _groups(settings: Settings, layout: Layout) -> Iterator[Group]:
    job, figures = layout.job, layout.job.figures
    grooves, saw = settings.grooves_by_bar, settings.saw
    if settings.bars and grooves:
        rows = tuple(map(_bar, bar_rows(settings.bars, figures)))
        yield Group(BARS_TITLE, rows, (BARS_WORDS,), warnings=settings.findings)
    if grooves:
        rows = _numbered([_grooves(group, figures) for group in router_operations(grooves)])
        warnings = tuple(groove_warnings(grooves))
        yield Group(GROOVES_TITLE, rows, (GROOVES_WORDS, PLACES), ROUTER_CAUTIONS, warnings)
    if settings.guided:
        rows = _numbered([_guided(cut, figures) for cut in settings.guided])
        yield Group(GUIDED_TITLE, rows, (GUIDED,), GUIDED_CAUTIONS)
    if settings.mortises:
        rows = _numbered([_mortises(group, figures) for group in mortise_operations(settings.mortises)])
        yield Group(MORTISES_TITLE, rows, (MORTISES,), MORTISE_CAUTIONS)
    if saw or settings.saw_findings:
        rows = _numbered([_sawn(cut, words, figures) for cut, words in zip(saw, saw_words(saw), strict=True)])
        words = (SAW_WORDS, *saw_choices(saw, job.shop))
        yield Group(SAW_TITLE, rows, words, SAW_CAUTIONS, settings.saw_findings)
    if settings.by_hand:
        yield _by_hand(BY_HAND_TITLE, BY_HAND, settings.by_hand)
    for section in settings.sections:
        yield _by_hand(section.title, section.words, section.rows)
    if settings.fasteners:
        rows = _numbered([_fastened(setup, figures) for setup in settings.fasteners])
        yield Group(DRILLING_TITLE, rows, (DRILLING,), BORE_CAUTIONS)


def _numbered(rows: Sequence[Row]) -> tuple[Row, ...]:
    """With the number of each operation before its name."""
    return tuple(replace(row, kind=f"{number}.") for number, row in enumerate(rows, start=1))


def _said(labels: Sequence[str]) -> tuple[Figure, ...]:
    """Figures that say themselves what they are."""
    return tuple(Figure("", label) for label in labels)


def _bar(cells: Sequence[str]) -> Row:
    """A bar: its name, router, edge and bit in words, and how wide it is."""
    words = zip(BAR_HEADINGS[1:_WORDS_OF_BAR], cells[1:_WORDS_OF_BAR], strict=True)
    figures = zip(BAR_HEADINGS[_WORDS_OF_BAR:], cells[_WORDS_OF_BAR:], strict=True)
    said = "; ".join(" ".join(pair) for pair in words if pair[1])
    return Row(f"{BAR_HEADINGS[0]} {cells[0]}", tuple(Figure(*pair) for pair in figures if pair[1]), (said,))


def _grooves(group: Sequence[GrooveSetup], figures: Figures) -> Row:
    places = (Row(name, _said([place])) for name, place in straightedge_rows(group, figures))
    said, picture = _said([*router_figures(group[0], figures)]), _cut_at_router(group[0])
    return Row(bar_words(group[0].bar), said, rows=tuple(places), picture=picture)


def _cut_at_router(setup: GrooveSetup) -> Picture | None:
    return picture_of(draw_router_cut(setup), _SECTION) if setup.bar else None


def _guided(cut: GuidedCut, figures: Figures) -> Row:
    picture = picture_of(draw_guided_cut(cut), _SECTION)
    return Row(capital(cut.cut), _said(cut.figures(figures)), (f"{cut.words}.",), picture=picture)


def _mortises(group: Sequence[GuidedCut], figures: Figures) -> Row:
    places = (Row(name, _said([place])) for name, place in mortise_rows(group, figures))
    said, picture = _said(mortise_figures(group[0], figures)), picture_of(draw_guided_cut(group[0]), _SECTION)
    return Row("Guide on the front face", said, rows=tuple(places), picture=picture)


def _sawn(cut: SawCut, words: Sequence[str], figures: Figures) -> Row:
    said, picture = _said([*saw_figures(cut, figures)]), picture_of(draw_cut(cut), _SECTION)
    return Row(f"{capital(cut.cut)}: {cut.part}", said, tuple(words), picture=picture)


def _by_hand(title: str, words: str, rows: Sequence[str]) -> Group:
    return Group(title, tuple(map(Row, rows)), (words,))


def _fastened(setup: FastenerSetup, figures: Figures) -> Row:
    words = (*([f"{capital(setup.words)}."] if setup.words else []), f"{setup.parts}.")
    return Row(capital(setup.title), _said([*setup.figures(figures)]), words)
