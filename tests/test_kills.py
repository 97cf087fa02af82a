"""A print that is killed: what lies in its folder is named for what it is, and the next print leaves it whole."""

from __future__ import annotations

import random
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest
from click.testing import CliRunner, Result
from kills import PRINTS, WRITES, Versions, kill_once, mend, printed, strays, versions_in

from storystick import load, print_job
from storystick.cli import main
from storystick.errors import Fault
from storystick.files import LOCK_FILE, alone_in, write_files
from storystick.print_folder import state_of

DIES_AT: Final = """
import os, signal, sys
from pathlib import Path
from storystick import lay_out, load, print_job
folder, job, last = Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3])
replace, done = os.replace, 0
def counted(source, target):
    global done
    if done == last:
        os.kill(os.getpid(), signal.SIGKILL)
    replace(source, target)
    done += 1
os.replace = counted
print_job(load(job), folder)
"""
"""Prints a job, and is killed once it has moved so many files into their places."""

FILES: Final = 5
"""Strips, two hands, a depth and a job sheet."""

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="this system kills in another way")


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Versions:
    return versions_in(tmp_path_factory.mktemp("versions"))


@pytest.fixture
def versions(both: Versions, tmp_path: Path) -> Versions:
    """The second version printed into the default folder of the first."""
    print_job(load(both.jobs[1]), tmp_path / "one-print")
    return Versions(both.jobs, tmp_path / "one-print")


def dies_at(moved: int, versions: Versions) -> None:
    words = [sys.executable, "-c", DIES_AT, str(versions.folder), str(versions.jobs[0]), str(moved)]
    assert subprocess.run(words, check=False).returncode == -signal.SIGKILL


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words], catch_exceptions=False)


# The record is moved first and last.
@pytest.mark.parametrize("moved", range(FILES + 2))
def test_folder_tells_wherever_its_print_was_killed(moved: int, versions: Versions) -> None:
    assert len(printed(versions.folder)) == FILES
    dies_at(moved, versions)
    mixed = 1 < moved <= FILES
    assert versions.found() == ("mixed" if mixed else "whole")
    state = state_of(versions.folder)
    assert state.unfinished or not mixed
    assert len(state.others) == (FILES + 1 - moved if moved else 0)
    mend(versions)


@pytest.mark.parametrize("moved", range(1, FILES + 1))
def test_first_print_that_was_killed_is_unfinished(moved: int, versions: Versions) -> None:
    shutil.rmtree(versions.folder)
    dies_at(moved, versions)
    assert len(printed(versions.folder)) == moved - 1
    assert state_of(versions.folder).unfinished
    mend(versions)


def test_commands_name_a_mixed_folder(versions: Versions, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(versions.folder.parent)
    dies_at(FILES, versions)
    named = "the last print there was stopped half way, and strip-depth.svg is not of it"
    verified, checked = run("verify", "one-print/strips.pdf"), run("check", versions.jobs[0])
    assert (verified.exit_code, verified.stdout.startswith("true: ")) == (1, True)
    assert (checked.exit_code, "no faults" in checked.stdout) == (0, True)
    for told in (verified, checked):
        assert f"one-print: {named}" in " ".join(told.stderr.split())
    again = run("print", versions.jobs[0])
    assert (again.exit_code, "had been stopped half way" in again.stderr) == (0, True)
    for quiet in (
        run("verify", "one-print/strips.pdf"),
        run("check", versions.jobs[0]),
        run("print", versions.jobs[0]),
    ):
        assert (quiet.exit_code, quiet.stderr) == (0, "")


def test_file_of_another_print_in_a_whole_folder_is_named_and_one_that_is_gone_is_not(
    versions: Versions, both: Versions
) -> None:
    (versions.folder / "strip-depth.svg").unlink()
    assert run("verify", versions.folder / "strips.pdf").stderr == ""
    shutil.copy(both.jobs[0].parent / "one" / "job-sheet.pdf", versions.folder)
    told = run("verify", versions.folder / "strips.pdf")
    assert (told.exit_code, told.stdout.startswith("true: ")) == (0, True)
    assert "job-sheet.pdf is not as the last print there wrote it" in " ".join(told.stderr.split())


@pytest.mark.parametrize("record", [b"", b"[]", b'{"files": 3}', b'{"files": {"../x": "0"}}', b"\xff", b"[" * 10**6])
def test_record_that_nobody_can_read_is_no_error(record: bytes, versions: Versions) -> None:
    (versions.folder / "print-record.json").write_bytes(record)
    assert not state_of(versions.folder).words


def test_few_kills_at_random_leave_no_mix_that_goes_unnoticed(both: Versions) -> None:
    chance = random.Random(10)
    for program in (WRITES, PRINTS, WRITES):
        kill_once(both, program, chance)
        mend(both)


def test_what_another_process_writes_just_now_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("storystick.files._PATIENCE_SECONDS", 0.2)
    at_work = tmp_path / ".storystick-at_work0"
    (at_work / "new").mkdir(parents=True)
    with alone_in(tmp_path) as alone:
        assert alone
        with pytest.raises(Fault, match="another program is writing into this folder"):
            write_files(tmp_path, {"strips.pdf": b"x"})
        assert at_work.exists()
    write_files(tmp_path, {"strips.pdf": b"x"})
    assert [path.name for path in tmp_path.iterdir()] == ["strips.pdf"]


def test_nothing_of_the_user_s_is_cleared_away(tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "plan.txt").write_text("mine")
    for name in (".storystick-mine0000", ".storystick-mine0001/new/deep", ".storystick-notes"):
        (tmp_path / name).mkdir(parents=True)
    (tmp_path / ".storystick-mine0000" / "plan.txt").write_text("mine")
    (tmp_path / ".storystick-mine0002").write_text("mine")
    (tmp_path / ".storystick-mine0003").symlink_to(own)
    before = sorted(tmp_path.rglob("*"))
    write_files(tmp_path, {})
    assert sorted(tmp_path.rglob("*")) == before


def test_lock_that_is_a_link_or_a_pipe_is_neither_followed_nor_waited_for(tmp_path: Path) -> None:
    (tmp_path / LOCK_FILE).symlink_to(tmp_path / "elsewhere")
    write_files(tmp_path, {"strips.pdf": b"x"})
    assert sorted(path.name for path in tmp_path.iterdir()) == [LOCK_FILE, "strips.pdf"]


def test_killed_process_leaves_strays_that_the_next_print_clears(versions: Versions) -> None:
    dies_at(2, versions)
    left = strays(versions.folder)
    assert LOCK_FILE in left
    assert [name for name in left if name != LOCK_FILE]
    mend(versions)
