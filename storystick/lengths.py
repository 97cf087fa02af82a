"""Exact lengths: reading what people write, writing them back, rounding for labels.

A length is a :class:`~fractions.Fraction` of a millimetre. 1 inch is 127/5 mm exactly, from the
international yard of 0.9144 m (NBS Circular 572, addendum of 1960: in force from 1 July 1959).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import lru_cache
from math import isqrt
from typing import Final, TypeAlias

from storystick.errors import Fault, as_written

INCH_MM: Final = Fraction(127, 5)
Label: TypeAlias = Callable[[Fraction], str]
"""What says a length (mm) to a person, such as :class:`Figures`."""

LONGEST: Final = Fraction(100_000)
"""No length may be longer than this, in mm: 100 m."""

_MOST_CHARACTERS: Final = 400
_UNIT_MM: Final = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": INCH_MM,
    '"': INCH_MM,
    "ft": 12 * INCH_MM,
    "'": 12 * INCH_MM,
}
_SPELLINGS: Final = {"inch": "in", "inches": "in", "foot": "ft", "feet": "ft"}
_PASTED: Final = str.maketrans(
    dict.fromkeys("’‘‛ʹʼ′＇", "'")
    | dict.fromkeys("“”„‟ʺ″＂", '"')
    | dict.fromkeys("‐‑‒–—−", "-")
    | {"⁄": "/", "∕": "/"}
    | dict.fromkeys("\u00a0\u2007\u2009\u202f", " ")
)
_NUMBER: Final = r"(?:[0-9]+(?:\ *-\ *|\ +)[0-9]+\ */\ *[0-9]+|[0-9]+\ */\ *[0-9]+|[0-9]+\.?[0-9]*|\.[0-9]+)"
_LENGTH: Final = re.compile(
    rf"""(?P<sign>[-+])?\ *
         (?:(?P<feet>{_NUMBER})\ *(?:'|ft|foot|feet)(?:\ *-?\ *(?P<inches>{_NUMBER})\ *(?:"|in|inch|inches)?)?
           |(?P<number>{_NUMBER})\ *(?P<unit>mm|cm|m|inches|inch|in|")?)""",
    re.VERBOSE,
)
_EXAMPLES: Final = "write it like 18.3, 23/32, 5 1/2, 2' 3 1/2\", 18.3 mm or 1 in"


class Units(Enum):
    """What a number without a unit means, and what results are written in."""

    INCH = "inch"
    MM = "mm"

    @property
    def sign(self) -> str:
        """The usual sign of the unit."""
        return "in" if self is Units.INCH else "mm"

    @property
    def plural(self) -> str:
        """The unit's name in a sentence."""
        return "inches" if self is Units.INCH else "millimetres"

    @property
    def in_mm(self) -> Fraction:
        """One of this unit, in mm."""
        return INCH_MM if self is Units.INCH else Fraction(1)


DEFAULT_STEP: Final = {Units.INCH: INCH_MM / 64, Units.MM: Fraction(1, 10)}
"""What labels are rounded to, in mm, where a job does not say."""


def read_length(value: object, units: Units) -> Fraction:
    """The exact length, in mm, that ``value`` writes; of either sign.

    ``value`` is text, or an int or Decimal as a file gives them; without a unit it is in ``units``.

    Raises:
        Fault: it is not a length, or it is longer than 100 m.
    """
    match value:
        case str():
            return _within_reach(_read_text(value, units), value)
        case bool():
            pass
        case int():
            return _within_reach(value * units.in_mm, as_written(value))
        case Decimal():
            return _within_reach(_read_decimal(value) * units.in_mm, as_written(value))
    raise Fault(f"{as_written(value)} is not a length", _EXAMPLES)


def read_size(value: object, units: Units) -> Fraction:
    """A length that must be more than nothing; otherwise as :func:`read_length`."""
    length = read_length(value, units)
    if length <= 0:
        raise Fault(f"{as_written(value)} is not a size: a size is more than 0")
    return length


def read_distance(value: object, units: Units) -> Fraction:
    """A length that may be nothing but not less; otherwise as :func:`read_length`."""
    length = read_length(value, units)
    if length < 0:
        raise Fault(f"{as_written(value)} is less than 0, which is not allowed here")
    return length


def write_exact(length: Fraction, units: Units) -> str:
    """``length`` (mm) in ``units``, exactly; :func:`read_length` reads it back to the same value.

    Inches are mixed fractions; millimetres are a decimal where it ends and a mixed fraction where it does not.
    """
    value = length / units.in_mm
    if units is Units.MM and (decimal := _ending_decimal(value)) is not None:
        return decimal
    return _mixed(value)


@lru_cache(maxsize=4096)
def write_label(length: Fraction, units: Units, step: Fraction) -> str:
    """``length`` (mm) in ``units`` to the nearest ``step`` (mm), ties to even multiples, for a printed label.

    "full" follows where the exact length is more than the label says, "scant" where it is less.
    """
    rounded = round(length / step) * step
    drift = "" if rounded == length else " full" if length > rounded else " scant"
    return write_exact(rounded, units) + drift


@dataclass(frozen=True, slots=True)
class Figures:
    """How lengths (mm) are said to a person: in ``units``, rounded to ``step`` (mm)."""

    units: Units
    step: Fraction

    def __call__(self, length: Fraction) -> str:
        """The label of a length, with full or scant where it was rounded."""
        return write_label(length, self.units, self.step)

    @classmethod
    def usual(cls, units: Units) -> Figures:
        """Those of a job that says no step, for what is read before a job's own is known."""
        return cls(units, DEFAULT_STEP[units])

    def of_root(self, square: Fraction) -> str:
        """The label of the square root of ``square`` (mm²), likewise with full or scant."""
        rounded = nearest_root(square, self.step)
        drift = "" if rounded**2 == square else " full" if square > rounded**2 else " scant"
        return write_exact(rounded, self.units) + drift

    def nearest(self, length: Fraction | float) -> str:
        """The nearest step alone, for what is not known so finely that full or scant would mean anything."""
        return write_exact(round(Fraction(length) / self.step) * self.step, self.units)

    @property
    def fine(self) -> Figures:
        """Those for what is measured and read: a job's own step may be as coarse as what readings differ by."""
        return Figures(self.units, min(self.step, DEFAULT_STEP[self.units]))

    def apart(self, length: Fraction) -> str:
        """The label of a difference, which is never said to be nothing where there is one."""
        if length and not self.is_seen(length):
            return f"under {write_exact(self.step, self.units)}"
        return self(length)

    def is_seen(self, difference: Fraction) -> bool:
        """Whether a difference is large enough for a label to say it."""
        return bool(round(difference / self.step))

    def is_said(self, length: Fraction) -> bool:
        """Whether the label says the whole length, so that whoever writes the label writes it."""
        return length % self.step == 0

    def at_most(self, limit: Fraction) -> str:
        """The largest label that is not more than ``limit``: for what may be so much or less."""
        return write_exact(limit // self.step * self.step, self.units)

    def at_least(self, limit: Fraction) -> str:
        """The smallest label that is not less than ``limit``: for what must be so much or more."""
        return write_exact(-(-limit // self.step) * self.step, self.units)


def write_figure(length: Fraction, units: Units) -> str:
    """The label of ``length`` (mm) in ``units`` by the usual step, for a sentence where a job's own is not known."""
    return Figures.usual(units)(length)


def _read_decimal(value: Decimal) -> Fraction:
    """The decimal's exact value; it is weighed first, since 1e999999999 would be a Fraction of that many digits."""
    if not value.is_finite():
        raise Fault(f"{value} is not a length", _EXAMPLES)
    if len(value.as_tuple().digits) > _MOST_CHARACTERS:
        raise Fault(f"{as_written(value)} has too many digits to be a length", _EXAMPLES)
    if value and not -_MOST_CHARACTERS < value.adjusted() < len(str(LONGEST)):
        raise Fault(f"{as_written(value)} is beyond the lengths of any work", _EXAMPLES)
    return Fraction(value)


def _read_text(text: str, units: Units) -> Fraction:
    plain = _plain(text)
    if not plain:
        raise Fault("a length is missing: the text is empty", _EXAMPLES)
    if len(plain) > _MOST_CHARACTERS:
        raise Fault(f'"{text[:20]}…" is too long to be a length', _EXAMPLES)
    found = _LENGTH.fullmatch(plain)
    if found is None:
        raise _unreadable(text, plain)
    sign = -1 if found["sign"] == "-" else 1
    if found["feet"] is not None:
        feet = _number(found["feet"], text) * 12
        inches = _number(found["inches"], text) if found["inches"] else 0
        return sign * (feet + inches) * INCH_MM
    unit = found["unit"]
    in_mm = units.in_mm if unit is None else _UNIT_MM[_SPELLINGS.get(unit, unit)]
    return sign * _number(found["number"], text) * in_mm


def _plain(text: str) -> str:
    """``text`` with typographic characters spelt in ASCII: ``5½″`` becomes ``5 1/2"``."""
    spelt = (_spell_fraction(character) for character in text)
    plain = "".join(spelt).translate(_PASTED).replace("''", '"')
    return " ".join(plain.split()).lower()


def _spell_fraction(character: str) -> str:
    kind, *parts = unicodedata.decomposition(character).split() or [""]
    if kind != "<fraction>":
        return character
    return " " + "".join(chr(int(part, 16)) for part in parts)


def _number(text: str, whole_text: str) -> Fraction:
    """A plain number: ``5``, ``.5``, ``1/2``, ``5 1/2`` or ``5-1/2``."""
    if "/" not in text:
        return Fraction(text if not text.startswith(".") else "0" + text)
    *whole, over, under = (int(digits) for digits in re.findall("[0-9]+", text))
    if under == 0:
        raise Fault(f'"{whole_text}" has a fraction over zero', _EXAMPLES)
    if whole and over >= under:
        what = f'"{whole_text}" is not a length: {over}/{under} after a whole number is not less than 1'
        raise Fault(what, "look for a slip of the pen")
    return sum(whole) + Fraction(over, under)


def _unreadable(text: str, plain: str) -> Fault:
    if re.search(r"[0-9],[0-9]", plain):
        return Fault(f'"{text}" has a decimal comma', "write 18.3 for 18,3 and 1200 for 1,200")
    bare = re.sub(r"(?<=[a-z])\.", "", plain)
    if bare != plain and _LENGTH.fullmatch(bare):
        return Fault(f'"{text}" has a full stop after a unit', f"write it without, as in {as_written(bare)}")
    if re.match(r"[-+] *[-+]", plain):
        return Fault(f'"{text}" has two signs', "write one sign or none")
    return Fault(f'"{text}" is not a length', _EXAMPLES)


def _within_reach(length: Fraction, text: str) -> Fraction:
    if abs(length) > LONGEST:
        raise _too_long(text)
    return length


def _too_long(text: str) -> Fault:
    shown = text if len(text) <= 30 else text[:20] + "…"
    return Fault(f"{shown} is longer than 100 m, the most that is allowed", "look at its unit")


def _ending_decimal(value: Fraction) -> str | None:
    """``value`` as a decimal, or None where it would never end."""
    rest = value.denominator
    twos = fives = 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    if rest != 1:
        return None
    places = max(twos, fives)
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return sign + (f"{digits[:-places]}.{digits[-places:]}" if places else digits)


def _mixed(value: Fraction) -> str:
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


_FINEST: Final = 10**15


def root(square: Fraction) -> Fraction:
    """The square root of ``square`` (mm²), never more than 1e-15 mm below it.

    Raises:
        ValueError: ``square`` is negative.
    """
    if square < 0:
        raise ValueError(f"{square} has no square root")
    return Fraction(isqrt(square.numerator * _FINEST**2 // square.denominator), _FINEST)


def nearest_root(square: Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` (mm) that is nearest the square root of ``square`` (mm²), a tie to the even one."""
    steps = square / step**2
    below = isqrt(steps.numerator // steps.denominator)
    middle = (below + Fraction(1, 2)) ** 2
    return (below + (steps > middle or (steps == middle and below % 2 == 1))) * step
