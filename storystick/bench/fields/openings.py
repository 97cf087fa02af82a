"""The openings of a cabinet to type in: from the top down as they are drawn, though a file counts them upwards."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any, Final

from storystick.bench.declared import best_table, entry_of
from storystick.bench.fields.labels import label_of
from storystick.bench.fields.making import Maker, Slot, moves
from storystick.bench.fields.model import Action, Field, Item, Part
from storystick.bench.places import Steps
from storystick.job.cabinets import Cabinet
from storystick.job.key_reference import as_toml
from storystick.job.keys import Key, TableOf, table_of
from storystick.job.rows import CabinetColumn, CabinetRow
from storystick.job.sticks import STICK

_IN_SIGHT: Final = ("opening", "share", "graduated", "step", "ratio", "first", "name", "front")
_OR: Final[Mapping[str, str]] = {"step": "ratio", "ratio": "step"}
_MANY: Final = (2, 3, 4, 5, 6)
_CABINET: Final = 2
"""So many steps lead to a cabinet."""

_WAYS: Final[Mapping[str, tuple[str, str]]] = {"row": ("Down", "Up"), "column": ("To the left", "To the right")}
"""What moves a row or a column to one with a lower number, and to one with a higher: rows are counted upwards."""

_AS_USUAL: Final = "as usual"
_ONE: Final = "equal"


def openings(maker: Maker, slot: Slot) -> Item:
    """The openings of one column; the name of a spreadsheet is a plain field."""
    if isinstance(slot.value, str):
        return maker.item(slot)
    values = slot.value if isinstance(slot.value, list) else [None]
    if slot.value is not None and not isinstance(slot.value, list):
        return maker.raw(slot)
    items = [_opening(maker, slot, number, value, number + 1 == len(values)) for number, value in enumerate(values)]
    words = "From the top down, as in the drawing. Type a size, or equal for a share of what is left."
    actions = (*(_in_all(slot.steps, len(values)) if slot.value else _how_many(slot.steps)), *_divided(slot.steps))
    count = sum(map(_count, values))
    gist = "1 opening" if count == 1 else f"{count} openings"
    return Part(slot.steps, slot.label, words, gist, items[::-1], actions, True, bool(slot.value), "openings")


def along_stick(maker: Maker, slot: Slot) -> Item:
    """The openings of a plain stick, in their order from its datum."""
    item = openings(maker, slot)
    if not isinstance(item, Part):
        return item
    words = "In order from the datum. Type a size, or equal for a share of what is left."
    return replace(item, words=words, items=item.items[::-1])


def _how_many(steps: Steps) -> tuple[Action, ...]:
    return tuple(
        Action(str(many), "raw", steps, as_toml([_ONE] * many), f"{many} openings", (*steps, many - 1))
        for many in _MANY
    )


def _count(value: object) -> int:
    """How many openings an entry is."""
    many = value.get("graduated") if isinstance(value, dict) else None
    return many if isinstance(many, int) else 1


def _divided(steps: Steps) -> Iterator[Action]:
    """What makes rows of the openings of a cabinet, or columns beside them."""
    *outer, _ = steps
    if outer[0] != "cabinet":
        return
    if len(outer) == _CABINET:
        yield Action("Add a row", "row", tuple(outer), spoken="Add a row above them all", chooses=(*outer, "row", 1))
    if "column" not in outer:
        yield Action("Add a column", "column", tuple(outer), spoken="Add a column beside them", chooses=tuple(outer))


def _in_all(steps: Steps, count: int) -> tuple[Action, ...]:
    """What is done with all the openings of a column."""
    before, behind = ("below", "on top") if steps[0] == "cabinet" else ("at the datum", "at the end")
    return (
        Action(f"Add one {before}", "insert", (*steps, 0), as_toml(_ONE), "an opening", (*steps, 0)),
        Action(f"Add one {behind}", "add", steps, as_toml(_ONE), "an opening", (*steps, count)),
        Action("All equal", "equal", steps, chooses=steps),
        Action("Graduated", "graduated", steps, spoken="the largest nearest the datum", chooses=steps),
    )


def _opening(maker: Maker, slot: Slot, number: int, value: object, is_last: bool) -> Part:
    """One opening: its size, its name and its front in one line, the rest below; nothing is said of above the last."""
    steps = (*slot.steps, number)
    said: Mapping[str, object] = value if isinstance(value, dict) else {}
    of = best_table(entry_of(slot.shape), said or {"opening": ""})
    assert of is not None, "an opening may be a table"
    shown = [name for name in of.keys if _is_in_sight(name, said)]
    lead = [_lead(maker, of, name, value, steps) for name in shown]
    rest = [name for name in of.keys if name not in shown and not (is_last and name == "above" and name not in said)]
    items = [*maker.keys_of(of, said, steps, rest), *maker.unknown(of.keys, said, steps)]
    given = [label_of(name).lower() for name in rest if name in said]
    holds = any(maker.chosen[: len(item.steps)] == item.steps for item in items)
    more = Part((), "More", "", ", ".join(given), items, _one(steps, number, is_group="graduated" in said), holds)
    return Part(steps, f"Opening {number + 1}", items=[more], look="opening", lead=lead)


def _is_in_sight(name: str, said: Mapping[str, object]) -> bool:
    """Whether a key is in the line of an opening that says so much."""
    if name == "hinge":
        return said.get("front") == "door" or "hinge" in said
    return name in _IN_SIGHT and not (_OR.get(name) in said and name not in said)


def _lead(maker: Maker, of: TableOf[Any], name: str, value: object, steps: Steps) -> Field:
    """A field in the line of an opening; a plain size stands for the whole of it."""
    plain = name == "opening" and not isinstance(value, dict)
    said = value if plain else value.get(name) if isinstance(value, dict) else None
    title = {"opening": "Size", "share": "Shares", "graduated": "How many"}.get(name, "")
    item = maker.item(Slot(name, of.keys[name], said, steps if plain else (*steps, name), title))
    if isinstance(item, Part):
        return maker.raw(Slot(name, of.keys[name], said, item.steps, title))
    if name == "opening":
        return replace(item, actions=(), is_needed=False, placeholder=_ONE)
    options = [replace(each, label=_AS_USUAL) if each.label.startswith(_AS_USUAL) else each for each in item.options]
    return replace(item, look="select" if item.look == "radio" else item.look, options=options)


def _one(steps: Steps, number: int, *, is_group: bool) -> tuple[Action, ...]:
    """What is done with one opening, or with a graduated group, of which each is an opening to split then."""
    what = f"opening {number + 1}"
    beside = Action("Side by side", "column", steps, "", f"{what} in two, side by side", steps)
    apart = Action("Each by itself", "split", steps, "", "with a size of its own, to split or change alone", steps)
    return (
        apart if is_group else Action("Split", "split", steps, "2", f"{what} in two", steps),
        *([beside] if steps[0] == "cabinet" else []),
        Action("Take away", "remove", steps, "", what, steps[:-1]),
    )


def rows(maker: Maker, slot: Slot) -> Item:
    """The rows of a cabinet, the top one first."""
    return _headed(maker, slot, table_of(CabinetRow), "row", "Add a row on top", "Add a row below", top_first=True)


def columns(maker: Maker, slot: Slot) -> Item:
    """The columns of a cabinet or of a row, from the left."""
    of = table_of(CabinetColumn)
    return _headed(maker, slot, of, "column", "Add a column at the right", "Add a column at the left", top_first=False)


def _headed(maker: Maker, slot: Slot, of: TableOf[Any], word: str, behind: str, before: str, top_first: bool) -> Item:
    if not isinstance(slot.value, list) or not all(isinstance(value, dict) for value in slot.value):
        return maker.item(slot)
    items = [_band(maker, slot, of, word, number, value) for number, value in enumerate(slot.value)]
    actions = [
        Action(behind, word, (*slot.steps, len(items) - 1), chooses=(*slot.steps, len(items))),
        Action(before, "insert", (*slot.steps, 0), "{}", chooses=(*slot.steps, 0)),
    ]
    gist = f"{len(items)} {word}{'s' * (len(items) != 1)}"
    ordered = items[::-1] if top_first else items
    return Part(slot.steps, slot.label, "", gist, ordered, actions, True, True, "bands")


def _band(maker: Maker, slot: Slot, of: TableOf[Any], word: str, number: int, value: Mapping[str, object]) -> Part:
    steps = (*slot.steps, number)
    what = f"{word} {number + 1}"
    count = len(slot.value) if isinstance(slot.value, list) else 0
    actions = [*moves(steps, what, count, _WAYS[word]), Action("Take away", "remove", steps, "", what, steps[:-1])]
    key = Key(slot.shape, "", {})
    part = maker.table(Slot(word, key, value, steps, f"{word.capitalize()} {number + 1}"), actions, of)
    return replace(part, words="", is_open=True, look="band", gist=str(value.get("name", "")))


SPECIAL: Final[Mapping[tuple[TableOf[Any], str], Callable[[Maker, Slot], Item]]] = {
    (table_of(Cabinet), "openings"): openings,
    (table_of(Cabinet), "row"): rows,
    (table_of(Cabinet), "column"): columns,
    (table_of(CabinetRow), "openings"): openings,
    (table_of(CabinetRow), "column"): columns,
    (table_of(CabinetColumn), "openings"): openings,
    (STICK, "openings"): along_stick,
}
"""Keys of cabinets and sticks whose fields are made with care."""
