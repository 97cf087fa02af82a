"""From a job file to a job that is known to fit: every fault of reading and of layout, all at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from storystick.errors import Fault, Faults, StorystickError
from storystick.job.job import Job
from storystick.job.reading import AskedPrinter, read_job, read_sources
from storystick.job.sources import Source
from storystick.laying_out import lay_out


def load(
    path: Path | str,
    shop: Path | str | None = None,
    settings: Path | None = None,
    printer: AskedPrinter | None = None,
) -> Job:
    """Read a job file, every file that it names, and its shop file.

    The shop file is ``shop`` in any case; else the one that the job names, or "shop.toml" beside the job or in the
    folder ``settings``. A job needs none. With a ``printer`` the job's own is not looked for.

    Raises:
        Faults: everything in it that cannot be read or does not fit; a job that loads can be laid out.
    """
    return _that_fits(*read_job(Path(path), Path(shop) if shop else None, settings, printer), Path(path).name)


def load_sources(sources: Sequence[Source], printer: AskedPrinter | None = None) -> Job:
    """The same from files held in memory, the job file first."""
    return _that_fits(*read_sources(sources, printer), sources[0].name)


def _that_fits(job: Job, faults: Sequence[Fault], file_name: str) -> Job:
    found = list(faults)
    try:
        lay_out(job)
    except StorystickError as error:
        found.extend(fault.at(file_name) for fault in error.faults)
    if found:
        raise Faults(found)
    return job
