"""The drawing sheet of a cabinet: its views at a standard scale over a title block, with how it is put together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Any, Final

from storystick.drawing.cabinet_sheet import CabinetDrawing, CabinetSheet
from storystick.drawing.lettering import SIZE_MM, WORDS_PT, shortened, text_width_mm, wrapped
from storystick.drawing.shapes import Text, moved
from storystick.errors import placed_in
from storystick.job.backs import GrooveBack, LaidOnBack, RabbetBack
from storystick.job.bases import BoardPlace, Plinth, Toe
from storystick.job.frames import FrameRule
from storystick.job.fronts import FrontKind
from storystick.job.job import Job
from storystick.layout.alike import kinds_of
from storystick.layout.cabinets.back_making import making_words
from storystick.layout.cabinets.closings import closings_of
from storystick.layout.cabinets.pieces import CabinetLayout, End, Piece, Role
from storystick.layout.runs import RunLayout
from storystick.layout.walls.behind import Behind, behind_cabinets
from storystick.lengths import Figures
from storystick.sheets.document import Page
from storystick.sheets.pages.edging_words import tell_edging
from storystick.sheets.pages.flow import NOTHING, Block, Room, paragraph, stacked
from storystick.sheets.pages.front_words import tell_fronts, tell_signs
from storystick.sheets.pages.joint_words import tell_joints
from storystick.sheets.pages.title_block import Field, title_block
from storystick.sheets.pages.wall_notes import back_words
from storystick.wording import by_number, capital, listed, unbroken

_GAP_MM: Final = 4.0
_KEY_LINE_MM: Final = 4.4
_BEFORE_TITLE_MM: Final = 1.5
_PAGE: Final = Room(190.0, 250.0)
_AROUND_MM: Final = 10.0
_LEAST_BESIDE_MM: Final = 50.0
_NUMBERED: Final = "Openings by their numbers, width × height, counted upward and then to the right:"


def drawing_blocks(
    layouts: Sequence[CabinetLayout], job: Job, room: Room, runs: Sequence[RunLayout] = ()
) -> Iterator[Block]:
    """A page for each kind of cabinet, those that are built alike once, with what comes on its back in ``runs``."""
    kinds = kinds_of(layouts)
    for number, alike in enumerate(kinds, start=1):
        with placed_in(alike[0].cabinet.place):
            yield from _drawing_sheet(alike, job, room, f"{number} of {len(kinds)}", runs)


def views_page(layout: CabinetLayout, job: Job, runs: Sequence[RunLayout] = ()) -> Page:
    """A cabinet's drawing sheet on a page of its own; its upper left corner is at 0, 0."""
    sheet = stacked(list(_drawing_sheet((layout,), job, _PAGE, "1 of 1", runs)))
    return Page(
        _PAGE.width_mm + 2 * _AROUND_MM,
        sheet.height_mm + 2 * _AROUND_MM,
        sheet.shapes,
        label=layout.cabinet.name,
        left_mm=-_AROUND_MM,
        bottom_mm=-sheet.height_mm - _AROUND_MM,
    )


def _drawing_sheet(
    alike: Sequence[CabinetLayout], job: Job, room: Room, number: str, runs: Sequence[RunLayout]
) -> Iterator[Block]:
    """The drawing with its words over its title block, in all as high as the room.

    Words that no drawing leaves room for follow below it.
    """
    layout = alike[0]
    high = room.height_mm - _title_block(alike, None, job, room, number).height_mm - _GAP_MM
    words = _Words(layout, job, room, tuple(back_words(alike, runs, job.figures)))
    sheet = CabinetSheet(layout, job.figures, on_back(alike, runs), hangs(alike, runs))
    for drawing in sheet.drawings(room.width_mm, high):
        for beside, below in words.shared(drawing):
            if drawing.height_mm + below.height_mm + _BEFORE_TITLE_MM <= high:
                yield _page(drawing, beside, below, _title_block(alike, drawing, job, room, number), room)
                return
    yield _page(drawing, NOTHING, NOTHING, _title_block(alike, drawing, job, room, number), room)
    yield from words.all(drawing)


def on_back(alike: Sequence[CabinetLayout], runs: Sequence[RunLayout]) -> tuple[Behind, ...]:
    """What comes on a cabinet's back; of several that are built alike, words tell which has it."""
    only = len(alike) == 1 and alike[0].cabinet.count == 1
    return tuple(found for run in runs for found in behind_cabinets(run, alike)) if only else ()


def hangs(alike: Sequence[CabinetLayout], runs: Sequence[RunLayout]) -> bool:
    """Whether all of some cabinets hang on a wall."""
    own = {layout.cabinet.name for layout in alike}
    cabinets = [(each.item.cabinet, each.upper) for run in runs for each in run.placed if each.item.cabinet]
    hung = [upper for cabinet, upper in cabinets if cabinet.name in own]
    return bool(hung) and all(hung)


@dataclass(frozen=True)
class _Words:
    """What is written beside and below the drawing of a cabinet."""

    layout: CabinetLayout
    job: Job
    room: Room
    on_back: tuple[str, ...]

    @cached_property
    def notes(self) -> tuple[tuple[str, str], ...]:
        """How it is built, and what to look at; each with the sign before it."""
        built = ((words, "") for words in (*construction_words(self.layout, self.job.figures), *self.on_back))
        return (*built, *((f"{capital(warning)}.", "!") for warning in self.layout.warnings))

    def all(self, drawing: CabinetDrawing) -> Iterator[Block]:
        """All of them as wide as the room."""
        yield from _key(drawing.notes, self.room.width_mm)
        for note in self.notes:
            yield from _note(*note, self.room.width_mm)

    def shared(self, drawing: CabinetDrawing) -> Iterator[tuple[Block, Block]]:
        """What stands in the free corner of the drawing, and what below it: key first in the corner, or notes first."""
        free, width = drawing.free, self.room.width_mm
        if free is None or width - free.left < _LEAST_BESIDE_MM:
            yield NOTHING, stacked(list(self.all(drawing)))
            return
        for key_first in (True, False):
            corner, foot = (self._in_order(drawing, each, key_first) for each in (width - free.left, width))
            heights = accumulate(block.height_mm for block in corner)
            taken = sum(height <= free.top - free.bottom for height in heights)
            yield stacked(corner[:taken]), stacked(foot[taken:])

    def _in_order(self, drawing: CabinetDrawing, width: float, key_first: bool) -> list[Block]:
        key = [stacked(list(_key(drawing.notes, width)))]
        notes = [stacked(_note(*note, width)) for note in self.notes]
        return [*key, *notes] if key_first else [*notes, *key]


def _note(words: str, sign: str, width: float) -> list[Block]:
    return paragraph(words, width, indent_mm=4.0 if sign else 0.0, sign=sign)


def _page(drawing: CabinetDrawing, beside: Block, below: Block, title: Block, room: Room) -> Block:
    """The drawing at the left with words in its free corner, or in the middle; words and title block at the foot."""
    foot = stacked([below, Block(_BEFORE_TITLE_MM if below.shapes else 0.0, ()), title])
    spare = room.height_mm - foot.height_mm - _GAP_MM - drawing.height_mm
    across = 0.0 if beside.shapes else (room.width_mm - drawing.width_mm) / 2
    down = max(0.0, spare / 2)
    corner = moved(beside.shapes, drawing.free.left, drawing.free.top - down) if drawing.free else ()
    shapes = (
        *moved(drawing.shapes, across, -down),
        *corner,
        *moved(foot.shapes, 0.0, foot.height_mm - room.height_mm),
    )
    return Block(room.height_mm, shapes, starts_page=True)


def _title_block(
    alike: Sequence[CabinetLayout], drawing: CabinetDrawing | None, job: Job, room: Room, number: str
) -> Block:
    cabinet, figures = alike[0].cabinet, job.figures
    names = ", ".join(by_number(layout.cabinet.told for layout in alike))
    made = sum(layout.cabinet.count for layout in alike)
    many = unbroken(f"({made} alike)") if len(alike) > 1 else ""
    sizes = " × ".join(map(figures, (cabinet.width, cabinet.height, cabinet.depth)))
    scale, projection = (drawing.scale.words, drawing.arrangement.projection) if drawing else ("", "")
    return title_block(
        (
            (
                Field("cabinet", f"{names} {many}".strip(), 9, SIZE_MM),
                Field("width × height × depth", sizes, 7, SIZE_MM),
                Field("scale", scale, 6, SIZE_MM),
            ),
            (
                Field("job", job.title, 9),
                Field("projection", projection, 4),
                Field("units", job.units.plural, 3),
                Field("version", job.digest, 3),
                Field("drawing", number, 3),
            ),
        ),
        room.width_mm,
    )


def _key(notes: Sequence[str], width: float) -> Iterator[Block]:
    """Openings that have only their number, in as many columns as fit side by side, read line by line."""
    if not notes:
        return
    longest = max(text_width_mm(note, WORDS_PT) for note in notes)
    columns = max(1, int((width + _GAP_MM) // (longest + _GAP_MM)))
    pitch = (width + _GAP_MM) / columns
    for line in wrapped(_NUMBERED, WORDS_PT, width, bold=True):
        yield Block(_KEY_LINE_MM, (Text(0.0, 1.1 - _KEY_LINE_MM, line, WORDS_PT, bold=True),))
    for first in range(0, len(notes), columns):
        row = enumerate(shortened(note, WORDS_PT, width) for note in notes[first : first + columns])
        texts = (Text(place * pitch, 1.1 - _KEY_LINE_MM, note, WORDS_PT) for place, note in row)
        yield Block(_KEY_LINE_MM, tuple(texts))
    yield Block(_GAP_MM / 2, ())


def construction_words(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """A sentence for each thing that is not seen, or not well, at the scale of the drawing."""
    tellers = (_frame, tell_joints, tell_fronts, _boxes, tell_edging, _lengthwise, _back, _base, _fixed_in, _covered)
    for tell in (*tellers, tell_signs):
        yield from tell(layout, figures)


def _frame(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    frame = layout.cabinet.frame
    if frame is None:
        return
    widths: dict[tuple[str, str], None] = {}
    own = {
        *layout.at_end(End.TOP),
        *layout.at_end(End.BOTTOM),
        *(layout.sides if frame.stile.left != frame.stile.right else ()),
    }
    for piece in layout.of(Role.STILE, Role.RAIL, Role.MID_STILE):
        name = piece.name if piece.covers in own or _is_alone(piece, frame) else f"{piece.role.value}s"
        widths.setdefault((name, figures(piece.across.size)))
    members = listed([f"{name} {width}" for name, width in widths])
    yield f"Face frame {figures(frame.stock.thickness)} thick: {members} wide."


def _is_alone(member: Piece, frame: FrameRule) -> bool:
    """Whether a rail over a band has a width of its own."""
    usual = frame.rail or (member.covers.across.size if member.covers else None)
    return member.role is Role.RAIL and member.across.size != usual


def _boxes(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    rule = layout.cabinet.drawers
    if rule and any(closing.kind is FrontKind.DRAWER for closing in closings_of(layout)):
        yield (
            f"Drawer boxes {figures(rule.stock.thickness)} thick, clear by {figures(rule.side)} at each side, "
            f"{figures(rule.top)} above, {figures(rule.bottom)} below and {figures(rule.back)} behind; their bottoms "
            "are left to the shop."
        )


def _lengthwise(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """How thick and wide the boards are that have no dimension in the drawing."""
    for role in (Role.STRETCHER, Role.NAILER, Role.NOSING):
        boards = {
            (figures(piece.stock.thickness), figures(max(piece.y.size, piece.z.size))) for piece in layout.of(role)
        }
        for thick, wide in sorted(boards):
            yield f"{role.value.capitalize()}s {thick} thick and {wide} wide."


def _back(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    back = layout.cabinet.back
    if back:
        made = making_words(layout, figures)
        yield f"Back {figures(back.stock.thickness)} thick, {_HELD[type(back)](back, figures)}{made and ', '}{made}."


_HELD: Final[Mapping[type, Callable[[Any, Figures], str]]] = {
    RabbetBack: lambda back, figures: f"in rabbets {figures(back.width)} wide and {figures(back.depth)} deep",
    GrooveBack: lambda back, figures: (
        f"in grooves {figures(back.depth)} deep, {figures(back.inset)} from the back edge"
    ),
    LaidOnBack: lambda *_: "laid on the back edges",
}


def _fixed_in(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """Cleats and corner blocks by their sizes."""
    for role, words in ((Role.CLEAT, "Cleats"), (Role.WALL_CLEAT, "A cleat on the wall")):
        sizes = dict.fromkeys((figures(each.z.size), figures(each.stock.thickness)) for each in layout.of(role))
        for width, thick in sizes:
            yield f"{words} {width} by {thick}, drawn in broken lines."
    blocks = layout.of(Role.CORNER_BLOCK)
    if blocks:
        legs, thick = figures(blocks[0].x.size), figures(blocks[0].stock.thickness)
        yield f"Corner blocks {thick} thick, their legs {legs}, drawn in broken lines."


def _base(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    base = layout.cabinet.base
    if base is None:
        return
    ends = f", as far at the {listed([hand.value for hand in base.ends])} end" if base.ends else ""
    recess = f"{figures(base.recess)} back from the front of the {base.recess_from.value}{ends}"
    yield f"{_BASES[type(base)](base)} {figures(base.height)} high, {recess}{_toe_board(base, figures)}."


def _toe_board(base: Toe | Plinth, figures: Figures) -> str:
    board = base.board if isinstance(base, Toe) else None
    if board is None:
        return ""
    where = "between the sides" if board.place is BoardPlace.BETWEEN else "over the heels of the sides"
    return f"; its board {figures(board.stock.thickness)} thick, {where}"


_BASES: Final[Mapping[type, Callable[[Any], str]]] = {
    Toe: lambda _: "Toe space",
    Plinth: lambda base: "Loose base" if base.loose else "Base",
}


def _covered(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """What the bottom and the top rail take of the openings behind them, since the fronts are not graduated by that."""
    rails = sorted(layout.of(Role.RAIL), key=lambda rail: rail.z.start)
    if not rails:
        return
    inside = layout.case.inside_z
    both = (("bottom", rails[0].z.end - inside.start), ("top", inside.end - rails[-1].z.start))
    taken = [f"the {name} rail takes {figures(size)}" for name, size in both if size > 0]
    if taken:
        yield f"{capital(listed(taken))} of the height of the opening next to it."
