"""How far work is that takes longer than a second: one line at a terminal, drawn over and taken away at the end."""

from __future__ import annotations

import shutil
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from storystick.printing import Progress

_QUIET_SECONDS: Final = 1.0
"""What is done sooner says nothing of it."""

_CLEAR: Final = "\r\x1b[2K"


@contextmanager
def one_line() -> Iterator[Callable[[str], None]]:
    """Where to say how far it is; nothing is shown before a second, nor where no terminal is, nor left at the end."""
    begun, shown = time.monotonic(), False

    def say(words: str) -> None:
        nonlocal shown
        if sys.stderr.isatty() and time.monotonic() - begun >= _QUIET_SECONDS:
            shown = True
            sys.stderr.write(f"{_CLEAR}{words[: shutil.get_terminal_size().columns - 1]}")
            sys.stderr.flush()

    try:
        yield say
    finally:
        if shown:
            sys.stderr.write(_CLEAR)
            sys.stderr.flush()


@contextmanager
def working(words: str) -> Iterator[None]:
    """The same for what does not tell how far it is: only that it goes on."""
    with one_line() as say:
        later = threading.Timer(_QUIET_SECONDS, say, [words])
        later.daemon = True
        if sys.stderr.isatty():
            later.start()
        try:
            yield
        finally:
            later.cancel()
            if later.ident:
                later.join()


@contextmanager
def drawing_progress() -> Iterator[Progress]:
    """What a print tells of its files, one after another."""
    with one_line() as say:
        # Once all is drawn the line goes: what is said of the print comes next.
        yield lambda done, of, file: say(f"{done} of {of} files drawn, now {file}" if file else "")
