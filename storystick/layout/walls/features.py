"""Features of a wall as points along it and up it. Stations are exact, in mm, from the datum or from the high point of
the floor."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from storystick.errors import Fault
from storystick.job.features import Feature, FeatureRow, WallOpening
from storystick.job.runs import Run, Uppers
from storystick.job.sticks import Datum
from storystick.layout.stations import Point, PointKind
from storystick.lengths import Figures

_MOST_IN_A_ROW: Final = 1000


def feature_points(
    feature: Feature | FeatureRow | WallOpening, length: Fraction, figures: Figures, datum: Datum = Datum.LEFT
) -> Iterator[Point]:
    """Where a feature, each of a row, or both edges of an opening are on a wall of a ``length`` in mm from its datum.

    Raises:
        Fault: one lies beyond the wall, or a row has too many.
    """
    match feature:
        case WallOpening(start=start, end=end, name=name):
            _check_within(name, end, length, figures)
            near, far = ("left", "right") if datum is Datum.LEFT else ("right", "left")
            yield Point(PointKind.FEATURE, f"{name}, {near} edge", start)
            yield Point(PointKind.FEATURE, f"{name}, {far} edge", end)
        case Feature(at=at, name=name):
            _check_within(name, at, length, figures)
            yield Point(PointKind.FEATURE, name, at)
        case FeatureRow(first=first, pitch=pitch, name=name):
            for place in range(_count(feature, length, figures)):
                yield Point(PointKind.FEATURE, f"{name} {place + 1}", first + pitch * place)


def _count(row: FeatureRow, length: Fraction, figures: Figures) -> int:
    _check_within(row.name, row.first, length, figures)
    until = length if row.until is None else row.until
    wall = figures(length)
    if until > length:
        what = f'"{row.name}" goes on until {figures(until)}, beyond the wall of {wall}'
        raise Fault(what, "leave until out: the row then goes on to the end of the wall")
    count = (until - row.first) // row.pitch + 1
    if count > _MOST_IN_A_ROW:
        what = f'"{row.name}" at a pitch of {figures(row.pitch)} comes to {count} marks'
        raise Fault(f"{what}; at most {_MOST_IN_A_ROW} are allowed", "make the pitch more or until less")
    return count


def _check_within(name: str, at: Fraction, length: Fraction, figures: Figures) -> None:
    if at > length:
        what = f'"{name}" at {figures(at)} lies beyond the wall of {figures(length)}'
        raise Fault(what, "move it nearer the datum")


def levels_of(run: Run) -> tuple[tuple[str, Fraction], ...]:
    """What runs along a whole wall at one height, by its name, rising: its heights, and both levels of its wall units.

    Of wall units that differ in height only the level that all have in common.
    """
    found = [(height.name, height.at) for height in run.heights]
    own = {at for _, at in found}
    levels = _hung_levels(run.uppers) if run.uppers else ()
    return _rising([*found, *((name, at) for name, at in levels if at not in own)])


def _hung_levels(uppers: Uppers) -> Iterator[tuple[str, Fraction]]:
    """The undersides and the tops of wall units, as far as these lie on one level."""
    high = {item.cabinet.height for item in uppers.order if item.cabinet}
    alike = high.pop() if len(high) == 1 else None
    bottom, top = uppers.bottom, uppers.top
    if alike is not None:
        bottom, top = (top - alike if top else bottom), (bottom + alike if bottom else top)
    yield from ((name, at) for name, at in (("wall unit bottom", bottom), ("wall unit top", top)) if at)


def heights_on(run: Run) -> tuple[tuple[str, Fraction], ...]:
    """All that has a height on a run's wall, rising: those, and the edges of openings and the middles of features."""
    found = list(levels_of(run))
    for feature in run.features:
        match feature:
            case WallOpening(name=name, bottom=bottom, top=top):
                found += [(f"{name}, lower edge", bottom)] if bottom else []
                found += [(f"{name}, upper edge", top)] if top else []
            case Feature(name=name, height=height) if height:
                found.append((name, height))
    return _rising(found)


def _rising(found: list[tuple[str, Fraction]]) -> tuple[tuple[str, Fraction], ...]:
    return tuple(sorted(found, key=lambda each: each[1]))
