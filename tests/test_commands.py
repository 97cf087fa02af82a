"""The commands as they are typed."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import IO, Any, Final

import click
import pytest
from click.testing import CliRunner, Result

import storystick
from storystick import __version__, cli
from storystick.cli import COMMANDS, main
from storystick.lengths import Units, read_length

HEAD: Final = 'title = "Herbarium chest"\nunits = "inch"\n[stock]\nply = "23/32"\n'
PLAIN: Final = HEAD + '[[stick]]\nname = "Side"\npart = "ply"\nopenings = ["13", "12", "11", "10"]\npair = true\n'
FULL: Final = """
title = "Herbarium chest"
units = "inch"
[stock]
ply = "23/32"
[joint.shelf]
kind = "tongue"
width = "1/4"
depth = "1/4"
[[stick]]
name = "Chest side"
datum = "bottom"
length = "36"
pair = true
order = [
  { part = "ply", name = "bottom", joint = "shelf" },
  { opening = "8", name = "press drawer" },
  { part = "ply", name = "shelf 1", joint = "shelf" },
  { graduated = 3, step = "1/2", between = "ply", joint = "shelf", name = "drawer" },
  { part = "ply", name = "top", joint = "shelf" },
]
holes = { first = "10", pitch = "32 mm", count = 3, name = "pins" }
[[stick]]
name = "Thirds"
datum = "left"
length = "100 mm"
order = [{ opening = "equal" }, { opening = "equal" }, { opening = "equal" }]
centre = { at = "2", name = "pull" }
"""
METRIC: Final = """
title = "Полка"
units = "mm"
[[stick]]
name = "Thirds"
length = 100
order = [{ opening = "equal" }, { opening = "equal" }, { opening = 33.3 }]
"""

BAD_JOBS: Final[dict[str, tuple[str, str]]] = {
    "not TOML": (HEAD + "[[stick]\n", "not TOML"),
    "an unknown key": (PLAIN + 'opening = ["1"]\n', 'try "openings"'),
    "an unknown stock": (PLAIN.replace('part = "ply"', 'part = "plu"'), 'try "ply"'),
    "an unknown joint": (PLAIN + 'joint = "shelf"\n', '"shelf" is not a joint'),
    "an unknown paper": ('paper = "A44"\n' + PLAIN, 'try "A4"'),
    "no units": (PLAIN.replace('units = "inch"\n', ""), "units is missing"),
    "nothing to lay out": (HEAD, "add a [[cabinet]] or a [[stick]] table"),
    "a size that is no length": (PLAIN.replace('"13"', '"13 bananas"'), '"13 bananas" is not a length'),
    "a decimal comma": (PLAIN.replace('"13"', '"13,5"'), "decimal comma"),
    "a negative size": (PLAIN.replace('"13"', '"-13"'), "a size is more than 0"),
    "an absurd size": (PLAIN.replace('"13"', '"13000 m"'), "longer than 100 m"),
    "too much for the length": (PLAIN + 'length = "46"\n', "more than length 46"),
    "too little for the length": (PLAIN + 'length = "64"\n', "less than length 64"),
    "no length to share": (PLAIN.replace('"13"', '"equal"'), "the stick has no length"),
    "a ratio of 1": (PLAIN.replace('"13"', "{ graduated = 2, ratio = 1 }"), "a ratio of 1"),
    "two sticks of one name": (PLAIN + PLAIN.partition("[[")[1] + PLAIN.partition("[[")[2], "already the name"),
    "a missing spreadsheet": (PLAIN.replace('["13", "12", "11", "10"]', '"none.csv"'), "none.csv"),
    "letters the font lacks": (PLAIN.replace("Side", "漆箱"), "cannot be printed"),
    "paper too small for a strip": ("paper = { width = 3, height = 4 }\n" + PLAIN, "choose a larger paper"),
    "a hole beyond the end": (PLAIN + 'holes = { first = "60", count = 1 }\n', "lies beyond"),
}


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def write(folder: Path, text: str) -> Path:
    path = folder / "chest.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return write(tmp_path, FULL)


@pytest.fixture(params=[FULL, METRIC], ids=["inch", "mm"])
def any_job(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    return write(tmp_path, request.param)


def marks_of(job: Path) -> dict[str, Any]:
    result = run("marks", job, "--format", "json")
    assert result.exit_code == 0
    listing: dict[str, Any] = json.loads(result.stdout)
    return listing


def test_marks_as_json_have_the_keys_that_other_programs_rely_on(job: Path) -> None:
    listing = marks_of(job)
    assert listing.keys() >= {"title", "units", "digest", "sticks"}
    assert (listing["title"], listing["units"], len(listing["digest"])) == ("Herbarium chest", "inch", 6)
    side, thirds = listing["sticks"]
    assert side.keys() >= {"name", "datum", "pair", "length", "length_mm", "spans", "points"}
    described = [side[key] for key in ("name", "datum", "pair", "length", "length_mm")]
    assert described == ["Chest side", "bottom", True, "36", 914.4]
    assert side["spans"][:3] == [
        {"kind": "part", "name": "bottom", "start": "0", "end": "23/32", "start_mm": 0.0, "end_mm": 18.25625},
        {
            "kind": "opening",
            "name": "press drawer",
            "start": "23/32",
            "end": "8 23/32",
            "start_mm": 18.25625,
            "end_mm": 221.45625,
        },
        {
            "kind": "part",
            "name": "shelf 1",
            "start": "8 23/32",
            "end": "9 7/16",
            "start_mm": 221.45625,
            "end_mm": 239.7125,
        },
    ]
    assert {
        "kind": "groove",
        "name": "bottom",
        "start": "15/64",
        "end": "31/64",
        "start_mm": 5.953125,
        "end_mm": 12.303125,
    } in side["spans"]
    assert [span["kind"] for span in side["spans"]].count("groove") == 5
    assert side["points"][0] == {"kind": "hole", "name": "pins 1", "at": "10", "at_mm": 254.0}
    assert thirds["points"] == [{"kind": "centre", "name": "pull", "at": "2", "at_mm": 50.8}]


def test_exact_text_reads_back_to_the_same_value_as_its_twin_in_mm(any_job: Path) -> None:
    listing = marks_of(any_job)
    units = Units(listing["units"])
    rows = [row for stick in listing["sticks"] for row in (stick, *stick["spans"], *stick["points"])]
    pairs = [(row[key], row[f"{key}_mm"]) for row in rows for key in ("length", "start", "end", "at") if key in row]
    assert len(pairs) >= 7
    assert all(float(read_length(exact, units)) == in_mm for exact, in_mm in pairs)


def test_exact_texts_come_to_the_length_to_the_last_digit(any_job: Path) -> None:
    listing = marks_of(any_job)
    units = Units(listing["units"])
    for stick in listing["sticks"]:
        spans = [span for span in stick["spans"] if span["kind"] != "groove"]
        sizes = [read_length(span["end"], units) - read_length(span["start"], units) for span in spans]
        assert sum(sizes) == read_length(stick["length"], units)


def test_millimetres_are_decimals_where_they_end_and_fractions_where_they_do_not(tmp_path: Path) -> None:
    (stick,) = marks_of(write(tmp_path, METRIC))["sticks"]
    assert [span["end"] for span in stick["spans"]] == ["33.35", "66.7", "100"]
    (stick,) = marks_of(write(tmp_path, METRIC.replace("33.3 }", '"equal" }')))["sticks"]
    assert [span["end"] for span in stick["spans"]] == ["33 1/3", "66 2/3", "100"]


def test_csv_of_an_inch_job_has_decimal_inches_beside_each_exact_text(tmp_path: Path) -> None:
    """A spreadsheet reads 23/32 as text or as a day. By hand: 23/32 = 0.71875."""
    text = 'units = "inch"\n[stock]\nply = "23/32"\n[[stick]]\npart = "ply"\nopenings = ["9 1/3"]\n'
    rows = list(csv.DictReader(io.StringIO(run("marks", write(tmp_path, text), "--format", "csv").stdout)))
    assert list(rows[0]) == ["stick", "kind", "name", "start", "end", "start_mm", "start_in", "end_mm", "end_in"]
    assert [(row["end"], row["end_in"]) for row in rows[:2]] == [("23/32", "0.71875"), ("10 5/96", "10.052083")]


def test_marks_as_csv_say_the_same_as_json(any_job: Path) -> None:
    read = csv.DictReader(io.StringIO(run("marks", any_job, "--format", "csv").stdout))
    rows = [{key: cell for key, cell in row.items() if not key.endswith("_in")} for row in read]
    wanted = []
    for stick in marks_of(any_job)["sticks"]:
        for row in (*stick["spans"], *stick["points"]):
            start, end = ("at", "") if "at" in row else ("start", "end")
            figures = [str(row[start]), str(row.get(end, "")), str(row[f"{start}_mm"]), str(row.get("end_mm", ""))]
            wanted.append([stick["name"], row["kind"], row["name"], *figures])
    assert [list(row.values()) for row in rows] == wanted
    assert list(rows[0]) == ["stick", "kind", "name", "start", "end", "start_mm", "end_mm"]


def test_marks_as_text_say_full_or_scant_where_they_are_rounded(job: Path) -> None:
    text = run("marks", job).stdout
    assert "Chest side: 36 from the bottom, a pair" in text
    assert "1 5/16 scant" in text
    assert text.count(" full") + text.count(" scant") > 2


def test_pages_as_json_have_the_keys_that_other_programs_rely_on(job: Path) -> None:
    listing = json.loads(run("pages", job, "--format", "json").stdout)
    assert listing.keys() >= {"paper", "digest", "sheets"}
    assert (listing["paper"], listing["digest"]) == ("Letter", marks_of(job)["digest"])
    assert [sheet["number"] for sheet in listing["sheets"]] == list(range(1, len(listing["sheets"]) + 1))
    tiles = [tile for sheet in listing["sheets"] for tile in sheet["tiles"]]
    for sheet in listing["sheets"]:
        assert sheet.keys() >= {"number", "file", "page", "width_mm", "height_mm", "tiles"}
        described = [sheet[key] for key in ("file", "page", "width_mm", "height_mm")]
        assert described == ["strips.pdf", sheet["number"], 279.4, 215.9]
    keys = "stick hand tile of start_mm end_mm x_mm y_mm height_mm direction scale_x scale_y"
    assert all(tile.keys() >= set(keys.split()) for tile in tiles)
    assert {(tile["stick"], tile["hand"], tile["direction"]) for tile in tiles} == {
        ("Chest side", "left", 1),
        ("Chest side", "right", -1),
        ("Thirds", None, 1),
    }
    assert {(tile["scale_x"], tile["scale_y"]) for tile in tiles} == {(1.0, 1.0)}


def test_tiles_of_a_strip_cover_its_whole_length_once(job: Path) -> None:
    sheets = json.loads(run("pages", job, "--format", "json").stdout)["sheets"]
    tiles = [tile for sheet in sheets for tile in sheet["tiles"] if tile["hand"] == "right"]
    tiles.sort(key=lambda tile: tile["tile"])
    assert [tile["tile"] for tile in tiles] == list(range(1, tiles[0]["of"] + 1))
    assert len(tiles) > 2
    assert [tiles[0]["start_mm"], *(tile["end_mm"] for tile in tiles)] == [
        *(tile["start_mm"] for tile in tiles),
        914.4,
    ]


def test_pages_as_csv_say_the_same_as_json(job: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(run("pages", job, "--format", "csv").stdout)))
    sheets = json.loads(run("pages", job, "--format", "json").stdout)["sheets"]
    wanted = [
        {"sheet": str(sheet["number"]), "file": sheet["file"], "page": str(sheet["page"])}
        | {key: "" if value is None else str(value) for key, value in tile.items()}
        | {"serves": "; ".join(tile["serves"])}
        for sheet in sheets
        for tile in sheet["tiles"]
    ]
    assert sorted(rows, key=str) == sorted(wanted, key=str)


def test_pages_as_text_are_in_gluing_order(job: Path) -> None:
    lines = [line.split("  ") for line in run("pages", job, "--only", "Chest side").stdout.splitlines()[3:]]
    hands = [" ".join(line).split(",")[1].split()[0] for line in lines]
    assert hands == sorted(hands)
    assert len(hands) > 4
    assert {next(filter(None, line)) for line in lines} == {"A"}


@pytest.mark.parametrize(("paper", "size"), [("A4", (297.0, 210.0)), ("tabloid", (431.8, 279.4))])
def test_paper_can_be_chosen_on_the_command_line(job: Path, paper: str, size: tuple[float, float]) -> None:
    listing = json.loads(run("pages", job, "--paper", paper, "--format", "json").stdout)
    assert listing["paper"].lower() == paper.lower()
    assert {(sheet["width_mm"], sheet["height_mm"]) for sheet in listing["sheets"]} == {size}


def test_check_says_what_it_read(job: Path) -> None:
    result = run("check", job)
    assert result.exit_code == 0
    assert result.stdout.startswith("chest.toml: no faults. Herbarium chest, version ")


def test_print_writes_its_files_and_says_which(job: Path, tmp_path: Path) -> None:
    result = run("print", job, "-o", tmp_path / "out")
    names = [
        "job-sheet.pdf",
        "strips.pdf",
        "strip-chest-side-left-hand.svg",
        "strip-chest-side-right-hand.svg",
        "strip-thirds.svg",
    ]
    assert result.exit_code == 0
    assert result.stdout.split() == [str(tmp_path / "out" / name) for name in names]
    assert {path.name for path in (tmp_path / "out").iterdir()} == {*names, "print-record.json"}


@pytest.mark.parametrize(
    ("options", "endings"),
    [
        (["--format", "pdf"], {"strips.pdf", "job-sheet.pdf"}),
        (["--format", "svg", "--only", "Thirds"], {"strip-thirds.svg", "job-sheet.pdf"}),
        (["--format", "pdf", "--only", "Thirds", "--paper", "A3"], {"strips.pdf", "job-sheet.pdf"}),
    ],
)
def test_print_writes_only_what_is_asked_for(job: Path, tmp_path: Path, options: list[str], endings: set[str]) -> None:
    assert run("print", job, "-o", tmp_path / "out", *options).exit_code == 0
    assert {path.name for path in (tmp_path / "out").iterdir()} == {*endings, "print-record.json"}


def test_print_without_a_folder_writes_beside_where_it_is_run(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(job.parent)
    assert run("print", "chest.toml").exit_code == 0
    assert (job.parent / "chest-print" / "strips.pdf").is_file()


def test_only_with_an_unknown_name_is_a_fault_that_names_the_sticks(job: Path, tmp_path: Path) -> None:
    result = run("print", job, "-o", tmp_path / "out", "--only", "Back")
    assert result.exit_code == 1
    assert "Back" in result.stderr
    assert "Chest side, Thirds" in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("kind", BAD_JOBS)
def test_bad_job_gives_one_screen_of_text_and_writes_nothing(kind: str, tmp_path: Path) -> None:
    text, said = BAD_JOBS[kind]
    out = tmp_path / "out"
    out.mkdir()
    (out / "strips.pdf").write_bytes(b"last week's")
    result = run("print", write(tmp_path, text), "-o", out)
    assert result.exit_code == 1
    assert result.stdout == ""
    lines = result.stderr.splitlines()
    assert said.lower() in " ".join(line.strip() for line in lines).lower()
    assert len(lines) <= 24
    assert max(map(len, lines)) <= 100
    assert {path.name: path.read_bytes() for path in out.iterdir()} == {"strips.pdf": b"last week's"}


def test_there_are_at_least_fifteen_kinds_of_bad_job() -> None:
    assert len(BAD_JOBS) >= 15


@pytest.mark.parametrize("command", ["check", "marks", "pages", "print"])
def test_job_that_is_not_there_is_a_fault(command: str, tmp_path: Path) -> None:
    result = run(command, tmp_path / "none.toml")
    assert result.exit_code == 1
    assert "none.toml" in result.stderr


def test_every_fault_of_a_job_is_told_at_once(tmp_path: Path) -> None:
    text = PLAIN.replace('"13", "12"', '"13 bananas", "-12"') + "colour = 1\n"
    result = run("check", write(tmp_path, text))
    assert result.exit_code == 1
    assert "3 faults to mend" in result.stderr
    assert all(said in result.stderr for said in ("bananas", "-12", "colour"))


@pytest.mark.parametrize(
    "words",
    [["mark"], ["marks"], ["marks", "a.toml", "--format", "xml"], ["print", "a.toml", "--paper", "A44"], ["--colour"]],
)
def test_wrong_command_line_has_its_own_exit_status(words: list[str]) -> None:
    assert run(*words).exit_code == 2


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_every_command_shows_an_example(command: str) -> None:
    result = run(command, "--help")
    assert result.exit_code == 0
    assert f"Example: storystick {command}" in result.stdout


def test_every_command_of_the_folder_is_in_the_list() -> None:
    modules = Path(cli.__file__).parent.glob("*.py")
    assert {path.stem for path in modules if "@click.command()" in path.read_text(encoding="utf-8")} == set(COMMANDS)


def test_help_lists_every_command() -> None:
    listed = [line.split()[0] for line in run("--help").stdout.partition("Commands:\n")[2].splitlines()]
    assert listed == list(COMMANDS)


def test_list_of_commands_says_of_each_what_its_own_help_says_first() -> None:
    context = click.Context(main)
    own = {name: main.get_command(context, name).get_short_help_str(200) for name in COMMANDS}  # type: ignore[union-attr]
    listed = dict(line.split(maxsplit=1) for line in run("--help").stdout.partition("Commands:\n")[2].splitlines())
    assert {name: line.removesuffix(".") for name, line in listed.items()} == {
        name: line.removesuffix(".") for name, line in own.items()
    }


@pytest.mark.parametrize("words", [["--help"], ["-h"], ["--version"], ["nothing"]])
def test_help_needs_no_command_to_be_loaded(words: list[str], tmp_path: Path) -> None:
    program = (
        "import sys, storystick.cli\n"
        f"try: storystick.cli.main({words})\n"
        "except SystemExit: pass\n"
        "print('loaded', *(name for name in sys.modules if name.startswith('storystick')))"
    )
    loaded = python("-c", program, folder=tmp_path).stdout.splitlines()[-1].split()
    assert loaded == ["loaded", "storystick", "storystick.errors", "storystick.cli"]


def test_version_is_the_package_s() -> None:
    assert __version__ in run("--version").stdout


def python(*words: str, folder: Path, **settings: str) -> subprocess.CompletedProcess[str]:
    """Run Python anew in another folder, with this package at hand."""
    home = Path(__file__).parent.parent
    environment = {**os.environ, "PYTHONPATH": str(home), "PYTHONIOENCODING": "utf-8", **settings}
    return subprocess.run(
        [sys.executable, *words], cwd=folder, env=environment, capture_output=True, text=True, encoding="utf-8"
    )


@pytest.mark.parametrize("words", [["--help"], ["marks", "chest.toml"], ["check", "chest.toml"], ["print", "--help"]])
def test_what_does_not_print_does_not_load_what_prints(words: list[str], job: Path) -> None:
    program = (
        "import sys, storystick.cli\n"
        f"try: storystick.cli.main({words})\n"
        "except SystemExit as end: print('ended', end.code)\n"
        "print('loaded', *{'reportlab', 'pypdf', 'svgwrite'} & set(sys.modules))"
    )
    lines = python("-c", program, folder=job.parent).stdout.splitlines()
    assert lines[-2:] == ["ended 0", "loaded"]


def test_demo_works_in_an_empty_folder_as_a_module(tmp_path: Path) -> None:
    result = python("-m", "storystick", "demo", folder=tmp_path)
    assert (result.returncode, result.stderr) == (0, "")
    written = {path.name for path in (tmp_path / "storystick-demo").iterdir()}
    assert {"strips.pdf", "job-sheet.pdf", "drawer-bank.toml"} < written
    again = python("-m", "storystick", "print", "storystick-demo/drawer-bank.toml", "-o", "again", folder=tmp_path)
    assert again.returncode == 0
    for name in ("strips.pdf", "job-sheet.pdf"):
        assert (tmp_path / "again" / name).read_bytes() == (tmp_path / "storystick-demo" / name).read_bytes()


def test_demo_writes_a_job_that_anyone_can_go_on_from(tmp_path: Path) -> None:
    assert run("demo", "-o", tmp_path).exit_code == 0
    job = tomllib.loads((tmp_path / "drawer-bank.toml").read_text(encoding="utf-8"))
    assert job["stick"][0]["pair"] is True
    assert run("check", tmp_path / "drawer-bank.toml").exit_code == 0


def test_fault_leaves_a_process_with_one_and_no_traceback(tmp_path: Path) -> None:
    result = python("-m", "storystick", "marks", "none.toml", folder=tmp_path)
    assert result.returncode == 1
    assert "Traceback" not in result.stderr
    assert "none.toml" in result.stderr


def test_shell_completion_is_offered_and_completes_commands(tmp_path: Path) -> None:
    program = "from storystick.cli import main; main(prog_name='storystick')"
    source = python("-c", program, folder=tmp_path, _STORYSTICK_COMPLETE="bash_source")
    assert "_storystick_completion" in source.stdout
    completed = python(
        "-c",
        program,
        folder=tmp_path,
        _STORYSTICK_COMPLETE="bash_complete",
        COMP_WORDS="storystick p",
        COMP_CWORD="1",
    )
    assert completed.stdout.split() == ["plain,print", "plain,pages", "plain,parts"]


LISTINGS: Final = [
    ["--help"],
    ["--version"],
    ["marks", "--help"],
    ["marks", "chest.toml"],
    ["marks", "chest.toml", "--format", "json"],
    ["check", "chest.toml"],
    ["pages", "chest.toml", "--format", "csv"],
]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("words", LISTINGS, ids=" ".join)
def test_listing_that_finds_no_room_ends_with_one_line(words: list[str], job: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        ended = started(words, job.parent, stdout=full)
    _, said = ended.communicate()
    assert ended.returncode == 1
    assert said.decode().splitlines() == [
        "storystick: what it had to say could not be written: No space left on device."
    ]


@pytest.mark.parametrize("words", LISTINGS, ids=" ".join)
def test_listing_whose_reader_went_away_ends_without_a_word(words: list[str], job: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    ended = started(words, job.parent, stdout=writing)
    os.close(writing)
    _, said = ended.communicate()
    assert (ended.returncode, said) == (1, b"")


def started(words: list[str], folder: Path, stdout: IO[bytes] | int) -> subprocess.Popen[bytes]:
    """A command whose output is kept back until there is much of it, as it is unless Python is told otherwise."""
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent), "PYTHONUNBUFFERED": ""}
    command = [sys.executable, "-m", "storystick", *words]
    return subprocess.Popen(command, cwd=folder, env=environment, stdout=stdout, stderr=subprocess.PIPE)


def test_package_does_as_its_commands_do(job: Path, tmp_path: Path) -> None:
    layout = storystick.load(job)
    assert layout.sticks[0].length == Fraction("914.4")
    paths = storystick.print_job(layout, tmp_path / "by package")
    assert run("print", job, "-o", tmp_path / "by command").exit_code == 0
    for path in paths:
        assert path.read_bytes() == (tmp_path / "by command" / path.name).read_bytes()
    with pytest.raises(AttributeError, match="no attribute 'lay_outt'"):
        _ = storystick.lay_outt


def test_marks_tell_of_every_face_the_strip_that_serves_it() -> None:
    chest = str(Path(__file__).parent.parent / "gallery" / "bead-chest" / "bead-chest.toml")
    marks = json.loads(run("marks", chest, "--format", "json").stdout)
    sheets = json.loads(run("pages", chest, "--format", "json").stdout)["sheets"]
    letters = {name: tile["letter"] for sheet in sheets for tile in sheet["tiles"] for name in tile["serves"]}
    faces = {face["name"]: face for face in (*marks["sticks"], *marks["faces"])}
    assert {name: face["letter"] for name, face in faces.items()} == {name: letters.get(name) for name in faces}
    assert {name for name, face in faces.items() if not face["serves"]} == faces.keys() - letters.keys() != set()
    assert {stick["name"] for stick in marks["sticks"]} == {
        tile["stick"] for sheet in sheets for tile in sheet["tiles"]
    }
    left, right = (faces[f"Chest divider 1, {hand} face"] for hand in ("left", "right"))
    assert left["serves"] == right["serves"] == [left["name"], right["name"]]
    own = [{span["name"] for span in face["spans"]} for face in (left, right)]
    assert ("shelf 1" in own[0], "shelf 4" in own[1]) == (True, True)


def test_whoever_watches_a_print_is_told_of_each_file_and_can_stop_it(job: Path, tmp_path: Path) -> None:
    told: list[tuple[int, int, str]] = []

    def watch(done: int, of: int, file: str) -> None:
        told.append((done, of, file))

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    layout = storystick.load(job)
    paths = storystick.print_job(layout, tmp_path / "whole", progress=watch)
    assert told == [*((done, len(paths), path.name) for done, path in enumerate(paths)), (len(paths), len(paths), "")]
    with pytest.raises(KeyboardInterrupt):
        storystick.print_job(layout, tmp_path / "stopped", progress=stop)
    assert not (tmp_path / "stopped").exists()
