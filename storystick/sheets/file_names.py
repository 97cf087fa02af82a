"""What the printed files are called: apart from what fills them, so that a name can be had without loading that."""

from __future__ import annotations

from pathlib import PureWindowsPath
from typing import Final
from unicodedata import category

STRIPS_FILE: Final = "strips.pdf"
BARS_FILE: Final = "bars.pdf"
SQUARE_STICKS_FILE: Final = "square-sticks.pdf"
RODS_FILE: Final = "rods.pdf"
TEMPLATES_FILE: Final = "templates.pdf"
JOB_SHEET_FILE: Final = "job-sheet.pdf"
CALIBRATION_FILE: Final = "calibration.pdf"
FOLDER_RECORD_FILE: Final = "print-record.json"

SHEETS_FILES: Final = (STRIPS_FILE, BARS_FILE, SQUARE_STICKS_FILE, RODS_FILE, TEMPLATES_FILE)
"""The files of sheets in tiles."""

FORMER_FILES: Final = ("boards.pdf",)
"""What such files were once called."""

_LONGEST_FILE_NAME: Final = 255


def can_be_carried(name: str) -> bool:
    """Whether a print may carry a file of this name: it stays in the folder that it is written to, in sight."""
    # The Windows rules know both slashes and the drive's colon.
    stays = bool(name) and not name.startswith(".") and PureWindowsPath(name).name == name
    plain = not any(category(sign) == "Cc" for sign in name)
    return stays and plain and len(name.encode(errors="replace")) <= _LONGEST_FILE_NAME
