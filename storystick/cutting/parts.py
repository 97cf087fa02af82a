"""The cutting list: every piece of case, back, base and frame, then adjustable shelves, fronts and drawer boxes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from storystick.cutting.drawer_room import DrawerBox, check_room_of
from storystick.cutting.edged import EdgedBoard, edged_loose, edged_piece
from storystick.cutting.fastened import fastener_notes, fastener_works
from storystick.cutting.front import Front, Season
from storystick.cutting.fronts import fronts_of
from storystick.cutting.notes import GLUED_BEFORE, notes_of, part_works
from storystick.cutting.part import LEFT, RIGHT, Blank, CutPart, Gathering, HandCounts, gather
from storystick.errors import Fault, FaultCollector, placed_in
from storystick.job.compartments import Adjustable
from storystick.job.edgings import BoardEdge, Edging
from storystick.job.fronts import DrawerRule, FrontKind
from storystick.job.sticks import Hand
from storystick.layout.cabinets.closings import closing_of, closings_of, front_depth
from storystick.layout.cabinets.edging import edges_of_loose
from storystick.layout.cabinets.pieces import Bay, CabinetLayout, Piece, Role
from storystick.layout.cabinets.works import width_of
from storystick.layout.movement import percent
from storystick.lengths import Figures, Label


def drawer_boxes(layout: CabinetLayout, figures: Figures) -> tuple[DrawerBox, ...]:
    """The box of every opening with a drawer, from the bottom left.

    Raises:
        Faults: clearances leave nothing of a box; ``figures`` says the lengths.
    """
    rule = layout.cabinet.drawers
    collector = FaultCollector()
    boxes: list[DrawerBox] = []
    for closing in closings_of(layout) if rule else ():
        if rule and closing.kind is FrontKind.DRAWER:
            with collector.at("drawers"):
                boxes.extend(_box(layout, bay, rule, figures) for bay in closing.bays)
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
    return front_depth(layout.cabinet, closing_of(layout, bay).kind)


def _box(layout: CabinetLayout, bay: Bay, rule: DrawerRule, figures: Figures) -> DrawerBox:
    box = DrawerBox(
        bay=bay,
        width=bay.clear_width - 2 * rule.side,
        height=bay.clear_height - rule.top - rule.bottom,
        depth=layout.inner_back - behind_front(layout, bay) - rule.back,
        stock=rule.stock,
    )
    check_room_of(layout, box, rule, behind_front(layout, bay), figures)
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


INCLUDED: Final = "Finished sizes, tongues, tenons and housed ends included; edging and drawer bottoms are not."
NO_PARTS: Final = "The job has no cabinet, and a plain stick says nothing of parts."
"""What the sizes hold, for a person who cuts by the list."""


def cutting_list(
    layouts: Sequence[CabinetLayout], figures: Figures, gathered: Gathering = gather
) -> tuple[CutPart, ...]:
    """The parts of all cabinets, those of a cabinet that are alike gathered.

    ``figures`` writes the lengths in notes and faults.

    Raises:
        Faults: fronts, boxes and shelves that have no room, for all cabinets at once.
    """
    collector = FaultCollector()
    parts: list[CutPart] = []
    for layout in layouts:
        with collector.at(layout.cabinet.place):
            parts.extend(_parts_of(layout, figures, gathered))
    collector.raise_any()
    return tuple(parts)


def check_cutting(layout: CabinetLayout, figures: Figures) -> None:
    """Whether all of a cabinet that does not stand in the case itself has room.

    Raises:
        Faults: as :func:`cutting_list`, without the cabinet's own place.
    """
    _loose_blanks(layout, figures)


def _parts_of(layout: CabinetLayout, figures: Figures, gathered: Gathering) -> list[CutPart]:
    blanks = [_piece_blank(piece, layout, figures) for piece in layout.pieces if piece.role is not Role.WEB_FRAME]
    return gathered(layout.cabinet.name, [*blanks, *_loose_blanks(layout, figures)], layout.cabinet.count)


def _loose_blanks(layout: CabinetLayout, figures: Figures) -> list[Blank]:
    """Adjustable shelves, fronts and drawer boxes."""
    collector = FaultCollector()
    blanks: list[Blank] = []
    for bay in layout.bays:
        with collector.at():
            blanks.extend(_adjustable_blanks(layout, bay, figures))
    with collector.at():
        blanks.extend(_front_blank(front, layout.cabinet.edging, figures) for front in fronts_of(layout, figures))
    with collector.at():
        blanks.extend(blank for box in drawer_boxes(layout, figures) for blank in box_parts(box, figures))
    collector.raise_any()
    return blanks


def _piece_blank(piece: Piece, layout: CabinetLayout, figures: Figures) -> Blank:
    return Blank(
        name=piece.name,
        role=piece.role.value,
        stock=piece.stock.name,
        length=piece.length,
        width=width_of(piece),
        thickness=piece.stock.thickness,
        hands=_hand(piece),
        notes=(*notes_of(piece, layout, figures), *fastener_notes(piece, layout, figures)),
        works=(*part_works(piece, layout, figures), *fastener_works(piece, layout)),
        edges=edged_piece(piece, layout).strips,
    )


def _hand(piece: Piece) -> HandCounts | None:
    return {None: None, Hand.LEFT: LEFT, Hand.RIGHT: RIGHT}[piece.hand]


def _adjustable_blanks(layout: CabinetLayout, bay: Bay, figures: Figures) -> Iterator[Blank]:
    """The adjustable shelves of an opening, as deep as the case inside, behind a front that reaches into it."""
    rule, length = bay.compartment.adjustable, bay.shelf_length
    if rule is None or length is None:
        return
    front = max(layout.finished_front, behind_front(layout, bay))
    nosing, stock = layout.cabinet.shelves.nosing, layout.shelf_stock(bay)
    depth = layout.inner_back - front - rule.depth_play - (nosing.stock.thickness if nosing else 0)
    board = _shelf_board(layout, bay, length, depth)
    thick = Fraction(0) if nosing or not board.strips else board.strips[0].thickness
    with placed_in(layout.place_of(bay)):
        _check_shelf(bay, rule, front + thick - layout.finished_front, board.width, figures)
    yield Blank(
        bay=bay,
        role="adjustable shelf",
        stock=stock.name,
        length=board.length,
        width=board.width,
        thickness=stock.thickness,
        count=rule.count,
        notes=(*board.notes(figures), *_play_notes(rule, figures)),
        edges=board.strips,
    )
    if nosing:
        yield Blank(
            bay=bay,
            role="nosing",
            stock=nosing.stock.name,
            length=length,
            width=nosing.height or stock.thickness,
            thickness=nosing.stock.thickness,
            count=rule.count,
            notes=(GLUED_BEFORE,),
        )


def _shelf_board(layout: CabinetLayout, bay: Bay, length: Fraction, depth: Fraction) -> EdgedBoard:
    """An adjustable shelf, less its edging; what has no room is told otherwise."""
    rule = layout.cabinet.edging
    if rule is None or min(length, depth) <= 0:
        return EdgedBoard(length, depth)
    name, ends = f'the adjustable shelves of opening "{bay.name}"', (BoardEdge.LEFT, BoardEdge.RIGHT)
    return edged_loose(rule, edges_of_loose(layout.cabinet), ends, length, depth, name)


def _play_notes(rule: Adjustable, figures: Figures) -> Iterator[str]:
    """What the shelves are less than the opening by."""
    less = (("shorter", rule.play), ("less deep", rule.depth_play))
    words = [f"{way} by {figures(play)}" for way, play in less if play]
    if words:
        yield f"{' and '.join(words)} than there is room"


def _check_shelf(bay: Bay, rule: Adjustable, front: Fraction, depth: Fraction, figures: Figures) -> None:
    if rule.play >= bay.x.size:
        raise Fault(
            f'the adjustable shelves of opening "{bay.name}" come to nothing: it is {figures(bay.x.size)} '
            f"wide, and their play is {figures(rule.play)}",
            "make the play less",
        )
    if depth <= 0:
        raise Fault(
            f'the adjustable shelves of opening "{bay.name}" have no depth: {figures(depth)} is left behind its front',
            "make the front thinner, depth_play less or the cabinet deeper",
        )
    if rule.front <= front:
        raise Fault(
            f'the adjustable shelves of opening "{bay.name}" begin {figures(front)} from the front, behind '
            f"what closes it, and their front row of holes is at {figures(rule.front)}",
            f"make front more than {figures.at_least(front)}",
        )


_UP_AND_DOWN: Final = (BoardEdge.BOTTOM, BoardEdge.TOP)
_ACROSS: Final = (BoardEdge.LEFT, BoardEdge.RIGHT)


def _front_blank(front: Front, edging: Edging | None, figures: Figures) -> Blank:
    """A front, its length with the grain: a drawer front's across the cabinet, a door's upward."""
    lies = front.kind.lies
    length, width = (front.width, front.height) if lies else (front.height, front.width)
    board = EdgedBoard(length, width)
    if edging:
        name = f'the {front.kind.value} of opening "{front.name}"'
        board = edged_loose(edging, edging.fronts.edges, _ACROSS if lies else _UP_AND_DOWN, length, width, name)
    return Blank(
        bay=front.closing,
        role=_FRONT_ROLES[front.kind],
        stock=front.stock.name,
        length=board.length,
        width=board.width,
        thickness=front.stock.thickness,
        count=front.count,
        hands=HandCounts(1, 1) if front.kind is FrontKind.PAIR else None,
        notes=(*board.notes(figures), *(_season_notes(front.season, figures) if front.season else ())),
        edges=board.strips,
    )


_FRONT_ROLES: Final = {
    FrontKind.DRAWER: "drawer front",
    FrontKind.FALSE: "false front",
    FrontKind.DOOR: "door",
    FrontKind.PAIR: "door",
}


def _season_notes(season: Season, figures: Figures) -> Iterator[str]:
    wood = season.wood
    yield f"{wood.species}, {wood.cut.value}-sawn, cut to width at {percent(wood.made_at)} moisture"
    at_ends = (
        f"{figures(season.driest)} at {percent(wood.driest)}, {figures(season.dampest)} at {percent(wood.dampest)}"
    )
    yield f"{season.word} across the grain {figures(season.made)} when made, {at_ends}"
