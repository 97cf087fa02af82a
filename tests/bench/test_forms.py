"""Forms hold what a file says: every declared key has its place in one, every value of the gallery is shown there."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

import pytest

from storystick.bench.declared import best_table, entry_of, named_in, shape_at, tables_in
from storystick.bench.editing.changes import Change, changed
from storystick.bench.fields.forms import Forms
from storystick.bench.fields.model import Field, Form, Item, Part
from storystick.bench.fields.outline import outline
from storystick.bench.file_kinds import JOB, SHOP, FileKind
from storystick.bench.pages.work import names_of
from storystick.bench.places import Steps, write_pointer
from storystick.job.keys import Key, TableOf
from storystick.job.sources import Source
from storystick.laying_out import load_sources

GALLERY: Final = Path(__file__).parents[2] / "gallery"
FILES: Final = sorted(GALLERY.glob("*/*.toml"))
KEYS: Final[Mapping[str, FileKind]] = {"job": JOB, "shop": SHOP}


def read(text: str) -> dict[str, Any]:
    return tomllib.loads(text, parse_float=Decimal)


def forms_of(text: str, of: FileKind = JOB) -> Forms:
    return Forms(of, read(text))


def items_of(item: Item | Form) -> Iterator[Item]:
    """Everything in a form, parts and fields."""
    if isinstance(item, Form):
        for each in item.parts:
            yield from items_of(each)
        return
    yield item
    if isinstance(item, Part):
        for each in (*item.lead, *item.items):
            yield from items_of(each)


def all_forms(forms: Forms) -> Iterator[Form]:
    """What can be chosen in the outline."""
    for heading in outline(forms, ()):
        if heading.chooses is not None:
            yield forms.at(heading.chooses)
        for thing, _ in heading.things:
            yield forms.at(thing.steps)


def fields_by_place(forms: Forms) -> dict[Steps, Field]:
    return {field.steps: field for form in all_forms(forms) for field in form.fields()}


def places(value: object, steps: Steps = ()) -> Iterator[tuple[Steps, object]]:
    """Every plain value of a file with its place."""
    match value:
        case dict():
            for name, below in value.items():
                yield from places(below, (*steps, name))
        case list():
            for number, below in enumerate(value):
                yield from places(below, (*steps, number))
        case _:
            yield steps, value


def declared_tables(keys: Mapping[str, Key]) -> Iterator[tuple[str, TableOf[Any]]]:
    """Every table below some keys, with the key that it is met under."""
    met: set[int] = set()
    left = list(keys.items())
    while left:
        name, key = left.pop()
        for of in _all_tables(key.kind):
            if id(of) not in met:
                met.add(id(of))
                yield name, of
                left += [(f"{name}.{below}", inner) for below, inner in of.keys.items()]


def _all_tables(shape: object) -> Iterator[TableOf[Any]]:
    if shape is None:
        return
    yield from tables_in(shape)
    yield from _all_tables(entry_of(shape))
    yield from _all_tables(named_in(shape))


DECLARED: Final = {
    f"{file} {where} {name} {number}": (file, of, name)
    for file, own in KEYS.items()
    for number, (where, of) in enumerate(declared_tables(own.keys))
    for name in of.keys
}


@pytest.mark.parametrize("case", DECLARED)
def test_every_declared_key_of_a_table_has_a_field_or_a_part_of_its_own(case: str) -> None:
    file, of, name = DECLARED[case]
    maker = Forms(KEYS[file], {}).maker(())
    for value in ({name: of.keys[name].example}, {}):
        shown = {each.steps for item in maker.rows(of, value, ("here",)) for each in items_of(item)}
        if value or not is_instead_of_others(name):
            assert ("here", name) in shown or tells_the_table(of, name)


def tells_the_table(of: TableOf[Any], name: str) -> bool:
    """Whether a key says which of several tables it is: it is chosen over all of the table, as joints are."""
    return name == "kind" and of.keys[name].kind.schema == {"enum": [of.keys[name].example]}


def is_instead_of_others(name: str) -> bool:
    """Whether a key stands in the place of others, and so is added by a button or not at all while those are given."""
    return name in ("row", "column", "order")


@pytest.mark.parametrize("file", KEYS)
def test_every_key_at_the_head_of_a_file_is_in_a_form(file: str) -> None:
    own = KEYS[file]
    forms = Forms(own, {})
    head = {item.steps for item in items_of(forms.at(()))}
    for name in own.keys:
        assert (name,) in head or forms.at((name,)).steps == (name,)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.parent.name + path.stem)
def test_every_value_of_the_gallery_stands_in_a_field(path: Path) -> None:
    of = SHOP if path.name == "shop.toml" else JOB
    forms = forms_of(path.read_text(encoding="utf-8"), of)
    fields = fields_by_place(forms)
    for steps, value in places(forms.tables):
        text = str(value).lower() if isinstance(value, bool) else str(value)
        own = next(fields[steps[:end]] for end in range(len(steps), 0, -1) if steps[:end] in fields)
        shown = own.value or next((each.label for each in own.options if each.value == ""), "")
        assert text in shown or {"true": "yes", "false": "no"}.get(text, "?") in shown, write_pointer(steps)
        if own.look in ("text", "name"):
            assert own.steps == steps
            assert own.value == text


HUTCH: Final = (GALLERY / "linen-hutch" / "linen-hutch.toml").read_text(encoding="utf-8")
KITCHEN: Final = (GALLERY / "canal-kitchen" / "canal-kitchen.toml").read_text(encoding="utf-8")


def test_what_is_left_out_is_told_in_the_units_of_the_job() -> None:
    for text, gap in ((HUTCH, "1/32 in, and half the groove at most"), (KITCHEN, "1 mm, and half the groove at most")):
        assert fields_by_place(forms_of(text))["cabinet", 0, "back", "bottom_gap"].placeholder == gap


def test_an_example_is_in_the_units_of_the_job() -> None:
    assert fields_by_place(forms_of(HUTCH))["cabinet", 0, "height"].example == "72"
    assert fields_by_place(forms_of(KITCHEN))["cabinet", 0, "height"].example == "1830"


def test_stocks_are_chosen_among_those_of_the_job_with_what_they_measure() -> None:
    field = fields_by_place(forms_of(HUTCH))["cabinet", 0, "carcass"]
    assert [option.label for option in field.options][1:] == [
        "ply — 23/32",
        "maple — 25/32",
        "panel — 3/4",
        "back — 1/4",
        "box — 1/2",
    ]
    assert field.value == "ply"


def test_what_a_cabinet_takes_over_from_another_is_told_where_it_says_nothing() -> None:
    fields = fields_by_place(forms_of(KITCHEN))
    assert fields["cabinet", 1, "height"].placeholder == "860, as Base 600"
    assert not fields["cabinet", 1, "height"].is_needed
    assert fields["cabinet", 1, "width"].value == "800"


def test_openings_stand_as_they_are_drawn_the_top_one_first() -> None:
    form = forms_of(KITCHEN).at(("cabinet", 1))
    openings = next(item for item in items_of(form) if isinstance(item, Part) and item.look == "openings")
    assert [item.steps[-1] for item in openings.items] == [2, 1, 0]
    assert [item.lead[0].value for item in openings.items if isinstance(item, Part)] == ["140", "equal", "equal"]


def test_openings_of_a_stick_stand_in_order_from_the_datum() -> None:
    text = 'units = "mm"\n[stock]\nply = 18\n[[stick]]\npart = "ply"\nopenings = [300, 200, 100]\n'
    form = forms_of(text).at(("stick", 0))
    openings = next(item for item in items_of(form) if isinstance(item, Part) and item.look == "openings")
    assert [item.lead[0].value for item in openings.items if isinstance(item, Part)] == ["300", "200", "100"]
    assert not {"row", "column"} & {act.change for act in openings.actions}


def test_the_kind_of_a_joint_is_chosen_over_the_fields_of_that_kind() -> None:
    form = forms_of(HUTCH).at(("joint", "case"))
    fields = {field.steps[-1]: field for field in form.fields()}
    assert list(fields)[1] == "kind"
    assert (fields["kind"].value, len(fields["kind"].options)) == ("tongue", 13)
    assert fields["width"].value == "1/4"


def test_what_is_no_key_is_shown_as_it_is_written_and_can_be_taken_away() -> None:
    fields = fields_by_place(forms_of(HUTCH.replace('height = "82"', 'height = "82"\nlegs = [1, "a"]')))
    field = fields["cabinet", 0, "legs"]
    assert (field.look, field.value) == ("raw", '[1, "a"]')
    assert field.actions[0].change == "remove"


def test_width_of_a_rail_is_typed_though_it_may_name_a_stock() -> None:
    """A name alone is chosen from what the file has; a width is no such name."""
    for units, like in (("inch", "1 1/2"), ("mm", "40")):
        text = f'units = "{units}"\nstock = {{ ply = "3/4", frame = "3/4" }}\n[[cabinet]]\n'
        text += '[cabinet.frame]\nstock = "frame"\nrail = "7/8"\n'
        fields = fields_by_place(forms_of(text))
        rail, mid = fields["cabinet", 0, "frame", "rail"], fields["cabinet", 0, "frame", "mid_stile"]
        assert (rail.look, rail.value, rail.example) == ("text", "7/8", like)
        assert (mid.look, mid.value, mid.placeholder) == ("text", "", "as the divider behind is thick")
        assert fields["cabinet", 0, "frame", "stock"].look == "select"


def test_cabinet_that_stands_nowhere_yet_is_put_along_a_wall_first() -> None:
    cabinets = "".join(f'[[cabinet]]\nname = "{name}"\n' for name in ("Low", "Mid", "High"))
    head = f'units = "inch"\n{cabinets}[[run]]\nname = "North"\nlength = "100"\n'
    for standing, first in (([], "Low"), (["Low"], "Mid"), (["Mid", "Low"], "High"), (["High"], "Low")):
        order = ", ".join(['{ filler = "equal" }', *(f'{{ cabinet = "{name}" }}' for name in standing)])
        form = forms_of(f"{head}order = [{order}]\n").at(("run", 0))
        adds = [
            act.value
            for item in items_of(form)
            if isinstance(item, Part)
            for act in item.actions
            if (act.change, act.at) == ("add", ("run", 0, "order"))
        ]
        assert f'{{ cabinet = "{first}" }}' in adds


def test_several_words_are_switched_one_by_one() -> None:
    text = HUTCH + '\n[[cabinet.nailers]]\nat = ["top", "bottom"]\n'
    field = fields_by_place(forms_of(text))["cabinet", 0, "nailers", 0, "at"]
    assert [(each.label, each.is_on, each.value) for each in field.options] == [
        ("top", True, '["bottom"]'),
        ("bottom", True, '["top"]'),
    ]


def test_faults_are_counted_where_they_stand() -> None:
    headings = outline(forms_of(KITCHEN), [("cabinet", 1, "height"), ("cabinet", 1), ("stock", "ply"), ()])
    counted = {heading.title: heading for heading in headings}
    assert [count for _, count in counted["Cabinets"].things] == [0, 2, 0, 0]
    assert (counted["Stocks"].faults, counted["Job"].faults) == (1, 1)


SHOP_TEXT: Final = (GALLERY / "bead-chest" / "shop.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(("text", "of"), [(HUTCH, JOB), (SHOP_TEXT, SHOP)], ids=KEYS)
def test_what_is_typed_or_chosen_in_a_field_is_what_it_shows_then(text: str, of: FileKind) -> None:
    for steps, field in fields_by_place(forms_of(text, of)).items():
        value = _other_value(field)
        if value is None:
            continue
        after = changed(text, [Change(field.change, field.at or steps, value)], of.keys)
        assert fields_by_place(forms_of(after, of))[steps].value == value, f"{write_pointer(steps)} = {value}"


def _other_value(field: Field) -> str | None:
    """What may be typed in a field that is given, beside what it says; None for those that change more than a value."""
    if field.change == "rename" or not field.is_given or field.steps[-1] in ("units", "kind"):
        return None
    if field.look == "text":
        return "3/7"[: 1 if field.value.isdigit() else 3] if field.is_short else f"{field.value} too"
    if field.look == "select" or field.look == "radio":
        return next((option.value for option in field.options if option.value not in ("", field.value)), None)
    return next((option.value for option in field.options if option.value), None)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.parent.name + path.stem)
def test_what_a_button_adds_in_a_job_of_the_gallery_reads_without_a_fault_of_its_own(path: Path) -> None:
    """Whatever a button begins with has the keys that it needs, and no other."""
    of = SHOP if path.name == "shop.toml" else JOB
    forms = forms_of(path.read_text(encoding="utf-8"), of)
    adds = [
        act for form in all_forms(forms) for item in items_of(form) if isinstance(item, Part) for act in item.actions
    ]
    begun = [act for act in adds if act.change in ("raw", "add", "insert") and act.value]
    assert begun or of is SHOP
    for act in begun:
        value = read(f"is = {act.value}")["is"]
        shape = shape_at(of.keys, forms.tables, act.at)
        shape = shape if act.change == "raw" else entry_of(shape) if act.change == "add" else shape
        if isinstance(value, dict) and value:
            table = best_table(shape, value)
            assert table is not None
            assert set(value) <= set(table.keys), f"{write_pointer(act.at)}: {act.value}"


BEGUN: Final = """\
title = "Begun"
units = "inch"
stock = { ply = "23/32", thin = "7/32" }

[[cabinet]]
name = "Low"
height = "36"
width = "24"
depth = "20"
carcass = "ply"
frame = { stock = "ply", stile = "2", top = "2", bottom = "2" }
openings = ["equal", "equal", "equal"]
"""
NEEDS_OTHERS: Final = {("cabinet", 0, "edging")}
"""Edging stands instead of a frame."""


def test_whatever_a_button_adds_to_a_cabinet_can_be_made() -> None:
    layout = load_sources([Source("job.toml", BEGUN.encode())])
    forms = Forms(JOB, read(BEGUN), names_of(layout))
    buttons = [act for form in all_forms(forms) for item in items_of(form) for act in item.actions]
    buttons += [act for heading in outline(forms, ()) for act in heading.adds]
    tried = [act for act in buttons if act.change not in ("", "remove") and act.at not in NEEDS_OTHERS]
    assert len(tried) > 30
    for act in tried:
        after = changed(BEGUN, [Change(act.change, act.at, act.value)])
        load_sources([Source("job.toml", after.encode())])


def test_a_back_is_let_into_a_rabbet_that_takes_it_of_the_thinnest_stock() -> None:
    form = forms_of(BEGUN).at(("cabinet", 0))
    (back,) = (item for item in items_of(form) if isinstance(item, Part) and item.steps == ("cabinet", 0, "back"))
    assert read(f"is = {back.actions[0].value}")["is"] == {
        "stock": "thin",
        "rabbet_width": "1/4",
        "rabbet_depth": "3/8",
    }


def test_rows_openings_and_entries_move_both_ways() -> None:
    text = BEGUN + '\n[[cabinet.row]]\n[[cabinet.row]]\n[[cabinet.row]]\n[run]\nlength = "90"\n'
    text = text.replace('openings = ["equal", "equal", "equal"]\n', "")
    text += 'order = [{ cabinet = "Low" }, { filler = "equal" }, { gap = "2" }]\n'
    forms = forms_of(text)
    moves = {
        (act.at, act.value): act.label for form in all_forms(forms) for item in items_of(form) for act in item.actions
    }
    assert [moves.get((("run", "order", number), way)) for number in range(3) for way in ("up", "down")] == [
        None,
        "Down",
        "Up",
        "Down",
        "Up",
        None,
    ]
    row = [moves.get((("cabinet", 0, "row", number), way)) for number in range(3) for way in ("up", "down")]
    assert row == [None, "Up", "Down", "Up", "Down", None]


def test_boards_and_faces_are_chosen_among_those_that_the_job_has() -> None:
    text = BEGUN + '\n[[template]]\nboard = "Low top"\n\n[[square_stick]]\nside = "1"\nfaces = ["Low side"]\n'
    layout = load_sources([Source("job.toml", text.encode())])
    fields = fields_by_place(Forms(JOB, read(text), names_of(layout)))
    assert "Low left side" in [option.value for option in fields["template", 0, "board"].options]
    assert "Low stile" in [option.value for option in fields["square_stick", 0, "faces", 0].options]


def test_a_rail_is_as_wide_as_is_typed_or_as_a_stock_is_thick() -> None:
    rail = fields_by_place(forms_of(BEGUN))["cabinet", 0, "frame", "rail"]
    assert (rail.look, rail.is_short, list(rail.names)) == ("text", True, ["ply", "thin"])
