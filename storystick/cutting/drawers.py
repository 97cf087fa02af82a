"""Drawer boxes by their outside sizes, and the four parts round them.

A box stands clear in its opening by the cabinet's rule: the opening is what case and face frame both leave clear, and
the depth runs from the back face of an inset front, or the front of the cabinet, to the back of the case. The sides
run the full depth, with front and back butted between them. What other corners add, and the bottom, is the shop's.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from storystick.cutting.fronts import front_kind
from storystick.cutting.part import Blank
from storystick.errors import Fault, FaultCollector
from storystick.job.fronts import DrawerRule, FrontFit, FrontKind
from storystick.job.openings import Stock
from storystick.layout.cabinets.pieces import Bay, CabinetLayout
from storystick.lengths import Figures, Label


@dataclass(frozen=True, slots=True)
class DrawerBox:
    """A drawer box in its opening, outside sizes in mm."""

    bay: Bay
    width: Fraction
    height: Fraction
    depth: Fraction
    stock: Stock

    @property
    def between(self) -> Fraction:
        """The length of its front and back, between the sides."""
        return self.width - 2 * self.stock.thickness


def drawer_boxes(layout: CabinetLayout, figures: Figures) -> tuple[DrawerBox, ...]:
    """The box of every opening with a drawer, from the bottom left.

    Raises:
        Faults: clearances leave nothing of a box; ``figures`` says the lengths.
    """
    rule = layout.cabinet.drawers
    collector = FaultCollector()
    boxes = []
    for bay in layout.bays if rule else ():
        if rule and front_kind(layout, bay) is FrontKind.DRAWER:
            with collector.at("drawers"):
                boxes.append(_box(layout, bay, rule, figures))
    collector.raise_any()
    return tuple(boxes)


def box_parts(box: DrawerBox, label: Label) -> tuple[Blank, Blank]:
    """The sides of a box, and its front and back."""
    outside = f"box {label(box.width)} wide, {label(box.height)} high, {label(box.depth)} deep outside"
    sizes = (("side", box.depth), ("front and back", box.between))
    one, other = (
        Blank(
            bay=box.bay,
            role=f"drawer box {word}",
            stock=box.stock.name,
            length=length,
            width=box.height,
            thickness=box.stock.thickness,
            count=2,
            notes=(outside,),
        )
        for word, length in sizes
    )
    return one, other


def behind_front(layout: CabinetLayout, bay: Bay) -> Fraction:
    """How far from the cabinet's front the back face of an opening's inset front is; 0 without one."""
    fronts = layout.cabinet.fronts
    if fronts is None or fronts.fit is not FrontFit.INSET or front_kind(layout, bay) is FrontKind.NONE:
        return Fraction(0)
    return fronts.stock.thickness


def _box(layout: CabinetLayout, bay: Bay, rule: DrawerRule, figures: Figures) -> DrawerBox:
    box = DrawerBox(
        bay=bay,
        width=bay.clear_width - 2 * rule.side,
        height=bay.clear_height - rule.top - rule.bottom,
        depth=layout.inner_back - behind_front(layout, bay) - rule.back,
        stock=rule.stock,
    )
    collector = FaultCollector()
    for way, size, cure in (
        ("wide between its sides", box.between, "make the side clearance less, its stock thinner"),
        ("high", box.height, "make the top and bottom clearance less"),
        ("deep", box.depth, "make the back clearance less, the front thinner"),
    ):
        if size <= 0:
            what = f'the drawer box of opening "{bay.name}" would be {figures(size)} {way}'
            collector.add(Fault(what, f"{cure}, or the opening larger"))
    collector.raise_any()
    return box
