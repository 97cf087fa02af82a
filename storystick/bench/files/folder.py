"""The one folder that the page works in: its files by bare name, each with the version that tells when it changed.

What is written is written whole or not at all, while no other program of ours writes there, and only over the version
that is meant. Another program that saves in the same moment, and asks nobody, cannot be held off.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Final

from storystick.bench.files.file_names import free_name, is_shown, new_name
from storystick.bench.files.line_ends import written_as
from storystick.errors import Fault, Faults, StorystickError
from storystick.files import alone_in, write_files
from storystick.job.sources import LARGEST_FILE, Source, read_text

TRASH: Final = ".storystick-trash"
"""Where deleted jobs lie until somebody empties it."""

NOTHING: Final = ""
"""The version of a file that is not there."""


@dataclass(frozen=True, slots=True)
class Text:
    """A file as it was read: its bare ``name``, its text with lines that end with "\\n", and its ``version``."""

    name: str
    text: str = field(repr=False)
    version: str


class Meanwhile(Exception):
    """A file is not, or no longer, the version that a draft began from.

    ``version`` is what it is now, and ``text`` how it reads; None where it is gone or is no text.
    """

    def __init__(self, version: str, text: str | None) -> None:
        super().__init__(version)
        self.version = version
        self.text = text


@dataclass(frozen=True, slots=True)
class Folder:
    """A folder of jobs; nothing outside of it is read or written."""

    path: Path

    @property
    def mark(self) -> str:
        """What tells it from others without saying where it is."""
        return version_of(os.fsencode(self.path.resolve()))

    def names(self) -> list[str]:
        """Its TOML files, in the order of the alphabet."""
        files = (name for name in _names_in(self.path) if is_shown(name) and (self.path / name).is_file())
        return sorted(files, key=str.casefold)

    def where(self, name: str) -> Path:
        """Where a file of this name is or was.

        Raises:
            Fault: no job can be called so.
        """
        if not is_shown(name):
            raise Fault("there is no job of this name here", "go back to all jobs")
        return self.path / name

    def place(self, name: str) -> Path:
        """Where a file is that is there.

        Raises:
            Fault: none of its TOML files has this name, or it is a link.
        """
        place = self.path / name if is_shown(name) and name in _names_in(self.path) else None
        if place is None or not place.is_file():
            raise Fault("there is no job of this name here", "go back to all jobs")
        if place.is_symlink():
            raise Fault("this is a link to a file elsewhere", "open its own folder: the page keeps to one folder")
        return place

    def read(self, name: str) -> Text:
        """A file's text.

        Raises:
            Fault: it is not there, or is no text.
        """
        data = _bytes_at(self.place(name))
        return Text(name, _text(data), version_of(data))

    def version(self, name: str) -> str:
        """The version of a file; that of nothing where it is not there."""
        with suppress(Fault):
            return version_of(_bytes_at(self.place(name)))
        return NOTHING

    def save(self, name: str, text: str, began: str) -> Text:
        """Write a text over the version of a file that it ``began`` from, or as a new file.

        Raises:
            Fault: it cannot be written.
            Meanwhile: the file is another version now; nothing was written.
        """
        taken = _names_in(self.path)
        place = self.place(name) if name in taken else self.path / new_name(name, taken)
        old = _bytes_at(place)
        data = written_as(text, old or b"")
        _check_size(data)
        if old is not None and not place.stat().st_mode & stat.S_IWUSR:
            raise Fault("the file is protected against writing", "take its protection away")

        def check() -> None:
            now = _bytes_at(place)
            if version_of(now) != began:
                raise Meanwhile(version_of(now), _text_or_none(now))

        check()
        with _no_paths():
            write_files(self.path, {place.name: data}, check=check)
        return Text(place.name, text, version_of(data))

    def copy(self, name: str, typed: str = "") -> str:
        """Copy a file to the name that was ``typed``, or to one with a number behind it; give the new name.

        Raises:
            Fault: the name is taken or cannot be, or nothing can be written.
        """
        data = _bytes_at(self.place(name)) or b""
        return self.put(typed or free_name(name, _names_in(self.path)), data)

    def put(self, typed: str, data: bytes) -> str:
        """Write a new file by the name that was ``typed``, and give its name.

        Raises:
            Fault: the name is taken or cannot be, or nothing can be written.
        """
        name = new_name(typed, _names_in(self.path))
        self.put_all({name: data})
        return name

    def put_all(self, files: Mapping[str, bytes]) -> None:
        """Write new files, all or none.

        Raises:
            Fault: a name is taken or cannot be, or nothing can be written.
        """

        def check() -> None:
            for name in files:
                new_name(name, _names_in(self.path), Path(name).suffix.lower())

        for data in files.values():
            _check_size(data)
        check()
        with _no_paths():
            write_files(self.path, files, check=check)

    def beside(self, name: str) -> bytes | None:
        """The bytes of any file here; None where there is none."""
        return _bytes_at(self.path / name)

    def taken(self) -> list[str]:
        """The names of all that lies here, files or not."""
        return _names_in(self.path)

    def changed_at(self, name: str) -> float:
        """When a file was changed last, in seconds since 1970; 0 where it is gone."""
        with suppress(OSError):
            return (self.path / name).lstat().st_mtime
        return 0.0

    def rename(self, name: str, typed: str) -> str:
        """Give a file another name, and give that.

        Raises:
            Fault: the name is taken or cannot be, or the file cannot be moved.
        """
        place = self.place(name)
        with self._moving():
            new = new_name(typed, [other for other in _names_in(self.path) if other != name])
            place.rename(self.path / new)
        return new

    def delete(self, name: str) -> str:
        """Move a file to the deleted ones, and give its name there.

        Raises:
            Fault: it cannot be moved.
        """
        place = self.place(name)
        trash = self.path / TRASH
        if trash.is_symlink():
            raise Fault(f"{TRASH} leads out of the folder", "take it away")
        with self._moving():
            trash.mkdir(exist_ok=True)
            new = free_name(name, _names_in(trash))
            place.rename(trash / new)
        return new

    def deleted(self) -> list[str]:
        """The deleted files."""
        trash = self.path / TRASH
        if not trash.is_dir() or trash.is_symlink():
            return []
        return sorted(filter(is_shown, _names_in(trash)), key=str.casefold)

    def put_back(self, name: str) -> str:
        """Move a deleted file back, by its own name or with a number behind it, and give that.

        Raises:
            Fault: there is none of this name, or it cannot be moved.
        """
        if name not in self.deleted():
            raise Fault("there is no deleted job of this name", "go back to all jobs")
        with self._moving():
            new = free_name(name, _names_in(self.path))
            (self.path / TRASH / name).rename(self.path / new)
            with suppress(OSError):
                (self.path / TRASH).rmdir()
        return new

    @contextmanager
    def _moving(self) -> Iterator[None]:
        """Move files while nobody else writes here."""
        try:
            with _no_paths(), alone_in(self.path):
                yield
        except OSError as error:
            raise Fault(f"nothing was changed: {error.strerror or error}", "look whether you may write there") from None


def version_of(data: bytes | None) -> str:
    """What tells two versions of a file apart."""
    return NOTHING if data is None else sha256(data).hexdigest()[:16]


def _names_in(folder: Path) -> list[str]:
    try:
        return os.listdir(folder)
    except OSError:
        raise Fault("the folder is not there any more, or cannot be read", "look whether it was moved") from None


def _bytes_at(place: Path) -> bytes | None:
    """A file's bytes, or so many of them that it is known to be too large; None where there is none."""
    try:
        if not stat.S_ISREG(place.lstat().st_mode):
            raise Fault("there is no file of this name here, but a folder, a link or a device", "take it away")
        with place.open("rb") as file:
            return file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        return None
    except OSError:
        raise Fault("the file cannot be opened", "look whether you may read it") from None


def _check_size(data: bytes) -> None:
    if len(data) > LARGEST_FILE:
        raise Fault("the job is larger than 1 MB, the most that is allowed", "take something out of it")


def _text(data: bytes | None) -> str:
    return read_text(Source("", data or b"")).replace("\r\n", "\n")


def _text_or_none(data: bytes | None) -> str | None:
    if data is not None:
        with suppress(Fault):
            return _text(data)
    return None


@contextmanager
def _no_paths() -> Iterator[None]:
    """Let faults of writing go on without the place on this machine."""
    try:
        yield
    except StorystickError as error:
        raise Faults(Fault(fault.what, fault.cure) for fault in error.faults) from None
