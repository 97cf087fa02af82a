"""What the printed files are called: apart from what fills them, so that a name can be had without loading that."""

from __future__ import annotations

from typing import Final

STRIPS_FILE: Final = "strips.pdf"
TEMPLATES_FILE: Final = "templates.pdf"
SQUARE_STICKS_FILE: Final = "square-sticks.pdf"
RODS_FILE: Final = "rods.pdf"
BOARDS_FILE: Final = "boards.pdf"
JOB_SHEET_FILE: Final = "job-sheet.pdf"
CALIBRATION_FILE: Final = "calibration.pdf"

SHEETS_FILES: Final = (STRIPS_FILE, TEMPLATES_FILE, SQUARE_STICKS_FILE, RODS_FILE, BOARDS_FILE)
"""The files of sheets in tiles."""
