"""The saw's settings: sawn by geometry, they leave the tongue, rabbet or groove that was wanted, and trap nothing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest
from drawn_cabinets import ALL, BOOKCASE, CHEST, HEAD, each_cabinet, made
from hypothesis import given
from hypothesis import strategies as st
from jobs import FIGURES, GALLERY_JOBS
from sawing import ZERO, Rect, Section
from strategies import lengths, units

import storystick
from storystick import lay_out
from storystick.job.backs import GrooveBack, RabbetBack
from storystick.job.case_joints import Tongue
from storystick.job.frame_joints import MortiseAndTenon
from storystick.job.shop import Shop
from storystick.job.sources import Source
from storystick.job.tools import BaseEdge, Bit, Purpose, Router, Saw, Sawing
from storystick.laying_out import load_sources
from storystick.layout.cabinets.pieces import FRAME_ROLES, CabinetLayout, Piece, Role
from storystick.lengths import INCH_MM, Figures, Units
from storystick.tooling.cautions import FACING, ROUTER_CAUTIONS, SAW_CAUTIONS
from storystick.tooling.fence_grooves import FenceGroove
from storystick.tooling.guided import GUIDED
from storystick.tooling.saw import SawWork, gather_work, saw_cuts, saw_findings, saw_needs
from storystick.tooling.settings import saw_cautions, saw_words, settings_of
from storystick.tooling.setups import INSIDE, OUTSIDE, Faces, Posture, SawCut, faces_of
from storystick.tooling.tongues import MOST_AT_EDGE, MOST_AT_END, Corner, CornerWork, Notch

ROOT: Final = Path(__file__).parent.parent
GALLERY: Final = GALLERY_JOBS
FINE_SAW: Final = Saw("fine", Fraction(2))
CABINET_SAW: Final = Saw("cabinet saw", INCH_MM / 8)
SHOP: Final = Shop(saws=(CABINET_SAW, FINE_SAW))
FACES: Final = Faces("lower face", "upper face")
TONGUED: Final = """
[joint.tongue]
kind = "tongue"
width = 6
depth = 5
set = 4
bottom_gap = "0.5"
"""
kerfs: Final = lengths(1, 8)


def inches(text: str) -> Fraction:
    return Fraction(text) * INCH_MM


def cuts_of(work: SawWork, saw: Saw, unit: Units = Units.MM) -> list[SawCut]:
    return list(work.cuts("part", saw, FIGURES[unit]))


def sawn(work: SawWork, saw: Saw, faces: Faces = FACES) -> Section:
    """The section after all cuts of some work, with some of the part beyond it."""
    reach = max(notch.along for notch in work.notches) if isinstance(work, CornerWork) else work.near + work.width
    section = Section(work.thickness, reach + 20)
    for cut in cuts_of(work, saw):
        section.saw(cut, faces)
    return section


def lost_by(work: CornerWork, faces: Faces = FACES) -> list[Rect]:
    """What its notches take of a section."""
    thickness = work.thickness
    return [
        Rect(ZERO, ZERO, notch.along, notch.deep)
        if notch.face == faces.low
        else Rect(ZERO, thickness - notch.deep, notch.along, thickness)
        for notch in work.notches
    ]


@st.composite
def corner_works(draw: st.DrawFn) -> CornerWork:
    """Tongues and rabbets of any shape."""
    thickness = draw(lengths(3, 60))
    low, width, high = draw(st.integers(0, 8)), draw(st.integers(1, 8)), draw(st.integers(1, 8))
    unit = thickness / (low + width + high)
    along = draw(lengths(1, 30))
    both = (Notch(*FACES, along, low * unit), Notch(FACES.high, FACES.low, along, high * unit))
    edge, stands = draw(st.sampled_from([Corner.END, Corner.BACK])), draw(st.booleans())
    return CornerWork("work", edge, thickness, tuple(notch for notch in both if notch.deep), "", stands)


@given(work=corner_works(), kerf=kerfs)
def test_cuts_of_tongues_and_rabbets_leave_just_what_is_wanted(work: CornerWork, kerf: Fraction) -> None:
    assert sawn(work, Saw("saw", kerf)).has_lost(lost_by(work))


@given(thickness=lengths(6, 60), share=st.integers(1, 7), along=lengths(1, 30), kerf=kerfs, stands=st.booleans())
def test_both_shoulders_of_a_centred_tongue_are_cut_from_one_setting(
    thickness: Fraction, share: int, along: Fraction, kerf: Fraction, stands: bool
) -> None:
    deep = thickness * share / 16
    each = "each face in turn"
    work = CornerWork("tongue", Corner.END, thickness, (Notch(each, each, along, deep),), "", stands)
    both = [Rect(ZERO, ZERO, along, deep), Rect(ZERO, thickness - deep, along, thickness)]
    assert sawn(work, Saw("saw", kerf)).has_lost(both)
    assert len(cuts_of(work, Saw("saw", kerf))) <= 2
    assert len(cuts_of(work, Saw("saw", along))) == 1


@given(near=lengths(0, 40), width=lengths(1, 30), depth=lengths(1, 9), kerf=kerfs)
def test_passes_of_a_groove_leave_just_the_groove(
    near: Fraction, width: Fraction, depth: Fraction, kerf: Fraction
) -> None:
    work = FenceGroove("groove", Fraction(18), near, width, depth, FACES.low, "back edge")
    if kerf > width:
        assert len(cuts_of(work, Saw("saw", kerf))) == (1 if kerf - width <= inches("0.006") else 0)
        return
    assert sawn(work, Saw("saw", kerf)).has_lost([Rect(near, ZERO, near + width, depth)])


@given(work=corner_works(), kerf=kerfs)
def test_near_and_far_figures_are_a_kerf_apart(work: CornerWork, kerf: Fraction) -> None:
    for cut in cuts_of(work, Saw("saw", kerf)):
        assert cut.fence_far - cut.fence_near == kerf
        assert cut.fence_far > 0


@given(work=corner_works(), kerf=kerfs)
def test_pictured_waste_is_what_falls_and_pictured_slots_are_what_was_cut(work: CornerWork, kerf: Fraction) -> None:
    for cut in cuts_of(work, Saw("saw", kerf)):
        if cut.waste:
            assert cut.posture is Posture.STANDING
            assert (cut.waste.left, cut.waste.right) == (cut.fence_far, work.thickness)
            (slot,) = (gone for gone in cut.gone if gone.right == work.thickness)
            assert (slot.left, slot.bottom) == (cut.fence_near, cut.waste.top)


def back_rabbet(width: str, depth: str, stands: bool = True) -> CornerWork:
    """A rabbet along the back edge of a 3/4 side."""
    notch = Notch("inside face", "outside face", inches(width), inches(depth))
    return CornerWork("back rabbet", Corner.BACK, inches("3/4"), (notch,), "", stands)


def test_textbook_rabbet_takes_two_flat_passes_at_half_and_quarter_inch() -> None:
    """Common practice, no source: in a 3/4 side, for a 1/4 back, leaving 1/4 standing outside. By hand, with a kerf of
    1/8: from 1/8 to 1/4 off the fence, then from nothing to 1/8, both 1/2 high."""
    first, second = cuts_of(back_rabbet("1/4", "1/2"), CABINET_SAW)
    assert (first.height, first.fence_near, first.fence_far) == (inches("1/2"), inches("1/8"), inches("1/4"))
    assert (second.height, second.fence_near, second.fence_far) == (inches("1/2"), ZERO, inches("1/8"))
    for cut in (first, second):
        assert (cut.posture, cut.down, cut.against) == (Posture.FLAT, "inside face", "back edge")


def test_wide_rabbet_that_a_blade_would_take_in_many_passes_is_freed_standing() -> None:
    """Common practice, no source: 5/8 wide and 1/2 deep, first flat to the shoulder, then the side on its back edge."""
    flat, standing = cuts_of(back_rabbet("5/8", "1/2"), CABINET_SAW)
    assert (flat.height, flat.fence_near, flat.fence_far) == (inches("1/2"), inches("1/2"), inches("5/8"))
    assert (standing.height, standing.fence_near, standing.fence_far) == (inches("5/8"), inches("1/4"), inches("3/8"))
    assert (flat.down, flat.against) == ("inside face", "back edge")
    assert (standing.down, standing.against) == ("back edge", "outside face")
    flat_only = cuts_of(back_rabbet("5/8", "1/2", stands=False), CABINET_SAW)
    assert [cut.posture for cut in flat_only] == [Posture.FLAT] * 5


@pytest.mark.parametrize("kerf", ["3/8", "1/2", "3/4", "13/16"])
def test_cutter_as_wide_as_the_cut_takes_it_flat_in_one_pass_from_within_a_facing(kerf: str) -> None:
    """A rabbet 3/8 wide and 1/4 deep: the cutter's far side is 3/8 off the fence, and the rest of it in the facing."""
    (cut,) = cuts_of(back_rabbet("3/8", "1/4"), Saw("wide", inches(kerf)))
    assert (cut.posture, cut.passes, cut.cut) == (Posture.FLAT, 1, "back rabbet, in one pass")
    assert (cut.height, cut.fence_far, cut.fence_near) == (inches("1/4"), inches("3/8"), inches("3/8") - inches(kerf))
    assert FACING in cut.cautions


@given(work=corner_works(), kerf=kerfs)
def test_no_part_stands_for_what_a_few_flat_passes_do(work: CornerWork, kerf: Fraction) -> None:
    few = MOST_AT_END if work.at_end else MOST_AT_EDGE
    for cut in cuts_of(work, Saw("saw", kerf)):
        if cut.posture is Posture.STANDING:
            assert work.stands
            assert any(notch.along > few * kerf for notch in work.notches)
        elif cut.fence_near <= 0:
            assert FACING in cut.cautions


def test_simulation_finds_trapped_waste() -> None:
    """The same rabbet in the wrong order: the flat cut would free the waste beside the fence."""
    notch = Notch(*FACES, Fraction(10), Fraction(9))
    flat, standing = cuts_of(CornerWork("rabbet", Corner.BACK, Fraction(18), (notch,), ""), FINE_SAW)
    section = Section(Fraction(18), Fraction(40))
    section.saw(standing, FACES)
    with pytest.raises(AssertionError, match="trapped"):
        section.saw(flat, FACES)


def test_simulation_tells_a_wrong_fence_from_a_right_one() -> None:
    notch = Notch(*FACES, Fraction(10), Fraction(9))
    flat, standing = cuts_of(CornerWork("rabbet", Corner.BACK, Fraction(18), (notch,), ""), FINE_SAW)
    wrong = replace(flat, fence_near=flat.fence_far, fence_far=flat.fence_far + FINE_SAW.kerf)
    section = Section(Fraction(18), Fraction(40))
    for cut in (wrong, standing):
        section.saw(cut, FACES)
    assert not section.has_lost([Rect(ZERO, ZERO, notch.along, notch.deep)])


def faces_for(piece: Piece, work: SawWork) -> Faces:
    """The faces by the names that the work has for them, the low one first."""
    if piece.role in FRAME_ROLES:
        return Faces("front face", "back face")
    if isinstance(work, FenceGroove) and piece.role in {Role.TOP, Role.BOTTOM}:
        return Faces(OUTSIDE, INSIDE) if piece.role is Role.BOTTOM else Faces(INSIDE, OUTSIDE)
    return faces_of(piece)


def losses(layout: CabinetLayout) -> dict[tuple[str, str], list[list[Rect]]]:
    """What each part has to lose at its ends and edges, as joints, back and frame say, apart from all settings."""
    found: dict[tuple[str, str], list[list[Rect]]] = {}

    def add(piece: Piece, work: str, rects: list[Rect]) -> None:
        lost = [rect for rect in rects if rect.left < rect.right and rect.bottom < rect.top]
        sections = found.setdefault((piece.name, work), [])
        if lost not in sections:
            sections.append(lost)

    for piece in layout.pieces:
        thickness = piece.stock.thickness
        for ending in (piece.low, piece.high):
            if isinstance(ending.joint, Tongue):
                add(piece, "end tongue", beside_tongue(piece, ending.joint))
            if isinstance(ending.joint, MortiseAndTenon):
                add(piece, "tenon", beside_tenon(thickness, ending.joint))
        for other, ending, high in layout.ends_on(piece):
            if ending.joint and ending.joint.at_end_only:
                add(piece, "end rabbet", [on_face(high, thickness, ZERO, other.stock.thickness, ending.joint.depth)])
        if piece.front_tongue and layout.cabinet.frame and isinstance(layout.cabinet.frame.joint, Tongue):
            add(piece, "front tongue", beside_tongue(piece, layout.cabinet.frame.joint))
        for work, near, far, depth in back_cuts(layout, piece):
            inside_is_high = piece.name in {"left side", "bottom"}
            add(piece, work, [on_face(inside_is_high, thickness, near, far, depth)])
        if piece.front_tongue or (layout.cabinet.frame and layout.cabinet.frame.joint and piece.front):
            add(member_before(layout, piece), "groove in the back", [in_frame(layout, piece)])
    return found


def low_edge(piece: Piece, joint: Tongue) -> Fraction:
    """From a part's low face to its tongue; a right side is the image of the left one, so it counts from above."""
    thickness = piece.stock.thickness
    near = (thickness - joint.width) / 2 if joint.set is None else joint.set
    return thickness - near - joint.width if piece.name == "right side" else near


def beside_tongue(piece: Piece, joint: Tongue) -> list[Rect]:
    thickness, near, length = piece.stock.thickness, low_edge(piece, joint), joint.depth - joint.bottom_gap
    return [Rect(ZERO, ZERO, length, near), Rect(ZERO, near + joint.width, length, thickness)]


def beside_tenon(thickness: Fraction, joint: MortiseAndTenon) -> list[Rect]:
    """A tenon in the middle, a third of the stock to the nearest 1/16 in, as inches have it where nothing else is said.

    A third: woodworking school notes, woodenboatapprentice.blogspot.com/2015/03.
    """
    step = INCH_MM / 16
    thick = round(thickness / 3 / step) * step
    assert (joint.thickness, joint.start, joint.units) == (None, None, Units.INCH)
    near = (thickness - thick) / 2
    return [Rect(ZERO, ZERO, joint.length, near), Rect(ZERO, near + thick, joint.length, thickness)]


def on_face(high: bool, thickness: Fraction, near: Fraction, far: Fraction, depth: Fraction) -> Rect:
    return Rect(near, thickness - depth, far, thickness) if high else Rect(near, ZERO, far, depth)


def back_cuts(layout: CabinetLayout, piece: Piece) -> list[tuple[str, Fraction, Fraction, Fraction]]:
    """From the back edge: where the cut for the back begins and ends, and its depth."""
    match layout.cabinet.back:
        case RabbetBack(width=width, depth=depth) if piece.role is Role.SIDE:
            (back,) = layout.of(Role.BACK)
            # Over a toe space, or at the shoulder under a top that lies over it, the rabbet stops: not for the saw.
            if back.z.start > piece.low_end or back.z.end < piece.low_end + piece.length:
                return []
            return [("back rabbet", ZERO, width, depth)]
        case GrooveBack(stock=stock, inset=inset, depth=depth) if piece.role in {Role.SIDE, Role.TOP, Role.BOTTOM}:
            # A side between top and bottom runs on beyond their grooves, so its own groove stops: not for the saw.
            if piece.role is not Role.SIDE:
                return [("groove for the back", inset, inset + stock.thickness, depth)]
    return []


def member_before(layout: CabinetLayout, piece: Piece) -> Piece:
    return next(member for member in layout.pieces if member.covers is piece)


def in_frame(layout: CabinetLayout, piece: Piece) -> Rect:
    """The groove in the member before a part, from the edge that all stiles have outside."""
    member, frame = member_before(layout, piece), layout.cabinet.frame
    assert frame
    assert isinstance(frame.joint, Tongue)
    near = piece.across.start + low_edge(piece, frame.joint)
    stations = [near, near + frame.joint.width]
    outer = member.across.end if member.name == "right stile" else member.across.start
    near, far = sorted(abs(station - outer) for station in stations)
    return on_face(True, frame.stock.thickness, near, far, frame.joint.depth)


def check_cabinet(layout: CabinetLayout, unit: Units) -> None:
    """Saw all the work of a cabinet with both saws, and compare it with what is wanted."""
    wanted = losses(layout)
    done: dict[tuple[str, str], int] = {}
    for work, pieces in gather_work([layout], FIGURES[unit]).items():
        for piece in pieces:
            done[piece.name, work.work] = done.get((piece.name, work.work), 0) + 1
            for saw in SHOP.saws:
                if cuts_of(work, saw):
                    section = sawn(work, saw, faces_for(piece, work))
                    assert any(map(section.has_lost, wanted[piece.name, work.work])), (piece.name, work)
                else:
                    assert isinstance(work, FenceGroove)
                    assert work.width < saw.kerf
    assert done == {key: len(sections) for key, sections in wanted.items()}


@pytest.mark.parametrize("path", GALLERY, ids=[path.stem for path in GALLERY])
def test_every_cabinet_of_the_gallery_is_sawn_as_its_joints_want(path: Path) -> None:
    layout = storystick.load(path)
    for cabinet in layout.cabinets:
        check_cabinet(cabinet, layout.job.units)


@each_cabinet
def test_other_cabinets_are_sawn_as_their_joints_want(text: str) -> None:
    layout, job = made(text)
    check_cabinet(layout, job.units)


def tongued(text: str) -> tuple[CabinetLayout, Units]:
    """A cabinet with off-centre tongues at its ends, and into its frame where it has one."""
    framed = text.replace("mid_stile = 30,", 'mid_stile = 30, tenon = 8, joint = "tongue",')
    layout, job = made(TONGUED + framed.replace('joint = "shelf"', 'joint = "tongue"'))
    return layout, job.units


@each_cabinet
def test_cabinets_with_tongues_off_centre_are_sawn_as_their_joints_want(text: str) -> None:
    check_cabinet(*tongued(text))


UNDER_TOP: Final = BOOKCASE.replace(
    "toe =", 'joint = "butted"\ntop = { place = "over" }\nbottom = { place = "over" }\n#'
)


@pytest.mark.parametrize("text", [CHEST, UNDER_TOP], ids=["rabbet", "groove"])
def test_cuts_for_the_back_are_the_same_for_both_sides_and_come_out_mirrored(text: str) -> None:
    head = HEAD + '[joint.butted]\nkind = "butt"\n'
    layout, job = made(text.replace('joint = "shelf"\n', "", text is UNDER_TOP), head)
    ours = {
        work: pieces
        for work, pieces in gather_work([layout], job.figures).items()
        if work.work in {"back rabbet", "groove for the back"}
    }
    ((work, pieces),) = ours.items()
    left, right = (sawn(work, FINE_SAW, faces_of(piece)) for piece in pieces if piece.role is Role.SIDE)
    thickness = left.whole.top
    mirrored = [Rect(cut.left, thickness - cut.top, cut.right, thickness - cut.bottom) for cut in left.gone]
    assert right.has_lost(mirrored)
    assert not right.has_lost(left.gone)


def test_parts_that_are_cut_alike_are_named_in_one_line() -> None:
    layout, unit = tongued(CHEST + '[[cabinet.row]]\nheight = "equal"\n' * 3)
    shoulder = saw_cuts([layout], SHOP, FIGURES[unit])[0]
    assert (shoulder.part, shoulder.cut) == ("Chest bottom, top, shelf 1, 2", "end tongue, in passes")
    rabbet = next(cut for cut in saw_cuts([layout], SHOP, FIGURES[unit]) if cut.cut.startswith("back rabbet"))
    assert rabbet.part == "Chest both sides"


def test_tongue_with_a_stated_fit_is_sawn_thinner_than_its_groove() -> None:
    """By hand: 6 set 4 from the face of 18, with 0.2 of play: 4.1 and 8.1 are cut away, and 5.8 is left."""
    layout, job = made((TONGUED + "fit = 0.2\n" + CHEST).replace('joint = "shelf"', 'joint = "tongue"'))
    first, second = (cut for cut in saw_cuts([layout], SHOP, job.figures) if cut.cut.startswith("end tongue"))
    assert (first.height, second.height) == (Fraction("4.1"), Fraction("8.1"))
    assert second.check.endswith("the tongue is 5.8 thick and 4.5 long")


def test_one_cut_has_one_figure_on_its_page() -> None:
    """A back rabbet 6.15 deep in a job that rounds to 0.1: the check says it as the height does."""
    layout, _ = made(CHEST.replace("rabbet_depth = 9", "rabbet_depth = 6.15"))
    coarse = Figures(Units.MM, Fraction(1, 10))
    cuts = [cut for cut in saw_cuts([layout], SHOP, coarse) if cut.cut.startswith("back rabbet")]
    assert coarse(cuts[0].height) == "6.2 scant"
    assert "6.2 scant deep" in cuts[0].check
    assert not any("6.15" in cut.check for cut in cuts)


def test_parts_that_are_cut_alike_are_one_line_whether_they_may_stand_or_not() -> None:
    """A chest's shelves are short enough to stand on their ends and its top is not: two flat passes do for all."""
    layout = storystick.load(next(path for path in GALLERY if path.stem == "bead-chest"))
    cuts = saw_cuts(layout.cabinets, SHOP, layout.job.figures)
    (ends,) = (cut.part for cut in cuts if cut.cut.startswith("end tongue"))
    assert ends.startswith("Chest bottom, top, divider 1, shelf 1")


def test_ends_are_cut_before_edges_and_each_face_from_the_shoulder_out() -> None:
    layout, unit = tongued(CHEST)
    works = [cut.cut for cut in saw_cuts([layout], SHOP, FIGURES[unit])]
    assert works[:2] == ["end tongue, in passes"] * 2
    assert works[2:6] == ["front tongue, pass 1 of 2", "front tongue, pass 2 of 2"] * 2
    kinds = list(dict.fromkeys(work.partition(",")[0] for work in works))
    assert kinds == ["end tongue", "front tongue", "back rabbet", "groove in the back"]


def test_trial_piece_of_a_tongue_says_what_to_measure() -> None:
    layout, unit = tongued(CHEST)
    first, second = (cut for cut in saw_cuts([layout], SHOP, FIGURES[unit]) if cut.cut.startswith("end tongue"))
    assert first.check == "4 deep, 4.5 from the end"
    assert second.check == "8 deep, 4.5 from the end; the tongue is 6 thick and 4.5 long"


def test_short_parts_carry_their_caution_by_name() -> None:
    layout, unit = tongued(ALL["small box"])
    shoulder = saw_cuts([layout], SHOP, FIGURES[unit])[0]
    assert "Too small to be fed alone: put a wider, square board behind it" in shoulder.caution
    layout, unit = tongued(CHEST)
    assert "oo small" not in saw_cuts([layout], SHOP, FIGURES[unit])[0].caution


def test_part_too_long_for_its_end_is_cut_flat_in_passes() -> None:
    layout, unit = tongued(ALL["long bench"])
    bench = saw_cuts([layout], SHOP, FIGURES[unit])[0]
    assert (bench.cut, bench.passes, bench.posture) == ("end tongue, in passes", 2, Posture.FLAT)


def test_without_a_saw_it_is_said_what_is_needed() -> None:
    layout, job = made(CHEST)
    for shop in (None, Shop()):
        assert saw_cuts([layout], shop, job.figures) == ()
        needs = saw_needs([layout], shop, job.figures)
        assert needs
        assert "[saw.NAME]" in needs
        assert "kerf" in needs
    assert saw_needs([layout], SHOP, job.figures) is None


def test_groove_narrower_than_every_kerf_is_said_and_not_cut() -> None:
    layout, job = made(BOOKCASE)
    wide = Shop(saws=(Saw("wobble", Fraction(8)),))
    assert not [cut for cut in saw_cuts([layout], wide, job.figures) if cut.cut.startswith("groove")]
    (sentence,) = saw_findings([layout], wide, job.figures)
    assert sentence == (
        "Bookcase bottom, top: groove for the back is 6 wide, less than the kerf of 8; cut it with a "
        "router, its fence 12 from the near side of a bit that wide"
    )
    assert saw_findings([layout], SHOP, job.figures) == ()


@given(unit=units)
def test_a_housed_part_needs_no_cut_at_its_ends(unit: Units) -> None:
    layout, _ = made(ALL["low board on a plinth"])
    assert saw_cuts([layout], SHOP, FIGURES[unit]) == ()


SHELF: Final = (
    'title = "Shelf"\nunits = "mm"\nstock = { ply = 18 }\n'
    'joint.shelf = { kind = "tongue", width = 6, depth = 14 }\n'
    '[[cabinet]]\nname = "Case"\nheight = 600\nwidth = WIDTH\ndepth = DEPTH\ncarcass = "ply"\njoint = "shelf"\n'
)


@pytest.mark.parametrize(
    ("width", "depth", "on_end", "stands"),
    [
        (500, 300, None, True),
        (608, 300, None, True),  # 600 long with both tongues
        (609, 300, None, False),
        (500, 120, None, False),  # 492 long: more than four times as tall as it is wide
        (500, 300, 400, False),
        (1000, 300, 1100, True),
    ],
)
def test_part_is_stood_on_its_end_only_where_flat_passes_are_many_and_the_shop_lets_it(
    width: int, depth: int, on_end: int | None, stands: bool
) -> None:
    """A tongue 14 long with a kerf of 2: seven passes. 600 mm is judgement, no source."""
    text = SHELF.replace("WIDTH", str(width)).replace("DEPTH", str(depth))
    layout = load_sources([Source("case.toml", text.encode())])
    saws = (Saw("saw", Fraction(2)),)
    shop = Shop(saws=saws, sawing=Sawing(on_end=None if on_end is None else Fraction(on_end)))
    cuts = saw_cuts(layout.cabinets, shop, FIGURES[Units.MM])
    postures = {cut.posture for cut in cuts}
    assert postures == ({Posture.FLAT, Posture.STANDING} if stands else {Posture.FLAT})
    if not stands:
        assert [cut.passes for cut in cuts] == [7]


SIDES: Final = """
title = "Sides"
units = "inch"
stock = { ply = "23/32", back = "1/4" }
[joint.shelf]
kind = "housing"
depth = "1/4"
[joint.top]
kind = "rabbet"
depth = "1/4"
[[cabinet]]
name = "Wardrobe"
height = "92"
width = "36"
depth = "25"
carcass = "ply"
joint = "shelf"
top = { joint = "top" }
back = { stock = "back", rabbet_width = "3/8", rabbet_depth = "1/4" }
"""


def laid_for_rabbet(height: str, depth: str, rabbet: str, kerf: str) -> set[Posture]:
    """How the sides of a case so high and deep lie for the rabbet along their back edge."""
    text = SIDES.replace('"92"', f'"{height}"').replace('depth = "25"', f'depth = "{depth}"')
    text = text.replace('rabbet_width = "3/8"', f'rabbet_width = "{rabbet}"')
    layout = load_sources([Source("sides.toml", text.encode())])
    cuts = saw_cuts(layout.cabinets, Shop(saws=(Saw("saw", inches(kerf)),)), FIGURES[Units.INCH])
    return {cut.posture for cut in cuts if cut.cut.startswith("back rabbet")}


@pytest.mark.parametrize(("rabbet", "kerf"), [("3/8", "3/32"), ("1/2", "1/8"), ("1/2", "1/16")])
def test_long_side_lies_flat_for_its_back_rabbet_however_many_passes_it_takes(rabbet: str, kerf: str) -> None:
    """Less than 24 deep, so that it would stand no higher than that: but 92 long on its back edge."""
    assert laid_for_rabbet("92", "23", rabbet, kerf) == {Posture.FLAT}
    assert laid_for_rabbet("24 1/4", "23", rabbet, kerf) == {Posture.FLAT}
    # Small both ways: 23 long and 12 high.
    assert laid_for_rabbet("23", "12", rabbet, kerf) == {Posture.FLAT, Posture.STANDING}


ROUTER: Final = Router("plunge", (BaseEdge("base", inches("3")),), True)


@pytest.mark.parametrize("kerf", ["3/32", "1/8", "3/8", "23/32", "3/4"])
def test_side_of_92_by_25_lies_flat_for_its_back_rabbet_and_its_end_rabbet(kerf: str) -> None:
    layout = load_sources([Source("sides.toml", SIDES.encode())])
    cuts = saw_cuts(layout.cabinets, Shop(saws=(Saw("saw", inches(kerf)),)), FIGURES[Units.INCH])
    assert {cut.posture for cut in cuts} == {Posture.FLAT}
    works = {cut.cut.partition(",")[0] for cut in cuts}
    assert works == {"end rabbet", "back rabbet"}
    if kerf == "3/4":
        end, back = cuts
        assert (end.passes, end.fence_far) == (1, inches("23/32"))
        assert (back.passes, back.fence_far, back.fence_near) == (1, inches("3/8"), -inches("3/8"))
    assert all("Longer than 47 in" in cut.caution for cut in cuts)


@pytest.mark.parametrize(
    ("bits", "at_router"),
    [((), False), ((Bit("wide", inches("3")),), False), ((Bit("half", inches("1/2")),), True)],
)
def test_end_rabbet_is_cut_by_one_machine_only(bits: tuple[Bit, ...], at_router: bool) -> None:
    """The router's where it has a bit for it, since the straightedge can be clamped to a long board; else the saw's."""
    shop = Shop(routers=(ROUTER,), bits=bits, saws=(CABINET_SAW,))
    loaded = load_sources([Source("sides.toml", SIDES.encode())]).job
    settings = settings_of(lay_out(replace(loaded, shop=shop)))
    routed = [setup for setup in settings.grooves if setup.name == "top"]
    sawn = [cut for cut in settings.saw if cut.cut.startswith("end rabbet")]
    assert (bool(routed), bool(sawn)) == (at_router, not at_router)
    no_saw = settings_of(lay_out(replace(loaded, shop=replace(shop, saws=()))))
    assert [setup for setup in no_saw.grooves if setup.name == "top"]


def test_first_of_several_passes_shows_nothing_gone_but_what_the_other_face_lost() -> None:
    """A strip of no width would be drawn as a hairline through the part, beside the blade."""
    cabinet, job = made(CHEST, HEAD.replace('"housing"', '"tongue"\nwidth = 6'))
    thin = replace(CABINET_SAW, kerf=Fraction(2))
    works = [work for work in gather_work([cabinet], job.figures) if isinstance(work, CornerWork)]
    cuts = [cut for work in works for cut in work.cuts("part", thin, job.figures)]
    assert any(cut.gone for cut in cuts)
    assert all(gone.left < gone.right and gone.bottom < gone.top for cut in cuts for gone in cut.gone)


def test_what_a_joint_does_not_leave_to_a_saw_is_not_sawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """A joint with another shape, such as a dovetail, is not sawn as a tongue in silence."""
    cabinet, job = made(CHEST, HEAD.replace('"housing"', '"tongue"\nwidth = 6'))
    corners = [work for work in gather_work([cabinet], job.figures) if isinstance(work, CornerWork)]
    tongues = [work for work in corners if "tongue" in work.work]
    assert tongues
    monkeypatch.setattr(Tongue, "is_sawn", False)
    assert gather_work([cabinet], job.figures).keys().isdisjoint(tongues)


def test_end_rabbet_that_stops_is_left_to_the_router_even_where_it_has_no_bit() -> None:
    """It is deeper than the rabbet for the back, so that it does not run out into that."""
    deep = SIDES.replace('kind = "rabbet"\ndepth = "1/4"', 'kind = "rabbet"\ndepth = "3/8"')
    shop = Shop(saws=(CABINET_SAW,))
    settings = settings_of(lay_out(replace(load_sources([Source("sides.toml", deep.encode())]).job, shop=shop)))
    assert [setup.bar for setup in settings.grooves if setup.name == "top"] == [None]
    assert not [cut for cut in settings.saw if cut.cut.startswith("end rabbet")]


def test_groove_of_two_kerfs_takes_two_passes() -> None:
    """By arithmetic: 1/4 with a kerf of 1/8, from 1/2 off the fence; and three for a hair more."""
    groove = FenceGroove("groove", inches("3/4"), inches("1/2"), inches("1/4"), inches("1/4"), INSIDE, "back edge")
    assert groove.settings(inches("1/8")) == (inches("1/2"), inches("5/8"))
    assert len(replace(groove, width=groove.width + 1).settings(inches("1/8"))) == 3


def test_cutter_some_thousandths_wider_than_its_groove_cuts_it_and_the_fit_is_tested() -> None:
    groove = FenceGroove("groove", inches("3/4"), inches("1/2"), inches("0.2495"), inches("1/4"), INSIDE, "back edge")
    (cut,) = cuts_of(groove, Saw("wide", inches("1/4")))
    assert cut.fence_near == inches("1/2")
    assert cut.check.endswith("test the fit in scrap")
    assert f"Check: {cut.check}." in next(saw_words([cut]))
    assert cuts_of(groove, Saw("wide", inches("0.26"))) == []


def works_of(saws: tuple[Saw, ...]) -> dict[str, tuple[str, str]]:
    """The saw of each kind of work of a chest with all three kinds, and why."""
    layout, unit = tongued(CHEST)
    cuts = saw_cuts([layout], Shop(saws=saws), FIGURES[unit])
    return {cut.purpose.value: (cut.saw, cut.why) for cut in cuts}


def test_saw_is_chosen_by_what_it_is_for_and_the_reason_is_told() -> None:
    blade, wide = Saw("blade", Fraction(3)), Saw("wide", Fraction(5))
    first = "the first in the shop file"
    widest = "the widest that is not wider than the groove"
    assert works_of((blade,)) == dict.fromkeys(
        ("tongues", "rabbets", "grooves"), ("blade", "the only saw in the shop file")
    )
    assert works_of((blade, wide)) == {
        "tongues": ("blade", first),
        "rabbets": ("blade", first),
        "grooves": ("wide", widest),
    }
    named = replace(wide, purposes=(Purpose.RABBETS, Purpose.TONGUES))
    assert works_of((blade, named)) == {
        "tongues": ("wide", "as the shop file says"),
        "rabbets": ("wide", "as the shop file says"),
        "grooves": ("blade", widest),
    }
    both = (replace(blade, purposes=(Purpose.RABBETS,)), named)
    assert works_of(both)["rabbets"] == ("blade", f"{first} of those named for it")


def test_work_that_no_saw_is_for_is_told() -> None:
    layout, unit = tongued(CHEST)
    shop = Shop(saws=(replace(FINE_SAW, purposes=(Purpose.RABBETS, Purpose.TONGUES)),))
    assert {cut.purpose for cut in saw_cuts([layout], shop, FIGURES[unit])} == {Purpose.TONGUES, Purpose.RABBETS}
    sentences = saw_findings([layout], shop, FIGURES[unit])
    assert sentences
    assert all("no saw of the shop is for grooves" in sentence for sentence in sentences)


def test_narrow_parts_are_grooved_in_a_wide_blank_or_held_by_featherboards() -> None:
    """Stiles of 40 mm and rails: below 75 mm by judgement, or what the shop file says."""
    layout, unit = tongued(CHEST)
    cuts = [cut for cut in saw_cuts([layout], SHOP, FIGURES[unit]) if cut.cut.startswith("groove in the back")]
    assert cuts
    for cut in cuts:
        assert "arrower than 75: make this cut in a wide blank and rip the part off it afterwards" in cut.caution
        assert "featherboards, one above and one at the side" in cut.caution
        assert "push block" in cut.caution
    lenient = replace(SHOP, sawing=Sawing(narrow=Fraction(20)))
    assert not any("arrower" in cut.caution for cut in saw_cuts([layout], lenient, FIGURES[unit]))


def test_narrow_parts_that_a_router_grooves_carry_the_same_caution_once() -> None:
    """A kerf wider than the grooves of 6: stiles and rails go to a router, on which it would tip."""
    layout, unit = tongued(CHEST)
    wide = Shop(saws=(Saw("wide", Fraction(19)),))
    told = [sentence for sentence in saw_findings([layout], wide, FIGURES[unit]) if "narrower than 75" in sentence]
    (sentence,) = told
    assert "stile" in sentence
    assert "rail" in sentence
    for words in ("router would tip", "wide blank and rip the part off", "router table", "featherboards", "push block"):
        assert words in sentence
    lenient = replace(wide, sawing=Sawing(narrow=Fraction(20)))
    assert not any("narrower" in sentence for sentence in saw_findings([layout], lenient, FIGURES[unit]))
    for words in ("router table", "featherboards", "push block", "wide blank"):
        assert words in GUIDED


def test_every_caution_of_the_published_sheets_is_said() -> None:
    """HSE rip saw page: riving knife within 8 mm, push stick of 450 mm for the last 300 mm; HSE WIS16: a router or a
    guarded spindle moulder rather than the saw bench; OSHA 29 CFR 1910.213(a)(15); as the project's facts cite them."""
    text = " ".join(SAW_CAUTIONS)
    for words in (
        "riving knife within 8 mm",
        "push stick",
        "450 mm",
        "300 mm",
        "WIS16",
        "spindle moulder",
        "Stand beside",
    ):
        assert words in text
    assert "29 CFR 1910.213(a)(15)" in text
    assert "hangs over" not in text
    routing = " ".join(ROUTER_CAUTIONS)
    assert "Clamp the work" in routing
    assert "let the bit stop" in routing
    assert "back-up strip" in routing
    across = saw_cuts([tongued(CHEST)[0]], SHOP, FIGURES[Units.MM])[0]
    assert "back-up block behind it" in across.caution


def test_a_caution_is_said_in_full_once_and_then_by_name() -> None:
    layout, unit = tongued(CHEST)
    cuts = saw_cuts([layout], SHOP, FIGURES[unit])
    said = [" ".join(words) for words in saw_cautions([[cut] for cut in cuts])]
    assert len(said) == len(cuts)
    for caution in {caution for cut in cuts for caution in cut.cautions}:
        having = [number for number, cut in enumerate(cuts) if caution in cut.cautions]
        assert [caution.words[1:] in said[number] for number in having] == [True, *[False] * (len(having) - 1)]
        for number in having[1:]:
            assert f"{caution.name} as at {having[0] + 1}."[1:] in said[number]
