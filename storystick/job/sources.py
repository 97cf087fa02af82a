"""The files that a job is read from: their bytes, TOML tables, rows of spreadsheets, and where the shop file is."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Final, TypeAlias

from storystick.errors import Fault, Where, placed_in


@dataclass(frozen=True, slots=True)
class Source:
    """A file that the job was read from: its bare name and its bytes."""

    name: str
    data: bytes = field(repr=False)


LARGEST_FILE: Final = 1_000_000
"""No file of a job has more bytes than this."""


def missing(_name: str) -> Source:
    """No file is there.

    Raises:
        Fault: always.
    """
    raise Fault("the file is missing", "give it together with the job file")


class Companions:
    """The files that a job names, each fetched once, in the order in which they were asked for."""

    def __init__(self, fetch: Callable[[str], Source] = missing) -> None:
        self._fetch = fetch
        self._fetched: dict[str, Source] = {}

    def __getitem__(self, name: str) -> Source:
        if name not in self._fetched:
            self._fetched[name] = self._fetch(name)
        return self._fetched[name]

    @property
    def sources(self) -> tuple[Source, ...]:
        return tuple(self._fetched.values())


def read_text(source: Source) -> str:
    """The file's text, with or without a byte order mark."""
    if len(source.data) > LARGEST_FILE:
        raise Fault("the file is larger than 1 MB, the most that is allowed", "look whether it is the right file")
    try:
        return source.data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Fault("the file is not UTF-8 text", "save it again as UTF-8") from None


def load_source(path: Path) -> Source:
    """The file's bytes, or so many of them that it is known to be too large."""
    if path.is_dir():
        raise Fault("this is a folder", "give a file")
    try:
        with path.open("rb") as file:
            return Source(os.fsencode(path.name).decode(errors="replace"), file.read(LARGEST_FILE + 1))
    except FileNotFoundError:
        raise Fault("there is no such file", "look at its name and folder") from None
    except (OSError, ValueError):
        raise Fault("the file cannot be opened", "look whether you may read it") from None


def load_of_folder(path: Path) -> Source:
    """As :func:`load_source`, but of a file that lies in its folder itself: no link to one elsewhere, and no device or
    pipe, which might never end."""
    if path.is_symlink():
        raise Fault("this is a link to a file elsewhere", "put a copy of the file into the folder of the job")
    if path.exists() and not path.is_file() and not path.is_dir():
        raise Fault("this is no file but a device or a pipe", "give a file")
    return load_source(path)


def read_tables(source: Source) -> dict[str, object]:
    """The tables of a TOML file, its numbers as they are written."""
    try:
        return tomllib.loads(read_text(source), parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise Fault(f"the file is not TOML: {error}", _cure(str(error))) from None
    except RecursionError:
        raise Fault("its lists and tables stand too deep in one another", "write them flatter") from None
    except (ArithmeticError, ValueError):
        raise Fault("a number or a date in it is beyond reading", "look for one with very many digits") from None


def _cure(error: str) -> str:
    if any(word in error for word in ("overwrite", "twice", "already")):
        return "a key or a table is given there that was given before: leave one of them out"
    return 'look there for a missing quote, bracket or equals sign: a length such as "5 1/2" is written in plain quotes'


SHOP_FILE: Final = "shop.toml"
"""What a shop file is called where nothing else is said."""

_ENDING: Final = ".toml"

LoadFile: TypeAlias = Callable[[Path], Source]
"""How a file beside the job is fetched."""

FindShop: TypeAlias = Callable[[str | None], Source | None]
"""The shop file, from the name that the job gives it, None for none; None where there is no such file."""


def shop_on_disk(job: Path, given: Path | None, settings: Path | None, load_file: LoadFile = load_source) -> FindShop:
    """Finds ``given`` in any case, else what the job names beside itself, else :data:`SHOP_FILE` beside the job or in
    the folder ``settings``."""

    def find(name: str | None) -> Source | None:
        wanted = given or (job.parent / name if name else None)
        return _load(wanted, job, load_file) if wanted else _at_hand(job, settings, load_file)

    return find


def _at_hand(job: Path, settings: Path | None, load_file: LoadFile) -> Source | None:
    """A job may itself be called as a shop file is, and is then not its own shop."""
    beside = job.parent / SHOP_FILE
    if job.name != SHOP_FILE and beside.is_file():
        return _load(beside, job, load_file)
    in_settings = settings / SHOP_FILE if settings else None
    return _load(in_settings, job, load_source) if in_settings and in_settings.is_file() else None


def _load(path: Path, job: Path, load_file: LoadFile) -> Source:
    """The file; it may not be called as the job file is, since the two travel together."""
    with placed_in(Where.in_file(path.name or str(path))):
        source = load_file(path)
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
            raise Fault("the file is missing", "give it together with the job file", Where.in_file(name))
        return source

    return find
