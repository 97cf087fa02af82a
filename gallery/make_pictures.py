"""Print every job of the gallery and draw its pages as pictures beside it.

Run it with the project's environment: ``python gallery/make_pictures.py``, with the names of some jobs or for all. It
needs pdftoppm (Debian: poppler-utils) for the pages and a Chromium for the strips in one piece (Debian: chromium).
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import storystick
from storystick.job.job import PrintName
from storystick.job.papers import PAPERS, read_roll
from storystick.laying_out import as_printed
from storystick.lengths import Units
from storystick.printables import with_names
from storystick.sheets.calibration import calibration_document, calibration_sheet
from storystick.sheets.print_choices import ALL
from storystick.writers import writer_for

GALLERY = Path(__file__).parent
PAPER_FOLDER = GALLERY / "on-paper"
PAGE_DPI = "80"
ROLL_DPI = "40"
LAST_PAGE = "9"
ASKED_FOR = {"bead-chest": (PrintName.GLUE_UP, PrintName.BARS, PrintName.FIGURES)}
"""What is printed of a job besides what is usual."""

CHROMIUM = ("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars")


def main() -> None:
    """Draw the jobs named on the command line, or everything."""
    jobs = sorted(path for path in GALLERY.glob("*/*.toml") if path.stem == path.parent.name)
    wanted = sys.argv[1:] or [*(job.stem for job in jobs), PAPER_FOLDER.name]
    for job_file in (job for job in jobs if job.stem in wanted):
        print(job_file.relative_to(GALLERY))
        draw_job(job_file)
    if PAPER_FOLDER.name in wanted:
        draw_paper()


def draw_job(job_file: Path) -> None:
    """The pages of a job's print, and the beginning of its first strip in one piece."""
    with TemporaryDirectory() as folder:
        layout = storystick.load(job_file)
        more = ASKED_FOR.get(job_file.stem, ())
        files = storystick.print_job(layout, folder, with_names(layout, ALL, more, ()))
        for old in job_file.parent.glob("*.png"):
            old.unlink()
        for file in files:
            if file.suffix == ".pdf":
                draw_pages(file, job_file.parent / file.stem)
        draw_strip(next(file for file in files if file.suffix == ".svg"), job_file.parent)


def draw_paper() -> None:
    """A printer's test sheet, and a job's strips side by side on a roll."""
    PAPER_FOLDER.mkdir(exist_ok=True)
    with TemporaryDirectory() as folder:
        sheet = Path(folder) / "calibration.pdf"
        document = calibration_document(calibration_sheet(PAPERS["Letter"], Units.INCH))
        sheet.write_bytes(writer_for(".pdf")(document))
        draw_pages(sheet, PAPER_FOLDER / "calibration")
        layout = storystick.load(GALLERY / "choir-bookcase" / "choir-bookcase.toml")
        on_a_roll = as_printed(layout, read_roll("610", Units.MM), layout.job.hands)
        files = storystick.print_job(on_a_roll, folder)
        draw_pages(next(file for file in files if file.name == "strips.pdf"), PAPER_FOLDER / "roll", ROLL_DPI)


def draw_pages(pdf: Path, picture: Path, dpi: str = PAGE_DPI, last: str = LAST_PAGE) -> None:
    """The first pages of a PDF as grey pictures, numbered."""
    subprocess.run(["pdftoppm", "-r", dpi, "-l", last, "-gray", "-png", pdf, picture], check=True)


def draw_strip(svg: Path, folder: Path) -> None:
    """The beginning of a strip in one piece, as a browser shows it."""
    with TemporaryDirectory() as profile:
        command = [*CHROMIUM, f"--user-data-dir={profile}", "--window-size=1100,220"]
        picture = folder / f"{svg.stem}.png"
        subprocess.run([*command, f"--screenshot={picture}", svg.as_uri()], check=True, capture_output=True)


if __name__ == "__main__":
    main()
