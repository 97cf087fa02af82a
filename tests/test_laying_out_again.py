"""A job that is laid out again after a change: the same as laid out from nothing, and quicker."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from storystick.job.cabinets import Cabinet
from storystick.job.sources import Source
from storystick.kept import CabinetAlone
from storystick.laying_out import LaidOut, lay_out_as_far, lay_out_draft, load
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Piece
from tests import mutations

CASES = """
units = "mm"
[stock]
ply = 18
[[stick]]
name = "Rail"
part = "ply"
openings = [300, 200]
"""
CASE = """
[[cabinet]]
name = "{}"
height = 720
width = {}
depth = 560
carcass = "ply"
fronts = {{ kind = "inset", stock = "ply", reveal = 2 }}
openings = [140, "equal"]
"""
MUTATED = range(0, 400, 5)


def written_out(thing: Any, seen: dict[int, int]) -> Any:
    """A layout as plain values: what is equal to no other is written once, and by a number where it stands again.

    The number of the cabinet that a piece is of is left out: what is kept of it may have been made under another.
    """
    if isinstance(thing, Piece | Bay | CabinetLayout):
        if id(thing) in seen:
            return seen[id(thing)]
        seen[id(thing)] = len(seen)
        names = [field.name for field in fields(thing) if not (isinstance(thing, Piece) and field.name == "cabinet")]
        return type(thing).__name__, *((name, written_out(getattr(thing, name), seen)) for name in names)
    if isinstance(thing, Fraction | Cabinet | str | int | bytes) or thing is None:
        return thing
    if is_dataclass(thing):
        return type(thing).__name__, *(
            (field.name, written_out(getattr(thing, field.name), seen)) for field in fields(thing)
        )
    if isinstance(thing, tuple | list):
        return [written_out(each, seen) for each in thing]
    return repr(thing)


def told(laid: LaidOut) -> Any:
    return written_out(laid.layout, {}), list(map(str, laid.faults))


def sources(files: mutations.Files) -> list[Source]:
    return [Source(name, text.encode(errors="replace")) for name, text in files.items()]


def job(*cabinets: tuple[str, int], rest: str = "") -> list[Source]:
    return sources({"job.toml": CASES + "".join(CASE.format(*each) for each in cabinets) + rest})


def test_random_changes_are_laid_out_as_from_nothing() -> None:
    """One after another through all jobs of the gallery, back to a sound state between any two changes."""
    jobs = mutations.seeds()
    earlier: LaidOut | None = None
    faulty = 0
    for number in MUTATED:
        files = mutations.case(number, jobs)
        again = lay_out_as_far(sources(files), earlier=earlier)
        assert told(again) == told(lay_out_as_far(sources(files))), number
        faulty += bool(again.faults)
        before = next(files_of for files_of in jobs if files_of.keys() == files.keys())
        earlier = lay_out_as_far(sources(before), earlier=again)
    assert len(MUTATED) / 4 < faulty < len(MUTATED)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ([("A", 400), ("B", 500)], [("New", 300), ("A", 400), ("B", 500)]),
        ([("A", 400), ("B", 500)], [("B", 500), ("A", 400)]),
        ([("A", 400), ("B", 500), ("C", 600)], [("A", 400), ("C", 600)]),
        ([("A", 400), ("B", 30)], [("A", 400), ("B", 500)]),
        ([("A", 400), ("B", 500)], [("B", 30), ("A", 400)]),
    ],
    ids=["one before the others", "two changed about", "one gone", "one mended", "one spoiled"],
)
def test_numbers_and_places_follow_the_order_of_the_cabinets(
    before: list[tuple[str, int]], after: list[tuple[str, int]]
) -> None:
    again, afresh = lay_out_as_far(job(*after), earlier=lay_out_as_far(job(*before))), lay_out_as_far(job(*after))
    assert told(again) == told(afresh)
    assert again.layout
    assert afresh.layout
    assert [stick.stick.number for stick in again.layout.sticks] == list(range(1, len(afresh.layout.sticks) + 1))
    assert [each.cabinet for each in again.layout.cabinets] == [each.cabinet for each in afresh.layout.cabinets]


def test_a_cabinet_that_is_as_it_was_is_not_worked_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """After a change, one cabinet of twelve is laid out, and none after the change is taken back."""
    made = []
    monkeypatch.setattr(CabinetAlone, "__init__", counting(CabinetAlone.__init__, made))
    many = [(f"Base {number}", 400 + number) for number in range(12)]
    first = lay_out_as_far(job(*many))
    assert len(made) == 12
    many[4] = ("Base 4", 500)
    second = lay_out_as_far(job(*many), earlier=first)
    assert made[12:] == ["Base 4"]
    lay_out_as_far(job(*many), earlier=second)
    assert len(made) == 13


def counting(make: Any, made: list[str]) -> Any:
    def init(self: CabinetAlone, cabinet: Cabinet, *rest: Any) -> None:
        made.append(cabinet.name)
        make(self, cabinet, *rest)

    return init


def test_what_cannot_be_read_leaves_what_is_kept() -> None:
    first = lay_out_as_far(job(("A", 400)))
    broken = lay_out_as_far(sources({"job.toml": CASES + "["}), earlier=first)
    assert broken.layout is None
    assert len(broken.faults) == 1
    again = lay_out_as_far(job(("A", 400)), earlier=broken)
    assert again.layout
    assert first.layout
    assert again.layout.cabinets[0] is first.layout.cabinets[0]


def test_what_has_a_fault_is_left_out_and_the_rest_is_laid_out() -> None:
    laid = lay_out_as_far(job(("A", 400), ("B", 30), rest='[[cabinet]]\nname = "C"\nheight = "tall"\n'))
    assert laid.layout
    assert [each.cabinet.name for each in laid.layout.cabinets] == ["A"]
    assert {fault.where.split(", ")[1] for fault in laid.faults} == {'cabinet 2 ("B")', 'cabinet 3 ("C")'}


def test_a_draft_is_read_in_the_place_of_its_file(tmp_path: Path) -> None:
    """With its shop file and its spreadsheet from the folder; the file itself need not be there."""
    (tmp_path / "sizes.csv").write_text("name,size\npens,100\nink,200\n", encoding="utf-8")
    (tmp_path / "shop.toml").write_text('units = "mm"\n[saw.table]\nkerf = 3\n', encoding="utf-8")
    text = 'title = "t"\n' + CASES.replace("[300, 200]", '"sizes.csv"')
    draft = lay_out_draft(text, tmp_path / "job.toml").whole()
    assert [span.size for span in draft.sticks[0].spans] == [18, 100, 18, 200, 18]
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    assert written_out(draft, {}) == written_out(load(tmp_path / "job.toml"), {})
    settings = tmp_path / "settings"
    settings.mkdir()
    (tmp_path / "shop.toml").rename(settings / "shop.toml")
    assert lay_out_draft(text, tmp_path / "job.toml").whole().job.shop is None
    assert lay_out_draft(text, tmp_path / "job.toml", settings).whole().job.shop == draft.job.shop
