"""Files are written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from storystick.errors import Fault
from storystick.files import write_files

FILES = {"strips.pdf": b"new strips", "job sheet.pdf": b"new sheet", "Ω.svg": b""}


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def fail_to_replace(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the first move into the place called ``name`` fail, as it does where another program holds the file."""
    replace = os.replace

    def stubborn(source: Path, target: Path) -> None:
        if target.name == name and source.parent.name == "new":
            raise PermissionError(13, "Permission denied")
        replace(source, target)

    monkeypatch.setattr(os, "replace", stubborn)


def test_files_are_written_into_a_new_folder(tmp_path: Path) -> None:
    folder = tmp_path / "prints" / "chest"
    assert write_files(folder, FILES) == [folder / name for name in FILES]
    assert contents(folder) == FILES


def test_files_of_the_same_name_are_replaced_and_others_stay(tmp_path: Path) -> None:
    (tmp_path / "strips.pdf").write_bytes(b"old strips")
    (tmp_path / "notes.txt").write_bytes(b"notes")
    write_files(tmp_path, FILES)
    assert contents(tmp_path) == {**FILES, "notes.txt": b"notes"}


def test_a_file_that_is_replaced_keeps_its_permissions(tmp_path: Path) -> None:
    (tmp_path / "strips.pdf").write_bytes(b"old strips")
    (tmp_path / "strips.pdf").chmod(0o640)
    write_files(tmp_path, FILES)
    assert (tmp_path / "strips.pdf").read_bytes() == FILES["strips.pdf"]
    assert (tmp_path / "strips.pdf").stat().st_mode & 0o777 == 0o640


def test_no_files_make_an_empty_folder(tmp_path: Path) -> None:
    assert write_files(tmp_path / "empty", {}) == []
    assert contents(tmp_path / "empty") == {}


def test_failing_half_way_leaves_everything_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = {"strips.pdf": b"old strips", "Ω.svg": b"old drawing", "notes.txt": b"notes"}
    for name, data in before.items():
        (tmp_path / name).write_bytes(data)
    fail_to_replace("Ω.svg", monkeypatch)
    with pytest.raises(Fault):
        write_files(tmp_path, FILES)
    assert contents(tmp_path) == before


def test_failing_takes_a_new_folder_away_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fail_to_replace("Ω.svg", monkeypatch)
    with pytest.raises(Fault):
        write_files(tmp_path / "prints" / "chest", FILES)
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_is_noticed_before_anything_is_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "strips.pdf").write_bytes(b"old strips")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Fault) as caught:
        write_files(tmp_path, FILES)
    assert str(caught.value) == (
        f"{tmp_path}: nothing was written: No space left on device; close its files in other programs, "
        "or choose a folder that can be written to and has room."
    )
    assert contents(tmp_path) == {"strips.pdf": b"old strips"}


def test_a_file_where_the_folder_should_be_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "prints").write_bytes(b"a file")
    with pytest.raises(Fault, match="File exists"):
        write_files(tmp_path / "prints", FILES)
    assert contents(tmp_path) == {"prints": b"a file"}


def test_a_folder_where_a_file_should_be_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "strips.pdf").mkdir()
    with pytest.raises(Fault):
        write_files(tmp_path, FILES)
    assert [path.name for path in tmp_path.iterdir()] == ["strips.pdf"]


def test_being_stopped_half_way_leaves_everything_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "strips.pdf").write_bytes(b"old strips")

    def stopped(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_files(tmp_path, FILES)
    assert contents(tmp_path) == {"strips.pdf": b"old strips"}


@pytest.mark.parametrize("name", ["", ".", "..", "a/b", "/a", "a\\b", "c:a", "a/"])
def test_only_bare_names_are_taken(name: str, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="not a bare file name"):
        write_files(tmp_path, {"strips.pdf": b"", name: b""})
    assert list(tmp_path.iterdir()) == []
