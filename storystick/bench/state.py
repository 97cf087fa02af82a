"""What one running page knows: its folder, the user's settings, and how it is ended. Nothing of any job."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

from flask import current_app

from storystick.bench.files.folder import Folder
from storystick.bench.print_plan import Planner
from storystick.bench.print_run import Runs
from storystick.laying_out import LaidOut


@dataclass(frozen=True, slots=True)
class Bench:
    """A ``folder`` to work in, the folder of the user's ``settings`` if there is any, and what ends the program.

    ``earlier`` is what was last laid out of each file: whatever it is, the next is only quicker for it. So
    are ``cards``, those of the first page as they were last shown, each with the versions of the files that it shows.
    ``prints`` are those on their way, and ``planner`` is who says what they would come to.
    """

    folder: Folder
    settings: Path | None
    end: Callable[[], None]
    earlier: dict[str, LaidOut] = field(default_factory=dict, repr=False)
    cards: dict[str, tuple[Hashable, object]] = field(default_factory=dict, repr=False)
    prints: Runs = field(default_factory=Runs, repr=False)
    planner: Planner = field(default_factory=Planner, repr=False)


def the_bench() -> Bench:
    """That of the app which answers."""
    return cast(Bench, current_app.extensions["bench"])
