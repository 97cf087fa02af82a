"""A few of the changed job files, shop files and spreadsheets that ``tests/mutations.py`` tries by the thousand."""

from __future__ import annotations

import pytest
from mutations import case, seeds, tried

CASES = 120


@pytest.mark.parametrize("tenth", range(10))
def test_what_was_changed_at_random_is_faults_or_a_listing(tenth: int) -> None:
    jobs = seeds()
    ended = {number: tried(case(number, jobs)) for number in range(tenth * CASES // 10, (tenth + 1) * CASES // 10)}
    assert {number: end.told for number, end in ended.items() if end.told} == {}


def test_case_is_the_same_for_the_same_number() -> None:
    assert case(7, seeds()) == case(7, seeds()) != case(8, seeds())


def test_job_that_nobody_changed_is_listed() -> None:
    assert {tried(files).kind for files in seeds()} == {"listed"}
