"""A text in bytes as its file had them: the byte order mark, and how its lines end."""

from __future__ import annotations

from typing import Final

from storystick.bench.files.differences import same_at_head

_MARK: Final = b"\xef\xbb\xbf"
_LONG: Final = "\r\n"
_SHORT: Final = "\n"


def written_as(text: str, old: bytes) -> bytes:
    """The bytes of a text, whose lines end with "\\n" alone, as those of the file that it replaces were written.

    Where that has ends of both kinds, the lines before and after all that has changed keep theirs, and the others get
    what is more common.
    """
    mark = _MARK if old.startswith(_MARK) else b""
    return mark + _ended(text, old.decode("utf-8-sig", errors="replace")).encode()


def _ended(text: str, old: str) -> str:
    long = old.count(_LONG)
    short = old.count(_SHORT) - long
    if not long:
        return text
    if not short:
        return text.replace(_SHORT, _LONG)
    lines, were = text.split(_SHORT), old.split(_SHORT)
    bare = [line.removesuffix("\r") for line in were]
    head = same_at_head(lines, bare)
    foot = min(same_at_head(lines[::-1], bare[::-1]), len(lines) - head, len(were) - head)
    end = "\r" if long > short else ""
    middle = [f"{line}{end}" for line in lines[head : len(lines) - foot]]
    return _SHORT.join((*were[:head], *middle, *were[len(were) - foot :]))
