"""Files written whole or not at all, by one writer at a time in a folder, however a process ends.

The lock is the kernel's and goes with its process, so whatever else lies there under our prefix is a dead one's.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath
from tempfile import TemporaryDirectory
from typing import Final

from storystick.errors import Fault, Where

LOCK_FILE: Final = ".storystick-lock"
_PATIENCE_SECONDS: Final = 20.0
_PAUSE_SECONDS: Final = 0.05

if sys.platform == "win32":
    import msvcrt

    def _try_lock(file: int) -> None:
        try:
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        except PermissionError as error:
            raise BlockingIOError from error

else:
    import fcntl

    def _try_lock(file: int) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextmanager
def alone_in(folder: Path) -> Iterator[bool]:
    """Hold a folder against other writers; false where its file system knows no locks, and nothing is held.

    Raises:
        Fault: another writer holds it and goes on doing so.
    """
    file = _locked(folder / LOCK_FILE)
    try:
        yield file is not None
    finally:
        if file is not None:
            _release(file, folder / LOCK_FILE)


def _locked(place: Path) -> int | None:
    """The file of the lock, once it is held; None where there can be none."""
    until = time.monotonic() + _PATIENCE_SECONDS
    while time.monotonic() < until:
        try:
            file = _open(place)
        except OSError:
            return None
        try:
            _try_lock(file)
            if _is_at(file, place):
                return file
        except BlockingIOError:
            time.sleep(_PAUSE_SECONDS)
        except OSError:
            os.close(file)
            return None
        os.close(file)
    raise Fault("another program is writing into this folder", "wait until it is done", Where(str(place.parent)))


def _open(place: Path) -> int:
    # Neither a link nor a pipe of this name, which others may have laid there, is followed or waited for.
    careful = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0)
    return os.open(place, os.O_CREAT | os.O_RDONLY | careful, 0o666)


def _is_at(file: int, place: Path) -> bool:
    """Whether the file that is locked is still the one in the folder: who held it before may have taken it away."""
    with suppress(FileNotFoundError):
        return os.path.samestat(os.fstat(file), place.stat())
    return False


def _release(file: int, place: Path) -> None:
    # Windows removes no open file; elsewhere the file goes while it is held, or another writer's would be removed.
    if sys.platform == "win32":
        os.close(file)
    with suppress(OSError):
        place.unlink()
    if sys.platform != "win32":
        os.close(file)


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


def write_files(
    folder: Path,
    files: Mapping[str, bytes],
    record: Record | None = None,
    check: Callable[[], None] = lambda: None,
) -> list[Path]:
    """Write every one of ``files``, by bare name, into ``folder``, or leave everything as it was.

    What an earlier writer left that was killed is taken away. The ``record`` is not among the paths returned. What
    ``check`` raises, called while no other writer is in the folder, leaves everything as it was.

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
                check()
                _keep(whole, folder, scratch)
                _swap(whole, folder, scratch, record)
    except OSError as error:
        raise Fault(
            f"nothing was written: {error.strerror or error}",
            "close its files in other programs, or choose a folder that can be written to and has room",
            where=Where(str(folder)),
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
