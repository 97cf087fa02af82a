"""From job files to a job that is laid out: every stick, cabinet and board of it, and every fault at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from storystick.errors import Fault, FaultCollector, Faults, StorystickError, Where, as_written
from storystick.job.job import Hands, Job
from storystick.job.kinds import entry_place
from storystick.job.other_words import unknown
from storystick.job.papers import Paper
from storystick.job.reading import AskedPrinter, JobReading, read_draft, read_job, read_sources
from storystick.job.sources import LoadFile, Source, load_of_folder, load_source
from storystick.kept import Kept
from storystick.layout.stations import Layout, StickLayout, numbered

if TYPE_CHECKING:
    from storystick.kept import CabinetAlone
    from storystick.layout.cabinets.pieces import CabinetLayout
    from storystick.layout.runs import RunLayout


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A job as far as it can be laid out: its ``layout``, None where nothing of the file can be read, and the faults.

    With faults the layout holds what has none. ``kept`` makes it quick to lay out the same job after a change.
    """

    layout: Layout | None
    faults: tuple[Fault, ...]
    kept: Kept = field(repr=False)

    def whole(self) -> Layout:
        """The layout of a job without faults.

        Raises:
            Faults: all that there are.
        """
        if self.faults or self.layout is None:
            raise Faults(self.faults)
        return self.layout


def load(
    path: Path | str,
    shop: Path | str | None = None,
    settings: Path | None = None,
    printer: AskedPrinter | None = None,
    load_file: LoadFile = load_source,
) -> Layout:
    """Read a job file, every file that it names, and its shop file, and lay it out.

    The shop file is ``shop`` in any case; else the one that the job names, or "shop.toml" beside the job or in the
    folder ``settings``. A job needs none. With a ``printer`` the job's own is not looked for.

    Raises:
        Faults: everything in it that cannot be read or does not fit.
    """
    given = Path(shop) if shop else None
    return _as_far(lambda: read_job(Path(path), given, settings, printer, load_file), Path(path).name).whole()


def load_sources(sources: Sequence[Source], printer: AskedPrinter | None = None) -> Layout:
    """The same from files held in memory, the job file first."""
    return lay_out_as_far(sources, printer).whole()


def lay_out_as_far(
    sources: Sequence[Source], printer: AskedPrinter | None = None, earlier: LaidOut | None = None
) -> LaidOut:
    """As :func:`load_sources`, but what has faults is left out of the layout; it raises none.

    What is as it was in an ``earlier`` state of the job is taken from there.
    """
    return _as_far(lambda: read_sources(sources, printer), sources[0].name, earlier)


def lay_out_draft(text: str, path: Path, settings: Path | None = None, earlier: LaidOut | None = None) -> LaidOut:
    """The same of a job file at ``path`` whose text is not saved yet, with the files that it names in its folder."""
    main = Source(path.name, text.encode("utf-8", "surrogatepass"))
    return _as_far(lambda: read_draft(main, path, settings=settings, load_file=load_of_folder), path.name, earlier)


def _as_far(read: Callable[[], JobReading], file_name: str, earlier: LaidOut | None = None) -> LaidOut:
    """What is read is laid out even beside faults of the reading, so that what does not fit is told too."""
    kept = Kept(earlier.kept if earlier else None)
    try:
        job, faults = read()
    except StorystickError as error:
        return LaidOut(None, error.faults, earlier.kept if earlier else kept)
    layout, unfit = _lay_out(job, kept)
    return LaidOut(layout, (*faults, *(fault.at(Where.in_file(file_name)) for fault in unfit)), kept)


def as_printed(layout: Layout, paper: Paper, hands: Hands) -> Layout:
    """The same layout to be printed on another paper, or for other hands: no position comes from that."""
    return replace(layout, job=replace(layout.job, paper=paper, hands=hands))


def lay_out(job: Job) -> Layout:
    """Work out every position of a job.

    Raises:
        Faults: what does not fit or cannot be cut, for all sticks, cabinets and runs at once.
    """
    kept = Kept()
    return LaidOut(*_lay_out(job, kept), kept).whole()


def _lay_out(job: Job, kept: Kept) -> tuple[Layout, tuple[Fault, ...]]:
    """All that fits of a job, and the faults of the rest, each told once."""
    collector = FaultCollector()
    layout = _with_sticks(job, kept, collector)
    if layout.runs:
        layout = _with_run_warnings(layout, collector)
    if job.boards:
        layout = _with_boards(layout, collector)
    collector.add(*_names_used_twice(layout.sticks))
    if not collector.faults:
        # Only now: a name that is missing may be that of a stick that does not fit.
        collector.add(*_unknown_faces(job, layout.sticks), *_rectangles_used_twice(layout))
    return layout, collector.each_once()


def _with_sticks(job: Job, kept: Kept, collector: FaultCollector) -> Layout:
    """The sticks of a job, its cabinets and its runs; what does not fit or cannot be cut is kept and left out."""
    sticks: list[StickLayout] = []
    for stick in job.sticks:
        with collector.at(stick.place):
            sticks.append(kept.stick(stick, job.figures, job.shop))
    cabinets: list[tuple[CabinetAlone, CabinetLayout]] = []
    for cabinet in job.cabinets:
        alone = kept.cabinet(cabinet, job.figures, job.shop)
        with collector.at(cabinet.place):
            cabinets.append((alone, alone.layout_as(cabinet)))
            sticks.extend(numbered(alone.sticks, len(sticks) + 1))
    runs: tuple[RunLayout, ...] = ()
    with collector.at():
        runs = _lay_out_runs(job, len(sticks) + 1)
    sticks.extend(stick for run in runs for stick in run.sticks)
    found = tuple(_with_fronts(cabinets, sticks, collector))
    return Layout(job, tuple(sticks), found, runs=runs)


def _lay_out_runs(job: Job, first_number: int) -> tuple[RunLayout, ...]:
    if not job.runs:
        return ()
    from storystick.layout.runs import lay_out_runs  # only for a job with runs

    return lay_out_runs(job, first_number)


def _with_fronts(
    cabinets: Sequence[tuple[CabinetAlone, CabinetLayout]], sticks: list[StickLayout], collector: FaultCollector
) -> Iterator[CabinetLayout]:
    """The cabinets with what is to be looked at for their fronts, whose sticks come after all others."""
    for alone, layout in cabinets:
        warnings: tuple[str, ...] = ()
        with collector.at(layout.cabinet.place):
            collector.add(*alone.locked)
            sticks.extend(numbered(alone.front_sticks, len(sticks) + 1))
            warnings = alone.front_warnings
        yield replace(layout, warnings=(*layout.warnings, *warnings)) if warnings else layout
    for alone, layout in cabinets:
        with collector.at(layout.cabinet.place):
            alone.check_cutting()


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
        for number, face in enumerate(square.faces):
            if face not in names:
                fault = unknown(face, "a stick of this job", names)
                yield fault.at(entry_place("faces", number)).at(square.place)
