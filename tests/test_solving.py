"""Openings solved, and every position from the datum, exactly."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import lengths, sticks

from storystick.errors import Fault, Faults
from storystick.job.case_joints import Butt, Housing, Tongue
from storystick.job.joints import Joint
from storystick.job.openings import Fixed, Graduated, Item, Opening, Part, RatioRule, Share, StepRule, Stock
from storystick.job.sticks import Centre, Datum, Holes, Stick
from storystick.layout.solving import solve
from storystick.layout.stations import PointKind, SpanKind, StickLayout
from storystick.layout.sticks import lay_out_stick
from storystick.lengths import Figures, Units, read_length

MM = Figures.usual(Units.MM)

FOSTER: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent.parent / "shared" / "textbook_cabinet.toml").read_text(encoding="utf-8")
)
EQUAL = Opening(Share(Fraction(1)))


def inch(text: str) -> Fraction:
    return read_length(text, Units.INCH)


def part(thickness: Fraction | int, joint: Joint | None = None, name: str | None = None) -> Part:
    return Part(Stock("ply", Fraction(thickness)), name, joint)


def opening(size: Fraction | int, name: str | None = None) -> Opening:
    return Opening(Fixed(Fraction(size)), name)


def share(shares: Fraction | int) -> Opening:
    return Opening(Share(Fraction(shares)))


def stick(*items: Item, length: Fraction | int | None = None, points: tuple[Holes | Centre, ...] = ()) -> Stick:
    return Stick(1, "side", Datum.BOTTOM, items, None if length is None else Fraction(length), points=points)


def sizes(*items: Item, length: Fraction | int | None = None, units: Units = Units.MM) -> list[Fraction]:
    return [row.size for row in solve(stick(*items, length=length), Figures.usual(units))]


def opening_sizes(*items: Item, length: Fraction | int | None = None, units: Units = Units.MM) -> list[Fraction]:
    return [row.size for row in solve(stick(*items, length=length), Figures.usual(units)) if row.part is None]


@pytest.mark.parametrize(
    ("items", "length", "solved"),
    [
        ((part(18), opening(300), part(18)), None, [18, 300, 18]),
        ((part(18), opening(300), part(18)), 336, [18, 300, 18]),
        ((EQUAL, EQUAL, EQUAL), 100, [Fraction(100, 3)] * 3),
        ((part(10), share(2), part(10), share(1), part(10)), 90, [10, 40, 10, 20, 10]),
        ((share(Fraction(1, 2)), share(Fraction(3, 2))), 10, [Fraction(5, 2), Fraction(15, 2)]),
        ((opening(30), EQUAL), 100, [30, 70]),
        ((Graduated(3, StepRule(Fraction(10)), Fraction(50)),), None, [50, 40, 30]),
        ((Graduated(3, RatioRule(Fraction(2)), Fraction(40)),), None, [40, 20, 10]),
        ((Graduated(3, StepRule(Fraction(10)), between=part(5)),), 130, [50, 5, 40, 5, 30]),
        ((Graduated(3, RatioRule(Fraction(2)), between=part(5)),), 80, [40, 5, 20, 5, 10]),
        (
            (Graduated(2, StepRule(Fraction(10)), Fraction(50)), part(8), Graduated(2, RatioRule(Fraction(3)))),
            138,
            [50, 40, 8, 30, 10],
        ),
        ((Graduated(2, StepRule(Fraction(10)), Fraction(50)), EQUAL), 100, [50, 40, 10]),
    ],
)
def test_every_form_is_solved_exactly(items: tuple[Item, ...], length: int | None, solved: list[Fraction]) -> None:
    assert sizes(*items, length=length) == solved


GROUP = Graduated(4, StepRule(Fraction(100)), Fraction(250))


@pytest.mark.parametrize(
    ("items", "length", "units", "said"),
    [
        (
            (part(inch("9/16")), opening(inch("36"))),
            inch("36"),
            Units.INCH,
            "parts and openings come to 36 9/16, 9/16 more than length 36; "
            'change a size, or let one opening be "equal".',
        ),
        (
            (part(18), opening(300)),
            320,
            Units.MM,
            'parts and openings come to 318, 2 less than length 320; change a size, or let one opening be "equal".',
        ),
        (
            (part(18), opening(Fraction(100, 3))),
            50,
            Units.MM,
            "parts and openings come to 51.3 full, 1.3 full more than length 50; "
            'change a size, or let one opening be "equal".',
        ),
        (
            (part(18), opening(300), EQUAL),
            318,
            Units.MM,
            "no room is left for the openings that share it: the rest comes to 318 of length 318; "
            "make the length more or the other sizes less.",
        ),
        (
            (part(inch("23/32")), EQUAL, part(inch("23/32"))),
            inch("1"),
            Units.INCH,
            "no room is left for the openings that share it: the rest comes to 1 7/16 of length 1; "
            "make the length more or the other sizes less.",
        ),
        (
            (Graduated(3, StepRule(Fraction(1)), between=part(50)),),
            100,
            Units.MM,
            "no room is left for the openings that share it: the rest comes to 100 of length 100; "
            "make the length more or the other sizes less.",
        ),
        (
            (part(18), EQUAL),
            None,
            Units.MM,
            "an opening takes what is left, but the stick has no length; give length = ….",
        ),
        (
            (Graduated(3, StepRule(Fraction(1))),),
            None,
            Units.MM,
            "an opening takes what is left, but the stick has no length; give length = ….",
        ),
        (
            (Graduated(3, StepRule(Fraction(1))), EQUAL),
            100,
            Units.MM,
            "a graduated group without first takes all that is left, but something else shares it; "
            "give the group its first opening.",
        ),
        (
            (Graduated(3, StepRule(Fraction(1))), Graduated(2, RatioRule(Fraction(2)))),
            100,
            Units.MM,
            "a graduated group without first takes all that is left, but something else shares it; "
            "give the group its first opening.",
        ),
        (
            (GROUP,),
            None,
            Units.MM,
            "the last of 4 graduated openings comes to -50; make step less, or first or the length more.",
        ),
        (
            (Graduated(2, StepRule(Fraction(50)), Fraction(50)),),
            None,
            Units.MM,
            "the last of 2 graduated openings comes to 0; make step less, or first or the length more.",
        ),
        (
            (Graduated(4, StepRule(inch("4"))),),
            inch("20"),
            Units.INCH,
            "the last of 4 graduated openings comes to -1; make step less, or first or the length more.",
        ),
        (
            (opening(60_000), part(18), opening(60_000)),
            None,
            Units.MM,
            "parts and openings come to more than 100 m; look at the units.",
        ),
    ],
)
def test_what_does_not_fit_is_said_with_its_figures(
    items: tuple[Item, ...], length: Fraction | None, units: Units, said: str
) -> None:
    with pytest.raises(Fault) as caught:
        solve(stick(*items, length=length), Figures.usual(units))
    assert str(caught.value) == said


def test_groove_wider_than_its_part_is_said_with_its_figures() -> None:
    tongue = Tongue(name="shelf", width=Fraction(10), depth=Fraction(6), set=Fraction(12))
    with pytest.raises(Faults) as caught:
        lay_out_stick(stick(part(18, tongue, "bottom"), opening(300), part(18, tongue, "top")), MM)
    assert [str(fault) for fault in caught.value.faults] == [
        f'part "{name}" is 18 thick, but joint "shelf" wants its groove from 12 to 22 of that; '
        "make the groove narrower, or set it nearer the datum side."
        for name in ("bottom", "top")
    ]


def test_points_beyond_the_stick_are_said_with_their_figures() -> None:
    holes = Holes(Fraction(100), Fraction(32), 8, "pins")
    with pytest.raises(Faults) as caught:
        lay_out_stick(stick(opening(300), points=(holes, Centre(Fraction(301), "pull"))), MM)
    assert [str(fault) for fault in caught.value.faults] == [
        '"pins 8" at 324 lies beyond the stick\'s length of 300; make the holes fewer or nearer.',
        '"pull" at 301 lies beyond the stick\'s length of 300; move it nearer the datum.',
    ]


# Openings from the last to the largest; each list and its gaps add up by hand to the length:
# 5.4375 + 6.4375 + 7.4375 + 8.4375 + 3 x 0.75 = 30, and 150.75 + 175.75 + 200.75 + 225.75 + 3 x 3 = 762.
@pytest.mark.parametrize(
    ("rule", "length", "gap", "units", "by_hand"),
    [
        (StepRule(inch("1")), "30", "3/4", Units.INCH, ["5.4375", "6.4375", "7.4375", "8.4375"]),
        (StepRule(Fraction(25)), "762", "3", Units.MM, ["150.75", "175.75", "200.75", "225.75"]),
    ],
)
def test_step_gives_the_sums_made_by_hand(
    rule: StepRule, length: str, gap: str, units: Units, by_hand: list[str]
) -> None:
    group = Graduated(4, rule, between=part(read_length(gap, units)))
    solved = opening_sizes(group, length=read_length(length, units), units=units)
    assert solved == [read_length(size, units) for size in reversed(by_hand)]


# 27 3/4 in for four openings; for the ratio r by hand: the least is 27.75 / (1 + r + r^2 + r^3).
@pytest.mark.parametrize(
    ("ratio", "by_hand"),
    [
        (Fraction(6, 5), [5.1695, 6.2034, 7.4441, 8.9329]),
        (Fraction("1.6180339887"), [2.9296, 4.7403, 7.6699, 12.4102]),
    ],
)
def test_ratio_gives_the_sums_made_by_hand(ratio: Fraction, by_hand: list[float]) -> None:
    group = Graduated(4, RatioRule(ratio), between=part(inch("3/4")))
    solved = opening_sizes(group, length=inch("30"), units=Units.INCH)
    assert [float(size / inch("1")) for size in reversed(solved)] == pytest.approx(by_hand, abs=0.00005)


def test_textbook_cabinet_has_the_clear_width_that_is_found_by_hand() -> None:
    printed, by_hand = FOSTER["printed"], FOSTER["by_hand"]
    end = part(inch(printed["end_thickness"]))
    (clear,) = opening_sizes(end, EQUAL, end, length=inch(printed["back_width"]), units=Units.INCH)
    assert clear == inch(by_hand["clear_width"])


def test_textbook_cabinet_has_the_shelves_that_are_printed() -> None:
    printed, by_hand = FOSTER["printed"], FOSTER["by_hand"]
    housing = Housing(name="end", depth=inch(by_hand["groove_depth"]))
    shelf = part(inch(printed["shelf_thickness"]), housing)
    items = [shelf, *[EQUAL, shelf] * (printed["shelves"] - 1)]
    layout = lay_out_stick(stick(*items, length=inch(printed["end_length"])), Figures.usual(Units.INCH))
    assert len(layout.grooves) == printed["shelves"]
    assert {groove.size for groove in layout.grooves} == {inch(printed["shelf_thickness"])}
    assert inch(by_hand["clear_width"]) + 2 * housing.entry == inch(printed["shelf_length"])


# Rows of shelf-pin holes 32 mm apart are common practice; no standard was found. Nine pitches make 288 mm.
def test_ten_holes_32_apart_span_288_mm() -> None:
    layout = lay_out_stick(stick(opening(400), points=(Holes(Fraction(37), Fraction(32), 10, "pins"),)), MM)
    assert layout.points[-1].at - layout.points[0].at == 288
    assert [point.at for point in layout.points] == [37, 69, 101, 133, 165, 197, 229, 261, 293, 325]
    assert [point.name for point in layout.points[:2]] == ["pins 1", "pins 2"]
    assert {point.kind for point in layout.points} == {PointKind.HOLE}


def test_centre_lies_where_it_is_given() -> None:
    layout = lay_out_stick(stick(opening(400), points=(Centre(Fraction(400), "end"),)), MM)
    assert [(point.kind, point.name, point.at) for point in layout.points] == [(PointKind.CENTRE, "end", 400)]


@pytest.mark.parametrize(
    ("joint", "groove", "tongue"),
    [
        (None, None, 0),
        (Butt(name="j"), None, 0),
        (Housing(name="j", depth=Fraction(6), bottom_gap=Fraction(1)), (100, 118), 5),
        (Tongue(name="j", width=Fraction(6), depth=Fraction(7)), (106, 112), 7),
        (Tongue(name="j", width=Fraction(6), depth=Fraction(7), set=Fraction(2)), (102, 108), 7),
        (Tongue(name="j", width=Fraction(18), depth=Fraction(7), set=Fraction(0)), (100, 118), 7),
    ],
)
def test_joint_gives_its_groove_and_tongue(joint: Joint | None, groove: tuple[int, int] | None, tongue: int) -> None:
    (placed,) = lay_out_stick(stick(opening(100), part(18, joint)), MM).parts
    assert (joint.entry if joint else 0) == tongue
    assert (placed.groove and (placed.groove.start, placed.groove.end)) == groove


def test_what_has_no_name_is_counted() -> None:
    group = Graduated(2, StepRule(Fraction(1)), Fraction(50), part(18), "drawer")
    layout = lay_out_stick(stick(part(18), opening(9), part(18, name="rail"), opening(9), group), MM)
    assert [span.name for span in layout.spans] == [
        *("part 1", "opening 1", "rail", "opening 2"),
        *("drawer 1", "part 3", "drawer 2"),
    ]


@given(sticks())
def test_spans_lie_end_to_end_from_the_datum(stick: Stick) -> None:
    spans = lay_out_stick(stick, MM).spans
    assert spans[0].start == 0
    assert all(span.start < span.end for span in spans)
    assert all(before.end == after.start for before, after in pairwise(spans))


@given(sticks())
def test_sizes_come_to_the_length_to_the_last_digit(stick: Stick) -> None:
    layout = lay_out_stick(stick, MM)
    assert sum(span.size for span in layout.spans) == layout.length
    assert stick.length in (None, layout.length)


@given(sticks())
def test_marks_rise_strictly_and_hold_every_edge_and_point(stick: Stick) -> None:
    layout = lay_out_stick(stick, MM)
    assert all(before < after for before, after in pairwise(layout.marks))
    assert (layout.marks[0], layout.marks[-1]) == (0, layout.length)
    assert set(layout.marks) == _stations(layout)


def _stations(layout: StickLayout) -> set[Fraction]:
    spans = [*layout.spans, *layout.grooves]
    return {edge for span in spans for edge in (span.start, span.end)} | {point.at for point in layout.points}


@given(sticks())
def test_groove_lies_within_its_part(stick: Stick) -> None:
    layout = lay_out_stick(stick, MM)
    for placed in layout.parts:
        assert placed.span.kind is SpanKind.PART
        if placed.groove:
            assert placed.span.start <= placed.groove.start < placed.groove.end <= placed.span.end
            assert placed.groove.name == placed.span.name


@given(st.lists(st.fractions(Fraction(1, 9), 9, max_denominator=99), min_size=1, max_size=9), lengths(1, 5000))
def test_shares_keep_their_proportions(shares: list[Fraction], length: Fraction) -> None:
    solved = sizes(*map(share, shares), length=length)
    assert sum(solved) == length
    assert all(size * shares[0] == solved[0] * portion for size, portion in zip(solved, shares, strict=True))


@given(st.integers(2, 60), lengths(1, 20), lengths(1, 400))
def test_group_that_fills_has_the_same_step_throughout(count: int, step: Fraction, last: Fraction) -> None:
    length = last * count + step * count * (count - 1) / 2
    solved = sizes(Graduated(count, StepRule(step)), length=length)
    assert solved[-1] == last
    assert {before - after for before, after in pairwise(solved)} == {step}


@given(st.integers(2, 20), st.fractions(Fraction(11, 10), 3, max_denominator=20), lengths(1, 5000))
def test_group_that_fills_has_the_same_ratio_throughout(count: int, ratio: Fraction, length: Fraction) -> None:
    solved = sizes(Graduated(count, RatioRule(ratio)), length=length)
    assert sum(solved) == length
    assert {before / after for before, after in pairwise(solved)} == {ratio}
