"""What follows from one stick or one cabinet alone, worked out when it is first asked for and kept for the next time.

A job that is laid out again after a change has most of its cabinets as they were: what was worked out of these is found
by all that the job says of them but their number, which only counts them.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar

from storystick.errors import Fault
from storystick.layout.stations import StickLayout
from storystick.layout.sticks import lay_out_stick
from storystick.lengths import Figures

if TYPE_CHECKING:
    from storystick.job.cabinets import Cabinet
    from storystick.job.shop import Shop
    from storystick.job.sticks import Stick
    from storystick.layout.cabinets.pieces import CabinetLayout

T = TypeVar("T", bound=Hashable)


@dataclass(frozen=True)
class StickAlone:
    """A stick of the job, with the lines for the straightedge of its ``shop``."""

    stick: Stick
    figures: Figures
    shop: Shop | None

    @cached_property
    def layout(self) -> StickLayout:
        """Every position of it.

        Raises:
            StorystickError: it does not fit.
        """
        return _lined(lay_out_stick(self.stick, self.figures), self.shop, self.figures)


@dataclass(frozen=True)
class CabinetAlone:
    """A cabinet, with all that is worked out of it whatever else the job holds. Its sticks are numbered from 1.

    Each raises StorystickError where something does not fit, without the cabinet's own place.
    """

    cabinet: Cabinet
    figures: Figures
    shop: Shop | None

    @cached_property
    def layout(self) -> CabinetLayout:
        """Its pieces and openings."""
        from storystick.layout.cabinets.build import lay_out_cabinet  # only for a job with cabinets

        return lay_out_cabinet(self.cabinet, self.figures)

    def layout_as(self, cabinet: Cabinet) -> CabinetLayout:
        """The same with the number that the cabinet has now."""
        return self.layout if self.layout.cabinet == cabinet else replace(self.layout, cabinet=cabinet)

    @cached_property
    def sticks(self) -> tuple[StickLayout, ...]:
        """Its sticks but those of its fronts."""
        from storystick.layout.cabinets.sticks import cabinet_sticks

        return tuple(_lined(stick, self.shop, self.figures) for stick in cabinet_sticks(self.layout))

    @cached_property
    def locked(self) -> tuple[Fault, ...]:
        """Why its parts cannot be brought together."""
        from storystick.gluing.locked import locked_faults

        return tuple(locked_faults(self.layout))

    @cached_property
    def front_sticks(self) -> tuple[StickLayout, ...]:
        """The sticks of its fronts."""
        from storystick.cutting.front_sticks import front_sticks

        return front_sticks(self.layout, self.figures)

    @cached_property
    def front_warnings(self) -> tuple[str, ...]:
        """What its fronts should be looked at for."""
        from storystick.cutting.drying import season_warnings
        from storystick.cutting.uneven import uneven_warnings

        return (*uneven_warnings(self.layout, self.figures), *season_warnings(self.layout, self.figures))

    def check_cutting(self) -> None:
        """Whether what does not stand in the case itself has room."""
        _ = self._is_cut

    @cached_property
    def _is_cut(self) -> bool:
        from storystick.cutting.parts import check_cutting

        check_cutting(self.layout, self.figures)
        return True


class Kept:
    """What was worked out of each stick and cabinet of a job; what the job had ``before`` is taken from there."""

    def __init__(self, before: Kept | None = None) -> None:
        self._before: Mapping[Hashable, Any] = before._now if before else {}
        self._now: dict[Hashable, Any] = {}

    def stick(self, stick: Stick, figures: Figures, shop: Shop | None) -> StickLayout:
        """A stick laid out.

        Raises:
            StorystickError: it does not fit.
        """
        layout = self._one(StickAlone, stick, figures, shop).layout
        return layout if layout.stick == stick else replace(layout, stick=stick)

    def cabinet(self, cabinet: Cabinet, figures: Figures, shop: Shop | None) -> CabinetAlone:
        """All that can be asked of a cabinet."""
        # Rows in tables of their own are equal to those of a grid, but what is wrong with them stands elsewhere.
        places = tuple((row.steps, *(column.steps for column in row.columns)) for row in cabinet.rows)
        return self._one(CabinetAlone, cabinet, figures, shop, places)

    def _one(self, kind: Callable[..., T], thing: Any, figures: Figures, shop: Shop | None, places: Hashable = ()) -> T:
        key = (kind, replace(thing, number=0), figures, shop, places)
        found: T = self._before.get(key) or kind(thing, figures, shop)
        self._now[key] = found
        return found


def _lined(stick: StickLayout, shop: Shop | None, figures: Figures) -> StickLayout:
    """The stick with its straightedge lines, where there is a shop to have routers."""
    if shop is None:
        return stick
    from storystick.tooling.grooves import with_straightedges  # only for a job with a shop

    return with_straightedges(stick, shop, figures)
