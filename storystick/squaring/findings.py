"""What is said of diagonals: how to measure them, what they show, and what to do about it.

Where no source is named, it is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from typing import Final

from storystick.job.job import Job
from storystick.lengths import Units, write_exact, write_root
from storystick.squaring.corners import Quadrilateral, Six
from storystick.squaring.lean import Lean, Suspect
from storystick.squaring.rack import Diagonal, Move, Racked
from storystick.squaring.rectangles import Target, reading_figures, write_limit
from storystick.wording import by_number, listed

DIAGONAL_HEADINGS: Final = ("rectangle", "width", "height", "diagonal", "may differ", "a rack of")
SIDES_TOO: Final = "Opposite sides must be equal too: measure all four and give --sides."
EQUAL_IS_NOT_ENOUGH: Final = (
    "Equal diagonals prove a rectangle only where opposite sides are equal too: a case that is wider at the top than "
    "at the bottom has equal diagonals and no square corner. Compare bottom with top and left with right first."
)
SQUARES_LIE: Final = (
    "A square in a clamped corner lies as soon as a side bows; the two diagonals do not, since they ask the corners "
    "only. So lay a straightedge along each side as well, and ease the clamp where it shows a bow."
)
MEASURE: Final = (
    "Measure both diagonals on one face, from corner to corner, with the same rule or the same pair of sticks: rising "
    "from lower left to upper right, falling from upper left to lower right. Write both down."
)
TOE: Final = (
    "Where toe notches cut away the lower front corners, the outside of a case is measured at its back edges; in front "
    "take the inside, which begins above them."
)
LONG_SHOWS: Final = (
    "The longer diagonal shows the way. Rising longer: the top stands too far right, push it to the left. Falling "
    "longer: the top stands too far left, push it to the right. The bottom stays where it is."
)
CLAMPS: Final = {
    Diagonal.RISING: "the left ends of the clamps lower and their right ends higher",
    Diagonal.FALLING: "the left ends of the clamps higher and their right ends lower",
}
CLAMPS_ASKEW: Final = (
    "Set the clamps that lie across a little askew, so that they pull along the longer diagonal: for rising, "
    f"{CLAMPS[Diagonal.RISING]}; for falling, {CLAMPS[Diagonal.FALLING]}. Turn a little, measure both again, and stop "
    "when they agree: each then reads the figure of the table."
)
CAUTION: Final = (
    "A case in clamps is heavy and under load: lift it with two people, by its sides and not by the clamps, keep face "
    "and fingers out of the line of a clamp, and stop when a joint opens. The clamp maker's manual and your local "
    "rules stand above this sheet."
)
_MOVES: Final = {Move.LEFT: "left", Move.RIGHT: "right"}


def tolerance_words(job: Job) -> str:
    """Where the differences that count as square come from."""
    if job.shop and job.shop.square is not None:
        most = write_limit(job.shop.square, job)
        return f"Diagonals that differ by {most} or less count as square, as the shop file says."
    usual = {
        Units.INCH: "1/32 up to a diagonal of 80, 1/16 beyond",
        Units.MM: "0.8 up to a diagonal of 2000, 1.6 beyond",
    }[job.units]
    return (
        f"What diagonals may differ by: {usual} (common practice, no source). A shop file may say its own, "
        "as tolerance under [square]."
    )


def error_words(racked: Racked, job: Job) -> str:
    """What readings are taken to be off by, and where that comes from."""
    figures = reading_figures(job)
    says = "one division" if racked.off is None else "as the shop file says"
    own = "; a shop file may say its own, as reading_error under [square]" if racked.off is None else ""
    return (
        f"Each reading is taken to be off by up to {figures(racked.error)} ({says}{own}): only what is beyond that is "
        "called wrong."
    )


def toe_words(targets: Iterable[Target]) -> Iterator[str]:
    """Why some rectangles are measured at some of their edges only; nothing where none is."""
    if any(target.rectangle.edges for target in targets):
        yield TOE


def diagonal_label(target: Target, job: Job) -> str:
    """The diagonal as it should be, rounded, with full or scant."""
    return write_root(target.rectangle.diagonal_squared, job.units, job.round_to)


def diagonal_rows(targets: Iterable[Target], job: Job) -> list[tuple[str, ...]]:
    """What is to be measured, a row for each rectangle, or for several in a row that differ by their number only."""
    rows: list[tuple[list[str], tuple[str, ...]]] = []
    for target in targets:
        figures = _row_figures(target, job)
        if rows and rows[-1][1] == figures and len(by_number([rows[-1][0][0], target.rectangle.told])) == 1:
            rows[-1][0].append(target.rectangle.told)
        else:
            rows.append(([target.rectangle.told], figures))
    return [(listed(by_number(names)), *figures) for names, figures in rows]


def _row_figures(target: Target, job: Job) -> tuple[str, ...]:
    return (
        job.label(target.rectangle.width),
        job.label(target.rectangle.height),
        diagonal_label(target, job),
        write_limit(target.differ, job),
        write_root(target.rack_squared, job.units, reading_figures(job).step),
    )


def read_words(racked: Racked, job: Job) -> str:
    """What was measured."""
    reading, figures = racked.reading, reading_figures(job)
    rising, falling = map(figures, (reading.rising, reading.falling))
    words = f"{racked.target.name}: rising {rising}, falling {falling}"
    if reading.sides is None:
        return words
    sides = ", ".join(f"{name} {figures(length)}" for name, length in reading.sides._asdict().items())
    return f"{words}, {sides}"


def verdict(racked: Racked, job: Job) -> str:
    """Whether it counts as square; and if not, how it stands and what to do."""
    figures = reading_figures(job)
    differ, most = figures(abs(racked.difference)), write_limit(racked.target.differ, job)
    if racked.is_square:
        by = f"The diagonals differ by {differ}, and may by {most}" if racked.difference else "The diagonals are equal"
        return f"{by}, but the sides do not agree." if racked.sides_agree is False else f"{by}: leave it."
    assert racked.long is not None
    rack, within = figures(abs(racked.rack)), figures.at_least(racked.rack_within)
    aside = "right" if racked.rack > 0 else "left"
    return (
        f"The {racked.long.value} diagonal is longer, by {differ}: the top stands {rack} too far {aside} "
        f"({abs(racked.angle_degrees):.2f}°), within {within} as it was read. Move the top {rack} to the "
        f"{_MOVES[racked.move_top]}: set {CLAMPS[racked.long]}, so that they pull along the {racked.long.value} "
        f"diagonal, until both read {_goal(racked, job)}."
    )


def _goal(racked: Racked, job: Job) -> str:
    """What both diagonals measure when they are equal: their root mean square, which the rack does not change."""
    return write_root((racked.reading.rising**2 + racked.reading.falling**2) / 2, job.units, reading_figures(job).step)


def findings(racked: Racked, job: Job) -> Iterator[str]:
    """What else the readings show, sentence by sentence."""
    figures = reading_figures(job)
    if not racked.is_sure:
        read_to = figures(racked.read_to)
        yield (
            f"Read to {read_to}, the difference is known to {read_to} only, and may lie on either side of what is "
            "allowed: read finer."
        )
    if racked.is_too_long:
        longer = "longer" if racked.too_long > 0 else "shorter"
        larger = "larger" if racked.too_long > 0 else "smaller"
        sides = " and ".join(map(figures, (racked.width, racked.height)))
        yield (
            f"Both diagonals together are {figures(abs(racked.too_long))} {longer} than sides of {sides} "
            f"allow: it is {larger} than in the job, or a reading is wrong."
        )
    yield from _side_findings(racked, job)


def _side_findings(racked: Racked, job: Job) -> Iterator[str]:
    sides, rectangle, figures = racked.reading.sides, racked.target.rectangle, reading_figures(job)
    if sides is None:
        return
    for one, other, first, second in (
        ("bottom", "top", sides.bottom, sides.top),
        ("left", "right", sides.left, sides.right),
    ):
        if abs(first - second) > racked.sides_differ:
            longer = one if first > second else other
            yield (
                f"Of {one} and {other}, {longer} is longer by {figures(abs(first - second))}: it is "
                "no rectangle, whatever its diagonals say, and pushing does not mend that. Look at the parts and the "
                "joints."
            )
    for word, measured, wanted in (
        ("width", racked.width, rectangle.width),
        ("height", racked.height, rectangle.height),
    ):
        if abs(measured - wanted) > racked.error + racked.target.differ:
            more = "more" if measured > wanted else "less"
            yield f"Its {word} is {figures(abs(measured - wanted))} {more} than in the job."


def fit_words(fitted: Quadrilateral, racked: Racked, job: Job) -> Iterator[str]:
    """Where the corners are, and whether the six readings fit one another."""
    label = _float_label(job)
    corners = "; ".join(
        f"{name.replace('_', ' ')} {label(x)} across, {label(y)} up"
        for name, (x, y) in fitted.corners._asdict().items()
    )
    yield f"Its corners, from the lower left one along the bottom: {corners}."
    explained = reading_figures(job)(racked.error)
    if fitted.unfit <= float(racked.error):
        yield f"The six readings fit one another: none need be off by more than {explained}."
        return
    alone = _alone(fitted.alone, racked, label)
    yield (
        f"The six readings do not fit one another: some are off by {label(fitted.unfit)} or more, and {explained} is "
        f"what one may be off by. Five would settle the shape, so six can show that one is wrong, but not which. If "
        f"it is one alone, it should read: {alone}. Measure again."
    )


def _float_label(job: Job) -> Callable[[float], str]:
    """To the nearest step, without full or scant: what was fitted to readings is not known so finely."""
    step = reading_figures(job).step
    return lambda length: write_exact(round(Fraction(length) / step) * step, job.units)


def _alone(alone: Six, racked: Racked, label: Callable[[float], str]) -> str:
    sides, reading = racked.reading.sides, racked.reading
    assert sides is not None
    read = {"rising": reading.rising, "falling": reading.falling, **sides._asdict()}
    return ", ".join(f"{name} {label(float(length) + getattr(alone, name))}" for name, length in read.items())


def suspect_words(suspect: Suspect, job: Job) -> str:
    """Which one reading is out, and what it would be."""
    should = _float_label(job)(float(suspect.should))
    return (
        f"! The {suspect.of} reading of {suspect.racked.target.name} is the suspect: all the others agree without it, "
        f"and by them it should read about {should}. Measure it again before anything is moved; if it stays, look at "
        "the parts and the joints there."
    )


def lean_words(lean: Lean) -> Iterator[str]:
    """What several rectangles of one body show together."""
    if lean.lean is None or lean.angle_degrees is None:
        names = listed(by_number(racked.target.name for racked in lean.apart))
        yield f"No one lean explains {names}: a part among them is cut wrong or bowed, or a reading is wrong."
        return
    if len(lean.measured) > 1:
        yield _lean_of_all(lean)
    for racked in lean.apart:
        if lean.suspect and racked is lean.suspect.racked:
            continue
        yield (
            f"! Rising and falling of {racked.target.name} look swapped: changed over, they agree with the others."
            if racked in lean.swapped
            else f"! {racked.target.name} does not lean with the others: a part of it is cut wrong or bowed, or a "
            "reading is wrong."
        )


def _lean_of_all(lean: Lean) -> str:
    degrees, count = lean.angle_degrees, len(lean.agreeing)
    assert degrees is not None
    together = "Together" if len(lean.measured) == count else f"{count} of the {len(lean.measured)} that were measured"
    if abs(degrees) < 0.005:
        return f"{together} stand upright."
    return f"{together} lean to the {'right' if degrees > 0 else 'left'} by {abs(degrees):.2f}°."


EXPECTED_HEADINGS: Final = ("not measured: expect", "rising", "falling")


def expected_rows(lean: Lean, job: Job) -> list[tuple[str, ...]]:
    """What the diagonals of the other rectangles should measure, while the body leans so."""
    return [
        (
            each.target.name,
            write_root(each.rising_squared, job.units, reading_figures(job).step),
            write_root(each.falling_squared, job.units, reading_figures(job).step),
        )
        for each in lean.expected()
    ]
