"""Files, written whole or not at all. Where a process dies half way, the next one finds out and clears up."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath
from tempfile import TemporaryDirectory
from typing import Final

from storystick.errors import Fault
from storystick.folder_locks import alone_in

_PREFIX: Final = ".storystick-"
_SCRATCH_NAME: Final = re.compile(re.escape(_PREFIX) + r"[a-z0-9_]{8}")
"""What the standard library makes of the prefix."""

_INSIDE: Final = ("new", "old", "begun")


@dataclass(frozen=True, slots=True)
class Record:
    """A file on the others, by bare ``name``: it is ``begun`` before any of them is replaced, and ``whole`` after all.

    Whoever finds the first form knows that the writer died in between.
    """

    name: str
    begun: bytes
    whole: bytes


def write_files(folder: Path, files: Mapping[str, bytes], record: Record | None = None) -> list[Path]:
    """Write every one of ``files``, by bare name, into ``folder``, or leave everything as it was.

    What an earlier writer left that was killed is taken away. The ``record`` is not among the paths returned.

    Raises:
        Fault: the folder cannot be made or written to, or another process goes on writing into it.
        ValueError: a name is not a bare file name.
    """
    whole = dict(files) | ({record.name: record.whole} if record else {})
    for name in whole:
        _check_bare(name)
    try:
        with _folder(folder), alone_in(folder) as alone:
            if alone:
                _clear_strays(folder)
            with _scratch(folder) as scratch:
                for name, data in whole.items():
                    _write(scratch / "new" / name, data)
                if record:
                    _write(scratch / "begun" / record.name, record.begun)
                _keep(whole, folder, scratch)
                _swap(whole, folder, scratch, record)
    except OSError as error:
        raise Fault(
            f"nothing was written: {error.strerror or error}",
            "close its files in other programs, or choose a folder that can be written to and has room",
            where=str(folder),
        ) from error
    return [folder / name for name in files]


def _check_bare(name: str) -> None:
    # The Windows rules know both slashes and the drive's colon.
    if name in {"", ".", ".."} or PureWindowsPath(name).name != name:
        raise ValueError(f"{name!r} is not a bare file name")


@contextmanager
def _folder(folder: Path) -> Iterator[None]:
    """Make the folder and those above it; on an error take away again what was made."""
    made = [place for place in (folder, *folder.parents) if not place.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for place in made:
            with suppress(OSError):
                place.rmdir()
        raise


@contextmanager
def _scratch(folder: Path) -> Iterator[Path]:
    """A place inside the folder, so on the same disk, for the ``new`` files and the ``old`` ones."""
    with TemporaryDirectory(prefix=_PREFIX, dir=folder, ignore_cleanup_errors=True) as name:
        scratch = Path(name)
        for inside in _INSIDE:
            (scratch / inside).mkdir()
        yield scratch


def _clear_strays(folder: Path) -> None:
    """Take away the scratch places of writers that died: this one is alone in the folder, so nobody works in them."""
    for place in folder.glob(f"{_PREFIX}*"):
        if _SCRATCH_NAME.fullmatch(place.name) and _is_scratch(place):
            shutil.rmtree(place, ignore_errors=True)


def _is_scratch(place: Path) -> bool:
    """Whether it holds nothing but what a writer puts there."""
    if place.is_symlink() or not place.is_dir():
        return False
    return all(inside.name in _INSIDE and _holds_files_only(inside) for inside in place.iterdir())


def _holds_files_only(place: Path) -> bool:
    if place.is_symlink() or not place.is_dir():
        return False
    return all(file.is_symlink() or file.is_file() for file in place.iterdir())


def _write(path: Path, data: bytes) -> None:
    with path.open("xb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def _keep(names: Iterable[str], folder: Path, scratch: Path) -> None:
    """Copy the old files, whose permissions the new ones take on."""
    for name in names:
        with suppress(FileNotFoundError):
            shutil.copy2(folder / name, scratch / "old" / name, follow_symlinks=False)
            shutil.copymode(folder / name, scratch / "new" / name)


def _swap(names: Iterable[str], folder: Path, scratch: Path, record: Record | None) -> None:
    """Put the new files in place, the record first and last; on an error put the old ones back."""
    with ExitStack() as undo:
        if record:
            os.replace(scratch / "begun" / record.name, folder / record.name)
            undo.callback(_put_back, scratch / "old" / record.name, folder / record.name)
        for name in names:
            os.replace(scratch / "new" / name, folder / name)
            if not (record and name == record.name):
                undo.callback(_put_back, scratch / "old" / name, folder / name)
        undo.pop_all()


def _put_back(old: Path, place: Path) -> None:
    if os.path.lexists(old):
        os.replace(old, place)
    else:
        place.unlink()
