"""The correction of a printer from what was typed of its test sheet: read, told in words, and as a shop file's keys."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from storystick.calibration import (
    RuleReading,
    check_readings,
    factor_text,
    is_exact,
    likely_cause,
    looks_fitted,
    within_text,
)
from storystick.drawing.lettering import check_letters
from storystick.errors import FaultCollector, Where
from storystick.job.kinds import read_name
from storystick.job.shop import RULE_READ_TO
from storystick.lengths import read_size
from storystick.sheets.calibration import CalibrationSheet
from storystick.sheets.pages.trust import upward_percent


@dataclass(frozen=True, slots=True)
class Measured:
    """What was typed of a printed test sheet."""

    printer: str
    along: str
    across: str
    read_to: str | None
    day: date


class Asked(NamedTuple):
    """What each was asked for as, by which its faults are told."""

    printer: str = "--printer"
    read_to: str = "--read-to"
    along: str = "--along"
    across: str = "--across"


def read_measured(
    measured: Measured, sheet: CalibrationSheet, asked: Asked | None = None
) -> tuple[str, RuleReading, RuleReading]:
    """The printer's name and both readings.

    Raises:
        Faults: everything that is at fault in them, all at once.
    """
    asked = asked or Asked()
    faults = FaultCollector()
    name, read_to, readings = "", RULE_READ_TO[sheet.units], {}
    with faults.at(Where(asked.printer)):
        name = read_printable(measured.printer)
    with faults.at(Where(asked.read_to)):
        read_to = read_size(measured.read_to, sheet.units) if measured.read_to is not None else read_to
    typed = ((asked.along, sheet.along, measured.along), (asked.across, sheet.across, measured.across))
    for place, nominal, text in typed:
        with faults.at(Where(place)):
            readings[place] = RuleReading(nominal, read_size(text, sheet.units), read_to)
    with faults.at():
        check_readings(readings, sheet.units, sheet.paper)
    faults.raise_any()
    return name, readings[asked.along], readings[asked.across]


def read_printable(name: str) -> str:
    """A printer's name, which stands on every sheet."""
    read = read_name(name)
    check_letters(read)
    return read


def keys_of(measured: Measured, along: RuleReading, across: RuleReading, sheet: CalibrationSheet) -> dict[str, str]:
    """What the shop file says of the printer."""
    return {
        "along": factor_text(along.factor),
        "across": factor_text(across.factor),
        "along_within": within_text(along.within),
        "across_within": within_text(across.within),
        "paper": sheet.paper.name,
        "date": measured.day.isoformat(),
    }


def reading_words(way: str, reading: RuleReading, stored: str, sheet: CalibrationSheet) -> Iterator[str]:
    """What a reading comes to, line by line."""
    percent, within = float(reading.factor * 100), upward_percent(reading.within)
    exactly = stored if is_exact(stored, reading.factor) else f"{stored}, the nearest that a shop file holds"
    lengths = f"{sheet.figure(reading.measured)} for {sheet.figure(reading.nominal)}"
    yield f"{way}: {lengths}, so everything is drawn {percent:.3f} % ({exactly}), right within {within}"
    if reading.is_true:
        yield f"   That is less than could be read: the printer is true {way}, as far as this tells."
    if reading.is_between:
        division = sheet.figure(reading.read_to)
        yield f"   It lies between divisions of {division}; it is taken as it is, no surer than a division."


def fitted_words(along: RuleReading, across: RuleReading, sheet: CalibrationSheet) -> str:
    """What to look at where the sheet seems to have been printed with fit-to-page; empty where it does not."""
    if not looks_fitted(along, across):
        return ""
    cause = likely_cause(along.scale, sheet.paper)
    return (
        "look: both directions are out alike, and by more than a printer usually is, as with fit-to-page"
        f"{f' ({cause})' if cause else ''}. If it was on, print the sheet again at 100 % and measure that."
    )
