"""The shop file: what it says, every fault of it with its place, and where it is found."""

from __future__ import annotations

import json
import re
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import jsonschema
import pytest
from jobs import PLAIN
from jobs import read as read_job_text

from storystick import load
from storystick.errors import Faults
from storystick.job.shop import Clamp, Printer, Rod, Shop, read_shop
from storystick.job.sources import Source
from storystick.job.tools import BarRecord, BaseEdge, Bit, Purpose, Router, Routing, Saw, Sawing
from storystick.laying_out import load_sources
from storystick.lengths import INCH_MM

SHARED = Path(__file__).parent.parent / "shared"
SCHEMA: dict[str, Any] = json.loads((SHARED / "shop.schema.json").read_text("utf-8"))
JOB_SCHEMA = SHARED / "job.schema.json"

PLUNGE = "[router.plunge]\nbase_diameter = 6\n"
FLAT = "[router.flat]\nedge_to_centre = { long = '3 1/2', short = 3 }\n"
HALF = "[bit.half]\ndiameter = '1/2'\n"
BAR = "[bar.A]\nrouter = 'plunge'\nbit = 'half'\n"
LIKE = "write it like 18.3, 23/32, 5 1/2, 2' 3 1/2\", 18.3 mm or 1 in."


def inch(value: str) -> Fraction:
    return Fraction(value) * INCH_MM


def read(text: str) -> tuple[Shop, list[str]]:
    """The shop and the sentences of its faults."""
    shop, faults = read_shop(Source("shop.toml", text.encode()))
    return shop, list(map(str, faults))


PLUNGE_ROUTER = Router("plunge", (BaseEdge("base", inch("3")),), True)
FLAT_ROUTER = Router("flat", (BaseEdge("long", inch("7/2")), BaseEdge("short", inch("3"))), False)
HALF_BIT = Bit("half", inch("1/2"))

GOOD_SHOPS: dict[str, Shop] = {
    "": Shop(),
    PLUNGE: Shop(routers=(PLUNGE_ROUTER,)),
    "units = 'mm'\n" + PLUNGE: Shop(routers=(Router("plunge", (BaseEdge("base", Fraction(3)),), True),)),
    "units = 'mm'\n" + PLUNGE.replace("6", "'6 in'"): Shop(routers=(PLUNGE_ROUTER,)),
    FLAT: Shop(routers=(FLAT_ROUTER,)),
    "[router.flat]\nedge_to_centre = 3": Shop(routers=(Router("flat", (BaseEdge("base", inch("3")),), False),)),
    PLUNGE + "turns = ['2 3/4', 2.75, '2 3/4', '2 3/4']": Shop(
        routers=(Router("plunge", PLUNGE_ROUTER.edges, True, (inch("11/4"),) * 4),)
    ),
    HALF + "pass_depth = '1/8'": Shop(bits=(Bit("half", inch("1/2"), inch("1/8")),)),
    PLUNGE + HALF + BAR: Shop((PLUNGE_ROUTER,), (HALF_BIT,), (BarRecord("A", "plunge", "base", "half"),)),
    PLUNGE + HALF + BAR + "edge = 'base'\nmeasured = '2 3/4'": Shop(
        (PLUNGE_ROUTER,), (HALF_BIT,), (BarRecord("A", "plunge", "base", "half", inch("11/4")),)
    ),
    FLAT + HALF + "[bar.B]\nrouter = 'flat'\nbit = 'half'\nedge = 'short'": Shop(
        (FLAT_ROUTER,), (HALF_BIT,), (BarRecord("B", "flat", "short", "half"),)
    ),
    "[saw.table]\nkerf = '1/8'\n[rod.long]\nclosed = 24\nopen = \"3' 8\"": Shop(
        saws=(Saw("table", inch("1/8")),), rods=(Rod("long", inch("24"), inch("44")),)
    ),
    "[saw.wide]\nkerf = '3/4'\nfor = 'grooves'\n[saw.blade]\nkerf = '1/8'\nfor = ['tongues', 'rabbets']": Shop(
        saws=(
            Saw("wide", inch("3/4"), (Purpose.GROOVES,)),
            Saw("blade", inch("1/8"), (Purpose.TONGUES, Purpose.RABBETS)),
        )
    ),
    "[sawing]\non_end = 20\nnarrow = '2 1/2'\n[routing]\nbit_under = 0\nleast_shim = '1/16'": Shop(
        sawing=Sawing(inch("20"), inch("5/2")), routing=Routing(Fraction(0), inch("1/16"))
    ),
    "[sawing]\non_end = 0": Shop(sawing=Sawing(on_end=Fraction(0))),
    "[printer.office]\nalong = 1.004\nacross = '499/500'\npaper = 'A4, 80 g'": Shop(
        printers=(Printer("office", Fraction("1.004"), Fraction(499, 500), paper="A4, 80 g"),)
    ),
}

BAD_SHOPS: dict[str, list[str]] = {
    "[saw.table]\nkerf = 50": [", [saw.table], kerf: 50 is more than 1, the most that a blade cuts; look at its unit."],
    "[saw.table]\nkerf = 0.0001": [
        ", [saw.table], kerf: 0.0001 is less than 1/64 in, the least that is cut at once; look at its unit."
    ],
    "[router.flat]\nedge_to_centre = 3\nturns = [3, 3, 3, 3]": [
        ", [router.flat], turns: turns are for a round base, which can be turned; leave them out for a flat one."
    ],
    "[saw.table]\nkerf = '1/8'\nfor = 'rabets'": [
        ', [saw.table], for: "rabets" is not a word known here; try "rabbets"; allowed here: tongues, rabbets, grooves.'
    ],
    "[saw.table]\nkerf = '1/8'\nfor = ['grooves', 3]": [
        ", [saw.table], for[2]: 3 is not a word known here; allowed here: tongues, rabbets, grooves."
    ],
    "[sawing]\non_end = 60\nnarrow = -1\nwide = 3": [
        ", [sawing], on_end: 60 is over 48 in, too tall to be stood at a saw's fence; give 48 in or less.",
        ", [sawing], narrow: -1 is less than 0, which is not allowed here.",
        ', [sawing]: "wide" is not a key here; allowed here: on_end, narrow.',
    ],
    "[routing]\nbit_under = '1/8'\nleast_shim = 1": [
        ", [routing], bit_under: \"1/8\" is over 1/16 in, too much for a groove that is to fit; give 1/16 in or less.",
        ", [routing], least_shim: 1 is over 1/8 in, a shim that can be made; give 1/8 in or less.",
    ],
    "units = 'cm'": [', units: "cm" is not a word known here; try "mm"; allowed here: inch, mm.'],
    "[printer.office]\nalong = 1.0638": [
        ", [printer.office], along: 1.0638 is more than 3 % from 1: the sheet that was measured had been scaled; print "
        "it again at 100 %, with no fit to page, and measure that."
    ],
    "[plotter.office]\nfeed = 1": [
        ': "plotter" is not a key here; try "router"; allowed here: units, router, bit, bar, saw, rod, printer, '
        "square, rod_stock, glue, glue_up, clamp, sawing, routing."
    ],
    "router = 3": [', router: 3 is not a table; write it as { key = …, key = … }.'],
    "[router.a]": [
        ", [router.a]: the router has neither base_diameter nor edge_to_centre; give base_diameter for a round base, "
        "edge_to_centre for a flat one."
    ],
    PLUNGE + "edge_to_centre = 3\nbases_diameter = 2": [
        ", [router.plunge]: the router has both base_diameter and edge_to_centre; give base_diameter for a round base, "
        "edge_to_centre for a flat one.",
        ', [router.plunge]: "bases_diameter" is not a key here; try "base_diameter"; allowed here: base_diameter, '
        "edge_to_centre, turns.",
    ],
    "[router.a]\nedge_to_centre = {}": [
        ", [router.a], edge_to_centre: the table has no edge; name each edge that is used, as in "
        '{ flat = "3", round = "3 1/8" }.'
    ],
    "[router.a]\nedge_to_centre = { flat = 0, round = 'x' }": [
        ", [router.a], edge_to_centre, flat: 0 is not a size: a size is more than 0.",
        f', [router.a], edge_to_centre, round: "x" is not a length; {LIKE}',
    ],
    PLUNGE + "turns = [2, 0, 2]": [
        ", [router.plunge], turns[2]: 0 is not a size: a size is more than 0.",
        ", [router.plunge], turns: the list has 3 entries, and a base is tried at 4 quarter turns; give the distance "
        "of each cut from the straightedge, with marks 1 to 4 toward it.",
    ],
    PLUNGE + "turns = 2": [", [router.plunge], turns: 2 is not a list; put it in square brackets."],
    "[bit.half]\ndiametre = '1/2'": [
        ', [bit.half]: diameter is missing; add diameter = …, a length.',
        ', [bit.half]: "diametre" is not a key here; try "diameter"; allowed here: diameter, pass_depth, kind, angle.',
    ],
    HALF + "pass_depth = 0.001": [
        ", [bit.half], pass_depth: 0.001 is less than 1/64 in, the least that is cut at once; look at its unit."
    ],
    PLUNGE + HALF + "[bar.A]\nrouter = 'plung'\nbit = 'hlaf'\nmeasured = -1": [
        ', [bar.A], router: "plung" is not a router of this shop file; try "plunge"; allowed here: plunge; '
        "or add it under [router].",
        ', [bar.A], bit: "hlaf" is not a bit of this shop file; try "half"; allowed here: half; '
        "or add it under [bit].",
        ", [bar.A], measured: -1 is not a size: a size is more than 0.",
    ],
    "[bar.A]\nedge = 'x'": [
        ', [bar.A]: router is missing; add router = "…", the name of a router.',
        ', [bar.A]: bit is missing; add bit = "…", the name of a bit.',
    ],
    FLAT + HALF + BAR.replace("plunge", "flat"): [', [bar.A]: edge is missing; add edge = "long" or "short".'],
    FLAT + HALF + BAR.replace("plunge", "flat") + "edge = 'shor'": [
        ', [bar.A], edge: "shor" is not an edge of router "flat"; try "short"; allowed here: long, short.'
    ],
    PLUNGE.replace("6", "0") + HALF + BAR: [
        ", [router.plunge], base_diameter: 0 is not a size: a size is more than 0."
    ],
    PLUNGE + "[router.wide]\nbase_diameter = 7\n" + HALF.replace("'1/2'", "6") + BAR: [
        ', [bar.A]: the base of router "plunge" reaches 3 from the centre, and bit "half" 3: that leaves nothing for '
        "a bar; choose a wider base or a smaller bit."
    ],
    PLUNGE + HALF.replace("'1/2'", "'6 1/2'"): [
        ", [bit.half]: the bit reaches 3 1/4 from its centre, and the widest base of this shop 3; look at both "
        "figures, or add a router with a wider base."
    ],
    PLUNGE + HALF + BAR + BAR.replace("bar.A", "bar.B"): [
        ', [bar.B]: bar "A" is for the same router, edge and bit; keep the one that you use.'
    ],
    "[saw.table]\nkerf = '1/8'\nblade = 10": [', [saw.table]: "blade" is not a key here; allowed here: kerf, for.'],
    "[rod.long]\nclosed = 24\nopen = 24": [
        ", [rod.long], open: 24 is not more than closed, 24; give the longest reach here."
    ],
    "[square]\ntolerance = 2\nreading_error = '3/4'": [
        ", [square], tolerance: a difference of diagonals over 1 in is no tolerance; look at its unit.",
        ", [square], reading_error: a tape that is off by more than 1/2 in tells nothing; look at its unit.",
    ],
    "[glue.white]\nopen = 8\nclosed = 15\nclamp_time = 0": [
        ", [glue.white], clamp_time: 0 is not a number above 0; write it like 2, 1.5 or \"3/2\", without a unit."
    ],
    "[clamp.long]\nopens = 0\ncount = '8'": [
        ", [clamp.long], opens: 0 is not a size: a size is more than 0.",
        ', [clamp.long], count: "8" is not a whole number from 1 to 1000; write it like 4.',
    ],
    "[clamp.long]\nopens = 50\nlength = 48": [
        ', [clamp.long]: count is missing; add count = …, a whole number from 1 to 1000.',
        ', [clamp.long]: "length" is not a key here; allowed here: opens, count.',
    ],
    "[glue_up]\nstiff_caul = 0": [", [glue_up], stiff_caul: 0 is not a size: a size is more than 0."],
    "[rod.long]\nopen = 24": [', [rod.long]: closed is missing; add closed = …, a length.'],
}  # fmt: skip


@pytest.mark.parametrize(("text", "shop"), GOOD_SHOPS.items(), ids=range(len(GOOD_SHOPS)))
def test_a_shop_is_read_into_its_tools(text: str, shop: Shop) -> None:
    found, faults = read(text)
    assert faults == []
    assert found.source == Source("shop.toml", text.encode())
    tools = (found.routers, found.bits, found.bars, found.saws, found.rods, found.printers)
    assert tools == (shop.routers, shop.bits, shop.bars, shop.saws, shop.rods, shop.printers)
    assert (found.sawing, found.routing) == (shop.sawing, shop.routing)


ASSEMBLY: Final = """
[square]
tolerance = "1/32"
reading_error = "1/64"
[glue.white]
open = 8
closed = 15
clamp_time = 45
[glue.old]
open = 8
closed = 15
[clamp.long]
opens = 50
count = 8
[glue_up]
stiff_caul = 3
"""


def test_what_a_shop_glues_up_with_is_read_and_keeps_to_the_schema() -> None:
    shop, faults = read(ASSEMBLY)
    assert faults == schema_faults(ASSEMBLY) == []
    assert (shop.square.tolerance, shop.square.reading_error) == (inch("1/32"), inch("1/64"))
    assert [glue.clamp_time for glue in shop.glues] == [45, None]
    assert shop.clamps == (Clamp("long", inch("50"), 8),)
    assert shop.glue_up.stiff_caul == inch("3")
    assert read("")[0].square.reading_error is None


@pytest.mark.parametrize(("text", "messages"), BAD_SHOPS.items(), ids=range(len(BAD_SHOPS)))
def test_every_fault_of_a_shop_is_told_at_once_with_its_place(text: str, messages: list[str]) -> None:
    assert read(text)[1] == [f"shop.toml{message}" for message in messages]


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"[router", "the file is not TOML"),
        (b"\xff\xfe", "the file is not UTF-8 text"),
        (b"#" * 1_000_001, "the file is larger than 1 MB"),
    ],
)
def test_a_file_that_cannot_be_read_at_all_is_one_fault(data: bytes, message: str) -> None:
    with pytest.raises(Faults, match=f"shop.toml: {message}"):
        read_shop(Source("shop.toml", data))


def schema_faults(text: str) -> list[str]:
    return [error.message for error in jsonschema.Draft202012Validator(SCHEMA).iter_errors(tomllib.loads(text))]


@pytest.mark.parametrize("text", GOOD_SHOPS, ids=range(len(GOOD_SHOPS)))
def test_a_shop_that_reads_well_keeps_to_the_schema(text: str) -> None:
    assert schema_faults(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "units = 'cm'",
        "[printer.office]\nfeed = 1",
        "router = 3",
        "[router.a]",
        PLUNGE + "edge_to_centre = 3",
        "[router.a]\nedge_to_centre = {}",
        PLUNGE + "turns = [2, 2, 2]",
        "[bit.half]\ndiametre = '1/2'",
        "[bar.A]\nedge = 'x'",
        "[saw.table]\nkerf = '1/8'\nblade = 10",
        "[saw.table]\nkerf = '1/8'\nfor = 'ripping'",
        "[saw.table]\nkerf = '1/8'\nfor = []",
        "[sawing]\nnarrow = -1",
        "[routing]\nbit_over = 1",
        "[rod.long]\nopen = 24",
        "[rod.'']\nopen = 24\nclosed = 3",
        "[clamp.long]\nopens = 50\ncount = '8'",
        "[clamp.long]\ncount = 8",
    ],
)
def test_a_shop_of_the_wrong_shape_keeps_to_neither_schema_nor_reader(text: str) -> None:
    assert schema_faults(text)
    assert read(text)[1]


@pytest.mark.parametrize(
    ("name", "fits"), [("shop.toml", True), ("My Tools.TOML", True), ("shop", False), ("a/b.toml", False)]
)
def test_the_schema_of_a_job_knows_how_a_shop_is_named(name: str, fits: bool) -> None:
    pattern = json.loads(JOB_SCHEMA.read_text("utf-8"))["properties"]["shop"]["pattern"]
    assert bool(re.search(pattern, name)) == fits
    read_as_name = [fault for fault in read_job_text(f"shop = '{name}'\n" + PLAIN)[1] if fault.startswith("job.toml")]
    assert bool(read_as_name) != fits


def lay_beside(folder: Path, **texts: str) -> Path:
    """The job file in a folder with these files; "_" in a name stands for a dot."""
    folder.mkdir(exist_ok=True)
    for name, text in {"job_toml": PLAIN, **texts}.items():
        (folder / name.replace("_", ".")).write_text(text, encoding="utf-8")
    return folder / "job.toml"


def routers(path: Path, **places: Path) -> list[str]:
    shop = load(path, **places).job.shop
    return [router.name for router in shop.routers] if shop else []


def test_a_job_runs_without_a_shop(tmp_path: Path) -> None:
    job = load(lay_beside(tmp_path), settings=tmp_path / "nowhere").job
    assert job.shop is None
    assert [source.name for source in job.sources] == ["job.toml"]


def test_the_shop_asked_for_comes_before_the_one_named_beside_and_in_the_settings(tmp_path: Path) -> None:
    settings = lay_beside(tmp_path / "settings", shop_toml=PLUNGE.replace("plunge", "settled")).parent
    given = lay_beside(tmp_path / "given", tools_toml=PLUNGE.replace("plunge", "given")).parent / "tools.toml"
    beside, named = PLUNGE.replace("plunge", "beside"), PLUNGE.replace("plunge", "named")
    job = lay_beside(tmp_path, own_toml=named, job_toml="shop = 'own.toml'\n" + PLAIN)
    assert routers(job, settings=settings, shop=given) == ["given"]
    assert routers(job, settings=settings) == ["named"]
    job = lay_beside(tmp_path, shop_toml=beside)
    assert routers(job, settings=settings) == ["beside"]
    (tmp_path / "shop.toml").unlink()
    assert routers(job, settings=settings) == ["settled"]
    assert routers(job) == []


def test_the_shop_counts_in_the_digest_and_is_found_again_among_the_sources(tmp_path: Path) -> None:
    job = lay_beside(tmp_path, shop_toml=PLUNGE)
    alone = load(lay_beside(tmp_path / "alone")).job
    with_shop = load(job).job
    assert [source.name for source in with_shop.sources] == ["job.toml", "shop.toml"]
    assert with_shop.digest != alone.digest
    assert load_sources(with_shop.sources).job == with_shop


def test_a_shop_that_was_asked_for_is_found_again_whatever_the_job_names(tmp_path: Path) -> None:
    job = lay_beside(tmp_path, tools_toml=PLUNGE, job_toml="shop = 'own.toml'\n" + PLAIN)
    given = load(job, shop=tmp_path / "tools.toml").job
    assert load_sources(given.sources).job == given


def test_faults_of_the_shop_are_told_together_with_those_of_the_job(tmp_path: Path) -> None:
    job = lay_beside(tmp_path, shop_toml="[saw.table]", job_toml=PLAIN + "length = 0")
    with pytest.raises(Faults) as caught:
        load(job)
    assert list(map(str, caught.value.faults)) == [
        "job.toml, stick 1, length: 0 is not a size: a size is more than 0.",
        "shop.toml, [saw.table]: kerf is missing; add kerf = …, a length.",
    ]


def test_a_job_without_units_still_has_its_shop_read_once(tmp_path: Path) -> None:
    job = lay_beside(tmp_path, shop_toml="saws = 1", job_toml=PLAIN.replace('units = "mm"\n', ""))
    with pytest.raises(Faults) as caught:
        load(job)
    assert [fault.where for fault in caught.value.faults] == ["job.toml", "shop.toml"]


def test_a_shop_that_is_named_but_not_there_is_a_fault(tmp_path: Path) -> None:
    job = lay_beside(tmp_path, job_toml="shop = 'own.toml'\n" + PLAIN)
    with pytest.raises(Faults, match=r"own.toml: there is no such file; look at its name and folder."):
        load(job)
    with pytest.raises(Faults, match=r"gone.toml: there is no such file"):
        load(job, shop=tmp_path / "gone.toml")
    assert read_job_text("shop = 'own.toml'\n" + PLAIN)[1] == [
        "own.toml: the file is missing; give it together with the job file."
    ]


def test_a_shop_has_a_name_of_its_own_that_says_what_it_is(tmp_path: Path) -> None:
    job = lay_beside(tmp_path, tools_txt=PLUNGE)
    with pytest.raises(Faults, match=r"tools.txt: a shop file has a name that ends in .toml; call it"):
        load(job, shop=tmp_path / "tools.txt")
    other = lay_beside(tmp_path / "other", job_toml=PLUNGE)
    with pytest.raises(Faults, match="the job file and the shop file have the same name"):
        load(job, shop=other)


def test_a_job_that_is_called_like_a_shop_file_is_not_its_own_shop(tmp_path: Path) -> None:
    lay_beside(tmp_path, shop_toml=PLAIN)
    assert load(tmp_path / "shop.toml").job.shop is None
