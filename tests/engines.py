"""What independent programs and libraries say of a printed PDF: six engines, none of which wrote it.

Each engine has its own functions, and the tables at the end say which engine is asked for what. Pages count from 1,
lengths are in mm.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from ctypes import create_string_buffer
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, TypeAlias
from xml.etree import ElementTree

import pikepdf
import pypdf
from programs import complaints, run, said
from pypdfium2 import raw
from readback import POINT_MM, pdfium

Size: TypeAlias = tuple[float, float]
Entry: TypeAlias = tuple[str, int]
"""A title of the outline and its page."""


def _mm(*points: Any) -> Size:
    width, height = (float(number) * POINT_MM for number in points)
    return width, height


def pypdf_page_sizes(pdf: Path) -> list[Size]:
    return [_mm(*page.mediabox[2:]) for page in pypdf.PdfReader(pdf, strict=True).pages]


def pypdf_printing(pdf: Path) -> tuple[str, str]:
    wishes = pypdf.PdfReader(pdf, strict=True).viewer_preferences
    assert wishes is not None
    return str(wishes.print_scaling), str(wishes.duplex)


def pypdf_labels(pdf: Path) -> list[str]:
    return list(pypdf.PdfReader(pdf, strict=True).page_labels)


def pypdf_outline(pdf: Path) -> list[Entry]:
    reader = pypdf.PdfReader(pdf, strict=True)
    entries: list[Any] = reader.outline
    return [(entry.title, (reader.get_destination_page_number(entry) or 0) + 1) for entry in entries]


def pypdf_attachments(pdf: Path) -> dict[str, bytes]:
    attached = pypdf.PdfReader(pdf, strict=True).attachments
    return {name: data for name, versions in attached.items() for data in versions}


def pypdf_fonts(pdf: Path) -> dict[str, bool]:
    fonts = [
        font.get_object()
        for page in pypdf.PdfReader(pdf, strict=True).pages
        for font in page["/Resources"]["/Font"].values()
    ]
    return {font["/BaseFont"]: "/FontFile2" in font["/FontDescriptor"] for font in fonts}


def pdfium_page_sizes(pdf: Path) -> list[Size]:
    with pdfium(pdf.read_bytes()) as document:
        return [_mm(*page.get_size()) for page in document]


def pdfium_printing(pdf: Path) -> tuple[str, str]:
    with pdfium(pdf.read_bytes()) as document:
        scaling = raw.FPDF_VIEWERREF_GetPrintScaling(document)
        duplex = {raw.Simplex: "/Simplex", raw.DuplexUndefined: "undefined"}
        return "/AppDefault" if scaling else "/None", duplex[raw.FPDF_VIEWERREF_GetDuplex(document)]


def pdfium_labels(pdf: Path) -> list[str]:
    with pdfium(pdf.read_bytes()) as document:
        return [document.get_page_label(index) for index in range(len(document))]


def pdfium_outline(pdf: Path) -> list[Entry]:
    with pdfium(pdf.read_bytes()) as document:
        return [(entry.get_title(), entry.get_dest().get_index() + 1) for entry in document.get_toc()]


def pdfium_attachments(pdf: Path) -> dict[str, bytes]:
    with pdfium(pdf.read_bytes()) as document:
        attached = map(document.get_attachment, range(document.count_attachments()))
        return {file.get_name(): bytes(file.get_data()) for file in attached}


def pdfium_fonts(pdf: Path) -> dict[str, bool]:
    with pdfium(pdf.read_bytes()) as document:
        texts = (thing for page in document for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT]))
        return dict(_pdfium_font(raw.FPDFTextObj_GetFont(text.raw)) for text in texts)


def _pdfium_font(font: Any) -> tuple[str, bool]:
    name = create_string_buffer(200)
    raw.FPDFFont_GetBaseFontName(font, name, len(name))
    return name.value.decode(), raw.FPDFFont_GetIsEmbedded(font) == 1


def qpdf_page_sizes(pdf: Path) -> list[Size]:
    with pikepdf.open(pdf) as document:
        return [_mm(*list(page.mediabox)[2:]) for page in document.pages]


def qpdf_printing(pdf: Path) -> tuple[str, str]:
    with pikepdf.open(pdf) as document:
        wishes = document.Root.ViewerPreferences
        return str(wishes.PrintScaling), str(wishes.Duplex)


def qpdf_labels(pdf: Path) -> list[str]:
    with pikepdf.open(pdf) as document:
        return [page.label for page in document.pages]


def qpdf_outline(pdf: Path) -> list[Entry]:
    with pikepdf.open(pdf) as document, document.open_outline() as outline:
        return [(entry.title, pikepdf.Page(entry.destination[0]).index + 1) for entry in outline.root]


def qpdf_attachments(pdf: Path) -> dict[str, bytes]:
    with pikepdf.open(pdf) as document:
        return {name: file.get_file().read_bytes() for name, file in document.attachments.items()}


def qpdf_fonts(pdf: Path) -> dict[str, bool]:
    with pikepdf.open(pdf) as document:
        fonts = [font for page in document.pages for font in page.resources.Font.values()]
        return {str(font.BaseFont): "/FontFile2" in font.FontDescriptor for font in fonts}


def qpdf_complaints(pdf: Path) -> str:
    with pikepdf.open(pdf) as document:
        return "\n".join([*document.check_pdf_syntax(), *map(str, document.get_warnings())])


def mupdf_page_sizes(pdf: Path) -> list[Size]:
    boxes = re.findall(r'<MediaBox l="0" b="0" r="([\d.]+)" t="([\d.]+)"', said("mutool", "pages", pdf))
    return [_mm(*box) for box in boxes]


def mupdf_printing(pdf: Path) -> tuple[str, str]:
    scaling, duplex = (_mupdf_object(pdf, f"ViewerPreferences/{key}") for key in ("PrintScaling", "Duplex"))
    return scaling, duplex


def _mupdf_object(pdf: Path, place: str) -> str:
    """What stands at a place below the catalog; entries of an array count from 1, and beyond the last is "null"."""
    return said("mutool", "show", pdf, f"trailer/Root/{place}").strip()


def _mupdf_entries(pdf: Path, array: str, key: str) -> Iterator[tuple[int, str]]:
    """A key of every second entry of an array of pairs, and which entry it is of."""
    for entry in count(2, 2):
        found = _mupdf_object(pdf, f"{array}/{entry}/{key}")
        if found == "null":
            return
        yield entry, found.removeprefix("(").removesuffix(")")


def mupdf_labels(pdf: Path) -> list[str]:
    return [label for _, label in _mupdf_entries(pdf, "PageLabels/Nums", "P")]


def mupdf_outline(pdf: Path) -> list[Entry]:
    entries = re.findall(r'^\|\t"(.*)"\t#page=(\d+)', said("mutool", "show", pdf, "outline"), re.MULTILINE)
    return [(title, int(page)) for title, page in entries]


def mupdf_attachments(pdf: Path) -> dict[str, bytes]:
    names = "Names/EmbeddedFiles/Names"
    return {
        name: run("mutool", "show", "-b", pdf, f"trailer/Root/{names}/{entry}/EF/F").stdout
        for entry, name in _mupdf_entries(pdf, names, "UF")
    }


def mupdf_fonts(pdf: Path) -> dict[str, bool]:
    """It lists the fonts, and takes out those that are embedded: every one if there are as many."""
    names = re.findall(r"TrueType '(.*?)'", said("mutool", "info", "-F", pdf))
    with TemporaryDirectory() as folder:
        run("mutool", "extract", pdf.resolve(), cwd=Path(folder))
        embedded = len(list(Path(folder).glob("font-*")))
    return {name: embedded == len(names) for name in names}


def mupdf_complaints(pdf: Path) -> str:
    return complaints("mutool", "draw", "-q", "-N", "-r", 20, "-F", "pgm", "-o", "/dev/null", pdf)


def poppler_page_sizes(pdf: Path) -> list[Size]:
    """To six figures, which for the papers here is within 0.0005 mm."""
    sizes = re.findall(r"^Page +\d+ size: +([\d.]+) x ([\d.]+) pts", said("pdfinfo", "-l", -1, pdf), re.MULTILINE)
    return [_mm(*size) for size in sizes]


def poppler_outline(pdf: Path) -> list[Entry]:
    pages = ElementTree.fromstring(said("pdftohtml", "-xml", "-i", "-stdout", pdf))
    return [(item.text or "", int(item.attrib["page"])) for item in pages.iterfind("outline/item")]


def poppler_attachments(pdf: Path) -> dict[str, bytes]:
    with TemporaryDirectory() as folder:
        run("pdfdetach", "-saveall", "-o", folder, pdf)
        return {path.name: path.read_bytes() for path in Path(folder).iterdir()}


def poppler_fonts(pdf: Path) -> dict[str, bool]:
    _, _, *rows = said("pdffonts", pdf).splitlines()
    return {row.split()[0]: row.split()[-5] == "yes" for row in rows}


def poppler_complaints(pdf: Path) -> str:
    return complaints("pdfinfo", "-l", -1, pdf) + complaints("pdftocairo", "-r", 20, "-ps", pdf, "/dev/null")


def ghostscript_page_sizes(pdf: Path) -> list[Size]:
    boxes = f"({pdf}) (r) file runpdfbegin 1 1 pdfpagecount {{ pdfgetpage /MediaBox pget pop == }} for quit"
    listed = said("gs", "-q", "-dNODISPLAY", "-dBATCH", f"--permit-file-read={pdf}", "-c", boxes)
    return [_mm(*box) for box in re.findall(r"^\[0 0 ([\d.]+) ([\d.]+)\]", listed, re.MULTILINE)]


def ghostscript_complaints(pdf: Path) -> str:
    drawn = run("gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=nullpage", pdf)
    return (drawn.stdout + drawn.stderr).decode()


# What an engine has no way to report is left out: pdfium its complaints, pypdf too (its strict reading raises);
# poppler's programs the printing wishes and page labels; Ghostscript all but sizes and complaints.
PAGE_SIZES: Final[dict[str, Callable[[Path], list[Size]]]] = {
    "pypdf": pypdf_page_sizes,
    "pdfium": pdfium_page_sizes,
    "qpdf": qpdf_page_sizes,
    "MuPDF": mupdf_page_sizes,
    "poppler": poppler_page_sizes,
    "Ghostscript": ghostscript_page_sizes,
}
PRINTING: Final[dict[str, Callable[[Path], tuple[str, str]]]] = {
    "pypdf": pypdf_printing,
    "pdfium": pdfium_printing,
    "qpdf": qpdf_printing,
    "MuPDF": mupdf_printing,
}
LABELS: Final[dict[str, Callable[[Path], list[str]]]] = {
    "pypdf": pypdf_labels,
    "pdfium": pdfium_labels,
    "qpdf": qpdf_labels,
    "MuPDF": mupdf_labels,
}
OUTLINES: Final[dict[str, Callable[[Path], list[Entry]]]] = {
    "pypdf": pypdf_outline,
    "pdfium": pdfium_outline,
    "qpdf": qpdf_outline,
    "MuPDF": mupdf_outline,
    "poppler": poppler_outline,
}
ATTACHMENTS: Final[dict[str, Callable[[Path], dict[str, bytes]]]] = {
    "pypdf": pypdf_attachments,
    "pdfium": pdfium_attachments,
    "qpdf": qpdf_attachments,
    "MuPDF": mupdf_attachments,
    "poppler": poppler_attachments,
}
FONTS: Final[dict[str, Callable[[Path], dict[str, bool]]]] = {
    "pypdf": pypdf_fonts,
    "pdfium": pdfium_fonts,
    "qpdf": qpdf_fonts,
    "MuPDF": mupdf_fonts,
    "poppler": poppler_fonts,
}
COMPLAINTS: Final[dict[str, Callable[[Path], str]]] = {
    "qpdf": qpdf_complaints,
    "MuPDF": mupdf_complaints,
    "poppler": poppler_complaints,
    "Ghostscript": ghostscript_complaints,
}
