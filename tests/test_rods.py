"""Pinch rods: which rod for which diagonal, weighed against every other way, and the fewest rods to make."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal, localcontext
from fractions import Fraction
from functools import cache
from itertools import combinations
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS

from storystick.job.job import Rectangle
from storystick.job.shop import Rod, RodStock, Shop, Squaring
from storystick.laying_out import load
from storystick.lengths import Units
from storystick.squaring.rectangles import rectangles_of, tolerance_of
from storystick.squaring.rods import RodPlan, RodReach, RodUse, rectangle_names, rods_for, rods_to_make, shared_out

INCH: Final = Fraction(127, 5)
ROUND: Final = {Units.INCH: INCH / 2, Units.MM: Fraction(10)}
TINY: Final = Fraction(1, 10**12)
USUAL: Final = RodStock()


@cache
def decimal_root(square: Fraction) -> Fraction:
    """The square root to 50 digits, by the decimal module."""
    with localcontext() as context:
        context.prec = 50
        return Fraction((Decimal(square.numerator) / Decimal(square.denominator)).sqrt())


def rectangle(width: Fraction | int | str, height: Fraction | int | str, name: str = "case") -> Rectangle:
    """In inches."""
    return Rectangle(name, Fraction(width) * INCH, Fraction(height) * INCH)


def shop(*reaches: tuple[str, str], stock: RodStock = USUAL, square: Fraction | None = None) -> Shop:
    """Rods named by their closed and open lengths in inches."""
    rods = (Rod(f"{low} to {high}", Fraction(low) * INCH, Fraction(high) * INCH) for low, high in reaches)
    return Shop(rods=tuple(rods), rod_stock=stock, square=Squaring(square))


def served(plan: RodPlan) -> dict[str, tuple[str, ...]]:
    return {rod.name: rod.serves for rod in plan.rods}


sizes: Final = st.integers(4, 1200).map(lambda count: count * INCH / 16)
squares: Final = st.lists(sizes.map(lambda size: size**2), max_size=7, unique=True).map(sorted)
reaches: Final = st.lists(st.tuples(sizes, sizes), max_size=6).map(
    lambda pairs: {
        f"rod {number}": RodReach(min(pair), max(pair) + INCH, INCH / 64) for number, pair in enumerate(pairs, start=1)
    }
)


@given(squares, reaches)
def test_no_fewer_rods_serve_as_many_diagonals_and_no_as_few_are_opened_less(
    squares: list[Fraction], rods: dict[str, RodReach]
) -> None:
    shared = shared_out(squares, rods)
    wanted = [square for square in squares if any(fits(reach, square) for reach in rods.values())]
    assert [square for run in shared.values() for square in run] == wanted
    assert all(fits(rods[name], square) for name, run in shared.items() for square in run)
    count, opened = least(wanted, rods)
    assert len(shared) == count
    assert sum(decimal_root(square) - rods[name].closed for name, run in shared.items() for square in run) == opened


def fits(reach: RodReach, square: Fraction) -> bool:
    diagonal = decimal_root(square)
    return reach.closed + reach.room <= diagonal <= reach.open - reach.room


def least(squares: Sequence[Fraction], rods: dict[str, RodReach]) -> tuple[int, Fraction]:
    """The fewest rods that serve all, and the least that as few are opened by altogether: every choice is tried."""
    for count in range(len(rods) + 1):
        found = [
            sum(
                (min(decimal_root(square) - rod.closed for rod in chosen if fits(rod, square)) for square in squares),
                start=Fraction(0),
            )
            for chosen in combinations(rods.values(), count)
            if all(any(fits(rod, square) for rod in chosen) for square in squares)
        ]
        if found:
            return count, min(found)
    raise AssertionError("no choice serves what each by itself is served")


tolerances: Final = st.integers(1, 8).map(lambda count: count * INCH / 64)
stocks: Final = st.integers(1, 40).map(lambda count: RodStock(overlap=count * INCH / 4))


@given(squares, stocks, tolerances, st.sampled_from(Units))
def test_no_fewer_rods_of_round_length_serve_what_none_of_the_shop_does(
    squares: list[Fraction], stock: RodStock, tolerance: Fraction, units: Units
) -> None:
    made = rods_to_make(squares, stock, tolerance, units)
    wanted = [square for _, run in made for square in run]
    longest = int(max(map(decimal_root, wanted), default=0) / ROUND[units])
    lengths = [count * ROUND[units] for count in range(1, longest + 1)]
    found = {frozenset(s for s in wanted if serves(length, s, stock, tolerance)) for length in lengths}
    assert all(
        frozenset().union(*chosen) != set(wanted) for count in range(len(made)) for chosen in combinations(found, count)
    )


def serves(length: Fraction, square: Fraction, stock: RodStock, tolerance: Fraction) -> bool:
    """Whether two sticks so long make a rod for a diagonal."""
    diagonal = decimal_root(square)
    return length + tolerance <= diagonal <= 2 * length - stock.overlap - tolerance / 2


@given(squares, stocks, tolerances, st.sampled_from(Units))
def test_a_rod_to_make_is_as_long_as_its_shortest_diagonal_allows_and_reaches_every_band(
    squares: list[Fraction], stock: RodStock, tolerance: Fraction, units: Units
) -> None:
    for reach, run in rods_to_make(squares, stock, tolerance, units):
        assert reach.closed % ROUND[units] == 0
        assert reach.closed + tolerance <= decimal_root(run[0]) < reach.closed + tolerance + ROUND[units]
        assert reach.open == 2 * reach.closed - stock.overlap
        assert decimal_root(run[-1]) + tolerance / 2 <= reach.open


@given(squares, stocks, tolerances, st.sampled_from(Units))
def test_a_diagonal_is_left_to_the_rule_only_where_sticks_would_open_by_less_than_a_round_length_and_two_tolerances(
    squares: list[Fraction], stock: RodStock, tolerance: Fraction, units: Units
) -> None:
    made = {square for _, run in rods_to_make(squares, stock, tolerance, units) for square in run}
    step = ROUND[units]
    for square in squares:
        length = (decimal_root(square) - tolerance) // step * step
        assert (square not in made) == (length - stock.overlap < step + tolerance * 3 / 2)


rectangles: Final = st.lists(st.tuples(sizes, sizes), max_size=8).map(
    lambda pairs: [Rectangle(f"opening {number}", *pair) for number, pair in enumerate(pairs, start=1)]
)


@given(rectangles, reaches, st.none() | tolerances, st.sampled_from(Units))
def test_every_rectangle_has_one_rod_that_reaches_its_whole_band_or_is_too_short_for_any(
    rectangles: list[Rectangle], rods: dict[str, RodReach], square: Fraction | None, units: Units
) -> None:
    owned = Shop(
        rods=tuple(Rod(name, reach.closed, reach.open) for name, reach in rods.items()), square=Squaring(square)
    )
    plan = rods_for(rectangles, owned, units)
    names = [*(name for rod in plan.rods for name in rod.serves), *(n for t in plan.too_short for n in t.names)]
    assert sorted(names) == sorted(each.name for each in rectangles)
    for rod in plan.rods:
        for target in rod.targets:
            half = tolerance_of(target.rectangles[0], owned, units) / 2
            assert rod.closed <= decimal_root(target.squared) - half
            assert decimal_root(target.squared) + half <= rod.open
            assert abs(target.diagonal - decimal_root(target.squared)) <= Fraction(1, 10**15)


def test_a_rod_that_is_opened_less_is_taken_of_as_few() -> None:
    plan = rods_for([rectangle(12, 16)], shop(("10", "30"), ("18", "24"), ("15", "60")), Units.INCH)
    assert served(plan) == {"18 to 24": ("case",)}


def test_one_rod_for_all_is_taken_before_two_that_are_nearer() -> None:
    wanted = [rectangle(12, 16, "small"), rectangle(30, 40, "large")]
    plan = rods_for(wanted, shop(("19", "21"), ("49", "51"), ("15", "60")), Units.INCH)
    assert served(plan) == {"15 to 60": ("small", "large")}


@pytest.mark.parametrize(
    ("closed", "opened", "serves"),
    [
        (5 * INCH - INCH / 64, 9 * INCH, True),
        (5 * INCH - INCH / 64 + TINY, 9 * INCH, False),
        (4 * INCH, 5 * INCH + INCH / 64, True),
        (4 * INCH, 5 * INCH + INCH / 64 - TINY, False),
    ],
)
def test_the_band_may_end_where_the_reach_does_and_not_the_least_bit_beyond(
    closed: Fraction, opened: Fraction, serves: bool
) -> None:
    # 3, 4 and 5: a diagonal that is exact. 1/32 in is the usual tolerance.
    plan = rods_for([rectangle(3, 4)], Shop(rods=(Rod("own", closed, opened),)), Units.INCH)
    assert ("own" in served(plan)) == serves


@pytest.mark.parametrize(
    ("stock", "diagonal", "made"),
    [
        # 5 in, with 1/32 in of room, 4 1/2 in closed; 2 × 4 1/2 − 3 = 6 in open.
        (RodStock(overlap=3 * INCH), (3, 4), ("9/2", "6")),
        (RodStock(overlap=5 * INCH), (3, 4), None),
        (RodStock(), (3, 4), None),
        # 20 in: 19 1/2, and 39 − 6 = 33.
        (RodStock(), (12, 16), ("39/2", "33")),
    ],
)
def test_two_sticks_close_to_their_length_and_open_to_twice_that_less_the_overlap(
    stock: RodStock, diagonal: tuple[int, int], made: tuple[str, str] | None
) -> None:
    plan = rods_for([rectangle(*diagonal)], shop(stock=stock), Units.INCH)
    found = [(rod.closed / INCH, rod.open / INCH) for rod in plan.rods]
    assert found == ([(Fraction(made[0]), Fraction(made[1]))] if made else [])
    assert [target.names for target in plan.too_short] == ([] if made else [("case",)])
    assert all(rod.to_make for rod in plan.rods)


def test_about_three_new_rods_reach_from_spaces_of_16_in_to_a_case_of_8_ft() -> None:
    """Common practice, no source: a rod for spaces of about 16 in, a middle one, and one for cases of 8 ft."""
    spaces = [rectangle(16, height, f"space {height}") for height in range(6, 21)]
    middle = [rectangle(30, height, f"carcass {height}") for height in range(16, 43)]
    cases = [rectangle(width, 96, f"case {width}") for width in (24, 30, 36, 48)]
    plan = rods_for([*spaces, *middle, *cases], None, Units.INCH)
    assert len(plan.rods) == 3
    assert not plan.too_short


def test_all_diagonals_from_16_in_to_8_ft_and_more_take_no_more_than_four_new_rods() -> None:
    plan = rods_for((rectangle(Fraction(side, 4), Fraction(side, 4)) for side in range(46, 288)), None, Units.INCH)
    assert len(plan.rods) <= 4


def test_the_bead_chest_needs_no_new_rod() -> None:
    (path,) = (path for path in GALLERY_JOBS if path.stem == "bead-chest")
    layout = load(path)
    plan = rods_for(rectangles_of(layout), layout.job.shop, Units.INCH)
    assert [(rod.name, rod.to_make) for rod in plan.rods] == [("short", False), ("long", False)]
    assert not plan.too_short
    # The case is 38 by 34 in; its long rod reaches from 30 to 56 in.
    outside = next(target for target in plan.rods[1].targets if "Chest case, outside" in target.names)
    assert outside.squared == (38**2 + 34**2) * INCH**2


@pytest.mark.parametrize("path", GALLERY_JOBS, ids=lambda path: path.stem)
def test_every_diagonal_of_the_gallery_has_a_rod_or_one_to_make(path: object) -> None:
    layout = load(str(path))
    plan = rods_for(rectangles_of(layout), layout.job.shop, layout.job.units)
    assert sorted(name for rod in plan.rods for name in rod.serves) == sorted(r.name for r in rectangles_of(layout))


def test_a_job_without_rectangles_wants_no_rod() -> None:
    assert rods_for([], shop(("14", "24")), Units.INCH) == RodPlan((), ())


def test_rectangles_with_one_diagonal_share_a_target_even_where_their_sides_differ() -> None:
    plan = rods_for([rectangle(7, 24, "a"), rectangle(15, 20, "b"), rectangle(24, 7, "c")], None, Units.INCH)
    assert [target.names for rod in plan.rods for target in rod.targets] == [("a", "b", "c")]


def test_targets_have_letters_in_order() -> None:
    wanted = [rectangle(20, 20 + Fraction(number, 4), f"r{number}") for number in range(30)]
    (rod,) = rods_for(wanted, None, Units.INCH).rods
    assert rod.letters[:2] + rod.letters[24:] == ("A", "B", "Y", "Z", "AA", "AB", "AC", "AD")


def test_points_suit_the_flattest_rectangle() -> None:
    rod: RodUse
    (rod,) = rods_for([rectangle(20, 20, "square"), rectangle(28, 7, "flat")], None, Units.INCH).rods
    assert rod.flattest == Fraction(1, 4)


@pytest.mark.parametrize(
    ("width", "height", "units", "wanted"),
    [
        # 48, 64 and 80 in are as 3, 4 and 5, and so are 1200, 1600 and 2000 mm.
        (48 * INCH, 64 * INCH, Units.INCH, INCH / 32),
        (48 * INCH, 64 * INCH + TINY, Units.INCH, INCH / 16),
        (Fraction(1200), Fraction(1600), Units.MM, Fraction("0.8")),
        (Fraction(1200), Fraction(1600) + TINY, Units.MM, Fraction("1.6")),
    ],
)
def test_what_diagonals_may_differ_by_follows_their_size_unless_the_shop_says(
    width: Fraction, height: Fraction, units: Units, wanted: Fraction
) -> None:
    case = Rectangle("case", width, height)
    assert tolerance_of(case, None, units) == tolerance_of(case, shop(), units) == wanted
    assert tolerance_of(case, shop(square=Fraction(1)), units) == 1


@pytest.mark.parametrize(
    ("names", "wanted"),
    [
        (["Chest opening 1", "Chest opening 2", "Chest opening 3"], "Chest opening 1–3"),
        (["Chest opening 1", "Chest opening 2", "Chest opening 5"], "Chest opening 1, 2, 5"),
        (["Chest opening 1, frame", "Chest opening 2, frame"], "Chest opening 1 and 2, frame"),
        (["Chest left drawer 4", "Chest right drawer 4"], "Chest left drawer 4; right drawer 4"),
        (["Chest case, outside", "Chest face frame"], "Chest case, outside; face frame"),
        (["Chest case, outside", "Press"], "Chest case, outside; Press"),
        (["Chest a", "Chestnut a"], "Chest a; Chestnut a"),
        (["Chest", "Chest door"], "Chest; Chest door"),
        (["Chest door", "Chest door"], "Chest door"),
        (["12", "13"], "12; 13"),
        (["Door"], "Door"),
    ],
)
def test_many_names_in_few_words(names: Iterable[str], wanted: str) -> None:
    assert rectangle_names(names) == wanted


def test_rectangles_of_cabinets_that_are_told_apart_by_a_number_are_told_together() -> None:
    names = [f"Base {base} opening {opening}, frame" for base in (1, 2, 3) for opening in (1, 4)]
    assert rectangle_names(names) == "Base 1–3 opening 1 and 4, frame"
    assert rectangle_names(["Base 1 opening 1", "Base 2 opening 3"]) == "Base 1 opening 1; Base 2 opening 3"
