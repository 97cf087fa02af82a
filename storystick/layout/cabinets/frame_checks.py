"""What of a face frame cannot be built: stiles that miss their sides or meet a base, grooves beside their members."""

from __future__ import annotations

from collections.abc import Iterator

from storystick.errors import Fault, Where
from storystick.job.usual_joint import Closes
from storystick.layout.cabinets.pieces import BASE_ROLES, FRAME_ROLES, Axis, CabinetLayout, End, Role
from storystick.layout.cabinets.working import works_of
from storystick.layout.cabinets.works import Surface, WorkKind, width_of
from storystick.lengths import Figures
from storystick.wording import listed


def frame_covers(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether each stile lies before its side."""
    frame = layout.cabinet.frame
    if frame is None:
        return
    ends = (frame.stile.left, frame.proud_left), (frame.stile.right, frame.proud_right)
    for wide, proud in dict.fromkeys(ends):
        if wide <= proud:
            yield Fault(
                f"a stile is {figures(wide)} wide and stands {figures(proud)} proud, so it does not reach its side",
                "make the stile wider or proud less",
            )


def legs_stand_free(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether what the case stands on, and a bottom that overhangs it, keep out of the way of stiles that run to the
    floor.
    """
    for piece in layout.of(*BASE_ROLES, Role.BOTTOM):
        met = [
            stile
            for stile in layout.of(Role.STILE)
            if all(stile.along(axis).overlaps(piece.along(axis)) for axis in Axis)
        ]
        if met:
            thick, names = figures(met[0].stock.thickness), listed([f"the {stile.name}" for stile in met])
            run = "runs" if len(met) == 1 else "run"
            yield Fault(
                f"the {piece.name} stands where {names} {run} to the floor, {thick} thick",
                f"{'leave out its overhang' if piece.closes else 'make the recess more'}, or leave out to_floor",
                Where.keys("frame", "to_floor"),
            )


def base_carries(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether a bottom that its rail's edge lifts off the base leaves the case standing on its sides."""
    bottoms = layout.at_end(End.BOTTOM)
    lifted = min((piece.z.start for piece in bottoms), default=layout.case.foot) - layout.case.foot
    if lifted <= 0:
        return
    for side in layout.sides:
        under = (piece.x for piece in layout.of(*BASE_ROLES) if piece.z.end == side.z.start)
        if side.z.start and not any(x.overlaps(side.x) for x in under):
            yield Fault(
                f"nothing of the base stands under the {side.name}, and the bottom is {figures(lifted)} above it",
                "leave out ends of the base, or edge of the bottom rail",
                Where.keys("frame", "bottom"),
            )


def frame_takes_tongues(layout: CabinetLayout, figures: Figures) -> Iterator[Fault]:
    """Whether every groove in the back of the frame lies within its member, and is not too deep."""
    frame = layout.cabinet.frame
    if frame is None or frame.joint is None:
        return
    if frame.joint.at_end_only:
        yield Fault("the frame's joint is a rabbet, which is for the end of a part", "give it a tongue or a housing")
        return
    if frame.joint.closes is not Closes.HOME:
        what = "the frame's joint slides in along its groove, but the frame goes on from the front"
        yield Fault(what, "give it a tongue or a housing")
        return
    if frame.joint.depth >= frame.stock.thickness:
        yield Fault(
            f"the groove in the back of the frame is {figures(frame.joint.depth)} deep, but the "
            f"frame is {figures(frame.stock.thickness)} thick",
            "make the joint's depth less",
        )
    for member in layout.of(*FRAME_ROLES):
        for groove in works_of(layout, member):
            if (
                groove.kind is WorkKind.GROOVE
                and groove.on is Surface.BACK
                and (groove.across.start < 0 or groove.across.end > width_of(member))
            ):
                yield Fault(
                    f'the member of the frame before "{groove.other.name}" is {figures(width_of(member))} wide and '
                    f"does not cover the groove for its tongue, which is {figures(groove.width)} wide",
                    "make the member wider, or align it otherwise",
                )
