"""Printed files as pictures by independent renderers, and where the ink in them lies to a fraction of a dot.

A dot that the edge of the ink goes through is grey by the share of it that is covered, so adding up grey levels finds
the edge within the dot. Places on a picture are in mm from its lower left corner.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from ctypes import string_at
from dataclasses import dataclass
from io import BytesIO
from math import ceil
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from programs import run
from pypdfium2 import raw
from readback import POINT_MM, pdfium
from resvg_py import svg_to_bytes

DPI: Final = 600
DOT_MM: Final = 25.4 / DPI

_SEEN: Final = 0.02
"""Less ink than this share of a dot is taken for none."""


@dataclass(frozen=True)
class Picture:
    """Grey levels, 0 black and 255 white, the uppermost row first."""

    grey: NDArray[Any]
    dots_per_mm: float

    def ink(self, left: float, right: float, bottom: float, top: float) -> tuple[NDArray[np.float64], int]:
        """The share of ink in every dot between the places, and which column comes first."""
        rows, columns = self.grey.shape
        first, last = max(round(left * self.dots_per_mm), 0), min(round(right * self.dots_per_mm), columns)
        above, below = (rows - round(height * self.dots_per_mm) for height in (top, bottom))
        return 1 - self.grey[above:below, first:last] / 255, first

    def wide_stretches(self, left: float, right: float, bottom: float, top: float) -> list[tuple[float, float]]:
        """Left and right of every stretch of ink wider than a line; its ends must be black."""
        ink, first = self.ink(left, right, bottom, top)
        row = np.pad(ink.mean(axis=0), 10)
        first -= 10
        turns = np.flatnonzero(np.diff((row > _SEEN).astype(int))) + 1
        wide = [(start, end) for start, end in zip(turns[::2], turns[1::2], strict=True) if end - start > self._dots(1)]
        deep = self._dots(0.28)
        return [
            (
                (first + start + deep - row[start - 2 : start + deep].sum()) / self.dots_per_mm,
                (first + end - deep + row[end - deep : end + 2].sum()) / self.dots_per_mm,
            )
            for start, end in wide
        ]

    def register_mark(self, x: float, edge: float) -> float:
        """The middle of the upright arm of the cross that is near a seam, just above a strip's marking edge.

        Only where to look is told: within 2 mm of ``x``, and up to 8 mm above ``edge``.
        """
        ink, first = self.ink(x - 2, x + 2, edge + 0.3, edge + 8)
        across = ink.sum(axis=1)
        level = round(np.flatnonzero(across > across.max() / 2).mean())
        near, far = self._dots(0.3), self._dots(2.3)
        arms = np.concatenate([ink[level - far : level - near], ink[level + near : level + far]]).mean(axis=0)
        around = slice(max(arms.argmax() - self._dots(0.35), 0), arms.argmax() + self._dots(0.35) + 1)
        columns, shares = np.arange(arms.size)[around] + 0.5, arms[around]
        assert arms.max() > 0.9, f"no register mark near {x:.1f} mm"
        assert abs(shares.sum() / self.dots_per_mm - 0.2) < 0.02, f"at {x:.1f} mm there is something else"
        return (first + float(columns @ shares / shares.sum())) / self.dots_per_mm

    def _dots(self, length: float) -> int:
        return int(length * self.dots_per_mm)


def by_pdfium(pdf: Path, page: int) -> Picture:
    """Drawn twice as fine along the sheet, and two dots taken for one: it widens every filled box to whole dots.

    A page that is not a whole number of dots is stretched to the next one.
    """
    with pdfium(pdf.read_bytes()) as document:
        sheet = document[page - 1]
        width, height = (ceil(side * DPI / 72) for side in sheet.get_size())
        bitmap = raw.FPDFBitmap_CreateEx(2 * width, height, raw.FPDFBitmap_Gray, None, 0)
        raw.FPDFBitmap_FillRect(bitmap, 0, 0, 2 * width, height, 0xFFFFFFFF)
        raw.FPDF_RenderPageBitmap(bitmap, sheet.raw, 0, 0, 2 * width, height, 0, raw.FPDF_GRAYSCALE)
        stride = raw.FPDFBitmap_GetStride(bitmap)
        halves = np.frombuffer(string_at(raw.FPDFBitmap_GetBuffer(bitmap), stride * height), np.uint8)
        raw.FPDFBitmap_Destroy(bitmap)
        halves = halves.reshape(height, stride)[:, : 2 * width]
        grey = np.add(halves[:, ::2], halves[:, 1::2], dtype=np.uint16) // 2
        return Picture(grey, width / (sheet.get_size()[0] * POINT_MM))


def by_mupdf(pdf: Path, page: int) -> Picture:
    drawn = run("mutool", "draw", "-q", "-N", "-r", DPI, "-c", "gray", "-F", "pgm", "-o", "-", pdf, page).stdout
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", drawn)
    assert header is not None
    grey = np.frombuffer(drawn, np.uint8, offset=header.end()).reshape(int(header[2]), int(header[1]))
    return Picture(grey, 1 / DOT_MM)


def by_poppler(pdf: Path, page: int) -> Picture:
    """By cairo: the renderer of pdftoppm moves every stroke and box to whole dots, and so each register mark."""
    with TemporaryDirectory() as folder:
        picture = Path(folder) / "page"
        tiff = ("-tiff", "-tiffcompression", "none", "-singlefile")
        run("pdftocairo", "-r", DPI, "-gray", *tiff, "-f", page, "-l", page, pdf, picture)
        return Picture(_grey(picture.with_suffix(".tif")), 1 / DOT_MM)


RENDERERS: Final[dict[str, Callable[[Path, int], Picture]]] = {
    "pdfium": by_pdfium,
    "MuPDF": by_mupdf,
    "poppler": by_poppler,
}
"""A page of a PDF, counted from 1, at 600 dots an inch."""

CSS_DPI: Final = 96
ZOOM: Final = 4

_GROUND: Final = (255, 0, 0)


def svg_by_chromium(svg: Path) -> Picture:
    """The file on a red page that is somewhat larger, of which all that is red beside it is cut off.

    It stands in the page itself: what an "img" shows is stretched to a whole number of CSS pixels.
    """
    drawing = svg.read_text(encoding="utf-8")
    with TemporaryDirectory() as folder:
        page, shot = Path(folder) / "page.html", Path(folder) / "shot.png"
        style = (
            f"<style>body {{ margin: 0; background: rgb{_GROUND} }} svg {{ display: block; background: white }}</style>"
        )
        page.write_text(
            f'<!doctype html><meta charset="utf-8">{style}{drawing[drawing.index("<svg") :]}', encoding="utf-8"
        )
        sides = (re.search(rf' {side}="([\d.]+)mm"', drawing) for side in ("width", "height"))
        window = ",".join(str(int(float(side[1]) * CSS_DPI / 25.4) + 20) for side in sides if side)
        run(
            "chromium",
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--hide-scrollbars",
            f"--user-data-dir={folder}/profile",
            f"--force-device-scale-factor={ZOOM}",
            f"--window-size={window}",
            f"--screenshot={shot}",
            page,
        )
        return Picture(_without_ground(np.asarray(Image.open(shot).convert("RGB"))), ZOOM * CSS_DPI / 25.4)


def _without_ground(colours: NDArray[Any]) -> NDArray[np.uint8]:
    drawn = (colours != np.array(_GROUND)).any(axis=2)
    height, width = (int(np.flatnonzero(drawn.any(axis=axis))[-1]) + 1 for axis in (1, 0))
    # On a red ground, green is what the picture itself puts there.
    return colours[:height, :width, 1]


def svg_by_rsvg(svg: Path) -> Picture:
    with TemporaryDirectory() as folder:
        picture = Path(folder) / "picture.png"
        dpi = ZOOM * CSS_DPI
        run("rsvg-convert", "--dpi-x", dpi, "--dpi-y", dpi, "-b", "white", "-o", picture, svg)
        return Picture(_grey(picture), dpi / 25.4)


def svg_by_resvg(svg: Path) -> Picture:
    dpi = ZOOM * CSS_DPI
    drawn = svg_to_bytes(svg_path=str(svg), dpi=dpi, background="white", skip_system_fonts=True)
    with Image.open(BytesIO(drawn)) as image:
        return Picture(np.asarray(image.convert("L")), dpi / 25.4)


SVG_RENDERERS: Final[dict[str, Callable[[Path], Picture]]] = {
    "resvg": svg_by_resvg,
    "Chromium": svg_by_chromium,
    "librsvg": svg_by_rsvg,
}
"""An SVG file with four dots for a CSS pixel of 1/96 in (CSS Values 4, 6.2)."""


def _grey(path: Path) -> NDArray[np.uint8]:
    with Image.open(path) as image:
        return np.asarray(image.convert("L"))
