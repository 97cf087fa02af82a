"""Lengths: every way to write one, every way to get it wrong, and what labels say."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.errors import Fault
from storystick.lengths import (
    INCH_MM,
    LONGEST,
    Units,
    read_distance,
    read_length,
    read_size,
    write_exact,
    write_label,
)

SHARED = Path(__file__).parent.parent / "shared"
INCH_FRACTIONS: dict[str, Any] = tomllib.loads((SHARED / "inch_fractions.toml").read_text("utf-8"))
ROUNDING: dict[str, Any] = tomllib.loads((SHARED / "rounding.toml").read_text("utf-8"))
PUBLISHED_ROUNDINGS = [example for source in ROUNDING["published"] for example in source["examples"]]
REGISTRY: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
LIKE = "write it like 18.3, 23/32, 5 1/2, 2' 3 1/2\", 18.3 mm or 1 in."

inch = Units.INCH
mm = Units.MM
units = st.sampled_from(Units)
lengths = st.builds(
    Fraction, st.integers(-(10**7), 10**7), st.one_of(st.sampled_from([1, 2, 10, 64, 128, 1000]), st.integers(1, 10**6))
).filter(lambda length: abs(length) <= LONGEST)
steps = st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(1, 10), INCH_MM / 8, INCH_MM / 64])


@pytest.mark.parametrize(
    ("written", "inches"),
    [
        ("23/32", Fraction(23, 32)),
        ("5 1/2", Fraction(11, 2)),
        ("5-1/2", Fraction(11, 2)),
        ("5 - 1/2", Fraction(11, 2)),
        ("5 1 / 2", Fraction(11, 2)),
        ("  36  ", Fraction(36)),
        ("36.", Fraction(36)),
        (".5", Fraction(1, 2)),
        ("0.71875", Fraction(23, 32)),
        ("+3", Fraction(3)),
        ("-1/64", Fraction(-1, 64)),
        ("2' 3 1/2\"", Fraction(55, 2)),
        ("2'3\"", Fraction(27)),
        ("2' 3", Fraction(27)),
        ("2'", Fraction(24)),
        ("2 ft 3 in", Fraction(27)),
        ("2 feet 3 1/2 inches", Fraction(55, 2)),
        ("1 foot - 6 in", Fraction(18)),
        ("-1' 6\"", Fraction(-18)),
        ("1.5'", Fraction(18)),
        ("1 in", Fraction(1)),
        ("1 Inch", Fraction(1)),
        ('3/4"', Fraction(3, 4)),
        ("3/4''", Fraction(3, 4)),
        ("25.4 mm", Fraction(1)),
        ("25.4MM", Fraction(1)),
        ("2.54cm", Fraction(1)),
        ("0.0254 m", Fraction(1)),
        ("½", Fraction(1, 2)),
        ("5½", Fraction(11, 2)),
        ("5 ⅞″", Fraction(47, 8)),
        ("2′ 3½″", Fraction(55, 2)),
        ("5–1⁄2", Fraction(11, 2)),
        ("−1", Fraction(-1)),
        ("5\u00a01/2", Fraction(11, 2)),
        (3, Fraction(3)),
        (-3, Fraction(-3)),
        (Decimal("0.1"), Fraction(1, 10)),
        (Decimal("1E+1"), Fraction(10)),
    ],
)
def test_a_length_reads_to_its_exact_value(written: object, inches: Fraction) -> None:
    assert read_length(written, inch) == inches * INCH_MM


def test_a_number_without_a_unit_is_in_the_units_of_the_job() -> None:
    assert read_length("18.3", mm) == Fraction("18.3")
    assert read_length("18.3", inch) == Fraction("18.3") * INCH_MM
    assert read_length("18.3 mm", inch) == read_length("18.3 mm", mm) == Fraction("18.3")


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("", f"a length is missing: the text is empty; {LIKE}"),
        ("   ", f"a length is missing: the text is empty; {LIKE}"),
        ("shelf", f'"shelf" is not a length; {LIKE}'),
        ("3 4", f'"3 4" is not a length; {LIKE}'),
        ("5 1/2 1/4", f'"5 1/2 1/4" is not a length; {LIKE}'),
        ("1/2/3", f'"1/2/3" is not a length; {LIKE}'),
        ("1e3", f'"1e3" is not a length; {LIKE}'),
        ("3 yd", f'"3 yd" is not a length; {LIKE}'),
        ("2' 30 mm", f'"2\' 30 mm" is not a length; {LIKE}'),
        ("٣", f'"٣" is not a length; {LIKE}'),
        ("1/0", f'"1/0" has a fraction over zero; {LIKE}'),
        ("18,3", '"18,3" has a decimal comma; write 18.3 for 18,3 and 1200 for 1,200.'),
        ("--3", '"--3" has two signs; write one sign or none.'),
        ("+ -3", '"+ -3" has two signs; write one sign or none.'),
        ("9" * 500, f'"99999999999999999999…" is too long to be a length; {LIKE}'),
        ("101 m", "101 m is longer than 100 m, the most that is allowed; look at its unit."),
        (10**7, "10000000 is longer than 100 m, the most that is allowed; look at its unit."),
        pytest.param(
            1 << 40_000,
            "a very large number is longer than 100 m, the most that is allowed; look at its unit.",
            id="more digits than Python writes",
        ),
        (Decimal("999999"), "999999 is longer than 100 m, the most that is allowed; look at its unit."),
        (Decimal("1e6"), f"1E+6 is beyond the lengths of any work; {LIKE}"),
        (Decimal("1e9"), f"1E+9 is beyond the lengths of any work; {LIKE}"),
        (Decimal("1e-999999"), f"1E-999999 is beyond the lengths of any work; {LIKE}"),
        (Decimal("1." + "3" * 500), f"1.{'3' * 78}… has too many digits to be a length; {LIKE}"),
        (Decimal("nan"), f"NaN is not a length; {LIKE}"),
        (Decimal("-inf"), f"-Infinity is not a length; {LIKE}"),
        (True, f"true is not a length; {LIKE}"),
        (None, f"None is not a length; {LIKE}"),
        ([3], f"a list is not a length; {LIKE}"),
        ({"a": 3}, f"a table is not a length; {LIKE}"),
    ],
)
def test_what_is_not_a_length_says_what_to_write(written: object, message: str) -> None:
    with pytest.raises(Fault) as caught:
        read_length(written, mm)
    assert str(caught.value) == message


def test_a_size_is_more_than_nothing_and_a_distance_not_less() -> None:
    assert read_distance(0, mm) == 0
    with pytest.raises(Fault, match=r"^0 is not a size: a size is more than 0\.$"):
        read_size(0, mm)
    with pytest.raises(Fault, match=r'^"-1/4" is less than 0, which is not allowed here\.$'):
        read_distance("-1/4", inch)


@pytest.mark.parametrize(
    ("length", "units", "text"),
    [
        (Fraction(0), inch, "0"),
        (INCH_MM * Fraction(23, 32), inch, "23/32"),
        (INCH_MM * Fraction(-11, 2), inch, "-5 1/2"),
        (Fraction(1), inch, "5/127"),
        (Fraction("18.25625"), mm, "18.25625"),
        (Fraction(-1, 2), mm, "-0.5"),
        (Fraction(40), mm, "40"),
        (Fraction(100, 3), mm, "33 1/3"),
        (Fraction(-1, 3), mm, "-1/3"),
    ],
)
def test_exact_text_is_a_mixed_fraction_or_a_decimal_that_ends(length: Fraction, units: Units, text: str) -> None:
    assert write_exact(length, units) == text


@pytest.mark.parametrize(
    ("sixty_fourths", "label"),
    [
        ("1", "1/64"),
        ("1.4", "1/64 full"),
        ("1.6", "1/32 scant"),
        ("0.5", "0 full"),
        ("1.5", "1/32 scant"),
        ("2.5", "1/32 full"),
        ("-1.4", "-1/64 scant"),
        ("63.9", "1 scant"),
    ],
)
def test_a_rounded_label_says_full_or_scant_and_a_tie_goes_to_even(sixty_fourths: str, label: str) -> None:
    step = INCH_MM / 64
    assert write_label(Fraction(sixty_fourths) * step, inch, step) == label


@given(lengths, units)
def test_exact_text_reads_back_to_the_same_value(length: Fraction, units: Units) -> None:
    assert read_length(write_exact(length, units), units) == length


@given(lengths, units, steps)
def test_a_label_is_within_half_a_step_and_says_which_way_it_is_off(
    length: Fraction, units: Units, step: Fraction
) -> None:
    label = write_label(length, units, step)
    off = length - read_length(label.removesuffix(" full").removesuffix(" scant"), units)
    assert abs(off) <= step / 2
    assert (off > 0, off < 0) == (label.endswith(" full"), label.endswith(" scant"))


@given(st.text(max_size=30) | st.from_regex(r"[-+0-9 ./'\"½mcinft]{1,12}", fullmatch=True), units)
def test_any_text_is_a_length_within_reach_or_a_fault(text: str, units: Units) -> None:
    with suppress(Fault):
        assert abs(read_length(text, units)) <= LONGEST


@given(st.fractions(0, 3000), st.sampled_from(["mm", "cm", "m", "in", "ft"]))
def test_units_agree_with_an_independent_library(number: Fraction, unit: str) -> None:
    expected = REGISTRY.Quantity(number, unit).to("mm").magnitude
    if expected <= LONGEST:
        assert read_length(f"{write_exact(number, mm)} {unit}", inch) == expected


def test_the_foot_is_not_the_survey_foot() -> None:
    survey = REGISTRY.Quantity(Fraction(1), "survey_foot").to("mm").magnitude
    assert survey == Fraction(1_200_000, 3937)
    assert read_length("1 ft", mm) == Fraction("304.8") != survey


def test_the_inch_is_as_published() -> None:
    assert Fraction(INCH_FRACTIONS["inch_in_mm"]) == INCH_MM


@pytest.mark.parametrize("fraction", INCH_FRACTIONS["mm"])
def test_fractions_of_an_inch_are_as_published(fraction: str) -> None:
    length = read_length(fraction, inch)
    assert write_exact(length, mm) == INCH_FRACTIONS["mm"][fraction]
    assert write_exact(length, inch) == fraction
    assert read_length(INCH_FRACTIONS["decimal"][fraction], inch) == length


@pytest.mark.parametrize("example", PUBLISHED_ROUNDINGS, ids=lambda example: example["value"])
def test_rounding_is_as_published(example: dict[str, str]) -> None:
    label = write_label(Fraction(example["value"]), mm, Fraction(example["step"]))
    assert Fraction(label.split()[0]) == Fraction(example["rounded"])


@given(st.decimals(-9999, 9999, places=5), st.sampled_from(["1", "0.1", "0.01"]))
def test_rounding_agrees_with_decimal_arithmetic(value: Decimal, step: str) -> None:
    label = write_label(Fraction(value), mm, Fraction(step))
    assert Decimal(label.split()[0]) == value.quantize(Decimal(step), ROUND_HALF_EVEN)


@pytest.mark.parametrize("example", ROUNDING["nearest"]["examples"], ids=lambda example: example["inch"])
def test_the_nearest_fraction_of_an_inch_is_as_worked_out_by_hand(example: dict[str, str]) -> None:
    exact, error = Fraction(example["mm"]), Fraction(example["error"])
    drift = "full" if error < 0 else "scant"
    assert write_label(exact, inch, Fraction(example["step"]) * INCH_MM) == f"{example['inch']} {drift}"
    assert read_length(example["inch"], inch) - exact == error
