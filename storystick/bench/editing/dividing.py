"""Openings of a cabinet or a stick divided and evened out: split, equal, graduated.

Openings that had sizes keep their place: what comes into it is so large that all still fits. Each change is tried, and
what could not be made after it is not done.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import wraps
from typing import Any, Final, TypeAlias

from storystick.bench.editing.open_text import OpenText
from storystick.bench.editing.putting import EQUAL, SIZED, add_entry, set_value, take_out
from storystick.bench.editing.sizing import Solved, first_fault, sizes_on_stick, units_of
from storystick.bench.editing.typed_values import typed, writes_text
from storystick.bench.places import Steps
from storystick.errors import Fault, as_written
from storystick.job.kinds import plain_number
from storystick.lengths import Units, read_size, write_exact

_LISTS: Final = ("openings", "inside")
_BANDS: Final = {"row": "height", "column": "width"}
_SHARE: Final = "share"
_GROUP: Final = "graduated"
_MOST_PARTS: Final = 20
_LEAST_IN_GROUP: Final = 2
_KEPT_IN_GROUP: Final = ("front", "hinge")
_STEPS: Final = {Units.INCH: ("1/2", "1/4", "1/8", "1/16"), Units.MM: ("10", "5", "2", "1")}
"""Steps of a group that are usual, the largest that leaves room first."""

Making: TypeAlias = Callable[[OpenText, Steps, str], None]


def tried(change: Making) -> Making:
    """A change that is refused where what it changes could be made before and cannot be after it."""

    @wraps(change)
    def try_it(text: OpenText, at: Steps, value: str) -> None:
        at = text.known(at)
        if len(at) < 2 or at[0] not in ("cabinet", "stick") or not text.has(at[:2]):
            raise Fault("there are no openings there", "choose an opening of a cabinet or of a stick")
        before = first_fault(text, at)
        change(text, at, value)
        fault = first_fault(text, at) if before is None else None
        if fault:
            raise Fault(f"that cannot be done here: {fault.what}", fault.cure)

    return try_it


@dataclass(frozen=True, slots=True)
class OpeningList:
    """A list of openings at a place of a text, one of which may be meant by its ``number``.

    ``entries`` are as a file has them: a size alone, or a table.
    """

    steps: Steps
    number: int | None
    entries: list[Any]

    @property
    def one(self) -> int:
        """The number of the one that is meant."""
        if self.number is None and len(self.entries) > 1:
            raise Fault("several openings stand there", "choose one of them")
        return self.number or 0


def openings_at(text: OpenText, at: Steps) -> OpeningList:
    """The openings at a place: of the list that it is in, or of the column, the row or the cabinet that it is."""
    listed = next((place for place in range(len(at) - 1, -1, -1) if at[place] in _LISTS), None)
    if listed is None and any(text.has((*at, bands)) for bands in _BANDS):
        raise Fault("several openings stand there", "choose one of them")
    steps = (*at, _LISTS[0]) if listed is None else at[: listed + 1]
    entries = text.value(steps) if text.has(steps) else [EQUAL]
    if not isinstance(entries, list):
        raise Fault(f"the openings stand in {as_written(entries)}", "change them there")
    inner = at[len(steps) : len(steps) + 1]
    number = inner[0] if inner and isinstance(inner[0], int) else None
    if number is not None and number >= len(entries):
        raise Fault(f"there are {len(entries)} openings", "choose one of them")
    return OpeningList(steps, number, entries)


@tried
def split(text: OpenText, at: Steps, value: str) -> None:
    """Divide an opening into so many equal ones in its place; a graduated group into its single openings."""
    line = openings_at(text, at)
    number = line.one
    entry = line.entries[number]
    if isinstance(entry, dict) and _GROUP in entry:
        made = _written_out(text, line, number)
    else:
        made = _divided(text, line, number, _count(value))
    if not text.has(line.steps):
        set_value(text, line.steps, made)
        return
    set_value(text, (*line.steps, number), made[0])
    for place, each in enumerate(made[1:], number + 1):
        add_entry(text, line.steps, place, each)


def _count(value: str) -> int:
    said = value.strip() or "2"
    if not said.isascii() or not said.isdigit() or not 2 <= int(said) <= _MOST_PARTS:
        raise Fault(f"{as_written(said)} is not a number of openings", f"give a whole number from 2 to {_MOST_PARTS}")
    return int(said)


def _divided(text: OpenText, line: OpeningList, number: int, parts: int) -> list[Any]:
    said = table_of_opening(line.entries[number])
    others = [each for place, each in enumerate(line.entries) if place != number]
    kept = {key: each for key, each in said.items() if key not in (SIZED, _SHARE, "inside", "above")}
    size = _part_of(text, line, said, parts, any(map(shares, others)))
    made = [{**size, **kept, **_named(said, place)} for place in range(1, parts + 1)]
    if "above" in said:
        made[-1]["above"] = said["above"]
    return [shortened(each) for each in made]


def _part_of(text: OpenText, line: OpeningList, said: dict[str, Any], parts: int, is_shared: bool) -> dict[str, Any]:
    """The size of a part of an opening, as a key of a table."""
    share = share_of(said)
    if share is None:
        whole = read_size(said[SIZED], units_of(text))
        size = (whole - _between(text, line.steps) * (parts - 1)) / parts
        if size <= 0:
            raise Fault(f"{parts} openings have no room in {as_written(said[SIZED])}", "divide it into fewer")
        return {SIZED: said_size(text, line.steps, size)}
    if not is_shared:
        return {SIZED: EQUAL}
    part = share / parts
    return {_SHARE: int(part) if part.denominator == 1 else str(part)} if part != 1 else {SIZED: EQUAL}


def _between(text: OpenText, steps: Steps) -> Fraction:
    """What stands between two openings of a list, as it is measured (mm)."""
    if steps[0] == "stick":
        return read_size(text.value(("stock", text.value((*steps[:2], "part")))), units_of(text))
    solved = Solved(text, steps)
    return solved.shelf(steps) if steps[-1] == "inside" else solved.between_openings(steps)


def said_size(text: OpenText, steps: Steps, size: Fraction) -> Any:
    """A size (mm) as the file writes such."""
    shape = text.shape((*steps, 0)) if steps[-1] in _LISTS else text.shape(steps)
    return typed(write_exact(size, units_of(text)), shape, None, writes_text(text.document))


def table_of_opening(entry: Any) -> dict[str, Any]:
    """An opening as a table."""
    return dict(entry) if isinstance(entry, dict) else {SIZED: entry}


def share_of(said: dict[str, Any]) -> Fraction | None:
    """How many shares of what is left an opening takes; None for one that has a size of its own."""
    size = said.get(SIZED)
    if isinstance(size, str) and size.strip().casefold() == EQUAL:
        return Fraction(1)
    share = size.get(_SHARE) if isinstance(size, dict) else said.get(_SHARE)
    return plain_number(share) or Fraction(1) if share is not None else None


def shares(entry: Any) -> bool:
    """Whether an opening takes of what is left."""
    said = table_of_opening(entry)
    return share_of(said) is not None or (_GROUP in said and "first" not in said)


def shortened(said: dict[str, Any]) -> Any:
    """An opening as it is written shortest."""
    return said[SIZED] if list(said) == [SIZED] else said


def _written_out(text: OpenText, line: OpeningList, number: int) -> list[Any]:
    """The single openings of a graduated group, by the sizes that they come to."""
    in_cabinet = line.steps[0] == "cabinet"
    sizes = Solved(text, line.steps).sizes(line.steps) if in_cabinet else sizes_on_stick(text, line.steps)
    counts = [_count_of(entry) for entry in line.entries]
    start = sum(counts[:number])
    group = line.entries[number]
    kept: dict[str, Any] = {key: group[key] for key in _KEPT_IN_GROUP if key in group}
    return [
        shortened({SIZED: said_size(text, line.steps, size), **_named(group, place), **kept})
        for place, size in enumerate(sizes[start : start + counts[number]], 1)
    ]


def _named(group: dict[str, Any], place: int) -> dict[str, str]:
    return {"name": f"{group['name']} {place}"} if "name" in group else {}


def _count_of(entry: Any) -> int:
    said = table_of_opening(entry)
    return len(said.get("inside", ())) or (int(said[_GROUP]) if isinstance(said.get(_GROUP), int) else 1)


@tried
def equal(text: OpenText, at: Steps, _value: str) -> None:
    """All openings of a list equal, or all rows of a cabinet equally high, or all columns equally wide."""
    bands = at[:-1] if isinstance(at[-1], int) else at
    if bands[-1] in _BANDS and isinstance(text.value(bands), list):
        _equal_bands(text, bands)
        return
    line = openings_at(text, at)
    for number in range(len(line.entries) - 1, -1, -1):
        made = _evened(line.entries[number])
        if not text.has(line.steps) or line.entries[number] == made[0]:
            continue
        set_value(text, (*line.steps, number), made[0])
        for place, each in enumerate(made[1:], number + 1):
            add_entry(text, line.steps, place, each)


def _equal_bands(text: OpenText, steps: Steps) -> None:
    """Rows say that they are equal, which else are as high as their openings; of columns it is usual."""
    for number in range(len(text.value(steps))):
        if steps[-1] == "row":
            set_value(text, (*steps, number, "height"), EQUAL)
        else:
            take_out(text, (*steps, number, "width"))


def _evened(entry: Any) -> list[Any]:
    said = table_of_opening(entry)
    if _GROUP in said:
        kept: dict[str, Any] = {key: said[key] for key in _KEPT_IN_GROUP if key in said}
        count = _count_of(entry)
        return [shortened({SIZED: EQUAL, **_named(said, place), **kept}) for place in range(1, count + 1)]
    return [shortened({SIZED: EQUAL, **{key: each for key, each in said.items() if key not in (SIZED, _SHARE)}})]


def graduated(text: OpenText, at: Steps, value: str) -> None:
    """All openings of a list one group, each so much smaller than the one below it."""
    at = text.known(at)
    steps = [value.strip()] if value.strip() else list(_STEPS[units_of(text)])
    for number, step in enumerate(steps, 1):
        kept = text.document.as_string()
        try:
            _graduate(text, at, step)
        except Fault:
            if number == len(steps):
                raise
            text.begin_again(kept)
        else:
            return


@tried
def _graduate(text: OpenText, at: Steps, step: str) -> None:
    line = openings_at(text, at)
    said = [table_of_opening(entry) for entry in line.entries]
    count = sum(_count_of({key: each for key, each in one.items() if key != "inside"}) for one in said)
    if count < _LEAST_IN_GROUP:
        raise Fault("a graduated group has two openings or more", "add openings first")
    if any({"adjustable", "inside", "above"} & one.keys() for one in said):
        what = "an opening has shelves in it or a part of its own above it, which a graduated group cannot have"
        raise Fault(what, "take those out first")
    group: dict[str, Any] = {_GROUP: count, "step": typed(step, text.shape(line.steps), None, True)}
    if name := _common_name(said):
        group["name"] = name
    for key in _KEPT_IN_GROUP if line.steps[0] == "cabinet" else ():
        values = [one.get(key) for one in said]
        if any(each != values[0] for each in values):
            raise Fault("the openings are closed in different ways", "let all have the same front first")
        if values[0] is not None:
            group[key] = values[0]
    set_value(text, line.steps, [group])


def _common_name(said: list[dict[str, Any]]) -> str:
    """What all are called but for numbers; nothing where that differs."""
    names = {str(one.get("name", "")).rstrip("0123456789").strip() for one in said}
    return names.pop() if len(names) == 1 else ""
