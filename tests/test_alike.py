"""Which faces share a strip, against the sticks themselves compared one by one."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from jobs import GALLERY_JOBS, read_well

from storystick.drawing.strip import strips_of
from storystick.job.sticks import Hand
from storystick.laying_out import lay_out, load
from storystick.layout.alike import LetteredStick, common_name, lettered_sticks
from storystick.layout.stations import Layout, StickLayout

BANK = """
units = "mm"
[stock]
ply = 18
back = 6
[joint.shelf]
kind = "tongue"
width = 6
depth = 6
[[cabinet]]
name = "Bank"
height = 800
width = 1200
depth = 500
carcass = "ply"
joint = "shelf"
back = { stock = "back", rabbet_width = 6, rabbet_depth = 9 }
[[cabinet.column]]
openings = ["equal", "equal", "equal"]
[[cabinet.column]]
openings = ["equal", "equal", "equal"]
[[cabinet.column]]
openings = ["equal", "equal", "equal"]
"""


def lay_out_text(text: str) -> Layout:
    return lay_out(read_well(text))


def struck_lines(stick: StickLayout) -> set[tuple[str, float, float]]:
    """All lines of a strip, read from its lists anew."""
    lines = {(span.kind.value, float(span.start), float(span.end)) for span in stick.spans}
    lines |= {("groove", float(groove.start), float(groove.end)) for groove in stick.grooves}
    lines |= {("member", float(member.start), float(member.end)) for member in stick.beside}
    return lines | {(point.kind.value, float(point.at), float(point.at)) for point in stick.points}


@pytest.fixture(params=GALLERY_JOBS, ids=lambda path: path.stem)
def layout(request: pytest.FixtureRequest) -> Layout:
    return load(request.param)


def by_name(layout: Layout) -> dict[str, StickLayout]:
    return {stick.name: stick for stick in layout.sticks}


def test_a_strip_has_every_line_of_every_face_it_serves_and_no_other(layout: Layout) -> None:
    for lettered in lettered_sticks(layout):
        for name in lettered.serves:
            assert struck_lines(by_name(layout)[name]) == struck_lines(lettered.drawn)


def test_faces_of_two_strips_differ_in_what_is_struck_or_how_it_is_laid(layout: Layout) -> None:
    def laid(lettered: LetteredStick) -> tuple[object, ...]:
        stick = lettered.drawn.stick
        return (stick.datum, stick.pair, stick.edge_words, struck_lines(lettered.drawn))

    for one, other in combinations(lettered_sticks(layout), 2):
        own = not one.faces or not other.faces
        assert own or laid(one) != laid(other), (one.letter, other.letter)


def test_a_face_without_a_strip_has_nothing_to_strike_between_its_ends(layout: Layout) -> None:
    served = {name for lettered in lettered_sticks(layout) for name in lettered.serves}
    for name in by_name(layout).keys() - served:
        stick = by_name(layout)[name]
        inside = [edge for edge in stick.marks if 0 < edge < stick.length]
        own_ends = {edge for part in stick.parts for edge in (part.span.start, part.span.end)}
        own_ends |= {edge for groove in stick.grooves for edge in (groove.start, groove.end)}
        assert not stick.points
        assert set(inside) <= own_ends | {edge for span in stick.beside for edge in (span.start, span.end)}


def test_the_job_s_own_sticks_have_a_strip_each(layout: Layout) -> None:
    served = [lettered.serves for lettered in lettered_sticks(layout)]
    for stick in layout.job.sticks:
        assert (stick.name,) in served


def test_letters_rise_without_those_that_look_like_figures() -> None:
    sticks = "\n".join(f'[[stick]]\nname = "s{number}"\npart = "ply"\nopenings = [50]' for number in range(30))
    layout = lay_out_text(f'units = "mm"\nstock = {{ ply = 18 }}\n{sticks}')
    found = [lettered.letter for lettered in lettered_sticks(layout)]
    assert found[:9] == ["A", "B", "C", "D", "E", "F", "G", "H", "J"]
    assert found[23:26] == ["Z", "AA", "AB"]
    assert not {"I", "O"} & set("".join(found))


def test_dividers_of_equal_columns_share_one_strip_for_both_faces() -> None:
    words = {lettered.serves_words: lettered for lettered in lettered_sticks(lay_out_text(BANK))}
    both = words["Bank divider 1, 2, both faces"]
    assert both.fronts == (("right face", True), ("left face", False))
    assert both.drawn.stick.laid is None
    assert len(both.serves) == 4


def test_a_shelf_that_nothing_ends_on_and_a_single_door_have_no_strip() -> None:
    text = BANK.replace('[[cabinet.column]]\nopenings = ["equal", "equal", "equal"]\n', "") + 'openings = ["equal"]\n'
    door = 'depth = 500\nfronts = { kind = "inset", stock = "ply", reveal = 2 }'
    words = [lettered.serves_words for lettered in lettered_sticks(lay_out_text(text.replace("depth = 500", door)))]
    assert words == ["Bank side"]


def test_one_hand_of_a_pair_where_the_job_asks_for_one() -> None:
    one = strips_of(lay_out_text(BANK.replace('units = "mm"', 'units = "mm"\nhands = "one"')))
    both = strips_of(lay_out_text(BANK))
    sides = [strip.hand for strip in both if strip.letter == "A"]
    assert sides == [Hand.LEFT, Hand.RIGHT]
    assert [strip.hand for strip in one if strip.letter == "A"] == [Hand.LEFT]
    assert [strip.letter for strip in one] == list(dict.fromkeys(strip.letter for strip in both))


@pytest.mark.parametrize(
    ("names", "called"),
    [
        (["shelf 1", "shelf 1"], "shelf 1"),
        (["left 1", "right 1"], "left 1 / right 1"),
        ([f"opening {number}" for number in range(1, 31, 6)], "opening 1, 7, 13, 19, 25"),
        ([f"opening {number}" for number in range(1, 90, 6)], "opening"),
        (["plates", "cups", "bowls"], "opening"),
    ],
)
def test_what_is_called_by_several_names_has_a_short_one(names: list[str], called: str) -> None:
    assert common_name(names, "opening") == called


def test_a_stick_that_serves_nobody_else_keeps_its_names(layout: Layout) -> None:
    for lettered in lettered_sticks(layout):
        if len(lettered.served) == 1:
            assert lettered.drawn == lettered.served[0]


def test_lines_of_two_bars_at_one_station_are_on_strips_of_their_own() -> None:
    """A strip says the bar beside its line, so it cannot serve a face whose straightedge is set by another."""
    chest = load(next(path for path in GALLERY_JOBS if path.stem == "bead-chest"))
    shared = next(lettered for lettered in lettered_sticks(chest) if len(lettered.served) > 1)
    first, other = shared.served[:2]
    changed = replace(other, points=tuple(replace(point, note="bar B") for point in other.points))
    sticks = tuple(changed if stick is other else stick for stick in chest.sticks)
    served = [lettered.serves for lettered in lettered_sticks(replace(chest, sticks=sticks))]
    assert first.points
    assert any(first.name in names for names in served)
    assert not any({first.name, other.name} <= set(names) for names in served)
