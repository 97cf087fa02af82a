"""The pictures of a draft: of what is chosen, of the whole job, its strips in one piece, and a small one for a card."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from typing import Final

from storystick.bench.pictures.cabinet import draw_cabinet
from storystick.bench.pictures.picture import Picture, Place
from storystick.bench.places import Steps
from storystick.bench.said import CabinetSaid, Table, along_wall, items_said, run_at
from storystick.drawing.overviews import LARGE, SMALL, arrange_boards, overview_of
from storystick.drawing.projection import Scale
from storystick.drawing.strip import Strip, strips_of
from storystick.drawing.wall import walls_of
from storystick.drawing.wall_sheet import WallSheet
from storystick.drawing.wall_view import arrange_front
from storystick.layout.alike import LetteredStick, lettered_sticks
from storystick.layout.board import BoardLayout
from storystick.layout.runs import RunLayout
from storystick.layout.stations import Layout, StickLayout
from storystick.lengths import Figures
from storystick.sheets.boards import board_page
from storystick.sheets.strips import one_piece

_STICK_MM: Final = (150.0, 110.0)
_WALL_MM: Final = (220.0, 120.0)
_AROUND_WALL_MM: Final = (45.0, 50.0)
"""What words and dimensions take beside and above a wall, more or less."""

_TOGETHER_MM: Final = (220.0, 140.0)
_CARD_MM: Final = (72.0, 48.0)


def pictures_of(layout: Layout, document: Table, at: Steps = ()) -> tuple[Picture, ...]:
    """What is chosen, with its strips: a cabinet, a stick, a wall or a board; else the whole job.

    ``document`` are the tables of the job's file. What has a fault, and is not laid out, has no picture.

    Raises:
        StorystickError: it cannot be drawn.
    """
    match thing_of(at):
        case (str(table), int(place)):
            return tuple(_CHOSEN[table](layout, document, place + 1))
    return tuple(_whole(layout, document))


def thing_of(at: Steps) -> Steps:
    """What has a picture of its own and holds a place; none is the whole job."""
    match _numbered(at):
        case (str(table), int(place), *_) if table in _CHOSEN:
            return (table, place)
    return ()


def _numbered(at: Steps) -> Steps:
    """A run that is a table of its own, with the number that others have."""
    is_alone = at[:1] == ("run",) and not any(isinstance(step, int) for step in at[1:2])
    return ("run", 0, *at[1:]) if is_alone else at


def strip_pictures(layout: Layout, at: Steps = ()) -> tuple[Picture, ...]:
    """The strips of what is chosen, or of the whole job, each in one piece as it is printed.

    Raises:
        StorystickError: one cannot be drawn.
    """
    return tuple(_in_one_piece(strip) for strip in strips_of(layout) if _is_of(strip, layout, at))


def thumbnail(layout: Layout) -> str:
    """A small picture of a job for its card, as an element of an HTML page; empty where there is nothing to show.

    Raises:
        StorystickError: it cannot be drawn.
    """
    figures, title = layout.job.figures, layout.job.title
    if layout.cabinets or layout.runs:
        return Picture(title, arrange_front(layout, (), walls_of(layout, {}), *_CARD_MM).shapes).svg()
    if layout.sticks:
        view = overview_of(layout.sticks[0], figures, *_CARD_MM, SMALL)
        return Picture(title, tuple(view.draw())).svg()
    if layout.boards:
        return Picture(title, tuple(arrange_boards(layout.boards, figures, *_CARD_MM).draw())).svg()
    return ""


def _whole(layout: Layout, document: Table) -> Iterator[Picture]:
    """Walls, then the cabinets that stand at none, or the one that there is; then sticks, and boards of a job of these
    alone."""
    yield from (_wall(run, layout) for run in layout.runs)
    at_walls = {cabinet.name for run in layout.job.runs for cabinet in run.cabinets}
    if len(layout.cabinets) == 1 and not at_walls:
        yield from _cabinet(layout, document, layout.cabinets[0].cabinet.number)
    elif any(each.cabinet.name not in at_walls for each in layout.cabinets):
        yield _side_by_side(layout)
    for stick in layout.job.sticks:
        yield from _stick(layout, document, stick.number)
    if not (layout.cabinets or layout.runs or layout.job.sticks):
        yield from (_board(board, layout, number) for number, board in enumerate(layout.boards, start=1))


def _cabinet(layout: Layout, document: Table, number: int) -> Iterator[Picture]:
    for found in layout.cabinets:
        if found.cabinet.number == number:
            said = CabinetSaid(found, document)
            yield draw_cabinet(found, said, layout.job.figures)
            for lettered in lettered_sticks(layout):
                own = (stick for stick in lettered.served for face in stick.faces if face.cabinet == found.cabinet.name)
                if stick := next(own, None):
                    yield _reduced(lettered, stick, said, layout.job.figures)


def _reduced(lettered: LetteredStick, own: StickLayout, said: CabinetSaid, figures: Figures) -> Picture:
    """A strip to be looked at, and not measured; ``own`` is the cabinet's stick that it serves."""
    view = overview_of(lettered.drawn, figures, *_STICK_MM, SMALL)
    places = tuple(
        Place(rect, at, f"{span.name}, {figures(span.size)}")
        for span, rect in view.places()
        if (at := said.on_strip(own, span))
    )
    return Picture(lettered.serves_words, tuple(view.draw()), places, letter=lettered.letter)


def _stick(layout: Layout, document: Table, number: int) -> Iterator[Picture]:
    """A stick of the job's own, large where all of its words have room so."""
    letters = {lettered.drawn.name: lettered.letter for lettered in lettered_sticks(layout) if not lettered.faces}
    for found in layout.sticks:
        if not found.faces and found.name in letters and found.stick.items and found.stick.number == number:
            views = (overview_of(found, layout.job.figures, *_STICK_MM, sizes) for sizes in (LARGE, SMALL))
            view = min(views, key=lambda view: view.cut_short)
            said = items_said(found.stick, document)
            places = tuple(
                Place(rect, at, f"{span.name}, {layout.job.figures(span.size)}")
                for (span, rect), at in zip(view.places(), said, strict=True)
            )
            at: Steps = ("stick", number - 1)
            yield Picture(found.name, tuple(view.draw()), places, at=at, letter=letters[found.name])


def _wall(run: RunLayout, layout: Layout) -> Picture:
    cabinets = {each.cabinet.name: each for each in layout.cabinets}
    sheet = WallSheet(run, layout.runs, cabinets, layout.job.figures)
    (width, height), (beside, above) = _WALL_MM, _AROUND_WALL_MM
    factor = min((width - beside) / float(run.length), (height - above) / float(sheet.top))
    drawing = sheet.draw(Scale("", Fraction(factor)))
    places = tuple(Place(rect, along_wall(placed, run), placed.span.name) for placed, rect in drawing.things)
    title = f"{run.run.name}, {layout.job.figures(run.length)} long"
    return Picture(title, drawing.shapes, places, at=run_at(run))


def _chosen_wall(layout: Layout, _document: Table, number: int) -> Iterator[Picture]:
    yield from (_wall(run, layout) for run in layout.runs if run.run.number == number)


def _side_by_side(layout: Layout) -> Picture:
    """The cabinets that stand at no wall, one of each kind."""
    view = arrange_front(layout, (), (), *_TOGETHER_MM)
    places = tuple(
        Place(rect, ("cabinet", found.cabinet.number - 1), found.cabinet.told) for found, rect in view.cabinets()
    )
    return Picture(layout.job.title, view.shapes, places)


def _chosen_board(layout: Layout, _document: Table, number: int) -> Iterator[Picture]:
    """A board template; it is known by its number only where none before it has a fault."""
    if len(layout.boards) == len(layout.job.boards) and number <= len(layout.boards):
        yield _board(layout.boards[number - 1], layout, number)


def _board(board: BoardLayout, layout: Layout, number: int) -> Picture:
    page = board_page(board, layout.job)
    return Picture(board.name, (*page.shapes, *page.cut), at=("template", number - 1))


_CHOSEN: Final[Mapping[str, Callable[[Layout, Table, int], Iterable[Picture]]]] = {
    "cabinet": _cabinet,
    "stick": _stick,
    "run": _chosen_wall,
    "template": _chosen_board,
}


def _is_of(strip: Strip, layout: Layout, at: Steps) -> bool:
    """Whether a strip is laid on what is chosen."""
    match _numbered(at):
        case ("cabinet", int(place), *_):
            names = {each.name for each in layout.job.cabinets if each.number == place + 1}
            return any(face.cabinet in names for face in strip.faces)
        case ("stick", int(place), *_):
            return not strip.faces and strip.layout.stick.number == place + 1
        case ("run", int(place), *_):
            sticks = (stick for run in layout.runs if run.run.number == place + 1 for stick in run.sticks)
            return strip.layout.name in {stick.name for stick in sticks}
    return True


def _in_one_piece(strip: Strip) -> Picture:
    page = one_piece(strip)
    return Picture(strip.told.removeprefix(strip.letter).strip(), (*page.shapes, *page.cut), letter=strip.letter)
