"""Pictures of drafts: what they show, and that every place to click leads to where the thing is said."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from conftest import GALLERY
from flask.testing import FlaskClient
from lxml import etree

from storystick.bench.pictures.job import pictures_of, strip_pictures, thumbnail
from storystick.bench.pictures.picture import Picture
from storystick.bench.places import Steps, write_pointer
from storystick.bench.said import run_at
from storystick.drawing.shapes import Rect
from storystick.job.sources import Source
from storystick.laying_out import lay_out_as_far, load, load_sources
from storystick.layout.stations import Layout, SpanKind

JOBS = sorted(path for path in GALLERY.glob("*/*.toml") if path.stem == path.parent.name)

HEAD = """
units = "mm"
[stock]
ply = 18
frame = 20
back = 6
[joint.shelf]
kind = "tongue"
width = 6
depth = 6
"""
CASE = """
[[cabinet]]
name = "Case"
height = 720
width = 600
depth = 400
carcass = "ply"
"""


def laid(text: str) -> tuple[Layout, dict[str, Any]]:
    layout = load_sources([Source("job.toml", (HEAD + text).encode())])
    return layout, tomllib.loads(HEAD + text)


def chosen(layout: Layout) -> Iterator[Steps]:
    """The whole job, and each thing that can be chosen."""
    yield ()
    counts = {
        "cabinet": layout.job.cabinets,
        "stick": layout.job.sticks,
        "template": layout.boards,
    }
    for table, things in counts.items():
        yield from ((table, number) for number in range(len(things)))
    yield from (run_at(run) for run in layout.runs)


def stands_at(document: Any, steps: Steps) -> bool:
    """Whether a place of a file is written."""
    for step in steps:
        try:
            document = document[step]
        except (KeyError, IndexError, TypeError):
            return False
    return True


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_place_of_every_job_leads_to_something_in_its_file(path: Path) -> None:
    """It is written, or the table that it would be written in; and it lies within its picture."""
    layout, document = load(path), tomllib.loads(path.read_text("utf-8"))
    for at in chosen(layout):
        pictures = pictures_of(layout, document, at)
        assert pictures, at
        for picture in pictures:
            for place in picture.places:
                assert stands_at(document, place.at) or stands_at(document, place.at[:-1]), place
                assert place.rect.lies_in(picture.reach), place
                assert place.label


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_pictures_are_svg_for_a_page_with_a_strict_policy(path: Path) -> None:
    """They parse as XML, and hold no style, no script, no handler and no id; every link says where it leads."""
    layout, document = load(path), tomllib.loads(path.read_text("utf-8"))
    pictures = [*pictures_of(layout, document), *strip_pictures(layout)]
    for text in (*(picture.svg() for picture in pictures), thumbnail(layout)):
        root = etree.fromstring(text)
        assert root.tag == "svg"
        for element in root.iter():
            assert element.tag not in {"style", "script"}
            assert not [name for name in element.attrib if name in ("style", "id") or name.startswith("on")]
        for link in root.iter("a"):
            assert link.get("data-at", "").startswith("/")
            assert link.get("aria-label")
        assert (root.get("role") == "group") is (root.find("a") is not None)


def openings(picture: Picture, word: str) -> list[Rect]:
    return [place.rect for place in picture.places if f", {word}, " in place.label and place.label[:5] != "front"]


def in_mm(rects: Sequence[Rect], picture: Picture, width: int, height: int) -> list[tuple[float, ...]]:
    """Rectangles of an elevation in true mm, from the left of the cabinet and from the floor, by its sides."""
    sides = [place.rect for place in picture.places if place.label in ("left side", "right side")]
    left, right, foot = min(side.left for side in sides), max(side.right for side in sides), sides[0].bottom
    scale = (right - left) / width
    assert (sides[0].top - foot) / scale == pytest.approx(height)
    edges = ((rect.left - left, rect.right - left, rect.bottom - foot, rect.top - foot) for rect in rects)
    return [tuple(edge / scale for edge in each) for each in edges]


def test_openings_are_clicked_where_they_are() -> None:
    """By hand: 600 wide and 720 high in 18 mm stock; 140 over the bottom, and the rest up to the top."""
    layout, document = laid(CASE + 'openings = [140, "equal"]\n')
    picture, *_ = pictures_of(layout, document, ("cabinet", 0))
    assert in_mm(openings(picture, "open"), picture, 600, 720) == [
        pytest.approx((18, 582, 18, 158)),
        pytest.approx((18, 582, 176, 702)),
    ]


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_openings_stand_as_high_as_the_strip_of_the_side_has_them(path: Path) -> None:
    """Of cabinets without a frame: from mark to mark of the left side's inside face."""
    layout, document = load(path), tomllib.loads(path.read_text("utf-8"))
    for found in layout.cabinets:
        cabinet = found.cabinet
        if cabinet.frame or cabinet.base or cabinet.nailers:
            continue
        picture, *_ = pictures_of(layout, document, ("cabinet", cabinet.number - 1))
        side = next(stick for stick in layout.sticks for face in stick.faces if _is_left_side(face, cabinet.name))
        marks = {(float(span.start), float(span.end)) for span in side.spans if span.kind is SpanKind.OPENING}
        drawn = in_mm(
            [place.rect for place in picture.places if " wide, " in place.label],
            picture,
            float(cabinet.width),
            float(cabinet.height),
        )
        at_left = {(round(low, 6), round(high, 6)) for left, _, low, high in drawn if left < 40}
        assert at_left == {(round(low, 6), round(high, 6)) for low, high in marks}


def _is_left_side(face: Any, name: str) -> bool:
    return face.cabinet == name and face.board in ("left side", "both sides", "side")


WRITTEN = [
    (
        CASE
        + "toe = { height = 80, recess = 50 }\n"
        + 'openings = [140, { graduated = 3, step = 10, name = "drawer" }, { opening = 90, above = "rail" }, 100]\n',
        {
            "opening 1": "/cabinet/0/openings/0",
            "drawer 1": "/cabinet/0/openings/1",
            "drawer 3": "/cabinet/0/openings/1",
            "opening 5": "/cabinet/0/openings/2",
            "left side": "/cabinet/0/carcass",
            "top": "/cabinet/0/carcass",
            "shelf 1": "/cabinet/0/openings/0/above",
            "shelf 2": "/cabinet/0/openings/1",
            "shelf 4": "/cabinet/0/openings/1/above",
            "rail 1": "/cabinet/0/openings/2/above",
            "toe space": "/cabinet/0/toe",
        },
    ),
    (
        CASE
        + """
sides = "frame"
top = { stock = "ply" }
toe = { height = 80, recess = 50, board = "ply" }
fronts = { kind = "inset", stock = "ply", reveal = 2 }
frame = { stock = "frame", stile = 40, top = { width = 40 }, bottom = 40, rail = 30 }
[[cabinet.row]]
name = "low"
height = 200
rail = 50
front = "pair"
columns = 2
openings = ["equal"]
[[cabinet.row]]
[[cabinet.row.column]]
width = 200
openings = [100, "equal"]
[[cabinet.row.column]]
openings = [{ opening = "equal", front = "door" }]
""",
        {
            "row 2": "/cabinet/0/row/1",
            "low": "/cabinet/0/row/0",
            "opening 1": "/cabinet/0/row/0/openings/0",
            "opening 2": "/cabinet/0/row/0/openings/0",
            "opening 3": "/cabinet/0/row/1/column/0/openings/0",
            "opening 5": "/cabinet/0/row/1/column/1/openings/0",
            "front of low": "/cabinet/0/row/0/front",
            "front of opening 3": "/cabinet/0/fronts",
            "front of opening 5": "/cabinet/0/row/1/column/1/openings/0/front",
            "left stile": "/cabinet/0/frame/stile",
            "top rail": "/cabinet/0/frame/top",
            "bottom rail": "/cabinet/0/frame/bottom",
            "rail over low": "/cabinet/0/row/0/rail",
            "rail at shelf 2": "/cabinet/0/frame/rail",
            "mid stile at divider 2": "/cabinet/0/frame/mid_stile",
            "toe board": "/cabinet/0/toe",
            "column 1": "/cabinet/0/row/0/columns",
        },
    ),
    (
        CASE
        + 'rows = 2\ncolumns = 3\nopenings = ["equal", { opening = 100, inside = [40, "equal"], front = "door" }]\n'
        'fronts = { kind = "overlay", stock = "ply", overlay = 8, reveal = 2 }\n',
        {
            "row 1": "/cabinet/0/rows",
            "column 3": "/cabinet/0/columns",
            "opening 1": "/cabinet/0/openings/0",
            "opening 2": "/cabinet/0/openings/1/inside/0",
            "opening 3": "/cabinet/0/openings/1/inside/1",
            "divider 1": "/cabinet/0/carcass",
        },
    ),
    (
        CASE + 'openings = [140, "equal"]\n[[cabinet]]\nname = "Other"\nlike = "Case"\nheight = 800\n',
        {"opening 1": "/cabinet/1/like", "left side": "/cabinet/1/like", "shelf 1": "/cabinet/1/like"},
    ),
]


@pytest.mark.parametrize(("text", "wanted"), WRITTEN, ids=["a list", "rows and columns", "a grid", "like another"])
def test_each_thing_leads_to_what_says_it(text: str, wanted: dict[str, str]) -> None:
    layout, document = laid(text)
    picture, *_ = pictures_of(layout, document, ("cabinet", len(layout.cabinets) - 1))
    found: dict[str, str] = {}
    for place in picture.places:
        found.setdefault(place.label.split(", ")[0], write_pointer(place.at))
    assert {name: found.get(name) for name in wanted} == wanted


def test_parts_and_openings_on_the_strip_of_a_side_lead_to_what_says_them() -> None:
    layout, document = laid(CASE + 'openings = [140, { opening = "equal", name = "pans" }]\n')
    pictures = pictures_of(layout, document, ("cabinet", 0))
    side = next(picture for picture in pictures if picture.title == "Case side")
    assert [(place.label, write_pointer(place.at)) for place in side.places] == [
        ("bottom, 18", "/cabinet/0/carcass"),
        ("opening 1, 140", "/cabinet/0/openings/0"),
        ("shelf 1, 18", "/cabinet/0/openings/0/above"),
        ("pans, 526", "/cabinet/0/openings/1"),
        ("top, 18", "/cabinet/0/carcass"),
    ]


def test_parts_and_openings_of_a_plain_stick_lead_to_their_entries() -> None:
    text = '[[stick]]\nname = "A"\npart = "ply"\nopenings = [100, { graduated = 2, step = 10, first = 90 }]\n'
    ordered = (
        '[[stick]]\nname = "B"\norder = [{ part = "ply" }, { opening = 50 }, '
        '{ graduated = 2, step = 10, first = 90, between = "ply" }, { part = "ply" }]\n'
    )
    layout, document = laid(text + ordered)
    plain, other = pictures_of(layout, document)
    assert [write_pointer(place.at) for place in plain.places] == [
        *("/stick/0/part", "/stick/0/openings/0", "/stick/0/part"),
        *["/stick/0/openings/1"] * 3,
        "/stick/0/part",
    ]
    assert [write_pointer(place.at) for place in other.places] == [
        *("/stick/1/order/0", "/stick/1/order/1"),
        *["/stick/1/order/2"] * 3,
        "/stick/1/order/3",
    ]


def test_what_stands_along_a_wall_leads_to_it() -> None:
    path = GALLERY / "canal-kitchen" / "canal-kitchen.toml"
    layout, document = load(path), tomllib.loads(path.read_text("utf-8"))
    (wall,) = pictures_of(layout, document, ("run",))
    names = {cabinet.name: number for number, cabinet in enumerate(layout.job.cabinets)}
    for place in wall.places:
        written = document
        for step in place.at:
            written = written[step]
        assert place.at == ("cabinet", names[place.label]) if place.label in names else "filler" in written


def test_the_whole_job_shows_each_kind_of_cabinet_once_beside_its_walls() -> None:
    """Two alike at no wall are drawn once; the one along the wall is drawn there."""
    run = '[[run]]\nname = "North"\nlength = 900\norder = [{ cabinet = "Case" }, { filler = "equal" }]\n'
    case = CASE + 'openings = [140, "equal"]\n'
    alone = "".join(case.replace("600", "500").replace("Case", name) for name in ("One", "Two"))
    layout, document = laid(case + alone + run)
    wall, others = pictures_of(layout, document)
    assert [(place.label, place.at) for place in wall.places] == [
        ("Case", ("cabinet", 0)),
        ("filler 1", ("run", 0, "order", 1)),
    ]
    assert [place.at for place in others.places] == [("cabinet", 1)]


def test_what_has_no_fault_is_drawn_beside_what_has_one() -> None:
    text = HEAD + CASE + 'openings = [140, "equal"]\n' + CASE.replace("Case", "Other").replace("600", "20")
    found = lay_out_as_far([Source("job.toml", text.encode())])
    assert found.layout
    assert found.faults
    document = tomllib.loads(text)
    assert [picture.title for picture in pictures_of(found.layout, document, ("cabinet", 0))][:1] == [
        "Case, 600 wide, 720 high, 400 deep"
    ]
    assert pictures_of(found.layout, document, ("cabinet", 1)) == ()
    assert thumbnail(found.layout)


def test_a_strip_in_one_piece_is_drawn_full_size_from_mark_to_mark() -> None:
    """The bands of the parts of a plain stick: 18, 100, 18 from its datum."""
    layout, _ = laid('[[stick]]\nname = "A"\npart = "ply"\nopenings = [100]\n')
    (strip,) = strip_pictures(layout)
    root = etree.fromstring(strip.svg())
    boxes = {(float(box.get("x")), float(box.get("width"))) for box in root.iter("rect")}
    assert {(0.0, 18.0), (118.0, 18.0)} <= boxes
    assert layout.sticks[0].length == Fraction(136)


def test_the_drawing_follows_what_is_typed(client: FlaskClient, folder: Path) -> None:
    """A draft that cannot be drawn leaves the last drawing where it is, marked, but none of another thing."""
    text = HEAD + CASE + 'openings = [140, "equal"]\n'
    (folder / "job.toml").write_text(text, encoding="utf-8")
    headers = {"Origin": "http://127.0.0.1:4711", "Sec-Fetch-Site": "same-origin"}

    def answer(draft: str, drawn: str = "/cabinet/0") -> str:
        form = {"text": draft, "at": "/cabinet/0", "tab": "drawing", "shown": "drawing", "drawn": drawn}
        return client.post("/job/job.toml/edit", data=form, headers=headers).get_data(as_text=True)

    first, second = answer(text), answer(text.replace("140", "160"))
    assert "564 × 140" in first
    assert "564 × 160" in second
    broken = answer(text.replace("140", "1400"))
    assert 'id="view"' not in broken
    assert 'id="stale"' in broken
    assert "This is the last that could be drawn" in broken
    of_another = answer(text.replace("140", "1400"), drawn="/cabinet/1")
    assert 'id="view"' in of_another
    assert "Nothing of this can be shown yet" in of_another
