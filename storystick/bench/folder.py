"""The one folder that the page works in: its files by bare name, each with the version that tells when it changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path, PureWindowsPath

from storystick.errors import Fault
from storystick.files import write_files
from storystick.job.sources import load_source, read_text

_ENDING = ".toml"


@dataclass(frozen=True, slots=True)
class Text:
    """A file as it was read: its bare ``name``, its text, and the ``version`` of its bytes."""

    name: str
    text: str = field(repr=False)
    version: str


@dataclass(frozen=True, slots=True)
class Folder:
    """A folder of jobs; nothing outside of it is read or written."""

    path: Path

    def names(self) -> Iterator[str]:
        """Its TOML files, in the order of the alphabet."""
        files = (file for file in self.path.iterdir() if file.suffix.lower() == _ENDING and not _hides(file.name))
        yield from sorted((file.name for file in files if file.is_file()), key=str.casefold)

    def place(self, name: str) -> Path:
        """Where a file is.

        Raises:
            Fault: it is no bare name of a TOML file, or the file is a link out of the folder.
        """
        bare = name and PureWindowsPath(name).name == name and not _hides(name)
        if not bare or not name.lower().endswith(_ENDING) or (self.path / name).is_symlink():
            raise Fault("there is no job of this name here", "go back to all jobs")
        return self.path / name

    def read(self, name: str) -> Text:
        """A file's text.

        Raises:
            Fault: it is not there, or is no text.
        """
        source = load_source(self.place(name))
        return Text(name, read_text(source), version_of(source.data))

    def write(self, name: str, text: str) -> Text:
        """Write a file whole, or leave it as it was.

        Raises:
            Fault: it cannot be written.
        """
        self.place(name)
        data = text.encode()
        write_files(self.path, {name: data})
        return Text(name, text, version_of(data))


def version_of(data: bytes) -> str:
    """What tells two versions of a file apart."""
    return sha256(data).hexdigest()[:16]


def _hides(name: str) -> bool:
    return name.startswith(".")
