"""What a printer's test sheet measured, and the correction that follows from it. Lengths are exact, in mm.

A correction is as sure as the division that was read: half a division at each end, so read_to / measured is the share
of a length that can still be out. Amounts are always rounded up.
"""

from __future__ import annotations

import os
from codecs import BOM_UTF8
from collections.abc import Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import Any, Final

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import InlineTable, Table

from storystick.errors import Fault, FaultCollector, Faults, StorystickError, Where, placed_in
from storystick.files import write_files
from storystick.job.kinds import plain_number
from storystick.job.papers import PAPERS, Paper
from storystick.job.shop import MOST_CORRECTION, Printer, Shop, read_shop
from storystick.job.sources import Source, check_ending, load_source, read_tables, read_text
from storystick.lengths import INCH_MM, Units, write_exact, write_figure

_FULLER: Final = Fraction(1, 100)
"""A printer itself is seldom farther out than this both ways alike: common practice, no source."""

_NEAR: Final = Fraction(1, 100)
_UNIT_TOLD: Final = Fraction(15, 100)
"""A number that is so near the rule's length in another unit was meant in that: units are farther apart than twice."""

_PLACES: Final = 10**9
_TYPED: Final = {"mm": Fraction(1), "cm": Fraction(10), "in": INCH_MM}


@dataclass(frozen=True, slots=True)
class RuleReading:
    """A rule of the test sheet: its ``nominal`` length, what was ``measured``, and the division that was read to."""

    nominal: Fraction
    measured: Fraction
    read_to: Fraction

    @property
    def factor(self) -> Fraction:
        """What a length must be drawn times to come out true."""
        return self.nominal / self.measured

    @property
    def scale(self) -> Fraction:
        """How many times as long as drawn a length came out."""
        return self.measured / self.nominal

    @property
    def within(self) -> Fraction:
        """The share of a length that may still be wrong: half a division at each end of the rule, both the same way.

        Common practice, no source.
        """
        return self.read_to / self.measured

    @property
    def is_true(self) -> bool:
        """Whether the printer is true as far as could be read."""
        return abs(self.scale - 1) <= self.within

    @property
    def is_between(self) -> bool:
        """Whether it was read more finely than the rule is divided."""
        return (self.measured / self.read_to).denominator != 1


def units_of_paper(paper: Paper) -> Units:
    """What a named paper is measured in: inches where its sides are whole halves of one."""
    return Units.INCH if (paper.short_side * 2 / INCH_MM).denominator == 1 else Units.MM


def check_readings(readings: Mapping[str, RuleReading], units: Units, paper: Paper) -> None:
    """Whether a correction can come from the readings, each by the place where it was given.

    Raises:
        Faults: the unit is wrong, the sheet had been scaled, or it was read too coarsely to correct by.
    """
    if _are_swapped(tuple(readings.values())):
        raise Fault(
            "each length is near that of the other rule",
            "look which rule is ALONG and which ACROSS, and whether --paper says the paper of the sheet",
            Where(" and ".join(readings)),
        )
    faults = FaultCollector()
    for place, reading in readings.items():
        with faults.at(Where(place)):
            _check(reading, units, paper)
    faults.raise_any()


def _check(reading: RuleReading, units: Units, paper: Paper) -> None:
    if unit := _other_unit(reading, units):
        measured, nominal = (
            f"{write_figure(length, units)} {units.sign}" for length in (reading.measured, reading.nominal)
        )
        number = write_exact(reading.measured / units.in_mm, Units.MM)
        raise Fault(
            f"{measured} is far from the rule's {nominal}, and {number} {unit} would be near it",
            f'write it with its unit, as in "{number} {unit}"',
        )
    if abs(reading.factor - 1) > MOST_CORRECTION:
        raise Fault(_scaled_words(reading, units), _scaled_cure(reading, paper))
    if reading.within > MOST_CORRECTION:
        division = f"{write_figure(reading.read_to, units)} {units.sign}"
        what = f"a division of {division} is too coarse to correct a printer by"
        raise Fault(what, "measure with a steel rule of finer divisions, and give them with --read-to")


def _are_swapped(readings: Sequence[RuleReading]) -> bool:
    """Whether each of two readings is near the other's length, and not near its own."""
    if len(readings) != 2:
        return False
    one, other = readings
    crossed = (one.measured / other.nominal, other.measured / one.nominal)
    return all(map(_is_near, crossed)) and not any(_is_near(reading.scale) for reading in readings)


def _is_near(share: Fraction) -> bool:
    return abs(share - 1) <= MOST_CORRECTION


def looks_fitted(along: RuleReading, across: RuleReading) -> bool:
    """Whether both directions are out alike and by more than a printer itself usually is, as fit-to-page does."""
    alike = abs(along.scale - across.scale) <= along.within + across.within
    return alike and all(abs(reading.scale - 1) > _FULLER for reading in (along, across))


def factor_text(factor: Fraction) -> str:
    """The factor as a shop file can hold it: exactly where 9 digits over 9 are enough, else to 9 decimals."""
    return _fraction_text(factor) or _decimal_text(round(factor * _PLACES))


def within_text(share: Fraction) -> str:
    """A share as a shop file can hold it: exactly where that is short enough, else 9 decimals, never too little."""
    return _fraction_text(share) or _decimal_text(ceil(share * _PLACES))


def is_exact(text: str, value: Fraction) -> bool:
    """Whether the text of a shop file is the value itself."""
    return plain_number(text) == value


def _fraction_text(value: Fraction) -> str:
    text = str(value)
    return text if plain_number(text) == value else ""


def _decimal_text(billionths: int) -> str:
    return f"{billionths // _PLACES}.{billionths % _PLACES:09}"


def _other_unit(reading: RuleReading, units: Units) -> str:
    """The unit in which the number, taken by itself, would be near the rule's length; empty where none is."""
    number = reading.measured / units.in_mm
    own = [unit for unit, in_mm in _TYPED.items() if in_mm != units.in_mm]
    near = (unit for unit in own if abs(number * _TYPED[unit] / reading.nominal - 1) <= _UNIT_TOLD)
    return next(near, "")


def _scaled_words(reading: RuleReading, units: Units) -> str:
    measured, nominal = (write_figure(length, units) for length in (reading.measured, reading.nominal))
    percent = float(reading.scale * 100)
    return (
        f"{measured} {units.sign} on a rule of {nominal} {units.sign} is {percent:.1f} %, more than 3 % from true: "
        "the sheet was printed with fit-to-page, or scaled in another way"
    )


def _scaled_cure(reading: RuleReading, paper: Paper) -> str:
    cause = likely_cause(reading.scale, paper)
    cure = "print it again at 100 % or actual size, on the paper that it was made for, and measure that"
    return f"{cause}; {cure}" if cause else f"{cure}; measure from the middle of one end line to that of the other"


def likely_cause(scale: Fraction, paper: Paper) -> str:
    """Which setting of a print dialog gives this scale; empty where none is known.

    What shrinking to a printer's margins comes to is common practice, no source.
    """
    for other in PAPERS.values():
        fitted = min(other.long_side / paper.long_side, other.short_side / paper.short_side)
        if not paper.roll and other != paper and abs(scale - fitted) <= _NEAR:
            return f"{paper.name} that is fitted to {other.name} comes out at {float(fitted * 100):.1f} %"
    shrunk = Fraction(90, 100) <= scale < 1
    return "a sheet that is shrunk to a printer's margins comes out at 92 to 98 %" if shrunk else ""


_HEADER: Final = '# What the shop has, for every job: printers, routers, bits, bars and saws.\nunits = "{units}"\n'


def load_shop_file(path: Path) -> Source | None:
    """The shop file, None where there is none yet.

    Raises:
        Fault: it cannot be read, or its name is not that of a shop file.
    """
    with placed_in(Where.in_file(path.name or str(path))):
        check_ending(path.name)
        return load_source(path) if _is_there(path) else None


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError:
        raise Fault("the file cannot be reached", "look whether you may read its folder") from None


def units_of_shop(path: Path) -> Units:
    """The units of the shop file, inch where there is none.

    Raises:
        StorystickError: the file has faults.
    """
    source = load_shop_file(path)
    if source is None:
        return Units.INCH
    _read_sound(source)
    return Units(read_tables(source).get("units", Units.INCH.value))


def store_printer(path: Path, name: str, keys: Mapping[str, str], units: Units) -> None:
    """Write the ``keys`` of a printer into the shop file, in place of those that it has; a new file says its ``units``.

    Everything else stays as it is. Nothing is written unless the file then reads back as it should.

    Raises:
        StorystickError: the file has faults, cannot be written, or is laid out in a way that cannot be added to.
    """
    old = load_shop_file(path) or Source(path.name, _HEADER.format(units=units.value).encode())
    before = _read_sound(old)
    bom = BOM_UTF8 if old.data.startswith(BOM_UTF8) else b""
    new = Source(old.name, bom + _changed(read_text(old), name, keys).encode())
    if not _holds(new, before, name, keys):
        raise _by_hand(name, keys)
    _write(Path(os.path.realpath(path)), new.data)


def _write(path: Path, data: bytes) -> None:
    """Write the file itself, not a link to it, and only where it is not guarded from that."""
    if path.exists() and not os.access(path, os.W_OK):
        raise Fault(
            "nothing was written: the file is read-only", "let it be written to, or name another", Where(str(path))
        )
    write_files(path.parent, {path.name: data})


def _read_sound(source: Source) -> Shop:
    shop, faults = read_shop(source)
    if faults:
        raise Faults(faults)
    return shop


def _holds(new: Source, before: Shop, name: str, keys: Mapping[str, str]) -> bool:
    """Whether the file now says what it did, and the printer's keys beside it."""
    try:
        after = _read_sound(new)
        (wanted,) = _read_sound(Source(new.name, _section(name, keys).encode())).printers
    except StorystickError:
        return False
    return _without(after, name) == _without(before, name) and wanted in after.printers


def _without(shop: Shop, name: str) -> tuple[Shop, list[Printer]]:
    """The shop apart from its file and the printer of this name; the others in the order of their names."""
    others = sorted((printer for printer in shop.printers if printer.name != name), key=lambda printer: printer.name)
    return replace(shop, printers=(), source=None), others


def _by_hand(name: str, keys: Mapping[str, str]) -> Fault:
    lines = "; ".join(_section(name, keys).split("\n")).strip("; ")
    return Fault("the file is laid out in a way that the correction cannot be added to", f"write it there: {lines}")


def _changed(text: str, name: str, keys: Mapping[str, str]) -> str:
    """The text with the printer's keys; where it is not as expected, unchanged."""
    newline = "\r\n" if "\r\n" in text else "\n"
    try:
        document = tomlkit.parse(text)
        printers = document.get("printer", {})
        key = next((key for key in printers if key.strip() == name), None)
        if key is None and not isinstance(printers, InlineTable):
            return _appended(text, _section(name, keys), newline)
        if key is None:
            printers[name] = tomlkit.inline_table()
        _set_keys(printers[key or name], keys, newline)
        return tomlkit.dumps(document)
    except TOMLKitError:
        return text


def _section(name: str, keys: Mapping[str, str]) -> str:
    """A printer's table as text."""
    document, table = tomlkit.document(), tomlkit.table()
    for key, value in keys.items():
        table.add(key, value)
    document.add("printer", tomlkit.table(is_super_table=True).add(name, table))
    return tomlkit.dumps(document)


def as_toml(name: str) -> str:
    """A name as it is written in a job or a shop file."""
    return tomlkit.item(name).as_string()


def _appended(text: str, section: str, newline: str) -> str:
    """The section at the end of the file, so that no comment of another stands before it."""
    gap = "" if not text or text.endswith("\n") else newline
    return f"{text}{gap}{newline}{section.replace(chr(10), newline)}"


def _set_keys(table: MutableMapping[str, Any], keys: Mapping[str, str], newline: str) -> None:
    """New values in place of those there are; keys that are new follow the last of them, or the table's own line where
    there are none, before any comment."""
    there = [key for key in table if key in keys]
    for key in there:
        table[key] = keys[key]
    others = {key: value for key, value in keys.items() if key not in there}
    # A table made by dotted keys has no lines of its own to add to, and counts as a super table.
    if isinstance(table, Table) and not table.is_super_table():
        lines = "".join(f"{key} = {tomlkit.item(value).as_string()}{newline}" for key, value in others.items())
        last: Any = table.value.item(there[-1]) if there else table
        last.trivia.trail = f"{last.trivia.trail or newline}{lines}"
    else:
        for key, value in others.items():
            table[key] = value
