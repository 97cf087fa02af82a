"""What the shell offers when a job, a stick, a board or a table is half typed; silent where nothing can be read."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TypeAlias

import click

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from storystick.layout.stations import Layout

Completing: TypeAlias = Callable[[click.Context, click.Parameter, str], list[Any]]

_JOBS: Final = (".toml", ".pdf")
_TO_QUOTE: Final = frozenset(" '\"\\()&;,")


def job_files(_: click.Context, __: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Job files and printed PDFs, and the folders that lead to others."""
    before = incomplete[: len(incomplete) - len(os.path.basename(incomplete))]
    try:
        found = sorted(Path(before or ".").iterdir())
    except OSError:
        return []
    names = [
        f"{before}{path.name}{'/' if path.is_dir() else ''}"
        for path in found
        if not path.name.startswith(".") and (path.is_dir() or path.suffix.lower() in _JOBS)
    ]
    return _begun(names, incomplete)


def of_job(names: Callable[[Layout], Iterable[str]]) -> Completing:
    """Names from the job that stands on the command line already."""

    def complete(context: click.Context, _: click.Parameter, incomplete: str) -> list[CompletionItem]:
        job, shop = _typed(context)
        if not job:
            return []
        from storystick.cli.options import load_job
        from storystick.errors import StorystickError

        try:
            return _begun(dict.fromkeys(names(load_job(job, shop))), incomplete)
        except (StorystickError, OSError):
            return []

    return complete


def _typed(context: click.Context) -> tuple[Path | None, Path | None]:
    """The job and the shop file on the command line, which click leaves unread where an option lacks its value yet."""
    words = context.args
    shops = [Path(value) for option, value in pairwise(words) if option == "--shop"]
    jobs = [Path(word) for before, word in pairwise(["", *words]) if before != "--shop" and _is_job(word)]
    job = context.params.get("job") or context.params.get("old") or next(iter(jobs), None)
    return job, context.params.get("shop") or next(iter(shops), None)


def _is_job(word: str) -> bool:
    return word.lower().endswith(_JOBS)


def _begun(names: Iterable[str], incomplete: str) -> list[CompletionItem]:
    """Those that begin as is typed, in quotes where bash, which puts none, would take one for several."""
    from click.shell_completion import CompletionItem

    bare = os.environ.get("_STORYSTICK_COMPLETE", "").startswith("bash")
    matching = (name for name in names if name.startswith(incomplete))
    return [CompletionItem(_quoted(name) if bare and _TO_QUOTE & set(name) else name) for name in matching]


def _quoted(name: str) -> str:
    escaped = name.replace("'", "'\\''")
    return f"'{escaped}'"


def stick_names(layout: Layout) -> Iterable[str]:
    """The sticks that can be printed alone."""
    from storystick.layout.alike import lettered_sticks

    return (name for strip in lettered_sticks(layout) for name in strip.serves)


def board_names(layout: Layout) -> Iterable[str]:
    """The faces of cabinets' boards that can be printed full size."""
    from storystick.layout.boards import board_faces

    return (face.name for face in board_faces(layout.cabinets))


def rectangle_names(layout: Layout) -> Iterable[str]:
    """The rectangles that are squared."""
    from storystick.squaring.rectangles import bodies_of

    return (target.name for body in bodies_of(layout) for target in body.targets)


def printer_names(layout: Layout) -> Iterable[str]:
    """The printers of the job's shop file."""
    return (printer.name for printer in layout.job.shop.printers) if layout.job.shop else ()


def part_names(layout: Layout) -> Iterable[str]:
    """What can be cut already: cabinets, their parts, and boards of plain sticks."""
    from storystick.cutting.run_parts import single_parts

    yield from (stick.name for stick in layout.sticks if not stick.faces)
    for part in single_parts(layout, layout.job.figures):
        yield part.cabinet
        yield f"{part.cabinet} {part.name}"


def table_names(_: click.Context, __: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The tables of the job and the shop file."""
    from storystick.job.key_reference import table_pages

    return _begun(dict.fromkeys(page.name for page in table_pages()), incomplete)
