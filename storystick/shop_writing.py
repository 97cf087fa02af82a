"""A printer's correction into a shop file, which keeps all else that the user wrote there.

A new printer goes at the end, one of the same name is changed where it stands, and the file must read back as before,
with only that printer changed, before it is written.
"""

from __future__ import annotations

import os
from codecs import BOM_UTF8
from collections.abc import Mapping, MutableMapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import InlineTable, Table

from storystick.errors import Fault, Faults, StorystickError, placed_in
from storystick.files import write_files
from storystick.job.shop import Printer, Shop, read_shop
from storystick.job.sources import Source, check_ending, load_source, read_tables, read_text
from storystick.lengths import Units

_HEADER: Final = '# What the shop has, for every job: printers, routers, bits, bars and saws.\nunits = "{units}"\n'


def load_shop_file(path: Path) -> Source | None:
    """The shop file, None where there is none yet.

    Raises:
        Fault: it cannot be read, or its name is not that of a shop file.
    """
    with placed_in(path.name or str(path)):
        check_ending(path.name)
        return load_source(path) if _is_there(path) else None


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError:
        raise Fault("the file cannot be reached", "look whether you may read its folder") from None


def units_of_shop(path: Path) -> Units:
    """The units of the shop file, inch where there is none.

    Raises:
        StorystickError: the file has faults.
    """
    source = load_shop_file(path)
    if source is None:
        return Units.INCH
    _read_sound(source)
    return Units(read_tables(source).get("units", Units.INCH.value))


def store_printer(path: Path, name: str, keys: Mapping[str, str], units: Units) -> None:
    """Write the ``keys`` of a printer into the shop file, in place of those that it has; a new file says its ``units``.

    Everything else stays as it is. Nothing is written unless the file then reads back as it should.

    Raises:
        StorystickError: the file has faults, cannot be written, or is laid out in a way that cannot be added to.
    """
    old = load_shop_file(path) or Source(path.name, _HEADER.format(units=units.value).encode())
    before = _read_sound(old)
    bom = BOM_UTF8 if old.data.startswith(BOM_UTF8) else b""
    new = Source(old.name, bom + _changed(read_text(old), name, keys).encode())
    if not _holds(new, before, name, keys):
        raise _by_hand(name, keys)
    _write(Path(os.path.realpath(path)), new.data)


def _write(path: Path, data: bytes) -> None:
    """Write the file itself, not a link to it, and only where it is not guarded from that."""
    if path.exists() and not os.access(path, os.W_OK):
        raise Fault("nothing was written: the file is read-only", "let it be written to, or name another", str(path))
    write_files(path.parent, {path.name: data})


def _read_sound(source: Source) -> Shop:
    shop, faults = read_shop(source)
    if faults:
        raise Faults(faults)
    return shop


def _holds(new: Source, before: Shop, name: str, keys: Mapping[str, str]) -> bool:
    """Whether the file now says what it did, and the printer's keys beside it."""
    try:
        after = _read_sound(new)
        (wanted,) = _read_sound(Source(new.name, _section(name, keys).encode())).printers
    except StorystickError:
        return False
    return _without(after, name) == _without(before, name) and wanted in after.printers


def _without(shop: Shop, name: str) -> tuple[Shop, list[Printer]]:
    """The shop apart from its file and the printer of this name; the others in the order of their names."""
    others = sorted((printer for printer in shop.printers if printer.name != name), key=lambda printer: printer.name)
    return replace(shop, printers=(), source=None), others


def _by_hand(name: str, keys: Mapping[str, str]) -> Fault:
    lines = "; ".join(_section(name, keys).split("\n")).strip("; ")
    return Fault("the file is laid out in a way that the correction cannot be added to", f"write it there: {lines}")


def _changed(text: str, name: str, keys: Mapping[str, str]) -> str:
    """The text with the printer's keys; where it is not as expected, unchanged."""
    newline = "\r\n" if "\r\n" in text else "\n"
    try:
        document = tomlkit.parse(text)
        printers = document.get("printer", {})
        key = next((key for key in printers if key.strip() == name), None)
        if key is None and not isinstance(printers, InlineTable):
            return _appended(text, _section(name, keys), newline)
        if key is None:
            printers[name] = tomlkit.inline_table()
        _set_keys(printers[key or name], keys, newline)
        return tomlkit.dumps(document)
    except TOMLKitError:
        return text


def _section(name: str, keys: Mapping[str, str]) -> str:
    """A printer's table as text."""
    document, table = tomlkit.document(), tomlkit.table()
    for key, value in keys.items():
        table.add(key, value)
    document.add("printer", tomlkit.table(is_super_table=True).add(name, table))
    return tomlkit.dumps(document)


def as_toml(name: str) -> str:
    """A name as it is written in a job or a shop file."""
    return tomlkit.item(name).as_string()


def _appended(text: str, section: str, newline: str) -> str:
    """The section at the end of the file, so that no comment of another stands before it."""
    gap = "" if not text or text.endswith("\n") else newline
    return f"{text}{gap}{newline}{section.replace(chr(10), newline)}"


def _set_keys(table: MutableMapping[str, Any], keys: Mapping[str, str], newline: str) -> None:
    """New values in place of those there are; keys that are new follow the last of them, or the table's own line where
    there are none, before any comment."""
    there = [key for key in table if key in keys]
    for key in there:
        table[key] = keys[key]
    others = {key: value for key, value in keys.items() if key not in there}
    # A table made by dotted keys has no lines of its own to add to, and counts as a super table.
    if isinstance(table, Table) and not table.is_super_table():
        lines = "".join(f"{key} = {tomlkit.item(value).as_string()}{newline}" for key, value in others.items())
        last: Any = table.value.item(there[-1]) if there else table
        last.trivia.trail = f"{last.trivia.trail or newline}{lines}"
    else:
        for key, value in others.items():
            table[key] = value
