"""The steps to the place of each fault, in the file that it is of."""

from __future__ import annotations

import pickle
import re
from typing import Final

import pytest
from jobs import FROM_SHEET, MM, ORDER, PLAIN, STICK
from test_cabinets import IMPOSSIBLE, SIMPLE
from test_job_faults import BAD_JOBS, BAD_SHEETS

from storystick.errors import Fault, Steps, StorystickError, Where
from storystick.job.sources import Source
from storystick.laying_out import lay_out_as_far, load_sources


def faults_of(text: str, **others: str) -> tuple[Fault, ...]:
    """All faults of a job, with other files by their names."""
    files = [Source(name.replace("_", "."), other.encode()) for name, other in others.items()]
    with pytest.raises(StorystickError) as caught:
        load_sources([Source("job.toml", text.encode()), *files])
    return caught.value.faults


def steps_of(text: str, **others: str) -> list[Steps]:
    return [fault.steps for fault in faults_of(text, **others)]


def case(more: str) -> str:
    return SIMPLE.format(more=more)


RUN: Final = f"{case('')}\n[run]\nname = 'Wall'\nlength = 2000\n"
ALONG: Final = "order = [{ cabinet = 'Case' }, { filler = 'equal' }]\n"
TWO_RUNS: Final = f"{RUN.replace('[run]', '[[run]]')}{ALONG}[[run]]\nlength = 3000\n"

PLACES: Final[dict[str, tuple[str, list[Steps]]]] = {
    "units left out": ("", [("units",), ()]),
    "an unknown key": ("titel = 'x'\n" + PLAIN, [("titel",)]),
    "a key in a table": (f"margins = {{ left = -1 }}\n{PLAIN}", [("margins", "left")]),
    "a stock": (PLAIN.replace("ply = 18", "ply = '3 4'\n'birch ply' = 0"), [("stock", "ply"), ("stock", "birch ply")]),
    "stocks that are no table": (PLAIN.replace("[stock]\nply = 18", "stock = 18"), [("stock",)]),
    "a joint": (
        ORDER.replace("depth", "width") + "[{ opening = 8 }]\n",
        [("joint", "shelf", "depth"), ("joint", "shelf", "width")],
    ),
    "the second stick": (f"{PLAIN}[[stick]]\npart = 'oak'\nopenings = [3]\n", [("stick", 1, "part")]),
    "a name used twice": (f"{PLAIN}name='A'\n[[stick]]\nname='A'\npart='ply'\nopenings=[3]\n", [("stick", 1, "name")]),
    "a stick alone": (PLAIN.replace("[[stick]]", "[stick]"), [("stick",)]),
    "openings in a list": (f"{STICK}openings = [300, 0, 'x']\n", [("stick", 0, "openings", n) for n in (1, 2)]),
    "a key of an entry": (
        f"{ORDER}[{{ part = 'ply' }}, {{ opening = 'x' }}, {{ part = 'ply', joint = 'shelv' }}]\n",
        [("stick", 0, "order", 1, "opening"), ("stick", 0, "order", 2, "joint")],
    ),
    "a key left out of an entry": (
        f"{PLAIN}holes = [{{ first = 1, count = 2 }}]\n",
        [("stick", 0, "holes", 0, "pitch")],
    ),
    "one entry without a list": (f"{PLAIN}centre = {{ at = 'x' }}\n", [("stick", 0, "centre", "at")]),
    "openings that do not fit": (f"{STICK}length = 500\nopenings = [600]\n", [("stick", 0)]),
    "a sheet": (FROM_SHEET, [("stick", 0, "openings")]),
    "a cabinet's key": (case("back = { stock = 'thin', rabbet_width = 8 }"), [("cabinet", 0, "back", "rabbet_depth")]),
    "a key in a row": (
        case("[[cabinet.row]]\nheight = 100\n[[cabinet.row]]\nheight = 'x'\n[[cabinet.row.column]]\nwidth = 'y'"),
        [("cabinet", 0, "row", 1, "height"), ("cabinet", 0, "row", 1, "column", 0, "width")],
    ),
    "columns without rows": (case("column = [{}, { openings = ['x'] }]"), [("cabinet", 0, "column", 1, "openings", 0)]),
    "a row too full": (
        case("row = [{ height = 100 }, { height = 'equal', openings = [300, 400] }]"),
        [("cabinet", 0, "row", 1, "openings")],
    ),
    "a column too full": (
        case("row = [{ height = 100 }, { height = 'equal', column = [{}, { openings = [300, 400] }] }]"),
        [("cabinet", 0, "row", 1, "column", 1, "openings")],
    ),
    "the only column too full": (
        case("column = [{ openings = [300, 400] }]"),
        [("cabinet", 0, "column", 0, "openings")],
    ),
    "a grid too full": (
        case("rows = 2\ncolumns = 3\nopenings = [300, 400]"),
        [("cabinet", 0, "openings")] * 6,
    ),
    "columns of a row too full": (
        case("[[cabinet.row]]\nheight = 'equal'\ncolumns = 2\nopenings = [300, 400]"),
        [("cabinet", 0, "row", 0, "openings")] * 2,
    ),
    "a rail over the highest row": (
        case("frame = { stock = 'ply', stile = 40, top = 40, bottom = 40 }\nrow = [{}, { rail = 50 }]"),
        [("cabinet", 0, "row", 1, "rail")],
    ),
    "one like another": (
        f"{case('')}\n[[cabinet]]\nlike = 'Case'\nheight = 'x'\n[[cabinet]]\nlike = 'Cas'\n",
        [("cabinet", 1, "height"), ("cabinet", 2, "like")],
    ),
    "what another says does not fit": (
        f"{case('openings = [400, 264]')}\n[[cabinet]]\nlike = 'Case'\nheight = 600\n".replace("264", "246"),
        [("cabinet", 1, "openings")],
    ),
    "fronts of a wood unknown": (
        case(
            "[cabinet.fronts]\nkind = 'inset'\nreveal = 2\n"
            "wood = { species = 'cork', cut = 'flat', driest = 6, made_at = 8, dampest = 12 }"
        ),
        [("cabinet", 0, "fronts", "wood", "species")],
    ),
    "keys that shut each other out": (
        case("toe = { height = 80, recess = 50 }\nplinth = { height = 80 }"),
        [("cabinet", 0, "toe")],
    ),
    "an opening whose shelves have no room": (
        case(
            "row = [{}, { height = 'equal', openings = ['equal', { opening = 200, adjustable = "
            "{ shelves = 30, first = 96, pitch = 32, front = 37, back = 60 } }] }]"
        ),
        [("cabinet", 0, "row", 1, "openings", 1)],
    ),
    "an opening after a group": (
        case(
            "openings = [{ graduated = 2, step = 9, first = 90 }, { opening = 'equal', front = 'drawer', adjustable = "
            "{ shelves = 1, first = 96, pitch = 32, front = 37, back = 60 } }]\n"
            "fronts = { kind = 'inset', reveal = 2 }"
        ),
        [("cabinet", 0, "openings", 1)],
    ),
    "a back that will not enter": (
        case("back = { stock = 'thick', rabbet_width = 8, rabbet_depth = 9 }"),
        [("cabinet", 0, "back", "rabbet_width")],
    ),
    "a recess that is too deep": (case("plinth = { height = 80, recess = 285 }"), [("cabinet", 0, "plinth", "recess")]),
    "a frame that closes nothing": (
        case("frame = { stock = 'ply', stile = 20, top = 40, bottom = 40, proud = 30 }"),
        [("cabinet", 0, "frame")],
    ),
    "sides that take up the width": (
        case("sides = 'wall'").replace("thick = 12", "thick = 12, wall = 300"),
        [("cabinet", 0, "width")],
    ),
    "something above the highest opening": (
        case("openings = ['equal', { opening = 'equal', above = 'rail' }]"),
        [("cabinet", 0, "openings", 1, "above")],
    ),
    "holes beyond a stick": (f"{PLAIN}centre = [9999]\n", [("stick", 0, "centre")]),
    "a feature beyond the wall": (
        f"{RUN}{ALONG}features = [{{ at = 20, name = 'outlet' }}, {{ at = 4000, name = 'pipe' }}]\n",
        [("run", "features", 1)],
    ),
    "sizes of what is not there": (case("sizes = 'frame'"), [("cabinet", 0, "sizes")]),
    "a run alone": (f"{RUN}order = [{{ cabinet = 'Cas' }}]\n", [("run", "order", 0, "cabinet")]),
    "a run alone that does not fit": (f"{RUN}order = [{{ filler = 3000 }}]\n", [("run",)]),
    "the second run": (f"{TWO_RUNS}order = [{{ filler = 'x' }}]\n", [("run", 1, "order", 0, "filler")]),
    "a floor beyond the wall": (
        f"{TWO_RUNS}order = [{{ filler = 'equal' }}]\nfloor = [{{ at = 0, falls = 0 }}, {{ at = 4000, falls = 3 }}]\n",
        [("run", 1, "floor", 1)],
    ),
    "the corner of a template": (
        f"{MM}[[template]]\nwidth = 100\nheight = 100\noutline = [[0, 0], [100, 0], ['x', 100]]\n",
        [("template", 0, "outline", 2)],
    ),
    "a face of a square stick": (
        f"{PLAIN}name = 'A'\n[[square_stick]]\nside = 30\nfaces = ['A', 'B']\n",
        [("square_stick", 0, "faces", 1)],
    ),
    "a rectangle": (f"{MM}[[rectangle]]\nwidth = 3\n", [("rectangle", 0, "height")]),
    "a printer without a shop": (f"printer = 'office'\n{PLAIN}", [("printer",)]),
    "a shop file that is missing": (f"shop = 'tools.toml'\n{PLAIN}", [()]),
}
"""Jobs with what is at fault in them, and its places in the file, found by hand."""


@pytest.mark.parametrize("name", PLACES)
def test_a_fault_tells_the_steps_to_its_place(name: str) -> None:
    text, places = PLACES[name]
    assert steps_of(text) == places


SHOP_PLACES: Final[dict[str, list[Steps]]] = {
    "unit = 'mm'\n": [("unit",)],
    "[router.trim]\nbase_diameter = 'x'\n": [("router", "trim", "base_diameter")],
    "[router.trim]\nedge_to_centre = { flat = 'x' }\n": [("router", "trim", "edge_to_centre", "flat")],
    "[bit.a]\ndiameter = '1/4'\nangle = 14\n": [("bit", "a", "angle")],
    "[router.t]\nbase_diameter = 6\n[bit.'7 in']\ndiameter = 7\n": [("bit", "7 in")],
    "[saw]\nkerf = 3\n": [("saw", "kerf")],
    "[routing]\nfit = 1\n": [("routing", "fit")],
}
"""Shop files, in inches, and the places of what is at fault in them."""


@pytest.mark.parametrize("shop", SHOP_PLACES)
def test_a_fault_of_the_shop_file_is_of_that_file(shop: str) -> None:
    faults = faults_of(PLAIN, shop_toml=shop)
    assert [fault.steps for fault in faults] == SHOP_PLACES[shop]
    assert {fault.file for fault in faults} == {"shop.toml"}


def test_a_fault_of_a_spreadsheet_is_at_the_key_that_names_it_and_inside_at_its_cell() -> None:
    (fault,) = faults_of(FROM_SHEET, drawers_csv="name,size\nkey,3\nrod,x\n")
    assert (fault.file, fault.steps) == ("job.toml", ("stick", 0, "openings"))
    assert fault.where.inside is not None
    assert (fault.where.inside.file, fault.where.inside.steps) == ("drawers.csv", (2, "size"))


def test_a_fault_that_goes_from_one_process_to_another_keeps_its_place() -> None:
    (fault,) = faults_of(FROM_SHEET, drawers_csv="size\nx\n")
    again = pickle.loads(pickle.dumps(fault))
    assert (str(again), again.steps, again.file) == (str(fault), fault.steps, fault.file)
    assert again.where.inside.steps == (1, "size")


def test_a_bare_word_is_a_key_and_a_place_beside_files_has_no_steps() -> None:
    fault = Fault("it is wet", where="boards").at(Where.unsaid("cabinet", 0)).at(Where("--only"))
    assert (str(fault), fault.steps, fault.file) == ("--only, boards: it is wet.", ("cabinet", 0, "boards"), "")


_ENTRY: Final = re.compile(r"([a-z_]+)\[(\d+)\]")
_COUNTED: Final = re.compile(r'([a-z_]+|line|entry) (\d+)(?: \(".*"\))?')


def _read_words(words: str) -> Steps:
    """What a place says in words, read again as a person reads it."""
    steps: list[str | int] = []
    for word in words.split(", "):
        if word.startswith("[") and word.endswith("]"):
            steps += word[1:-1].split(".", 1)
        elif found := _ENTRY.fullmatch(word) or _COUNTED.fullmatch(word):
            steps += [found[1], int(found[2]) - 1]
        else:
            steps.append(word)
    return tuple(steps)


@pytest.mark.parametrize("text", BAD_JOBS)
def test_steps_go_as_far_as_the_words_and_no_other_way(text: str) -> None:
    for fault in faults_of(text):
        words = str(fault.where).removeprefix("job.toml").removeprefix(", ")
        told = _read_words(words) if words else ()
        if fault.where.inside is None:
            assert fault.steps[: len(told)] == told, fault
            assert len(fault.steps) <= len(told) + 1


@pytest.mark.parametrize("sheet", BAD_SHEETS)
def test_a_fault_of_a_spreadsheet_has_the_line_of_its_words(sheet: str) -> None:
    for fault in faults_of(FROM_SHEET, drawers_csv=sheet):
        assert fault.steps == ("stick", 0, "openings")
        assert fault.where.inside is not None
        line = re.search(r"line (\d+)", str(fault.where))
        assert fault.where.inside.steps[:1] == ((int(line[1]) - 1,) if line else ())


@pytest.mark.parametrize("name", IMPOSSIBLE)
def test_a_fault_of_a_cabinet_is_at_that_cabinet(name: str) -> None:
    more, _ = IMPOSSIBLE[name]
    for fault in faults_of(SIMPLE.format(more=more).replace("thick = 12", "thick = 12, wall = 300")):
        assert fault.steps[:2] == ("cabinet", 0)
        assert fault.file == "job.toml"


def test_a_fault_stands_where_the_file_has_it_now_also_where_the_rest_is_kept() -> None:
    rows = "[[cabinet.row]]\nheight = 'equal'\nopenings = [300, 400]\n"
    texts = (case("openings = [300, 400]"), case(rows), case("columns = 1\nopenings = [300, 400]"))
    earlier, places = None, []
    for text in texts:
        earlier = lay_out_as_far([Source("job.toml", text.encode())], earlier=earlier)
        places += [fault.steps for fault in earlier.faults]
    alone, row = ("cabinet", 0, "openings"), ("cabinet", 0, "row", 0, "openings")
    assert places == [alone, row, alone]
