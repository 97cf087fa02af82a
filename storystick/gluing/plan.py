"""The glue-up of a cabinet in stages: a dry run of all of it, then every stage with glue, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.errors import Fault, Where
from storystick.gluing.clamps import FEWEST, ClampLine, clamp_lines, needed, set_out
from storystick.gluing.instructions import closing_name
from storystick.gluing.joints import (
    GluedJoint,
    back_frame_joints,
    back_joints,
    base_joints,
    block_joints,
    case_joints,
    cleat_joints,
    frame_joints,
    front_joints,
    nosing_joints,
    plinth_joints,
    toe_joints,
    web_joints,
)
from storystick.gluing.order import Assembly, Closing, closed_rectangles, closings_of, split, whole_case
from storystick.gluing.stages import DRY_RUN, Stage
from storystick.job.job import Job
from storystick.job.shop import Glue, GlueUp
from storystick.layout.cabinets.backs import back_of
from storystick.layout.cabinets.bases import base_of
from storystick.layout.cabinets.pieces import BACK_ROLES, CASE_ROLES, Axis, CabinetLayout, Role
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
    raise Fault(f'the shop has no glue "{name}"', known, Where("--glue"))


def plan_glue_up(layout: Layout, glue: Glue | None) -> tuple[Stage, ...]:
    """The stages of every cabinet of a job, at the pace of its shop.

    Raises:
        Fault: the job has no cabinet.
    """
    if not layout.cabinets:
        raise Fault("no cabinet to glue up", "describe one under [[cabinet]]", Where.in_file(layout.job.file_name))
    pace = layout.job.shop.glue_up if layout.job.shop else GlueUp()
    return tuple(stage for cabinet in layout.cabinets for stage in stages_of(cabinet, glue, pace))


def stages_of(layout: CabinetLayout, glue: Glue | None = None, pace: GlueUp | None = None) -> tuple[Stage, ...]:
    """The stages of one cabinet; without a glue they are as few as the joints allow, whatever their times."""
    planner = _Planner(layout, glue, pace or GlueUp())
    glued = tuple(planner.glued())
    return (planner.dry_run(glued), *glued)


def _one_by_one(joints: Sequence[GluedJoint]) -> tuple[Assembly, ...]:
    """The pieces of some joints from the left, each an assembly of its own."""
    pieces = dict.fromkeys(piece for joint in joints for piece in (joint.piece, joint.on))
    return tuple(frozenset([piece]) for piece in sorted(pieces, key=lambda piece: piece.x.start))


@dataclass(frozen=True, slots=True)
class _Planner:
    layout: CabinetLayout
    glue: Glue | None
    pace: GlueUp

    def glued(self) -> Iterator[Stage]:
        """Web frames, case, back, face frame by itself and on the case, toe board, plinth by itself and under the case.

        A back that waits for the paint squares the case dry, and comes last. A loose plinth is made first of all, and
        the case is set on it in its place when all else is done.
        """
        layout, later = self.layout, self._back_is_last
        back, loose = back_joints(layout), base_of(layout.cabinet).loose
        plinth = (*self._made("plinth", plinth_joints(layout)), *self._blocked("plinth", in_plinth=True))
        yield from plinth if loose else ()
        for web in layout.of(Role.WEB_FRAME):
            yield from self._made(web.name, web_joints(layout, web))
        yield from self._nosed()
        yield from self._cleated()
        *inner, whole = self._made("case", case_joints(layout))
        in_boards = bool(layout.of(Role.BACK_BOARD))
        yield from (*inner, replace(whole, dry_back=later and bool(back) and not in_boards, braced=in_boards))
        yield from self._made("back frame", back_frame_joints(layout))
        if not later:
            name = "back boards onto the case" if in_boards else "back onto the case"
            laid = self._laid(name, back, Axis.Y)
            yield from map(self._unglued, laid) if in_boards else laid
        yield from self._made("face frame", frame_joints(layout))
        yield from self._laid("face frame onto the case", front_joints(layout), Axis.Y)
        yield from self._blocked("case", in_plinth=False)
        under_case, onto_case = toe_joints(layout)
        yield from self._laid("toe board under the case", under_case, Axis.Z)
        yield from self._laid("toe board onto the case", onto_case, Axis.Y)
        under = tuple(self._laid("case onto the plinth", base_joints(layout), Axis.Z))
        yield from () if loose else (*plinth, *under)
        if later:
            yield from (self._unglued(stage) for stage in self._laid("back, after painting", back, Axis.Y))
        for stage in under if loose else ():
            yield self._unglued(replace(stage, name="case onto the levelled plinth, in its place"))

    def _nosed(self) -> Iterator[Stage]:
        """All nosings on their shelves, which are single boards by then."""
        if joints := nosing_joints(self.layout):
            laid, under = (frozenset(found) for found in zip(*((each.piece, each.on) for each in joints), strict=True))
            yield self._stage("nosings onto the shelves", Closing(Axis.Y, (laid, under), joints))

    def _cleated(self) -> Iterator[Stage]:
        """All cleats on their uprights, which lie on the bench one by one."""
        if joints := cleat_joints(self.layout):
            yield self._stage("cleats onto the uprights", Closing(Axis.X, _one_by_one(joints), joints))

    def _blocked(self, what: str, in_plinth: bool) -> Iterator[Stage]:
        """All corner blocks into what is whole by then."""
        if joints := block_joints(self.layout, in_plinth):
            blocks = dict.fromkeys(joint.piece for joint in joints)
            whole = self.layout.of(*([Role.PLINTH] if in_plinth else CASE_ROLES))
            under = frozenset((*whole, *(joint.on for joint in joints)))
            assemblies = (*(frozenset([block]) for block in blocks), under)
            yield self._stage(f"corner blocks into the {what}", Closing(Axis.Z, assemblies, joints))

    @property
    def _back_is_last(self) -> bool:
        return back_of(self.layout.cabinet).waits_for_paint

    def dry_run(self, glued: Sequence[Stage]) -> Stage:
        """All that the stages need must be at hand; what it takes is the clamps' time."""
        return Stage(
            self.layout,
            DRY_RUN,
            closing=None,
            lines=(),
            needs=needed(stage.lines for stage in glued),
            cauls=max(stage.cauls for stage in glued),
            spread=Fraction(0),
            # What is screwed is held by a clamp or two while it is tried.
            minutes=(max(stage.clamps for stage in glued) or FEWEST) * self.pace.clamp_minutes,
            rectangles=whole_case(self.layout),
            glue=self.glue,
        )

    def _made(self, what: str, joints: Sequence[GluedJoint]) -> Iterator[Stage]:
        """A part of the cabinet in as many stages as its joints and the glue's times ask for.

        The last of them makes it whole, and it may set twisted.
        """
        closings = self._in_time(closings_of(joints))
        for number, closing in enumerate(closings, start=1):
            count = f", {number} of {len(closings)}" if len(closings) > 1 else ""
            stage = self._stage(f"{what}{count}: {closing_name(closing, self.layout)}", closing)
            yield replace(stage, twist=number == len(closings))

    def _laid(self, name: str, joints: Sequence[GluedJoint], axis: Axis) -> Iterator[Stage]:
        """One finished part of the cabinet on another, in one go."""
        if joints:
            laid, back = frozenset(joint.piece for joint in joints), frozenset(self.layout.of(*BACK_ROLES))
            if laid & back:
                # The panels of a framed back go with it, though they are not fastened themselves.
                laid |= back
            case = self.layout.of(*CASE_ROLES, *(() if self._back_is_last else BACK_ROLES))
            under = frozenset((*case, *(joint.on for joint in joints))) - laid
            yield self._stage(name, Closing(axis, (laid, under) if joints[0].on_high else (under, laid), tuple(joints)))

    def _unglued(self, stage: Stage) -> Stage:
        """What is fastened without glue: put in its place once, and pinned."""
        minutes = self.pace.joint_minutes / 2 + stage.pins * self.pace.pin_minutes
        return replace(stage, spread=Fraction(0), minutes=minutes, glued=False)

    def _in_time(self, closings: Sequence[Closing]) -> tuple[Closing, ...]:
        """The closings made smaller, as far as the glue's times ask for it.

        Where even the smallest do not fit, another glue has to be got anyway, and none is made smaller than that asks.
        """
        if self.glue is None:
            return tuple(closings)
        # Splitting at 1 splits all that can be split and does not fit; what then still asks for most sets the measure.
        smallest = self._split(closings, Fraction(1))
        most = max((self._strain(closing.joints) for closing in smallest), default=Fraction(0))
        return smallest if most <= 1 else self._split(closings, most)

    def _split(self, closings: Sequence[Closing], most: Fraction) -> tuple[Closing, ...]:
        return tuple(smaller for closing in closings for smaller in split(closing, self._strain, most))

    def _strain(self, joints: Sequence[GluedJoint]) -> Fraction:
        """How much of the glue's times they take, whichever is the shorter: 1 for all of it."""
        lines = clamp_lines(joints, self.pace)
        # What is screwed joint by joint may be glued so too.
        if self.glue is None or (lines and all(line.screws for line in lines)):
            return Fraction(0)
        spread, minutes = self._times(joints, lines)
        return max(spread / self.glue.open, minutes / self.glue.closed)

    def _times(self, joints: Sequence[GluedJoint], lines: Sequence[ClampLine]) -> tuple[Fraction, Fraction]:
        """Half of a joint's minutes spreads its glue, half puts it in its place: once for all that is laid on."""
        places = 1 if joints[0].laid else len(joints)
        spread = (len(joints) + places) * self.pace.joint_minutes / 2
        clamps, pins = sum(line.clamps for line in lines), sum(line.pins + line.screws for line in lines)
        return spread, spread + clamps * self.pace.clamp_minutes + pins * self.pace.pin_minutes

    def _stage(self, name: str, closing: Closing) -> Stage:
        pieces = [piece for piece in self.layout.pieces if piece in closing.pieces]
        lines = tuple(set_out(line, pieces, self.pace) for line in clamp_lines(closing.joints, self.pace))
        spread, minutes = self._times(closing.joints, lines)
        return Stage(
            self.layout,
            name,
            closing,
            lines,
            needs=needed([lines]),
            cauls=sum(line.cauls for line in lines),
            spread=spread,
            minutes=minutes,
            rectangles=closed_rectangles(closing, self.layout),
            glue=self.glue,
        )
