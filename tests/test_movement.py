"""How solid wood moves: the shipped coefficients against the Handbook's other table, and the equation by hand."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.errors import Fault, Faults
from storystick.job.fronts import Sawn, SolidWood
from storystick.layout.movement import change, coefficient_of, find_wood, size_to_make, wood_table

SHARED: Final = Path(__file__).parent.parent / "shared"
HANDBOOK: Final[dict[str, Any]] = tomllib.loads((SHARED / "wood_shrinkage.toml").read_text(encoding="utf-8"))

moistures = st.fractions(6, 14, max_denominator=10)


def linked(shrinkage: str) -> Fraction:
    return 1 / (3000 / Fraction(shrinkage) - 20)


def wood(species: str = "Cherry, black", cut: Sawn = Sawn.FLAT, *percents: int) -> SolidWood:
    driest, made_at, dampest = map(Fraction, percents or (6, 8, 12))
    return SolidWood(species, cut, made_at, driest, dampest)


@pytest.mark.parametrize("species", HANDBOOK["shrinkage"])
def test_coefficients_agree_with_the_shrinkage_of_the_other_table(species: str) -> None:
    found, tolerance = find_wood(species), Fraction(HANDBOOK["link"]["tolerance"])
    assert abs(found.radial - linked(HANDBOOK["shrinkage"][species]["radial"])) <= tolerance
    assert abs(found.tangential - linked(HANDBOOK["shrinkage"][species]["tangential"])) <= tolerance


@pytest.mark.parametrize("case", HANDBOOK["by_hand"], ids=lambda case: case["species"])
def test_change_of_size_agrees_with_hand_calculation(case: dict[str, str]) -> None:
    coefficient = find_wood(case["species"]).across(Sawn(case["cut"]))
    found = change(Fraction(case["size"]), coefficient, Fraction(case["before"]), Fraction(case["after"]))
    assert found == Fraction(case["change"])


def test_change_of_size_agrees_with_a_printed_example_but_for_its_rounding() -> None:
    example = HANDBOOK["printed_example"]
    size, moisture = Fraction(example["size_in"]), Fraction(example["change_of_moisture"])
    rounded, printed = Fraction(example["rounded_coefficient"]), Fraction(example["printed_change_in"])
    assert change(size, rounded, Fraction(0), moisture) == printed
    coefficient = find_wood(example["species"]).across(Sawn(example["cut"]))
    assert change(size, coefficient, Fraction(0), moisture) == Fraction("0.12288")
    assert round(coefficient, 4) == rounded


def test_table_says_its_source_and_where_it_holds() -> None:
    table = wood_table()
    assert "FPL-GTR-190" in table.source
    assert "13-5" in table.source
    assert (table.valid_from, table.valid_to) == (6, 14)


def test_coefficients_are_the_printed_decimals_exactly() -> None:
    cherry = find_wood("Cherry, black")
    assert (cherry.radial, cherry.tangential) == (Fraction(126, 100_000), Fraction(248, 100_000))


@pytest.mark.parametrize("row", wood_table().woods.values(), ids=lambda row: row.species)
def test_wood_moves_more_flat_sawn_than_quarter_sawn(row: Any) -> None:
    assert 0 < row.across(Sawn.QUARTER) < row.across(Sawn.FLAT) < Fraction(5, 1000)


@pytest.mark.parametrize("name", ["Cherry, black", "black cherry", "CHERRY BLACK"])
def test_species_is_found_in_any_case_and_order_of_its_words(name: str) -> None:
    assert find_wood(name).species == "Cherry, black"


def test_unknown_species_is_a_fault_with_the_nearest_one_offered() -> None:
    with pytest.raises(Fault) as raised:
        find_wood("Cherry, blak")
    assert '"Cherry, blak" is not a species whose movement is known here; try "Cherry, black"' in str(raised.value)


def test_every_fault_of_the_wood_is_told_at_once() -> None:
    with pytest.raises(Faults) as raised:
        coefficient_of(wood("Oak", Sawn.FLAT, 5, 8, 16))
    species, driest, dampest = raised.value.faults
    assert species.where == "species"
    assert str(driest) == (
        "driest: 5 % is a moisture content for which the coefficients do not hold: they are valid from 6 to 14 %; "
        "give one from 6 to 14, or make the front of a panel and leave wood out."
    )
    assert dampest.where == "dampest"


def test_cut_chooses_the_coefficient() -> None:
    assert coefficient_of(wood(cut=Sawn.FLAT)) == Fraction("0.00248")
    assert coefficient_of(wood(cut=Sawn.QUARTER)) == Fraction("0.00126")


@given(st.fractions(1, 2000, max_denominator=640), st.sampled_from(list(wood_table().woods)), moistures, moistures)
def test_what_is_made_to_size_is_exactly_what_is_allowed_when_damp(
    most: Fraction, species: str, one: Fraction, other: Fraction
) -> None:
    made_at, dampest = sorted((one, other))
    coefficient = find_wood(species).tangential
    made = size_to_make(most, coefficient, made_at, dampest)
    assert made + change(made, coefficient, made_at, dampest) == most
    assert made <= most
