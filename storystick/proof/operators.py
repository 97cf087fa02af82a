"""What each operator of a page's content does to the pen (ISO 32000-1, annex A)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final

from storystick.proof.pen import Pen

OPERATORS: Final[dict[bytes, Callable[[Pen, Sequence[Any]], None]]] = {
    b"q": Pen.save,
    b"Q": Pen.restore,
    b"cm": Pen.transform,
    b"w": Pen.set_width,
    b"d": Pen.set_dash,
    b"J": Pen.set_cap,
    **dict.fromkeys((b"g", b"rg", b"k", b"sc", b"scn"), Pen.set_fill),
    **dict.fromkeys((b"G", b"RG", b"K", b"SC", b"SCN"), Pen.set_stroke),
    b"m": Pen.move,
    b"l": Pen.line,
    **dict.fromkeys((b"c", b"v", b"y"), Pen.curve),
    b"h": Pen.close,
    b"re": Pen.rectangle,
    **dict.fromkeys((b"f", b"F", b"f*"), Pen.fill),
    b"S": Pen.stroke,
    b"s": Pen.close_and_stroke,
    **dict.fromkeys((b"B", b"B*"), Pen.fill_and_stroke),
    **dict.fromkeys((b"b", b"b*"), Pen.close_fill_and_stroke),
    **dict.fromkeys((b"W", b"W*"), Pen.clip),
    b"n": Pen.end,
    b"BMC": Pen.begin_marked,
    b"EMC": Pen.end_marked,
    b"sh": Pen.shade,
    b"INLINE IMAGE": Pen.picture,
    b"BT": Pen.begin_text,
    b"ET": Pen.end_text,
    b"Tm": Pen.set_text_place,
    b"Td": Pen.next_line,
    b"TD": Pen.next_line_and_leading,
    b"T*": Pen.lead,
    b"TL": Pen.set_leading,
    b"Tz": Pen.set_stretch,
    b"Tr": Pen.set_text_mode,
    **dict.fromkeys((b"Tj",), Pen.show),
    b"TJ": Pen.show_spaced,
    **dict.fromkeys((b"'", b'"'), Pen.show_on_next_line),
}
