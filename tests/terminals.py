"""Commands run at a terminal of their own: what is typed into it, and all that it shows."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import Final

ROOT: Final = Path(__file__).parent.parent
PATIENCE_SECONDS: Final = 60.0


class Terminal:
    """``python -m storystick`` with ``arguments``, its input, output and errors at one pseudo-terminal."""

    def __init__(self, arguments: Sequence[str], folder: Path, **settings: str) -> None:
        self._ours, theirs = pty.openpty()
        command = [sys.executable, "-m", "storystick", *arguments]
        self._process = subprocess.Popen(
            command, stdin=theirs, stdout=theirs, stderr=theirs, cwd=folder, env=surroundings(folder, settings)
        )
        os.close(theirs)
        self.shown = ""

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None) -> None:
        if self._process.poll() is None:
            self._process.kill()
        self._process.wait()
        os.close(self._ours)

    def type(self, text: str) -> None:
        """Type text into it."""
        os.write(self._ours, text.encode())

    def interrupt(self) -> None:
        """What Ctrl-C does to it."""
        self._process.send_signal(signal.SIGINT)

    def until(self, seen: Callable[[str], bool]) -> str:
        """All that it has shown, once that is so as ``seen`` asks for."""
        end = time.monotonic() + PATIENCE_SECONDS
        while not seen(self.shown):
            assert time.monotonic() < end, f"not shown in time: {self.shown!r}"
            if not self._read():
                assert seen(self.shown), f"ended with {self.shown!r}"
        return self.shown

    def ended(self) -> tuple[int, str]:
        """Its exit status, and all that it showed."""
        end = time.monotonic() + PATIENCE_SECONDS
        while self._read():
            assert time.monotonic() < end, f"not ended in time: {self.shown!r}"
        return self._process.wait(PATIENCE_SECONDS), self.shown

    def _read(self) -> bool:
        """Take in what it shows; false once it has ended and all is read."""
        if not select.select([self._ours], [], [], 0.1)[0]:
            return self._process.poll() is None
        try:
            data = os.read(self._ours, 65536)
        except OSError:  # Linux says so that nobody is at the other end any more
            return False
        self.shown += data.decode(errors="replace").replace("\r\n", "\n")
        return True


def surroundings(folder: Path, settings: Mapping[str, str] | None = None) -> dict[str, str]:
    """The environment of a command, with no shop file of the user's and nothing said of colours."""
    plain = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "TERM", "FORCE_COLOR")}
    ours = {"PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(folder / "settings"), "TERM": "xterm", "COLUMNS": "96"}
    return plain | ours | dict(settings or {})


def run(arguments: Sequence[str], folder: Path, **settings: str) -> subprocess.CompletedProcess[str]:
    """The same with no terminal anywhere."""
    command = [sys.executable, "-m", "storystick", *arguments]
    return subprocess.run(
        command,
        cwd=folder,
        env=surroundings(folder, settings),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=PATIENCE_SECONDS,
        check=False,
    )
