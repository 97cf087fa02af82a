"""Servers killed while they save: a file is always one of its whole versions, and what was said to be saved is saved.

By hand, in the project's environment: ``python tests/save_kills.py 200``. The tests kill a few. Needs a system that
forks.
"""

from __future__ import annotations

import os
import random
import signal
import socket
import sys
from collections import Counter
from contextlib import suppress
from http.client import HTTPConnection, HTTPException
from logging import ERROR, getLogger
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Timer
from typing import Final
from urllib.parse import urlencode

from waitress.server import create_server

from storystick.bench.app import create_app
from storystick.bench.files.folder import Folder, version_of
from storystick.bench.serving import LIMITS
from storystick.bench.state import Bench
from storystick.files import LOCK_FILE

NAME: Final = "case.toml"
OTHER: Final = "other.toml"
TOKEN: Final = "for-these-kills"
LONGEST_SECONDS: Final = 0.4


def text_of(number: int) -> str:
    """A version of the job: long enough to be torn if anything can be."""
    return f'title = "{number}"\n' + f"# {number}\n" * 2_000


def served(folder: Path) -> tuple[int, int]:
    """A server in a process of its own: its number and its port."""
    listening = socket.create_server(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    process = os.fork()
    if not process:
        app = create_app(Bench(Folder(folder), None, lambda: None), TOKEN, port)
        getLogger("waitress").setLevel(ERROR)
        create_server(app, sockets=[listening], **LIMITS).run()
        os._exit(0)
    listening.close()
    return process, port


def save_until_killed(port: int, number: int, version: str) -> tuple[int, int]:
    """Save one version after the other; how many were sent, and which was the last that was said to be saved."""
    told = number
    connection = HTTPConnection("127.0.0.1", port, timeout=10)
    with suppress(OSError, HTTPException):
        while True:
            number += 1
            text = text_of(number)
            body = urlencode({"text": text, "version": version})
            headers = {"Content-Type": "application/x-www-form-urlencoded"}
            connection.request("POST", f"/job/{NAME}/save?token={TOKEN}", body, headers)
            answer = connection.getresponse()
            words = answer.read().decode()
            version = version_of(text.encode())
            assert answer.status == 200, words
            assert f'data-version="{version}"' in words, words
            told = number
    return number, told


def kill_once(folder: Path, chance: random.Random, number: int) -> tuple[int, str]:
    """Kill a server while it saves; the number of the version that is there then, and what was found.

    Raises:
        AssertionError: something is torn or lost.
    """
    process, port = served(folder)
    connection = HTTPConnection("127.0.0.1", port, timeout=30)
    connection.request("GET", f"/job/{NAME}/version?token={TOKEN}")  # so that all is loaded that the first answer loads
    assert connection.getresponse().read()
    timer = Timer(chance.uniform(0, LONGEST_SECONDS), os.kill, (process, signal.SIGKILL))
    timer.start()
    sent, told = save_until_killed(port, number, version_of(text_of(number).encode()))
    timer.join()
    os.waitpid(process, 0)
    there = (folder / NAME).read_text(encoding="utf-8")
    found = next((each for each in range(told, sent + 1) if there == text_of(each)), None)
    assert found is not None, "the file is torn, or what was saved is lost"
    assert (folder / OTHER).read_text(encoding="utf-8") == text_of(0)
    strays = {path.name for path in folder.iterdir()} - {NAME, OTHER, LOCK_FILE}
    kind = "the last one is there" if found == sent else "the one before is there"
    return found, f"{kind}, {'with a stray' if strays else 'nothing left'}"


def tried(folder: Path, kills: int) -> Counter[str]:
    """Kill so many servers, one after the other in one folder; the next save clears away what is left."""
    chance, counts, number = random.Random(kills), Counter[str](), 0
    for name in (NAME, OTHER):
        (folder / name).write_text(text_of(0), encoding="utf-8")
    for _ in range(kills):
        number, found = kill_once(folder, chance, number)
        counts[found] += 1
    jobs = Folder(folder)
    jobs.save(NAME, "last = 1\n", jobs.version(NAME))
    assert {path.name for path in folder.iterdir()} == {NAME, OTHER}, "strays stay"
    counts["versions saved"] = number
    return counts


def main(kills: int) -> None:
    """Kill so many, and count what was found."""
    with TemporaryDirectory() as name:
        for what, number in sorted(tried(Path(name), kills).items()):
            print(f"{number:6} {what}")


if __name__ == "__main__":
    main(int(sys.argv[1]))
