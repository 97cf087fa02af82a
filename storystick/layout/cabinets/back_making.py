"""What a back is made of: one sheet, two of them, upright boards, or a frame with panels. A row a kind.

Boards stand a gap apart, and half a gap from either end of the back's room, since each is fastened at its middle only
and moves to both sides from there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count, pairwise
from typing import Any, Final

from storystick.errors import Fault, FaultCollector, Where
from storystick.job.back_makes import BoardJoint, Boards, Framed, InParts
from storystick.job.cabinets import Cabinet
from storystick.job.case_joints import Tongue
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Ending, Piece, Range, Role
from storystick.layout.movement import change, coefficient_of, percent, size_to_make
from storystick.lengths import Figures, Label


def pieces_of_back(back: Piece, case: Sequence[Piece], figures: Figures) -> tuple[Piece, ...]:
    """What a back is made of, from the back as one piece and the pieces of the case before it.

    Raises:
        StorystickError: it cannot be made so; ``figures`` says the lengths.
    """
    make = make_of(back.cabinet)
    return tuple(_MAKES[type(make)](make, back, case, figures)) if make else (back,)


def make_of(cabinet: Cabinet) -> Boards | Framed | InParts | None:
    """What the back of a cabinet is made of; None for one sheet, or no back."""
    make: Boards | Framed | InParts | None = getattr(cabinet.back, "make", None)
    return make


def part_of(back: Piece, role: Role, name: str, x: Range, z: Range, **more: Any) -> Piece:
    """A piece of a back, as deep in the cabinet as that is."""
    own = {"stock": back.stock, "axis": Axis.Z, "y": back.y, **more}
    return Piece(cabinet=back.cabinet, role=role, name=name, x=x, z=z, **own)


def levels_behind(back: Piece, case: Sequence[Piece]) -> list[Piece]:
    """What of the case lies level against a back, from below."""
    levels = (piece for piece in case if piece.axis is Axis.X and piece.y.end == back.y.start)
    return sorted((piece for piece in levels if piece.z.overlaps(back.z)), key=lambda piece: piece.z.start)


def shelf_behind(back: Piece, case: Sequence[Piece], name: str | None = None) -> Piece:
    """The shelf of a name, or the one nearest to the middle, of those that reach a back from side to side.

    Raises:
        Fault: there is none.
    """
    middle = (back.z.start + back.z.end) / 2
    shelves = [piece for piece in levels_behind(back, case) if piece.role is Role.SHELF and _reaches_both(piece, case)]
    found = [piece for piece in shelves if name in (None, piece.name)]
    if not found:
        which = f'"{name}" is not a shelf that' if name else "no shelf"
        known = ", ".join(f'"{piece.name}"' for piece in shelves)
        cure = f"name one of {known}" if known else "give it a shelf that does, or make the back of one part"
        raise Fault(f"{which} reaches the back from side to side", cure)
    return min(found, key=lambda piece: abs((piece.z.start + piece.z.end) / 2 - middle))


def _reaches_both(shelf: Piece, case: Sequence[Piece]) -> bool:
    sides = [piece for piece in case if piece.role is Role.SIDE]
    return [shelf.low.on, shelf.high.on] == sides


def _in_parts(make: InParts, back: Piece, case: Sequence[Piece], _: Figures) -> Iterator[Piece]:
    """Two sheets, from the middle of a shelf down and up."""
    shelf = shelf_behind(back, case, make.at)
    middle = (shelf.z.start + shelf.z.end) / 2
    yield part_of(back, Role.BACK, "back, lower part", back.x, Range(back.z.start, middle))
    yield part_of(back, Role.BACK, "back, upper part", back.x, Range(middle, back.z.end))


@dataclass(frozen=True, slots=True)
class BoardSizes:
    """How the boards of a back are laid out, in mm: so many, each ``face`` wide without its lap, ``gap`` apart.

    ``pitch`` is from one to the next; ``driest`` is the gap that a dry year leaves, None where no wood is told.
    """

    count: int
    pitch: Fraction
    face: Fraction
    gap: Fraction
    driest: Fraction | None = None
    dampest: Fraction | None = None


def board_sizes(make: Boards, room: Fraction) -> BoardSizes:
    """The fewest boards of equal faces, none wider than may be, that fill a ``room`` with their gaps.

    With a wood and no gap given, each is made so wide that its neighbours just meet in the dampest season: each moves
    from its middle, so a joint closes by what one board gains.

    Raises:
        Faults: the wood is not known.
    """
    wood = make.wood
    moves = coefficient_of(wood) if wood else Fraction(0)
    for number in count(1):
        pitch = room / number
        if wood and make.gap is None:
            face = size_to_make(pitch, moves, wood.made_at, wood.dampest)
        else:
            face = pitch - (make.gap or 0)
        if face + (make.lap if number > 1 else 0) <= make.width:
            break
    if wood is None:
        return BoardSizes(number, pitch, face, pitch - face)
    driest, dampest = (pitch - face - change(face, moves, wood.made_at, after) for after in (wood.driest, wood.dampest))
    return BoardSizes(number, pitch, face, pitch - face, driest, dampest)


def _of_boards(make: Boards, back: Piece, case: Sequence[Piece], figures: Figures) -> Iterator[Piece]:
    """Boards from the left; all but the last have a tongue or a lap that stands out beyond them to the right."""
    collector = FaultCollector()
    with collector.at(Where.keys("back", "boards", "wood")):
        sizes = board_sizes(make, back.x.size)
    collector.raise_any()
    _check_boards(make, sizes, back, case, figures)
    for number in range(sizes.count):
        start = back.x.start + number * sizes.pitch + sizes.gap / 2
        tongue = make.lap if number < sizes.count - 1 else Fraction(0)
        x = Range(start, start + sizes.face)
        yield part_of(back, Role.BACK_BOARD, f"back board {number + 1}", x, back.z, edge_tongue=tongue)


def _check_boards(make: Boards, sizes: BoardSizes, back: Piece, case: Sequence[Piece], figures: Figures) -> None:
    """Whether there is enough that they can be fastened to, and whether they stay in each other when they dry."""
    collector = FaultCollector()
    behind = {piece.z.start for piece in levels_behind(back, case)}
    if len(behind) < _FEWEST_LEVELS:
        what = f"the boards of the back have {len(behind)} level parts behind them to be fastened to, and want two"
        collector.add(Fault(what, "let the bottom and the top stand between the sides, or give shelves", "back"))
    if make.wood and sizes.driest is not None and sizes.driest >= make.lap:
        what = (
            f"at {percent(make.wood.driest)} the boards of the back stand {figures(sizes.driest)} apart, and what "
            f"joins them is {figures(make.lap)} long"
        )
        collector.add(Fault(what, "make the boards narrower or the lap longer", Where.keys("back", "boards")))
    collector.raise_any()


_FEWEST_LEVELS: Final = 2


def frame_joint(make: Framed) -> Tongue:
    """Of the rails of a framed back with its stiles: a stub tongue as thick as a panel, in the same grooves."""
    gap = min(make.bottom_gap, make.groove_depth / 2)
    return Tongue("back frame", make.panel.thickness, make.groove_depth, bottom_gap=gap)


def _framed(make: Framed, back: Piece, case: Sequence[Piece], figures: Figures) -> Iterator[Piece]:
    """Stiles, then rails from below, then the panels between them."""
    _check_frame(make, back, figures)
    x, z = back.x, back.z
    left = part_of(back, Role.BACK_STILE, "left back stile", Range(x.start, x.start + make.stile), z)
    right = part_of(back, Role.BACK_STILE, "right back stile", Range(x.end - make.stile, x.end), z)
    joint, between = frame_joint(make), Range(left.x.end, right.x.start)
    low, high = (Ending(stile, joint, joint.entry) for stile in (left, right))
    rails = [
        part_of(back, Role.BACK_RAIL, f"{word} back rail", between, place, axis=Axis.X, low=low, high=high)
        for word, place in _rail_places(make, back, case)
    ]
    yield from (left, right, *rails)
    half = (back.stock.thickness - make.panel.thickness) / 2
    y = Range(back.y.start + half, back.y.end - half)
    across = _panel_width(make, between, joint, figures)
    for number, (below, above) in enumerate(pairwise(rails), start=1):
        name = "back panel" if len(rails) == _FEWEST_LEVELS else f"back panel {number}"
        up = Range(below.z.end - joint.entry, above.z.start + joint.entry)
        yield part_of(back, Role.BACK_PANEL, name, across, up, stock=make.panel, y=y)


def _rail_places(make: Framed, back: Piece, case: Sequence[Piece]) -> Iterator[tuple[str, Range]]:
    yield "lower", Range(back.z.start, back.z.start + make.rail)
    if make.mid_rail:
        shelf = shelf_behind(back, case)
        low = (shelf.z.start + shelf.z.end - make.mid_rail) / 2
        yield "middle", Range(low, low + make.mid_rail)
    yield "upper", Range(back.z.end - make.rail, back.z.end)


def _panel_width(make: Framed, between: Range, joint: Tongue, figures: Figures) -> Range:
    """A sheet is short of the bottoms of its grooves; solid wood fills them in the dampest season.

    Raises:
        StorystickError: the wood is not known, or dries out of its grooves.
    """
    if make.wood is None:
        return Range(between.start - joint.entry, between.end + joint.entry)
    collector = FaultCollector()
    moves = Fraction(0)
    with collector.at(Where.keys("back", "framed", "wood")):
        moves = coefficient_of(make.wood)
    collector.raise_any()
    wide = size_to_make(between.size + 2 * make.groove_depth, moves, make.wood.made_at, make.wood.dampest)
    driest = wide + change(wide, moves, make.wood.made_at, make.wood.driest)
    if driest <= between.size:
        what = (
            f"at {percent(make.wood.driest)} the panels of the back are {figures(driest)} wide and leave their grooves"
        )
        raise Fault(what, "make groove_depth more, or give the frame more stiles", Where.keys("back", "framed"))
    middle = (between.start + between.end) / 2
    return Range(middle - wide / 2, middle + wide / 2)


def _check_frame(make: Framed, back: Piece, figures: Figures) -> None:
    """Whether its members leave room for panels, and these are let into the frame's stock."""
    collector = FaultCollector()
    rails = 2 * make.rail + (make.mid_rail or 0)
    for words, members, room in (("stiles", 2 * make.stile, back.x.size), ("rails", rails, back.z.size)):
        if members >= room:
            what = f"the {words} of the back come to {figures(members)} together, of {figures(room)}"
            collector.add(Fault(what, "make them narrower", Where.keys("back", "framed")))
    thick, panel = back.stock.thickness, make.panel.thickness
    if 2 * panel > thick:
        what = f"the panels of the back are {figures(panel)} thick, more than half of its frame's {figures(thick)}"
        collector.add(Fault(what, "make the panels thinner or the frame's stock thicker", Where.keys("back", "framed")))
    narrowest = min(make.stile, make.rail, make.mid_rail or make.rail)
    if 2 * make.groove_depth >= narrowest:
        what = f"grooves {figures(make.groove_depth)} deep leave too little of a member {figures(narrowest)} wide"
        collector.add(Fault(what, "make groove_depth less than half of that", Where.keys("back", "framed")))
    collector.raise_any()


_MAKES: Final[Mapping[type, Callable[[Any, Piece, Sequence[Piece], Figures], Iterator[Piece]]]] = {
    Boards: _of_boards,
    Framed: _framed,
    InParts: _in_parts,
}


def making_words(layout: CabinetLayout, figures: Figures) -> str:
    """What the back is made of, after how it is held; empty for one sheet."""
    make = make_of(layout.cabinet)
    return _WORDS[type(make)](make, layout, figures) if make and layout.back else ""


def _board_words(make: Boards, layout: CabinetLayout, figures: Figures) -> str:
    boards = layout.of(Role.BACK_BOARD)
    face, gap = figures(boards[0].x.size), figures(board_sizes(make, _room(layout)).gap)
    joint = "tongued and grooved" if make.joint is BoardJoint.TONGUE else "shiplapped"
    return f"of {len(boards)} upright boards, {joint}, each {face} wide without what laps, {gap} apart"


def _room(layout: CabinetLayout) -> Fraction:
    return layout.back.x.size if layout.back else Fraction(0)


def _frame_words(make: Framed, _: CabinetLayout, figures: Figures) -> str:
    members = f"stiles {figures(make.stile)} and rails {figures(make.rail)} wide"
    return f"a frame, {members}, with panels {figures(make.panel.thickness)} thick in its grooves"


def _part_words(_: InParts, layout: CabinetLayout, figures: Figures) -> str:
    return f"in two parts that meet {figures(layout.of(Role.BACK)[0].z.end)} above the floor, behind a shelf"


_WORDS: Final[Mapping[type, Callable[[Any, CabinetLayout, Figures], str]]] = {
    Boards: _board_words,
    Framed: _frame_words,
    InParts: _part_words,
}


def making_notes(piece: Piece, layout: CabinetLayout, label: Label) -> Iterator[str]:
    """What is to be known of a board of a back: the room that it has to swell."""
    make, back = make_of(layout.cabinet), layout.back
    if not (isinstance(make, Boards) and back and piece.role is Role.BACK_BOARD):
        return
    sizes = board_sizes(make, back.x.size)
    yield f"left and right as seen from the front; {label(sizes.gap)} from its neighbours, half of that at either end"
    wood = make.wood
    if wood and sizes.driest is not None and sizes.dampest is not None:
        ends = ((wood.driest, sizes.driest), (wood.dampest, max(sizes.dampest, Fraction(0))))
        gaps = ", ".join(f"{label(gap)} at {percent(moisture)}" for moisture, gap in ends)
        yield f"{wood.species}, {wood.cut.value}-sawn, cut to width at {percent(wood.made_at)} moisture; gap {gaps}"


def making_warnings(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Boards that swell by more than their gap."""
    make, back = make_of(layout.cabinet), layout.back
    if isinstance(make, Boards) and make.wood and back:
        sizes = board_sizes(make, back.x.size)
        if sizes.dampest is not None and sizes.dampest < 0:
            yield (
                f"the boards of the back swell by {figures(sizes.gap - sizes.dampest)} each by "
                f"{percent(make.wood.dampest)}, and their gaps are {figures(sizes.gap)}: leave gap out, so that it "
                "follows from the wood"
            )
