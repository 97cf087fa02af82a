"""Job files for tests, in short pieces, and the reading of them."""

from __future__ import annotations

from pathlib import Path

from storystick.job.job import Job
from storystick.job.reading import read_sources
from storystick.job.sources import Source
from storystick.job.sticks import Stick
from storystick.lengths import DEFAULT_STEP, Figures, Units

GALLERY_JOBS = sorted(
    path for path in (Path(__file__).parent.parent / "gallery").glob("*/*.toml") if path.stem == path.parent.name
)
"""The gallery's job files; a folder may hold a shop file and spreadsheets beside its own."""

FIGURES = {units: Figures(units, DEFAULT_STEP[units]) for units in Units}
"""How lengths are said in a job that does not say what its labels are rounded to."""

MM = 'units = "mm"\n'
PLY = MM + "[stock]\nply = 18\n"
STICK = PLY + '[[stick]]\npart = "ply"\n'
PLAIN = STICK + "openings = [300]\n"
FROM_SHEET = STICK + 'openings = "drawers.csv"\n'
ORDER = PLY + '[joint.shelf]\nkind = "housing"\ndepth = 6\n[[stick]]\norder = '

SEED_DRAWERS = """
title = "Seed drawers"
units = "mm"
stock = { ply = 18.3 }
[[stick]]
name = "Side"
part = "ply"
openings = [120, 130, 140, 150, 160]
pair = true
"""
"""A pair of plain sticks, printed to be verified."""


def read(text: str, **spreadsheets: str) -> tuple[Job, list[str]]:
    """The job and the sentences of its faults; each spreadsheet is a file of its name."""
    companions = (Source(f"{name}.csv", sheet.encode()) for name, sheet in spreadsheets.items())
    job, faults = read_sources([Source("job.toml", text.encode()), *companions])
    return job, list(map(str, faults))


def read_well(text: str, **spreadsheets: str) -> Job:
    job, faults = read(text, **spreadsheets)
    assert faults == []
    return job


def only_stick(text: str, **spreadsheets: str) -> Stick:
    (stick,) = read_well(text, **spreadsheets).sticks
    return stick
