"""A print that the page has asked for, in a process of its own: the page stays quick, and it can be stopped.

Nothing is written before all files are drawn, and then all or none, so a process can be ended at any time.
"""

from __future__ import annotations

import multiprocessing
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any

from storystick.errors import StorystickError, Where
from storystick.job.job import Hands, PrintName
from storystick.job.papers import PAPERS
from storystick.job.reading import AskedPrinter
from storystick.laying_out import as_printed, load
from storystick.layout.stations import Layout
from storystick.sheets.print_choices import Choices, Formats


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

    def laid_out(self, file: Path, settings: Path | None) -> tuple[Layout, Choices]:
        """The job as it lies in its file, laid out for that.

        Raises:
            StorystickError: it has faults, or there is no such printer.
        """
        printer = AskedPrinter(self.printer, Where("printer")) if self.printer else None
        layout = load(file, None, settings, printer)
        paper = PAPERS.get(self.paper, layout.job.paper)
        hands = Hands(self.hands) if self.hands else layout.job.hands
        return as_printed(layout, paper, hands), Choices(formats=self.formats, names=self.names)


@dataclass
class Run:
    """A print on its way, or over: ``done`` of so many files (``of``) are drawn, and ``file`` is the one being drawn.

    ``state`` is "running", "done", "stopped" or "failed"; ``faults`` say why it failed, ``remarks`` what to look at.
    """

    folder: str
    state: str = "running"
    done: int = 0
    of: int = 0
    file: str = ""
    written: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    process: BaseProcess | None = field(default=None, repr=False)
    receiving: Connection | None = field(default=None, repr=False)

    @property
    def is_running(self) -> bool:
        return self.state == "running"

    def look(self) -> Run:
        """Take in what the process has told since."""
        try:
            while self.is_running and self.receiving and self.receiving.poll():
                self._take(*self.receiving.recv())
        except (EOFError, OSError):
            self.state = "failed"
            self.faults = ("The print was ended before it was done: print it again.",)
        if not self.is_running:
            self._close()
        return self

    def _take(self, told: str, content: Any) -> None:
        match told:
            case "progress":
                self.done, self.of, self.file = content
            case "faults":
                self.state, self.faults = "failed", content
            case "done":
                self.state = "done"
                self.written, self.remarks = content

    def stop(self) -> None:
        """End it; what is on the disk stays as it was, or is whole."""
        self.look()
        if self.is_running and self.process and not (self.of and self.done == self.of):
            self.process.kill()
            self.process.join()
            self.state = "stopped"
            self._close()

    def _close(self) -> None:
        if self.receiving:
            self.receiving.close()
        if self.process:
            self.process.join(1)
        self.receiving = self.process = None


def begin(file: Path, settings: Path | None, wish: Wish, folder: Path) -> Run:
    """Begin to print a file into a folder."""
    # A fork of a process with threads could wait for ever for a lock that one of them held.
    context = multiprocessing.get_context("spawn")
    receiving, sending = context.Pipe(duplex=False)
    process = context.Process(target=_print, args=(sending, file, settings, wish, folder), daemon=True)
    process.start()
    sending.close()
    return Run(folder.name, process=process, receiving=receiving)


def _print(sending: Connection, file: Path, settings: Path | None, wish: Wish, folder: Path) -> None:
    from storystick.printing import print_job

    remarks: list[str] = []
    try:
        layout, choices = wish.laid_out(file, settings)
        paths = print_job(
            layout, folder, choices, tell=remarks.append, progress=lambda *told: sending.send(("progress", told))
        )
    except StorystickError as error:
        # The path of a folder is nobody's business on a page.
        sending.send(("faults", tuple(str(fault).replace(str(folder), folder.name) for fault in error.faults)))
        return
    sending.send(("done", (tuple(path.name for path in paths), (*remarks, *layout.warnings))))


def pages_of(file: Path, settings: Path | None, wish: Wish) -> Mapping[str, int]:
    """How many sheets of paper each PDF takes, by its name; drawn for that, and not kept.

    Raises:
        StorystickError: as :func:`~storystick.printing.planned_files`.
    """
    from storystick.printing import planned_files

    layout, choices = wish.laid_out(file, settings)
    files = planned_files(layout, choices)
    return {name: planned.sheets or len(planned.draw()) for name, planned in files.items() if name.endswith(".pdf")}


def pages_apart(file: Path, settings: Path | None, wish: Wish) -> Mapping[str, int]:
    """The same from a process of its own, since to draw all pages takes seconds.

    Raises:
        StorystickError: as :func:`pages_of`.
    """
    with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as pool:
        return pool.submit(pages_of, file, settings, wish).result()


def names_of(file: Path, settings: Path | None, wish: Wish) -> Sequence[str]:
    """The files that a print would write, by bare name.

    Raises:
        StorystickError: as :func:`~storystick.printing.planned_files`.
    """
    from storystick.printing import names_written

    return names_written(*wish.laid_out(file, settings))
