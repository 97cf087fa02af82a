"""A printed file beside its job: true however it was saved again, and caught whatever else was done to it.

What is done to a file here is done by other libraries, and what must be found is worked out by hand.
"""

from __future__ import annotations

import csv
import json
import re
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import pikepdf
import pypdf
import pytest
from click.testing import CliRunner
from jobs import GALLERY_JOBS, SEED_DRAWERS
from programs import run
from pypdf.annotations import FreeText
from readback import pdfium
from tampers import TAMPERS, tampered

from storystick.cli import main

POINT_MM: Final = 25.4 / 72
TOLERANCE_MM: Final = 0.001

PRINTER: Final = '\n[printer.office]\nalong = "1.0123"\nacross = "0.985"\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job for a printer that needs a correction, and one without, each printed."""
    folder = tmp_path_factory.mktemp("seed")
    for name, job, shop in (
        ("plain", SEED_DRAWERS, ""),
        ("corrected", 'printer = "office"' + SEED_DRAWERS, 'units = "mm"' + PRINTER),
    ):
        (folder / name).mkdir()
        (folder / name / "drawers.toml").write_text(job, encoding="utf-8")
        if shop:
            (folder / name / "shop.toml").write_text(shop, encoding="utf-8")
        prints(folder / name / "drawers.toml", folder / name / "out")
    return folder


@pytest.fixture
def strips(folder: Path) -> bytes:
    return (folder / "plain" / "out" / "strips.pdf").read_bytes()


def prints(job: Path, out: Path, *options: str) -> None:
    result = CliRunner().invoke(main, ["print", str(job), "-o", str(out), *options], catch_exceptions=False)
    assert result.exit_code == 0, result.output


def verified(data: bytes, tmp_path: Path, *options: str) -> dict[str, Any]:
    """What the command finds, with its exit status."""
    (tmp_path / "file.pdf").write_bytes(data)
    words = ["verify", str(tmp_path / "file.pdf"), "--format", "json", *options]
    result = CliRunner().invoke(main, words, catch_exceptions=False)
    found: dict[str, Any] = json.loads(result.stdout)
    assert result.exit_code == (0 if found["true_size"] else 1)
    assert found["true_size"] == all(check["ok"] for check in found["checks"])
    return found


def failing(found: dict[str, Any]) -> dict[str, str]:
    return {check["name"]: check["read"] for check in found["checks"] if not check["ok"]}


@contextmanager
def changing(data: bytes) -> Iterator[tuple[pikepdf.Pdf, BytesIO]]:
    """The file for pikepdf to change, and where it is saved at the end of the block."""
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        yield pdf, out
        pdf.save(out)


def with_content(data: bytes, change: Callable[[bytes], bytes], page: int = 0) -> bytes:
    """The file with the content of a page changed as text."""
    with changing(data) as (pdf, out):
        content = pdf.pages[page].Contents.read_bytes()
        changed = change(content)
        assert changed != content
        pdf.pages[page].Contents = pdf.make_stream(changed)
    return out.getvalue()


def transformed(data: bytes, a: float, d: float, e: float = 0.0, f: float = 0.0) -> bytes:
    """Every page's content under one transformation, the pages as they were."""
    with changing(data) as (pdf, out):
        for page in pdf.pages:
            page.contents_add(f"q {a} 0 0 {d} {e} {f} cm\n".encode(), prepend=True)
            page.contents_add(b"\nQ")
    return out.getvalue()


@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_every_pdf_of_the_gallery_is_true(job: Path, tmp_path: Path) -> None:
    prints(job, tmp_path / "out")
    files = sorted((tmp_path / "out").glob("*.pdf"))
    assert {"strips.pdf", "job-sheet.pdf"} <= {file.name for file in files}
    listing = json.loads(CliRunner().invoke(main, ["pages", str(job), "--format", "json"]).stdout)
    for file in files:
        found = verified(file.read_bytes(), tmp_path)
        assert failing(found) == {}
        assert found["largest_difference_mm"] < 1e-6
        assert (found["scale_x"], found["scale_y"]) == (1, 1)
        assert (found["file"], found["look_at"]) == (file.name, [])
        if file.name == "strips.pdf":
            wanted = [
                (sheet["number"], tile["stick"], tile["hand"], tile["tile"], tile["of"])
                for sheet in listing["sheets"]
                for tile in sheet["tiles"]
            ]
            tiles = [(tile["page"], *(tile[key] for key in ("stick", "hand", "tile", "of"))) for tile in found["tiles"]]
            assert tiles == wanted


@pytest.mark.parametrize("options", [["--only", "Side"], ["--paper", "A3"], ["--roll", "610"], ["--format", "pdf"]])
def test_print_with_other_choices_than_the_job_s_is_true(options: list[str], folder: Path, tmp_path: Path) -> None:
    prints(folder / "plain" / "drawers.toml", tmp_path / "out", *options)
    for file in (tmp_path / "out").glob("*.pdf"):
        assert failing(verified(file.read_bytes(), tmp_path)) == {}


def test_print_with_boards_is_true(tmp_path: Path) -> None:
    (job,) = (path for path in GALLERY_JOBS if path.stem == "bead-chest")
    board = "Chest divider 1, left face"
    prints(job, tmp_path / "out", "--only", "Chest side", "--board", board, "--format", "pdf")
    files = {file.name: file.read_bytes() for file in (tmp_path / "out").glob("*.pdf")}
    assert "templates.pdf" in files
    for data in files.values():
        assert failing(verified(data, tmp_path)) == {}
    assert "scale" in failing(verified(transformed(files["templates.pdf"], 0.999, 0.999), tmp_path))


@pytest.mark.parametrize("file", ["strips.pdf", "job-sheet.pdf"])
def test_print_with_a_printer_s_correction_is_true(file: str, folder: Path, tmp_path: Path) -> None:
    assert failing(verified((folder / "corrected" / "out" / file).read_bytes(), tmp_path)) == {}


def by_pypdf(data: bytes) -> bytes:
    writer = pypdf.PdfWriter(clone_from=BytesIO(data))
    for page in writer.pages:
        page.compress_content_streams()
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def by_pikepdf(**attributes: Any) -> Callable[[bytes], bytes]:
    def save(data: bytes) -> bytes:
        out = BytesIO()
        with pikepdf.open(BytesIO(data)) as pdf:
            pdf.save(out, **attributes)
        return out.getvalue()

    return save


def by_pdfium(data: bytes) -> bytes:
    out = BytesIO()
    with pdfium(data) as document:
        document.save(out)
    return out.getvalue()


def in_a_form(data: bytes) -> bytes:
    """Each page's content moved into a form of its own, with a matrix that the page undoes."""
    with changing(data) as (pdf, out):
        for page in pdf.pages:
            form = pdf.make_stream(page.Contents.read_bytes())
            form.Type, form.Subtype, form.Resources = pikepdf.Name.XObject, pikepdf.Name.Form, page.Resources
            form.BBox, form.Matrix = page.MediaBox, pikepdf.Array([2, 0, 0, 4, 10, -20])
            page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(Whole=pdf.make_indirect(form)))
            page.Contents = pdf.make_stream(b"q 0.5 0 0 0.25 -5 5 cm /Whole Do Q")
    return out.getvalue()


def in_pieces(data: bytes) -> bytes:
    """Content in two streams, with a box in four lines, its corners named from another one on."""
    with changing(data) as (pdf, out):
        for page in pdf.pages:
            content = re.sub(rb"(\S+) (\S+) (\S+) (\S+) re f", _around, page.Contents.read_bytes())
            middle = content.index(b"\n", len(content) // 2)
            page.Contents = pdf.make_indirect(
                pikepdf.Array([pdf.make_stream(content[:middle]), pdf.make_stream(content[middle:])])
            )
    return out.getvalue()


def _around(box: re.Match[bytes]) -> bytes:
    x, y, width, height = map(float, box.groups())
    corners = ((x + width, y), (x, y), (x, y + height), (x + width, y + height))
    first, *others = (f"{right:.6f} {up:.6f}" for right, up in corners)
    return " ".join([first, "m", *(f"{corner} l" for corner in others), "h f"]).encode()


def counter_turned(data: bytes) -> bytes:
    """Every page turned by a quarter, and its content turned back: it looks as before."""
    with changing(data) as (pdf, out):
        for page in pdf.pages:
            width, height = float(page.MediaBox[2]), float(page.MediaBox[3])
            page.contents_add(f"q 0 1 -1 0 {height} 0 cm\n".encode(), prepend=True)
            page.contents_add(b"\nQ")
            page.MediaBox, page.Rotate = pikepdf.Array([0, 0, height, width]), 90
    return out.getvalue()


def elsewhere(data: bytes) -> bytes:
    """Page boxes that do not begin at 0, with the content moved along."""
    with changing(transformed(data, 1, 1, 300, -200)) as (pdf, out):
        for page in pdf.pages:
            page.MediaBox = pikepdf.Array([300, -200, float(page.MediaBox[2]) + 300, float(page.MediaBox[3]) - 200])
    return out.getvalue()


@pytest.mark.parametrize(
    "save",
    [
        by_pypdf,
        by_pdfium,
        by_pikepdf(linearize=True),
        by_pikepdf(object_stream_mode=pikepdf.ObjectStreamMode.generate),
        by_pikepdf(compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.generalized),
        by_pikepdf(normalize_content=True, qdf=True),
        in_a_form,
        in_pieces,
        counter_turned,
        elsewhere,
    ],
    ids=["pypdf", "pdfium", "linear", "object streams", "plain", "normal", "form", "pieces", "turned", "elsewhere"],
)
def test_print_that_was_saved_again_is_still_true(
    save: Callable[[bytes], bytes], strips: bytes, folder: Path, tmp_path: Path
) -> None:
    for data in (strips, (folder / "plain" / "out" / "job-sheet.pdf").read_bytes()):
        found = verified(save(data), tmp_path)
        assert failing(found) == {}
        assert found["largest_difference_mm"] < TOLERANCE_MM


DROPPED: Final = "the print dialog, and set 100 % (actual size) and one side: the file does not ask for that any more"
PROGRAMS: Final[dict[str, tuple[list[str], list[str]]]] = {
    "MuPDF": (["mutool", "clean", "-gggz", "-s"], []),
    "MuPDF, as letters": (["mutool", "clean", "-a"], []),
    "Ghostscript": (["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", "-o"], [DROPPED]),
}
"""What saves a file again, and what is told of it then: Ghostscript drops what it asks of a viewer."""


def saved_by(program: str, source: Path, folder: Path) -> bytes:
    words, saved = PROGRAMS[program][0], folder / "saved.pdf"
    run(*words, *((source, saved) if words[0] == "mutool" else (saved, source)))
    return saved.read_bytes()


@pytest.mark.parametrize("file", ["strips.pdf", "job-sheet.pdf"])
@pytest.mark.parametrize("program", PROGRAMS)
def test_print_that_another_program_saved_again_is_true(program: str, file: str, folder: Path, tmp_path: Path) -> None:
    found = verified(saved_by(program, folder / "plain" / "out" / file, tmp_path), tmp_path)
    assert failing(found) == {}
    assert found["largest_difference_mm"] < TOLERANCE_MM
    assert found["look_at"] == PROGRAMS[program][1]


MOVED: Final = {"boot-room", "map-room", "plan-chest"}
"""Marks of these strips Ghostscript 10.00 moves by up to 0.0018 mm."""


@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_strips_of_the_gallery_are_true_through_ghostscript_but_for_marks_that_it_moved(
    job: Path, tmp_path: Path
) -> None:
    prints(job, tmp_path / "out")
    saved = saved_by("Ghostscript", tmp_path / "out" / "strips.pdf", tmp_path)
    found = verified(saved, tmp_path, "--trusted")  # on a busy machine the largest would take too long
    assert found["look_at"] == [DROPPED]
    assert list(failing(found)) == (["ink"] if job.stem in MOVED else [])
    assert bool(re.search(r"0\.001\d mm from its place", found["verdict"])) == (job.stem in MOVED)
    assert (found["largest_difference_mm"] > TOLERANCE_MM) == (job.stem in MOVED)


@pytest.mark.parametrize(("along", "across"), [(0.97, 0.97), (1.03, 1.03), (0.941, 0.941), (1, 0.97), (0.995, 1)])
def test_content_that_was_scaled_is_caught_with_its_percentage(
    along: float, across: float, strips: bytes, tmp_path: Path
) -> None:
    """As a viewer does that fits a page to a smaller one: about the middle of the page."""
    with pikepdf.open(BytesIO(strips)) as pdf:
        width, height = map(float, pdf.pages[0].MediaBox[2:])
    shift = (width * (1 - along) / 2, height * (1 - across) / 2)
    found = verified(transformed(strips, along, across, *shift), tmp_path)
    assert found["scale_x"] == pytest.approx(along, abs=1e-6)
    assert found["scale_y"] == pytest.approx(across, abs=1e-6)
    assert "scale" in failing(found)
    assert found["verdict"].startswith("NOT full size: ")
    assert f"{100 * along:.1f} % along, {100 * across:.1f} % across" in found["verdict"]
    # The farthest ink lies within a page's half from its middle, and beyond a third of it.
    farthest = max(width * abs(1 - along), height * abs(1 - across)) / 2 * POINT_MM
    assert 2 / 3 * farthest < found["largest_difference_mm"] <= 1.5 * farthest
    assert all(row["on_its_page_mm"] < 1e-5 for row in found["tiles"])


@pytest.mark.parametrize("file", ["strips.pdf", "job-sheet.pdf"])
@pytest.mark.parametrize("name", ["plain", "corrected"])
def test_page_that_was_scaled_with_its_box_is_caught(name: str, file: str, folder: Path, tmp_path: Path) -> None:
    writer = pypdf.PdfWriter(clone_from=folder / name / "out" / file)
    for page in writer.pages:
        page.scale_by(0.97)
    out = BytesIO()
    writer.write(out)
    found = verified(out.getvalue(), tmp_path)
    assert (found["scale_x"], found["scale_y"]) == pytest.approx((0.97, 0.97), abs=1e-5)
    assert {"scale", "page boxes"} <= set(failing(found))
    assert '97.0 % along, 97.0 % across, as "fit to page" does' in found["verdict"]


def test_along_is_the_longer_side_of_the_page(folder: Path, tmp_path: Path) -> None:
    """The pages of a job sheet stand upright."""
    found = verified(transformed((folder / "plain" / "out" / "job-sheet.pdf").read_bytes(), 0.98, 1), tmp_path)
    assert "100.0 % along, 98.0 % across" in found["verdict"]


def test_one_page_of_several_that_was_scaled_is_caught(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        assert len(pdf.pages) > 1
        pdf.pages[1].contents_add(b"q 0.98 0 0 0.98 0 0 cm\n", prepend=True)
        pdf.pages[1].contents_add(b"\nQ")
    found = verified(out.getvalue(), tmp_path)
    assert "on 1 page of" in failing(found)["scale"]
    assert [row["true_size"] for row in found["tiles"]] == [row["page"] != 2 for row in found["tiles"]]


def test_unit_that_makes_all_larger_is_caught(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        for page in pdf.pages:
            page.UserUnit = 1.5
    found = verified(out.getvalue(), tmp_path)
    assert (found["scale_x"], found["scale_y"]) == pytest.approx((1.5, 1.5), abs=1e-6)
    assert "has a unit of 1.5 points" in failing(found)["page boxes"]


def test_page_that_was_shifted_is_told_from_one_that_was_scaled(strips: bytes, tmp_path: Path) -> None:
    found = verified(transformed(strips, 1, 1, 3 / POINT_MM, -2 / POINT_MM), tmp_path)
    assert (found["scale_x"], found["scale_y"]) == (1, 1)
    assert list(failing(found)) == ["position"]
    assert "shifted by 3.000 mm to the right and -2.000 mm up" in found["verdict"]
    assert "though full size" in found["verdict"]
    assert found["largest_difference_mm"] == pytest.approx(13**0.5, abs=1e-4)


def bands(content: bytes) -> list[re.Match[bytes]]:
    """The grey bands of a page, each a box."""
    return list(re.finditer(rb"0\.86 g (\S+) (\S+) (\S+) (\S+) re f", content))


@pytest.mark.parametrize("nth", [0, 2, 5])
def test_band_that_was_moved_a_twentieth_of_a_mm_is_caught_and_named(
    nth: int, strips: bytes, folder: Path, tmp_path: Path
) -> None:
    """Which part it is follows from the listing of the pages, and from thickness and openings added up here."""
    band: list[float] = []

    def move(content: bytes) -> bytes:
        found = bands(content)[nth]
        band.extend(float(number) * POINT_MM for number in found.groups())
        moved = f"0.86 g {float(found[1]) + 0.05 / POINT_MM:.6f} ".encode()
        return content[: found.start()] + moved + content[found.start(2) :]

    found = verified(with_content(strips, move), tmp_path)
    words = ["pages", str(folder / "plain" / "drawers.toml"), "--format", "json"]
    listing = json.loads(CliRunner().invoke(main, words).stdout)
    (tile,) = (tile for tile in listing["sheets"][0]["tiles"] if abs(tile["y_mm"] - band[1]) < 1e-3 and _on(tile, band))
    station = tile["start_mm"] + tile["direction"] * (band[0] + band[2] / 2 - tile["x_mm"])
    starts = [0.0]
    for opening in (120, 130, 140, 150, 160):
        starts.append(starts[-1] + 18.3 + opening)
    number = next(number for number, start in enumerate(starts, 1) if start <= station <= start + 18.3)
    assert list(failing(found)) == ["ink"]
    (row,) = (row for row in found["tiles"] if not row["true_size"])
    assert row["largest_difference_mm"] == pytest.approx(0.05, abs=1e-5)
    assert (row["stick"], row["hand"], row["tile"]) == (tile["stick"], tile["hand"], tile["tile"])
    assert re.fullmatch(rf"part .*{number}", row["at"])
    assert f"tile {tile['tile']} of {tile['of']}, {row['at']}: 0.050 mm from its place" in found["verdict"]


@pytest.mark.parametrize("nth", [0, 3, 5])
@pytest.mark.parametrize(("off_mm", "true"), [(0.0005, True), (0.001, False), (-0.001, False)])
def test_band_that_was_moved_by_a_thousandth_of_a_mm_is_caught_and_by_half_of_that_is_true(
    off_mm: float, true: bool, nth: int, strips: bytes, tmp_path: Path
) -> None:
    def move(content: bytes) -> bytes:
        band = bands(content)[nth]
        moved = f"0.86 g {float(band[1]) + off_mm / POINT_MM:.7f} ".encode()
        return content[: band.start()] + moved + content[band.start(2) :]

    found = verified(with_content(strips, move), tmp_path)
    assert list(failing(found)) == ([] if true else ["ink"])
    assert found["largest_difference_mm"] == pytest.approx(abs(off_mm), abs=5e-5)
    assert true or "0.0010 mm from its place" in found["verdict"]


def _on(tile: dict[str, Any], band: list[float]) -> bool:
    ends = sorted((tile["x_mm"], tile["x_mm"] + tile["direction"] * (tile["end_mm"] - tile["start_mm"])))
    return bool(ends[0] - 1 < band[0] < ends[1] + 1)


def test_band_that_is_missing_is_caught(strips: bytes, tmp_path: Path) -> None:
    def take(content: bytes) -> bytes:
        band = bands(content)[1]
        return content[: band.start()] + content[band.end() :]

    found = verified(with_content(strips, take), tmp_path)
    assert list(failing(found)) == ["ink"]
    (row,) = (row for row in found["tiles"] if row["missing"])
    assert (row["missing"], row["added"], row["true_size"]) == (1, 0, False)
    assert row["at"].startswith("part ")
    assert "1 missing" in found["verdict"]


def test_band_that_was_added_on_a_tile_is_caught(strips: bytes, tmp_path: Path) -> None:
    def add(content: bytes) -> bytes:
        band = bands(content)[1]
        again = f"0.86 g {float(band[1]) + 40:.6f} ".encode() + content[band.start(2) : band.end()]
        return content + b"\n" + again

    found = verified(with_content(strips, add), tmp_path)
    assert list(failing(found)) == ["ink"]
    assert "1 added" in found["verdict"]


def test_ink_that_a_clipping_path_cuts_off_is_missing(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.pages[0].contents_add(b"q 0 0 300 9999 re W n\n", prepend=True)
        pdf.pages[0].contents_add(b"\nQ")
    assert "missing" in failing(verified(out.getvalue(), tmp_path))["ink"]


@pytest.mark.parametrize(
    "outline",
    [
        b"0 0 m 0 9999 l 9999 9999 l h",
        b"0 0 m 0 9999 l 9999 0 l 9999 9999 l h",
        b"0 0 m 0 9999 l 9999 9999 l 9999 0 9999 0 5000 0 c h",
        b"0 0 m 0 9999 9999 9999 9999 0 c h",
        b"0 0 10 10 re 9000 9000 10 10 re",
    ],
    ids=["triangle", "hourglass", "curve", "corners of a rectangle", "two"],
)
def test_ink_within_a_clipping_path_that_is_no_rectangle_does_not_count(
    outline: bytes, strips: bytes, tmp_path: Path
) -> None:
    """The rectangle around each of the outlines holds the whole page."""
    clipped = with_content(strips, lambda content: b"q " + outline + b" W n\n" + content + b"\nQ")
    found = verified(clipped, tmp_path)
    assert "missing" in failing(found)["ink"]
    assert all(row["missing"] and row["added"] for row in found["tiles"] if row["page"] == 1)
    whole = with_content(strips, lambda content: b"q 0 0 m 9000 0 l 9000 9000 l 0 9000 l W n\n" + content + b"\nQ")
    assert failing(verified(whole, tmp_path)) == {}


def test_ink_within_letters_that_clip_does_not_count(strips: bytes, tmp_path: Path) -> None:
    clipped = with_content(strips, lambda content: b"q BT /F1+0 9 Tf 7 Tr (8) Tj ET\n" + content + b"\nQ")
    assert "missing" in failing(verified(clipped, tmp_path))["ink"]


States = Callable[[pikepdf.Object], dict[str, Any]]
"""What a file says of the states of its layers, of which it has one."""


def off(layer: pikepdf.Object) -> dict[str, Any]:
    return {"/OFF": [layer]}


LAYER_STATES: Final[list[tuple[States, bool]]] = [
    (off, False),
    (lambda layer: {"/OFF": [layer], "/ON": [layer]}, False),
    (lambda _: {"/BaseState": pikepdf.Name.OFF}, False),
    (lambda layer: {"/BaseState": pikepdf.Name.OFF, "/ON": [layer]}, True),
    (lambda _: {}, True),
]


def with_layer(data: bytes, states: States, membership: States | None = None) -> tuple[pikepdf.Pdf, BytesIO]:
    """The file with a layer called /Layer on its first page, or with a membership in that."""
    pdf, out = pikepdf.open(BytesIO(data)), BytesIO()
    layer = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name="layer"))
    pdf.Root.OCProperties = pikepdf.Dictionary(OCGs=[layer], D=pikepdf.Dictionary(states(layer)))
    named = {"/Type": pikepdf.Name.OCMD, **membership(layer)} if membership else layer
    pdf.pages[0].Resources.Properties = pikepdf.Dictionary(Layer=named)
    return pdf, out


@pytest.mark.parametrize(("states", "shows"), LAYER_STATES)
@pytest.mark.parametrize("way", ["content", "form"])
def test_ink_of_a_layer_counts_only_where_it_shows(
    way: str, states: States, shows: bool, strips: bytes, tmp_path: Path
) -> None:
    pdf, out = with_layer(in_a_form(strips) if way == "form" else strips, states)
    page = pdf.pages[0]
    if way == "form":
        page.Resources.XObject.Whole.OC = page.Resources.Properties.Layer
    else:
        page.contents_add(b"/OC /Layer BDC /Other BMC\n", prepend=True)
        page.contents_add(b"\nEMC EMC")
    pdf.save(out)
    wrong = failing(verified(out.getvalue(), tmp_path))
    assert (wrong == {}) == shows
    assert ("looks otherwise" in wrong.get("pictures", "")) == (not shows)


@pytest.mark.parametrize(
    ("rule", "shows"),
    [
        (lambda layer: {"/OCGs": [layer]}, False),
        (lambda layer: {"/OCGs": layer, "/P": pikepdf.Name.AllOn}, False),
        (lambda layer: {"/OCGs": [layer], "/P": pikepdf.Name.AnyOff}, True),
        (lambda layer: {"/OCGs": [layer], "/P": pikepdf.Name.AllOff}, True),
        (lambda _: {"/OCGs": []}, True),
        (lambda layer: {"/VE": [pikepdf.Name.Not, layer]}, True),
    ],
)
def test_membership_in_layers_follows_its_rule(rule: States, shows: bool, strips: bytes, tmp_path: Path) -> None:
    """The group is off."""
    pdf, out = with_layer(strips, off, rule)
    pdf.pages[0].contents_add(b"/OC /Layer BDC\n", prepend=True)
    pdf.pages[0].contents_add(b"\nEMC")
    pdf.save(out)
    assert (failing(verified(out.getvalue(), tmp_path)) == {}) == shows


def test_what_a_hidden_layer_would_cover_is_told_as_added(strips: bytes, tmp_path: Path) -> None:
    """A viewer shows it on a click."""
    pdf, out = with_layer(strips, off)
    pdf.pages[0].contents_add(b"\n/OC /Layer BDC 1 g 0 0 2000 2000 re f EMC")
    pdf.save(out)
    assert "1 added" in failing(verified(out.getvalue(), tmp_path))["ink"]


@pytest.mark.parametrize(
    "cover",
    [
        b"1 g -50 -50 2000 2000 re f",
        b"1 g 0 0 m 800 0 l 800 600 l 0 600 0 500 0 0 c f",
        b"q 800 0 0 600 0 0 cm BI /W 1 /H 1 /CS /G /BPC 8 ID \xff EI Q",
    ],
    ids=["beyond the page", "curve", "picture"],
)
def test_what_covers_tiles_is_caught(cover: bytes, strips: bytes, tmp_path: Path) -> None:
    """None of it is a figure that lies whole on the page; all of it hides the marks."""
    found = verified(with_content(strips, lambda content: content + b"\n" + cover), tmp_path)
    assert list(failing(found)) == ["ink"]
    assert all(row["added"] == 1 for row in found["tiles"] if row["page"] == 1)


@pytest.mark.parametrize("settings", [{"/ca": 0.5, "/CA": 0.5}, {"/SMask": pikepdf.Dictionary(S=pikepdf.Name.Alpha)}])
def test_ink_that_was_made_transparent_is_missing(settings: dict[str, Any], strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.pages[0].Resources.ExtGState = pikepdf.Dictionary(Pale=pikepdf.Dictionary(settings))
        pdf.pages[0].contents_add(b"/Pale gs\n", prepend=True)
    assert "missing" in failing(verified(out.getvalue(), tmp_path))["ink"]


@pytest.mark.parametrize(
    ("before", "said"),
    [
        (b"1 g", '"120" is missing'),
        (b"7 Tr", '"120" is missing'),
        (b"/F1+0 1 Tf", '"120" looks otherwise'),
        (b"0 1 -1 0 300 300 Tm", '"120" is missing'),
        (b"50 Tz", '"120" looks otherwise'),
    ],
    ids=["white", "unseen", "tiny", "turned", "narrow"],
)
def test_words_that_cannot_be_read_any_more_are_told(before: bytes, said: str, strips: bytes, tmp_path: Path) -> None:
    def change(content: bytes) -> bytes:
        return content.replace(b"(120) Tj", b"q " + before + b" (120) Tj Q", 1)

    found = verified(with_content(strips, change), tmp_path)
    assert said in failing(found)["words"]
    assert ("ink" in failing(found)) == (b"Tm" in before)


def test_what_others_stamp_beside_the_tiles_is_only_told(strips: bytes, tmp_path: Path) -> None:
    writer = pypdf.PdfWriter(clone_from=BytesIO(strips))
    writer.add_annotation(0, FreeText(text="approved", rect=(2, 300, 22, 340)))
    out = BytesIO()
    writer.write(out)
    found = verified(with_content(out.getvalue(), lambda content: content + b"\n0 g 1 1 5 5 re f", page=1), tmp_path)
    assert failing(found) == {}
    assert len(found["look_at"]) == 2
    assert "note or stamp" in found["look_at"][0]
    assert "1 line, area or picture" in found["look_at"][1]


def test_ink_that_was_added_twice_beside_the_tiles_and_on_one_is_counted_piece_by_piece(
    strips: bytes, tmp_path: Path
) -> None:
    def add(content: bytes) -> bytes:
        x, y, _, _ = bands(content)[1].groups()
        on_the_tile = b"\n0 g " + x + b" " + y + b" 5 5 re f"
        return content + 2 * on_the_tile + 3 * b"\n0 g 1 1 5 5 re f"

    found = verified(with_content(strips, add), tmp_path)
    assert sum(row["added"] for row in found["tiles"]) == 2
    assert [look.split(" added ")[1] for look in found["look_at"]] == ["3 × line, area or picture"]


def on_the_first_tile(data: bytes) -> tuple[float, float]:
    """The middle of a band, in points of the page."""
    with pikepdf.open(BytesIO(data)) as pdf:
        x, y, width, height = map(float, bands(pdf.pages[0].Contents.read_bytes())[0].groups())
    return x + width / 2, y + height / 2


@pytest.mark.parametrize(("left", "on_it"), [(-10, True), (-400, False)])
def test_note_on_a_tile_makes_the_print_false(left: float, on_it: bool, strips: bytes, tmp_path: Path) -> None:
    x, y = on_the_first_tile(strips)
    writer = pypdf.PdfWriter(clone_from=BytesIO(strips))
    writer.add_annotation(0, FreeText(text="cut here", rect=(x + left, y - 3, x + left + 20, y + 3)))
    out = BytesIO()
    writer.write(out)
    found = verified(out.getvalue(), tmp_path)
    assert ("1 added" in failing(found).get("ink", "")) == on_it
    assert [look for look in found["look_at"] if "1 note or stamp" in look] == found["look_at"]
    assert bool(found["look_at"]) != on_it


def test_note_that_does_not_say_where_it_lies_makes_the_print_false(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.pages[0].Annots = pikepdf.Array([pikepdf.Dictionary(Subtype=pikepdf.Name.Text)])
    assert all(row["added"] == (row["page"] == 1) for row in verified(out.getvalue(), tmp_path)["tiles"])


@pytest.mark.parametrize("start", [0.0, -40.0])
def test_words_that_were_added_on_a_tile_make_the_print_false(start: float, strips: bytes, tmp_path: Path) -> None:
    """Those as well that only reach onto it: the tile's edge is less than 40 points to the left of its first band."""
    x, y = on_the_first_tile(strips)
    words = f"\nBT /F1+0 9.5 Tf 1 0 0 1 {x + start} {y - 3} Tm (120 120 120 120) Tj ET".encode()
    found = verified(with_content(strips, lambda content: content + words), tmp_path)
    assert re.search("[1-4] added", failing(found)["ink"])
    assert found["look_at"] == []
    beside = f"\nBT /F1+0 9.5 Tf 1 0 0 1 {x} 2 Tm (120) Tj ET".encode()
    found = verified(with_content(strips, lambda content: content + beside), tmp_path)
    assert failing(found) == {}
    assert "1 word" in found["look_at"][0]


@pytest.mark.parametrize("cap", [1, 2])
@pytest.mark.parametrize("way", ["operator", "settings"])
def test_lines_that_end_farther_out_are_caught(way: str, cap: int, strips: bytes, tmp_path: Path) -> None:
    """A round or a square cap makes a line longer by half its width at either end."""
    with changing(strips) as (pdf, out):
        pdf.pages[0].Resources.ExtGState = pikepdf.Dictionary(Long=pikepdf.Dictionary(LC=cap))
        before = f"{cap} J\n" if way == "operator" else "/Long gs\n"
        pdf.pages[0].contents_add(before.encode(), prepend=True)
    assert "missing" in failing(verified(out.getvalue(), tmp_path))["ink"]


def test_line_that_was_made_bolder_is_caught(strips: bytes, tmp_path: Path) -> None:
    """A line is struck at its middle, but its edges are what shows."""
    found = verified(with_content(strips, lambda content: content.replace(b"0.510236 w", b"1.510236 w", 1)), tmp_path)
    (row,) = (row for row in found["tiles"] + found["pages"] if not row["true_size"])
    assert row["largest_difference_mm"] == pytest.approx(0.5 * POINT_MM, abs=1e-5)


@pytest.mark.parametrize(
    ("kept", "told"),
    [
        ([], DROPPED),
        (["PrintScaling"], DROPPED.replace("100 % (actual size) and ", "")),
        (["Duplex"], DROPPED.replace(" and one side", "")),
    ],
)
def test_what_a_file_no_longer_asks_of_a_viewer_is_only_told(
    kept: list[str], told: str, strips: bytes, tmp_path: Path
) -> None:
    with changing(strips) as (pdf, out):
        asked = pdf.Root.ViewerPreferences
        pdf.Root.ViewerPreferences = pikepdf.Dictionary({f"/{key}": asked[f"/{key}"] for key in kept})
    found = verified(out.getvalue(), tmp_path)
    assert failing(found) == {}
    assert found["look_at"] == [told]


@pytest.mark.parametrize(
    ("preferences", "said"),
    [
        (pikepdf.Dictionary(PrintScaling=pikepdf.Name.AppDefault, Duplex=pikepdf.Name.Simplex), "AppDefault"),
        (pikepdf.Dictionary(PrintScaling="/None", Duplex=pikepdf.Name.DuplexFlipLongEdge), "DuplexFlipLongEdge"),
    ],
)
def test_file_that_asks_for_another_size_or_two_sides_is_caught(
    preferences: pikepdf.Dictionary, said: str, strips: bytes, tmp_path: Path
) -> None:
    with changing(strips) as (pdf, out):
        pdf.Root.ViewerPreferences = preferences
    assert said in failing(verified(out.getvalue(), tmp_path))["viewer preferences"]


def test_page_that_was_cropped_is_caught(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        page = pdf.pages[0]
        page.CropBox = pikepdf.Array([20, 20, float(page.MediaBox[2]), float(page.MediaBox[3])])
    found = verified(out.getvalue(), tmp_path)
    assert "page 1 is" in failing(found)["page boxes"]
    assert "is cropped" in failing(found)["page boxes"]
    assert "shifted by -7.056 mm to the right and -7.056 mm up" in failing(found)["position"]


@pytest.mark.parametrize("degrees", [90, 180, 270])
def test_page_that_was_turned_is_caught_and_still_full_size(degrees: int, strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.pages[0].rotate(degrees, relative=True)
    found = verified(out.getvalue(), tmp_path)
    assert list(failing(found)) == ["page boxes"]
    assert f"page 1 is turned by {degrees} degrees" in found["verdict"]
    assert found["largest_difference_mm"] < TOLERANCE_MM


def test_page_that_is_missing_is_named_and_the_rest_still_compared(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        del pdf.pages[0]
    found = verified(out.getvalue(), tmp_path)
    assert "missing: strips 1" in failing(found)["pages"]
    assert "ink" not in failing(found)
    assert {row["sheet"] for row in found["tiles"]} == {"strips 2"}


def test_pages_in_another_order_are_told(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.pages.reverse()
    found = verified(out.getvalue(), tmp_path)
    assert "in another order: strips 2; strips 1" in failing(found)["pages"]
    assert "ink" not in failing(found)


def test_page_of_another_file_is_told(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.add_blank_page(page_size=pdf.pages[0].mediabox[2:])
        pdf.pages.insert(1, pdf.pages[-1])
        del pdf.pages[-1]
    assert "added: page 2" in failing(verified(out.getvalue(), tmp_path))["pages"]


@pytest.mark.parametrize(("added", "compared"), [(100, True), (101, False), (1900, False)])
def test_file_with_very_many_pages_is_false_at_once(added: int, compared: bool, strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        for _ in range(added):
            pdf.pages.append(pdf.pages[0])
    began = time.process_time()
    found = verified(out.getvalue(), tmp_path)
    assert time.process_time() - began < 20
    assert f"{added + 2} of 2" in failing(found)["pages"]
    assert bool(found["tiles"]) == compared
    assert ("too many were added for any to be compared" in found["verdict"]) != compared


@pytest.mark.parametrize("thing", [b"0 g 100 100 5 5 re f\n", b"BT /F1+0 9 Tf (120) Tj ET\n"], ids=["boxes", "words"])
def test_page_with_very_many_things_on_it_is_a_fault_at_once(thing: bytes, strips: bytes, tmp_path: Path) -> None:
    data = with_content(strips, lambda content: content + 100_000 * thing)
    (tmp_path / "file.pdf").write_bytes(data)
    result = CliRunner().invoke(main, ["verify", str(tmp_path / "file.pdf")], catch_exceptions=False)
    assert result.exit_code == 1
    assert "page 1 there is too much on the page to be compared" in " ".join(result.stderr.split())


@pytest.mark.parametrize("of", ["stamp on the check bar", "white box over the check bar"])
def test_what_lies_over_a_check_bar_is_named(of: str, strips: bytes, tmp_path: Path) -> None:
    said = failing(verified(tampered(strips, TAMPERS[of]), tmp_path))["ink"]
    assert said == "strips 1, the page itself, check bar: 1 added"


def test_page_that_is_there_twice_is_told(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.pages.append(pdf.pages[0])
    assert "added: page 3" in failing(verified(out.getvalue(), tmp_path))["pages"]


def test_label_of_a_page_that_was_changed_is_told(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.Root.PageLabels.Nums[3].P = pikepdf.String("sheet B")
    said = failing(verified(out.getvalue(), tmp_path))["page labels"]
    assert said == 'page 2 is called "sheet B", not "strips 2"'


def test_digest_that_was_changed_on_a_page_is_told(strips: bytes, tmp_path: Path) -> None:
    digest = verified(strips, tmp_path)["digest"]
    other = "".join("0123456789abcdef"[15 - int(sign, 16)] for sign in digest)

    def change(content: bytes) -> bytes:
        return content.replace(digest.encode(), other.encode(), 1)

    found = verified(with_content(strips, change), tmp_path)
    assert f'"{other}" stands where "{digest}" belongs' in failing(found)["words"]


def test_figure_that_was_changed_on_a_page_is_told(strips: bytes, tmp_path: Path) -> None:
    """The ink is the job's, but what is read at it is not."""
    found = verified(with_content(strips, lambda content: content.replace(b"(120)", b"(130)", 1)), tmp_path)
    assert failing(found) == {"words": 'page 1: "130" stands where "120" belongs'}


def test_title_that_is_not_the_job_s_is_only_told(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        pdf.docinfo["/Title"] = "For the shop"
    found = verified(out.getvalue(), tmp_path)
    assert failing(found) == {}
    assert found["look_at"] == ['the title, which is "For the shop", not the job\'s']


def test_job_inside_that_is_another_version_is_caught(strips: bytes, tmp_path: Path) -> None:
    with changing(strips) as (pdf, out):
        other = SEED_DRAWERS.replace("130", "131").encode()
        pdf.attachments["drawers.toml"] = pikepdf.AttachedFileSpec(pdf, other, filename="drawers.toml")
    assert {"ink", "words"} <= set(failing(verified(out.getvalue(), tmp_path)))


def test_shop_inside_that_was_measured_again_is_caught_as_a_scale(folder: Path, tmp_path: Path) -> None:
    with changing((folder / "corrected" / "out" / "strips.pdf").read_bytes()) as (pdf, out):
        other = ('units = "mm"' + PRINTER.replace("1.0123", "1.0023")).encode()
        pdf.attachments["shop.toml"] = pikepdf.AttachedFileSpec(pdf, other, filename="shop.toml")
    found = failing(verified(out.getvalue(), tmp_path))
    assert {"scale", "ink"} <= set(found)


def test_print_of_another_version_of_the_program_that_differs_says_so(strips: bytes, tmp_path: Path) -> None:
    def of(program: str, data: bytes) -> dict[str, Any]:
        with changing(data) as (pdf, out):
            record = json.loads(pdf.attachments["storystick-print.json"].get_file().read_bytes())
            content = json.dumps(record | {"program": program}).encode()
            pdf.attachments["storystick-print.json"] = pikepdf.AttachedFileSpec(
                pdf, content, filename="storystick-print.json"
            )
        return verified(out.getvalue(), tmp_path)

    assert of("storystick 0.0.1", strips)["verdict"].startswith("true: ")
    differing = of("storystick 0.0.1", transformed(strips, 0.97, 0.97))["verdict"]
    assert "it was printed by storystick 0.0.1, and this is storystick " in differing


def test_text_says_the_verdict_first_and_then_every_check_and_tile(folder: Path, tmp_path: Path) -> None:
    file = folder / "plain" / "out" / "strips.pdf"
    result = CliRunner().invoke(main, ["verify", str(file)])
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert re.fullmatch(r"true: largest difference 0 mm in \d+ tiles on 2 sheets", lines[0])
    assert sum("Side, left hand, tile" in line for line in lines) >= 3
    assert any(line.split() == ["bytes", "all", "as", "its", "job", "gives", "them"] for line in lines)
    (tmp_path / "SMALL.PDF").write_bytes(transformed(file.read_bytes(), 0.97, 0.97))
    result = CliRunner().invoke(main, ["verify", str(tmp_path / "SMALL.PDF")])
    assert result.exit_code == 1
    assert result.stdout.startswith("NOT full size: 97.0 % along, 97.0 % across")
    assert "NO  scale" in result.stdout


def test_spreadsheet_has_a_row_a_tile_and_one_for_each_page_beside_them(folder: Path) -> None:
    file = str(folder / "plain" / "out" / "strips.pdf")
    found = json.loads(CliRunner().invoke(main, ["verify", file, "--format", "json"]).stdout)
    rows = list(csv.DictReader(CliRunner().invoke(main, ["verify", file, "--format", "csv"]).stdout.splitlines()))
    assert len(rows) == len(found["tiles"]) + len(found["pages"])
    assert [row["stick"] for row in rows].count("Side") == len(found["tiles"])
    assert {row["true_size"] for row in rows} == {"True"}
