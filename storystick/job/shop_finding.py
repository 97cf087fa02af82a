"""Where a job's shop file is: the one that was asked for, the one the job names, or the one that is at hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeAlias

from storystick.errors import Fault, StorystickError, placed_in
from storystick.job.model import Source
from storystick.job.spreadsheet import read_bare_name
from storystick.job.toml_files import load_source

if TYPE_CHECKING:
    from storystick.job.shop import Shop

SHOP_FILE: Final = "shop.toml"
"""What a shop file is called where nothing else is said."""

_ENDING: Final = ".toml"

FindShop: TypeAlias = Callable[[str | None], Source | None]
"""The shop file, from the name that the job gives it, None for none; None where there is no such file."""


def read_shop_file_name(value: object) -> str:
    """The bare name of a shop file beside the job file."""
    return read_bare_name(value, _ENDING, f"is not the name of a {_ENDING} file", f'write it like "{SHOP_FILE}"')


def shop_on_disk(job: Path, given: Path | None, settings: Path | None) -> FindShop:
    """Finds ``given`` in any case, else what the job names beside itself, else :data:`SHOP_FILE` beside the job or in
    the folder ``settings``."""

    def find(name: str | None) -> Source | None:
        wanted = given or (job.parent / name if name else None)
        return _load(wanted, job) if wanted else _at_hand(job, settings)

    return find


def _at_hand(job: Path, settings: Path | None) -> Source | None:
    """A job may itself be called as a shop file is, and is then not its own shop."""
    beside = job.parent / SHOP_FILE
    if job.name != SHOP_FILE and beside.is_file():
        return _load(beside, job)
    in_settings = settings / SHOP_FILE if settings else None
    return _load(in_settings, job) if in_settings and in_settings.is_file() else None


def _load(path: Path, job: Path) -> Source:
    """The file; it may not be called as the job file is, since the two travel together."""
    with placed_in(path.name or str(path)):
        source = load_source(path)
        check_ending(source.name)
        if source.name == job.name:
            raise Fault("the job file and the shop file have the same name", "give one of them another")
        return source


def check_ending(name: str) -> None:
    """Whether a shop file can be called so."""
    if not name.lower().endswith(_ENDING):
        raise Fault(f"a shop file has a name that ends in {_ENDING}", f'call it "{SHOP_FILE}"')


def shop_among(sources: Sequence[Source]) -> FindShop:
    """Finds what the job names among files in memory, else any one of them that can be a shop file.

    Those are the files that a job names and the shop file that was used, which need not be the one it names.
    """
    candidates = {source.name: source for source in sources if source.name.lower().endswith(_ENDING)}

    def find(name: str | None) -> Source | None:
        source = candidates.get(name or SHOP_FILE, next(iter(candidates.values()), None))
        if name and source is None:
            raise Fault("the file is missing", "give it together with the job file", name)
        return source

    return find


def read_found(value: object, find: FindShop) -> tuple[Shop | None, tuple[Fault, ...]]:
    """The shop for what the job says under ``shop``, None where there is none, and the faults of its file.

    A name that is at fault is told with the job's own.
    """
    try:
        name = None if value is None else read_shop_file_name(value)
    except Fault:
        return None, ()
    try:
        if (source := find(name)) is None:
            return None, ()
        from storystick.job.shop_reading import read_shop  # only where there is a shop

        return read_shop(source)
    except StorystickError as error:
        return None, error.faults
