"""Runs along a wall: read, laid out, and what is said of those that do not fit."""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import read, read_well
from lettering_boxes import said
from strategies import lengths

from storystick.drawing.lettering import WORDS_PT, text_width_mm
from storystick.drawing.shapes import FINE_MM, Line, Text
from storystick.drawing.strip_bands import draw_bands
from storystick.drawing.strip_labels import place_labels
from storystick.drawing.window import Window
from storystick.errors import Faults
from storystick.job.features import Feature, FeatureRow
from storystick.job.job import Job
from storystick.job.openings import Fixed, Share, Stock
from storystick.job.runs import CabinetPlace, EndPanel, PieceKind, Run, RunItem, RunPiece
from storystick.job.sticks import Datum
from storystick.layout.runs import lay_out_runs
from storystick.layout.stations import Layout, PointKind, SpanKind, StickLayout
from storystick.lengths import Units, read_length
from storystick.sheets.pages.runs import RUN_CAUTIONS, run_blocks, run_cautions

SCHEMA: Final[dict[str, Any]] = json.loads(
    (Path(__file__).parent.parent / "shared" / "job.schema.json").read_text(encoding="utf-8")
)
EQUAL: Final = Share(Fraction(1))


def inch(text: str) -> Fraction:
    return read_length(text, Units.INCH)


USUAL_LIMITS: Final = {"least_filler": inch("3/4"), "most_filler": inch("6"), "least_scribe": inch("1/2")}


def cabinet(name: str, width: str) -> str:
    return f"""
[[cabinet]]
name = "{name}"
height = "34 1/2"
width = "{width}"
depth = "24"
carcass = "ply"
openings = ["equal"]
"""


STOCK = 'units = "inch"\n[stock]\nply = "23/32"\n'
BAKERY = (
    STOCK
    + "".join(
        cabinet(name, width)
        for name, width in {"Flour": "18", "Oven": "33", "Sink": "36", "Trays": "21 1/2", "Tall": "24"}.items()
    )
    + """
[run]
name = "Bakery wall"
length = "14' 3 1/2\\""
order = [
  { scribe = "1/2", name = "left scribe" },
  { filler = "equal" },
  { cabinet = "Flour" },
  { cabinet = "Oven" },
  { gap = "24", name = "dishwasher" },
  { cabinet = "Sink" },
  { cabinet = "Trays" },
  { panel = "ply", name = "end panel" },
  { cabinet = "Tall" },
  { filler = { share = 2 }, name = "corner filler" },
]
features = [
  { at = "62", name = "window, left jamb" },
  { at = "7' 10\\"", name = "window, right jamb" },
  { from = "16", pitch = "48", until = "160", name = "stud" },
]
heights = [
  { at = "54", name = "wall unit bottom" },
  { at = "34 1/2", name = "base top" },
  { at = "36", name = "counter top" },
  { at = "84", name = "wall unit top" },
]
floor_fall = "5/8"
"""
)
"""171 1/2 of wall; given sizes come to 1/2 + 18 + 33 + 24 + 36 + 21 1/2 + 23/32 + 24 = 157 23/32. Of the 13 25/32
that are left, one share of three is 4 19/32."""


def run_sticks(job: Job, first_number: int) -> tuple[StickLayout, ...]:
    return tuple(stick for run in lay_out_runs(job, first_number) for stick in run.sticks)


def sticks_of(text: str) -> tuple[StickLayout, ...]:
    return run_sticks(read_well(text), 1)


IN_MM: Final = read_well('units = "mm"\n[stock]\nply = 18\n[[stick]]\npart = "ply"\nopenings = [100]\n')


def alone(run: Run) -> tuple[StickLayout, ...]:
    """The sticks of a run by itself, in a job in mm."""
    return run_sticks(replace(IN_MM, runs=(run,)), 1)


def spans_of(stick: StickLayout) -> list[tuple[SpanKind, str, Fraction, Fraction]]:
    return [(span.kind, span.name, span.start, span.end) for span in stick.spans]


def test_a_run_is_read_as_written() -> None:
    job = read_well(BAKERY)
    flour, oven, sink, trays, tall = (CabinetPlace(cabinet) for cabinet in job.cabinets)
    assert job.runs == (
        Run(
            number=1,
            name="Bakery wall",
            length=inch("171 1/2"),
            datum=Datum.LEFT,
            order=(
                RunPiece(PieceKind.SCRIBE, Fixed(inch("1/2")), "left scribe"),
                RunPiece(PieceKind.FILLER, EQUAL),
                flour,
                oven,
                RunPiece(PieceKind.GAP, Fixed(inch("24")), "dishwasher"),
                sink,
                trays,
                EndPanel(Stock("ply", inch("23/32")), "end panel"),
                tall,
                RunPiece(PieceKind.FILLER, Share(Fraction(2)), "corner filler"),
            ),
            features=(
                Feature(inch("62"), "window, left jamb"),
                Feature(inch("94"), "window, right jamb"),
                FeatureRow(inch("16"), inch("48"), "stud", inch("160")),
            ),
            heights=(
                Feature(inch("54"), "wall unit bottom"),
                Feature(inch("34 1/2"), "base top"),
                Feature(inch("36"), "counter top"),
                Feature(inch("84"), "wall unit top"),
            ),
            floor_fall=inch("5/8"),
            **USUAL_LIMITS,
        ),
    )


SHORT = STOCK + '[run]\nlength = 10\norder = [{ filler = "equal" }]\n'
WALL = STOCK + "[run]\nlength = 100\norder = "


def test_what_a_run_leaves_out_has_its_usual_value() -> None:
    assert read_well(SHORT).runs == (
        Run(
            1,
            "run 1",
            inch("10"),
            Datum.LEFT,
            (RunPiece(PieceKind.FILLER, EQUAL),),
            **USUAL_LIMITS,
        ),
    )


def test_several_runs_are_numbered_and_start_from_their_own_datum() -> None:
    more = '[[run]]\nname = "far wall"\nlength = 10\ndatum = "right"\norder = [{ gap = "equal" }]\n'
    first, second = read_well(SHORT.replace("[run]", "[[run]]") + more).runs
    assert (first.place, second.place) == ("run 1", 'run 2 ("far wall")')
    assert (first.datum, second.datum) == (Datum.LEFT, Datum.RIGHT)


def test_a_run_needs_neither_cabinets_nor_sticks_beside_it() -> None:
    job = read_well(SHORT)
    assert (job.sticks, job.cabinets) == ((), ())


def test_stations_of_five_cabinets_agree_with_the_hand_calculation() -> None:
    wall, _ = sticks_of(BAKERY)
    edges = {
        "left scribe": "0",
        "filler 1": "1/2",
        "Flour": "5 3/32",
        "Oven": "23 3/32",
        "dishwasher": "56 3/32",
        "Sink": "80 3/32",
        "Trays": "116 3/32",
        "end panel": "137 19/32",
        "Tall": "138 5/16",
        "corner filler": "162 5/16",
    }
    assert {name: start for _, name, start, _ in spans_of(wall)} == {name: inch(edge) for name, edge in edges.items()}
    assert [name for _, name, _, _ in spans_of(wall)] == list(edges)
    assert wall.length == inch("171 1/2")
    assert {name for kind, name, _, _ in spans_of(wall) if kind is SpanKind.OPENING} == {"dishwasher"}


def test_features_are_points_at_their_own_stations_each_with_its_name() -> None:
    wall, _ = sticks_of(BAKERY)
    assert [(point.name, point.at, point.row) for point in wall.points] == [
        ("window, left jamb", inch("62"), None),
        ("window, right jamb", inch("94"), None),
        ("stud 1", inch("16"), None),
        ("stud 2", inch("64"), None),
        ("stud 3", inch("112"), None),
        ("stud 4", inch("160"), None),
    ]
    assert {point.kind for point in wall.points} == {PointKind.FEATURE}


def test_heights_are_a_stick_of_their_own_from_the_floor_up() -> None:
    wall, heights = run_sticks(read_well(BAKERY), 7)
    assert (wall.stick.number, wall.name, wall.stick.datum) == (7, "Bakery wall", Datum.LEFT)
    assert (heights.stick.number, heights.name, heights.stick.datum) == (8, "Bakery wall heights", Datum.BOTTOM)
    assert spans_of(heights) == [
        (SpanKind.OPENING, "to base top", inch("0"), inch("34 1/2")),
        (SpanKind.OPENING, "to counter top", inch("34 1/2"), inch("36")),
        (SpanKind.OPENING, "to wall unit bottom", inch("36"), inch("54")),
        (SpanKind.OPENING, "to wall unit top", inch("54"), inch("84")),
    ]
    names = ["base top", "counter top", "wall unit bottom", "wall unit top"]
    assert [point.name for point in heights.points] == names
    assert [point.at for point in heights.points] == [span.end for span in heights.spans]


def test_sticks_of_several_runs_are_numbered_one_after_another() -> None:
    walls = "[[run]]\nlength = 10\norder = [{ gap = 'equal' }]\nheights = [{ at = 36, name = 'sill' }]\n" * 2
    sticks = sticks_of(STOCK + walls)
    assert [stick.stick.number for stick in sticks] == [1, 2, 3, 4]


def test_two_heights_at_one_station_are_two_points_and_one_edge() -> None:
    heights = "heights = [{ at = 36, name = 'counter top' }, { at = 36, name = 'sill' }]\n"
    _, stick = sticks_of(SHORT + heights)
    assert [span.name for span in stick.spans] == ["to counter top"]
    assert [point.name for point in stick.points] == ["counter top", "sill"]


def test_a_row_without_an_end_goes_on_to_the_end_of_the_wall() -> None:
    (stick,) = sticks_of(SHORT + "features = { from = 1, pitch = 3, name = 'stud' }")
    assert [point.at for point in stick.points] == [inch(station) for station in ("1", "4", "7", "10")]


def test_a_panel_keeps_its_stock_and_others_are_called_what_they_are() -> None:
    wall, _ = sticks_of(BAKERY)
    stocks = {placed.span.name: placed.part.stock.name for placed in wall.parts}
    assert stocks["end panel"] == "ply"
    assert (stocks["Sink"], stocks["left scribe"], stocks["filler 1"]) == ("cabinet", "scribe", "filler")
    assert all(placed.part.stock.thickness == placed.span.size for placed in wall.parts)


def test_a_thicker_panel_is_taken_up_by_what_takes_what_is_left() -> None:
    before, _ = sticks_of(BAKERY)
    after, _ = sticks_of(BAKERY.replace("23/32", "3/4"))
    sizes = [new.size - old.size for old, new in zip(before.spans, after.spans, strict=True)]
    third = inch("1/32") / 3
    assert sizes == [0, -third, 0, 0, 0, 0, 0, inch("1/32"), 0, -2 * third]
    assert after.length == before.length


LIKE = "write it like 18.3, 23/32, 5 1/2, 2' 3 1/2\", 18.3 mm or 1 in."
ALLOWED = "cabinet, filler, scribe, gap, panel"
CABINETS = cabinet("Base 1", "30") + cabinet("Base 2", "30")

BAD_RUNS: dict[str, list[str]] = {
    "run = 3\n" + STOCK: [", run: 3 is not a list; put it in square brackets."],
    "run = [3]\n" + STOCK: [", run 1: 3 is not a table; write it as { key = …, key = … }."],
    "run = []\n" + STOCK: [", run: the list is empty; give at least one entry, or leave the key out."],
    STOCK + "[run]": [
        ", run 1: length is missing; add length = …, a length.",
        ', run 1: order is missing; add order = [{ cabinet = "…" }, { filler = … }], all that stands along the wall.',
    ],
    WALL + "[]": [", run 1, order: the list is empty; give at least one entry, or leave the key out."],
    WALL + "[{ cabinet = 'Base 3' }]" + CABINETS: [
        ', run 1, order[1], cabinet: "Base 3" is not a cabinet of this job; try "Base 2"; '
        "allowed here: Base 1, Base 2; or add it as a [[cabinet]]."
    ],
    WALL + "[{ cabinet = 'Base 1' }]": [
        ', run 1, order[1], cabinet: "Base 1" is not a cabinet of this job; add it as a [[cabinet]].'
    ],
    WALL + "[{ cabinet = 'Base 1' }, { cabinet = 'Base 1' }]" + CABINETS: [
        ', run 1, order[2], cabinet: "Base 1" stands in a run already; put another there, or give it count = 2.'
    ],
    WALL + "[{ cabinet = 'Base 1' }, { filler = 'rest' }]" + cabinet("Base 1", "-3"): [
        ', cabinet 1 ("Base 1"), width: "-3" is not a size: a size is more than 0.',
        ', run 1, order[2], filler: "rest" is neither "equal" nor a length; try "equal".',
    ],
    WALL + "[{ filer = 2 }, { filler = 2, gap = 3 }, { panel = 'oak' }, { scribe = 0 }, { gap = 1, nam = 'x' }]": [
        f', run 1, order[1]: the table has none of the keys {ALLOWED}; try "filler" for "filer".',
        ", run 1, order[2]: filler and gap stand in one table; give each a table of its own.",
        ', run 1, order[3], panel: "oak" is not a stock of this job; allowed here: ply; or add it under [stock].',
        ", run 1, order[4], scribe: 0 is not a size: a size is more than 0.",
        f', run 1, order[5]: "nam" is not a key here; try "name"; allowed here: {ALLOWED}, name, countertop.',
    ],
    WALL + "[{ filler = { share = 0 } }]\ndatum = 'top'": [
        ', run 1, datum: "top" is not a word known here; allowed here: left, right.',
        ', run 1, order[1], filler, share: 0 is not a number above 0; write it like 2, 1.5 or "3/2", without a unit.',
    ],
    SHORT + "features = [{ at = 3 }, { at = 3, from = 3 }, { from = 1, name = 'stud' }, { name = 'pipe' }]": [
        ', run 1, features[1]: name is missing; add name = "…", a name.',
        ", run 1, features[2]: at and from stand in one table; give each a table of its own.",
        ", run 1, features[3]: pitch is missing; add pitch = …, from one mark of a row to the next; what has two "
        'edges, as a window has, is { from = …, to = …, name = "…" } instead.',
        ", run 1, features[4]: the table has none of the keys at, from; give one of them.",
    ],
    SHORT + "features = [{ from = 5, pitch = 1, until = '2 1/2', name = 'stud' }, { at = -1, name = 'pipe' }]": [
        ", run 1, features[1], until: 2 1/2 is less than from, which is 5; make it more, or leave it out.",
        ", run 1, features[2], at: -1 is less than 0, which is not allowed here.",
    ],
    SHORT + "heights = [{ at = 0, name = 'floor' }, 36]\nfloor_fall = 'much'": [
        ", run 1, heights[1], at: 0 is not a size: a size is more than 0.",
        ', run 1, heights[2]: 36 is not a table; write it as { at = …, name = "…" }.',
        f', run 1, floor_fall: "much" is not a length; {LIKE}',
    ],
    SHORT + "hights = [{ at = 36, name = 'counter' }]": [
        ', run 1: "hights" is not a key here; try "heights"; '
        "allowed here: name, length, datum, order, features, heights, floor_fall, floor, uppers, corner, countertop, "
        "least_filler, most_filler, least_scribe."
    ],
    SHORT.replace('units = "inch"\n', "") + "datum = 'lft'": [
        ': units is missing; add units = "inch" or units = "mm".',
        ', run 1, datum: "lft" is not a word known here; try "left"; allowed here: left, right.',
    ],
}


@pytest.mark.parametrize(("text", "messages"), BAD_RUNS.items(), ids=range(len(BAD_RUNS)))
def test_every_fault_of_a_run_is_told_at_once_with_its_place(text: str, messages: list[str]) -> None:
    job, faults = read(text)
    assert faults == [f"job.toml{message}" for message in messages]
    assert job.runs == ()


def test_a_run_with_a_faulty_cabinet_is_left_out_without_a_fault_of_its_own() -> None:
    job, faults = read(WALL + "[{ cabinet = 'Base 1' }]" + cabinet("Base 1", "0"))
    assert faults == ['job.toml, cabinet 1 ("Base 1"), width: "0" is not a size: a size is more than 0.']
    assert job.runs == ()


UNFIT: dict[str, str] = {
    "[{ filler = '1 1/2', name = 'left filler' }, { gap = '99 1/4' }]": (
        'the run comes to 100 3/4, 3/4 more than the wall of 100; filler "left filler" could give 3/4: make it '
        '3/4, or "equal".'
    ),
    "[{ filler = 2 }, { scribe = 4 }, { filler = 3 }, { gap = 92 }]": (
        'the run comes to 101, 1 more than the wall of 100; filler 2 could give 1: make it 2, or "equal".'
    ),
    "[{ filler = 1, name = 'left' }, { filler = 1 }, { scribe = '1/2', name = 'wall' }, { gap = 99 }]": (
        "the run comes to 101 1/2, 1 1/2 more than the wall of 100; "
        'filler "left", filler 2 and scribe "wall" could give it between them.'
    ),
    "[{ filler = 1 }, { gap = 101 }]": (
        "the run comes to 102, 2 more than the wall of 100; "
        "no filler could give so much: make cabinets, panels or gaps narrower."
    ),
    "[{ filler = 'equal' }, { gap = 101 }, { filler = '1 1/4' }]": (
        "no room is left for filler 1: the rest comes to 102 1/4, 2 1/4 more than the wall of 100; "
        "no filler could give so much: make cabinets, panels or gaps narrower."
    ),
    "[{ filler = 'equal', name = 'end' }, { gap = 98 }, { filler = 3 }, { gap = 'equal' }]": (
        'no room is left for filler "end" and gap 2: the rest comes to 101, 1 more than the wall of 100; '
        "filler 2 could give 1: make it less than 2."
    ),
    "[{ filler = 'equal' }, { gap = 98 }, { scribe = 2 }]": (
        "no room is left for filler 1: the rest comes to 100, all of the wall of 100; "
        "scribe 1 could give some: make it less than 2."
    ),
    "[{ filler = 2 }, { gap = '95 1/2' }, { filler = 1 }]": (
        "the run comes to 98 1/2, 1 1/2 less than the wall of 100; "
        'filler 1 could take it up: make it 3 1/2, or "equal".'
    ),
    "[{ gap = 60 }, { panel = 'ply' }]": (
        "the run comes to 60 23/32, 39 9/32 less than the wall of 100; "
        'add { filler = "equal" } where it may take that up.'
    ),
    "[{ gap = 'equal' }]\nfeatures = { at = '100 1/64', name = 'pipe' }": (
        '"pipe" at 100 1/64 lies beyond the wall of 100; move it nearer the datum.'
    ),
    "[{ gap = 'equal' }]\nfeatures = { from = 120, pitch = 16, name = 'stud' }": (
        '"stud" at 120 lies beyond the wall of 100; move it nearer the datum.'
    ),
    "[{ gap = 'equal' }]\nfeatures = { from = 16, pitch = 16, until = 112, name = 'stud' }": (
        '"stud" goes on until 112, beyond the wall of 100; '
        "leave until out: the row then goes on to the end of the wall."
    ),
    "[{ gap = 'equal' }]\nfeatures = { from = 0, pitch = '1/64', name = 'stud' }": (
        '"stud" at a pitch of 1/64 comes to 6401 marks; at most 1000 are allowed; make the pitch more or until less.'
    ),
}


@pytest.mark.parametrize(("order", "message"), UNFIT.items(), ids=range(len(UNFIT)))
def test_a_run_that_does_not_fit_says_by_how_much_and_what_could_give(order: str, message: str) -> None:
    with pytest.raises(Faults) as caught:
        sticks_of(WALL + order)
    assert str(caught.value) == f"run 1: {message}"


def test_all_runs_that_do_not_fit_are_told_at_once_with_their_features() -> None:
    wall = "[[run]]\nlength = 8\norder = [{ gap = 7 }]\nfeatures = [{ at = 9, name = 'pipe' }]\n"
    with pytest.raises(Faults) as caught:
        sticks_of(STOCK + wall + wall)
    assert [fault.where for fault in caught.value.faults] == ["run 1", "run 1", "run 2", "run 2"]


def test_figures_of_a_fault_are_in_the_units_of_the_job() -> None:
    run = Run(1, "run 1", Fraction(2400), Datum.LEFT, (RunPiece(PieceKind.FILLER, Fixed(Fraction(4801, 2))),))
    with pytest.raises(Faults, match=r"comes to 2400\.5, 0\.5 more than the wall of 2400; filler 1 could give 0\.5"):
        alone(run)


@pytest.mark.parametrize(
    "build",
    [
        lambda: Feature(Fraction(-1), "pipe"),
        lambda: FeatureRow(Fraction(-1), Fraction(1), "stud"),
        lambda: FeatureRow(Fraction(0), Fraction(0), "stud"),
    ],
)
def test_a_feature_before_the_datum_or_without_a_pitch_cannot_be_made(build: Any) -> None:
    with pytest.raises(ValueError, match="at 0 or beyond"):
        build()


@st.composite
def runs(draw: st.DrawFn) -> Run:
    """Runs that fit their walls: with something that takes what is left, or with none and the length they come to."""
    fixed = st.builds(Fixed, lengths(1, 900))
    pieces = st.builds(RunPiece, st.sampled_from(PieceKind), fixed)
    panels = st.builds(EndPanel, st.builds(Stock, st.just("ply"), lengths(1, 40)))
    order: list[RunItem] = draw(st.lists(pieces | panels, min_size=1, max_size=9))
    total = sum((item.size.size for item in order if isinstance(item.size, Fixed)), Fraction(0))
    shares = draw(st.lists(st.fractions(Fraction(1, 9), 9, max_denominator=99), max_size=3))
    for share in shares:
        order.insert(draw(st.integers(0, len(order))), RunPiece(draw(st.sampled_from(PieceKind)), Share(share)))
    left = draw(lengths(1, 600)) if shares else Fraction(0)
    return Run(1, "wall", total + left, draw(st.sampled_from([Datum.LEFT, Datum.RIGHT])), tuple(order))


@given(runs())
def test_spans_lie_end_to_end_and_come_to_the_wall_exactly(run: Run) -> None:
    (stick,) = alone(run)
    assert [span.start for span in stick.spans] == [0, *(span.end for span in stick.spans[:-1])]
    assert sum(span.size for span in stick.spans) == stick.length == run.length
    for item, span in zip(run.order, stick.spans, strict=True):
        assert not isinstance(item.size, Fixed) or span.size == item.size.size


@given(runs(), lengths(1, 50))
def test_a_run_is_longer_or_shorter_than_any_wall_but_its_own(run: Run, apart: Fraction) -> None:
    fixed = replace(run, order=tuple(item for item in run.order if isinstance(item.size, Fixed)))
    total = sum((item.size.size for item in fixed.order if isinstance(item.size, Fixed)), Fraction(0))
    for length in (total + apart, total - apart):
        if length > 0:
            with pytest.raises(Faults, match=" less " if length > total else " more "):
                alone(replace(fixed, length=length))


@given(lengths(0, 300), lengths(3, 700), lengths(301, 3000))
def test_a_row_of_features_keeps_its_pitch_and_stops_within_the_wall(
    first: Fraction, pitch: Fraction, length: Fraction
) -> None:
    run = Run(1, "wall", length, Datum.LEFT, (RunPiece(PieceKind.GAP, EQUAL),), (FeatureRow(first, pitch, "stud"),))
    stations = [point.at for point in alone(run)[0].points]
    assert stations == [first + pitch * place for place in range(len(stations))]
    assert stations[-1] <= length < stations[-1] + pitch


def test_a_job_without_runs_has_no_cautions_of_runs() -> None:
    job = read_well(SHORT)
    assert run_cautions(job) == RUN_CAUTIONS
    assert run_cautions(replace(job, runs=())) == ()


def test_the_cautions_say_what_the_floor_falls() -> None:
    *cautions, floor = run_cautions(read_well(BAKERY))
    assert tuple(cautions) == RUN_CAUTIONS
    assert floor.startswith("The floor of Bakery wall falls 5/8 below its high point.")


@pytest.mark.parametrize("word", ["cables and pipes", "licensed trade", "local code", "tall unit", "high point"])
def test_the_cautions_name_what_can_do_harm(word: str) -> None:
    assert word in " ".join(RUN_CAUTIONS).lower()


def test_the_page_for_fixing_a_run_has_every_station_of_its_wall() -> None:
    """By hand from the job: each cabinet from where the one before it ends, the features and heights as written."""
    job = read_well(BAKERY)
    layout = Layout(job, (), runs=lay_out_runs(job))
    blocks = run_blocks(layout, 180.0)
    words = iter([shape.text for block in blocks for shape in block.shapes if isinstance(shape, Text)])
    (run,) = job.runs
    for span in layout.runs[0].along.spans:
        for wanted in (span.name, *map(job.figures, (span.start, span.end, span.size))):
            assert wanted in words
    for feature in run.features:
        assert feature.name in words
    for height in sorted(run.heights, key=lambda height: height.at):
        for wanted in (height.name, job.figures(height.at)):
            assert wanted in words
    assert list(run_blocks(Layout(replace(job, runs=()), ()), 180.0)) == []


def drawn(text: str, stick: int) -> tuple[Job, StickLayout, Window]:
    job = read_well(text)
    layout = Layout(job, run_sticks(job, 1)).sticks[stick]
    return job, layout, Window(Fraction(0), layout.length, layout.length)


def test_a_feature_is_drawn_as_a_fine_line_at_its_station_with_a_cross_bar() -> None:
    _, layout, window = drawn(SHORT + "features = { at = 4, name = 'pipe' }", 0)
    lines = [shape for shape in draw_bands(layout, window) if isinstance(shape, Line)]
    x = window.x(inch("4"))
    uprights = [line for line in lines if line.x1 == line.x2 == x]
    bars = [line for line in lines if line.y1 == line.y2]
    assert uprights[0].y1 == 0
    assert {line.width_mm for line in lines} == {FINE_MM}
    assert [(line.x1 + line.x2) / 2 for line in bars] == [pytest.approx(x)]


def test_a_height_says_its_station_once() -> None:
    job, layout, window = drawn(SHORT + "heights = [{ at = 3, name = 'base' }, { at = 9, name = 'sill' }]", 1)
    labels = place_labels(layout, window, job.figures)
    assert [figure.text for figure in said(labels.beside) if figure.height == 5.0] == ["3"]
    assert {figure.text for figure in said(labels.beside) if figure.height < 5.0} == {"3", "6"}, "what lies between"
    assert [name.text for name in labels.names] == ["base", "sill", "to base", "to sill"]
    assert labels.lifted.labels == ()


def test_a_part_longer_than_a_tile_is_named_on_each() -> None:
    job, layout, _ = drawn(WALL + "[{ filler = 'equal', name = 'long filler' }]", 0)
    for start in (0, 10, 45, 90):
        window = Window(inch(str(start)), inch(str(start + 10)), layout.length, number=2, of=4)
        (name,) = place_labels(layout, window, job.figures).names
        assert name.text == "long filler"
        assert name.left + text_width_mm(name.text, WORDS_PT) / 2 == pytest.approx(window.width / 2)


GOOD_RUNS = [
    BAKERY,
    SHORT,
    SHORT.replace("[run]", "[[run]]"),
    SHORT + "features = { at = 0, name = 'pipe' }\nheights = { at = 3, name = 'sill' }\nfloor_fall = 0\n",
]
MISSHAPEN = [
    "run = []\n" + STOCK,
    STOCK + "[run]\nlength = 3",
    WALL + "[{ filler = 3, gap = 3 }]",
    WALL + "[{ cabinet = 'Base', name = 'x' }]" + cabinet("Base", "30"),
    WALL + "[{ filler = 3 }]\ndatum = 'top'",
    SHORT + "features = { at = 3 }",
    SHORT + "features = { from = 3, name = 'stud' }",
    SHORT + "heights = { at = 0, name = 'floor' }",
    SHORT + "hights = { at = 1, name = 'counter' }",
]


def schema_faults(text: str) -> list[str]:
    return [fault.message for fault in jsonschema.Draft202012Validator(SCHEMA).iter_errors(tomllib.loads(text))]


@pytest.mark.parametrize("text", GOOD_RUNS, ids=range(len(GOOD_RUNS)))
def test_a_run_that_reads_well_keeps_to_the_schema(text: str) -> None:
    assert schema_faults(text) == []
    assert read(text)[1] == []


@pytest.mark.parametrize("text", MISSHAPEN, ids=range(len(MISSHAPEN)))
def test_a_run_of_the_wrong_shape_keeps_to_neither_schema_nor_reader(text: str) -> None:
    assert schema_faults(text)
    assert read(text)[1]
