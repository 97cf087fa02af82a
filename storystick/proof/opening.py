"""Opening a printed PDF that may come from anywhere: what it carries is data, bounded in size, and never run.

A file from anywhere is data: sizes are checked while unpacking, names must be bare, only files of the job are
written, and whatever the library raises becomes one fault.
"""

from __future__ import annotations

import logging
import stat
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Final

from pypdf import PdfReader
from pypdf.errors import DependencyError, LimitReachedError
from pypdf.filters import ASCII85Decode, ASCIIHexDecode
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DictionaryObject,
    NullObject,
    PdfObject,
    StreamObject,
    TextStringObject,
)

from storystick.errors import Fault, StorystickError, Where, as_written, placed_in
from storystick.job.sources import Source
from storystick.sheets.print_choices import RECORD_FILE, PrintRecord, can_be_carried, read_record

LARGEST_PDF: Final = 200 * 2**20
"""No file of more bytes is read."""

MOST_ATTACHMENTS: Final = 100
LARGEST_ATTACHMENT: Final = 16 * 2**20
LARGEST_TOGETHER: Final = 32 * 2**20
"""All attachments of a file hold no more bytes than this; a file of a job has at most 1 MB."""

_HEADER_WITHIN: Final = 1024
"""Readers accept the header "%PDF-" within this many bytes (PDF Reference 1.7, implementation note 13)."""

_MOST_NODES: Final = 20_000
_MOST_FILTERS: Final = 4
_PRINT_AGAIN: Final = "print the job again, or use the file as it was printed"

DAMAGED: Final = Fault(
    "the file is damaged, or only a part of it is there",
    "fetch it again from where it was printed or sent from, or print the job again",
)

COSTLY: Final = Fault(
    "the file would take too long or too much memory to read: it holds more, or deeper in itself, than any usual print",
    "use the file as it was printed, or print the job again",
)


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
    with placed_in(Where.in_file(name)):
        data = _read_file(path)
        with reading():
            reader = _reader(data)
            carried = _attachments(reader)
        record = _record(carried)
        if record.job_file not in carried:
            raise Fault(f"the job file {as_written(record.job_file)} is missing among the files inside", _PRINT_AGAIN)
        others = [key for key in carried if key not in (record.job_file, RECORD_FILE)]
        sources = tuple(Source(key, carried[key]) for key in (record.job_file, *others))
        return PrintedFile(name, data, reader, sources, record)


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
        raise _too_large("the file", LARGEST_PDF)
    if b"%PDF-" not in data[:_HEADER_WITHIN]:
        what = "the file is empty" if not data else "the file is not a PDF"
        raise Fault(what, 'give a PDF that "storystick print" wrote')
    return data


@contextmanager
def reading() -> Iterator[None]:
    """Whatever goes wrong inside is a fault of the file; the library's own remarks are kept quiet.

    Raises:
        Fault: the file cannot be read.
        MemoryError: it wants more than there is.
    """
    log = logging.getLogger("pypdf")
    level = log.level
    log.setLevel(logging.CRITICAL + 1)
    try:
        yield
    except (StorystickError, MemoryError):
        raise
    except (LimitReachedError, RecursionError) as error:
        raise COSTLY from error
    # A damaged file makes the library fail in any way: by its own errors, by a type it did not expect.
    except Exception as error:
        raise DAMAGED from error
    finally:
        log.setLevel(level)


def at(holder: object, *path: str) -> PdfObject | None:
    """What stands under one key in a dictionary, under the next in that, and so on; None for nothing and for null."""
    found = holder.get_object() if isinstance(holder, PdfObject) else None
    for key in path:
        held = found.get(key) if isinstance(found, DictionaryObject) else None
        found = held.get_object() if isinstance(held, PdfObject) else None
    return None if isinstance(found, NullObject) else found


def _reader(data: bytes) -> PdfReader:
    try:
        reader = PdfReader(BytesIO(data))
        encrypted = reader.is_encrypted
    except DependencyError:  # raised only where a library for the newer ciphers is wanted
        encrypted = True
    if encrypted:
        raise Fault("the file is encrypted", "use the file as it was printed, or save it without a password")
    if not at(reader.trailer, "/Root"):
        raise DAMAGED
    return reader


def _attachments(reader: PdfReader) -> dict[str, bytes]:
    """The files carried inside by their bare names, as far as the limits of number and size allow."""
    carried: dict[str, bytes] = {}
    room = LARGEST_TOGETHER
    for number, (key, filespec) in enumerate(_named(at(reader.trailer, "/Root", "/Names", "/EmbeddedFiles")), start=1):
        if number > MOST_ATTACHMENTS:
            raise Fault(f"the file carries more than {MOST_ATTACHMENTS} others, the most allowed", _PRINT_AGAIN)
        name = _bare_name(filespec, key)
        if name in carried:
            raise Fault(f"the file carries two files called {as_written(name)}", _PRINT_AGAIN)
        streams = (at(filespec, "/EF", "/UF"), at(filespec, "/EF", "/F"))
        stream = next((stream for stream in streams if isinstance(stream, StreamObject)), None)
        if stream is None:
            raise Fault(f"the file {as_written(name)} is named inside, but is not there", _PRINT_AGAIN)
        carried[name] = _unpacked(stream, min(LARGEST_ATTACHMENT, room), f'"{name}"')
        room -= len(carried[name])
    return carried


def _named(tree: object) -> Iterator[tuple[PdfObject | None, PdfObject | None]]:
    """Names and what they stand for, in a tree of names (ISO 32000-1, 7.9.6)."""
    waiting, seen = [tree], 0
    while waiting:
        node = waiting.pop()
        seen += 1
        if seen > _MOST_NODES:
            raise COSTLY
        pairs = _items(at(node, "/Names"))
        yield from zip(pairs[::2], pairs[1::2], strict=False)
        waiting.extend(reversed(_items(at(node, "/Kids"))))


def _items(value: PdfObject | None) -> list[PdfObject | None]:
    """The items of an array; none where it is no array."""
    return list(map(at, value)) if isinstance(value, ArrayObject) else []


def _bare_name(filespec: object, key: PdfObject | None) -> str:
    """The name of a carried file, which must be one that stays in the folder that it is written to, in sight."""
    name = next(filter(None, map(_text, (at(filespec, "/UF"), at(filespec, "/F"), key))), "")
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


def _unpacked(stream: StreamObject, most: int, what: str) -> bytes:
    """The bytes of a stream without its compression, never more than ``most`` of them in memory.

    Raises:
        Fault: there are more, or they are packed in a way that is not known here.
    """
    # The library offers the bytes of a stream only after it has unpacked them by its own limits.
    kept: bytes | str = stream._data
    data = kept.encode("latin-1") if isinstance(kept, str) else kept
    filters, parameters = (_items(found) or [found] for found in (at(stream, "/Filter"), at(stream, "/DecodeParms")))
    if len(filters) > _MOST_FILTERS or any((at(table, "/Predictor") or 1) != 1 for table in parameters):
        raise _unknown_packing(what, "several layers")
    for name in map(str, filter(None, filters)):
        if name not in _UNPACK:
            raise _unknown_packing(what, name.lstrip("/"))
        data = _UNPACK[name](data, most)
        if len(data) > most:
            break
    if len(data) > most:
        raise _too_large(what, most)
    return data


def _inflate(data: bytes, most: int) -> bytes:
    """Up to one byte more than ``most``; the library's own way would take a part for the whole."""
    if not data:
        return b""
    unpacking = zlib.decompressobj()
    plain = unpacking.decompress(data, most + 1)
    if len(plain) <= most and not unpacking.eof:
        raise DAMAGED
    return plain


_UNPACK: Final[dict[str, Callable[[bytes, int], bytes]]] = {
    "/FlateDecode": _inflate,
    "/ASCIIHexDecode": lambda data, _: ASCIIHexDecode.decode(data),
    # One sign "z" stands for four bytes.
    "/ASCII85Decode": lambda data, most: ASCII85Decode.decode(data) if len(data) <= most else data,
}


def _record(carried: dict[str, bytes]) -> PrintRecord:
    if RECORD_FILE in carried:
        with placed_in(Where.in_file(RECORD_FILE)):
            return read_record(carried[RECORD_FILE])
    if carried:
        listed = ", ".join(map(as_written, list(carried)[:5]))
        raise Fault(f"the file carries {listed} but no {RECORD_FILE}, which says how it was printed", _PRINT_AGAIN)
    raise Fault(
        "the file carries no job: another program made it, or saved it again without the files inside it",
        'give a PDF as "storystick print" wrote it',
    )


def _too_large(what: str, most: int) -> Fault:
    """The fault of something that holds more bytes than are allowed."""
    return Fault(
        f"{what} is larger than {most / 2**20:.3g} MB, the most that is allowed", "use the file as it was printed"
    )


def _unknown_packing(what: str, name: str) -> Fault:
    return Fault(
        f"{what} is packed in a way that is not read here: {name}",
        "use the file as it was printed, or save it again with the usual compression (Flate)",
    )
