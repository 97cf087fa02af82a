"""The joints by which a part ends on another: what each cuts, and how far the part goes in.

Each kind is a class of its own with the same face. To add one, write its class here and name it in
:data:`JOINT_KINDS`; the job file's keys are the fields of the class.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from inspect import Parameter, signature
from typing import ClassVar, Final, Protocol, TypeVar

from storystick.errors import Fault
from storystick.job.keys import read_named
from storystick.job.tables import Names, Table, choice, distance, size, word_or
from storystick.lengths import INCH_MM, Figures, Units, write_figure


class Joint(Protocol):
    """What the layout asks of a joint. All lengths in mm, exact."""

    @property
    def name(self) -> str:
        """The name that the job gave it."""

    @property
    def at_end_only(self) -> bool:
        """Whether it can be cut only at the end of the part that is ended on."""

    @property
    def depth(self) -> Fraction:
        """How deep the groove is; 0 where none is cut."""

    @property
    def entry(self) -> Fraction:
        """How far the part goes into the part that it ends on, beyond that part's face."""

    @property
    def fit(self) -> Fraction:
        """How much wider the groove is than what goes into it, half of it at either side."""

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        """What of a part this thick goes in: its near and far edge from the datum-side face; None for nothing.

        The layout sees to it that they lie within the thickness.
        """

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        """The near and far edge of the groove, from the datum-side face of a part this thick; None for no groove."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tongue:
    """A tongue on the part in a groove narrower than the part.

    ``width`` and ``depth`` are the groove's; ``set`` is from the part's datum-side face to the groove's near edge,
    None for a centred tongue; the tongue is shorter than the groove is deep by ``bottom_gap``, and thinner than it is
    wide by ``fit``.
    """

    at_end_only: ClassVar[bool] = False

    name: str
    width: Fraction
    depth: Fraction
    set: Fraction | None = None
    bottom_gap: Fraction = Fraction(0)
    fit: Fraction = Fraction(0)

    def __post_init__(self) -> None:
        _check_depth(self.depth, self.bottom_gap)
        if self.fit >= self.width:
            raise Fault("fit leaves no tongue: it must be less than width")

    @property
    def entry(self) -> Fraction:
        return self.depth - self.bottom_gap

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        near, far = self.groove(thickness)
        return near + self.fit / 2, far - self.fit / 2

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction]:
        near = (thickness - self.width) / 2 if self.set is None else self.set
        return near, near + self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class Housing:
    """A groove as wide as the whole part and ``fit``, ``depth`` deep; the part stops short of its bottom by
    ``bottom_gap``."""

    at_end_only: ClassVar[bool] = False

    name: str
    depth: Fraction
    bottom_gap: Fraction = Fraction(0)
    fit: Fraction = Fraction(0)

    def __post_init__(self) -> None:
        _check_depth(self.depth, self.bottom_gap)

    @property
    def entry(self) -> Fraction:
        return self.depth - self.bottom_gap

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return Fraction(0), thickness

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return -self.fit / 2, thickness + self.fit / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Rabbet:
    """A rabbet ``depth`` deep at the very end of the other part, as wide as the whole part that lies in it.

    It has one wall only, so it needs no play.
    """

    at_end_only: ClassVar[bool] = True
    fit: ClassVar[Fraction] = Fraction(0)

    name: str
    depth: Fraction

    @property
    def entry(self) -> Fraction:
        return self.depth

    def enters(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return Fraction(0), thickness

    def groove(self, thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return self.enters(thickness)


@dataclass(frozen=True, slots=True, kw_only=True)
class Butt:
    """The part ends square on the face of the other; nothing is cut."""

    at_end_only: ClassVar[bool] = False
    fit: ClassVar[Fraction] = Fraction(0)

    name: str

    @property
    def depth(self) -> Fraction:
        return Fraction(0)

    @property
    def entry(self) -> Fraction:
        return Fraction(0)

    def enters(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None

    def groove(self, _thickness: Fraction, /) -> tuple[Fraction, Fraction] | None:
        return None


JOINT_KINDS: Final[Mapping[str, Callable[..., Joint]]] = {
    "tongue": Tongue,
    "housing": Housing,
    "rabbet": Rabbet,
    "butt": Butt,
}


def enters_within(joint: Joint, thickness: Fraction) -> bool:
    """Whether all that a joint lets in of a part this thick lies within the part."""
    edges = joint.enters(thickness)
    return edges is None or (edges[0] >= 0 and edges[1] <= thickness)


def _check_depth(depth: Fraction, bottom_gap: Fraction) -> None:
    if bottom_gap >= depth:
        raise Fault("bottom_gap leaves no tongue: it must be less than depth")


T = TypeVar("T")

LOOSEST_FIT: Final = INCH_MM / 16
"""No groove is meant to be wider than what goes into it by more, in mm: judgement, no source."""


def read_joints(job: Table, units: Units) -> Names[Joint]:
    """The joints, each a table under ``[joint]``."""
    return read_named(job, "joint", "[joint.{}]", lambda name, value: _read_joint(name, Table(value), units))


def _read_joint(name: str, table: Table, units: Units) -> Joint:
    """The keys of a joint are the fields of its class; those with a default may be left out."""
    build = table.need("kind", choice(JOINT_KINDS))
    table.stop_if_faulty()
    figures = {
        field.name: _read_field(table, field, units)
        for field in signature(build).parameters.values()
        if field.name != "name"
    }
    table.close()
    _check_gap(figures, units)
    _check_fit(figures, units)
    return build(name=name, **figures)


def _read_field(table: Table, field: Parameter, units: Units) -> Fraction | None:
    """A field's key: a size that is needed, unless the class has a default; some keys may say more than a size."""
    may_be: Mapping[str, Callable[[object], Fraction | None]] = {
        "bottom_gap": distance(units),
        "fit": distance(units),
        "set": word_or("centre", None, distance(units)),
    }
    if field.default is Parameter.empty:
        return table.need(field.name, size(units))
    default: Fraction | None = field.default
    return table.get(field.name, may_be.get(field.name, size(units)), default)


def _check_gap(figures: Mapping[str, Fraction | None], units: Units) -> None:
    gap, depth = figures.get("bottom_gap"), figures.get("depth")
    if gap is not None and depth is not None and gap >= depth:
        what = f"{write_figure(gap, units)} leaves nothing in a groove {write_figure(depth, units)} deep"
        raise Fault(what, "make it less than depth", "bottom_gap")


def _check_fit(figures: Mapping[str, Fraction | None], units: Units) -> None:
    fit, width = figures.get("fit") or Fraction(0), figures.get("width")
    if fit > LOOSEST_FIT:
        most = f"{Figures.usual(units).at_most(LOOSEST_FIT)} {units.sign}"
        raise Fault(f"{write_figure(fit, units)} is more than {most}, and no fit", "look at its unit", "fit")
    if width is not None and fit >= width:
        what = f"{write_figure(fit, units)} leaves no tongue in a groove {write_figure(width, units)} wide"
        raise Fault(what, "make it less than width", "fit")
