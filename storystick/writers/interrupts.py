"""Ctrl-C while a library draws: some of them catch whatever comes, and go on or raise an error of their own."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def interruptible() -> Iterator[None]:
    """Let Ctrl-C end what runs inside, whatever the library there makes of it.

    Raises:
        KeyboardInterrupt: it came.
    """
    default = signal.getsignal(signal.SIGINT)
    if threading.current_thread() is not threading.main_thread() or not callable(default):
        yield
        return
    came = False

    def remember(number: int, frame: FrameType | None) -> None:
        nonlocal came
        came = True
        default(number, frame)

    signal.signal(signal.SIGINT, remember)
    try:
        yield
    except Exception:
        if not came:
            raise
    finally:
        signal.signal(signal.SIGINT, default)
    if came:
        raise KeyboardInterrupt
