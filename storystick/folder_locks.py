"""One writer at a time in a folder. The lock goes with its process, however that ends."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from storystick.errors import Fault

LOCK_FILE: Final = ".storystick-lock"
_PATIENCE_SECONDS: Final = 20.0
_PAUSE_SECONDS: Final = 0.05

if sys.platform == "win32":
    import msvcrt

    def _try_lock(file: int) -> None:
        try:
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        except PermissionError as error:
            raise BlockingIOError from error

else:
    import fcntl

    def _try_lock(file: int) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextmanager
def alone_in(folder: Path) -> Iterator[bool]:
    """Hold a folder against other writers; false where its file system knows no locks, and nothing is held.

    Raises:
        Fault: another writer holds it and goes on doing so.
    """
    file = _locked(folder / LOCK_FILE)
    try:
        yield file is not None
    finally:
        if file is not None:
            _release(file, folder / LOCK_FILE)


def _locked(place: Path) -> int | None:
    """The file of the lock, once it is held; None where there can be none."""
    until = time.monotonic() + _PATIENCE_SECONDS
    while time.monotonic() < until:
        try:
            file = _open(place)
        except OSError:
            return None
        try:
            _try_lock(file)
            if _is_at(file, place):
                return file
        except BlockingIOError:
            time.sleep(_PAUSE_SECONDS)
        except OSError:
            os.close(file)
            return None
        os.close(file)
    raise Fault("another print is being written into this folder", "wait until it is done", str(place.parent))


def _open(place: Path) -> int:
    # Neither a link nor a pipe of this name, which others may have laid there, is followed or waited for.
    careful = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0)
    return os.open(place, os.O_CREAT | os.O_RDONLY | careful, 0o666)


def _is_at(file: int, place: Path) -> bool:
    """Whether the file that is locked is still the one in the folder: who held it before may have taken it away."""
    with suppress(FileNotFoundError):
        return os.path.samestat(os.fstat(file), place.stat())
    return False


def _release(file: int, place: Path) -> None:
    if sys.platform == "win32":
        os.close(file)
    with suppress(OSError):
        place.unlink()
    if sys.platform != "win32":
        os.close(file)
