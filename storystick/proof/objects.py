"""The objects of a PDF that nobody vouches for: bounded in size and depth, and every fault of theirs told plainly."""

from __future__ import annotations

import logging
import zlib
from base64 import a85decode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

from pypdf.errors import LimitReachedError
from pypdf.generic import ArrayObject, DictionaryObject, NullObject, PdfObject, StreamObject

from storystick.errors import Fault, StorystickError

_MOST_NODES: Final = 20_000
_MOST_FILTERS: Final = 4

DAMAGED: Final = Fault(
    "the file is damaged, or only a part of it is there",
    "fetch it again from where it was printed or sent from, or print the job again",
)

COSTLY: Final = Fault(
    "the file would take too long or too much memory to read: it holds more, or deeper in itself, than any usual print",
    "use the file as it was printed, or print the job again",
)


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


def resolved(value: object) -> PdfObject | None:
    """The object that a reference leads to; None for nothing and for null."""
    found = value.get_object() if isinstance(value, PdfObject) else None
    return None if isinstance(found, NullObject) else found


def dictionary(value: object) -> DictionaryObject:
    """The dictionary that ``value`` is or leads to; empty where it is none."""
    found = resolved(value)
    return found if isinstance(found, DictionaryObject) else DictionaryObject()


def entry(holder: DictionaryObject, key: str) -> PdfObject | None:
    """What a dictionary holds under a key, None for nothing."""
    return resolved(holder.raw_get(key)) if key in holder else None


def items(value: object) -> list[object]:
    """The items of an array, unresolved; none where it is no array."""
    found = resolved(value)
    return list(found) if isinstance(found, ArrayObject) else []


def number_of(value: object, otherwise: float | None = None) -> float:
    """A number; ``otherwise`` where there is none.

    Raises:
        Fault: there is something else.
    """
    found = resolved(value)
    if isinstance(found, int | float):
        return float(found)
    if found is None and otherwise is not None:
        return otherwise
    raise DAMAGED


def leaves(root: object, key: str) -> Iterator[tuple[PdfObject | None, PdfObject | None]]:
    """The pairs of a name tree or a number tree, those under ``key`` of its nodes (ISO 32000-1, 7.9.6 and 7.9.7)."""
    waiting, seen = [root], 0
    while waiting:
        node = dictionary(waiting.pop())
        seen += 1
        if seen > _MOST_NODES:
            raise COSTLY
        pairs = items(entry(node, key))
        for first, second in zip(pairs[::2], pairs[1::2], strict=False):
            yield resolved(first), resolved(second)
        waiting.extend(reversed(items(entry(node, "/Kids"))))


def decoded(stream: StreamObject, most: int, what: str) -> bytes:
    """The bytes of a stream without its compression, never more than ``most`` of them in memory.

    Raises:
        Fault: there are more, or they are packed in a way that is not known here.
    """
    data = _raw(stream)
    filters = [str(name) for name in _as_list(entry(stream, "/Filter"))]
    parameters = [dictionary(value) for value in _as_list(entry(stream, "/DecodeParms"))]
    if len(filters) > _MOST_FILTERS or any(number_of(entry(table, "/Predictor"), 1) != 1 for table in parameters):
        raise _unknown_packing(what, "several layers")
    for name in filters:
        if name not in _UNPACK:
            raise _unknown_packing(what, name.lstrip("/"))
        data = _UNPACK[name](data, most, what)
    if len(data) > most:
        raise too_large(what, most)
    return data


def _raw(stream: StreamObject) -> bytes:
    # The library offers the bytes of a stream only after it has unpacked them by its own limits.
    data: bytes | str = stream._data
    return data.encode("latin-1") if isinstance(data, str) else data


def _as_list(value: PdfObject | None) -> list[object]:
    if value is None:
        return []
    return [resolved(item) for item in value] if isinstance(value, ArrayObject) else [value]


def _inflate(data: bytes, most: int, what: str) -> bytes:
    if not data:
        return b""
    unpacking = zlib.decompressobj()
    try:
        plain = unpacking.decompress(data, most + 1)
    except zlib.error:
        raise DAMAGED from None
    if len(plain) > most:
        raise too_large(what, most)
    if not unpacking.eof:
        raise DAMAGED
    return plain


def _from_hex(data: bytes, _most: int, _what: str) -> bytes:
    digits = b"".join(data.partition(b">")[0].split())
    return bytes.fromhex((digits + b"0" * (len(digits) % 2)).decode("ascii"))


def _from_base_85(data: bytes, most: int, what: str) -> bytes:
    # One sign "z" stands for four bytes.
    if len(data) > most:
        raise too_large(what, most)
    return a85decode(data.strip().removeprefix(b"<~").removesuffix(b"~>"))


_UNPACK: Final[dict[str, Callable[[bytes, int, str], bytes]]] = {
    "/FlateDecode": _inflate,
    "/ASCIIHexDecode": _from_hex,
    "/ASCII85Decode": _from_base_85,
}


def too_large(what: str, most: int) -> Fault:
    """The fault of something that holds more bytes than are allowed."""
    return Fault(
        f"{what} is larger than {most / 2**20:.3g} MB, the most that is allowed",
        "use the file as it was printed",
    )


def _unknown_packing(what: str, name: str) -> Fault:
    return Fault(
        f"{what} is packed in a way that is not read here: {name}",
        "use the file as it was printed, or save it again with the usual compression (Flate)",
    )
