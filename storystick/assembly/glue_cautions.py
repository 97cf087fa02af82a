"""What is said of every glue-up. Where no source is named, it is common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storystick.assembly.clamp_words import duration, slower_glue_words
from storystick.assembly.stages import Stage
from storystick.cutting.notes import enters_others
from storystick.job.cabinet import GrooveBack, LaidOnBack, RabbetBack
from storystick.job.shop import Glue
from storystick.layout.cabinets.model import CASE_ROLES, CabinetLayout, Role

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

EMPTY_PLACES: Final = (
    "Where a shelf or a divider has nothing opposite, a clamp across the case would only bend what it ends on. Cut the "
    "blocks to the clear width there, as deep as the part, and put them in line with it; or set a jaw on the part "
    "itself, where it has room (common practice, no source)."
)

LATER_BACK: Final = (
    "The back is fastened last, when case and back are painted, so both are fitted dry first. Mark its place, and "
    "check the diagonals once more before the second edge is fastened (common practice, no source)."
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
    backs = [layout.cabinet.back for layout in layouts]
    if any(isinstance(back, RabbetBack | LaidOnBack) for back in backs):
        yield FASTENED_BACK
    if any(isinstance(back, RabbetBack | LaidOnBack) and back.after_painting for back in backs):
        yield LATER_BACK
    if any(layout.of(Role.PLINTH) for layout in layouts):
        yield FASTENED_CASE
    if any(line.blocks for stage in stages for line in stage.lines):
        yield EMPTY_PLACES
    if any(isinstance(layout.cabinet.back, GrooveBack) and layout.of(Role.BACK) for layout in layouts):
        yield "A back in grooves goes in with the case, before the last part shuts it in. Leave one of solid wood dry."
    if any(layout.cabinet.edging for layout in layouts):
        yield _EDGED
    if any(layout.cabinet.edging and _has_let_in_edge(layout) for layout in layouts):
        yield _HELD_BACK
    if any(bay.compartment.adjustable for layout in layouts for bay in layout.bays):
        yield "Adjustable shelves are not glued."
    if any(layout.cabinet.drawers for layout in layouts):
        yield "Drawer boxes are glued one by one, each squared by its diagonals; they are not in these stages."


def _has_let_in_edge(layout: CabinetLayout) -> bool:
    return any(piece.role in CASE_ROLES and enters_others(piece) for piece in layout.pieces)


def _glue_words(glue: Glue) -> str:
    stay = f" Its clamps stay on for {duration(glue.clamp_time)}." if glue.clamp_time else ""
    return (
        f"Glue {glue.name}: all of it spread within {float(glue.open):g} min, and all under clamps within "
        f"{float(glue.closed):g} min, both from the first spread.{stay}"
    )
