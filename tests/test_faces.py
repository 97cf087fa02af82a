"""Faces of random cabinets against their fronts as plain rectangles: they tile the face, or fill the holes in it."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from typing import Final, NamedTuple

from hypothesis import given
from hypothesis import strategies as st
from jobs import read_well

from storystick.cutting.front import Front
from storystick.cutting.fronts import fronts_of
from storystick.layout.cabinets.build import lay_out_cabinet
from storystick.layout.cabinets.pieces import FRAME_ROLES, CabinetLayout, Role

HEAD: Final = 'units = "mm"\nstock = { ply = 18, oak = 20 }\n[[cabinet]]\ndepth = 500\ncarcass = "ply"\n'
FRAME: Final = 'frame = { stock = "oak", stile = 45, top = 50, bottom = 40, rail = 36, mid_stile = 44 }\n'
EDGES: Final = ("left", "right", "bottom", "top")


class Box(NamedTuple):
    """A rectangle of the face, in mm from its left and from the floor."""

    left: Fraction
    right: Fraction
    bottom: Fraction
    top: Fraction

    @property
    def area(self) -> Fraction:
        return (self.right - self.left) * (self.top - self.bottom)

    def overlaps(self, other: Box) -> bool:
        across = self.left < other.right and other.left < self.right
        return across and self.bottom < other.top and other.bottom < self.top


def box_of(front: Front) -> Box:
    return Box(front.x.start, front.x.end, front.z.start, front.z.end)


def solids(layout: CabinetLayout) -> list[Box]:
    """What stands in the face: the frame, or the edges of the case that no front hides."""
    roles = FRAME_ROLES if layout.cabinet.frame else {Role.SIDE, Role.TOP, Role.BOTTOM, Role.SHELF, Role.DIVIDER}
    hidden = {piece for front in fronts_of(layout, FIGURES) for piece in front.closing.inside}
    pieces = [piece for piece in layout.of(*roles) if piece not in hidden]
    return [Box(piece.x.start, piece.x.end, piece.z.start, piece.z.end) for piece in pieces]


FIGURES: Final = read_well(HEAD + "height = 900\nwidth = 900\n").figures

_closed: Final = st.sampled_from(['front = "door"\n', 'front = "pair"\n', ""])


@st.composite
def faces(draw: st.DrawFn) -> str:
    """Rows of columns of openings; one front over some of each, fixed shelves in others, nothing between a few."""
    text = f"height = {draw(st.integers(800, 2000))}\nwidth = {draw(st.integers(900, 1800))}\n"
    text += draw(st.sampled_from(["", FRAME, "toe = { height = 90, recess = 50 }\n"]))
    for _ in range(draw(st.integers(1, 3))):
        over_row = draw(st.sampled_from(["", "", 'front = "pair"\n']))
        text += "[[cabinet.row]]\n" + over_row
        for _ in range(draw(st.integers(1, 3))):
            over_column = "" if over_row else draw(_closed)
            text += "[[cabinet.row.column]]\n" + over_column
            kinds = ["{ opening = 'equal' }", "{ opening = 'equal', inside = ['equal', 40] }"]
            if not over_row and not over_column:
                kinds.append("{ opening = 'equal', above = 'nothing' }")
            openings = draw(st.lists(st.sampled_from(kinds), min_size=1, max_size=3))
            openings[-1] = openings[-1].replace(", above = 'nothing'", "")
            text += f"openings = [{', '.join(openings)}]\n"
    return text


def laid_out(face: str, fronts: str) -> CabinetLayout:
    head, _, rows = face.partition("[[cabinet.row]]")
    (cabinet,) = read_well(f"{HEAD}{head}fronts = {{ {fronts} }}\n[[cabinet.row]]{rows}").cabinets
    return lay_out_cabinet(cabinet, FIGURES)


_gaps: Final = st.fractions(0, 6, max_denominator=4)


@given(face=faces(), gaps=st.tuples(_gaps, _gaps, _gaps, _gaps), reveal=_gaps)
def test_full_overlay_fronts_tile_the_face_when_each_gets_half_of_every_gap(
    face: str, gaps: tuple[Fraction, ...], reveal: Fraction
) -> None:
    outside = ", ".join(f'{edge} = "{gap}"' for edge, gap in zip(EDGES, gaps, strict=True))
    layout = laid_out(face, f'kind = "overlay", front = "door", reveal = "{reveal}", outside = {{ {outside} }}')
    foot = Fraction(90 if "toe" in face else 0)
    whole = Box(Fraction(0), layout.cabinet.width, foot, layout.cabinet.height)
    inner = Box(whole.left + gaps[0], whole.right - gaps[1], whole.bottom + gaps[2], whole.top - gaps[3])
    fronts = [box_of(front) for front in fronts_of(layout, FIGURES)]
    half = reveal / 2
    grown = [
        Box(
            whole.left if front.left == inner.left else front.left - half,
            whole.right if front.right == inner.right else front.right + half,
            whole.bottom if front.bottom == inner.bottom else front.bottom - half,
            whole.top if front.top == inner.top else front.top + half,
        )
        for front in fronts
    ]
    # Boxes that do not overlap and have the area of what they lie in fill it: no gap is more or less than asked.
    assert not any(one.overlaps(other) for one, other in combinations(grown, 2))
    assert sum(box.area for box in grown) == whole.area
    assert min(box.left for box in grown) == whole.left
    assert max(box.right for box in grown) == whole.right
    assert min(box.bottom for box in grown) == whole.bottom
    assert max(box.top for box in grown) == whole.top


@given(face=faces(), reveal=st.fractions(Fraction(1, 4), 4, max_denominator=4))
def test_inset_fronts_with_their_reveals_fill_every_hole_of_the_face(face: str, reveal: Fraction) -> None:
    layout = laid_out(face, f'kind = "inset", front = "door", stock = "oak", reveal = "{reveal}"')
    members = solids(layout)
    half = reveal / 2
    grown = []
    for front in map(box_of, fronts_of(layout, FIGURES)):
        wide = Box(front.left - reveal, front.right + reveal, front.bottom - reveal, front.top + reveal)
        shared = [box_of(other) for other in fronts_of(layout, FIGURES)]
        # With nothing between, two fronts share one reveal, half of which is of each.
        low = (
            half if any(other.top == front.bottom - reveal and other.left == front.left for other in shared) else reveal
        )
        high = (
            half if any(other.bottom == front.top + reveal and other.left == front.left for other in shared) else reveal
        )
        grown.append(wide._replace(bottom=front.bottom - low, top=front.top + high))
    foot = Fraction(90 if "toe" in face else 0)
    whole = Box(Fraction(0), layout.cabinet.width, foot, layout.cabinet.height)
    inside = [box._replace(bottom=max(box.bottom, foot)) for box in members]
    assert not any(one.overlaps(other) for one, other in combinations([*grown, *inside], 2))
    assert sum(box.area for box in (*grown, *inside)) == whole.area


@given(face=faces(), reveal=_gaps, gap=_gaps)
def test_two_doors_of_a_pair_have_their_own_gap_between(face: str, reveal: Fraction, gap: Fraction) -> None:
    rule = f'kind = "overlay", front = "pair", reveal = "{reveal}", outside = 0, pair_gap = "{gap}"'
    for front in fronts_of(laid_out(face, rule), FIGURES):
        (left, _), *right = front.leaves
        for across, _ in right:
            assert across.start - left.end == gap
            assert across.end == front.x.end
        assert left.start == front.x.start
        assert sum(across.size for across, _ in front.leaves) + gap * len(right) == front.x.size


@given(face=faces(), lap=st.fractions(0, 16, max_denominator=4), shared=st.fractions(0, 8, max_denominator=4))
def test_overlay_by_a_table_lies_so_far_over_the_outside_and_over_what_is_shared(
    face: str, lap: Fraction, shared: Fraction
) -> None:
    rule = f'kind = "overlay", front = "door", reveal = 0, overlay = {{ outside = "{lap}", shared = "{shared}" }}'
    layout = laid_out(face, rule)
    sides = {Role.SIDE, Role.STILE}
    for front in fronts_of(layout, FIGURES):
        for before, beyond, opening in (
            (front.x.start, 1, front.closing.frame_x.start),
            (front.x.end, -1, front.closing.frame_x.end),
        ):
            bays = front.closing.bays
            around = bays[0].framed if layout.cabinet.frame else bays[0].around
            last = bays[-1].framed if layout.cabinet.frame else bays[-1].around
            piece = around.left if beyond > 0 else last.right
            assert piece is not None
            wanted = lap if piece.role in sides else shared
            assert (opening - before) * beyond == wanted
