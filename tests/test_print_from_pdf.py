"""A printed PDF alone, in the job's place: the same print again, with the job's own files beside it."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest
from click.testing import CliRunner, Result
from jobs import GALLERY_JOBS

from storystick.cli import main
from storystick.errors import StorystickError
from storystick.prints import load_print

JOB = """
title = "Seed drawers"
units = "mm"
printer = "office"
stock = { ply = 18.3 }
[[stick]]
name = "Side"
part = "ply"
openings = "rows.csv"
pair = true
[[stick]]
name = "Depth"
part = "ply"
openings = [300]
"""
SHOP = 'units = "mm"\n[printer.office]\nalong = "1.0123"\nacross = "0.985"\n[printer.shop]\nalong = "1"\nacross = "1"\n'
FILES = {"drawers.toml": JOB, "shop.toml": SHOP, "rows.csv": "name,size\nlow,120\nhigh,160\n"}


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words), catch_exceptions=False)


def run_well(*words: str) -> str:
    result = run(*words)
    assert result.exit_code == 0, result.output
    return result.stdout


def content(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "job").mkdir()
    for name, text in FILES.items():
        (tmp_path / "job" / name).write_text(text, encoding="utf-8")
    return tmp_path / "job" / "drawers.toml"


@pytest.fixture
def alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, to take a PDF to."""
    (tmp_path / "alone").mkdir()
    monkeypatch.chdir(tmp_path / "alone")
    return tmp_path / "alone"


def printed(job: Path, out: Path, *options: str) -> dict[str, bytes]:
    run_well("print", str(job), "-o", str(out), *options)
    return content(out)


@pytest.mark.parametrize("job", GALLERY_JOBS, ids=lambda path: path.stem)
def test_every_pdf_of_the_gallery_gives_the_same_files_again(job: Path, tmp_path: Path, alone: Path) -> None:
    first = printed(job, tmp_path / "out")
    names = [name for name in first if name.endswith(".pdf")]
    for name in names:
        shutil.copy(tmp_path / "out" / name, alone)
        stem = name.removesuffix(".pdf")
        run_well("print", name)
        again = content(alone / f"{stem}-print")
        assert {file: data for file, data in again.items() if file in first} == first
        companions = {file: data for file, data in again.items() if file not in first}
        assert companions == {file: (job.parent / file).read_bytes() for file in companions}
        assert job.name in companions


@pytest.mark.parametrize(
    "options",
    [
        [],
        ["--only", "Depth"],
        ["--paper", "A3"],
        ["--roll", "610"],
        ["--printer", "shop"],
        ["--format", "pdf"],
        ["--only", "Side", "--paper", "Letter", "--printer", "shop", "--format", "pdf"],
    ],
)
def test_print_is_repeated_with_what_was_asked_of_it(
    options: list[str], job: Path, tmp_path: Path, alone: Path
) -> None:
    first = printed(job, tmp_path / "out", *options)
    shutil.copy(tmp_path / "out" / "strips.pdf", alone / "Taken Away.PDF")
    run_well("print", "Taken Away.PDF")
    own = {name: text.encode() for name, text in FILES.items()}
    assert content(alone / "Taken Away-print") == first | own


def test_command_line_wins_over_what_was_asked_before(job: Path, tmp_path: Path, alone: Path) -> None:
    printed(job, tmp_path / "out", "--only", "Side", "--paper", "A3", "--format", "pdf", "--printer", "shop")
    other = ["--only", "Depth", "--paper", "Letter", "--format", "both", "--printer", "office"]
    wanted = printed(job, tmp_path / "wanted", *other)
    again = printed(tmp_path / "out" / "strips.pdf", alone / "again", *other)
    assert {name: data for name, data in again.items() if name not in FILES} == wanted


def test_another_shop_file_takes_the_place_of_the_one_inside(job: Path, tmp_path: Path, alone: Path) -> None:
    printed(job, tmp_path / "out")
    (tmp_path / "other.toml").write_text(SHOP.replace("1.0123", "1.0023"), encoding="utf-8")
    wanted = printed(job, tmp_path / "wanted", "--shop", str(tmp_path / "other.toml"))
    again = printed(tmp_path / "out" / "strips.pdf", alone / "again", "--shop", str(tmp_path / "other.toml"))
    assert {name: data for name, data in again.items() if name in wanted} == wanted
    assert set(again) - set(wanted) == {"drawers.toml", "rows.csv", "other.toml"}


def test_printer_of_the_print_may_be_none_though_the_job_has_one(job: Path, tmp_path: Path) -> None:
    """A print made in Python for another paper and no printer, so neither is the job file's own."""
    from dataclasses import replace

    from storystick import lay_out, load, print_job
    from storystick.job.papers import PAPERS

    plain = replace(load(job).job, printer=None, paper=PAPERS["A3"])
    print_job(lay_out(plain), tmp_path / "out")
    read = load_print(tmp_path / "out" / "strips.pdf").layout.job
    assert (read.printer, read.paper, read.digest) == (None, PAPERS["A3"], plain.digest)


@pytest.mark.parametrize("name", list(FILES))
@pytest.mark.parametrize("kind", ["file", "folder", "link"])
def test_file_that_is_there_and_differs_is_never_written_over(
    kind: str, name: str, job: Path, tmp_path: Path, alone: Path
) -> None:
    printed(job, tmp_path / "out")
    (alone / "again").mkdir()
    place = alone / "again" / name
    if kind == "file":
        place.write_text(FILES[name] + "# changed\n", encoding="utf-8")
    elif kind == "folder":
        place.mkdir()
    else:
        place.symlink_to(alone / "nowhere")
    result = run("print", str(tmp_path / "out" / "strips.pdf"), "-o", "again")
    assert result.exit_code == 1
    assert name in result.stderr
    assert "another file is there" in result.stderr
    assert os.listdir(alone / "again") == [name]


def test_every_file_that_is_in_the_way_is_named_at_once(job: Path, tmp_path: Path, alone: Path) -> None:
    printed(job, tmp_path / "out")
    for name in FILES:
        (alone / name).write_text("mine\n", encoding="utf-8")
    result = run("print", str(tmp_path / "out" / "strips.pdf"), "-o", ".")
    assert "3 faults to mend" in result.stderr
    assert content(alone) == dict.fromkeys(FILES, b"mine\n")


def test_same_files_that_are_there_already_are_no_fault(job: Path, tmp_path: Path) -> None:
    first = printed(job, tmp_path / "out")
    again = printed(tmp_path / "out" / "strips.pdf", job.parent)
    assert {name: data for name, data in again.items() if name in first} == first


def test_job_file_that_is_called_like_a_file_of_the_print_is_a_fault(job: Path, tmp_path: Path, alone: Path) -> None:
    job.rename(job.parent / "STRIPS.pdf.toml")
    printed(job.parent / "STRIPS.pdf.toml", tmp_path / "out")
    with pikepdf.open(tmp_path / "out" / "strips.pdf") as pdf:
        record = json.loads(pdf.attachments["storystick-print.json"].get_file().read_bytes())
        changed = json.dumps(record | {"job": "STRIPS.pdf"}).encode()
        for name, data in (("storystick-print.json", changed), ("STRIPS.pdf", JOB.encode())):
            pdf.attachments[name] = pikepdf.AttachedFileSpec(pdf, data, filename=name)
        pdf.save(alone / "file.pdf")
    result = run("print", "file.pdf")
    assert result.exit_code == 1
    assert "two files of the print would have this name" in result.stderr
    assert os.listdir(alone) == ["file.pdf"]


def test_file_that_could_not_be_taken_out_of_its_print_again_is_not_printed(job: Path, alone: Path) -> None:
    """A hidden file beside a print is not seen, so none is carried: the job file and its spreadsheet are told."""
    hidden = job.with_name(".drawers.toml")
    hidden.write_text(JOB.replace("rows.csv", ".rows.csv"), encoding="utf-8")
    (job.parent / "rows.csv").rename(job.parent / ".rows.csv")
    result = run("print", str(hidden), "-o", "out")
    assert result.exit_code == 1
    assert "2 faults to mend" in result.stderr
    assert ".drawers.toml" in result.stderr
    assert ".rows.csv" in result.stderr
    assert "Rename the file: no dot at its beginning" in result.stderr
    assert os.listdir(alone) == []


@pytest.mark.parametrize("command", ["marks", "pages", "parts", "setups"])
def test_listings_of_a_print_are_those_of_its_job(command: str, job: Path, tmp_path: Path, alone: Path) -> None:
    printed(job, tmp_path / "out")
    shutil.copy(tmp_path / "out" / "job-sheet.pdf", alone)
    for shape in ("text", "json", "csv"):
        assert run_well(command, "job-sheet.pdf", "--format", shape) == run_well(command, str(job), "--format", shape)


def test_pages_of_a_print_are_the_pages_that_it_has(job: Path, tmp_path: Path) -> None:
    options = ["--only", "Side", "--paper", "A3", "--printer", "shop"]
    printed(job, tmp_path / "out", *options)
    listed = run_well("pages", str(tmp_path / "out" / "strips.pdf"), "--format", "json")
    assert listed == run_well("pages", str(job), "--format", "json", *options)


def test_check_takes_a_print(job: Path, tmp_path: Path) -> None:
    printed(job, tmp_path / "out")
    assert "no faults. Seed drawers" in run_well("check", str(tmp_path / "out" / "strips.pdf"))


def test_print_needs_no_settings_of_whoever_prints_it_again(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another shop file in the settings would change the straightedge lines, and the digest with them."""
    (job.parent / "shop.toml").unlink()
    job.write_text(JOB.replace('printer = "office"\n', ""), encoding="utf-8")
    first = printed(job, tmp_path / "out")
    for variable in ("XDG_CONFIG_HOME", "HOME"):
        monkeypatch.setenv(variable, str(tmp_path / "settings"))
    for place in (tmp_path / "settings" / "storystick", tmp_path / "settings" / ".config" / "storystick"):
        place.mkdir(parents=True)
        (place / "shop.toml").write_text(SHOP, encoding="utf-8")
    again = printed(tmp_path / "out" / "strips.pdf", tmp_path / "again")
    assert {name: data for name, data in again.items() if name in first} == first


def test_library_reads_the_job_out_of_a_print(job: Path, tmp_path: Path) -> None:
    printed(job, tmp_path / "out", "--only", "Depth")
    found = load_print(tmp_path / "out" / "strips.pdf")
    assert (found.layout.job.title, found.choices.only) == ("Seed drawers", ("Depth",))
    assert [source.name for source in found.layout.job.sources] == ["drawers.toml", "rows.csv", "shop.toml"]
    with pytest.raises(StorystickError, match="there is no such file"):
        load_print(tmp_path / "absent.pdf")


@pytest.mark.parametrize("words", [["--help"], ["marks", "JOB"], ["print", "--help"], ["verify", "--help"]])
def test_reader_of_pdfs_is_loaded_only_for_a_pdf(words: list[str], job: Path) -> None:
    program = "import sys; from storystick.cli import main; main(standalone_mode=False); print('pypdf' in sys.modules)"
    called = [sys.executable, "-c", program, *(str(job) if word == "JOB" else word for word in words)]
    done = subprocess.run(called, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "False"


def test_pdfium_is_loaded_only_to_verify(job: Path, tmp_path: Path) -> None:
    printed(job, tmp_path / "out")
    program = (
        "import sys; from storystick.cli import main; main(standalone_mode=False); print('pypdfium2' in sys.modules)"
    )
    called = [sys.executable, "-c", program, "marks", str(tmp_path / "out" / "strips.pdf")]
    done = subprocess.run(called, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "False"
