"""Reading what the sticks of a job call by name: its stocks and its joints."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from inspect import Parameter, signature
from typing import Final, TypeVar

from storystick.errors import Fault
from storystick.job.joints import JOINT_KINDS, Joint
from storystick.job.model import Stock
from storystick.job.tables import Names, Table, choice, distance, read_name, size, word_or
from storystick.lengths import INCH_MM, Figures, Units, write_figure

T = TypeVar("T")

LOOSEST_FIT: Final = INCH_MM / 16
"""No groove is meant to be wider than what goes into it by more, in mm: judgement, no source."""


def read_stocks(job: Table, units: Units) -> Names[Stock]:
    """The stocks under ``[stock]``."""
    return read_named(job, "stock", "[stock], {}", lambda name, value: _read_stock(name, value, units))


def _read_stock(name: str, value: object, units: Units) -> Stock:
    if isinstance(value, dict):
        raise Fault("a table is not a thickness", f"write the thickness itself below [stock], as in {name} = …")
    return Stock(name, size(units)(value))


def read_joints(job: Table, units: Units) -> Names[Joint]:
    """The joints, each a table under ``[joint]``."""
    return read_named(job, "joint", "[joint.{}]", lambda name, value: _read_joint(name, Table(value), units))


def read_named(job: Table, word: str, place: str, read: Callable[[str, object], T], of: str = "this job") -> Names[T]:
    """What ``read`` makes of each key under ``[word]``, from the key and its value; ``place`` has room for the key."""
    table = job.get(word, lambda value: _read_heading(word, value), None if job.has(word) else Table({}))
    if table is None:
        return Names(word, None, of)
    things: dict[str, T | None] = dict.fromkeys(table)
    for key in things:
        with job.at(place.format(key)):
            things[key] = read(read_name(key), table[key])
    return Names(word, things, of)


def _read_heading(word: str, value: object) -> Table:
    if isinstance(value, list):
        cure = f"write [{word}] once, with one bracket at each side, and below it a key for each"
        raise Fault("the heading has two brackets at each side", cure)
    return Table(value)


def _read_joint(name: str, table: Table, units: Units) -> Joint:
    """The keys of a joint are the fields of its class; those with a default may be left out."""
    build = table.need("kind", choice(JOINT_KINDS))
    table.stop_if_faulty()
    figures = {
        field.name: _read_field(table, field, units)
        for field in signature(build).parameters.values()
        if field.name != "name"
    }
    table.close()
    _check_gap(figures, units)
    _check_fit(figures, units)
    return build(name=name, **figures)


def _read_field(table: Table, field: Parameter, units: Units) -> Fraction | None:
    """A field's key: a size that is needed, unless the class has a default; some keys may say more than a size."""
    may_be: Mapping[str, Callable[[object], Fraction | None]] = {
        "bottom_gap": distance(units),
        "fit": distance(units),
        "set": word_or("centre", None, distance(units)),
    }
    if field.default is Parameter.empty:
        return table.need(field.name, size(units))
    default: Fraction | None = field.default
    return table.get(field.name, may_be.get(field.name, size(units)), default)


def _check_gap(figures: Mapping[str, Fraction | None], units: Units) -> None:
    gap, depth = figures.get("bottom_gap"), figures.get("depth")
    if gap is not None and depth is not None and gap >= depth:
        what = f"{write_figure(gap, units)} leaves nothing in a groove {write_figure(depth, units)} deep"
        raise Fault(what, "make it less than depth", "bottom_gap")


def _check_fit(figures: Mapping[str, Fraction | None], units: Units) -> None:
    fit, width = figures.get("fit") or Fraction(0), figures.get("width")
    if fit > LOOSEST_FIT:
        most = f"{Figures.usual(units).at_most(LOOSEST_FIT)} {units.sign}"
        raise Fault(f"{write_figure(fit, units)} is more than {most}, and no fit", "look at its unit", "fit")
    if width is not None and fit >= width:
        what = f"{write_figure(fit, units)} leaves no tongue in a groove {write_figure(width, units)} wide"
        raise Fault(what, "make it less than width", "fit")
