"""Sticks and jobs as anyone might write them, for hypothesis. Lengths are exact, in mm."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Final

from hypothesis import strategies as st

from storystick.job.case_joints import Butt, Housing, Tongue
from storystick.job.job import Job
from storystick.job.joints import Joint
from storystick.job.openings import Fixed, Graduated, Item, Opening, Part, RatioRule, Share, StepRule, Stock
from storystick.job.papers import DEFAULT_MARGIN, PAPERS, Margins
from storystick.job.sources import Source
from storystick.job.sticks import Centre, Datum, Holes, Stick
from storystick.layout.sticks import lay_out_stick
from storystick.lengths import DEFAULT_STEP, Figures, Units

_LETTERS: Final = "abcdefgh AEIOUXW MWmwil .-0159 äöüßéñ αβγδωΣΩ бвгджЩЖ"

units: Final = st.sampled_from(Units)
names: Final = st.text(st.sampled_from(_LETTERS), min_size=1, max_size=80).map(lambda text: text.strip() or "a")
_own_names: Final = st.none() | names


def lengths(least: int, most: int) -> st.SearchStrategy[Fraction]:
    """Whole 64ths of an inch, tenths and thirds of a millimetre, from ``least`` to ``most`` mm."""

    def between(step: Fraction) -> st.SearchStrategy[Fraction]:
        return st.integers(-(-least // step), int(most // step)).map(lambda count: count * step)

    return st.sampled_from([Fraction(127, 320), Fraction(1, 10), Fraction(1, 3)]).flatmap(between)


@st.composite
def joints(draw: st.DrawFn, thickness: Fraction) -> Joint | None:
    """A joint that a part of ``thickness`` has room for, or none."""
    near, width = (draw(st.integers(1, 6)) for _ in range(2))
    tongue = Tongue(name="tongue", width=thickness * width / 16, depth=Fraction(6), bottom_gap=Fraction(1, 2))
    return draw(
        st.sampled_from(
            [
                None,
                Butt(name="butt"),
                Housing(name="housing", depth=Fraction(6)),
                tongue,
                replace(tongue, name="tongue by its set", set=thickness * near / 16),
            ]
        )
    )


@st.composite
def parts(draw: st.DrawFn) -> Part:
    thickness = draw(lengths(1, 60))
    return Part(Stock("ply", thickness), draw(_own_names), draw(joints(thickness)))


@st.composite
def graduated(draw: st.DrawFn) -> Graduated:
    """A group whose openings are all more than nothing, with its first opening given."""
    count = draw(st.integers(2, 6))
    step = draw(lengths(1, 60))
    rule = draw(st.sampled_from([StepRule(step), RatioRule(Fraction(6, 5)), RatioRule(Fraction(3, 2))]))
    first = step * count + draw(lengths(1, 200))
    return Graduated(count, rule, first, draw(st.none() | parts()), draw(_own_names))


openings: Final = st.builds(Opening, st.builds(Fixed, lengths(1, 400)), _own_names)
shared_openings: Final = st.builds(
    Opening, st.builds(Share, st.fractions(Fraction(1, 4), 4, max_denominator=8)), _own_names
)


@st.composite
def _items(draw: st.DrawFn) -> tuple[tuple[Item, ...], bool]:
    """What stands along a stick, and whether some of it takes what is left of a length."""
    sized: list[Item] = draw(st.lists(st.one_of(parts(), openings, graduated()), min_size=1, max_size=10))
    filling: list[Item] = draw(st.lists(shared_openings, max_size=3))
    if not filling and draw(st.booleans()):
        group = draw(graduated())
        filling = [replace(group, first=None, rule=RatioRule(Fraction(5, 4)))]
    return tuple(draw(st.permutations([*sized, *filling]))), bool(filling)


@st.composite
def points(draw: st.DrawFn, length: Fraction) -> tuple[Holes | Centre, ...]:
    """Rows of holes and centres within ``length``."""
    fractions = st.integers(0, 64).map(lambda part: length * part / 64)
    centres = [Centre(at, draw(names)) for at in draw(st.lists(fractions, max_size=3))]
    rows = []
    for first in draw(st.lists(fractions, max_size=2)):
        most = int((length - first) // 32)
        rows.append(Holes(first, Fraction(32), draw(st.integers(1, min(most, 12) + 1)), draw(names)))
    return (*rows, *centres)


@st.composite
def sticks(draw: st.DrawFn, number: int = 1) -> Stick:
    """A stick that can be solved."""
    items, fills = draw(_items())
    bare = Stick(number, f"{draw(names)[:70]} {number}", draw(st.sampled_from(Datum)), items, pair=draw(st.booleans()))
    if fills:
        sized = tuple(item for item in items if isinstance(item, Part) or _is_sized(item))
        inside = sum(
            (
                item.between.stock.thickness * (item.count - 1)
                for item in items
                if isinstance(item, Graduated) and item.first is None and item.between
            ),
            Fraction(0),
        )
        rest = lay_out_stick(replace(bare, items=sized), Figures.usual(Units.MM)).length + inside
        bare = replace(bare, length=rest + draw(lengths(40, 900)))
    return replace(bare, points=draw(points(lay_out_stick(bare, Figures.usual(Units.MM)).length)))


def _is_sized(item: Opening | Graduated) -> bool:
    if isinstance(item, Graduated):
        return item.first is not None
    return isinstance(item.size, Fixed)


@st.composite
def jobs(draw: st.DrawFn, most_sticks: int = 3) -> Job:
    """A job of sticks that can be solved, on paper that can hold them."""
    unit = draw(units)
    count = draw(st.integers(1, most_sticks))
    margin = DEFAULT_MARGIN[unit]
    return Job(
        title=draw(names),
        units=unit,
        paper=draw(st.sampled_from(list(PAPERS.values()))),
        margins=Margins(margin, margin, margin, margin),
        round_to=DEFAULT_STEP[unit],
        sticks=tuple(draw(sticks(number)) for number in range(1, count + 1)),
        sources=(Source("job.toml", draw(names).encode()),),
    )
