"""From job files to a job that is laid out: every stick, cabinet and board of it, and every fault at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from storystick.errors import Fault, FaultCollector, Faults, StorystickError, as_written
from storystick.job.job import Hands, Job
from storystick.job.other_words import unknown
from storystick.job.papers import Paper
from storystick.job.reading import AskedPrinter, read_job, read_sources
from storystick.job.sources import Source
from storystick.layout.stations import Layout, StickLayout
from storystick.layout.sticks import lay_out_sticks

if TYPE_CHECKING:
    from storystick.layout.runs import RunLayout


def load(
    path: Path | str,
    shop: Path | str | None = None,
    settings: Path | None = None,
    printer: AskedPrinter | None = None,
) -> Layout:
    """Read a job file, every file that it names, and its shop file, and lay it out.

    The shop file is ``shop`` in any case; else the one that the job names, or "shop.toml" beside the job or in the
    folder ``settings``. A job needs none. With a ``printer`` the job's own is not looked for.

    Raises:
        Faults: everything in it that cannot be read or does not fit.
    """
    return _that_fits(*read_job(Path(path), Path(shop) if shop else None, settings, printer), Path(path).name)


def load_sources(sources: Sequence[Source], printer: AskedPrinter | None = None) -> Layout:
    """The same from files held in memory, the job file first."""
    return _that_fits(*read_sources(sources, printer), sources[0].name)


def _that_fits(job: Job, faults: Sequence[Fault], file_name: str) -> Layout:
    """The job laid out. One with ``faults`` is laid out as far as it was read, so that what does not fit is told too.

    Raises:
        Faults: those of the reading and those of the layout.
    """
    unfit: tuple[Fault, ...] = ()
    try:
        layout = lay_out(job)
        if not faults:
            return layout
    except StorystickError as error:
        unfit = tuple(fault.at(file_name) for fault in error.faults)
    raise Faults((*faults, *unfit))


def as_printed(layout: Layout, paper: Paper, hands: Hands) -> Layout:
    """The same layout to be printed on another paper, or for other hands: no position comes from that."""
    return replace(layout, job=replace(layout.job, paper=paper, hands=hands))


def lay_out(job: Job) -> Layout:
    """Work out every position of a job.

    Raises:
        Faults: what does not fit or cannot be cut, for all sticks, cabinets and runs at once.
    """
    collector = FaultCollector()
    layout = lay_out_sticks(job, collector)
    if layout.cabinets:
        layout = _with_fronts(layout, collector)
    if layout.runs:
        layout = _with_run_warnings(layout, collector)
    if job.boards:
        layout = _with_boards(layout, collector)
    collector.add(*_names_used_twice(layout.sticks))
    # Only now: a name that is missing may be that of a stick that does not fit.
    collector.raise_any()
    collector.add(*_unknown_faces(job, layout.sticks), *_rectangles_used_twice(layout))
    collector.raise_any()
    return _with_straightedges(layout) if job.shop else layout


def _with_fronts(layout: Layout, collector: FaultCollector) -> Layout:
    """The layout with the sticks of its cabinets' fronts; what cannot be cut is kept."""
    from storystick.cutting.drying import season_warnings  # only for a job with cabinets
    from storystick.cutting.front_sticks import front_sticks
    from storystick.cutting.parts import check_cutting
    from storystick.cutting.uneven import uneven_warnings
    from storystick.gluing.locked import locked_faults

    job, sticks, cabinets = layout.job, list(layout.sticks), list(layout.cabinets)
    for place, cabinet in enumerate(layout.cabinets):
        with collector.at(cabinet.cabinet.place):
            collector.add(*locked_faults(cabinet))
            sticks.extend(front_sticks(cabinet, job.figures, len(sticks) + 1))
            if warnings := (*uneven_warnings(cabinet, job.figures), *season_warnings(cabinet, job.figures)):
                cabinets[place] = replace(cabinet, warnings=(*cabinet.warnings, *warnings))
    with collector.at():
        check_cutting(layout.cabinets, job.figures)
    return replace(layout, sticks=tuple(sticks), cabinets=tuple(cabinets))


def _with_run_warnings(layout: Layout, collector: FaultCollector) -> Layout:
    """The layout with what is to be looked at along its walls; of fronts only where all of them can be made."""
    from storystick.cutting.clearances import clearance_warnings  # only for a job with runs
    from storystick.layout.walls.warnings import run_warnings

    figures, cabinets = layout.job.figures, {each.cabinet.name: each for each in layout.cabinets}
    fronts = not collector.faults

    def warnings(run: RunLayout) -> Iterator[str]:
        yield from run_warnings(run, layout.cabinets, figures)
        if fronts:
            yield from clearance_warnings(run, layout.runs, cabinets, figures)

    return replace(layout, runs=tuple(replace(run, warnings=tuple(warnings(run))) for run in layout.runs))


def _with_boards(layout: Layout, collector: FaultCollector) -> Layout:
    """The layout with its board templates; those of cabinets only where all cabinets could be laid out."""
    from storystick.job.boards import CabinetBoard  # only for a job with templates
    from storystick.layout.boards import lay_out_boards

    job, whole = layout.job, len(layout.cabinets) == len(layout.job.cabinets)
    boards = (board for board in job.boards if whole or not isinstance(board, CabinetBoard))
    return replace(layout, boards=lay_out_boards(boards, layout.cabinets, collector))


def _with_straightedges(layout: Layout) -> Layout:
    from storystick.tooling.grooves import with_straightedges  # only for a job with a shop

    return with_straightedges(layout)


def _names_used_twice(sticks: Sequence[StickLayout]) -> Iterator[Fault]:
    for name, number in Counter(stick.name for stick in sticks).items():
        if number > 1:
            yield Fault(
                f"{number} sticks are called {as_written(name)}, with those that follow from cabinets and runs",
                "give one of them another name",
            )


def _rectangles_used_twice(layout: Layout) -> Iterator[Fault]:
    if layout.cabinets or layout.job.rectangles:
        from storystick.squaring.rectangles import names_used_twice  # only for a job with rectangles

        yield from names_used_twice(layout)


def _unknown_faces(job: Job, sticks: Sequence[StickLayout]) -> Iterator[Fault]:
    """Faces of square sticks that no stick is called by, with those that follow from cabinets and runs."""
    names = [stick.name for stick in sticks]
    for square in job.square_sticks:
        for number, face in enumerate(square.faces, 1):
            if face not in names:
                fault = unknown(face, "a stick of this job", names)
                yield fault.at(f"faces[{number}]").at(square.place)
