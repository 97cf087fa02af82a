"""The cutting list: a textbook's cabinet, parts by hand, what is gathered and what is said of it, and its listing."""

from __future__ import annotations

import csv
import io
import json
import tomllib
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from jobs import PLAIN, read_well

from storystick.cli import main
from storystick.cutting.part import CutPart, HandCounts
from storystick.cutting.parts import cutting_list
from storystick.cutting.totals import PART_HEADINGS, areas, frame_lengths, hands_in_words, note_rows, part_rows
from storystick.errors import Faults
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.lengths import INCH_MM, Figures, Units, read_length

SHARED: Final = Path(__file__).parent.parent / "shared"
TEXTBOOK: Final[dict[str, Any]] = tomllib.loads((SHARED / "textbook_cabinet.toml").read_text(encoding="utf-8"))

HEAD: Final = """units = "mm"
[stock]
ply = 18
frame = 20
box = 12
back = 6
[joint.shelf]
kind = "tongue"
width = 6
depth = 6
bottom_gap = 0.5
[joint.housed]
kind = "housing"
depth = 6
[joint.end]
kind = "rabbet"
depth = 9
[joint.front]
kind = "tongue"
width = 6
depth = 5
"""
CASE: Final = '[[cabinet]]\nname = "Case"\nheight = 836\nwidth = 636\ndepth = 400\ncarcass = "ply"\n'
BACK: Final = 'back = { stock = "back", rabbet_width = 8, rabbet_depth = 9 }\n'
FRAME: Final = 'frame = { stock = "frame", stile = 40, top = 50, bottom = 30, rail = 30, joint = "front", tenon = 8 }\n'
TWO_COLUMNS: Final = (
    '[[cabinet.column]]\nwidth = "equal"\nopenings = ["equal", "equal"]\n'
    '[[cabinet.column]]\nwidth = "equal"\nopenings = [{right}]\n'
)
SAME: Final = TWO_COLUMNS.replace("{right}", '"equal", "equal"')
OTHER: Final = TWO_COLUMNS.replace("{right}", '200, "equal"')


def parts_of(text: str, head: str = HEAD) -> dict[str, CutPart]:
    job = read_well(head + text)
    parts = cutting_list([lay_out_cabinet(cabinet, job.figures) for cabinet in job.cabinets], job.figures)
    return {part.name: part for part in parts}


def laid_out(text: str) -> CabinetLayout:
    (cabinet,) = read_well(text).cabinets
    return lay_out_cabinet(cabinet, Figures.usual(Units.MM))


def sizes(part: CutPart) -> tuple[Fraction, Fraction, Fraction]:
    return part.length, part.width, part.thickness


def inches(text: str) -> Fraction:
    return read_length(text, Units.INCH)


def test_textbook_cabinet_gives_the_printed_list() -> None:
    printed, by_hand = TEXTBOOK["printed"], TEXTBOOK["by_hand"]
    job = f"""units = "inch"
    [stock]
    end = "{printed["end_thickness"]}"
    shelf = "{printed["shelf_thickness"]}"
    back = "3/8"
    [joint.let_in]
    kind = "housing"
    depth = "{by_hand["groove_depth"]}"
    [[cabinet]]
    height = "{printed["end_length"]}"
    width = "{printed["back_width"]}"
    depth = "12 3/8"
    carcass = "shelf"
    sides = "end"
    joint = "let_in"
    back = {{ stock = "back", laid_on = true }}
    openings = ["equal", "equal", "equal"]
    """
    parts = parts_of(job, head="")
    side, back = parts["side"], parts["back"]
    shelves = [parts["bottom"], parts["top"], parts["shelf 1, 2"]]
    assert sum(part.count for part in shelves) == printed["shelves"]
    for shelf in shelves:
        assert sizes(shelf) == (inches(printed["shelf_length"]), inches("12"), inches(printed["shelf_thickness"]))
    assert (side.count, side.hands) == (2, HandCounts(1, 1))
    assert sizes(side) == (inches(printed["end_length"]), inches("12"), inches(printed["end_thickness"]))
    assert (back.width, back.length) == (inches(printed["back_width"]), inches(printed["end_length"]))
    assert "grooved: bottom, shelf 1, 2, top" in side.notes


def test_parts_of_a_framed_cabinet_agree_with_hand_calculation() -> None:
    parts = parts_of(CASE + 'joint = "shelf"\n' + BACK + FRAME + SAME)
    # The case is 400 - 20 deep, its sides have 5 more for the tongue in front, and the others lose the rabbet's 8.
    assert sizes(parts["side"]) == (836, 385, 18)
    assert sizes(parts["bottom"]) == sizes(parts["top"]) == (600 + 2 * Fraction("5.5"), 377, 18)
    assert sizes(parts["divider 1"]) == (800 + 11, 377, 18)
    for shelf in ("shelf 1", "shelf 2"):
        assert sizes(parts[shelf]) == (291 + 11, 377, 18)
    assert sizes(parts["back"]) == (836, 618, 6)
    assert sizes(parts["stile"]) == (836, 40, 20)
    assert sizes(parts["bottom rail"]) == (556 + 16, 30, 20)
    assert sizes(parts["top rail"]) == (556 + 16, 50, 20)
    # Behind the mid stile stands the divider, 18 wide: rails run from 40 to 309 with a tenon at each end.
    assert sizes(parts["mid stile at divider 1"]) == (836 - 80 + 16, 18, 20)
    assert sizes(parts["rail at shelf 1, 2"]) == (269 + 16, 30, 20)


def test_notes_say_what_is_cut_and_what_ends_and_edges_carry() -> None:
    parts = parts_of(CASE + 'joint = "shelf"\n' + BACK + FRAME + SAME)
    assert parts["side"].notes == (
        "front edge tongued 5",
        "back edge rabbeted 8 wide, 9 deep",
        "grooved: bottom, shelf 1/shelf 2, top",
    )
    assert parts["divider 1"].notes == (
        "both ends tongued 5.5",
        "front edge tongued 5, 17.5 to 773.5 from its lower end, shouldered beyond",
        "left face grooved: shelf 1",
        "right face grooved: shelf 2",
    )
    # Rails from 40 to 309; the shelves begin at 18 - 5.5 and at 309 + 18 - 5.5 - 18 + 18 - 5.5: images of each other.
    assert parts["shelf 1"].notes == (
        "both ends tongued 5.5",
        "front edge tongued 5, 27.5 to 296.5 from its left end, shouldered beyond",
    )
    assert parts["shelf 2"].notes == (
        "both ends tongued 5.5",
        "front edge tongued 5, 5.5 to 274.5 from its left end, shouldered beyond",
    )
    assert parts["stile"].notes == (
        "back grooved 6 wide, 5 deep, 6 from its outer edge",
        "mortised: bottom rail, rail at shelf 1/rail at shelf 2, top rail",
    )
    assert "upper edge mortised: mid stile at divider 1" in parts["bottom rail"].notes
    assert "both ends tenoned 8" in parts["top rail"].notes


def test_sides_under_a_top_are_a_left_and_a_right_one_with_their_tongues_as_far_from_the_outside() -> None:
    """A tongue 3 from the outside, and the groove for it in the top 3 from both of its ends, 636 apart."""
    joint = HEAD + '[joint.outer]\nkind = "tongue"\nwidth = 6\ndepth = 6\nset = 3\n'
    ends = "".join(f'{end} = {{ place = "over", joint = "outer" }}\n' for end in ("top", "bottom"))
    parts = parts_of(CASE + ends, joint)
    side = parts["side"]
    assert side.hands == HandCounts(1, 1)
    tongues = [work for work in side.works if work.kind == "tongue"]
    # From the outside 3 is cut away, and from the inside 18 - 3 - 6 = 9.
    assert [(tongue.on, tongue.shoulders) for tongue in tongues] == [("lower end", (3, 9)), ("upper end", (3, 9))]
    grooves = [(work.name, work.start, work.end) for work in parts["top"].works]
    assert grooves == [("left side", 3, 9), ("right side", 627, 633)]


def test_sides_whose_columns_differ_stand_apart() -> None:
    parts = parts_of(CASE + 'joint = "housed"\n' + OTHER)
    assert parts["left side"].hands == HandCounts(1, 0)
    assert parts["right side"].hands == HandCounts(0, 1)
    assert parts["left side"].notes == ("grooved: bottom, shelf 1, top",)
    assert "both ends housed 6" in parts["shelf 1, 2"].notes


def test_through_shelf_says_which_face_takes_the_dividers() -> None:
    rows = '[[cabinet.row]]\nheight = "equal"\n[[cabinet.row]]\nheight = "equal"\n[[cabinet.row.column]]\n'
    parts = parts_of(CASE + 'joint = "housed"\n' + rows + "[[cabinet.row.column]]\n")
    assert parts["shelf 1"].notes == ("both ends housed 6", "upper face grooved: divider 1")
    assert "lower face" not in " ".join(parts["top"].notes)


def test_top_in_a_rabbet_and_back_in_a_groove() -> None:
    back = 'back = { stock = "back", groove_depth = 7, groove_inset = 10 }\n'
    parts = parts_of(CASE + 'joint = "housed"\ntop = { joint = "end" }\n' + back)
    assert parts["side"].notes == (
        "grooved for the back 6 wide, 7 deep, 10 from the back edge, 11 to 825 from its lower end",
        "grooved: bottom",
        "rabbeted: top",
    )
    assert parts["top"].length == 600 + 18
    assert "both ends let into a rabbet 9" in parts["top"].notes
    # 800 and 600 inside, and 7 less a gap of 1 at both ends.
    assert sizes(parts["back"]) == (812, 612, 6)
    assert parts["back"].notes == ("stands 1 short of the bottom of each groove",)
    full = parts_of(CASE + 'joint = "housed"\n' + back.replace("10 }", "10, bottom_gap = 0 }"))
    assert sizes(full["back"]) == (814, 614, 6)


def test_edging_and_toe_space_are_said() -> None:
    parts = parts_of(CASE + "edging = 8\ntoe = { height = 80, recess = 50 }\n")
    assert parts["side"].width == 392
    assert parts["side"].notes == (
        "front edge takes edging 8 thick, not in the width",
        "notched for the toe space, 80 high and 50 deep from the front edge of the case; a board before it is left to "
        "the shop",
    )


def test_edging_of_a_part_that_stands_in_others_is_held_back_to_its_shoulders() -> None:
    """600 inside: the bottom is 8 longer at each end, and with its edging that long it would not go home."""
    parts = parts_of(CASE + 'joint = "housed"\ntop = { joint = "end" }\nedging = 8\n')
    whole = "front edge takes edging 8 thick, not in the width"
    assert whole in parts["side"].notes
    assert parts["bottom"].length > 600
    for name in ("bottom", "top"):
        assert f"{whole}, held back to the shoulders: 600 long" in parts[name].notes


def test_plinth_is_four_pieces() -> None:
    parts = parts_of(CASE + 'plinth = { stock = "ply", height = 90, recess = 40 }\n')
    assert sizes(parts["plinth front, plinth back"]) == (636, 90, 18)
    assert sizes(parts["plinth left end, plinth right end"]) == (400 - 40 - 36, 90, 18)
    assert parts["plinth left end, plinth right end"].count == parts["plinth front, plinth back"].count == 2


ADJUSTABLE: Final = (
    'openings = [{ opening = "equal", name = "books"{front}, '
    "adjustable = { shelves = 3, first = 96, pitch = 32, front = 37, back = 37, play = 2 } }]\n"
)


def test_adjustable_shelves_are_shorter_and_less_deep_than_the_case_by_what_they_have_to_spare() -> None:
    parts = parts_of(CASE + BACK + ADJUSTABLE.replace("{front}", ""))
    assert sizes(parts["adjustable shelf: books"]) == (598, 390, 18)
    assert parts["adjustable shelf: books"].notes == ("shorter by 2 and less deep by 2 than there is room",)
    tight = parts_of(CASE + BACK + ADJUSTABLE.replace("{front}", "").replace("play = 2", "play = 0, depth_play = 5"))
    assert sizes(tight["adjustable shelf: books"]) == (600, 387, 18)
    assert tight["adjustable shelf: books"].notes == ("less deep by 5 than there is room",)
    assert parts["adjustable shelf: books"].count == 3
    assert "bored for shelves: books" in parts["side"].notes


def test_adjustable_shelves_stand_behind_an_inset_door() -> None:
    fronts = 'fronts = { kind = "inset", stock = "frame", reveal = 2 }\n'
    parts = parts_of(CASE + BACK + fronts + ADJUSTABLE.replace("{front}", ', front = "door"'))
    assert parts["adjustable shelf: books"].width == 392 - 20 - 2


def test_fronts_lie_with_their_grain_and_pairs_have_hands() -> None:
    fronts = 'fronts = { kind = "inset", stock = "frame", reveal = 2 }\n'
    openings = 'openings = ["equal", "equal", { opening = 300, front = "pair" }]\n'
    parts = parts_of(CASE + fronts + openings)
    assert sizes(parts["drawer front: opening 1, 2"]) == (596, 228, 20)
    assert sizes(parts["door: opening 3"]) == (296, 297, 20)
    assert parts["door: opening 3"].hands == HandCounts(1, 1)
    assert parts["drawer front: opening 1, 2"].hands is None


def test_an_openings_own_name_is_kept_whole_even_where_it_says_left_or_has_a_colon() -> None:
    fronts = 'fronts = { kind = "inset", stock = "frame", reveal = 2 }\n'
    openings = 'openings = [{ opening = 300, name = "left: bay", front = "pair" }, "equal"]\n'
    assert "door: left: bay" in parts_of(CASE + fronts + openings)


def test_solid_fronts_say_what_they_leave_open_through_the_year() -> None:
    wood = 'wood = { species = "Cherry, black", cut = "flat", made_at = 8, driest = 6, dampest = 12 }'
    parts = parts_of(CASE + f'fronts = {{ kind = "inset", stock = "frame", reveal = 2, {wood} }}\n')
    assert parts["drawer front: opening 1"].notes == (
        "Cherry, black, flat-sawn, cut to width at 8 % moisture",
        "reveal across the grain 5.9 full when made, 7.9 scant at 6 %, 2 at 12 %",
    )


def test_drawer_boxes_give_sides_and_what_stands_between_them() -> None:
    drawers = 'drawers = { stock = "box", side = 13, top = 10, bottom = 6, back = 25 }\nopenings = ["equal", "equal"]\n'
    parts = parts_of(CASE + drawers)
    side, between = parts["drawer box side: opening 1, 2"], parts["drawer box front and back: opening 1, 2"]
    assert (side.count, *sizes(side)) == (4, 375, 391 - 16, 12)
    assert (between.count, *sizes(between)) == (4, 600 - 26 - 24, 391 - 16, 12)
    assert side.notes == ("box 574 wide, 375 high, 375 deep outside",)


def test_every_fault_of_every_cabinet_is_told_at_once() -> None:
    fronts = 'fronts = { kind = "inset", stock = "frame", reveal = 300 }\n'
    drawers = 'drawers = { stock = "box", side = 300, top = 0, back = 0 }\n'
    shelves = ADJUSTABLE.replace("{front}", ', front = "none"').replace("play = 2", "play = 600")
    second = CASE.replace('"Case"', '"Second"')
    with pytest.raises(Faults) as raised:
        parts_of(CASE + fronts + drawers + second + shelves)
    assert [fault.where for fault in raised.value.faults] == [
        'cabinet 1 ("Case"), fronts',
        'cabinet 1 ("Case"), drawers',
        'cabinet 2 ("Second")',
    ]
    assert str(raised.value.faults[2]).endswith(
        'the adjustable shelves of opening "books" come to nothing: it is 600 wide, and their play is 600; '
        "make the play less."
    )


def test_impossible_part_is_a_bug() -> None:
    one = Fraction(1)
    with pytest.raises(ValueError, match="lath"):
        CutPart("lath", "Case", "shelf", 1, "ply", one, Fraction(0), one)
    with pytest.raises(ValueError, match="lath"):
        CutPart("lath", "Case", "shelf", 3, "ply", one, one, one, HandCounts(1, 1))


def test_totals_by_stock_and_by_frame_width() -> None:
    parts = parts_of(CASE + FRAME + 'openings = ["equal", "equal"]\n').values()
    (ply,) = areas(parts)
    # 385 with the tongue in front: two sides, then bottom, top and a shelf.
    assert ply.area == 385 * (2 * 836 + 3 * 600)
    assert ply.square_metres == ply.area / 1_000_000
    assert ply.square_feet == ply.area / (INCH_MM * 12) ** 2
    assert {(total.width, total.length) for total in frame_lengths(parts)} == {(40, 1672), (30, 1144), (50, 572)}


def test_rows_are_labels_and_tell_hands() -> None:
    parts = parts_of(CASE + 'joint = "housed"\n' + SAME)
    rows = part_rows(parts.values(), lambda length: f"<{length}>")
    assert rows[0] == ("side", "ply", "1 left, 1 right", "2", "<836>", "<400>", "<18>")
    assert all(len(row) == len(PART_HEADINGS) for row in rows)
    assert ("divider 1", "both ends housed 6; left face grooved: shelf 1; right face grooved: shelf 2") in note_rows(
        parts.values()
    )
    assert (hands_in_words(None), hands_in_words(HandCounts(0, 2))) == ("", "2 right")


@given(st.fractions(17, 25, max_denominator=64), st.booleans())
def test_thickness_of_a_stock_moves_no_outside_dimension(thickness: Fraction, framed: bool) -> None:
    head = HEAD.replace("ply = 18", f'ply = "{thickness}"')
    frame = FRAME.replace('joint = "front", ', "") if framed else ""
    parts = parts_of(CASE + 'joint = "housed"\n' + frame + SAME, head)
    assert parts["side"].length == 836
    assert parts["side"].width == 400 - (20 if framed else 0)
    assert 2 * parts["side"].thickness + parts["bottom"].length - 2 * 6 == 636
    across = 2 * parts["shelf 1, 2"].length + 3 * thickness - 4 * 6
    assert across == 636
    if framed:
        assert parts["stile"].length == 836
        assert parts["bottom rail"].length - 16 + 2 * parts["stile"].width == 636


def test_pieces_laid_end_to_end_reach_from_side_to_side() -> None:
    layout = laid_out(HEAD + CASE + 'joint = "shelf"\n' + SAME)
    row = sorted(
        (
            piece.x
            for piece in layout.pieces
            if piece.name in {"left side", "shelf 1", "divider 1", "shelf 2", "right side"}
        ),
        key=lambda x: x.start,
    )
    assert (row[0].start, row[-1].end) == (0, 636)
    assert all(one.end == other.start for one, other in pairwise(row))


CHEST: Final = """title = "Chest"
units = "inch"
[stock]
ply = "23/32"
[joint.shelf]
kind = "tongue"
width = "1/4"
depth = "1/4"
bottom_gap = "1/64"
[[cabinet]]
name = "Chest"
height = "36"
width = "40"
depth = "22"
carcass = "ply"
joint = "shelf"
openings = ["equal", "equal", "equal"]
"""


def listing(folder: Path, text: str, *words: str) -> str:
    path = folder / "chest.toml"
    path.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["parts", str(path), *words])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_listing_as_json_has_the_keys_that_other_programs_rely_on(tmp_path: Path) -> None:
    found = json.loads(listing(tmp_path, CHEST, "--format", "json"))
    side, bottom = found["parts"][:2]
    assert side.keys() >= {"name", "count", "stock", "cabinet", "hands", "notes"}
    assert (side["name"], side["count"], side["stock"], side["cabinet"]) == ("side", 2, "ply", "Chest")
    assert side["hands"] == {"left": 1, "right": 1}
    assert bottom["hands"] is None
    assert bottom["length"] == "39 1/32"
    assert bottom["length_mm"] == float(inches("39 1/32"))
    assert (bottom["width"], bottom["thickness"]) == ("22", "23/32")
    assert bottom["notes"] == ["both ends tongued 15/64"]
    for part in found["parts"]:
        for word in ("length", "width", "thickness"):
            assert float(inches(part[word])) == part[f"{word}_mm"]
    assert found["areas"][0]["stock"] == "ply"


def test_listing_as_csv_has_a_row_for_each_part(tmp_path: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(listing(tmp_path, CHEST, "--format", "csv"))))
    assert [row["name"] for row in rows] == ["side", "bottom", "top", "shelf 1, 2"]
    assert (rows[0]["left"], rows[0]["right"], rows[1]["left"]) == ("1", "1", "")
    assert rows[1]["length"] == "39 1/32"


def test_listing_as_text_is_rounded_and_says_what_sizes_hold(tmp_path: Path) -> None:
    text = listing(tmp_path, CHEST.replace('units = "inch"', 'units = "inch"\nround_to = "1/16"'))
    assert "Finished sizes" in text
    assert "39 1/16 scant" in text or "39 full" in text
    assert "1 left, 1 right" in text
    assert "square metres" in text


def test_job_without_cabinets_has_no_parts(tmp_path: Path) -> None:
    assert "no cabinet" in listing(tmp_path, PLAIN)
    assert json.loads(listing(tmp_path, PLAIN, "--format", "json"))["parts"] == []


def test_fault_of_the_list_names_its_file(tmp_path: Path) -> None:
    path = tmp_path / "chest.toml"
    path.write_text(CHEST + 'fronts = { kind = "inset", reveal = "20" }\n', encoding="utf-8")
    result = CliRunner().invoke(main, ["parts", str(path)])
    assert result.exit_code == 1
    assert 'chest.toml, cabinet 1 ("Chest"), fronts' in result.stderr
