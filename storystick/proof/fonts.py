"""The text that the bytes of a PDF string stand for, by the font's own table (ISO 32000-1, 9.10.3)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from pypdf.generic import DictionaryObject, StreamObject

from storystick.proof.objects import COSTLY, decoded, entry, name_of

UNREAD: Final = "\N{REPLACEMENT CHARACTER}"
"""Stands for a letter that nothing tells."""

_LARGEST_TABLE: Final = 2**20
_MOST_CODES: Final = 70_000
_SECTION: Final = re.compile(rb"begin(bfchar|bfrange|codespacerange)(.*?)end\1", re.DOTALL)
_CODE: Final = re.compile(rb"<([0-9A-Fa-f\s]*)>|(\[)|(\])")


@dataclass(frozen=True, slots=True)
class Font:
    """What each code of ``code_bytes`` bytes stands for.

    One that is not in the table is the ASCII letter of its number, or :data:`UNREAD`.
    """

    letters: dict[int, str]
    code_bytes: int = 1

    def text(self, data: bytes) -> str:
        step = self.code_bytes
        codes = (int.from_bytes(data[at : at + step], "big") for at in range(0, len(data), step))
        return "".join(self.letters.get(code, chr(code) if 32 <= code < 127 else UNREAD) for code in codes)


def read_font(font: DictionaryObject) -> Font:
    """A font's table of letters; some programs leave it out when they save a file again."""
    table = entry(font, "/ToUnicode")
    two_bytes = name_of(entry(font, "/Subtype")) == "/Type0"
    if not isinstance(table, StreamObject):
        return Font({}, 2 if two_bytes else 1)
    letters: dict[int, str] = {}
    for kind, body in _SECTION.findall(decoded(table, _LARGEST_TABLE, "a table of letters")):
        pairs = {b"bfchar": _single, b"bfrange": _ranges}.get(kind)
        for code, letter in pairs(body) if pairs else ():
            letters[code] = letter
            if len(letters) > _MOST_CODES:
                raise COSTLY
    return Font(letters, 2 if two_bytes else 1)


def _single(body: bytes) -> Iterator[tuple[int, str]]:
    found = [_unhex(digits) for digits, _, _ in _CODE.findall(body)]
    for code, letters in zip(found[::2], found[1::2], strict=False):
        yield int.from_bytes(code, "big"), _utf_16(letters)


def _ranges(body: bytes) -> Iterator[tuple[int, str]]:
    """First code, last code, and either the first letter or a letter for each."""
    tokens = iter(_CODE.findall(body))
    for first_digits, _, _ in tokens:
        (last_digits, _, _), (digits, opening, _) = next(tokens), next(tokens)
        first, last = (int.from_bytes(_unhex(each), "big") for each in (first_digits, last_digits))
        if last - first > _MOST_CODES:
            raise COSTLY
        if opening:
            for code, (each, _, closing) in enumerate(tokens, start=first):
                if closing:
                    break
                yield code, _utf_16(_unhex(each))
        else:
            letter = _unhex(digits)
            for code in range(first, last + 1):
                yield code, _utf_16((int.from_bytes(letter, "big") + code - first).to_bytes(len(letter) + 1, "big")[1:])


def _unhex(digits: bytes) -> bytes:
    plain = b"".join(digits.split())
    return bytes.fromhex((plain + b"0" * (len(plain) % 2)).decode("ascii"))


def _utf_16(data: bytes) -> str:
    return data.decode("utf-16-be", errors="replace")
