"""What a new user writes otherwise than it is written here: a fault then leads to it, and never to a wrong job."""

from __future__ import annotations

import re
from typing import Final

import pytest

from storystick.errors import Faults
from storystick.job.sources import Source
from storystick.laying_out import load_sources

PLY: Final = 'units = "inch"\n[stock]\nply = "23/32"\n'
CASE: Final = PLY + '[[cabinet]]\nheight = 30\nwidth = 24\ndepth = 12\ncarcass = "ply"\n'
STICK: Final = PLY + '[[stick]]\npart = "ply"\n'
WALL: Final = PLY + '[run]\nlength = 100\norder = [{ gap = "equal" }]\n'
WOOD: Final = (
    CASE + 'fronts = { kind = "inset", wood = '
    '{ species = "SPECIES", cut = "flat", made_at = 8, driest = 6, dampest = 9 } }'
)

LED: Final[dict[str, tuple[str, str]]] = {
    "a size for the back": (CASE + 'back = "1/4"', 'write it as { stock = "…", rabbet_width = …, rabbet_depth = … }'),
    "a word for the fronts": (CASE + 'fronts = "inset"', 'write it as { kind = "inset", reveal = … }'),
    "a size for the frame": (CASE + 'frame = "3/4"', 'write it as { stock = "…", stile = …, top = …, bottom = … }'),
    "a number of shelves": (CASE + "shelves = 3", "how many there are follows from openings"),
    "a number of openings": (CASE + "openings = 3", 'as in ["equal", "equal"] for two'),
    "adjustable shelves by number": (
        CASE + 'openings = [{ opening = "equal", adjustable = 3 }]',
        "write it as { shelves = …, first = …, front = …, back = … }",
    ),
    "an opening and its share": (
        STICK + 'length = 50\nopenings = [{ opening = "equal", share = 2 }, "equal"]',
        "keep one of them: opening = … is a clear size, share = … takes that many parts of what is left",
    ),
    "a kind of wood": (WOOD.replace("SPECIES", "maple"), "say which: Maple, red; Maple, sugar"),
    "a wood that is not known": (WOOD.replace("SPECIES", "Teak"), "allowed here: Alder, red; Ash, white; "),
    "a toe kick": (CASE + "toe_kick = 4", 'try "toe"'),
    "a nailer": (CASE + "nailer = { width = 4 }", 'try "nailers"'),
    "a stretcher": (CASE + "stretchers = 2", 'write top = { place = "stretchers" } on the cabinet'),
    "rails at the top": (CASE + 'top = { place = "rails" }', 'try "stretchers"'),
    "a word for the top": (CASE + 'top = "none"', '{ place = "over" }, "stretchers" or "none"'),
    "a size for a rail's edge": (
        CASE + 'frame = { stock = "ply", stile = 2, top = 2, bottom = { width = 2, edge = "1/8" } }',
        "or write { proud = … } or { short = … }",
    ),
    "legs": (CASE + 'frame = { stock = "ply", stile = 2, top = 2, bottom = 2, legs = true }', 'try "to_floor"'),
    "an open compartment": (
        CASE + 'fronts = { kind = "inset" }\nopenings = [{ opening = "equal", front = "open" }]',
        'try "none"',
    ),
    "overlay without a figure": (CASE + 'fronts = { kind = "overlay" }', "or outside = …, full overlay by gaps"),
    "a gap between fronts": (CASE + 'fronts = { kind = "inset", gap = "1/8" }', 'try "reveal"'),
    "a crate": (CASE + 'rows = 2\ncolumns = 2\nthrough = "half laps"', 'try "both"'),
    "what stands below an opening": (CASE + 'openings = [{ opening = 8, below = "rail" }, "equal"]', 'try "above"'),
    "a dowel": (PLY + '[joint.shelf]\nkind = "dowel"\n', 'try "dowels"'),
    "a pocket screw": (PLY + '[joint.shelf]\nkind = "pocket screw"\n', 'try "pocket screws"'),
    "a confirmat screw": (PLY + '[joint.shelf]\nkind = "confirmat"\n', 'try "screws"'),
    "a half-blind housing": (PLY + '[joint.shelf]\nkind = "half-blind housing"\ndepth = "1/4"\n', 'try "housing"'),
    "a back in three": (CASE + "back = { laid_on = true, parts = 3 }", "write it like 2"),
    "nailers without room": (
        CASE + 'nailers = { width = 15, at = ["top", "bottom"] }',
        "run into each other by 1 7/16; make them narrower",
    ),
    "a number of sticks": (STICK + 'openings = ["10"]\ncount = 2', "or pair = true for a stick of either hand"),
    "doors": (CASE + 'doors = { kind = "inset" }', 'try "fronts"'),
    "a case": (CASE.replace("carcass", "case"), 'try "carcass"'),
    "flush fronts": (CASE + 'fronts = { kind = "flush" }', 'try "inset"'),
    "a pair of doors": (CASE + 'fronts = { kind = "inset", front = "pair of doors" }', 'try "pair"'),
    "a dado": (PLY + '[joint.shelf]\nkind = "dado"\ndepth = "1/4"\n', 'try "housing"'),
    "a rebate": (PLY + '[joint.shelf]\nkind = "rebate"\ndepth = "1/4"\n', 'try "rabbet"'),
    "materials": (STICK.replace("[stock]", "[material]"), 'try "stock"'),
    "a stock with its thickness in a table": (
        PLY.replace('ply = "23/32"', 'ply = { thickness = "23/32" }'),
        "write the thickness itself below [stock], as in ply = …",
    ),
    "stocks one by one": (
        PLY.replace("[stock]", "[[stock]]"),
        "write [stock] once, with one bracket at each side",
    ),
    "a paper by its sides": ('paper = "11x17"\n' + STICK, 'write "Tabloid"'),
    "a paper by sides that have no name": ('paper = "13 x 19"\n' + STICK, 'write { width = "13", height = "19" }'),
    "units with full stops": (STICK + 'openings = ["2 ft. 3 1/2 in."]', 'as in "2 ft 3 1/2 in"'),
    "a fraction that is more than a whole": (
        STICK + 'openings = ["5 5/3"]',
        "5/3 after a whole number is not less than 1",
    ),
    "a size for a stock": (PLY + '[[stick]]\npart = 0.75\nopenings = ["10"]', "0.75 is not the name of a stock"),
    "a window": (
        WALL + 'features = [{ name = "window", from = 10, until = 40 }]',
        'what has two edges, as a window has, is { from = …, to = …, name = "…" } instead',
    ),
    "a key twice": (STICK + 'part = "ply"', "given before: leave one of them out"),
}


def faults_of(text: str) -> str:
    with pytest.raises(Faults) as raised:
        load_sources([Source("job.toml", text.encode())])
    return str(raised.value)


@pytest.mark.parametrize("name", LED)
def test_what_is_written_otherwise_leads_to_what_is_written_here(name: str) -> None:
    text, cure = LED[name]
    assert cure in faults_of(text)


@pytest.mark.parametrize(
    "text",
    [
        CASE + 'drawers = { stock = "ply" }',
        CASE + 'fronts = { kind = "overlay" }',
        CASE + 'frame = { stock = "ply" }',
        CASE + 'back = { stock = "ply", rabbet_width = "3/4" }',
        CASE + 'openings = [{ opening = "equal", adjustable = { shelves = 2 } }]',
        CASE.replace("height = 30\n", ""),
        WALL + 'features = [{ name = "studs", from = 10 }]',
        PLY + '[joint.shelf]\nkind = "tongue"\n',
        PLY + '[[stick]]\npart = "ply"\n',
        STICK + 'openings = ["9"]\nholes = [{ count = 3 }]',
        PLY + '[[rectangle]]\nname = "hatch"\n',
    ],
)
def test_what_is_missing_is_never_filled_in_by_a_figure_that_would_pass(text: str) -> None:
    """A figure in a cure is pasted, and a wrong job then passes: … cannot be."""
    cures = re.findall(r"add \w+ = ([^,.;]*)", faults_of(text))
    assert cures
    assert all("…" in cure for cure in cures)
