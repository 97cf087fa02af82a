"""Fronts, or openings of a face frame, that come out unequal or out of order where the case's openings are not.

A rail covers more of one opening than of the next, and the outer edges are unlike the inner ones; so sizes of the case
that are equal, or the largest at the bottom, need not be so where they are seen.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from storystick.cutting.fronts import fronts_of
from storystick.job.cabinets import Sizes
from storystick.job.compartments import Compartment
from storystick.job.fronts import FrontKind
from storystick.job.openings import Fixed, Graduated, Opening, Share
from storystick.layout.cabinets.closings import closings_of
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Range
from storystick.lengths import Figures
from storystick.wording import by_number, listed


@dataclass(frozen=True, slots=True)
class _Seen:
    """What is seen of one or more openings: fronts of a ``kind``, or openings of the frame (NONE), and their ``size``.

    ``name`` is what they are called in the job, and ``share`` what they were asked to take of what is left, if that.
    """

    name: str
    kind: FrontKind
    size: Fraction
    share: Fraction | None = None


def uneven_warnings(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Sentences with the figures of what is seen, those that are alike told as one, and what to write instead.

    Raises:
        Faults: as :func:`~storystick.cutting.fronts.fronts_of`.
    """
    if layout.cabinet.sizes is Sizes.FRONTS:
        return
    found: dict[tuple[str, tuple[str, ...], FrontKind], list[str]] = {}
    faces = _Faces(layout, figures)
    for way, seen in _equal_lines(layout, faces):
        for alike in _by_share(seen):
            sizes = [each.size for each in alike]
            if max(sizes) - min(sizes) >= figures.step:
                key = way, tuple(map(figures, sizes)), alike[0].kind
                found.setdefault(key, []).extend(each.name for each in alike)
    for (way, labels, kind), names in found.items():
        which = listed(by_number(dict.fromkeys(names)))
        what, cure = _WORDS[kind is FrontKind.NONE]
        yield f"{which} are equal in the case, but their {what} are {_told(labels)} {way}; {cure} for equal ones"
    yield from _out_of_order(layout, faces, figures)


_WORDS: Final = {
    False: ("fronts", 'write sizes = "fronts"'),
    True: ("openings in the face frame", 'write sizes = "frame"'),
}
"""What is seen, by whether that is an opening, and what to write."""


_MOST_TOLD: Final = 6


def _told(labels: Sequence[str]) -> str:
    """Sizes one after another; of many only those that differ."""
    if len(labels) <= _MOST_TOLD:
        return listed(labels)
    return listed([f"{count} × {label}" for label, count in Counter(labels).items()])


def _by_share(seen: Sequence[_Seen]) -> Iterator[list[_Seen]]:
    """Those that were to be equal and are of one kind, where there are two or more."""
    groups: dict[tuple[Fraction, FrontKind], list[_Seen]] = {}
    for each in seen:
        if each.share is not None:
            groups.setdefault((each.share, each.kind), []).append(each)
    return (group for group in groups.values() if len(group) > 1)


def _equal_lines(layout: CabinetLayout, faces: _Faces) -> Iterator[tuple[str, list[_Seen]]]:
    """Every line that a cabinet is divided along, with the way of its sizes: bands, columns, and openings."""
    rows = layout.cabinet.rows
    yield (
        "high",
        [
            faces.upward(f"row {number}", layout_row(layout, number), _share(row.height))
            for number, row in enumerate(rows, start=1)
        ],
    )
    for number, row in enumerate(rows, start=1):
        bays = layout_row(layout, number)
        word = f"row {number}, column {{}}" if len(rows) > 1 else "column {}"
        if row.front:
            continue
        columns = [[bay for bay in bays if bay.column == place] for place in range(1, len(row.columns) + 1)]
        yield (
            "wide",
            [
                faces.across(word.format(place), own, _share(column.width))
                for place, (own, column) in enumerate(zip(columns, row.columns, strict=True), start=1)
            ],
        )
        for own, column in zip(columns, row.columns, strict=True):
            if column.front:
                continue
            yield (
                "high",
                [
                    faces.upward(faces.names[group[0]], group, _share(compartment.item.size))
                    for compartment, group in _in_turn(column.compartments, own)
                    if isinstance(compartment.item, Opening)
                ],
            )


def layout_row(layout: CabinetLayout, number: int) -> list[Bay]:
    """The openings of a band."""
    return [bay for bay in layout.bays if bay.row == number]


def _share(size: Fixed | Share | None) -> Fraction | None:
    return size.share if isinstance(size, Share) else None


def _in_turn(compartments: Iterable[Compartment], bays: Sequence[Bay]) -> Iterator[tuple[Compartment, Sequence[Bay]]]:
    """The openings and groups of a column, each with the openings that it is."""
    at = 0
    for compartment in compartments:
        yield compartment, bays[at : at + compartment.count]
        at += compartment.count


class _Faces:
    """What is seen of each opening: its front, or the opening of the face before it."""

    def __init__(self, layout: CabinetLayout, figures: Figures) -> None:
        closings = closings_of(layout)
        self.names = {bay: closing.name for closing in closings for bay in closing.bays}
        self.kinds = {bay: closing.kind for closing in closings for bay in closing.bays}
        if layout.cabinet.fronts is None:
            self.kinds = dict.fromkeys(layout.bays, FrontKind.NONE)
        self.places = {bay: (bay.frame_x, bay.frame_z) for bay in layout.bays}
        self.places |= {bay: (front.x, front.z) for front in fronts_of(layout, figures) for bay in front.closing.bays}

    def across(self, name: str, bays: Sequence[Bay], share: Fraction | None) -> _Seen:
        size = Range.over(self.places[bay][0] for bay in bays).size
        return _Seen(name, self.kinds[bays[0]], size, share)

    def upward(self, name: str, bays: Sequence[Bay], share: Fraction | None) -> _Seen:
        size = Range.over(self.places[bay][1] for bay in bays).size
        return _Seen(name, self.kinds[bays[0]], size, share)


def _out_of_order(layout: CabinetLayout, faces: _Faces, figures: Figures) -> Iterator[str]:
    """Graduated openings whose fronts are not smaller one by one from the bottom up."""
    for number, row in enumerate(layout.cabinet.rows, start=1):
        for place, column in enumerate(row.columns, start=1):
            bays = [bay for bay in layout_row(layout, number) if bay.column == place]
            for compartment, group in _in_turn(column.compartments, bays):
                if row.front or column.front or not isinstance(compartment.item, Graduated):
                    continue
                seen = [faces.upward(bay.name, [bay], None) for bay in group]
                if all(low.size > high.size for low, high in pairwise(seen)):
                    continue
                what, cure = _WORDS[seen[0].kind is FrontKind.NONE]
                which = listed(by_number(each.name for each in seen))
                sizes = _told([figures(each.size) for each in seen])
                yield (
                    f"{which} are graduated in the case, but their {what} are {sizes} high from the bottom, and so out "
                    f"of order; {cure} to graduate what is seen"
                )
