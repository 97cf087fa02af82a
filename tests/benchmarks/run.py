"""How long printing and listing take, beside a floor measured in the same run.

Run it with the project's environment: ``python tests/benchmarks/run.py``. Each figure is the median of several fresh
processes, taken in turn with its floor's, and only their ratio means anything on a shared machine.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from large_jobs import many_cabinets  # noqa: E402 it lies beside the tests, not in a package

ROUNDS = 15
JOB = """
title = "Benchmark"
units = "inch"
stock = {{ ply = "23/32" }}
{sticks}
"""
STICK = """
[[stick]]
name = "Side {number}"
pair = true
part = "ply"
openings = ["5 1/2", "2 1/4", "2 1/4", "2 1/4", "2 1/4", "2 1/4", "2 1/4", "2 1/4", "2 1/4", "2 1/4"]
"""


def main() -> None:
    """Print a table of ratios."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        job = folder / "job.toml"
        print(f"{'':50}{'median s':>10}{'floor s':>10}{'ratio':>8}")
        for sticks in (1, 8):
            job.write_text(JOB.format(sticks="".join(STICK.format(number=n) for n in range(1, sticks + 1))))
            floor = write_bare_print(job, folder)
            command = storystick("print", str(job), "--format", "pdf", "-o", str(folder / "out"))
            report(f"print, {sticks} pairs, against bare PDF", command, floor)
            report(f"marks, {sticks} pairs, against click", storystick("marks", str(job)), bare("import click"))
            report(
                f"check, {sticks} pairs, against marks", storystick("check", str(job)), storystick("marks", str(job))
            )
            verified = storystick("verify", str(folder / "out" / "strips.pdf"))
            report(f"verify, {sticks} pairs, against no limits", verified, [*verified, "--trusted"])
        report("--help, against click", storystick("--help"), bare("import click"))
        for cabinets, kinds in ((3, 3), (10, 10), (30, 10)):
            job.write_text(many_cabinets(cabinets, kinds))
            floor = write_bare_print(job, folder)
            command = storystick("print", str(job), "--format", "pdf", "-o", str(folder / "out"))
            report(f"print, {cabinets} cabinets of {kinds} kinds, against bare PDF", command, floor, rounds=5)
        job.write_text(many_cabinets(300, 10))
        print("\n300 cabinets of 10 kinds, once:")
        for command in ("check", "pages", "print"):
            out = ["-o", str(folder / "many")] if command == "print" else []
            print(f"{command:50}{seconds(storystick(command, str(job), *out)):10.3f} s")


def storystick(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "storystick", *arguments]


def bare(code: str) -> list[str]:
    return [sys.executable, "-c", code]


def write_bare_print(job: Path, folder: Path) -> list[str]:
    """The command of a script that draws as much as the job prints, with the same fonts, knowing nothing of it."""
    from storystick import load
    from storystick.drawing.lettering import font_file
    from storystick.printing import planned_files

    files = {}
    for name, planned in planned_files(load(job)).items():
        if name.endswith(".pdf"):
            document = planned.document
            files[name] = [dict(Counter(type(shape).__name__ for shape in page.shapes)) for page in document.pages]
            letters = sum(len(s.text) for p in document.pages for s in p.shapes if type(s).__name__ == "Text")
            texts = sum(page.get("Text", 0) for page in files[name])
            files[name].append({"letters": round(letters / texts)})
    plan = folder / "plan.json"
    fonts = [str(font_file(bold)) for bold in (False, True)]
    plan.write_text(json.dumps({"fonts": fonts, "files": files, "folder": str(folder)}))
    return [sys.executable, str(HERE / "bare_print.py"), str(plan)]


def report(what: str, command: list[str], floor: list[str], rounds: int = ROUNDS) -> None:
    taken: list[float] = []
    least: list[float] = []
    for _ in range(rounds):
        least.append(seconds(floor))
        taken.append(seconds(command))
    median, under = statistics.median(taken), statistics.median(least)
    print(f"{what:50}{median:10.3f}{under:10.3f}{median / under:8.2f}")


def seconds(command: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, env=os.environ | {"PYTHONDONTWRITEBYTECODE": ""})
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
