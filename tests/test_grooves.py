"""Bars, shims, straightedge lines and passes: by hand, and by cutting every groove again from its settings."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import ceil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import assume, given
from hypothesis import strategies as st
from jobs import FIGURES, GALLERY_JOBS, read_well
from strategies import lengths
from strategies import sticks as any_stick

from storystick import lay_out, load
from storystick.cli import main
from storystick.drawing.shapes import Area, Line
from storystick.drawing.strip_bands import draw_bands
from storystick.drawing.strip_labels import place_labels
from storystick.drawing.window import Window
from storystick.job.case_joints import Housing, Rabbet, Tongue
from storystick.job.job import Job
from storystick.job.joints import Joint
from storystick.job.openings import Fixed, Item, Opening, Part, Stock
from storystick.job.papers import DEFAULT_MARGIN, PAPERS, Margins
from storystick.job.shop import Shop
from storystick.job.sticks import Datum, Hand, Stick
from storystick.job.tools import BarRecord, BaseEdge, Bit, Router, Routing
from storystick.layout.stations import PointKind, StickLayout
from storystick.layout.sticks import lay_out_stick
from storystick.lengths import DEFAULT_STEP, INCH_MM, Units
from storystick.tooling.bars import (
    LEAST_SHIM,
    bar_findings,
    bars_of,
    bars_wanted,
    base_findings,
    depths,
    run_out,
    shims,
    turn_findings,
)
from storystick.tooling.grooves import groove_setups
from storystick.tooling.settings import groove_warnings
from storystick.tooling.setups import GrooveSetup, Side

GALLERY = Path(__file__).parent.parent / "gallery"


def inch(value: str) -> Fraction:
    return sum(map(Fraction, value.split()), Fraction(0)) * INCH_MM


def router(name: str, *to_centre: str) -> Router:
    names = ["base"] if len(to_centre) == 1 else [f"edge {number}" for number in range(1, len(to_centre) + 1)]
    return Router(
        name, tuple(BaseEdge(edge, inch(length)) for edge, length in zip(names, to_centre, strict=True)), False
    )


QUARTER, HALF = Bit("1/4", inch("1/4")), Bit("1/2", inch("1/2"))
PLUNGE = router("plunge", "3")
SHOP = Shop((PLUNGE,), (QUARTER, HALF))
HOUSING = Housing(name="housing", depth=inch("3/8"))
TONGUE = Tongue(name="tongue", width=inch("1/4"), depth=inch("1/4"))


def side(*items: Item) -> StickLayout:
    return lay_out_stick(Stick(1, "Side", Datum.BOTTOM, items), FIGURES[Units.INCH])


def part(thickness: str, joint: Joint | None = HOUSING, name: str = "shelf") -> Part:
    return Part(Stock("ply", inch(thickness)), name, joint)


def opening(size: str) -> Opening:
    return Opening(Fixed(inch(size)))


def only_setup(layout: StickLayout, shop: Shop = SHOP, units: Units = Units.INCH) -> GrooveSetup:
    (setup,) = groove_setups([layout], shop, FIGURES[units])
    return setup


@pytest.mark.parametrize(
    ("width", "bit", "wanted"),
    [
        # Common practice's own example: a groove of 23/32 with a 1/2 bit takes a shim of 7/32 (5.55625 mm).
        ("23/32", "1/2", ["7/32", "0"]),
        ("3/4", "1/2", ["1/4", "0"]),
        ("1/4", "1/4", ["0"]),
        ("1/2", "1/4", ["1/4", "0"]),
        # More than two passes: shims in even steps, by arithmetic.
        ("3/4", "1/4", ["1/2", "1/4", "0"]),
        ("11/16", "1/4", ["7/16", "7/32", "0"]),
    ],
)
def test_shims_are_groove_less_bit_in_even_steps(width: str, bit: str, wanted: list[str]) -> None:
    assert list(shims(inch(width), inch(bit))) == [inch(shim) for shim in wanted]


def test_shims_are_exact_in_millimetres_too() -> None:
    assert shims(inch("23/32"), inch("1/2"))[0] == Fraction("5.55625")
    assert shims(Fraction(18), Fraction(12)) == (6, 0)


@pytest.mark.parametrize(
    ("depth", "bit", "wanted"),
    [
        ("1/4", HALF, ["1/4"]),
        ("3/8", HALF, ["1/4", "3/8"]),
        ("5/16", QUARTER, ["1/8", "1/4", "5/16"]),
        ("9/32", QUARTER, ["1/8", "1/4", "9/32"]),
        ("11/16", HALF, ["1/4", "1/2", "11/16"]),
        ("7/8", HALF, ["1/4", "1/2", "3/4", "7/8"]),
        # 3/32 is the most at once, and less than any usual depth: the finer one that still does it in two.
        ("3/16", replace(HALF, diameter=inch("3/16")), ["3/32", "3/16"]),
        ("1/4", QUARTER, ["1/8", "1/4"]),
        ("3/8", QUARTER, ["1/8", "1/4", "3/8"]),
        ("3/8", replace(HALF, pass_depth=inch("1/8")), ["1/8", "1/4", "3/8"]),
        ("3/8", replace(QUARTER, pass_depth=inch("1/2")), ["3/8"]),
    ],
)
def test_depths_are_usual_ones_and_the_last_is_the_grooves_own(depth: str, bit: Bit, wanted: list[str]) -> None:
    """Common practice, no source: what a plunge router's stops are set to."""
    assert list(depths(inch(depth), bit, Units.INCH)) == [inch(each) for each in wanted]


@pytest.mark.parametrize(
    ("depth", "diameter", "wanted"),
    [("6", 12, ["6"]), ("9", 12, ["6", "9"]), ("9", 6, ["3", "6", "9"]), ("6.2", 6, ["3", "6", "6.2"])],
)
def test_depths_in_millimetres_are_usual_in_millimetres(depth: str, diameter: int, wanted: list[str]) -> None:
    bit = Bit("bit", Fraction(diameter))
    assert list(depths(Fraction(depth), bit, Units.MM)) == list(map(Fraction, wanted))


@given(lengths(1, 40), lengths(2, 30), st.sampled_from(Units))
def test_no_pass_is_deeper_than_the_bit_takes_and_none_is_more_than_needed(
    depth: Fraction, diameter: Fraction, units: Units
) -> None:
    stops = (Fraction(0), *depths(depth, Bit("bit", diameter), units))
    assert stops[-1] == depth
    assert all(0 < later - earlier <= diameter / 2 for earlier, later in pairwise(stops))
    assert len(stops) - 1 == ceil(depth / (diameter / 2))


@pytest.mark.parametrize(
    ("width", "bit", "wanted", "words"),
    [
        ("0.25", "0.25", ["0"], ""),
        # Some thousandths either way: at once, and tried in scrap.
        ("0.2495", "0.25", ["0"], "Bit bit is under 1/64 wider than the groove: test the fit in scrap."),
        ("0.253", "0.25", ["0"], "Bit bit is under 1/64 narrower than the groove: test the fit in scrap, and "),
        ("0.734375", "0.71875", ["0"], "Bit bit is 1/64 narrower than the groove: test the fit in scrap, and "),
        # More than 1/64, but a shim thinner than 1/32 is not made.
        ("0.74", "0.71875", ["0"], "Bit bit is 1/64 full narrower than the groove: test the fit in scrap, and "),
        # A shim of 1/32 is.
        ("0.75", "0.71875", ["0.03125", "0"], ""),
    ],
)
def test_a_bit_within_some_thousandths_cuts_its_groove_at_once_and_no_shim_is_too_thin(
    width: str, bit: str, wanted: list[str], words: str
) -> None:
    shop = Shop((PLUNGE,), (Bit("bit", inch(bit)),))
    setup = only_setup(side(opening("10"), part(width), opening("10")), shop)
    assert list(setup.shims) == [inch(shim) for shim in wanted]
    assert " ".join(setup.warnings).startswith(words)
    assert bool(setup.warnings) == bool(words)


def test_a_bit_that_is_wider_by_more_than_some_thousandths_does_not_serve() -> None:
    """0.006 in is the widest gap that white glue bridges: a wood scientist's column, as the project's facts cite it."""
    shop = Shop((PLUNGE,), (Bit("bit", inch("0.25")),))
    assert only_setup(side(opening("10"), part("0.244"), opening("10")), shop).bar
    assert only_setup(side(opening("10"), part("0.2439"), opening("10")), shop).bar is None


def test_a_bit_that_needs_a_shim_too_thin_gives_way_to_one_whose_shim_can_be_made() -> None:
    shop = Shop((PLUNGE,), (HALF, Bit("wide", inch("0.725"))))
    setup = only_setup(side(opening("10"), part("0.75"), opening("10")), shop)
    assert setup.bar
    assert (setup.bar.bit, setup.shims) == ("1/2", (inch("1/4"), 0))


@pytest.mark.parametrize(
    ("joint", "start", "end"),
    [
        # By hand: a part of 18 from 300 to 318, the groove 0.2 wider, half of that at either side.
        (Housing(name="housing", depth=Fraction(6), fit=Fraction("0.2")), "299.9", "318.1"),
        # The width of a tongue's groove is as written, 6 in the middle of 18: the tongue is thinner.
        (Tongue(name="tongue", width=Fraction(6), depth=Fraction(6), fit=Fraction("0.2")), "306", "312"),
    ],
)
def test_a_stated_fit_makes_the_groove_wider_than_what_goes_into_it(joint: Joint, start: str, end: str) -> None:
    items = (
        Opening(Fixed(Fraction(300))),
        Part(Stock("ply", Fraction(18)), "shelf", joint),
        Opening(Fixed(Fraction(9))),
    )
    (groove,) = lay_out_stick(Stick(1, "Side", Datum.BOTTOM, items), FIGURES[Units.MM]).grooves
    assert (groove.start, groove.end) == (Fraction(start), Fraction(end))
    edges, entering = joint.groove(Fraction(18)), joint.enters(Fraction(18))
    assert edges
    assert entering
    assert (edges[1] - edges[0]) - (entering[1] - entering[0]) == joint.fit
    assert entering[0] - edges[0] == edges[1] - entering[1]


def test_a_groove_with_play_ends_with_the_board() -> None:
    loose = Housing(name="housing", depth=Fraction(6), fit=Fraction("0.2"))
    ply = Stock("ply", Fraction(18))
    items = (Part(ply, "low", loose), Opening(Fixed(Fraction(300))), Part(ply, "high", loose))
    low, high = lay_out_stick(Stick(1, "Side", Datum.BOTTOM, items), FIGURES[Units.MM]).grooves
    assert (low.start, low.end) == (0, Fraction("18.1"))
    assert (high.start, high.end) == (Fraction("317.9"), 336)


def test_a_bit_may_be_narrower_by_more_than_usual_only_where_the_joint_states_a_fit() -> None:
    """A bit of 18 for a part of 18 in a groove 0.5 wider: what goes in still does."""
    shop = Shop((PLUNGE,), (Bit("bit", Fraction(18)),), routing=Routing(least_shim=Fraction(0)))
    for fit, thickness, wanted in (("0.5", "18", 1), ("0", "18.5", 2)):
        loose = Housing(name="housing", depth=Fraction(6), fit=Fraction(fit))
        items = (Opening(Fixed(Fraction(300))), Part(Stock("ply", Fraction(thickness)), "shelf", loose))
        layout = lay_out_stick(
            Stick(1, "Side", Datum.BOTTOM, (*items, Opening(Fixed(Fraction(300))))), FIGURES[Units.MM]
        )
        (setup,) = groove_setups([layout], shop, FIGURES[Units.MM])
        assert len(setup.shims) == wanted


def test_an_open_groove_is_never_left_short_of_the_end() -> None:
    """A bit 1/64 under a rabbet at an end would leave so much standing: the first pass runs out beyond the end."""
    shop = Shop((PLUNGE,), (Bit("bit", inch("0.703125")),))
    setup = only_setup(side(part("0.71875", Rabbet(name="rabbet", depth=inch("1/4"))), opening("20")), shop)
    assert (setup.shims, setup.warnings) == ((inch("1/32"), 0), ())
    check_by_cutting(setup, inch("20.71875"))


def test_what_fits_and_which_shims_are_made_is_the_shops_to_say() -> None:
    shop = Shop((PLUNGE,), (Bit("bit", inch("0.71875")),), routing=Routing(Fraction(0), Fraction(0)))
    assert only_setup(side(opening("10"), part("0.734375"), opening("10")), shop).shims == (inch("1/64"), 0)
    lenient = replace(shop, routing=Routing(bit_under=inch("1/32"), least_shim=Fraction(0)))
    assert only_setup(side(opening("10"), part("0.75"), opening("10")), lenient).shims == (0,)


def test_a_bar_is_as_wide_as_from_base_edge_to_near_edge_of_cut() -> None:
    two = router("two", "3", "3 1/2")
    record = BarRecord("A", "two", "edge 2", "1/2", inch("3 1/4") + inch("1/64"))
    bars = bars_of(Shop((PLUNGE, two), (QUARTER, HALF), (record,)))
    assert [(bar.name, bar.near, bar.far) for bar in bars] == [
        ("A", inch("3 1/4"), inch("3 3/4")),
        ("plunge, 1/4 bit", inch("2 7/8"), inch("3 1/8")),
        ("plunge, 1/2 bit", inch("2 3/4"), inch("3 1/4")),
        ("two edge 1, 1/4 bit", inch("2 7/8"), inch("3 1/8")),
        ("two edge 1, 1/2 bit", inch("2 3/4"), inch("3 1/4")),
        ("two edge 2, 1/4 bit", inch("3 3/8"), inch("3 5/8")),
    ]


def test_bars_to_have_are_those_recorded_and_those_used() -> None:
    shop = replace(SHOP, bars=(BarRecord("A", "plunge", "base", "1/2"),))
    setups = groove_setups([side(opening("8"), part("3/4", TONGUE), opening("8"))], shop, FIGURES[Units.INCH])
    assert [bar.name for bar in bars_wanted(shop, setups)] == ["A", "plunge, 1/4 bit"]
    assert [bar.name for bar in bars_wanted(shop, ())] == ["A"]


def test_a_base_that_a_bit_is_too_large_for_has_no_bar_and_says_so() -> None:
    shop = Shop((PLUNGE, router("trim", "1")), (Bit("wide", inch("2")),))
    assert [bar.router for bar in bars_of(shop)] == ["plunge"]
    assert base_findings(shop, FIGURES[Units.INCH]) == (
        "Router trim takes no bit wide on its edge base: the base reaches 1 from the centre, and the bit 1.",
    )


@pytest.mark.parametrize(
    ("measured", "sentences"),
    [
        (None, []),
        ("2 3/4", ["Bar A is proved: 2 3/4, as computed from base and bit."]),
        (
            "2 47/64",
            ["Bar A is proved: 2 47/64. Cut to the computed 2 3/4, it is 1/64 too wide: take 1/64 off."],
        ),
        ("2 49/64", ["Bar A is proved: 2 49/64. Cut to the computed 2 3/4, it is 1/64 too narrow."]),
        (
            "2 23/32",
            [
                "Bar A is proved: 2 23/32. Cut to the computed 2 3/4, it is 1/32 too wide: take 1/32 off.",
                "Bar A was measured more than 1/64 from its computed width: check the base, the bit's diameter and the "
                "measuring, and whether the base is off centre, by four trial cuts at quarter turns.",
            ],
        ),
    ],
)
def test_a_proved_bar_says_how_far_it_is_out(measured: str | None, sentences: list[str]) -> None:
    record = BarRecord("A", "plunge", "base", "1/2", inch(measured) if measured else None)
    bar, *_ = bars_of(replace(SHOP, bars=(record,)))
    assert list(bar_findings(bar, FIGURES[Units.INCH])) == sentences


def test_quarter_turns_give_the_run_out_and_the_mark_to_keep() -> None:
    # A base 1/64 off its centre toward mark 1: that cut is 1/64 farther off, the opposite one as much nearer.
    turns = tuple(map(inch, ("2 49/64", "2 3/4", "2 47/64", "2 3/4")))
    found = run_out(turns)
    assert (found.run_out, found.mean, found.mark, found.distance) == (inch("1/32"), inch("2 3/4"), 2, inch("2 3/4"))
    assert turn_findings(replace(PLUNGE, turns=turns), FIGURES[Units.INCH]) == (
        "The base of router plunge is off centre, with a run-out of 1/32. Keep mark 2 toward the straightedge, always: "
        "its cut, at 2 3/4, is nearest to the mean of the four, 2 3/4, which is what a centred base would give.",
    )
    assert turn_findings(PLUNGE, FIGURES[Units.INCH]) == ()


def test_a_centred_base_and_cuts_that_disagree_are_told() -> None:
    even = replace(PLUNGE, turns=(inch("2 3/4"),) * 4)
    assert turn_findings(even, FIGURES[Units.INCH]) == (
        "The base of router plunge is centred: all four cuts are 2 3/4 from the straightedge.",
    )
    odd = replace(PLUNGE, turns=tuple(map(inch, ("2 3/4", "2 7/8", "2 3/4", "2 7/8"))))
    assert turn_findings(odd, FIGURES[Units.INCH])[1] == (
        "Opposite cuts of router plunge should have the same mean, but their means are 1/8 apart: measure them again, "
        "or see whether the base is worn."
    )


@given(st.lists(lengths(20, 90), min_size=4, max_size=4))
def test_no_other_mark_is_nearer_to_the_mean(turns: list[Fraction]) -> None:
    found = run_out(turns)
    assert turns[found.mark - 1] == found.distance
    assert all(abs(found.distance - found.mean) <= abs(turn - found.mean) for turn in turns)


def test_the_widest_bit_that_fits_is_used_with_the_straightedge_on_the_datum_side() -> None:
    setup = only_setup(side(opening("10"), part("23/32"), opening("10")))
    assert setup.bar is not None
    assert (setup.bar.bit, setup.side, setup.straightedge) == ("1/2", Side.DATUM, inch("7 1/4"))
    assert (setup.width, setup.shims) == (inch("23/32"), (inch("7/32"), 0))
    assert (setup.depths, setup.warnings) == ((inch("1/4"), inch("3/8")), ())


def test_a_tongues_groove_takes_the_bit_that_is_as_wide() -> None:
    setup = only_setup(side(opening("10"), part("3/4", TONGUE), opening("10")))
    assert setup.bar is not None
    assert (setup.bar.bit, setup.shims, setup.straightedge) == ("1/4", (0,), inch("7 3/8"))


def test_near_the_datum_the_straightedge_lies_on_the_far_side() -> None:
    setup = only_setup(side(opening("1"), part("3/4"), opening("20")))
    assert (setup.side, setup.straightedge) == (Side.FAR, inch("4 1/2"))
    # On the stick, but with no room to clamp on the datum side.
    setup = only_setup(side(opening("3"), part("3/4"), opening("20")))
    assert (setup.side, setup.straightedge, setup.warnings) == (Side.FAR, inch("6 1/2"), ())


def test_a_measured_bar_decides_where_the_line_is_and_is_taken_before_others() -> None:
    record = BarRecord("A", "second", "base", "1/2", inch("2 49/64"))
    shop = Shop((PLUNGE, router("second", "3")), (HALF,), (record,))
    setup = only_setup(side(opening("10"), part("3/4"), opening("10")), shop)
    assert setup.bar is not None
    assert (setup.bar.name, setup.straightedge) == ("A", inch("7 15/64"))


def test_an_edge_that_reaches_less_far_serves_where_the_other_would_lie_off_the_board() -> None:
    shop = Shop((router("two", "6", "3"),), (HALF,))
    setup = only_setup(side(opening("4"), part("1/2"), opening("4")), shop)
    assert setup.bar is not None
    assert (setup.bar.edge, setup.straightedge, setup.warnings) == ("edge 2", inch("1 1/4"), ())


def test_little_room_to_clamp_is_a_warning_with_a_way_out() -> None:
    setup = only_setup(side(opening("3"), part("1/2"), opening("3")))
    assert (setup.side, setup.straightedge) == (Side.DATUM, inch("1/4"))
    assert setup.warnings == (
        "Only 1/4 of the board lies under the straightedge, too little to clamp: lay a waste board of the same "
        "thickness against the end of the board, and clamp to both.",
    )


def test_a_straightedge_that_falls_off_the_board_is_a_warning_with_a_way_out() -> None:
    setup = only_setup(side(opening("2"), part("1/2"), opening("2 1/4")))
    assert (setup.side, setup.straightedge) == (None, None)
    assert setup.warnings == (
        "With bar plunge, 1/2 bit the straightedge would lie 1/2 off the board: leave the board so much longer "
        "at its far end until the groove is cut, lay a waste board of the same thickness against it and clamp to both, "
        "or use a base edge that is nearer to the bit.",
    )


def test_bits_that_are_all_too_wide_and_a_shop_without_routers_are_warnings() -> None:
    stick = side(opening("10"), part("3/4", TONGUE), opening("10"))
    setup = only_setup(stick, replace(SHOP, bits=(HALF,)))
    assert (setup.bar, setup.straightedge, setup.shims, setup.depths) == (None, None, (), ())
    assert setup.warnings == (
        "Every bit is wider than this groove of 1/4, the narrowest 1/2: add a bit of 1/4 or less, or make the joint's "
        "groove as wide as a bit.",
    )
    assert only_setup(stick, Shop(bits=(HALF,))).warnings == (
        "The shop has no router with a bit: add [router.NAME] with base_diameter or edge_to_centre, and [bit.NAME] "
        "with diameter, to its file.",
    )


def test_a_rabbet_at_an_end_is_cut_from_the_board_by_a_bit_that_takes_it_at_once() -> None:
    wide = Bit("3/4", inch("3/4"))
    rabbet = Rabbet(name="rabbet", depth=inch("3/8"))
    shop = replace(SHOP, bits=(QUARTER, HALF, wide))
    for items, wanted in (
        ((part("23/32", rabbet), opening("20")), (Side.FAR, inch("23/32") + inch("2 5/8"))),
        ((opening("20"), part("23/32", rabbet)), (Side.DATUM, inch("20") - inch("2 5/8"))),
    ):
        setup = only_setup(side(*items), shop)
        assert setup.bar is not None
        assert (setup.bar.bit, setup.shims) == ("3/4", (0,))
        assert (setup.side, setup.straightedge) == wanted


def test_a_groove_without_a_joint_is_left_to_the_fence() -> None:
    assert groove_setups([side(part("3/4", None), opening("20"))], SHOP, FIGURES[Units.INCH]) == ()


def cuts(setup: GrooveSetup) -> list[tuple[Fraction, Fraction]]:
    """The stations that each pass takes away: the straightedge, the shim, the base to the near edge, the bit."""
    assert setup.bar is not None
    assert setup.straightedge is not None
    away = 1 if setup.side is Side.DATUM else -1
    nears = [setup.straightedge + away * (shim + setup.bar.used) for shim in setup.shims]
    edges = [(near, near + away * setup.bar.diameter) for near in nears]
    return [(min(pair), max(pair)) for pair in edges]


def check_by_cutting(setup: GrooveSetup, length: Fraction) -> None:
    """Cut a groove from its settings: from start to end, with no ridge left; what lies off the board is air.

    The edge toward the straightedge is exact, and so is the other one, but where one pass of a bit that is nearly as
    wide as the groove takes it.
    """
    if setup.straightedge is None:
        assert setup.warnings
        return
    assert 0 <= setup.straightedge <= length
    taken = sorted((max(near, Fraction(0)), min(far, length)) for near, far in cuts(setup))
    near, far = taken[0][0], max(end for _, end in taken)
    if len(setup.shims) > 1 or not any("test the fit in scrap" in warning for warning in setup.warnings):
        assert (near, far) == (setup.start, setup.end)
    else:
        exact, loose = (near - setup.start, far - setup.end)[:: 1 if setup.side is Side.DATUM else -1]
        assert exact == 0
        assert abs(loose) <= max(LEAST_SHIM.values())
        assert abs(far - near - setup.width) == abs(loose)
    assert all(following[0] <= cut[1] for cut, following in pairwise(taken))
    assert setup.depths[-1] == setup.depth


@st.composite
def shops(draw: st.DrawFn) -> Shop:
    bits = tuple(Bit(f"bit {number}", draw(lengths(2, 30))) for number in range(draw(st.integers(1, 3))))
    routers = tuple(
        Router(f"router {number}", (BaseEdge("base", draw(lengths(20, 120))),), True)
        for number in range(draw(st.integers(1, 2)))
    )
    measured = draw(st.none() | lengths(20, 100))
    bars = tuple(
        BarRecord("A", routers[0].name, "base", bits[0].name, measured) for _ in range(draw(st.integers(0, 1)))
    )
    return Shop(routers, bits, bars)


@given(any_stick(), shops(), st.sampled_from(Units))
def test_cuts_from_the_settings_give_back_every_groove_exactly(stick: Stick, shop: Shop, units: Units) -> None:
    layout = lay_out_stick(stick, FIGURES[units])
    setups = groove_setups([layout], shop, FIGURES[units])
    assert [setup.name for setup in setups] == [groove.name for groove in layout.grooves]
    for setup in setups:
        check_by_cutting(setup, layout.length)


@pytest.mark.parametrize("path", GALLERY_JOBS, ids=lambda path: path.stem)
def test_cuts_from_the_settings_give_back_every_groove_of_the_gallery(path: Path) -> None:
    if path.name == "shop.toml":
        pytest.skip("a shop, not a job")
    job = load(path).job
    shop = job.shop if job.shop and job.shop.bits else SHOP
    for stick in lay_out(job).sticks:
        for setup in groove_setups([stick], shop, job.figures):
            assert setup.straightedge is not None, setup.warnings
            check_by_cutting(setup, stick.length)


def job_with_shop(*items: Item, shop: Shop | None = SHOP) -> Job:
    margin = DEFAULT_MARGIN[Units.INCH]
    margins, stick = Margins(margin, margin, margin, margin), Stick(1, "Side", Datum.BOTTOM, items, pair=True)
    return Job("Case", Units.INCH, PAPERS["Letter"], margins, DEFAULT_STEP[Units.INCH], (stick,), shop=shop)


def test_straightedge_lines_are_points_of_the_layout_named_by_their_groove() -> None:
    items = (opening("1"), part("3/4", name="low"), opening("8"), part("3/4", name="high"), opening("8"))
    (stick,) = lay_out(job_with_shop(*items)).sticks
    lines = [(point.kind, point.name, point.at, point.words, point.toward) for point in stick.points]
    assert lines == [
        (PointKind.STRAIGHTEDGE, "low", inch("4 1/2"), "bar plunge, 1/2 bit: low", -1),
        (PointKind.STRAIGHTEDGE, "high", inch("7"), "bar plunge, 1/2 bit: high", 1),
    ]
    (plain,) = lay_out(job_with_shop(*items, shop=None)).sticks
    assert plain.points == ()


@pytest.mark.parametrize("hand", Hand)
def test_a_straightedge_line_is_dashed_at_its_station_with_a_flag_toward_its_groove(hand: Hand) -> None:
    items = (opening("8"), part("3/4"), opening("8"))
    job = job_with_shop(*items)
    (stick,) = lay_out(job).sticks
    window = Window(Fraction(0), stick.length, stick.length, hand)
    shapes = list(draw_bands(stick, window))
    (line,) = [shape for shape in shapes if isinstance(shape, Line) and shape.dash_mm]
    x, groove = window.x(stick.points[0].at), window.x(stick.grooves[0].start)
    assert (line.x1, line.x2, line.y1) == (x, x, 0.0)
    (flag,) = [shape for shape in shapes if isinstance(shape, Area) and x in [corner[0] for corner in shape.points]]
    tip = next(corner[0] for corner in flag.points if corner[0] != x)
    assert (tip > x) == (groove > x)
    assert abs(tip - x) > 1.5, "so that it is seen"
    words = [name.text for name in place_labels(stick, window, job.figures).names]
    assert "bar plunge, 1/2 bit: shelf" in words


JOB = """
title = "Case"
units = "inch"
[stock]
ply = "23/32"
[joint.housing]
kind = "housing"
depth = "3/8"
[[stick]]
name = "Side"
part = "ply"
joint = "housing"
openings = ["12", "12"]
"""
SHOP_FILE = """
[router.plunge]
base_diameter = 6
[bit.half]
diameter = "1/2"
[bar.A]
router = "plunge"
bit = "half"
measured = "2 49/64"
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "case.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "shop.toml").write_text(SHOP_FILE, encoding="utf-8")
    return tmp_path / "case.toml"


def run(*words: str | Path) -> str:
    result = CliRunner().invoke(main, [str(word) for word in words])
    assert result.exit_code == 0, result.output
    return result.stdout


def listed(job: Path) -> dict[str, Any]:
    listing: dict[str, Any] = json.loads(run("setups", job, "--format", "json"))
    return listing


def test_setups_as_json_have_the_keys_that_other_programs_rely_on(job: Path) -> None:
    listing = listed(job)
    assert listing["bars"] == [
        {
            "name": "A",
            "router": "plunge",
            "edge": "base",
            "bit": "half",
            "near": "2 3/4",
            "near_mm": 69.85,
            "far": "3 1/4",
            "far_mm": 82.55,
            "measured": "2 49/64",
            "measured_mm": 70.246875,
        }
    ]
    groove = listing["grooves"][1]
    assert (
        groove.items()
        >= {
            "stick": "Side",
            "name": "part 2",
            "width": "23/32",
            "width_mm": 18.25625,
            "bit": "half",
            "side": "datum side",
            "straightedge": "9 61/64",
            "straightedge_mm": 252.809375,
            "passes": 2,
            "shims": ["7/32", "0"],
            "shims_mm": [5.55625, 0.0],
        }.items()
    )
    assert isinstance(listing["saw"], list)


def test_setups_without_a_bar_say_null(job: Path) -> None:
    (job.parent / "shop.toml").write_text("[saw.table]\nkerf = '1/8'", encoding="utf-8")
    for groove in listed(job)["grooves"]:
        assert (groove["bit"], groove["side"], groove["straightedge"], groove["passes"]) == (None, None, None, 0)
        assert groove["warnings"]


def test_setups_as_csv_say_the_same_as_json(job: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(run("setups", job, "--format", "csv"))))
    listing = listed(job)
    assert [row["setting"] for row in rows] == ["bar", "groove", "groove", "groove"]
    for row, wanted in zip(rows, [*listing["bars"], *listing["grooves"]], strict=True):
        for key, value in wanted.items():
            said = "; ".join(map(str, value)) if isinstance(value, list) else "" if value is None else str(value)
            assert row[key] == said


def test_setups_as_text_say_a_line_an_operation_and_what_a_bar_proved(job: Path) -> None:
    text = run("setups", job)
    words = " ".join(text.split())
    settings = ("groove 23/32 wide, 3/8 deep", "bit at 1/4 then 3/8", "shims 7/32 then 0")
    operation = "; ".join(("Bar A, bit half", *settings, "straightedge on the datum side"))
    assert operation in words
    assert "Side: part 2 9 61/64" in words[words.index(operation) :]
    assert "Cut to the computed 2 3/4, it is 1/64 too narrow" in words


def test_a_job_without_a_shop_is_told_what_its_settings_need(job: Path) -> None:
    (job.parent / "shop.toml").unlink()
    text = run("setups", job)
    assert "The job has no shop file" in text
    assert "Every groove: the shop has no router with a bit" in " ".join(text.split())


def test_setups_list_the_saws_cuts_with_both_sides_of_the_blade(tmp_path: Path) -> None:
    chest = (GALLERY / "bead-chest" / "bead-chest.toml").read_text(encoding="utf-8")
    (tmp_path / "chest.toml").write_text(chest, encoding="utf-8")
    (tmp_path / "shop.toml").write_text("[saw.table]\nkerf = '1/8'", encoding="utf-8")
    cuts = listed(tmp_path / "chest.toml")["saw"]
    assert cuts
    for cut in cuts:
        assert cut.keys() >= {"part", "cut", "height", "height_mm", "fence_near", "fence_far"}
        assert cut["fence_far_mm"] - cut["fence_near_mm"] == pytest.approx(float(inch("1/8")), abs=1e-9)
    lines = run("setups", tmp_path / "chest.toml").splitlines()
    assert [line.split(".")[0].strip() for line in lines if ": Chest " in line and ". " in line] == [
        str(number) for number in range(1, len(cuts) + 1)
    ]
    assert any("into its facing" in line for line in lines)


def test_a_cabinet_in_a_shop_without_a_saw_is_told_what_the_saws_settings_need(tmp_path: Path) -> None:
    chest = (GALLERY / "bead-chest" / "bead-chest.toml").read_text(encoding="utf-8")
    (tmp_path / "chest.toml").write_text(chest, encoding="utf-8")
    (tmp_path / "shop.toml").write_text(SHOP_FILE, encoding="utf-8")
    assert listed(tmp_path / "chest.toml")["findings"][-1].startswith("The saw's settings need the width of its cut")


def test_straightedge_lines_are_in_the_marks(job: Path) -> None:
    (stick,) = json.loads(run("marks", job, "--format", "json"))["sticks"]
    assert {"kind": "straightedge", "name": "part 2", "at": "9 61/64", "at_mm": 252.809375} in stick["points"]


@pytest.mark.parametrize("command", ["check", "marks", "pages", "parts", "setups"])
def test_every_command_that_reads_a_job_takes_a_shop(command: str, job: Path) -> None:
    (job.parent / "shop.toml").rename(job.parent / "tools.toml")
    faulty = job.parent / "faulty.toml"
    faulty.write_text("[saw.table]", encoding="utf-8")
    assert run(command, job, "--shop", job.parent / "tools.toml")
    result = CliRunner().invoke(main, [command, str(job), "--shop", str(faulty)])
    assert result.exit_code == 1
    assert "faulty.toml, [saw.table]" in result.stderr


@given(any_stick(), shops())
def test_bars_in_use_are_among_those_to_have(stick: Stick, shop: Shop) -> None:
    setups = groove_setups([lay_out_stick(stick, FIGURES[Units.MM])], shop, FIGURES[Units.MM])
    used = {setup.bar for setup in setups if setup.bar}
    assume(used)
    assert used <= set(bars_wanted(shop, setups))


def test_later_passes_cut_on_the_side_of_the_straightedge() -> None:
    """A pass on the other side would be fed with the bit's turn: common practice, no source."""
    passes = shims(inch("1 1/8"), inch("1/2"))
    assert passes[-1] == 0
    assert all(earlier > later for earlier, later in pairwise(passes))


def test_a_bit_whose_centre_would_be_off_the_board_takes_no_open_groove() -> None:
    wide = Bit("2 in", inch("2"))
    setup = only_setup(side(part("3/4"), opening("20")), replace(SHOP, bits=(QUARTER, wide)))
    assert setup.bar is not None
    assert setup.bar.bit == "1/4"
    at_once = only_setup(side(part("3/4"), opening("20")), replace(SHOP, bits=(QUARTER, Bit("1 in", inch("1")))))
    assert at_once.bar is not None
    assert at_once.bar.bit == "1 in"
    assert any("so that the base cannot tip" in warning for warning in at_once.warnings)


NOTCHED = """
units = "inch"
stock = { ply = "3/4" }
joint.housing = { kind = "housing", depth = "1/4" }
[[cabinet]]
name = "Case"
height = "34 1/2"
width = "24"
depth = "23"
carcass = "ply"
joint = "housing"
toe = { height = "4", recess = "3" }
openings = ["OPENING", "equal"]
"""


@pytest.mark.parametrize(("opening_size", "near"), [("2", True), ("2 63/64", True), ("3", False)])
def test_a_toe_notch_is_cut_after_the_grooves_whose_straightedge_or_base_would_hang_over_it(
    opening_size: str, near: bool
) -> None:
    """By hand: bar 2 3/4, the bottom's groove at 4, so that the straightedge lies at 1 1/4. With an opening of 3 the
    shelf's groove is at 7 3/4 and the straightedge at 5, and its own inch just clears the notch of 4."""
    layout = lay_out(read_well('title = "Case"\n' + NOTCHED.replace("OPENING", opening_size)))
    sides = [stick for stick in layout.sticks if stick.name == "Case side"]
    assert [stick.notch for stick in sides] == [inch("4")]
    setups = groove_setups(sides, SHOP, FIGURES[Units.INCH])
    after = "lies where the toe notch will be: cut the toe notch after this groove."
    told = {setup.name for setup in setups if any(warning.endswith(after) for warning in setup.warnings)}
    assert told == ({"bottom", "shelf 1"} if near else {"bottom"})
    (line,) = (line for line in groove_warnings(setups) if line.endswith(after))
    assert line.startswith("Case side, ")
