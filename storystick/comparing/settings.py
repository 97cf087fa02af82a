"""Which set-ups of a shop's tools change between two layouts, each by what it is for and how it is set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from storystick.comparing.pairing import Pair, paired
from storystick.layout.stations import Layout
from storystick.lengths import Figures, Label, write_exact
from storystick.tooling.settings import bar_rows, router_figures, saw_figures, settings_of, straightedge_row


@dataclass(frozen=True, slots=True)
class Setting:
    """One set-up: at which machine, ``of`` what, how it is set in ``words``, and the same ``exact``."""

    machine: str
    of: str
    words: str
    exact: str


@dataclass(frozen=True, slots=True)
class SettingChange(Pair[Setting]):
    """A set-up before and after."""


def setting_changes(old: Layout, new: Layout) -> tuple[SettingChange, ...]:
    """Every set-up that is not as it was."""
    pairs = paired(
        list(_settings(old, new.job.figures)),
        list(_settings(new, new.job.figures)),
        lambda setting: (setting.machine, setting.of, setting.exact),
        lambda setting: (setting.machine, setting.of),
    )
    return tuple(SettingChange(was, now) for was, now in pairs if was is None or now is None or was.exact != now.exact)


def _settings(layout: Layout, figures: Figures) -> Iterator[Setting]:
    if layout.job.shop is None:
        return
    settings = settings_of(layout)

    def exact(length: Fraction) -> str:
        return write_exact(length, figures.units)

    labels: tuple[Label, Label] = (figures, exact)
    for short, full in zip(*(bar_rows(settings.bars, label) for label in labels), strict=True):
        yield Setting("bar", short[0], ", ".join(short[1:]), repr(full))
    for groove in settings.grooves:
        (of, at), (_, exactly) = (straightedge_row(groove, label) for label in labels)
        words, whole = (list(router_figures(groove, label)) for label in labels)
        yield Setting("router", of, "; ".join((f"at {at}", *words)), repr((exactly, whole)))
    for cut in settings.saw:
        words, whole = (list(saw_figures(cut, label)) for label in labels)
        of = ", ".join(filter(None, (f"{cut.part}: {cut.work}", cut.step)))
        yield Setting("saw", of, "; ".join(words), repr(whole))
    for machine, cuts in (("router along an edge", settings.guided), ("mortises", settings.mortises)):
        for guided in cuts:
            said = "; ".join(guided.figures(figures))
            yield Setting(machine, guided.title, said, said)
    for bored in settings.fasteners:
        said = "; ".join(bored.figures(figures))
        yield Setting("drill", f"{bored.title}: {bored.parts}", said, said)
