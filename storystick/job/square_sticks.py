"""Square sticks: several sticks of a job as the faces of one square stick, and the reading of them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.model import Hand, default_name, numbered_place
from storystick.job.numbered import read_numbered
from storystick.job.tables import Kind, Table, choice, read_list, read_name, size
from storystick.lengths import Units

SIDES: Final = 4
_WORD: Final = "square_stick"


@dataclass(frozen=True, slots=True)
class SquareStick:
    """A square stick as the job gives it: ``faces`` are names of sticks, in order round it; none has more than four.

    ``girth`` is the distance round it in mm. ``hand`` is that of the faces which are of a pair, and the way all run.
    """

    number: int
    name: str
    girth: Fraction
    faces: tuple[str, ...]
    hand: Hand = Hand.LEFT

    def __post_init__(self) -> None:
        if self.girth <= 0 or not 1 <= len(self.faces) <= SIDES:
            raise ValueError(f"a square stick of {len(self.faces)} faces, {self.girth} mm round")

    @property
    def side(self) -> Fraction:
        """The width of a face in mm."""
        return self.girth / SIDES

    @property
    def place(self) -> str:
        """Where a fault in this square stick stands, in the words of a message."""
        return numbered_place(_WORD, self.number, self.name)


def read_square_sticks(job: Table, units: Units) -> tuple[SquareStick, ...]:
    """The square sticks in which nothing is at fault; the faults of the others are kept in ``job``."""
    return read_numbered(job, _WORD, lambda number, name, table: _read_square_stick(number, name, table, units))


def _read_square_stick(number: int, name: str, table: Table, units: Units) -> SquareStick:
    hands = {hand.value: hand for hand in Hand}
    girth = _read_girth(table, units)
    faces = table.need("faces", _FACES)
    hand = table.get("hand", choice(hands), Hand.LEFT)
    table.close()
    own_name = name.replace("_", " ") if name == default_name(_WORD, number) else name
    return SquareStick(number, own_name, girth, faces, hand)


def _read_girth(table: Table, units: Units) -> Fraction:
    """The girth, given itself or as four times the side."""
    given = [key for key in ("side", "girth") if table.has(key)]
    if len(given) != 1:
        what = "both side and girth are given" if given else "neither side nor girth is given"
        table.fault(what, "give one of them: the width of a side, or the distance round the stick")
    side, girth = table.get("side", size(units), None), table.get("girth", size(units), None)
    return girth or SIDES * (side or Fraction(1))


def _read_faces(value: object) -> tuple[str, ...]:
    names = [read_name(name) for name in read_list(value)]
    if len(names) > SIDES:
        raise Fault(f"{len(names)} faces are given; a square stick has {SIDES}", "leave some out, or add another stick")
    return tuple(names)


_STAND_IN: Final[tuple[str, ...]] = ("",)
_FACES: Final = Kind(_read_faces, _STAND_IN, '["…", "…"]', "the names of sticks")
