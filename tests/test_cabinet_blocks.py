"""A cabinet on the job sheet, and on a page of its own."""

from __future__ import annotations

from drawn_cabinets import HEAD, TOWER, TWELVE, each_cabinet, made
from lettering_boxes import colliding, text_boxes

from storystick.sheets.pages.cabinets import cabinet_blocks, views_page
from storystick.sheets.pages.flow import paginate


@each_cabinet
def test_blocks_keep_to_their_width_with_the_cabinets_name_and_sizes(text: str) -> None:
    layout, job = made(text)
    (page,) = paginate(list(cabinet_blocks(layout, job.figures, 190.0)), 1e4)
    found = text_boxes(page)
    assert colliding(found) == []
    assert max(box.right for box in found) <= 190.0
    sizes = " × ".join(map(job.figures, (layout.cabinet.width, layout.cabinet.height, layout.cabinet.depth)))
    assert found[0].text == f"{layout.cabinet.name}: {sizes}, width × height × depth"


def test_picture_and_its_key_fit_a_page() -> None:
    layout, job = made(TOWER)
    blocks = list(cabinet_blocks(layout, job.figures, 190.0))
    assert len(paginate(blocks, 265.0)) == 1


def test_warnings_are_paragraphs_with_a_sign() -> None:
    deep = HEAD.replace("depth = 6", "depth = 7")
    layout, job = made(TWELVE, deep)
    assert layout.warnings
    (page,) = paginate(list(cabinet_blocks(layout, job.figures, 190.0)), 1e4)
    assert [box.text for box in text_boxes(page)].count("!") == len(layout.warnings)


@each_cabinet
def test_page_of_its_own_holds_all_of_it(text: str) -> None:
    layout, job = made(text)
    page = views_page(layout, job.figures)
    assert page.label == layout.cabinet.name
    for box in text_boxes(page.shapes):
        assert page.left_mm <= box.left <= box.right <= page.left_mm + page.width_mm
        assert page.bottom_mm <= box.bottom <= box.top <= page.bottom_mm + page.height_mm
