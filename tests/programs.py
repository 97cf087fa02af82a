"""Programs that read and draw printed files: what needs one that is not there is left out, and said so at the end.

With the environment variable STORYSTICK_NEEDS_PROGRAMS set, it fails instead.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import Final

import pytest

PACKAGES: Final = {
    "chromium": "chromium",
    "gs": "ghostscript",
    "mutool": "mupdf-tools",
    "pdfdetach": "poppler-utils",
    "pdffonts": "poppler-utils",
    "pdfinfo": "poppler-utils",
    "pdftocairo": "poppler-utils",
    "pdftohtml": "poppler-utils",
    "rsvg-convert": "librsvg2-bin",
}
"""The Debian package of every program that the tests run."""

NEEDED: Final = "STORYSTICK_NEEDS_PROGRAMS"
"""Where this is set in the environment and not empty, a missing program fails the test that needs it."""

LEFT_OUT: Final = "is not installed: Debian's package"
"""Stands in the reason of every check that was left out for want of a program, before the package's name."""


def run(program: str, *arguments: object, cwd: Path | None = None) -> subprocess.CompletedProcess[bytes]:
    """The program's output, once it has ended well."""
    found = shutil.which(program)
    if found is None:
        missing = f"The program {program} {LEFT_OUT} {PACKAGES[program]}"
        if os.environ.get(NEEDED):
            pytest.fail(f"{missing}. Try: sudo apt-get install {PACKAGES[program]}", pytrace=False)
        pytest.skip(missing)
    done = subprocess.run([found, *map(str, arguments)], capture_output=True, cwd=cwd, timeout=120, check=False)
    assert done.returncode == 0, f"{program} ended with {done.returncode}: {done.stderr.decode()}"
    return done


def said(program: str, *arguments: object, cwd: Path | None = None) -> str:
    return run(program, *arguments, cwd=cwd).stdout.decode()


def complaints(program: str, *arguments: object) -> str:
    return run(program, *arguments).stderr.decode()


def left_out(reasons: list[str]) -> str:
    """One line on the checks that were left out for want of a program, by the ``reasons`` of all; empty for none."""
    packages = [reason.rpartition(" ")[2] for reason in reasons if LEFT_OUT in reason]
    if not packages:
        return ""
    return f"left out {len(packages)} checks with programs that are not here: {', '.join(sorted(set(packages)))}"
