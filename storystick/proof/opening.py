"""Opening a printed PDF that may come from anywhere: what it carries is data, bounded in size, and never run."""

from __future__ import annotations

import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Final

from pypdf import PdfReader
from pypdf.errors import DependencyError
from pypdf.generic import ByteStringObject, DictionaryObject, PdfObject, StreamObject, TextStringObject

from storystick.errors import Fault, as_written, placed_in
from storystick.job.sources import Source
from storystick.proof.objects import DAMAGED, decoded, dictionary, entry, leaves, reading, too_large
from storystick.sheets.print_record import RECORD_FILE, PrintRecord, can_be_carried, read_record

LARGEST_PDF: Final = 200 * 2**20
"""No file of more bytes is read."""

MOST_ATTACHMENTS: Final = 100
LARGEST_ATTACHMENT: Final = 16 * 2**20
LARGEST_TOGETHER: Final = 32 * 2**20
"""All attachments of a file hold no more bytes than this; a file of a job has at most 1 MB."""

_HEADER_WITHIN: Final = 1024
"""Readers accept the header "%PDF-" within this many bytes (PDF Reference 1.7, implementation note 13)."""

_PRINT_AGAIN: Final = "print the job again, or use the file as it was printed"


@dataclass(frozen=True, slots=True)
class PrintedFile:
    """A PDF of ours: its name and bytes, the files of the job that it carries, that file first, and what was asked."""

    name: str
    data: bytes = field(repr=False)
    reader: PdfReader = field(repr=False)
    sources: tuple[Source, ...]
    record: PrintRecord


def open_print(path: Path) -> PrintedFile:
    """The PDF at ``path`` with the job that it carries.

    Raises:
        StorystickError: it cannot be read, is encrypted, damaged or too large, or carries no job that can be used.
    """
    name = path.name or str(path)
    with placed_in(name):
        data = _read_file(path)
        with reading():
            reader = _reader(data)
            carried = _attachments(reader)
        record = _record(carried)
        return PrintedFile(name, data, reader, _in_order(carried, record), record)


def _read_file(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise Fault("this is a folder", "give a PDF file")
        if not stat.S_ISREG(path.stat().st_mode):
            raise Fault("this is not a file but a device or a pipe", "give a PDF file")
        with path.open("rb") as file:
            data = file.read(LARGEST_PDF + 1)
    except FileNotFoundError:
        raise Fault("there is no such file", "look at its name and folder") from None
    except (OSError, ValueError):
        raise Fault("the file cannot be opened", "look whether you may read it") from None
    if len(data) > LARGEST_PDF:
        raise too_large("the file", LARGEST_PDF)
    if b"%PDF-" not in data[:_HEADER_WITHIN]:
        what = "the file is empty" if not data else "the file is not a PDF"
        raise Fault(what, 'give a PDF that "storystick print" wrote')
    return data


def _reader(data: bytes) -> PdfReader:
    try:
        reader = PdfReader(BytesIO(data))
        encrypted = reader.is_encrypted
    except DependencyError:  # raised only where a library for the newer ciphers is wanted
        encrypted = True
    if encrypted:
        raise Fault("the file is encrypted", "use the file as it was printed, or save it without a password")
    if not dictionary(reader.trailer.get("/Root")):
        raise DAMAGED
    return reader


def _attachments(reader: PdfReader) -> dict[str, bytes]:
    """The files carried inside by their bare names, as far as the limits of number and size allow."""
    names = dictionary(entry(dictionary(reader.trailer.get("/Root")), "/Names"))
    carried: dict[str, bytes] = {}
    room = LARGEST_TOGETHER
    for number, (key, filespec) in enumerate(leaves(entry(names, "/EmbeddedFiles"), "/Names"), start=1):
        if number > MOST_ATTACHMENTS:
            raise Fault(f"the file carries more than {MOST_ATTACHMENTS} others, the most allowed", _PRINT_AGAIN)
        name = _bare_name(dictionary(filespec), key)
        if name in carried:
            raise Fault(f"the file carries two files called {as_written(name)}", _PRINT_AGAIN)
        carried[name] = decoded(_stream(dictionary(filespec), name), min(LARGEST_ATTACHMENT, room), f'"{name}"')
        room -= len(carried[name])
    return carried


def _bare_name(filespec: DictionaryObject, key: PdfObject | None) -> str:
    """The name of a carried file, which must be one that stays in the folder that it is written to, in sight."""
    name = next(filter(None, map(_text, (entry(filespec, "/UF"), entry(filespec, "/F"), key))), "")
    if not can_be_carried(name):
        what = f"the name {as_written(name)} of a file carried inside is not a bare file name"
        raise Fault(what, f"do not use this file; {_PRINT_AGAIN}")
    return name


def _text(value: PdfObject | None) -> str:
    match value:
        case TextStringObject():
            return str(value)
        case ByteStringObject():
            return bytes(value).decode("utf-8", errors="replace")
    return ""


def _stream(filespec: DictionaryObject, name: str) -> StreamObject:
    files = dictionary(entry(filespec, "/EF"))
    for key in ("/UF", "/F"):
        if isinstance(found := entry(files, key), StreamObject):
            return found
    raise Fault(f"the file {as_written(name)} is named inside, but is not there", _PRINT_AGAIN)


def _record(carried: dict[str, bytes]) -> PrintRecord:
    if RECORD_FILE in carried:
        with placed_in(RECORD_FILE):
            return read_record(carried[RECORD_FILE])
    if carried:
        listed = ", ".join(map(as_written, list(carried)[:5]))
        raise Fault(f"the file carries {listed} but no {RECORD_FILE}, which says how it was printed", _PRINT_AGAIN)
    raise Fault(
        "the file carries no job: another program made it, or saved it again without the files inside it",
        'give a PDF as "storystick print" wrote it',
    )


def _in_order(carried: dict[str, bytes], record: PrintRecord) -> tuple[Source, ...]:
    """The job file first; the others are found by name."""
    if record.job_file not in carried:
        what = f"the job file {as_written(record.job_file)} is missing among the files inside"
        raise Fault(what, _PRINT_AGAIN)
    others = _without(carried, (record.job_file, RECORD_FILE))
    return (Source(record.job_file, carried[record.job_file]), *others)


def _without(carried: dict[str, bytes], names: Sequence[str]) -> Iterator[Source]:
    return (Source(name, data) for name, data in carried.items() if name not in names)
