"""What is said of every glue-up, and of tipping over. Without a source named: common practice, no source.

The sizes from which a cabinet may tip over are those of 16 CFR 1261, which adopts ASTM F2057-23: free-standing
clothing storage units, 27 in high or more, 30 lb or more, enclosing 3.2 ft³ or more, made after 1 September 2023.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from storystick.cutting.edged import enters_others
from storystick.gluing.instructions import duration, slower_glue_words
from storystick.gluing.joints import grooved_back_joints
from storystick.gluing.stages import Stage
from storystick.job.shop import Glue
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.closings import closings_of
from storystick.layout.cabinets.fastening import fastener_rows
from storystick.layout.cabinets.pieces import CabinetLayout, Role
from storystick.lengths import INCH_MM, Figures, Units
from storystick.wording import by_number

LIFT: Final = (
    "Two people lift and turn a case: under clamps it is heavy, and clamps can slip. Keep fingers and feet out from "
    "under it, tighten each clamp a little at a time, and never lift it by a clamp."
)
TIMES: Final = (
    "Keep to the glue maker's pot life, open and closed assembly times, and spread both faces (FAA AC 43.13-1B, 1-7 "
    "and 1-8). The minutes here are an estimate for one person: time the dry run, and write your own pace in the "
    "shop file."
)
PRESSURE: Final = (
    "Even pressure holds: for resorcinol glue 125 to 150 psi (0.9 to 1.0 N/mm²) is given for softwood and 150 to "
    "200 psi (1.0 to 1.4 N/mm²) for hardwood, and uneven pressure gives weak areas (FAA AC 43.13-1B, 1-10). "
    "Where clamps can stand all along, pressure spreads at 45 degrees through part and caul, so they stand at most "
    "twice as far apart as both are thick, the outer ones half of that from the ends (common practice, no source)."
)
CAULS: Final = (
    "No bar goes through a panel: across a case they pass before its front edges and behind its back ones. So the "
    "cauls across it are bowed: planed a little thicker in the middle, so that they press there first and their ends "
    "close last. Wax the cauls, or lay paper or tape under them (common practice, no source)."
)
SQUEEZE_OUT: Final = (
    "Pare squeeze-out off an hour or two later, once it has gelled; wiped wet, it goes into the pores (common "
    "practice, no source)."
)
WET: Final = "Wear eye protection and gloves, air the room, and read the glue's own safety sheet."

GLUE_CAUTIONS: Final = (LIFT, TIMES, PRESSURE, CAULS, SQUEEZE_OUT, WET)

FASTENED_BACK: Final = (
    "A back in rabbets or laid on is fastened with pins or screws and needs no clamps: at most 6 in (150 mm) apart, "
    "along the middle of its lap, pins where the lap is narrow. Fasten one edge, make the case square by its "
    "diagonals, then fasten the other edges and what is between (common practice, no source)."
)

FASTENED_CASE: Final = (
    "A case is fastened onto its plinth with screws down through the bottom, and with glue blocks from below where a "
    "side stands on it: clamps would not reach past the back (common practice, no source)."
)

LOOSE_PLINTH: Final = (
    "A loose plinth is made first and set in its place without the case: level it both ways with packing under it or "
    "by scribing it to the floor, and fix it. Only then is the case set on it and screwed down through the bottom, "
    "without glue, so that it can come off again (common practice, no source)."
)

TOE_BOARD: Final = (
    "A toe board goes on after the case: glue blocks behind it under the bottom hold it, and pins through the sides "
    "into its ends, or through it into the heels of their notches. Leave the last one of a run until the cabinets "
    "stand, so that it can be scribed to the floor (common practice, no source)."
)

EMPTY_PLACES: Final = (
    "Where a shelf or a divider has nothing opposite, a clamp across the case would only bend what it ends on. Cut the "
    "blocks to the clear width there, as deep as the part, and put them in line with it; or set a jaw on the part "
    "itself, where it has room (common practice, no source)."
)

BACK_OF_BOARDS: Final = (
    "Boards of a back are not glued, neither to the case nor to each other: each is fastened at its middle only, with "
    "one pin or screw on every part that it crosses, so that it can swell and shrink to both sides. Put thin cards "
    "between them to keep the gaps, and finish tongues and laps first, or bare wood shows in winter. They do not hold "
    "the case square: it wants corner blocks, a face frame, a nailer or the wall for that (common practice, no source)."
)

LATER_BACK: Final = (
    "The back is fastened last, when case and back are painted, so both are fitted dry first. Mark its place, and "
    "check the diagonals once more before the second edge is fastened (common practice, no source)."
)

DRAWN_HOME: Final = (
    "Screws draw a joint home only where the hole in the outer part clears their thread. Drill every hole before the "
    "glue is opened, and clamp the two faces flush while screws are driven: pocket screws push a part aside (common "
    "practice, no source)."
)

LOOSE_PIECES: Final = (
    "Dowels, biscuits and loose tenons are glued into one of both parts first, driven to the bottom, and what stands "
    "out is measured against the depth of the other; try the case dry with a few that are sanded to slip (common "
    "practice, no source)."
)

_NO_GLUE: Final = (
    "No glue is named in the shop file: compare the minutes of every stage with the open and closed assembly times "
    "on the glue's label, or write them under [glue.NAME]."
)

_EDGED: Final = "Glue the edging to each part, and flush it, before the case is begun."
_HELD_BACK: Final = (
    "Cut grooves, rabbets and tongues before the edging goes on. On a part whose ends stand in others, its edging is "
    "held back to the shoulders, as long as the cutting list says; on the parts that they stand in it runs on, and "
    "closes the mouths of the joints (common practice, no source)."
)


def remarks(stages: Sequence[Stage], layouts: Sequence[CabinetLayout], glue: Glue | None) -> Iterator[str]:
    """What else holds for these cabinets: the glue's times, and what is not in the stages."""
    yield _glue_words(glue) if glue else _NO_GLUE
    yield from filter(None, [slower_glue_words(stages, glue)])
    backs = [back_of(layout.cabinet) for layout in layouts]
    of_boards = [bool(layout.of(Role.BACK_BOARD)) for layout in layouts]
    if any(back.is_fastened and not boards for back, boards in zip(backs, of_boards, strict=True)):
        yield FASTENED_BACK
    if any(of_boards):
        yield BACK_OF_BOARDS
    if any(back.waits_for_paint for back in backs):
        yield LATER_BACK
    with_plinth = [layout for layout in layouts if layout.of(Role.PLINTH)]
    if any(not base_of(layout.cabinet).loose for layout in with_plinth):
        yield FASTENED_CASE
    if any(base_of(layout.cabinet).loose for layout in with_plinth):
        yield LOOSE_PLINTH
    if any(layout.of(Role.TOE_BOARD) for layout in layouts):
        yield TOE_BOARD
    kinds = [row.fastener for layout in layouts for row in fastener_rows(layout)]
    if any(kind.draws for kind in kinds):
        yield DRAWN_HOME
    if not all(kind.draws for kind in kinds):
        yield LOOSE_PIECES
    if any(line.empty for stage in stages for line in stage.lines):
        yield EMPTY_PLACES
    if any(map(grooved_back_joints, layouts)):
        yield "A back in grooves goes in with the case, before the last part shuts it in. Leave one of solid wood dry."
    if any(piece.edged for layout in layouts for piece in layout.pieces):
        yield _EDGED
    if any(map(_has_let_in_edge, layouts)):
        yield _HELD_BACK
    if any(bay.compartment.adjustable for layout in layouts for bay in layout.bays):
        yield "Adjustable shelves are not glued."
    if any(layout.cabinet.drawers for layout in layouts):
        yield "Drawer boxes are glued one by one, each squared by its diagonals; they are not in these stages."


def _has_let_in_edge(layout: CabinetLayout) -> bool:
    return any(piece.edged and enters_others(piece) for piece in layout.pieces)


def _glue_words(glue: Glue) -> str:
    stay = f" Its clamps stay on for {duration(glue.clamp_time)}." if glue.clamp_time else ""
    return (
        f"Glue {glue.name}: all of it spread within {float(glue.open):g} min, and all under clamps within "
        f"{float(glue.closed):g} min, both from the first spread.{stay}"
    )


# Lengths in mm, volumes in mm³.
LEAST_HEIGHT: Final = 27 * INCH_MM
CUBIC_FOOT: Final = (12 * INCH_MM) ** 3
LEAST_VOLUME: Final = Fraction(16, 5) * CUBIC_FOOT
_LITRE: Final = 10**6

FIX: Final = (
    "Fix tall cabinets and those with drawers to the wall, as your local code asks. Your code and the text of the "
    "standard decide, not this sheet."
)
_EUROPE: Final = (
    "In Europe EN 14749:2016+A1:2022 covers storage for home, kitchen and bath; the wall and what fixes a unit to "
    "it are not covered."
)


def enclosed_volume(layout: CabinetLayout) -> Fraction:
    """The clear volume behind drawers and doors, in mm³, from the front of the case to the face of its back."""
    deep = layout.inner_back - layout.case.y.start
    closed = (bay for closing in closings_of(layout) if not closing.is_open for bay in closing.bays)
    return sum((bay.x.size * bay.z.size * deep for bay in closed), Fraction(0))


def large_enough(layout: CabinetLayout) -> bool:
    """Whether the cabinet has the height and the enclosed volume from which the American rule applies."""
    return layout.cabinet.height >= LEAST_HEIGHT and enclosed_volume(layout) >= LEAST_VOLUME


def tip_over_words(layouts: Sequence[CabinetLayout], figures: Figures) -> Iterator[str]:
    """What to say of tipping over for the cabinets of a job."""
    yield FIX
    if large := [layout for layout in layouts if large_enough(layout)]:
        alike: dict[str, list[str]] = {}
        for layout in large:
            alike.setdefault(_size_words(layout, figures), []).append(layout.cabinet.name)
        told = "; ".join(f"{', '.join(by_number(names))} {size}" for size, names in alike.items())
        yield (
            f"{told}: in the United States 16 CFR 1261 (ASTM F2057-23; 27 in or higher, 30 lb or more, 3.2 ft³ or more "
            "enclosed, made after 1 September 2023) may apply to what stands free and holds clothes; built-in units "
            "and bookcases are out of its scope."
        )
    yield _EUROPE


def _size_words(layout: CabinetLayout, figures: Figures) -> str:
    """What the American rule asks of a cabinet: how high it is and how much it encloses."""
    height = f"{figures(layout.cabinet.height)} {figures.units.sign}"
    return f"({height} high, {_volume(enclosed_volume(layout), figures.units)} enclosed)"


def _volume(volume: Fraction, units: Units) -> str:
    feet = f"{float(volume / CUBIC_FOOT):.1f} ft³"
    return feet if units is Units.INCH else f"{float(volume / _LITRE):.0f} litres ({feet})"
