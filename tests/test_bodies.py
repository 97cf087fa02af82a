"""Works against solid bodies: whatever stands in a board is cut out of it, there and nowhere else."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest
from bodies import back_cut, block, cuts_in, entry, front_of, front_tongues, reach_of, thick, whole, with_play
from drawn_cabinets import ALL, made
from hypothesis import given
from hypothesis import strategies as st
from jobs import GALLERY_JOBS
from test_guided import CABINETS, FRAME, GROOVED, TONGUE

from storystick import load
from storystick.job.backs import GrooveBack
from storystick.layout.cabinets.pieces import CASE_ROLES, FRAME_ROLES, Axis, CabinetLayout, Piece, Role
from storystick.layout.cabinets.sticks import cabinet_sticks
from storystick.layout.cabinets.working import holes_of, works_of
from storystick.layout.cabinets.works import CUTS, Surface, Work, WorkKind

HOUSED = TONGUE[: TONGUE.index("[joint.low]")] + '[joint.low]\nkind = "housing"\ndepth = 6\nfit = "0.4"\n'
_PLAIN = TONGUE[: TONGUE.index("[joint.low]")]
RABBETED = _PLAIN + '[joint.low]\nkind = "rabbeted housing"\nwidth = 7\ndepth = 6\nbottom_gap = 1\n'
DOVETAILED = _PLAIN + '[joint.low]\nkind = "sliding dovetail"\nwidth = 10\ndepth = 6\n'
ROWS = (
    'column = [{ width = 300, openings = ["equal", "equal"] }, { openings = [200, "equal"] }]\n',
    'row = [{ height = 250 }, { height = "equal", column = [{ openings = ["equal", "equal"] }, { width = 200 }] }]\n',
    'through = "dividers"\ncolumn = [{ width = 320, openings = ["equal", "equal"] }, {}]\n',
)


def layouts() -> Iterator[tuple[str, CabinetLayout]]:
    for path in GALLERY_JOBS:
        for layout in load(path).cabinets:
            yield f"{path.stem}, {layout.cabinet.name}", layout
    for name, text in ALL.items():
        yield name, made(text)[0]
    for number, text in enumerate(CABINETS.values()):
        for row, rows in enumerate(ROWS):
            yield f"{number}, {row}", made(text + rows, TONGUE)[0]
        yield f"{number}, with a fit", made(text + ROWS[0], TONGUE + 'fit = "0.4"\n')[0]
        yield f"{number}, housed with a fit", made(text.replace(FRAME, "") + ROWS[0], HOUSED)[0]
        yield f"{number}, rabbeted", made(text.replace(FRAME, "") + ROWS[0], RABBETED)[0]
        # Under a top that lies over the back as well, a socket is shut behind: it must be open in front.
        is_shut = GROOVED in text or ("over" in text and "rabbet" in text)
        tailed = DOVETAILED + ("" if is_shut else "stop = 9\n")
        yield f"{number}, dovetailed", made(text.replace(FRAME, "") + ROWS[0], tailed)[0]
        yield f"{number}, stopped", made(text + ROWS[0], TONGUE + "stop = 10\n")[0]
        yield f"{number}, stopped housings", made(text.replace(FRAME, "") + ROWS[0], HOUSED + "stop = 12\n")[0]


LAYOUTS = dict(layouts())
each_layout = pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS.keys())


def let_in(layout: CabinetLayout, board: Piece) -> list[Work]:
    return [work for work in works_of(layout, board) if work.kind in CUTS and not work.along_board]


def check_cuts(layout: CabinetLayout) -> int:
    found = 0
    for board in layout.of(*CASE_ROLES):
        wanted = {(cut.name, cut.along, cut.high, (cut.front, cut.back), cut.depth) for cut in cuts_in(board, layout)}
        worked = {
            (work.other.name, reach_of(work.along), work.on is Surface.HIGH, reach_of(work.across), work.depth)
            for work in let_in(layout, board)
        }
        assert worked == wanted
        found += len(worked)
    return found


@each_layout
def test_whatever_ends_in_a_board_is_cut_out_of_it(layout: CabinetLayout) -> None:
    check_cuts(layout)


def test_much_is_compared() -> None:
    assert sum(map(check_cuts, LAYOUTS.values())) > 700


@each_layout
def test_back_stands_in_its_cuts_and_these_are_no_longer_than_it_but_for_its_gap_or_inside_a_joint(
    layout: CabinetLayout,
) -> None:
    rule = layout.cabinet.back
    gap = rule.gap if isinstance(rule, GrooveBack) else Fraction(0)
    for board in layout.of(*CASE_ROLES):
        shared = back_cut(board, layout)
        cuts = [work for work in works_of(layout, board) if work.other.role is Role.BACK]
        if shared is None or board.role in {Role.SHELF, Role.DIVIDER}:
            assert not cuts
            continue
        (cut,) = cuts
        start, end = whole(board)
        low, high = shared.along(board.axis)
        ends = (cut.along.start + start, cut.along.end + start)
        core = block(board).along(board.axis)
        assert ends[0] <= low < high <= ends[1]
        assert low - ends[0] <= gap or core[0] >= low - gap >= ends[0] == start
        assert ends[1] - high <= gap or core[1] <= high + gap <= ends[1] == end
        assert cut.stops == (ends[0] > start, ends[1] < end)
        assert cut.across.start == shared.y[0] - front_of(board, layout)
        assert cut.across.end >= shared.y[1] - front_of(board, layout)
        into = shared.x if board.axis is Axis.Z else shared.z
        assert cut.depth == into[1] - into[0] + gap


@each_layout
def test_front_tongue_and_groove_before_it_are_as_long_as_they_share(layout: CabinetLayout) -> None:
    before = {}
    for board in layout.of(*CASE_ROLES):
        tongues = [
            work for work in works_of(layout, board) if work.on is Surface.FRONT and work.kind is WorkKind.TONGUE
        ]
        found = list(front_tongues(board, layout))
        assert len(tongues) == len(found) <= 1
        for work, (member, box) in zip(tongues, found, strict=True):
            start = whole(board)[0]
            assert tuple(at + start for at in reach_of(work.run)) == box.along(board.axis)
            before[member.name] = (box, board)
    for member in layout.of(*FRAME_ROLES):
        grooves = [work for work in works_of(layout, member) if work.on is Surface.BACK]
        assert len(grooves) == (member.name in before)
        for groove in grooves:
            box, board = before[member.name]
            start = block(member).along(member.axis)[0] - member.low.beyond
            low, high = (at + start for at in reach_of(groove.run))
            tongue = box.along(member.axis)
            # A rail and a mid stile are grooved right through, since their ends lie on others.
            assert (low, high) == tongue if member.role is Role.STILE else low <= tongue[0] < tongue[1] <= high
            joint = layout.cabinet.frame.joint if layout.cabinet.frame else None
            assert joint
            across = block(member).x if member.axis is Axis.Z else block(member).z
            assert tuple(at + across[0] for at in reach_of(groove.across)) == with_play(
                thick(board, joint), joint, across
            )
            assert entry(joint) <= groove.depth


@each_layout
def test_strips_have_the_grooves_that_bodies_want(layout: CabinetLayout) -> None:
    sticks = {stick.name: stick for stick in cabinet_sticks(layout, 1)}
    cabinet = layout.cabinet.name
    faces = {
        "left side": "left side",
        "right side": "right side",
        "top": "top, lower face",
        "bottom": "bottom, upper face",
    }
    for name, face in faces.items():
        stick = sticks.get(f"{cabinet} {face}") or sticks.get(f"{cabinet} side")
        if stick is None:
            continue
        board = next((piece for piece in layout.pieces if piece.name == name), None)
        if board is None:  # an end that is open or closed by stretchers
            continue
        wanted = sorted(cut.along for cut in cuts_in(board, layout))
        assert sorted((groove.start, groove.end) for groove in stick.grooves) == wanted


@each_layout
def test_holes_stand_where_the_job_says_from_the_finished_edges(layout: CabinetLayout) -> None:
    cabinet = layout.cabinet
    front = cabinet.frame.stock.thickness if cabinet.frame else Fraction(0)
    for board in layout.of(Role.SIDE, Role.DIVIDER):
        for row in holes_of(layout, board):
            rule = row.bay.compartment.adjustable
            assert rule
            into = row.across + front_of(board, layout)
            assert into == (front + rule.front if row.name == "front" else layout.case.y.end - rule.back)
            heights = [row.bay.z.start + rule.first + step * rule.pitch for step in range(len(row.places))]
            assert [place + whole(board)[0] for place in row.places] == heights
            assert heights[-1] + rule.pitch > row.bay.z.end - rule.first >= heights[-1]


@given(
    st.sampled_from(sorted(CABINETS.values())),
    st.sampled_from(ROWS),
    st.integers(0, 11),
    st.integers(1, 8),
    st.integers(0, 3),
    st.sampled_from(["0", "0.4", "1.5"]),
)
def test_so_it_is_with_joints_of_any_shape(text: str, rows: str, set_at: int, depth: int, gap: int, fit: str) -> None:
    gap = min(gap, depth - 1)
    joint = (
        f'[joint.low]\nkind = "tongue"\nwidth = 6\ndepth = {depth}\nset = {set_at}\nbottom_gap = {gap}\nfit = "{fit}"\n'
    )
    check_cuts(made(text + rows, TONGUE[: TONGUE.index("[joint.low]")] + joint)[0])
