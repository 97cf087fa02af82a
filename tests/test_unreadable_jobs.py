"""Files of which little or nothing can be read."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import FROM_SHEET, MM, PLAIN, PLY, STICK

from storystick.errors import Faults, StorystickError
from storystick.job.job import Job
from storystick.job.reading import read_job, read_sources
from storystick.job.sources import Source

LOOK = 'look there for a missing quote, bracket or equals sign: a length such as "5 1/2" is written in plain quotes.'
NOT_READ: dict[bytes, str] = {
    b"\xff\xfeu\0": "the file is not UTF-8 text; save it again as UTF-8.",
    b" " * 1_000_001: "the file is larger than 1 MB, the most that is allowed; look whether it is the right file.",
    b"units = mm": f"the file is not TOML: Invalid value (at line 1, column 9); {LOOK}",
    b"length = 5 1/2": "the file is not TOML: Expected newline or end of document after a statement "
    f"(at line 1, column 12); {LOOK}",
    b"a = " + b"[" * 100_000: "its lists and tables stand too deep in one another; write them flatter.",
    b"a = " + b"9" * 5000: "a number or a date in it is beyond reading; look for one with very many digits.",
    b"a = 1e" + b"9" * 50: "a number or a date in it is beyond reading; look for one with very many digits.",
}


@pytest.mark.parametrize(("data", "message"), NOT_READ.items(), ids=range(len(NOT_READ)))
def test_a_file_of_which_nothing_can_be_read_is_refused(data: bytes, message: str, tmp_path: Path) -> None:
    (tmp_path / "chest.toml").write_bytes(data)
    with pytest.raises(Faults) as caught:
        read_job(tmp_path / "chest.toml")
    assert str(caught.value) == f"chest.toml: {message}"


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("none.toml", "none.toml: there is no such file; look at its name and folder."),
        ("folder", "folder: this is a folder; give a file."),
        ("a\0.toml", "a\0.toml: the file cannot be opened; look whether you may read it."),
    ],
)
def test_a_path_that_is_no_file_is_refused(name: str, message: str, tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(Faults) as caught:
        read_job(tmp_path / name)
    assert str(caught.value) == message


def test_a_spreadsheet_that_is_no_file_is_a_fault_of_its_stick(tmp_path: Path) -> None:
    (tmp_path / "chest.toml").write_text(FROM_SHEET, encoding="utf-8")
    (tmp_path / "drawers.csv").mkdir()
    _, faults = read_job(tmp_path / "chest.toml")
    place = "chest.toml, stick 1, openings, drawers.csv"
    assert list(map(str, faults)) == [f"{place}: this is a folder; give a file."]


KEYS = st.sampled_from(
    [
        "title",
        "units",
        "paper",
        "margins",
        "round_to",
        "stock",
        "joint",
        "stick",
        "name",
        "datum",
        "length",
        "pair",
        "part",
        "openings",
        "order",
        "holes",
        "centre",
        "share",
        "opening",
        "graduated",
        "step",
        "ratio",
        "first",
        "between",
        "count",
        "pitch",
        "at",
        "kind",
        "width",
        "depth",
        "set",
        "bottom_gap",
        "left",
        "ply",
        "x",
    ]
)
WORDS = st.sampled_from(["inch", "mm", "A4", "ply", "shelf", "tongue", "equal", "3/4", "1/0", "a.csv", "bottom", "\0"])
SCALARS = st.one_of(
    WORDS, st.text(max_size=5), st.integers(), st.decimals(allow_infinity=True), st.booleans(), st.dates(), st.just(1)
)
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4), max_leaves=12
)


def as_toml(value: object) -> str:
    """Inline TOML of what the strategies above make."""
    match value:
        case dict():
            return "{" + ", ".join(f"{key} = {as_toml(inner)}" for key, inner in value.items()) + "}"
        case list():
            return "[" + ", ".join(map(as_toml, value)) + "]"
        case bool():
            return str(value).lower()
        case str():
            return '"' + "".join(f"\\U{ord(character):08X}" for character in value) + '"'
    return str(value)


def read_anything(text: bytes, sheet: bytes) -> None:
    with suppress(StorystickError):
        job, faults = read_sources([Source("job.toml", text), Source("a.csv", sheet)])
        assert isinstance(job, Job)
        assert all(str(fault).startswith("job.toml") for fault in faults)
        assert job.sticks or faults


@given(st.dictionaries(KEYS, VALUES, max_size=6), st.sampled_from(["", MM, PLY, STICK, PLAIN]), st.binary(max_size=40))
def test_any_tables_read_to_a_job_and_faults(document: Mapping[str, object], start: str, sheet: bytes) -> None:
    lines = "".join(f"{key} = {as_toml(value)}\n" for key, value in document.items())
    read_anything((start + lines).encode(), sheet)


@given(st.binary(max_size=200), st.binary(max_size=200))
def test_any_bytes_read_to_a_job_and_faults_or_are_refused(data: bytes, sheet: bytes) -> None:
    read_anything(data, sheet)
    read_anything(FROM_SHEET.replace("drawers", "a").encode(), sheet)
