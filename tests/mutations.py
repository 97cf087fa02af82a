"""Job files, shop files and spreadsheets changed at random: whatever is read is a fault or a listing, never an error.

By hand, in the project's environment: ``python tests/mutations.py 10000 FOLDER`` keeps the files of every case that
ends in an error or takes over 10 s in that folder. A number after it goes on from that case. The tests try a few.
"""

from __future__ import annotations

import random
import re
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from functools import cache
from itertools import product
from pathlib import Path
from types import FrameType
from typing import Final
from unittest.mock import patch

from click.testing import CliRunner

from storystick.cli import main as command
from storystick.errors import StorystickError
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.printing import check_print
from storystick.sheets.print_choices import ALL

ROOT: Final = Path(__file__).parent.parent
LONGEST_SECONDS: Final = 10.0
COMMANDS: Final = ("marks", "parts", "setups", "square", "glueup", "pages")

Files = dict[str, str]
"""The texts of a job's files by name, the job file first."""

_TOKEN: Final = re.compile(r'"[^"\n]*"|[A-Za-z_]+|[-+]?[0-9][0-9./_]*|[\[\]{}=,]|\n| +|.')
_NUMBERS: Final = (
    *("0", "-1", "1", "3", "1e9", "-1e308", "nan", "inf", "0.0000001", "99999999999999999999", "0x10", "1_000"),
    *('"1/0"', '"5 5/3"', '"1/1000000007"', '"1e9"', '"0"', '"-1/64"', '"1/64"', '"99 m"', '"0.1 mm"', '"½"', '"1/3"'),
)
_TYPES: Final = (
    "true",
    "[]",
    "{}",
    '""',
    '"x"',
    "1979-05-27",
    "[1]",
    "{ a = 1 }",
    "1.5",
    '["equal"]',
    "[[1]]",
    "07:32:00",
)
_SIGNS: Final = (
    "\u202e",
    "\ufeff",
    "\0",
    "é",
    "漆",
    "½",
    "\u2007",
    "٣",
    "𝟏",
    "‘",
    "\r",
    "\x7f",
    "″",
    "×",
    "–",
    "ﬁ",
    "e\u0301",
)
_UNITS: Final = ('units = "mm"', 'units = "inch"', 'units = "cm"', "")


def seeds() -> list[Files]:
    """The jobs of the gallery and of the guide to job files, with the files that they name and a shop."""
    gallery = [
        {path.name: path.read_text(encoding="utf-8") for path in (job, *sorted(set(others(job)) - {job}))}
        for job in sorted(ROOT.glob("gallery/*/*.toml"))
        if job.stem == job.parent.name and job.stem != "boot-room"
    ]
    readme = re.findall(r"```toml\n(.*?)```", (ROOT / "shared" / "job-files.md").read_text(encoding="utf-8"), re.DOTALL)
    jobs = [text for text in readme if "title" in text]
    tools, *assembly = (text for text in readme if "title" not in text)
    shop = tools + "".join(text.removeprefix('units = "inch"\n') for text in assembly)
    return [*gallery, *({"job.toml": text, "shop.toml": shop} for text in jobs)]


def others(job: Path) -> list[Path]:
    return [*job.parent.glob("*.csv"), *job.parent.glob("*.toml")]


class Mutator:
    """Changes the text of a file here and there, as people and broken programs do, with words of other ``texts``."""

    def __init__(self, chance: random.Random, texts: tuple[str, ...]) -> None:
        self._chance = chance
        self._tokens, self._keys = words_of(texts)
        self._ways: Sequence[Callable[[str], str]] = (
            *[self._token] * 6,
            *[self._number] * 5,
            *[self._type] * 3,
            *[self._key] * 3,
            *[self._line] * 3,
            *(self._units, self._cut_off, self._sign, self._many),
        )

    def changed(self, text: str) -> str:
        for _ in range(self._chance.choice((1, 1, 1, 1, 2, 4))):
            text = self._chance.choice(self._ways)(text)
        return text

    def _token(self, text: str) -> str:
        """One deleted, doubled, exchanged with another, or put in place of another from anywhere."""
        tokens = _TOKEN.findall(text)
        places = [place for place, token in enumerate(tokens) if token.strip()]
        if len(places) < 2:
            return text
        one, other = self._chance.sample(places, 2)
        way = self._chance.randrange(4)
        if way == 0:
            tokens[one] = ""
        elif way == 1:
            tokens[one] *= 2
        elif way == 2:
            tokens[one], tokens[other] = tokens[other], tokens[one]
        else:
            tokens[one] = self._chance.choice(self._tokens)
        return "".join(tokens)

    def _number(self, text: str) -> str:
        return self._in_place_of(r'"[-0-9 /.]+"|\b[0-9.]+\b', text, self._chance.choice(_NUMBERS))

    def _type(self, text: str) -> str:
        return self._in_place_of(r"(?<== ).+", text, self._chance.choice(_TYPES))

    def _key(self, text: str) -> str:
        return self._in_place_of(r"\b\w+(?= *=)", text, self._chance.choice(self._keys))

    def _units(self, text: str) -> str:
        return self._in_place_of(r'units = "\w+"', text, self._chance.choice(_UNITS))

    def _sign(self, text: str) -> str:
        place = self._chance.randrange(len(text) + 1)
        return text[:place] + self._chance.choice(_SIGNS) + text[place:]

    def _cut_off(self, text: str) -> str:
        return text[: self._chance.randrange(len(text) + 1)]

    def _line(self, text: str) -> str:
        """A line deleted, doubled, or moved."""
        lines = text.splitlines(keepends=True)
        if not lines:
            return text
        taken = lines.pop(self._chance.randrange(len(lines)))
        for _ in range(self._chance.randrange(3)):
            lines.insert(self._chance.randrange(len(lines) + 1), taken)
        return "".join(lines)

    def _many(self, text: str) -> str:
        """A table or an item many times."""
        tables = re.split(r"(?m)^(?=\[)", text)
        place = self._chance.randrange(len(tables))
        tables[place] *= self._chance.choice((2, 10, 40))
        return "".join(tables)

    def _in_place_of(self, pattern: str, text: str, new: str) -> str:
        found = list(re.finditer(pattern, text))
        if not found:
            return text
        match = self._chance.choice(found)
        return text[: match.start()] + new + text[match.end() :]


@cache
def words_of(texts: tuple[str, ...]) -> tuple[list[str], list[str]]:
    """All tokens of some files, as often as they stand there, and all of their keys."""
    tokens = [token for text in texts for token in _TOKEN.findall(text) if token.strip()]
    keys = {key for text in texts for key in re.findall(r"^\s*(\w+) *=", text, re.MULTILINE)}
    return tokens, sorted(keys)


class TooLongError(BaseException):
    """A case took more than it may."""


@dataclass(frozen=True)
class Ended:
    """How a case ended: ``kind`` for counting, ``told`` what went wrong, empty where nothing did."""

    kind: str
    seconds: float
    told: str = ""


def case(number: int, jobs: Sequence[Files]) -> Files:
    """The files of a case, the same for the same number."""
    chance = random.Random(number)
    mutator = Mutator(chance, tuple(text for files in jobs for text in files.values()))
    files = dict(chance.choice(jobs))
    name = chance.choice((*files, next(iter(files))))
    files[name] = mutator.changed(files[name])
    return files


def tried(files: Files) -> Ended:
    """Read the files, lay the job out, check it and list everything; the time is that of the processor."""
    started = time.process_time()
    previous = signal.signal(signal.SIGVTALRM, _give_up)
    signal.setitimer(signal.ITIMER_VIRTUAL, 1.5 * LONGEST_SECONDS)
    try:
        kind, told = _run(files)
    except TooLongError:
        kind, told = "too long", traceback.format_exc()
    except Exception:
        kind, told = "error", traceback.format_exc()
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, previous)
    seconds = time.process_time() - started
    if seconds > LONGEST_SECONDS:
        kind, told = "too long", told or f"{seconds:.1f} s"
    return Ended(kind, seconds, told)


def _give_up(_number: int, _frame: FrameType | None) -> None:
    raise TooLongError


def _run(files: Files) -> tuple[str, str]:
    try:
        layout = load_sources([Source(name, text.encode(errors="replace")) for name, text in files.items()])
    except StorystickError as error:
        return ("faults", "") if all(map(str, error.faults)) else ("error", "a fault that says nothing")
    try:
        check_print(layout)
        kind = "listed"
    except StorystickError:
        kind = "listed, not to be printed"
    with ExitStack() as loaded:
        for name in COMMANDS:
            if name != "pages":
                loaded.enter_context(patch(f"storystick.cli.{name}.load_job", lambda *_: layout))
        loaded.enter_context(patch("storystick.cli.pages.load_to_print", lambda *_: (layout, ALL)))
        for name, shape in product(COMMANDS, ("text", "json")):
            ended = CliRunner().invoke(command, [name, "job.toml", "--format", shape], catch_exceptions=False)
            if ended.exit_code not in (0, 1):
                return "error", f"{name} ended with {ended.exit_code}: {ended.output}"
    return kind, ""


def main(cases: int, folder: Path, first: int = 0) -> None:
    """Try so many cases, and count how they ended."""
    jobs, counts, longest = seeds(), Counter[str](), 0.0
    folder.mkdir(exist_ok=True)
    for number in range(first, first + cases):
        files = case(number, jobs)
        ended = tried(files)
        counts[ended.kind] += 1
        longest = max(longest, ended.seconds)
        if ended.told:
            place = folder / str(number)
            place.mkdir(exist_ok=True)
            for name, text in files.items():
                (place / name).write_text(text, encoding="utf-8", errors="replace")
            (place / "told.txt").write_text(ended.told, encoding="utf-8")
        if number % 500 == 499 or ended.told:
            print(number, dict(counts), f"longest {longest:.1f} s", ended.told.strip().splitlines()[-1:], flush=True)
    print(dict(counts), f"longest {longest:.1f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]), Path(sys.argv[2]), *map(int, sys.argv[3:]))
