"""New jobs from a few sizes: the text says what was typed, is a job without faults, and every slip is told at once."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from fractions import Fraction
from itertools import product
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.cutting.fastened import hardware_of
from storystick.errors import Faults, StorystickError
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.layout.stations import Layout
from storystick.lengths import Units
from storystick.printing import check_print
from storystick.starting import STARTS, AnswerKind, Question

HELD: Final = ("drawers", "door", "pair", "nothing")
QUESTIONS: Final = [(start.word, question) for start in STARTS.values() for question in start.questions]
IDS: Final = [f"{word} {question.name}" for word, question in QUESTIONS]
OTHER_LENGTH: Final = {Units.INCH: "7/16", Units.MM: "11.5"}
"""Lengths that nothing takes without being asked."""


def laid_out(text: str) -> Layout:
    return load_sources([Source("new.toml", text.encode())])


def cabinets() -> list[dict[str, str]]:
    """Cabinets of every construction that can be asked for."""
    found = []
    for units, holds, openings, frame, fit in product(
        ("inch", "mm"), HELD, ("1", "2", "5"), ("yes", "no"), ("inset", "overlay")
    ):
        typed = {"units": units, "holds": holds, "openings": openings, "frame": frame}
        found.append(typed if holds == "nothing" else typed | {"fit": fit})
    return found


@pytest.mark.parametrize("typed", cabinets(), ids=lambda typed: " ".join(typed.values()))
def test_new_cabinet_prints_at_once_with_nothing_to_look_at(typed: dict[str, str]) -> None:
    layout = laid_out(STARTS["cabinet"].text(typed))
    assert check_print(layout)
    assert not list(layout.warnings)


@pytest.mark.parametrize(("kind", "units"), [*product(STARTS, ("inch", "mm"))])
def test_new_job_of_each_kind_prints_at_once_with_nothing_to_look_at(kind: str, units: str) -> None:
    text = STARTS[kind].text({"units": units})
    layout = laid_out(text)
    assert check_print(layout)
    assert not list(layout.warnings)
    assert sum("#" in line for line in text.splitlines()) >= 5  # a commented file


def test_usual_sizes_of_shops_leave_nothing_to_look_at() -> None:
    base = {"height": "34 1/2", "depth": "24", "openings": "3"}
    sizes = [
        base | {"width": "18", "sizes": "equal"},
        base | {"width": "36", "holds": "pair"},
        {"height": "84", "width": "48", "depth": "12", "openings": "6", "holds": "nothing"},
        {"height": "60", "width": "20", "depth": "20", "openings": "8", "step": "1/4", "rail": "3/4"},
        {"units": "mm", "height": "720", "width": "600", "depth": "560", "openings": "4", "frame": "no"},
        {"units": "mm", "height": "2000", "width": "900", "depth": "300", "openings": "6", "holds": "nothing"},
    ]
    for typed in sizes:
        assert not list(laid_out(STARTS["cabinet"].text(typed)).warnings), typed


def _at(document: Any, question: Question) -> Any:
    for step in question.key:
        document = document[step]
    return document


def _typed(question: Question, units: Units) -> dict[str, str]:
    """Answers for which the question is asked, and another one than usual to it, if there is a length to say."""
    # Into members so small no screw goes.
    typed = {"units": units.value} | (
        {"rail_ends": "plain"} if question.only_if and question.only_if[0] == "frame" else {}
    )
    if question.only_if:
        name, words = question.only_if
        typed[name] = words[0]
    return typed | ({question.name: OTHER_LENGTH[units]} if question.kind is AnswerKind.LENGTH else {})


SMALL: Final = ("stile", "top_rail", "rail", "bottom_rail", "reveal", "ply", "frame_stock", "front", "back", "box")
"""Lengths for which the other one will do."""


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize(
    ("kind", "question"),
    [each for each in QUESTIONS if each[1].name in SMALL],
    ids=lambda each: getattr(each, "name", each),
)
def test_length_stands_in_the_job_where_its_question_says_as_it_was_typed(
    kind: str, question: Question, units: Units
) -> None:
    typed = _typed(question, units)
    document = tomllib.loads(STARTS[kind].text(typed), parse_float=Decimal)
    assert str(_at(document, question)) == typed[question.name]


def test_rails_of_a_new_face_frame_are_held_and_too_small_ones_are_told_at_their_question() -> None:
    layout = laid_out(STARTS["cabinet"].text({}))
    # By hand: four rails between five drawers with one screw at each end, top and bottom rail with two.
    assert "pocket screws 1 1/4 long: 16" in [each.words for each in hardware_of(layout.cabinets, layout.job.figures)]
    with pytest.raises(Faults) as told:
        STARTS["cabinet"].text({"rail": "1/4"})
    assert str(told.value).startswith("how rails end on stiles: at the ends of")
    tenoned = STARTS["cabinet"].text({"rail": "1/4", "rail_ends": "tenons"})
    # 30 less two stiles of 1 1/2, and a tenon of 1/2 at each end.
    rail = next(piece for piece in laid_out(tenoned).cabinets[0].pieces if piece.name == "top rail")
    assert rail.length == 28 * Units.INCH.in_mm
    assert "tenon" not in STARTS["cabinet"].text({"rail_ends": "plain"})


@pytest.mark.parametrize(("kind", "question"), QUESTIONS, ids=IDS)
def test_usual_answers_and_examples_are_answers(kind: str, question: Question) -> None:
    for units in Units:
        question.read(question.default[units], units)
        question.read(question.example[units], units)
        if question.only_if:
            asked = next(other for other in STARTS[kind].questions if other.name == question.only_if[0])
            assert set(question.only_if[1]) <= set(asked.choices)


@pytest.mark.parametrize(("kind", "question"), QUESTIONS, ids=IDS)
def test_key_of_every_question_leads_into_the_written_job(kind: str, question: Question) -> None:
    document = tomllib.loads(STARTS[kind].text(_typed(question, Units.INCH) | {question.name: ""}))
    assert _at(document, question) is not None


def test_names_keep_their_quotes_and_strokes() -> None:
    name = 'The "back" room \\ 2'
    assert tomllib.loads(STARTS["stick"].text({"name": name}))["stick"][0]["name"] == name


def test_lengths_are_kept_in_every_spelling() -> None:
    typed = ['5 1/2"', "5-1/2", "½", "2' 3 1/2\"", "18.3 mm"]
    document = tomllib.loads(STARTS["stick"].text({"openings": ", ".join(typed)}))
    assert document["stick"][0]["openings"] == typed


def test_openings_stand_apart_by_semicolons_and_lines_too() -> None:
    document = tomllib.loads(STARTS["stick"].text({"openings": "13; 12,\n11 1/2, 10"}))
    assert document["stick"][0]["openings"] == ["13", "12", "11 1/2", "10"]


def test_every_slip_is_told_at_once_under_the_words_of_its_question() -> None:
    typed = {"height": "tall", "width": "30 bananas", "openings": "five", "holds": "drawer", "name": "a\nb"}
    with pytest.raises(StorystickError) as caught:
        STARTS["cabinet"].text(typed)
    words = {question.name: question.words for question in STARTS["cabinet"].questions}
    assert [fault.where for fault in caught.value.faults] == [
        words[name] for name in ("name", "height", "width", "holds", "openings")
    ]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"openings": "18,3"}, '1: "18,3" has a decimal comma'),
        ({"openings": "13,12,11"}, "put a space after each comma"),
        ({"openings": ";"}, "no size is given"),
        ({"openings": ", ".join(["1"] * 61)}, "these are 61 sizes"),
        ({"part": "0"}, "a size is more than 0"),
        ({"datum": "floor"}, 'try "bottom"'),
        ({"units": "cm"}, 'try "mm"'),
        ({"colour": "red"}, '"colour" is not a question'),
    ],
)
def test_what_is_no_answer_is_told_with_what_to_try(typed: dict[str, str], told: str) -> None:
    with pytest.raises(StorystickError) as caught:
        STARTS["stick"].text(typed)
    assert told in str(caught.value)


def test_what_does_not_fit_is_told_and_no_text_is_made() -> None:
    with pytest.raises(StorystickError) as caught:
        STARTS["cabinet"].text({"openings": "5", "step": "20"})
    assert "graduated openings" in str(caught.value)


@given(
    st.sampled_from(list(STARTS)),
    st.dictionaries(
        st.sampled_from(sorted({question.name for _, question in QUESTIONS})),
        st.one_of(
            st.text(max_size=12),
            st.fractions(min_value=Fraction(1, 8), max_value=400, max_denominator=8).map(str),
            st.integers(0, 70).map(str),
            st.sampled_from(["yes", "no", "equal", "graduated", "inset", "overlay", "mm", "inch", *HELD]),
        ),
        max_size=8,
    ),
)
def test_whatever_is_typed_there_is_a_job_or_faults(kind: str, typed: dict[str, str]) -> None:
    try:
        text = STARTS[kind].text(typed)
    except StorystickError:
        return
    assert laid_out(text).sticks
