"""A print that the page has asked for, in a process of its own: the page stays quick, and it can be stopped.

Nothing is written before all files are drawn, and then all or none. Whoever holds the lock ``writing`` first, the
process to write or the page to stop it, keeps it: a print that was stopped has written nothing.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from enum import Enum
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from multiprocessing.synchronize import Lock as ProcessLock
from pathlib import Path
from threading import Lock, RLock
from typing import Final, NamedTuple

from storystick.errors import Fault, Faults, StorystickError, Where
from storystick.job.job import Hands, PrintName
from storystick.job.papers import PAPERS
from storystick.job.reading import AskedPrinter
from storystick.job.sources import load_of_folder
from storystick.laying_out import as_printed, load
from storystick.layout.stations import Layout
from storystick.print_folder import digest_of
from storystick.sheets.print_choices import Choices, Formats

_WRITING_SECONDS: Final = 10.0


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be printed of a job's file: kinds, paper, printer, hands and formats, as the page has them.

    A paper, a printer or hands that are empty are the job's own.
    """

    names: tuple[PrintName, ...]
    formats: Formats
    paper: str = ""
    printer: str = ""
    hands: str = ""

    @property
    def asked_printer(self) -> AskedPrinter | None:
        return AskedPrinter(self.printer, Where("printer")) if self.printer else None

    def laid_out(self, file: Path, settings: Path | None) -> tuple[Layout, Choices]:
        """The job as it lies in its file, laid out for that.

        Raises:
            StorystickError: it has faults, or there is no such printer.
        """
        return self.of(load(file, None, settings, self.asked_printer, load_of_folder))

    def of(self, layout: Layout) -> tuple[Layout, Choices]:
        """A job that is laid out for its printer, as it is to be printed."""
        paper = PAPERS.get(self.paper, layout.job.paper)
        hands = Hands(self.hands) if self.hands else layout.job.hands
        return as_printed(layout, paper, hands), Choices(formats=self.formats, names=self.names)


class RunState(Enum):
    """How a print stands."""

    RUNNING = "running"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


class _Progress(NamedTuple):
    """Before each file is drawn: how many are ``done`` ``of`` all, and which is next; then that they are written."""

    done: int
    of: int
    file: str


class _Failed(NamedTuple):
    """Why nothing is printed."""

    faults: tuple[str, ...]


class _Done(NamedTuple):
    """All files are written, by bare name, with what to look at."""

    written: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass
class Run:
    """A print on its way, or over: ``done`` of so many files (``of``) are drawn, and ``file`` is the one being drawn.

    ``faults`` say why it failed, ``remarks`` what to look at.
    """

    folder: str
    state: RunState = RunState.RUNNING
    done: int = 0
    of: int = 0
    file: str = ""
    written: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    process: BaseProcess | None = field(default=None, repr=False)
    receiving: Connection | None = field(default=None, repr=False)
    writing: ProcessLock | None = field(default=None, repr=False)
    looking: RLock = field(default_factory=RLock, repr=False)

    @property
    def is_running(self) -> bool:
        return self.state is RunState.RUNNING

    @property
    def is_drawn(self) -> bool:
        """Whether all of it is drawn, and it is being written."""
        return self.of > 0 and self.done == self.of

    def look(self) -> Run:
        """Take in what the process has told since."""
        with self.looking:
            try:
                while self.is_running and self.receiving and self.receiving.poll():
                    self._take(self.receiving.recv())
            except (EOFError, OSError):
                self.state = RunState.FAILED
                self.faults = ("The print was ended before it was done: print it again.",)
            if not self.is_running:
                self._close()
        return self

    def _take(self, told: _Progress | _Failed | _Done) -> None:
        match told:
            case _Progress():
                self.done, self.of, self.file = told
            case _Failed():
                self.state, self.faults = RunState.FAILED, told.faults
            case _Done():
                self.state, self.written, self.remarks = RunState.DONE, told.written, told.remarks

    def stop(self) -> Run:
        """End it, unless it is being written already."""
        with self.looking:
            self.look()
            if self.is_running and self.process and self.writing and self.writing.acquire(block=False):
                self.process.kill()
                self.process.join()
                self.state = RunState.STOPPED
                self._close()
        return self

    def wait(self, seconds: float) -> Run:
        """Let it come to its end for so long."""
        if process := self.process:
            process.join(seconds)
        return self.look()

    def _close(self) -> None:
        if self.receiving:
            self.receiving.close()
        if self.process:
            self.process.join(1)
        self.receiving = self.process = self.writing = None


class Runs:
    """The prints of a page: one at a time of each file that is printed."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._runs: dict[str, Run] = {}

    def of(self, name: str) -> Run | None:
        """The last of a file, as it stands."""
        run = self._runs.get(name)
        return run.look() if run else None

    def begin(self, name: str, begin: Callable[[], Run]) -> Run:
        """The one that is on its way, or else a new one."""
        with self._lock:
            run = self.of(name)
            if run is None or not run.is_running:
                run = self._runs[name] = begin()
            return run

    def end(self) -> None:
        """Stop all; what is being written is waited for."""
        for run in self._runs.values():
            run.stop().wait(_WRITING_SECONDS)


def begin(file: Path, settings: Path | None, wish: Wish, folder: Path, known: Mapping[str, str]) -> Run:
    """Begin to print a file into a folder, in which it may replace what is ``known``: digests by name.

    It fails where something else has come there by the time that it is drawn.
    """
    # A fork of a process with threads could wait for ever for a lock that one of them held.
    context = multiprocessing.get_context("spawn")
    writing = context.Lock()
    receiving, sending = context.Pipe(duplex=False)
    process = context.Process(target=_print, args=(sending, writing, file, settings, wish, folder, known), daemon=True)
    process.start()
    sending.close()
    return Run(folder.name, process=process, receiving=receiving, writing=writing)


def _print(
    sending: Connection,
    writing: ProcessLock,
    file: Path,
    settings: Path | None,
    wish: Wish,
    folder: Path,
    known: Mapping[str, str],
) -> None:
    from storystick.printing import print_job

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the page, which ends this too.
    remarks: list[str] = []
    names: list[str] = []

    def progress(done: int, of: int, name: str) -> None:
        sending.send(_Progress(done, of, name))
        names.append(name)
        if done == of:
            writing.acquire()
            _check_known(folder, filter(None, names), known)

    # Whoever asked may be gone: then nothing is written, and nobody is told.
    with suppress(BrokenPipeError):
        try:
            layout, choices = wish.laid_out(file, settings)
            paths = print_job(layout, folder, choices, tell=remarks.append, progress=progress)
        except StorystickError as error:
            # The path of a folder is nobody's business on a page.
            sending.send(_Failed(tuple(str(fault).replace(str(folder), folder.name) for fault in error.faults)))
            return
        sending.send(_Done(tuple(path.name for path in paths), (*remarks, *layout.warnings)))


def _check_known(folder: Path, names: Iterable[str], known: Mapping[str, str]) -> None:
    """Whether nothing would be written over that is not known.

    Raises:
        Faults: what came there.
    """
    came = [name for name in names if os.path.lexists(folder / name) and digest_of(folder / name) != known.get(name)]
    if came or folder.is_symlink():
        what = "it was changed there meanwhile, and nothing was printed"
        raise Faults(Fault(what, "look at it, and print again", Where(name)) for name in came or [folder.name])
