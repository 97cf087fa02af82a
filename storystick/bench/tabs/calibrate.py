"""Measuring a printer from the page: its test sheet, what was read on it, and the correction kept in the shop file."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Final

from flask import Blueprint, Response, render_template, request

from storystick.bench.asked import posted_text, refuse
from storystick.bench.draft import Draft, read_draft
from storystick.bench.guard import PDF_POLICY
from storystick.bench.state import the_bench
from storystick.bench_sheet.content import picture_of
from storystick.calibrating import Asked, Measured, fitted_words, keys_of, read_measured, reading_words
from storystick.calibration import RuleReading, store_printer, units_of_paper
from storystick.drawing.rule_picture import Rule, draw_rules
from storystick.errors import Fault, StorystickError
from storystick.job.papers import PAPERS
from storystick.job.sources import SHOP_FILE
from storystick.sheets.calibration import CalibrationSheet, as_argument, calibration_document, calibration_sheet
from storystick.sheets.print_choices import CALIBRATION_FILE
from storystick.writers import writer_for

routes: Final = Blueprint("calibrating", __name__)

_ASKED: Final = Asked("the printer's name", "read to", "along", "across")


def _sheet(name: str) -> CalibrationSheet:
    if name not in PAPERS:
        refuse()
    return calibration_sheet(PAPERS[name], units_of_paper(PAPERS[name]))


@routes.get("/calibrate/sheet/<paper>")
def sheet(paper: str) -> Response:
    """The test sheet of a paper, to be printed at 100 %; nothing is written for it."""
    response = Response(writer_for(".pdf")(calibration_document(_sheet(paper), "")), mimetype="application/pdf")
    response.headers["Content-Disposition"] = f"inline; filename={CALIBRATION_FILE}"
    response.headers["Content-Security-Policy"] = PDF_POLICY
    return response


@routes.post("/job/<name>/calibrate")
def read(name: str) -> str:
    """The correction that the readings give, drawn and in words; kept in the shop file where that is asked for."""
    form, paper = request.form, _sheet(request.form.get("rule_paper", ""))
    typed = {of: form.get(f"rule_{of}", "").strip() for of in ("printer", "along", "across", "read_to")}
    measured = Measured(typed["printer"], typed["along"], typed["across"], typed["read_to"] or None, date.today())
    shop = _shop_of(read_draft(the_bench(), name, posted_text()))
    try:
        printer, along, across = read_measured(measured, paper, _ASKED)
        keys = keys_of(measured, along, across, paper)
        if kept := "keep" in form and bool(shop):
            store_printer(_place_of(shop), printer, keys, paper.units)
    except StorystickError as error:
        return render_template("tabs/calibrated.html", faults=[_told(fault) for fault in error.faults])
    ways = (("along", along), ("across", across))
    drawn = draw_rules([_rule(f"{way} the feed", own, paper) for way, own in ways])
    return render_template(
        "tabs/calibrated.html",
        words=[line.strip() for way, own in ways for line in reading_words(way, own, keys[way], paper)],
        picture=picture_of(drawn.shapes, "Both rules, as drawn and as they came out"),
        times=drawn.times,
        look=fitted_words(along, across, paper),
        kept=kept,
        name=printer,
        shop=shop,
        command=_command(typed | {"paper": paper.paper.name}),
    )


def _told(fault: Fault) -> str:
    """A fault without the place on this machine."""
    path = the_bench().folder.path
    words = str(fault).replace(f"{path}{os.sep}", "")
    return words.replace(str(path), "the folder") if path.is_absolute() else words


def _rule(name: str, reading: RuleReading, sheet: CalibrationSheet) -> Rule:
    lengths = (reading.nominal, reading.measured)
    return Rule(name, *lengths, *map(sheet.figure, lengths))


def _shop_of(draft: Draft) -> str:
    """The shop file that the job has, or would have; empty where that lies outside of the folder."""
    shop = draft.layout.job.shop if draft.layout else None
    if shop is None or shop.source is None:
        return SHOP_FILE if draft.name != SHOP_FILE else ""
    return shop.source.name if the_bench().folder.beside(shop.source.name) == shop.source.data else ""


def _place_of(shop: str) -> Path:
    """Where a shop file is or will be; not where a link leads."""
    folder = the_bench().folder
    return folder.place(shop) if shop in folder.taken() else folder.path / shop


def _command(typed: Mapping[str, str]) -> str:
    """The same for a terminal."""
    options = (f"--{of.replace('_', '-')} {as_argument(value)}" for of, value in typed.items() if value)
    return f"storystick calibrate {' '.join(options)}"
