"""What a print would come to: its sheets and its files, planned in a process of its own while the page stays quick.

The process is begun when it is first asked and kept: it has loaded what it needs then, and what is as it was in a job
is not laid out again.
"""

from __future__ import annotations

import multiprocessing
import signal
from collections.abc import Callable, Mapping
from contextlib import suppress
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from threading import Lock
from typing import Any, Final, TypeVar

from storystick.bench.print_run import Wish
from storystick.errors import Faults, StorystickError
from storystick.job.sources import load_source, read_text
from storystick.laying_out import LaidOut, lay_out_as_far, lay_out_draft
from storystick.layout.stations import Layout
from storystick.sheets.print_choices import Choices

T = TypeVar("T")

_TRIES: Final = 2


class Planner:
    """Plans prints, one after the other."""

    def __init__(self) -> None:
        self._lock = Lock()
        self.process: BaseProcess | None = None
        self._line: Connection | None = None

    def ask(self, plan: Callable[[Path, Path | None, Wish], T], file: Path, settings: Path | None, wish: Wish) -> T:
        """What a ``plan`` of this module comes to.

        Raises:
            StorystickError: as the plan.
        """
        with self._lock:
            for left in reversed(range(_TRIES)):
                try:
                    return self._asked(plan, file, settings, wish)
                except (EOFError, OSError):  # Somebody ended the process: another is begun.
                    self._end()
                    if not left:
                        raise
        raise AssertionError

    def _asked(self, plan: Callable[..., T], *asked: object) -> T:
        line = self._line or self._begun()
        line.send((plan, asked))
        found, faults = line.recv()
        if faults:
            raise Faults(faults)
        answer: T = found
        return answer

    def _begun(self) -> Connection:
        # A fork of a process with threads could wait for ever for a lock that one of them held.
        context = multiprocessing.get_context("spawn")
        self._line, line = context.Pipe()
        self.process = context.Process(target=_plan, args=(line,), daemon=True)
        self.process.start()
        line.close()
        return self._line

    def _end(self) -> None:
        if self.process and self._line:
            self.process.kill()
            self.process.join()
            self._line.close()
        self.process = self._line = None


def _plan(line: Connection) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the page, which ends this too.
    # Until nobody is there to ask.
    with suppress(EOFError, OSError):
        while True:
            plan, asked = line.recv()
            try:
                answer: tuple[Any, Any] = (plan(*asked), ())
            except StorystickError as error:
                answer = (None, error.faults)
            line.send(answer)


def pages_of(file: Path, settings: Path | None, wish: Wish) -> Mapping[str, int]:
    """How many sheets of paper each PDF takes, by its name; drawn for that, and not kept.

    Raises:
        StorystickError: as :func:`~storystick.printing.planned_files`.
    """
    from storystick.printing import planned_files

    files = planned_files(*_laid_out(file, settings, wish))
    return {name: planned.sheets or len(planned.draw()) for name, planned in files.items() if name.endswith(".pdf")}


def names_of(file: Path, settings: Path | None, wish: Wish) -> tuple[str, ...]:
    """The files that a print would write, by bare name.

    Raises:
        StorystickError: as :func:`~storystick.printing.planned_files`.
    """
    from storystick.printing import names_written

    return names_written(*_laid_out(file, settings, wish))


_earlier: dict[Path, LaidOut] = {}
"""The file that was planned last."""


def _laid_out(file: Path, settings: Path | None, wish: Wish) -> tuple[Layout, Choices]:
    laid = lay_out_draft(read_text(load_source(file)), file, settings, _earlier.get(file))
    _earlier.clear()
    _earlier[file] = laid
    layout = laid.whole()
    if wish.printer:
        layout = lay_out_as_far(layout.job.sources, wish.asked_printer, laid).whole()
    return wish.of(layout)
