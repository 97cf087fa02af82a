"""Prints into one folder that are killed at random times: no mix of two versions goes unnoticed, no stray stays.

By hand, in the project's environment: ``python tests/kills.py 300``. The tests kill a few.
"""

from __future__ import annotations

import random
import shutil
import subprocess
import sys
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from storystick import load, print_job
from storystick.print_folder import state_of
from storystick.sheets.print_choices import FOLDER_RECORD_FILE

JOB: Final = """
title = "Killed"
units = "mm"
stock = {{ ply = 18.3 }}
[[stick]]
name = "Side"
part = "ply"
openings = [{first}, 200, 140]
pair = true
[[stick]]
name = "Depth"
part = "ply"
openings = [300]
"""

PRINTS: Final = """
import sys
from itertools import cycle
from pathlib import Path
from storystick import lay_out, load, print_job
folder, *jobs = map(Path, sys.argv[1:])
layouts = [load(job) for job in jobs]
print("ready", flush=True)
for layout in cycle(layouts):
    print_job(layout, folder)
"""
"""Works out and draws, one version after the other: as a person's prints, over and over."""

WRITES: Final = """
import sys
from itertools import cycle
from pathlib import Path
from storystick import lay_out, load
from storystick.files import write_files
from storystick.print_folder import folder_record
folder, *jobs = map(Path, sys.argv[1:])
prints = []
for job in jobs:
    drawn = {p.name: p.read_bytes() for p in (job.parent / job.stem).iterdir() if p.suffix in (".pdf", ".svg")}
    prints.append((drawn, folder_record(drawn, load(job).job)))
print("ready", flush=True)
for drawn, record in cycle(prints):
    write_files(folder, drawn, record)
"""
"""Only writes what is drawn already, so that most kills fall into the writing."""


@dataclass(frozen=True)
class Versions:
    """Two versions of a job, each printed whole into a folder of its own, and a folder that both are printed into."""

    jobs: tuple[Path, Path]
    folder: Path

    def found(self) -> str:
        """What lies in the folder by the files' own bytes: one version, a mix, or something torn; no record is read."""
        whole = [printed(job.parent / job.stem) for job in self.jobs]
        there = printed(self.folder)
        if any(data not in (version[name] for version in whole) for name, data in there.items()):
            return "torn"
        return "whole" if there in whole else "mixed" if there else "empty"


def versions_in(folder: Path) -> Versions:
    jobs = folder / "one.toml", folder / "two.toml"
    for job, first in zip(jobs, (120, 121), strict=True):
        job.write_text(JOB.format(first=first), encoding="utf-8")
        print_job(load(job), job.parent / job.stem)
    return Versions(jobs, folder / "out")


def printed(folder: Path) -> dict[str, bytes]:
    """The drawn files of a folder."""
    return {path.name: path.read_bytes() for path in folder.glob("*") if path.suffix in (".pdf", ".svg")}


def strays(folder: Path) -> list[str]:
    """All that is neither drawn nor the folder's record."""
    names = {path.name for path in folder.iterdir()} if folder.exists() else set[str]()
    return sorted(names - set(printed(folder)) - {FOLDER_RECORD_FILE})


def kill_once(versions: Versions, program: str, chance: random.Random) -> str:
    """Kill a process that prints both versions in turn, and say what it left.

    Raises:
        AssertionError: a file is torn, or a mix is not noticed.
    """
    words = [sys.executable, "-c", program, versions.folder, *versions.jobs]
    process = subprocess.Popen(words, stdout=subprocess.PIPE)
    assert process.stdout is not None
    process.stdout.readline()
    time.sleep(chance.uniform(0, 0.3))
    process.kill()
    process.communicate()
    found, state = versions.found(), state_of(versions.folder)
    assert found != "torn"
    if found == "mixed":
        assert state.unfinished, "a mix goes unnoticed"
        assert "stopped half way" in state.words
    return f"{found}, {'called unfinished' if state.unfinished else 'nothing said'}"


def mend(versions: Versions) -> None:
    """Print once more, and look that all is whole again.

    Raises:
        AssertionError: it is not, or something was left there.
    """
    print_job(load(versions.jobs[0]), versions.folder)
    assert versions.found() == "whole"
    assert not state_of(versions.folder).words
    assert strays(versions.folder) == []


def main(kills: int) -> None:
    """Kill so many, half of them while they draw and half while they write, and count what was found."""
    chance, counts = random.Random(kills), Counter[str]()
    with TemporaryDirectory() as name:
        versions = versions_in(Path(name))
        for number in range(kills):
            if number % 10 > 7:
                shutil.rmtree(versions.folder)  # so that a first print is killed as well
            counts[kill_once(versions, (PRINTS, WRITES)[number % 2], chance)] += 1
            counts["left strays"] += bool(strays(versions.folder))
            mend(versions)
    for what, number in sorted(counts.items()):
        print(f"{number:6} {what}")


if __name__ == "__main__":
    main(int(sys.argv[1]))
