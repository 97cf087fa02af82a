"""Which printer of the shop a job is drawn for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from storystick.errors import Fault
from storystick.job.model import Job
from storystick.job.other_words import unknown
from storystick.job.shop import Printer


def for_printer(job: Job, name: object) -> Job:
    """The job, drawn with the correction of the shop's printer of this name.

    Raises:
        Fault: there is no shop file, or no such printer in it.
    """
    if job.shop is None:
        raise Fault(
            f'there is no shop file to find printer "{name}" in',
            'measure the printer with "storystick calibrate", which writes one, or name one with --shop',
        )
    return replace(job, printer=_find(name, job.shop.printers))


def _find(name: object, printers: Iterable[Printer]) -> Printer:
    by_name = {printer.name: printer for printer in printers}
    if not isinstance(name, str) or name.strip() not in by_name:
        raise unknown(name, "a printer of the shop file", by_name, 'measure it with "storystick calibrate"')
    return by_name[name.strip()]
