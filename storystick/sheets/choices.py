"""What was asked of a print beyond the job: kept with it, so that it can be laid out again from the print alone."""

from __future__ import annotations

import json
from dataclasses import dataclass
from enum import Enum
from typing import Final

from storystick.job.model import Job

RECORD_FILE: Final = "storystick-print.json"
"""The attachment that the choices travel in; no file of a job may have this name."""


class Formats(Enum):
    """Which files to write."""

    PDF = "pdf"
    SVG = "svg"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Choices:
    """``only`` names the sticks to print, all where it is empty; ``boards`` are boards of cabinets to print besides."""

    only: tuple[str, ...] = ()
    formats: Formats = Formats.BOTH
    boards: tuple[str, ...] = ()


ALL: Final = Choices()
"""Every stick, in every format."""


def record(choices: Choices, job: Job, file: str, program: str) -> bytes:
    """The choices as JSON, with the ``file`` of the print that they travel in, its ``program``, and the job's paper
    and printer, which need not be those of the job file. Lengths are exact, in mm."""
    paper, printer = job.paper, job.printer
    content = {
        "program": program,
        "file": file,
        "job": job.file_name,
        "paper": {
            "name": paper.name,
            "long_side": str(paper.long_side),
            "short_side": str(paper.short_side),
            "roll": paper.roll,
        },
        "printer": printer.name if printer else None,
        "only": list(choices.only),
        "boards": list(choices.boards),
        "formats": choices.formats.value,
    }
    return json.dumps(content, ensure_ascii=False, indent=1).encode()
