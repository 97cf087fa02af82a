"""The glue-up of a cabinet in stages: a dry run of all of it, then every stage with glue, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.errors import Fault
from storystick.gluing.clamps import ClampLine, clamp_lines, set_out
from storystick.gluing.instructions import name_of
from storystick.gluing.joints import (
    GluedJoint,
    back_joints,
    base_joints,
    case_joints,
    frame_joints,
    front_joints,
    plinth_joints,
)
from storystick.gluing.order import Step, closed_rectangles, split, steps_of, whole_case
from storystick.gluing.stages import DRY_RUN, Stage, needed
from storystick.job.job import Job
from storystick.job.shop import Glue, GlueUp
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.pieces import CASE_ROLES, Axis, CabinetLayout, Role
from storystick.layout.stations import Layout


def glue_for(job: Job, name: str | None) -> Glue | None:
    """The shop's glue of this name, or its first; None where it names none.

    Raises:
        Fault: the shop has no such glue.
    """
    glues = job.shop.glues if job.shop else ()
    if name is None:
        return glues[0] if glues else None
    for glue in glues:
        if glue.name == name:
            return glue
    known = f"the glues are {', '.join(glue.name for glue in glues)}" if glues else "write it in the shop file"
    raise Fault(f'the shop has no glue "{name}"', known, "--glue")


def plan_glue_up(layout: Layout, glue: Glue | None) -> tuple[Stage, ...]:
    """The stages of every cabinet of a job, at the pace of its shop.

    Raises:
        Fault: the job has no cabinet.
    """
    if not layout.cabinets:
        raise Fault("no cabinet to glue up", "describe one under [[cabinet]]", layout.job.file_name)
    pace = layout.job.shop.glue_up if layout.job.shop else GlueUp()
    return tuple(stage for cabinet in layout.cabinets for stage in stages_of(cabinet, glue, pace))


def stages_of(layout: CabinetLayout, glue: Glue | None = None, pace: GlueUp | None = None) -> tuple[Stage, ...]:
    """The stages of one cabinet; without a glue they are as few as the joints allow, whatever their times."""
    planner = _Planner(layout, glue, pace or GlueUp())
    glued = tuple(planner.glued())
    return (planner.dry_run(glued), *glued)


@dataclass(frozen=True, slots=True)
class _Planner:
    layout: CabinetLayout
    glue: Glue | None
    pace: GlueUp

    def glued(self) -> Iterator[Stage]:
        """Case, back, face frame by itself and on the case, plinth by itself and under the case.

        A back that waits for the paint squares the case dry, and comes last.
        """
        case, frame, plinth = (joints(self.layout) for joints in (case_joints, frame_joints, plinth_joints))
        later, back = self._back_is_last, back_joints(self.layout)
        *inner, whole = self._made("case", case)
        yield from (*inner, replace(whole, dry_back=later and bool(back)))
        if not later:
            yield from self._laid("back onto the case", back, Axis.Y)
        yield from self._made("face frame", frame)
        yield from self._laid("face frame onto the case", front_joints(self.layout), Axis.Y)
        yield from self._made("plinth", plinth)
        yield from self._laid("case onto the plinth", base_joints(self.layout), Axis.Z)
        if later:
            yield from (self._unglued(stage) for stage in self._laid("back, after painting", back, Axis.Y))

    @property
    def _back_is_last(self) -> bool:
        return back_of(self.layout.cabinet).waits_for_paint

    def dry_run(self, glued: Sequence[Stage]) -> Stage:
        """All that the stages need must be at hand; what it takes is the clamps' time."""
        clamps = max(stage.clamps for stage in glued)
        minutes = clamps * self.pace.clamp_minutes
        return Stage(
            *(self.layout.cabinet.name, DRY_RUN, None, (), clamps, max(stage.cauls for stage in glued), 0),
            *(max(stage.reach for stage in glued), Fraction(0), minutes, whole_case(self.layout), self.glue),
            needs=needed(stage.lines for stage in glued),
        )

    def _made(self, what: str, joints: Sequence[GluedJoint]) -> Iterator[Stage]:
        """A part of the cabinet in as many stages as its joints and the glue's times ask for.

        The last of them makes it whole, and it may set twisted.
        """
        steps = self._in_time(steps_of(joints))
        for number, step in enumerate(steps, start=1):
            count = f", {number} of {len(steps)}" if len(steps) > 1 else ""
            stage = self._stage(f"{what}{count}: {name_of(step, self.layout)}", step)
            yield replace(stage, twist=number == len(steps))

    def _laid(self, name: str, joints: Sequence[GluedJoint], axis: Axis) -> Iterator[Stage]:
        """One finished part of the cabinet on another, in one go."""
        if joints:
            laid = frozenset(joint.piece for joint in joints)
            case = self.layout.of(*CASE_ROLES, *(() if self._back_is_last else (Role.BACK,)))
            under = frozenset(piece.name for piece in case) - laid
            bodies = (laid, under) if joints[0].on_high else (under, laid)
            yield self._stage(name, Step(axis, bodies, tuple(joints)))

    def _unglued(self, stage: Stage) -> Stage:
        """What is fastened without glue: put in its place once, and pinned."""
        minutes = self.pace.joint_minutes / 2 + stage.pins * self.pace.pin_minutes
        return replace(stage, spread=Fraction(0), minutes=minutes, glued=False)

    def _in_time(self, steps: Sequence[Step]) -> tuple[Step, ...]:
        """The steps made smaller, as far as the glue's times ask for it.

        Where even the smallest do not fit, another glue has to be got anyway, and none is made smaller than that asks.
        """
        if self.glue is None:
            return tuple(steps)
        smallest = self._split(steps, Fraction(1))
        most = max((self._strain(step.joints) for step in smallest), default=Fraction(0))
        return smallest if most <= 1 else self._split(steps, most)

    def _split(self, steps: Sequence[Step], most: Fraction) -> tuple[Step, ...]:
        return tuple(smaller for step in steps for smaller in split(step, self._strain, most))

    def _strain(self, joints: Sequence[GluedJoint]) -> Fraction:
        """How much of the glue's times they take, whichever is the shorter: 1 for all of it."""
        if self.glue is None:
            return Fraction(0)
        spread, minutes = self._times(joints, clamp_lines(joints, self.pace))
        return max(spread / self.glue.open, minutes / self.glue.closed)

    def _times(self, joints: Sequence[GluedJoint], lines: Sequence[ClampLine]) -> tuple[Fraction, Fraction]:
        """Half of a joint's minutes spreads its glue, half puts it in its place: once for all that is laid on."""
        places = 1 if joints[0].laid else len(joints)
        spread = (len(joints) + places) * self.pace.joint_minutes / 2
        clamps, pins = sum(line.clamps for line in lines), sum(line.pins for line in lines)
        return spread, spread + clamps * self.pace.clamp_minutes + pins * self.pace.pin_minutes

    def _stage(self, name: str, step: Step) -> Stage:
        pieces = [piece for piece in self.layout.pieces if piece.name in step.pieces]
        lines = tuple(set_out(line, pieces, self.pace) for line in clamp_lines(step.joints, self.pace))
        clamps, cauls = sum(line.clamps for line in lines), sum(line.cauls for line in lines)
        return Stage(
            *(self.layout.cabinet.name, name, step, lines, clamps, cauls, sum(line.pins for line in lines)),
            max((line.jaws for line in lines), default=Fraction(0)),
            *self._times(step.joints, lines),
            closed_rectangles(step, self.layout),
            self.glue,
            needs=needed([lines]),
        )
