"""The folder of a print: the record of what was written into it, and whether that is what lies there.

The record is written first, as unfinished, and last: files are moved into their places one by one, and a process can
be killed in between; a digest that differs tells which. ``python tests/kills.py 300`` tries it.

That record is "print-record.json", a digest a file; what was asked of a print is in each PDF itself, by
:mod:`storystick.sheets.print_choices`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final

from storystick import __version__
from storystick.errors import Fault, Faults, Where
from storystick.files import Record
from storystick.job.job import Job
from storystick.job.sources import Source
from storystick.sheets.print_choices import FOLDER_RECORD_FILE
from storystick.wording import listed

_LARGEST_RECORD: Final = 2**20
_LARGEST_FILE: Final = 2**28
_MOST_NAMED: Final = 4
_ANOTHER: Final = "another file is there, and the job's own would be written over it"


@dataclass(frozen=True, slots=True)
class FolderState:
    """A folder beside its record: whether the print was ``finished``, and the files that are not as it wrote them.

    ``shop`` is the digest of the shop file that it was made with, empty for none and None where no print is recorded.
    ``files`` are all that it wrote.
    """

    folder: str
    finished: bool
    others: tuple[str, ...]
    shop: str | None = None
    files: tuple[str, ...] = ()

    def has_other_shop(self, job: Job) -> bool:
        """Whether the print was made with another shop file than the job has now."""
        return self.shop is not None and self.shop != _shop_digest(job)

    @property
    def unfinished(self) -> bool:
        """Whether files of two prints lie side by side, or some are missing, since the last one was stopped."""
        return bool(self.others) and not self.finished

    @property
    def words(self) -> str:
        """What is wrong with it as the end of "look at"; empty where nothing is."""
        if not self.others:
            return ""
        more = len(self.others) - _MOST_NAMED
        names = listed([*self.others[:_MOST_NAMED], *([f"{more} more"] if more > 0 else [])])
        verb, them = ("is", "it") if len(self.others) == 1 else ("are", "them")
        if self.finished:
            return f"{self.folder}: {names} {verb} not as the last print there wrote {them}, so versions may be mixed"
        return (
            f"{self.folder}: the last print there was stopped half way, and {names} {verb} not of it; "
            "use none of its sheets before the job is printed there again"
        )


def folder_record(files: Mapping[str, bytes], job: Job) -> Record:
    """The record of the ``files`` of a print: the job's title and digest, and each file's own, to know it by."""
    digests = {name: sha256(data).hexdigest() for name, data in files.items()}
    content = {"program": f"storystick {__version__}", "title": job.title, "digest": job.digest, "finished": True}
    content["shop"] = _shop_digest(job)
    begun, whole = (
        json.dumps(content | {"finished": finished, "files": digests}, ensure_ascii=False, indent=1).encode()
        for finished in (False, True)
    )
    return Record(FOLDER_RECORD_FILE, begun, whole)


def _shop_digest(job: Job) -> str:
    return sha256(job.shop.source.data).hexdigest() if job.shop and job.shop.source else ""


def state_of(folder: Path) -> FolderState:
    """What lies in a folder beside what its record says; a folder without one that can be read has nothing to say."""
    finished, digests, shop = _read_record(folder / FOLDER_RECORD_FILE)
    read = {name: digest_of(folder / name) for name in digests}
    # What somebody took away from a whole print is no mix.
    others = (name for name, digest in digests.items() if read[name] != digest and (read[name] or not finished))
    return FolderState(str(folder), finished, tuple(others), shop, tuple(digests))


def _read_record(place: Path) -> tuple[bool, dict[str, str], str | None]:
    """Whether the print was finished, the digests by file name, and that of the shop file if one is told."""
    try:
        if not place.is_file():
            return True, {}, None
        with place.open("rb") as stream:
            content = json.loads(stream.read(_LARGEST_RECORD))
        files = content["files"]
        named = {name: str(digest) for name, digest in files.items() if Path(name).name == name}
        shop = content.get("shop")
        return content["finished"] is True, named, shop if isinstance(shop, str) else None
    except (OSError, ValueError, RecursionError, LookupError, TypeError, AttributeError):
        return True, {}, None


def digest_of(place: Path) -> str:
    """What a file of a print is known by; empty where there is no such file."""
    try:
        if not place.is_file() or place.stat().st_size > _LARGEST_FILE:
            return ""
        return sha256(place.read_bytes()).hexdigest()
    except OSError:
        return ""


def check_beside(folder: Path, sources: Sequence[Source]) -> None:
    """Whether a job's own files can be laid into ``folder`` without writing over another.

    Raises:
        Faults: those of them that are there already and differ.
    """
    places = (folder / source.name for source in sources if not _free(folder / source.name, source.data))
    faults = [Fault(_ANOTHER, "move it away, or choose another folder with -o", Where(str(place))) for place in places]
    if faults:
        raise Faults(faults)


def _free(place: Path, data: bytes) -> bool:
    """Whether nothing is lost by writing ``data`` here."""
    try:
        return not os.path.lexists(place) or (place.is_file() and place.read_bytes() == data)
    except OSError:
        return False
