"""Work on a file from anywhere, in a process of its own that may use only so much time and memory.

Where the system can limit a process (POSIX), it counts the time that the processor spends; elsewhere the clock alone
ends it, and memory is not limited.

No list of tricks is ever complete, so the limits are of time and memory; what comes back may be values and classes of
ours only.
"""

from __future__ import annotations

import io
import pickle
import signal
import sys
import threading
import traceback
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Final, TypeVar

from storystick.errors import Fault, StorystickError

T = TypeVar("T")

CPU_SECONDS: Final = 8
"""With what goes before and after, a command takes no more than 10 s for any file."""

MEMORY_MB: Final = 400
"""What may come on top of the program itself, so that all stays below 500 MB."""

_CLOCK_SECONDS: Final = 120.0 if sys.platform != "win32" else 10.0
"""Where the time of the processor is limited, the clock is only for a machine that does many other things."""

_OWN: Final = "storystick."
_PLAIN: Final = (("fractions", "Fraction"), ("builtins", "set"), ("builtins", "frozenset"))

TOO_MUCH: Final = Fault(
    "the file takes more than 10 s or 500 MB to read, which no usual print does",
    "use the file as it was printed; a very large print of your own can be verified with --trusted",
)


@dataclass(frozen=True, slots=True)
class _Broken:
    """An error that is none of the file's, as it is told."""

    told: str


def apart(work: Callable[[Path], T], file: Path) -> T:
    """What ``work``, a function of a module of ours, makes of a ``file``, in a process of its own.

    Raises:
        StorystickError: as ``work`` does, or it took too much time or memory.
    """
    context = _context()
    receiving, sending = context.Pipe(duplex=False)
    process = context.Process(target=_do, args=(sending, work, file), daemon=True)
    process.start()
    sending.close()
    try:
        answer = _received(receiving) or TOO_MUCH.at(file.name)
    finally:
        process.kill()
        process.join()
        receiving.close()
    if isinstance(answer, StorystickError):
        raise answer
    if isinstance(answer, _Broken):
        raise RuntimeError(answer.told)
    found: T = answer[0]
    return found


def _context() -> Any:
    """How a process is begun: by a copy of this one, at once, or with nothing of it."""
    # Of several threads a copy has one alone, and may wait for ever for what another one held.
    return get_context("fork" if sys.platform == "linux" and threading.active_count() == 1 else "spawn")


def _received(receiving: Connection) -> Any:
    """The answer; None where there is none, since limits ended it."""
    try:
        if receiving.poll(_CLOCK_SECONDS):
            return _Unpickler(io.BytesIO(receiving.recv_bytes())).load()
    except EOFError:
        pass
    return None


class _Unpickler(pickle.Unpickler):
    """Takes nothing but plain values and the classes of our own: the file may have taken the process over."""

    def find_class(self, module: str, name: str) -> Any:
        found = super().find_class(module, name) if (module, name) in _PLAIN or module.startswith(_OWN) else None
        if not isinstance(found, type):
            raise pickle.UnpicklingError(f"{module}.{name} is not expected")
        return found


def _do(sending: Connection, work: Callable[[Path], object], file: Path) -> None:
    """In the process apart: never writes anything, and answers once or dies."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who started it ends it
    _limit()
    try:
        answer: object = (work(file),)
    except StorystickError as error:
        answer = error
    except MemoryError:
        answer = None
    except Exception:
        answer = _Broken(traceback.format_exc())
    with suppress(OSError):
        sending.send_bytes(pickle.dumps(answer))


def _limit() -> None:
    """Limit the time of the processor and the memory of this process; Windows has nothing to limit one by."""
    if sys.platform == "win32":
        return
    import resource

    size = 2**28  # about what Python takes, where the system does not tell the addresses that the process has now
    with suppress(OSError), open("/proc/self/statm", encoding="ascii") as told:
        size = int(told.read().split()[0]) * resource.getpagesize()
    limits = {
        resource.RLIMIT_CPU: CPU_SECONDS,
        resource.RLIMIT_CORE: 0,
        resource.RLIMIT_AS: size + MEMORY_MB * 2**20,
    }
    for what, most in limits.items():
        _, hard = resource.getrlimit(what)
        with suppress(OSError, ValueError):
            resource.setrlimit(what, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))
