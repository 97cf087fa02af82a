"""Pinch rods: which serves which diagonal, how one is made, and how its strip is laid and read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan, degrees, floor
from typing import Final

from storystick.job.job import Job
from storystick.job.shop import RodStock
from storystick.sheets.pages.flow import Block, Column, Room, heading, paragraph, side_by_side, table, titled
from storystick.sheets.print_choices import RODS_FILE
from storystick.sheets.strips import StripSheets
from storystick.squaring.rods import USE_HEADINGS, RodPlan, RodUse, too_short_words, use_rows

_WHAT: Final = (
    "Two sliding sticks with pointed ends, set to a diagonal. For each diagonal the table says which rod serves it and "
    "how far that is opened beyond its closed length, give or take half of what the two diagonals may differ by. The "
    "letter is that of the diagonal’s band on a strip for the rod."
)
_BLUNTEST: Final = 45
"""Degrees between a side of a point and its stick: sharp enough for a square corner (common practice, no source)."""

_MAKING: Final = (
    "Cut two straight sticks exactly to the length said. It takes in the points, and is the closed length of the rod.",
    "Point one end of each in the middle of its width, the sides of the point no more than the angle said from the "
    "stick’s own edges: then it enters the corner of the flattest rectangle, and no edge holds it off.",
    "Lay one stick behind the other as you look into the case, points outward, so that both points lie on one line. "
    "Hold them with two small clamps. Never open a rod so far that they overlap by less than said.",
)
_GLUING: Final = (
    "Cut out and join its tiles as those of any strip.",
    "Close the rod to its closed length exactly, from point to point.",
    "Lay the strip on one stick, its marking edge along the line where both sticks meet, its zero where the end of the "
    "other stick lies and its figures rising the way that this end moves as the rod is opened. Where a point is in the "
    "way, lay it farther along, and strike a line on the other stick at zero: read at that line from then on. Glue it, "
    "and fold what stands out round the stick.",
    "Each narrow band is a target: the diagonal of its letter, from half the tolerance below it to half above. A "
    "diagonal is accepted where the end of the other stick, or the line on it, stands within the band. Bands that "
    "would overlap are drawn as one.",
)
_USING: Final = (
    "Compare opposite sides first: equal diagonals prove a rectangle only where opposite sides are equal too.",
    "Set the rod to one diagonal, its points in the two corners, and clamp it. Then try it in the other diagonal: it "
    "must go in as it did in the first, with no force and no play.",
    "Turn it about once, end for end: it must read the same. If not, a point is out of line, or something lies in a "
    "corner.",
    "With a strip, read both diagonals. Both within the band: square, with the diagonal as planned. Alike but outside "
    "the band: square, with sides that are not as planned.",
    "An outside diagonal: lay the rod across the edges, its points over the two corners.",
)
_SHARES: Final = {"rod": 2.8, "band": 1.3, "for": 6.0}
_USES: Final = tuple(Column(word, _SHARES.get(word, 0.0), right=word not in _SHARES) for word in USE_HEADINGS)
_NEW_RODS: Final = (
    Column("to make", 1),
    Column("two sticks, each", right=True),
    Column("square", right=True),
    Column("overlap at least", right=True),
    Column("opens to", right=True),
    Column("sides of points", right=True),
)


def rod_blocks(plan: RodPlan, strips: StripSheets | None, tiled: bool, job: Job, room: Room) -> Iterator[Block]:
    """The chapter. ``strips`` is None for a job without a shop, which has none; ``tiled`` is whether their sheets are
    printed."""
    width = room.width_mm
    uses = table(_USES, use_rows(plan, job.figures), width) if plan.rods else ()
    yield from titled("Pinch rods", (*paragraph(_WHAT, width), *uses), width)
    if too_short := too_short_words(plan, job.figures):
        yield from paragraph(too_short, width, indent_mm=6.0, sign="!")
    yield from _making(plan, job, width)
    if strips:
        where = [f"It is on {strips.paper_words} in {RODS_FILE}."] if tiled else []
        yield from _numbered("The strip on a rod", (*where, *_GLUING), width)
        for warning in strips.warnings:
            yield from paragraph(warning, width, indent_mm=6.0, sign="!")
    elif plan.rods:
        known = "Give the rods in a shop file, by their closed and open lengths, and strips for them are printed too."
        yield from paragraph(known, width)
    if plan.rods:
        yield from _numbered("Using a rod", _USING, width)


def _making(plan: RodPlan, job: Job, width: float) -> Iterator[Block]:
    """The rods that the shop has, and those that it lacks with how to make them."""
    owned = [
        f"{rod.name}: {job.figures(rod.closed)} closed, {job.figures(rod.open)} open"
        for rod in plan.rods
        if not rod.to_make
    ]
    if owned:
        yield from paragraph(f"{'; '.join(owned)}.", width)
    if plan.to_make:
        stock = job.shop.rod_stock if job.shop else RodStock()
        yield from table(_NEW_RODS, [_new_row(rod, stock, job) for rod in plan.to_make], width)
        yield from _numbered("Making a rod", _MAKING, width)


def _new_row(rod: RodUse, stock: RodStock, job: Job) -> tuple[str, ...]:
    lengths = (rod.closed, stock.section, stock.overlap, rod.open)
    most = point_degrees(rod)
    return (rod.name, *map(job.figures, lengths), f"{most}° or less" if most else "less than 1°")


def point_degrees(rod: RodUse) -> int:
    """How far the sides of a point may stand from its stick to reach the corners of every rectangle, in degrees."""
    return min(_BLUNTEST, floor(degrees(atan(rod.flattest))))


def _numbered(title: str, lines: Sequence[str], width: float) -> Iterator[Block]:
    yield heading(title, width)
    yield from side_by_side(lines, width, numbered=True)
