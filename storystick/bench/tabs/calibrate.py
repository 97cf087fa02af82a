"""Measuring a printer from the page: its test sheet, what was read on it, and the correction kept in the shop file."""

from __future__ import annotations

from datetime import date
from typing import Final

from flask import Blueprint, Response, render_template, request

from storystick.bench.asked import refuse
from storystick.bench.guard import PDF_POLICY
from storystick.bench.state import the_bench
from storystick.calibrating import Asked, Measured, fitted_words, keys_of, read_measured, reading_words
from storystick.calibration import store_printer, units_of_paper
from storystick.errors import StorystickError
from storystick.job.papers import PAPERS
from storystick.job.sources import SHOP_FILE
from storystick.sheets.calibration import CalibrationSheet, calibration_document, calibration_sheet
from storystick.sheets.print_choices import CALIBRATION_FILE
from storystick.writers import writer_for

routes: Final = Blueprint("calibrating", __name__, url_prefix="/calibrate")

_ASKED: Final = Asked("the printer's name", "read to", "along", "across")


def _sheet(name: str) -> CalibrationSheet:
    if name not in PAPERS:
        refuse()
    return calibration_sheet(PAPERS[name], units_of_paper(PAPERS[name]))


@routes.get("/sheet/<paper>")
def sheet(paper: str) -> Response:
    """The test sheet of a paper, to be printed at 100 %; nothing is written for it."""
    response = Response(writer_for(".pdf")(calibration_document(_sheet(paper), "")), mimetype="application/pdf")
    response.headers["Content-Disposition"] = f"inline; filename={CALIBRATION_FILE}"
    response.headers["Content-Security-Policy"] = PDF_POLICY
    return response


@routes.post("/read")
def read() -> str:
    """The correction that the readings give, in words; kept in the folder's shop file where that is asked for."""
    form, paper = request.form, _sheet(request.form.get("rule_paper", ""))
    printer, along_text, across_text = (
        form.get(name, "").strip() for name in ("rule_printer", "rule_along", "rule_across")
    )
    measured = Measured(printer, along_text, across_text, form.get("rule_read_to", "").strip() or None, date.today())
    try:
        name, along, across = read_measured(measured, paper, _ASKED)
        keys = keys_of(measured, along, across, paper)
        if kept := "keep" in form:
            store_printer(the_bench().folder.path / SHOP_FILE, name, keys, paper.units)
    except StorystickError as error:
        path = f"{the_bench().folder.path}/"
        return render_template("tabs/calibrated.html", faults=[str(fault).replace(path, "") for fault in error.faults])
    words = [
        line.strip()
        for way, own in (("along", along), ("across", across))
        for line in reading_words(way, own, keys[way], paper)
    ]
    return render_template(
        "tabs/calibrated.html",
        words=words,
        look=fitted_words(along, across, paper),
        kept=kept,
        name=name,
        shop=SHOP_FILE,
    )
