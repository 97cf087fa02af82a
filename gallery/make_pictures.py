"""Print every job of the gallery and draw its pages as pictures beside it.

Run it with the project's environment: ``python gallery/make_pictures.py``. It needs pdftoppm (Debian: poppler-utils)
for the pages and a Chromium for the strips in one piece (Debian: chromium).
"""

from __future__ import annotations

import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

import storystick

GALLERY = Path(__file__).parent
PAGE_DPI = "80"
LAST_PAGE = "7"
CHROMIUM = ("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars")


def main() -> None:
    """Draw all of them."""
    for job_file in (folder / f"{folder.name}.toml" for folder in sorted(GALLERY.iterdir()) if folder.is_dir()):
        print(job_file.relative_to(GALLERY))
        with TemporaryDirectory() as folder:
            layout = storystick.lay_out(storystick.load(job_file))
            files = storystick.print_job(layout, folder)
            for old in job_file.parent.glob("*.png"):
                old.unlink()
            for file in files:
                picture = job_file.parent / file.stem
                if file.suffix == ".pdf":
                    draw_pages(file, picture)
            draw_strip(next(file for file in files if file.suffix == ".svg"), job_file.parent)


def draw_pages(pdf: Path, picture: Path) -> None:
    """The first pages of a PDF as grey pictures, numbered."""
    subprocess.run(["pdftoppm", "-r", PAGE_DPI, "-l", LAST_PAGE, "-gray", "-png", pdf, picture], check=True)


def draw_strip(svg: Path, folder: Path) -> None:
    """The beginning of a strip in one piece, as a browser shows it."""
    with TemporaryDirectory() as profile:
        command = [*CHROMIUM, f"--user-data-dir={profile}", "--window-size=1100,220"]
        picture = folder / f"{svg.stem}.png"
        subprocess.run([*command, f"--screenshot={picture}", svg.as_uri()], check=True, capture_output=True)


if __name__ == "__main__":
    main()
