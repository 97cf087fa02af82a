"""Files of the folder: written whole, as they were written before, over the version that is meant, and only there."""

from __future__ import annotations

import os
import stat
import sys
from concurrent.futures import ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest

from storystick.bench.files.file_names import new_name
from storystick.bench.files.folder import NOTHING, TRASH, Folder, Meanwhile
from storystick.errors import Fault, StorystickError

NAME = "case.toml"


@pytest.fixture
def jobs(folder: Path) -> Folder:
    (folder / NAME).write_bytes(b"a = 1\n")
    return Folder(folder)


def left_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.mark.parametrize(
    ("old", "text", "new"),
    [
        (b"a = 1\n", "a = 2\n", b"a = 2\n"),
        (b"a = 1\r\n# c\r\n", "a = 2\n# c\n", b"a = 2\r\n# c\r\n"),
        (b"\xef\xbb\xbfa = 1\r\n", "a = 2\nb = 3\n", b"\xef\xbb\xbfa = 2\r\nb = 3\r\n"),
        (b"\xef\xbb\xbfa = 1", "a = 2", b"\xef\xbb\xbfa = 2"),
        (b"a\r\nb\nc\r\nd\n", "a\nb\nnew\nd\n", b"a\r\nb\nnew\nd\n"),
        (b"a\r\nb\r\nc\nd\n", "a\nb\nc\nd\n", b"a\r\nb\r\nc\nd\n"),
        (b"a\r\nb\r\nc\n", "", b""),
        ("ä = '½'\r\n".encode(), "ä = '¾'\n", "ä = '¾'\r\n".encode()),
    ],
)
def test_file_keeps_its_line_ends_and_its_mark(jobs: Folder, old: bytes, text: str, new: bytes) -> None:
    (jobs.path / NAME).write_bytes(old)
    read = jobs.read(NAME)
    assert "\r" not in read.text
    jobs.save(NAME, text, read.version)
    assert (jobs.path / NAME).read_bytes() == new


def test_what_is_read_and_saved_unchanged_is_the_same_bytes(jobs: Folder) -> None:
    for data in (b"a\r\nb\nc", b"\xef\xbb\xbf\r\n\r\n", b"", b"\n\n", b"x\r\n"):
        (jobs.path / NAME).write_bytes(data)
        read = jobs.read(NAME)
        jobs.save(NAME, read.text, read.version)
        assert (jobs.path / NAME).read_bytes() == data


def test_file_keeps_its_permissions(jobs: Folder) -> None:
    (jobs.path / NAME).chmod(0o640)
    jobs.save(NAME, "b = 2\n", jobs.version(NAME))
    assert stat.S_IMODE((jobs.path / NAME).stat().st_mode) == 0o640
    assert left_in(jobs.path) == [NAME]


def test_protected_file_is_not_written(jobs: Folder) -> None:
    (jobs.path / NAME).chmod(0o444)
    with pytest.raises(Fault, match="protected against writing"):
        jobs.save(NAME, "b = 2\n", jobs.version(NAME))
    assert (jobs.path / NAME).read_bytes() == b"a = 1\n"


def test_version_that_is_not_the_one_begun_from_is_not_overwritten(jobs: Folder) -> None:
    began = jobs.version(NAME)
    (jobs.path / NAME).write_bytes(b"theirs = 1\n")
    with pytest.raises(Meanwhile) as now:
        jobs.save(NAME, "mine = 1\n", began)
    assert (now.value.text, now.value.version) == ("theirs = 1\n", jobs.version(NAME))
    assert (jobs.path / NAME).read_bytes() == b"theirs = 1\n"
    jobs.save(NAME, "mine = 1\n", now.value.version)
    assert (jobs.path / NAME).read_bytes() == b"mine = 1\n"


def test_change_in_the_moment_of_writing_is_seen(jobs: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    began = jobs.version(NAME)
    real = Folder.place

    def late(self: Folder, name: str) -> Path:
        place = real(self, name)
        monkeypatch.setattr("storystick.files._write", slow)
        return place

    def slow(path: Path, data: bytes) -> None:
        path.write_bytes(data)
        (jobs.path / NAME).write_bytes(b"theirs = 1\n")

    monkeypatch.setattr(Folder, "place", late)
    with pytest.raises(Meanwhile):
        jobs.save(NAME, "mine = 1\n", began)
    assert (jobs.path / NAME).read_bytes() == b"theirs = 1\n"
    assert left_in(jobs.path) == [NAME]


def test_file_that_is_gone_is_written_again_only_when_that_is_meant(jobs: Folder) -> None:
    began = jobs.version(NAME)
    (jobs.path / NAME).unlink()
    with pytest.raises(Meanwhile) as now:
        jobs.save(NAME, "mine = 1\n", began)
    assert (now.value.version, now.value.text) == (NOTHING, None)
    assert left_in(jobs.path) == []
    jobs.save(NAME, "mine = 1\n", NOTHING)
    assert jobs.read(NAME).text == "mine = 1\n"


def test_file_that_came_meanwhile_is_not_overwritten(jobs: Folder) -> None:
    with pytest.raises(Meanwhile):
        jobs.save(NAME, "mine = 1\n", NOTHING)


@pytest.mark.parametrize("number", [13, 28, 30])
def test_disk_that_takes_nothing_is_told_without_a_place(
    jobs: Folder, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def full(path: Path, _: bytes) -> None:
        raise OSError(number, os.strerror(number), str(path))

    monkeypatch.setattr("storystick.files._write", full)
    with pytest.raises(StorystickError) as told:
        jobs.save(NAME, "mine = 1\n", jobs.version(NAME))
    assert os.strerror(number) in str(told.value)
    assert str(jobs.path) not in str(told.value)
    assert (jobs.path / NAME).read_bytes() == b"a = 1\n"
    assert left_in(jobs.path) == [NAME]


def test_huge_text_is_not_written(jobs: Folder) -> None:
    with pytest.raises(Fault, match="larger than 1 MB"):
        jobs.save(NAME, "#" * 1_000_001, jobs.version(NAME))


def _raise_count(place: Path, times: int) -> list[int]:
    """Add 1 to the number in a file, as often; every save that is acknowledged counts, others begin again."""
    jobs, done = Folder(place), []
    while len(done) < times:
        read = jobs.read(NAME)
        number = int(read.text) + 1
        try:
            jobs.save(NAME, f"{number}\n", read.version)
        except Meanwhile:
            continue
        done.append(number)
    return done


def test_of_many_who_save_at_once_none_is_lost(jobs: Folder) -> None:
    (jobs.path / NAME).write_bytes(b"0\n")
    with get_context("spawn").Pool(2) as pool, ThreadPoolExecutor(4) as threads:
        waiting = [pool.apply_async(_raise_count, (jobs.path, 15)) for _ in range(2)]
        here = [threads.submit(_raise_count, jobs.path, 10) for _ in range(4)]
        numbers = [number for each in waiting for number in each.get(60)]
        numbers += [number for each in here for number in each.result(60)]
    # Two that counted from the same version would have saved the same number.
    assert sorted(numbers) == list(range(1, 71))
    assert jobs.read(NAME).text == "70\n"
    assert left_in(jobs.path) == [NAME]


NO_NAMES = [
    *("..", ".", "", "../case.toml", "..\\case.toml", "/etc/x.toml", "C:\\x.toml", "C:x.toml", "a/b.toml"),
    *(".hidden.toml", "case.toml\0", "case.toml\n", "x\0.toml", "\u202elmot.toml", "case.csv", "case.toml/", "case"),
    *("x" * 300 + ".toml", "CASE.toml", "case.toml::$DATA", "%2e%2e%2fcase.toml", "\udc80.toml"),
]


@pytest.mark.parametrize("name", NO_NAMES)
def test_nothing_but_a_file_of_the_folder_is_read(jobs: Folder, name: str) -> None:
    with pytest.raises(Fault, match="no job of this name"):
        jobs.read(name)


@pytest.mark.parametrize(
    "name",
    [
        *("", " ", ".", "..", ".toml", "../x", "a/b", "a\\b", "c:x", "x:y", 'a"b', "a<b", "a|b", "what?", "*"),
        *("con", "NUL.toml", "com1.old", "Lpt9", "aux .toml", "dot.", "space .toml", "x\0", "x\r\ny", "\u202ex"),
        *("x" * 200, "漆" * 60, "\udc80", "CASE", "Case.TOML", "case"),
    ],
)
def test_new_file_has_a_name_that_any_machine_can_have_and_nobody_has(jobs: Folder, name: str) -> None:
    with pytest.raises(Fault):
        jobs.put(name, b"x = 1\n")
    with pytest.raises(StorystickError):
        jobs.rename(NAME, name if name.lower() not in ("case", "case.toml") else "other/x")
    assert left_in(jobs.path) == [NAME]


@pytest.mark.parametrize("name", ["tall-case", "Tall case 2", "Küche", "24 × 30", "console", "a.b", "漆"])
def test_plain_names_are_taken_with_their_ending(name: str) -> None:
    assert new_name(f" {name} ", ["other.toml"]) == f"{name}.toml"


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_links_are_not_followed(jobs: Folder, tmp_path: Path) -> None:
    outside = tmp_path / "outside.toml"
    outside.write_text("secret = 1\n")
    (jobs.path / "link.toml").symlink_to(outside)
    with pytest.raises(Fault, match="a link"):
        jobs.read("link.toml")
    for began in (NOTHING, jobs.version(NAME)):
        with pytest.raises(StorystickError):
            jobs.save("link.toml", "x = 1\n", began)
    (jobs.path / "dead.toml").symlink_to(tmp_path / "not-there.toml")
    with pytest.raises(StorystickError):
        jobs.save("dead.toml", "x = 1\n", NOTHING)
    (jobs.path / TRASH).symlink_to(tmp_path)
    with pytest.raises(Fault, match="leads out"):
        jobs.delete(NAME)
    assert outside.read_text() == "secret = 1\n"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["jobs", "outside.toml"]


def test_deleted_file_comes_back_by_a_name_that_is_free(jobs: Folder) -> None:
    assert jobs.delete(NAME) == NAME
    assert (jobs.names(), jobs.deleted()) == ([], [NAME])
    jobs.put("case", b"b = 2\n")
    assert jobs.put_back(NAME) == "case-2.toml"
    assert jobs.read("case-2.toml").text == "a = 1\n"
    assert left_in(jobs.path) == ["case-2.toml", NAME]


def test_deleting_two_of_one_name_keeps_both(jobs: Folder) -> None:
    jobs.delete(NAME)
    jobs.put("case", b"b = 2\n")
    assert jobs.delete(NAME) == "case-2.toml"
    assert jobs.deleted() == ["case-2.toml", NAME]


def test_copy_and_rename_never_overwrite(jobs: Folder) -> None:
    assert jobs.copy(NAME) == "case-2.toml"
    assert jobs.copy(NAME) == "case-3.toml"
    with pytest.raises(StorystickError, match="already"):
        jobs.rename(NAME, "Case-2")
    assert jobs.rename(NAME, "Case") == "Case.toml"
    assert jobs.names() == ["case-2.toml", "case-3.toml", "Case.toml"]
