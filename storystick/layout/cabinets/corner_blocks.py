"""Corner blocks in their places: flat in the corners of a case under its top, or of a plinth at its upper edge.

Under a top they are glued to that; in an open case, or beside stretchers, they are flush with the upper edge of the
case, between its sides and what stands in front and at the back there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from itertools import product
from typing import Final, TypeAlias

from storystick.errors import Fault
from storystick.job.corner_blocks import BlockedAt, CornerBlocks
from storystick.layout.cabinets.fixed_in import check_room, clear_depth, closing_panel, touching, under_top
from storystick.layout.cabinets.pieces import Axis, CabinetLayout, Piece, Range, Role
from storystick.lengths import Figures

_KEY: Final = "corner_blocks"

Point: TypeAlias = tuple[Fraction, Fraction]


def corner_blocks_of(layout: CabinetLayout, figures: Figures) -> tuple[Piece, ...]:
    """All corner blocks of a cabinet that is laid out but for them: from the front, the left one first.

    Raises:
        Fault: there is nothing to glue them to, or something else stands there; ``figures`` says the lengths.
    """
    rule = layout.cabinet.corner_blocks
    if rule is None:
        return ()
    blocks = tuple(block for at in BlockedAt if at in rule.at for block in _PLACES[at](layout, rule, figures))
    check_room(layout, blocks, _KEY, figures)
    return blocks


def corner_of(layout: CabinetLayout, block: Piece) -> tuple[bool, bool]:
    """In which corner a block is: whether at the left, and whether in front."""
    left, right = block.x.start - layout.case.x.start, layout.case.x.end - block.x.end
    front, back = block.y.start - layout.case.y.start, layout.case.y.end - block.y.end
    return left <= right, front <= back


def triangle_of(layout: CabinetLayout, block: Piece) -> tuple[Point, Point, Point]:
    """A block from above: the corner, then the ends of its leg across and of its leg into the depth."""
    left, front = corner_of(layout, block)
    near_x, far_x = (block.x.start, block.x.end) if left else (block.x.end, block.x.start)
    near_y, far_y = (block.y.start, block.y.end) if front else (block.y.end, block.y.start)
    return (near_x, near_y), (far_x, near_y), (near_x, far_y)


def depth_at(layout: CabinetLayout, block: Piece, x: Fraction) -> Range:
    """What a block has of the depth at a station across the cabinet within it."""
    left, front = corner_of(layout, block)
    deep = block.x.end - x if left else x - block.x.start
    return Range(block.y.start, block.y.start + deep) if front else Range(block.y.end - deep, block.y.end)


def _at_top(layout: CabinetLayout, rule: CornerBlocks, figures: Figures) -> Iterator[Piece]:
    case, top = layout.case, under_top(layout)
    x, z = case.inside_x, Range(top - rule.stock.thickness, top)
    start, end = clear_depth(layout, x, z, Range(case.y.start, case.inner_y.end))
    blocks = tuple(_four("corner block", layout, rule, x, (start, end), z, figures))
    for block in blocks if closing_panel(layout) is None else ():
        _check_held(layout, block)
    yield from blocks


def _check_held(layout: CabinetLayout, block: Piece) -> None:
    """Whether something stands before a block in front, or behind one at the back."""
    front = corner_of(layout, block)[1]
    if not any(axis is Axis.Y and high is not front for _, axis, high in touching(layout.pieces, block)):
        raise Fault(
            f"nothing stands {'before' if front else 'behind'} the {block.name} that it could be glued to",
            'give the case stretchers at the top, or a face frame and a back or nailers; or at = "plinth"',
            _KEY,
        )


def _in_plinth(layout: CabinetLayout, rule: CornerBlocks, figures: Figures) -> Iterator[Piece]:
    plinth = layout.of(Role.PLINTH)
    if not plinth:
        raise Fault('corner blocks at = "plinth", but the cabinet has no plinth', 'give it one, or at = "top"', _KEY)
    rails, ends = ([piece for piece in plinth if piece.axis is axis] for axis in (Axis.X, Axis.Y))
    thick = rule.stock.thickness
    high = rails[0].z.end
    if thick > high:
        what = f"corner blocks {figures(thick)} thick are thicker than the plinth is high, {figures(high)}"
        raise Fault(what, f"take a stock {figures.at_most(high)} thick at most", _KEY)
    # Without room between its front and its back it has no ends, which is told as a fault later.
    if ends:
        x, y = Range(ends[0].x.end, ends[1].x.start), ends[0].y
        yield from _four("plinth corner block", layout, rule, x, (y.start, y.end), Range(high - thick, high), figures)


_PLACES: Final[Mapping[BlockedAt, Callable[[CabinetLayout, CornerBlocks, Figures], Iterator[Piece]]]] = {
    BlockedAt.TOP: _at_top,
    BlockedAt.PLINTH: _in_plinth,
}


def _four(
    word: str,
    layout: CabinetLayout,
    rule: CornerBlocks,
    x: Range,
    depth: tuple[Fraction, Fraction],
    z: Range,
    figures: Figures,
) -> Iterator[Piece]:
    """One in each corner of a room across, in depth and up."""
    start, end = depth
    least = max(min(x.size, end - start), Fraction(0))
    if 2 * rule.size > least:
        raise Fault(
            f"corner blocks with legs of {figures(rule.size)} meet each other: {figures(least)} lies between what "
            "they are glued to",
            f"make size {figures.at_most(least / 2)} or less",
            _KEY,
        )
    for number, (y, across) in enumerate(product(_ends(Range(start, end), rule.size), _ends(x, rule.size)), start=1):
        yield Piece(
            cabinet=layout.cabinet,
            role=Role.CORNER_BLOCK,
            name=f"{word} {number}",
            stock=rule.stock,
            axis=Axis.X,
            x=across,
            y=y,
            z=z,
        )


def _ends(whole: Range, size: Fraction) -> tuple[Range, Range]:
    return Range(whole.start, whole.start + size), Range(whole.end - size, whole.end)
