"""What is said of diagonals: how to measure them, what they show, and what to do about it.

Where no source is named, it is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from storystick.job.job import Job
from storystick.lengths import Figures, Units
from storystick.squaring.corners import Quadrilateral
from storystick.squaring.lean import MeasuredBody, Suspect
from storystick.squaring.rack import Diagonal, Racked, too_long_words
from storystick.squaring.readings import OPPOSITE, Sides
from storystick.squaring.rectangles import Target, write_limit
from storystick.wording import by_number, listed

DIAGONAL_HEADINGS: Final = ("rectangle", "width", "height", "diagonal", "may differ", "a rack of")
NO_RECTANGLE: Final = (
    "The job has no cabinet and no [[rectangle]] with name, width and height, and a plain stick says nothing of "
    "diagonals."
)
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
HOW_TO_MEASURE: Final = (MEASURE, LONG_SHOWS, CLAMPS_ASKEW, EQUAL_IS_NOT_ENOUGH, SQUARES_LIE)
"""What every page that has diagonals says of measuring them, in this order."""

CAUTION: Final = (
    "A case in clamps is heavy and under load: lift it with two people, by its sides and not by the clamps, keep face "
    "and fingers out of the line of a clamp, and stop when a joint opens. The clamp maker's manual and your local "
    "rules stand above this sheet."
)


def tolerance_words(job: Job) -> str:
    """Where the differences that count as square come from."""
    if job.shop and job.shop.square.tolerance is not None:
        most = write_limit(job.shop.square.tolerance, job.figures)
        return f"Diagonals that differ by {most} or less count as square, as the shop file says."
    usual = {
        Units.INCH: "1/32 up to a diagonal of 80, 1/16 beyond",
        Units.MM: "0.8 up to a diagonal of 2000, 1.6 beyond",
    }[job.units]
    return (
        f"What diagonals may differ by: {usual} (common practice, no source). A shop file may say its own, "
        "as tolerance under [square]."
    )


def error_words(racked: Racked, figures: Figures) -> str:
    """What readings are taken to be off by, and where that comes from."""
    says = "one division" if racked.off is None else "as the shop file says"
    own = "; a shop file may say its own, as reading_error under [square]" if racked.off is None else ""
    return (
        f"Each reading is taken to be off by up to {figures.fine(racked.error)} ({says}{own}): only what is beyond "
        "that is called wrong."
    )


def toe_words(targets: Iterable[Target]) -> Iterator[str]:
    """Why some rectangles are measured at some of their edges only; nothing where none is."""
    if any(target.rectangle.edges for target in targets):
        yield TOE


class TargetFigures(NamedTuple):
    """How the sizes of a rectangle are said, what its diagonals may differ by, and the rack at which they do so."""

    width: str
    height: str
    diagonal: str
    may_differ: str
    rack: str


def target_figures(target: Target, figures: Figures) -> TargetFigures:
    rectangle = target.rectangle
    return TargetFigures(
        figures(rectangle.width),
        figures(rectangle.height),
        figures.of_root(rectangle.diagonal_squared),
        write_limit(target.differ, figures),
        figures.fine.of_root(target.rack_squared),
    )


def diagonal_rows(targets: Iterable[Target], figures: Figures) -> list[tuple[str, ...]]:
    """What is to be measured, a row for each rectangle, or for several in a row that differ by their number only."""
    rows: list[tuple[list[str], tuple[str, ...]]] = []
    for target in targets:
        said, name = target_figures(target, figures), target.rectangle.told
        if rows and rows[-1][1] == said and len(by_number([rows[-1][0][0], name])) == 1:
            rows[-1][0].append(name)
        else:
            rows.append(([name], said))
    return [(listed(by_number(names)), *said) for names, said in rows]


def read_words(racked: Racked, figures: Figures) -> str:
    """What was measured."""
    read = ", ".join(f"{name} {figures.fine(length)}" for name, length in racked.reading.lengths.items())
    return f"{racked.target.name}: {read}"


def verdict(racked: Racked, figures: Figures) -> str:
    """Whether it counts as square; and if not, how it stands and what to do."""
    figures = figures.fine
    differ, most = figures(abs(racked.difference)), write_limit(racked.target.differ, figures)
    if racked.is_square:
        by = f"The diagonals differ by {differ}, and may by {most}" if racked.difference else "The diagonals are equal"
        return f"{by}, but the sides do not agree." if racked.sides_agree is False else f"{by}: leave it."
    assert racked.long is not None
    rack, within = figures(abs(racked.rack)), figures.at_least(racked.rack_within)
    push = move_words(racked, figures)
    aside = "right" if racked.rack > 0 else "left"
    return (
        f"The {racked.long.value} diagonal is longer, by {differ}: the top stands {rack} too far {aside} "
        f"({abs(racked.angle_degrees):.2f}°), within {within} as it was read. {push}: "
        f"set {CLAMPS[racked.long]}, so that they pull along the {racked.long.value} "
        f"diagonal, until both read {figures.of_root(racked.mean_square)}."
    )


def move_words(racked: Racked, figures: Figures) -> str:
    """What is done about it, in few words."""
    if not racked.is_square:
        return f"Move the top {figures.fine(abs(racked.rack))} to the {racked.move_top.value}"
    return "Leave it" if racked.sides_agree is not False else "Look at its sides"


def told_words(racked: Racked, lean: MeasuredBody, shape: Quadrilateral | None, figures: Figures) -> Iterator[str]:
    """All that is said of one rectangle; nothing is made of it where a reading of it is the suspect.

    ``shape`` is where its corners are, None where its sides were not measured.
    """
    if lean.suspect and racked is lean.suspect.racked:
        yield suspect_words(lean.suspect, figures)
        return
    yield verdict(racked, figures)
    yield from (f"! {finding}" for finding in findings(racked, figures))
    if shape:
        yield from fit_words(shape, racked, figures)


def findings(racked: Racked, figures: Figures) -> Iterator[str]:
    """What else the readings show, sentence by sentence."""
    figures = figures.fine
    if not racked.is_sure:
        read_to = figures(racked.read_to)
        yield (
            f"Read to {read_to}, the difference is known to {read_to} only, and may lie on either side of what is "
            "allowed: read finer."
        )
    if racked.is_too_long:
        larger = "larger" if racked.too_long > 0 else "smaller"
        yield (
            f"Both diagonals together are {too_long_words(racked, figures)}: it is {larger} than in the job, or a "
            "reading is wrong."
        )
    if racked.reading.sides:
        yield from _side_findings(racked, racked.reading.sides, figures)


def _side_findings(racked: Racked, sides: Sides, figures: Figures) -> Iterator[str]:
    for one, other in OPPOSITE:
        more = getattr(sides, one) - getattr(sides, other)
        if abs(more) > racked.sides_differ:
            yield (
                f"Of {one} and {other}, {one if more > 0 else other} is longer by {figures(abs(more))}: it is "
                "no rectangle, whatever its diagonals say, and pushing does not mend that. Look at the parts and the "
                "joints."
            )
    for word, measured, wanted in racked.sizes:
        if abs(measured - wanted) > racked.error + racked.target.differ:
            more = "more" if measured > wanted else "less"
            yield f"Its {word} is {figures(abs(measured - wanted))} {more} than in the job."


def fit_words(fitted: Quadrilateral, racked: Racked, figures: Figures) -> Iterator[str]:
    """Where the corners are, and whether the six readings fit one another."""
    figures, label = figures.fine, figures.fine.nearest
    corners = "; ".join(
        f"{name.replace('_', ' ')} {label(x)} across, {label(y)} up"
        for name, (x, y) in fitted.corners._asdict().items()
    )
    yield f"Its corners, from the lower left one along the bottom: {corners}."
    explained = figures(racked.error)
    if fitted.unfit <= float(racked.error):
        yield f"The six readings fit one another: none need be off by more than {explained}."
        return
    lengths = racked.reading.lengths.items()
    alone = ", ".join(f"{name} {label(float(length) + getattr(fitted.alone, name))}" for name, length in lengths)
    yield (
        f"The six readings do not fit one another: some are off by {label(fitted.unfit)} or more, and {explained} is "
        f"what one may be off by. Five would settle the shape, so six can show that one is wrong, but not which. If "
        f"it is one alone, it should read: {alone}. Measure again."
    )


def suspect_words(suspect: Suspect, figures: Figures) -> str:
    """Which one reading is out, and what it would be."""
    should = figures.fine.nearest(suspect.should)
    return (
        f"! The {suspect.of} reading of {suspect.racked.target.name} is the suspect: all the others agree without it, "
        f"and by them it should read about {should}. Measure it again before anything is moved; if it stays, look at "
        "the parts and the joints there."
    )


def lean_words(lean: MeasuredBody) -> Iterator[str]:
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


def _lean_of_all(lean: MeasuredBody) -> str:
    degrees, count = lean.angle_degrees, len(lean.agreeing)
    assert degrees is not None
    together = "Together" if len(lean.measured) == count else f"{count} of the {len(lean.measured)} that were measured"
    if abs(degrees) < 0.005:
        return f"{together} stand upright."
    return f"{together} lean to the {'right' if degrees > 0 else 'left'} by {abs(degrees):.2f}°."


EXPECTED_HEADINGS: Final = ("not measured: expect", "rising", "falling")


def expected_rows(lean: MeasuredBody, figures: Figures) -> list[tuple[str, ...]]:
    """What the diagonals of the other rectangles should measure, while the body leans so."""
    label = figures.fine.of_root
    return [(each.target.name, label(each.rising_squared), label(each.falling_squared)) for each in lean.expected()]
