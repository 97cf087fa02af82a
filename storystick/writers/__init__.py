"""Pages of shapes into a file. Each writer has the same signature."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from types import FrameType
from typing import Final, TypeAlias

from storystick.errors import Fault
from storystick.sheets.document import Document

Writer: TypeAlias = Callable[[Document], bytes]

_MODULES: Final = {
    ".pdf": "storystick.writers.pdf",
    ".svg": "storystick.writers.svg",
}


def writer_for(ending: str) -> Writer:
    """The writer of files with this ending, such as ``".pdf"``; its library is loaded only now.

    Ctrl-C ends it at once.

    Raises:
        Fault: no writer has this ending.
    """
    if ending not in _MODULES:
        raise Fault(f'no file can be written that ends in "{ending}"', f"the endings are {', '.join(_MODULES)}")
    with _interruptible():
        render: Writer = import_module(_MODULES[ending]).render

    def write(document: Document) -> bytes:
        with _interruptible():
            return render(document)

    return write


@contextmanager
def _interruptible() -> Iterator[None]:
    """Let Ctrl-C end what runs inside: some libraries catch whatever comes, and go on or raise an error of their own.

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
