"""Files, written whole or not at all."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path, PureWindowsPath
from tempfile import TemporaryDirectory

from storystick.errors import Fault


def write_files(folder: Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write every one of ``files``, by bare name, into ``folder``, or leave everything as it was.

    Raises:
        Fault: the folder cannot be made or written to.
        ValueError: a name is not a bare file name.
    """
    for name in files:
        _check_bare(name)
    try:
        with _folder(folder), _scratch(folder) as scratch:
            for name, data in files.items():
                _write(scratch / "new" / name, data)
            _keep(files, folder, scratch)
            _swap(files, folder, scratch)
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
    with TemporaryDirectory(prefix=".storystick-", dir=folder, ignore_cleanup_errors=True) as name:
        scratch = Path(name)
        (scratch / "new").mkdir()
        (scratch / "old").mkdir()
        yield scratch


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


def _swap(names: Iterable[str], folder: Path, scratch: Path) -> None:
    """Put the new files in place; on an error put the old ones back."""
    with ExitStack() as undo:
        for name in names:
            os.replace(scratch / "new" / name, folder / name)
            undo.callback(_put_back, scratch / "old" / name, folder / name)
        undo.pop_all()


def _put_back(old: Path, place: Path) -> None:
    if os.path.lexists(old):
        os.replace(old, place)
    else:
        place.unlink()
