"""Reading what closes a cabinet's openings, and the moisture that solid wood is made and lives at."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from storystick.errors import Fault, as_written
from storystick.job.cabinet import Cut, Fit, FrontKind, FrontRule, SolidWood
from storystick.job.cabinet_parts import need_stock
from storystick.job.model import Stock
from storystick.job.openings import Scope
from storystick.job.tables import NAME, Kind, Table, choice, distance, plain_number
from storystick.lengths import INCH_MM, Figures

GAP_GRADES: Final[Mapping[str, Fraction]] = {
    "premium": INCH_MM / 32,
    "custom": INCH_MM / 16,
    "economy": INCH_MM * 3 / 32,
}
"""Reveals in mm by the gap grades of architectural woodwork (shared/gap_grades.toml)."""

FRONT_KIND: Final = choice(
    {"drawer": FrontKind.DRAWER, "door": FrontKind.DOOR, "pair": FrontKind.PAIR, "none": FrontKind.NONE}
)
_MOST_MOISTURE: Final = 30


def read_fronts(value: object, scope: Scope, usual: Stock | None) -> FrontRule:
    """The fronts; ``usual`` is their stock where they name none."""
    table = Table(value, form='{ kind = "inset", reveal = … } or { kind = "overlay", overlay = … }')
    fit = table.need("kind", choice({fit.value: fit for fit in Fit}))
    fronts = FrontRule(
        fit=fit,
        stock=need_stock(table, scope, usual),
        reveal=_read_reveal(table, scope),
        overlay=_read_overlay(table, fit, scope),
        kind=table.get("front", FRONT_KIND, FrontKind.DRAWER),
        wood=table.get("wood", lambda value: _read_wood(value, scope), None),
    )
    table.close()
    _check_least(fronts, scope)
    return fronts


def _check_least(fronts: FrontRule, scope: Scope) -> None:
    least = fronts.wood.least_reveal if fronts.wood else None
    if least is None:
        return
    if fronts.fit is Fit.OVERLAY:
        raise Fault("least_reveal is given to overlay fronts", "leave it out", "wood, least_reveal")
    if least > fronts.reveal:
        figures = Figures.usual(scope.units)
        what = f"{figures(least)} is more than the reveal of {figures(fronts.reveal)}"
        raise Fault(what, f"make it {figures.at_most(fronts.reveal)} or less", "wood, least_reveal")


def _read_reveal(table: Table, scope: Scope) -> Fraction:
    """The reveal as given, or that of the grade."""
    if table.has("reveal") and table.has("grade"):
        table.fault("reveal stands beside grade", "give one of them")
    by_grade = table.get("grade", choice(GAP_GRADES), GAP_GRADES["custom"])
    return table.get("reveal", distance(scope.units), by_grade)


def _read_overlay(table: Table, fit: Fit, scope: Scope) -> Fraction:
    if fit is Fit.OVERLAY:
        return table.need("overlay", distance(scope.units), "how far a front lies over each edge of its opening")
    if table.has("overlay") and table.has("kind") and table["kind"] == Fit.INSET.value:
        table.fault("overlay is given to inset fronts", 'leave it out, or write kind = "overlay"')
    return Fraction(0)


def _read_wood(value: object, scope: Scope) -> SolidWood:
    form = '{ species = "…", cut = "flat" or "quarter", made_at = …, driest = …, dampest = … }'
    table = Table(value, form=form)
    percent = Kind(_read_percent, Fraction(8), "…", "a moisture content in per cent")
    wood = SolidWood(
        species=table.need("species", Kind(NAME, "", '"…"', "a wood by its name in the table of movements")),
        cut=table.need("cut", choice({cut.value: cut for cut in Cut})),
        made_at=table.need("made_at", percent),
        driest=table.need("driest", percent),
        dampest=table.need("dampest", percent),
        least_reveal=table.get("least_reveal", distance(scope.units), None),
    )
    table.close()
    if not wood.driest <= wood.made_at <= wood.dampest:
        figures = ", ".join(f"{key} {as_written(table[key])}" for key in ("driest", "made_at", "dampest"))
        raise Fault(f"the moisture contents do not rise: {figures}", "let made_at lie between driest and dampest")
    return wood


def _read_percent(value: object) -> Fraction:
    """A moisture content in per cent."""
    content = plain_number(value)
    if content is None or content > _MOST_MOISTURE:
        what = f"{as_written(value)} is not a moisture content from 0 to {_MOST_MOISTURE} per cent"
        raise Fault(what, "write it like 8 or 8.5, without a sign")
    return content
