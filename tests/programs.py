"""Programs that read and draw printed files; one that is not there fails the test that needs it."""

from __future__ import annotations

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


def run(program: str, *arguments: object, cwd: Path | None = None) -> subprocess.CompletedProcess[bytes]:
    """The program's output, once it has ended well."""
    found = shutil.which(program)
    if found is None:
        package = PACKAGES[program]
        pytest.fail(
            f"The program {program} is missing: it comes with Debian's package {package}. "
            f"Try: sudo apt-get install {package}",
            pytrace=False,
        )
    done = subprocess.run([found, *map(str, arguments)], capture_output=True, cwd=cwd, timeout=120, check=False)
    assert done.returncode == 0, f"{program} ended with {done.returncode}: {done.stderr.decode()}"
    return done


def said(program: str, *arguments: object, cwd: Path | None = None) -> str:
    return run(program, *arguments, cwd=cwd).stdout.decode()


def complaints(program: str, *arguments: object) -> str:
    return run(program, *arguments).stderr.decode()
