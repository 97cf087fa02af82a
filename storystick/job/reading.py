"""Reading a job file, with the files that it names, into a job."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from storystick.errors import Fault, FaultCollector, Faults
from storystick.job.cabinets import read_cabinets
from storystick.job.materials import read_joints, read_stocks
from storystick.job.model import Job, Source
from storystick.job.openings import Scope
from storystick.job.runs import read_runs
from storystick.job.settings import read_margins, read_paper, read_step, read_title
from storystick.job.spreadsheet import LARGEST_FILE, Companions, read_text
from storystick.job.sticks import read_sticks
from storystick.job.tables import Kind, Table, choice
from storystick.lengths import Units

Reading = tuple[Job, tuple[Fault, ...]]
"""All of a job that reads well, and the faults of the rest."""


def read_job(path: Path) -> Reading:
    """Read a job file, and the spreadsheets that it names beside it.

    Raises:
        Faults: nothing of the file can be read.
    """
    try:
        main = _load(path)
    except Fault as fault:
        raise Faults([fault.at(path.name or str(path))]) from None
    return _read(main, lambda name: _load(path.parent / name))


def read_sources(sources: Sequence[Source]) -> Reading:
    """As :func:`read_job`, from files in memory: the job file, and after it those that it names.

    Raises:
        Faults: nothing of the first can be read.
    """
    main, *others = sources
    by_name = {source.name: source for source in others}

    def fetch(name: str) -> Source:
        if name not in by_name:
            raise Fault("the file is missing", "give it together with the job file")
        return by_name[name]

    return _read(main, fetch)


def _load(path: Path) -> Source:
    """The file's bytes, or so many of them that it is known to be too large."""
    if path.is_dir():
        raise Fault("this is a folder", "give a file")
    try:
        with path.open("rb") as file:
            return Source(os.fsencode(path.name).decode(errors="replace"), file.read(LARGEST_FILE + 1))
    except FileNotFoundError:
        raise Fault("there is no such file", "look at its name and folder") from None
    except (OSError, ValueError):
        raise Fault("the file cannot be opened", "look whether you may read it") from None


def _read(main: Source, fetch: Callable[[str], Source]) -> Reading:
    try:
        job, faults = _read_document(_parse(read_text(main)), main, Companions(fetch))
    except Fault as fault:
        raise Faults([fault.at(main.name)]) from None
    return job, tuple(fault.at(main.name) for fault in faults)


def _parse(text: str) -> dict[str, object]:
    """The tables of a TOML text, its numbers as they are written."""
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        cure = 'look there for a missing quote, bracket or equals sign: a length such as "5 1/2" is written in quotes'
        raise Fault(f"the file is not TOML: {error}", cure) from None
    except RecursionError:
        raise Fault("its lists and tables stand too deep in one another", "write them flatter") from None
    except (ArithmeticError, ValueError):
        raise Fault("a number or a date in it is beyond reading", "look for one with very many digits") from None


def _read_document(document: dict[str, object], main: Source, companions: Companions) -> Reading:
    try:
        units = _read_units(document)
    except Faults as error:
        return _read_without_units(document, main, companions, error.faults)
    return _read_in(units, document, main, companions)


def _read_units(document: dict[str, object]) -> Units:
    words = choice({units.value: units for units in Units})
    table = Table(document)
    units = table.need("units", Kind(words, Units.MM, '"inch" or units = "mm"'))
    table.stop_if_faulty()
    return units


def _read_without_units(
    document: dict[str, object], main: Source, companions: Companions, units_faults: tuple[Fault, ...]
) -> Reading:
    """Only what is at fault whatever the units are is told; what has sizes, as yet unknown, is not given."""
    (job, faults), (_, other_faults) = (_read_in(units, document, main, companions) for units in Units)
    told = set(map(str, other_faults))
    without_sizes = replace(job, sticks=(), cabinets=(), runs=())
    return without_sizes, units_faults + tuple(fault for fault in faults if str(fault) in told)


def _read_in(units: Units, document: dict[str, object], main: Source, companions: Companions) -> Reading:
    table = Table(document, known=["units"])
    title = read_title(table, main.name)
    paper, margins, step = read_paper(table, units), read_margins(table, units), read_step(table, units)
    scope = Scope(units, read_stocks(table, units), read_joints(table, units), companions)
    sticks, cabinets = read_sticks(table, scope), read_cabinets(table, scope)
    runs = read_runs(table, scope, cabinets)
    if not any(map(table.has, ("stick", "cabinet", "run"))):
        table.fault("the job has neither a stick nor a cabinet", "add a [[cabinet]] or a [[stick]] table")
    job = Job(title, units, paper, margins, step, sticks, (main, *companions.sources), cabinets=cabinets, runs=runs)
    faults = FaultCollector()
    with faults.at():
        table.close()
    return job, tuple(faults.faults)
