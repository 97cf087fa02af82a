"""How solid wood moves across its grain with moisture: Equation 13-2 and Table 13-5 of the Wood Handbook.

Sizes are exact, in mm; moisture contents in per cent of the dry weight.

The coefficients hold from 6 to 14 % moisture; beyond that, and for a species without a row, there is a fault.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Final

from storystick.errors import Fault, FaultCollector, as_written
from storystick.job.fronts import Sawn, SolidWood
from storystick.job.other_words import unknown

_SPECIES: Final = "a species whose movement is known here"

MOISTURES: Final = ("driest", "made_at", "dampest")


@dataclass(frozen=True, slots=True)
class Wood:
    """A species' coefficients: the share of its width that it moves by for each per cent of moisture."""

    species: str
    radial: Fraction
    tangential: Fraction

    def across(self, cut: Sawn) -> Fraction:
        """The coefficient of a board's width: tangential where flat-sawn, radial where quarter-sawn."""
        return self.tangential if cut is Sawn.FLAT else self.radial


@dataclass(frozen=True, slots=True)
class WoodTable:
    """The table of coefficients, with its source and the moisture contents between which it holds."""

    source: str
    valid_from: Fraction
    valid_to: Fraction
    woods: Mapping[str, Wood]


@cache
def wood_table() -> WoodTable:
    """The coefficients that come with this program."""
    text = files(__package__).joinpath("wood.toml").read_text(encoding="utf-8")
    table = tomllib.loads(text, parse_float=Decimal)
    woods = {
        name: Wood(name, Fraction(row["radial"]), Fraction(row["tangential"])) for name, row in table["species"].items()
    }
    return WoodTable(table["source"], Fraction(table["valid_from"]), Fraction(table["valid_to"]), woods)


def find_wood(species: str) -> Wood:
    """A species by its name in any letter case, its words in any order.

    Raises:
        Fault: the table has no such species.
    """
    woods = wood_table().woods
    found = {_words(name): wood for name, wood in woods.items()}.get(_words(species))
    if found is None:
        raise _unknown(species, woods)
    return found


def _unknown(species: str, woods: Mapping[str, Wood]) -> Fault:
    """The fault of a wood that is not in the table, with all of its kind where it is a kind of wood, as maple is."""
    kinds = [name for name in woods if _words(species) == _words(name.partition(",")[0])]
    cure = f"say which: {'; '.join(kinds)}"
    return Fault(f"{as_written(species)} is not {_SPECIES}", cure) if kinds else unknown(species, _SPECIES, woods)


def coefficient_of(wood: SolidWood) -> Fraction:
    """The coefficient that a front's size across the grain moves by.

    Raises:
        Faults: the species is not known, or a moisture content lies where the coefficients do not hold.
    """
    table, collector = wood_table(), FaultCollector()
    found = None
    with collector.at("species"):
        found = find_wood(wood.species)
    for key, moisture in zip(MOISTURES, (wood.driest, wood.made_at, wood.dampest), strict=True):
        with collector.at(key):
            _check_moisture(moisture, table)
    collector.raise_any()
    return found.across(wood.cut) if found else Fraction(0)


def change(size: Fraction, coefficient: Fraction, before: Fraction, after: Fraction) -> Fraction:
    """What a size at moisture ``before`` gains by ``after``; Equation 13-2."""
    return size * coefficient * (after - before)


def size_to_make(most: Fraction, coefficient: Fraction, made_at: Fraction, dampest: Fraction) -> Fraction:
    """The size at ``made_at`` of what is to be ``most`` at ``dampest``; Equation 13-2 turned round."""
    return most / (1 + coefficient * (dampest - made_at))


def _words(name: str) -> frozenset[str]:
    return frozenset(name.casefold().replace(",", " ").split())


def _check_moisture(moisture: Fraction, table: WoodTable) -> None:
    if not table.valid_from <= moisture <= table.valid_to:
        raise Fault(
            f"{percent(moisture)} is a moisture content for which the coefficients do not hold: they are valid from "
            f"{table.valid_from} to {percent(table.valid_to)}",
            f"give one from {table.valid_from} to {table.valid_to}, or make the front of a panel and leave wood out",
        )


def percent(moisture: Fraction) -> str:
    """A moisture content in words of a sentence."""
    return f"{float(moisture):g} %"
