"""Rows and columns of openings added to a cabinet, which may have had none of them yet."""

from __future__ import annotations

from typing import Any, Final

from storystick.bench.editing.dividing import (
    OpeningList,
    openings_at,
    said_size,
    share_of,
    shares,
    shortened,
    table_of_opening,
    tried,
)
from storystick.bench.editing.open_text import OpenText
from storystick.bench.editing.putting import EQUAL, SIZED, add_entry, carry, set_value, take_out
from storystick.bench.editing.sizing import Solved, units_of
from storystick.bench.places import Steps
from storystick.errors import Fault
from storystick.lengths import read_size

_IN_ROW: Final = ("column", "openings", "columns")


@tried
def add_row(text: OpenText, at: Steps, _value: str) -> None:
    """A row above the one that a place is in; what had no rows has two, and all that it held is in the first."""
    cabinet = _cabinet(at)
    if text.has((*cabinet, "rows")):
        _one_more(text, (*cabinet, "rows"))
    elif text.has((*cabinet, "row")):
        number = _number(at, "row", len(text.item((*cabinet, "row"))))
        _make_room(text, (*cabinet, "row"), number, "height")
    else:
        _first_row(text, cabinet)


def _first_row(text: OpenText, cabinet: Steps) -> None:
    held = [name for name in _IN_ROW if text.has((*cabinet, name))]
    own, new = _heights(text, (*cabinet, "openings")) if "openings" in held else ({}, {})
    set_value(text, (*cabinet, "row"), [own, new])
    for name in held:
        carry(text, (*cabinet, name), (*cabinet, "row", 0))


@tried
def add_column(text: OpenText, at: Steps, _value: str) -> None:
    """A column beside the one that a place is in; an opening among others is divided side by side."""
    cabinet = _cabinet(at)
    in_row = len(at) > 3 and at[2] == "row"
    host = at[:4] if in_row else cabinet
    if text.has((*host, "column")):
        number = _number(at, "column", len(text.item((*host, "column"))))
        _make_room(text, (*host, "column"), number, "width")
    elif text.has((*host, "columns")):
        _one_more(text, (*host, "columns"))
    else:
        line = openings_at(text, at if "openings" in at else host)
        if line.number is None or len(line.entries) == 1:
            _into_columns(text, host, line)
        elif in_row or text.has((*cabinet, "rows")):
            what = "other openings stand above or below it in its row"
            raise Fault(what, "add a row for it first, or divide the whole row into columns")
        else:
            _into_rows(text, cabinet, line, line.number)


def _heights(text: OpenText, steps: Steps) -> tuple[dict[str, Any], dict[str, Any]]:
    """What a row of these openings and one above it say of their heights.

    Of openings that all share what is left the new one takes as much as one share; else half of the last that shares.
    """
    entries = openings_at(text, steps).entries
    if not any(map(shares, entries)):
        raise Fault("all openings have sizes, so no room is left for a row", 'let one of them be "equal" first')
    parts = [share_of(table_of_opening(entry)) for entry in entries]
    if all(parts):
        total = sum(part for part in parts if part)
        return ({"height": {"share": int(total) if total.denominator == 1 else str(total)}} if total != 1 else {}), {}
    solved = Solved(text, steps)
    sizes = solved.sizes(steps)
    if len(sizes) != len(entries):
        return {}, {}
    size = next(size for size, part in zip(reversed(sizes), reversed(parts), strict=True) if part)
    half = (size - solved.between_rows(steps)) / 2
    return {}, {"height": said_size(text, (*steps[:2], "row", 0, "height"), half)} if half > 0 else {}


def _into_columns(text: OpenText, host: Steps, line: OpeningList) -> None:
    """Two columns in the place of one, of which the second has the same openings, but for their names."""
    has_openings = text.has(line.steps)
    beside = {"openings": [_unnamed(entry) for entry in line.entries]} if has_openings else {}
    set_value(text, (*host, "column"), [{}, beside])
    if has_openings:
        carry(text, line.steps, (*host, "column", 0))


def _into_rows(text: OpenText, cabinet: Steps, line: OpeningList, number: int) -> None:
    """A row for each opening, and two columns in that of the one that is meant."""
    rows = [_as_row(entry) for entry in line.entries]
    own = rows[number]
    openings = {"openings": own["openings"]} if "openings" in own else {}
    beside = {"openings": [_unnamed(each) for each in own.pop("openings")]} if openings else {}
    own["column"] = [openings, beside]
    take_out(text, line.steps)
    set_value(text, (*cabinet, "row"), rows)


def _as_row(entry: Any) -> dict[str, Any]:
    """A row that is one opening: as high as that, and with what stands above it."""
    said = table_of_opening(entry)
    if "graduated" in said:
        raise Fault("a graduated group stands among the openings", "split the group into its openings first")
    share = share_of(said)
    height = said[SIZED] if share is None else EQUAL if share == 1 else {"share": said.get("share", str(share))}
    row: dict[str, Any] = {"height": height}
    if "above" in said:
        row["above"] = said["above"]
    rest = {key: each for key, each in said.items() if key not in (SIZED, "share", "above")}
    return {**row, "openings": [shortened({SIZED: EQUAL, **rest})]} if rest else row


def _unnamed(entry: Any) -> Any:
    return shortened({key: each for key, each in table_of_opening(entry).items() if key != "name"})


def _make_room(text: OpenText, steps: Steps, number: int, size: str) -> None:
    """One more row or column behind that of a number; where none shares what is left, that one is halved."""
    bands = text.value(steps)
    band: dict[str, object] = {}
    if not any(_has_room(each, size) for each in bands):
        if size not in bands[number]:
            raise Fault("all sizes are given, so no room is left for one more", 'let one of them be "equal" first')
        solved = Solved(text, (*steps, number, size))
        gap = solved.between_rows if size == "height" else solved.between_columns
        whole = read_size(bands[number][size], units_of(text))
        half = (whole - gap((*steps, number, size))) / 2
        if half <= 0:
            raise Fault("no room is left for one more", "make the cabinet larger first")
        band = {size: said_size(text, (*steps, number, size), half)}
        set_value(text, (*steps, number, size), band[size])
    add_entry(text, steps, number + 1, band)


def _has_room(band: dict[str, Any], size: str) -> bool:
    """Whether a row or a column takes of what is left."""
    if size in band:
        return share_of({SIZED: band[size]}) is not None
    if size == "width" or not {"openings", "column"} & band.keys():
        return True
    columns = band.get("column", [band])
    return all(any(map(shares, each.get("openings", [EQUAL]))) for each in columns)


def _one_more(text: OpenText, steps: Steps) -> None:
    count = text.value(steps)
    if not isinstance(count, int):
        raise Fault(f"{steps[-1]} is not a number", "mend it first")
    set_value(text, steps, count + 1)


def _number(at: Steps, word: str, count: int) -> int:
    """Which of the rows or columns a place is in; the last where it says none."""
    after = at[at.index(word) + 1 :] if word in at else ()
    number = after[0] if after and isinstance(after[0], int) else count - 1
    if number >= count:
        raise Fault(f"there is no {word} {number + 1}, but {count} of them", "choose one of them")
    return number


def _cabinet(at: Steps) -> Steps:
    if at[0] != "cabinet":
        raise Fault("a stick has neither rows nor columns", "split an opening of it instead")
    return at[:2]
