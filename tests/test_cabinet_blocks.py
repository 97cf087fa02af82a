"""The drawing sheets of a job's cabinets, and a cabinet's on a page of its own."""

from __future__ import annotations

from itertools import islice, product
from string import ascii_uppercase
from typing import Final

import pytest
from drawn_cabinets import BOOKCASE, CHEST, DOORS, HEAD, SINGLE_DOORS, TOWER, TWELVE, each_cabinet, made
from jobs import read_well
from lettering_boxes import colliding, text_boxes

from storystick.drawing.shapes import Shape
from storystick.errors import Faults
from storystick.layout.alike import kinds_of
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.sheets.pages.cabinets import drawing_blocks, views_page
from storystick.sheets.pages.flow import Room, paginate

LETTER: Final = Room(188.0, 247.0)


def pages(text: str, head: str = HEAD, room: Room = LETTER) -> list[tuple[Shape, ...]]:
    job = read_well(head + text)
    layouts = [lay_out_cabinet(cabinet, job.figures) for cabinet in job.cabinets]
    return paginate(list(drawing_blocks(layouts, job, room)), room.height_mm)


def said(page: tuple[Shape, ...]) -> list[str]:
    return [box.text for box in text_boxes(page)]


@each_cabinet
def test_sheet_is_one_page_with_its_title_block_and_every_word_in_its_place(text: str) -> None:
    layout, job = made(text)
    (page,) = pages(text)
    found = text_boxes(page)
    assert colliding(found) == []
    assert min(box.left for box in found) >= 0.0
    assert max(box.right for box in found) <= LETTER.width_mm
    assert min(box.bottom for box in found) >= -LETTER.height_mm
    sizes = " × ".join(map(job.figures, (layout.cabinet.width, layout.cabinet.height, layout.cabinet.depth)))
    labels = {"cabinet", "width × height × depth", "scale", "job", "projection", "units", "version", "drawing"}
    assert {*labels, layout.cabinet.name, sizes, job.title, job.digest, "1 of 1"} <= set(said(page))


@pytest.mark.parametrize("text", [TWELVE, TOWER], ids=["5 by 6 and more", "forty"])
def test_many_openings_still_take_one_page(text: str) -> None:
    case = CHEST + "".join(
        '[[cabinet.column]]\nopenings = ["equal", "equal", "equal", "equal", "equal", "equal"]\n' * 5
    )
    assert len(pages(case)) == 1
    assert len(pages(text)) == 1


def test_cabinets_that_differ_in_name_alone_have_one_sheet() -> None:
    others = [DOORS.replace('"Base"', f'"Base {number}"') for number in (1, 2, 3)]
    wider = DOORS.replace("width = 700", "width = 701").replace('"Base"', '"Wide"')
    first, second = pages("".join([others[0], wider, *others[1:]]))
    assert "Base 1–3 (3 alike)".replace(" alike", "\N{NO-BREAK SPACE}alike") in said(first)
    assert {"1 of 2", "1 : 10"} <= set(said(first))
    assert {"Wide", "2 of 2"} <= set(said(second))


def test_hinges_make_a_kind_of_their_own() -> None:
    other = SINGLE_DOORS.replace('hinge = "left"', 'hinge = "right"').replace('"Wall"', '"Other"')
    job = read_well(HEAD + SINGLE_DOORS + other)
    assert len(kinds_of([lay_out_cabinet(cabinet, job.figures) for cabinet in job.cabinets])) == 2


def test_warnings_are_paragraphs_with_a_sign() -> None:
    deep = HEAD.replace("depth = 6", "depth = 7")
    layout, _ = made(TWELVE, deep)
    assert layout.warnings
    (page,) = pages(TWELVE, deep)
    assert said(page).count("!") == len(layout.warnings)


def test_words_that_no_drawing_leaves_room_for_follow_it() -> None:
    names = ", ".join(
        f'{{ opening = "equal", name = "{"drawer for this and that " * 3}{letters}" }}'
        for letters in islice(map("".join, product(ascii_uppercase, repeat=2)), 60)
    )
    text = TOWER[: TOWER.index("openings")] + f"openings = [{names}]\n"
    first, *others = pages(text)
    assert "scale" in said(first)
    assert others
    assert sum("this and that" in words for page in (first, *others) for words in said(page)) >= 60


def test_construction_is_said_in_words() -> None:
    (page,) = pages(BOOKCASE)
    text = " ".join(said(page))
    for words in (
        "Overlay fronts 18 thick, 8 over each edge of the opening, 3 apart.",
        "Solid edging 8 thick on the front edges, within the depth.",
        "Back 6 thick, in grooves 6 deep, 12 from the back edge.",
        "Toe space 90 high, 60 back from the front of the case.",
    ):
        assert words in text
    assert "All fronts are of drawers." in said(pages(TWELVE)[0])
    assert "a short bar is a drawer." in " ".join(said(pages(DOORS)[0]))
    assert "at which side a door is hinged: opening 3." in " ".join(said(pages(SINGLE_DOORS)[0]))


@each_cabinet
def test_page_of_its_own_holds_all_of_it(text: str) -> None:
    layout, job = made(text)
    page = views_page(layout, job)
    assert page.label == layout.cabinet.name
    for box in text_boxes(page.shapes):
        assert page.left_mm <= box.left <= box.right <= page.left_mm + page.width_mm
        assert page.bottom_mm <= box.bottom <= box.top <= page.bottom_mm + page.height_mm


def test_front_that_has_no_room_is_told_with_its_cabinet() -> None:
    with pytest.raises(Faults, match=r'cabinet 1 \("Base"\)'):
        pages(DOORS.replace("overlay = 8", "overlay = 9"))
