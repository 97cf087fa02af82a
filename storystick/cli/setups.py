"""storystick setups: spacer bars, straightedge lines, shims, and saw settings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import click

from storystick.cli.listing import Format, Listing, echo_heading, echo_sentences, echo_table, echo_words, head_of, twins
from storystick.cli.options import format_option, job_argument, load_job, shop_option
from storystick.job.job import Job
from storystick.lengths import Figures, Units, write_exact
from storystick.tooling.cautions import ROUTER_CAUTIONS, SAW_CAUTIONS
from storystick.tooling.drilling import (
    BORE_CAUTIONS,
    DRILLING,
    DRILLING_TITLE,
    FastenerSetup,
    fastener_setup_rows,
)
from storystick.tooling.guided import (
    BY_HAND,
    BY_HAND_TITLE,
    GUIDED,
    GUIDED_CAUTIONS,
    GUIDED_TITLE,
    GuidedCut,
    guided_rows,
)
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
    NO_SET_UP,
    NO_SHOP,
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
    straightedge_row,
)
from storystick.tooling.setups import Bar, GrooveSetup, SawCut
from storystick.wording import capital

_BELOW = " " * 5


@click.command()
@job_argument
@shop_option
@format_option
def command(job: Path, shop: Path | None, shape: Format) -> None:
    """List how the tools are set: bars, straightedges, shims, the saw.

    Text is in working order and rounded for reading, with "full" or "scant" where it is not exact; JSON and CSV are
    exact.

    Example: storystick setups chest.toml --shop shop.toml
    """
    layout = load_job(job, shop)
    _Setups(layout.job, settings_of(layout)).show(shape, layout.job.units)


@dataclass(frozen=True)
class _Setups(Listing):
    job: Job
    settings: Settings
    headings = ("setting",)

    def text(self) -> None:
        echo_heading(self.job)
        echo_sentences([] if self.job.shop else [NO_SHOP])
        settings, figures = self.settings, self.job.figures
        if settings.bars:
            _echo_part(BARS_TITLE, BARS_WORDS)
            echo_table(BAR_HEADINGS, bar_rows(settings.bars, figures), right=3)
        echo_sentences(settings.findings)
        if settings.grooves:
            _echo_part(GROOVES_TITLE, GROOVES_WORDS, ROUTER_CAUTIONS)
            _echo_router(settings.grooves_by_bar, figures)
            echo_sentences(f"! {warning}" for warning in groove_warnings(settings.grooves_by_bar))
        if settings.guided:
            _echo_part(GUIDED_TITLE, " ".join((GUIDED, *([] if settings.grooves else GUIDED_CAUTIONS))))
            echo_sentences(guided_rows(settings.guided, figures))
        if settings.mortises:
            _echo_part(MORTISES_TITLE, MORTISES, MORTISE_CAUTIONS)
            _echo_mortises(settings.mortises, figures)
        if settings.saw or settings.saw_findings:
            words = " ".join((SAW_WORDS, *saw_choices(settings.saw, self.job.shop)))
            _echo_part(SAW_TITLE, words, SAW_CAUTIONS)
            _echo_saw(settings.saw, figures)
        echo_sentences(f"! {finding}" for finding in settings.saw_findings)
        if settings.by_hand:
            _echo_part(BY_HAND_TITLE, BY_HAND)
            echo_sentences(settings.by_hand, "  ")
        for section in settings.sections:
            _echo_part(section.title, section.words)
            echo_sentences(section.rows, "  ")
        if settings.fasteners:
            _echo_part(DRILLING_TITLE, DRILLING, BORE_CAUTIONS)
            echo_sentences(fastener_setup_rows(settings.fasteners, figures), "  ")
        if not settings.has_any:
            click.echo(f"\n{NO_SET_UP}")

    @property
    def _records(self) -> tuple[list[dict[str, object]], ...]:
        """Bars, grooves, and cuts at the saw."""
        settings, units = self.settings, self.job.units
        return (
            [_bar_record(bar, units) for bar in settings.bars],
            [*_router_records(settings, units)],
            [_saw_record(cut, units) for cut in settings.saw],
        )

    def content(self) -> dict[str, object]:
        return head_of(self.job) | {
            **dict(zip(("bars", "grooves", "saw"), self._records, strict=True)),
            "findings": [*self.settings.findings, *self.settings.saw_findings],
            "by_hand": [*self.settings.by_hand, *(row for part in self.settings.sections for row in part.rows)],
            "fasteners": [_fastener_record(setup, self.job.units) for setup in self.settings.fasteners],
        }

    def rows(self) -> Iterator[dict[str, object]]:
        """One table for all kinds of setting."""
        for kind, records in zip(("bar", "groove", "saw"), self._records, strict=True):
            yield from ({"setting": kind, **record} for record in records)


def _echo_router(setups: Sequence[GrooveSetup], figures: Figures) -> None:
    """What is cut at the same settings together, with the straightedge's place for each from the datum of its stick."""
    for number, group in enumerate(router_operations(setups), start=1):
        bar = group[0].bar
        echo_words("; ".join((f"{number}. {bar_words(bar)}", *router_figures(group[0], figures))), "  ", _BELOW)
        heading = _below("straightedge, from the datum of each stick" if bar else "from the datum of each stick", "")
        echo_table(heading, [_below(*straightedge_row(each, figures)) for each in group], 1)


def _echo_mortises(cuts: Sequence[GuidedCut], figures: Figures) -> None:
    """Those that are cut at the same settings together, with their ends from the end of each member."""
    for number, group in enumerate(mortise_operations(cuts), start=1):
        echo_words("; ".join((f"{number}. Front face", *mortise_figures(group[0], figures))), "  ", _BELOW)
        heading = _below("from the lower or left end of each", "")
        echo_table(heading, [_below(*row) for row in mortise_rows(group, figures)], 1)


def _below(name: str, figure: str) -> tuple[str, str]:
    return f"{_BELOW}{name}", figure


def _echo_saw(cuts: Sequence[SawCut], figures: Figures) -> None:
    for number, (cut, words) in enumerate(zip(cuts, saw_words(cuts), strict=True), start=1):
        echo_words(f"{number}. {capital(cut.cut)}: {cut.part}", "  ", _BELOW)
        for line in ("; ".join(saw_figures(cut, figures)), *words):
            echo_words(line, _BELOW, _BELOW)


def _echo_part(title: str, words: str = "", cautions: Iterable[str] = ()) -> None:
    click.echo(f"\n{title}")
    if words:
        echo_words(words)
    echo_sentences(f"! {caution}" for caution in cautions)


def _bar_record(bar: Bar, units: Units) -> dict[str, object]:
    return {
        "name": bar.name,
        "router": bar.router,
        "edge": bar.edge,
        "bit": bar.bit,
        **twins(units, near=bar.near, far=bar.far, measured=bar.measured),
    }


def _router_records(settings: Settings, units: Units) -> Iterator[dict[str, object]]:
    """Grooves across boards, and those along parts that stop, each part for itself."""
    for setup in settings.grooves:
        yield _groove_record(setup, units)
    for cut in (*settings.guided, *settings.mortises):
        yield from (_guided_record(part, cut, units) for part in cut.parts)


def _guided_record(part: str, cut: GuidedCut, units: Units) -> dict[str, object]:
    """A cut along a part that stops: its edges lie across the part, and it runs along it."""
    return {
        "stick": part,
        "name": cut.name,
        **twins(
            units, start=cut.start, end=cut.end, **{"from": cut.low}, to=cut.high, width=cut.width, depth=cut.depth
        ),
        "router": None,
        "bit": cut.bit.name if cut.bit else None,
        "bar": None,
        "side": None,
        **twins(units, straightedge=None),
        "cut": cut.cut,
        "guide": cut.against,
        **_listed_twins("guide_settings", cut.settings, units),
        "passes": len(cut.settings),
        **_listed_twins("shims", (), units),
        **_listed_twins("depths", cut.depths, units),
        "warnings": [],
    }


def _groove_record(setup: GrooveSetup, units: Units) -> dict[str, object]:
    low, high = setup.stopped or (None, None)
    return {
        "stick": setup.stick,
        "name": setup.name,
        **twins(
            units, start=setup.start, end=setup.end, **{"from": low}, to=high, width=setup.width, depth=setup.depth
        ),
        "router": setup.bar.router if setup.bar else None,
        "bit": setup.bar.bit if setup.bar else None,
        "bar": setup.bar.name if setup.bar else None,
        "side": setup.side.value if setup.side else None,
        **twins(units, straightedge=setup.straightedge),
        "passes": len(setup.shims),
        **_listed_twins("shims", setup.shims, units),
        **_listed_twins("depths", setup.depths, units),
        "warnings": list(setup.warnings),
    }


def _saw_record(cut: SawCut, units: Units) -> dict[str, object]:
    return {
        "part": cut.part,
        "cut": cut.cut,
        "saw": cut.saw,
        **twins(units, height=cut.height, fence_near=cut.fence_near, fence_far=cut.fence_far),
        "passes": cut.passes,
        "posture": cut.posture.value,
        "down": cut.down,
        "against": cut.against,
        "check": cut.check,
        "caution": cut.caution,
        "why_this_saw": cut.why,
    }


def _fastener_record(setup: FastenerSetup, units: Units) -> dict[str, object]:
    """Holes and slots by their size along and across the joint's line; nothing where the tool's manual governs."""
    bore = setup.bore
    return {
        "tool": setup.tool.value,
        "name": setup.name,
        "size": setup.sizes,
        "where": setup.where,
        "parts": [piece.full_name for piece in setup.pieces],
        **twins(
            units,
            along=bore.along if bore else None,
            across=bore.across if bore else None,
            depth=bore.depth if bore else None,
            centre=setup.centre,
            thickness=setup.thick,
        ),
        "through": setup.through,
    }


def _listed_twins(key: str, lengths: Sequence[Fraction], units: Units) -> dict[str, object]:
    return {key: [write_exact(length, units) for length in lengths], f"{key}_mm": list(map(float, lengths))}
