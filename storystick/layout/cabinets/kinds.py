"""Cabinets that are built alike."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from storystick.job.cabinets import Cabinet
from storystick.layout.cabinets.pieces import CabinetLayout


def kinds_of(layouts: Iterable[CabinetLayout]) -> tuple[tuple[CabinetLayout, ...], ...]:
    """Cabinets by what they are: those that differ in their names alone are of one kind, in the order of the first."""
    kinds: dict[Cabinet, list[CabinetLayout]] = {}
    for layout in layouts:
        kinds.setdefault(replace(layout.cabinet, name="", number=0), []).append(layout)
    return tuple(map(tuple, kinds.values()))
