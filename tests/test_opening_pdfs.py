"""PDFs from anywhere in the job's place: what cannot be used is a fault with its place, and never does harm."""

from __future__ import annotations

import json
import os
import random
import time
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import pikepdf
import pypdf
import pytest
from click.testing import CliRunner, Result
from hostile_pdfs import HOSTILE, spent
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    EncodedStreamObject,
    NameObject,
    NumberObject,
    TextStringObject,
)
from reportlab.pdfgen.canvas import Canvas

from storystick.cli import main

JOB: Final = """
title = "Seed drawers"
units = "mm"
shop = "shop.toml"
printer = "office"
stock = { ply = 18.3 }
[[stick]]
name = "Side"
part = "ply"
openings = "rows.csv"
pair = true
"""
SHOP: Final = 'units = "mm"\n[printer.office]\nalong = "1.0123"\nacross = "0.985"\n'
ROWS: Final = "name,size\nlow,120\nhigh,160\n"
RECORD: Final = "storystick-print.json"
TOO_COSTLY: Final = "the file would take too long or too much memory to read"


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    folder = tmp_path_factory.mktemp("printed")
    for name, text in (("drawers.toml", JOB), ("shop.toml", SHOP), ("rows.csv", ROWS)):
        (folder / name).write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["print", str(folder / "drawers.toml"), "-o", str(folder / "out")])
    assert result.exit_code == 0, result.output
    return (folder / "out" / "strips.pdf").read_bytes()


def run(*words: str) -> Result:
    """Nothing but a fault or a wrong command line may end a command: any other error fails the test."""
    return CliRunner().invoke(main, list(words), catch_exceptions=False)


def faults_of(data: bytes, folder: Path, command: str = "verify") -> str:
    (folder / "file.pdf").write_bytes(data)
    result = run(command, str(folder / "file.pdf"))
    assert result.exit_code == 1
    assert result.stderr.startswith("storystick: ")
    return " ".join(result.stderr.split())


def saved(pdf: pikepdf.Pdf, **attributes: Any) -> bytes:
    out = BytesIO()
    pdf.save(out, **attributes)
    return out.getvalue()


def with_record(data: bytes, **changes: object) -> bytes:
    """The print with some values of its record changed."""
    with pikepdf.open(BytesIO(data)) as pdf:
        content = json.loads(pdf.attachments[RECORD].get_file().read_bytes()) | changes
        pdf.attachments[RECORD] = pikepdf.AttachedFileSpec(pdf, json.dumps(content).encode(), filename=RECORD)
        return saved(pdf)


def with_attachments(data: bytes, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    with pikepdf.open(BytesIO(data)) as pdf:
        change(pdf)
        return saved(pdf)


def attach(pdf: pikepdf.Pdf, name: str, data: bytes = b"x") -> None:
    pdf.attachments[name] = pikepdf.AttachedFileSpec(pdf, data, filename=name)


def foreign() -> bytes:
    canvas = Canvas("", invariant=1)
    canvas.drawString(72, 72, "minutes of a meeting")
    data: bytes = canvas.getpdfdata()
    return data


def without_pages() -> bytes:
    pdf = pikepdf.new()
    return saved(pdf)


def encrypted(data: bytes, password: str) -> bytes:
    writer = pypdf.PdfWriter(clone_from=BytesIO(data))
    writer.encrypt(password, "owner", algorithm="RC4-128")
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize("command", ["verify", "print", "check", "marks", "pages", "parts", "setups"])
def test_every_command_says_what_is_wrong_with_a_pdf_of_another_program(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    words = faults_of(foreign(), tmp_path, command)
    assert "file.pdf the file carries no job" in words
    assert sorted(os.listdir(tmp_path)) == ["file.pdf"]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "the file is empty"),
        (b'title = "job"\n', "the file is not a PDF"),
        (b"%PDF-1.7\n", "the file is damaged"),
        (b"%PDF-1.7\n%%EOF\n", "the file is damaged"),
        (without_pages(), "the file carries no job"),
    ],
    ids=["empty", "text", "header alone", "header and end", "no pages"],
)
def test_file_that_is_no_print_is_a_fault(data: bytes, said: str, tmp_path: Path) -> None:
    assert said in faults_of(data, tmp_path)


@pytest.mark.parametrize("password", ["", "secret"])
def test_encrypted_print_is_a_fault(password: str, printed: bytes, tmp_path: Path) -> None:
    assert "the file is encrypted" in faults_of(encrypted(printed, password), tmp_path)


@pytest.mark.parametrize("password", ["", "secret"])
@pytest.mark.parametrize("revision", [4, 6])
def test_print_under_a_newer_cipher_is_called_encrypted(
    revision: int, password: str, printed: bytes, tmp_path: Path
) -> None:
    """AES with 128 and with 256 bits: the library that reads the file wants another one for these."""
    out = BytesIO()
    with pikepdf.open(BytesIO(printed)) as pdf:
        pdf.save(out, encryption=pikepdf.Encryption(owner="owner", user=password, R=revision, aes=True))
    assert "the file is encrypted" in faults_of(out.getvalue(), tmp_path)


def test_print_whose_pages_are_gone_is_a_fault(printed: bytes, tmp_path: Path) -> None:
    with pikepdf.open(BytesIO(printed)) as pdf:
        del pdf.pages[:]
        data = saved(pdf)
    assert "the file has no pages" in faults_of(data, tmp_path)


def test_folder_and_missing_file_and_device_are_faults(tmp_path: Path) -> None:
    (tmp_path / "folder.pdf").mkdir()
    (tmp_path / "lost.pdf").symlink_to(tmp_path / "nowhere")
    os.mkfifo(tmp_path / "pipe.pdf")
    for name, said in (
        ("folder.pdf", "this is a folder"),
        ("absent.pdf", "there is no such file"),
        ("lost.pdf", "there is no such file"),
        ("pipe.pdf", "not a file but a device or a pipe"),
    ):
        result = run("verify", str(tmp_path / name))
        assert (result.exit_code, said in result.stderr) == (1, True)


def test_verify_takes_nothing_but_a_pdf(tmp_path: Path) -> None:
    result = run("verify", str(tmp_path / "drawers.toml"))
    assert result.exit_code == 1
    assert "not a PDF by its name" in result.stderr


def test_file_larger_than_allowed_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "large.pdf").open("wb") as file:
        file.write(b"%PDF-1.7\n")
        file.truncate(200 * 2**20 + 1)
    result = run("verify", str(tmp_path / "large.pdf"))
    assert result.exit_code == 1
    assert "larger than 200 MB" in result.stderr


def test_truncated_print_is_never_true_and_never_an_error_of_ours(printed: bytes, tmp_path: Path) -> None:
    for share in range(1, 20):
        (tmp_path / "part.pdf").write_bytes(printed[: len(printed) * share // 20])
        result = run("verify", str(tmp_path / "part.pdf"))
        assert result.exit_code == 1
        assert result.stderr or result.stdout.startswith("NOT ")


@pytest.mark.parametrize("again", ["as printed", "plain"])
def test_print_with_bytes_changed_at_random_is_a_fault_or_a_verdict(again: str, printed: bytes, tmp_path: Path) -> None:
    """Uncompressed as well, so that the changes reach the objects and not only their compression."""
    data = printed
    if again == "plain":
        with pikepdf.open(BytesIO(printed)) as pdf:
            data = saved(pdf, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.generalized)
    chance = random.Random(20)
    for _ in range(60):
        changed = bytearray(data)
        for _ in range(chance.choice((1, 3, 20, 200))):
            changed[chance.randrange(len(changed))] = chance.randrange(256)
        (tmp_path / "changed.pdf").write_bytes(changed)
        result = run("verify", str(tmp_path / "changed.pdf"))
        assert result.exit_code in (0, 1)


@pytest.fixture(scope="module")
def bomb() -> bytes:
    """A GB of nothing, packed in one MB."""
    packing = zlib.compressobj(9)
    megabyte = bytes(2**20)
    return b"".join(packing.compress(megabyte) for _ in range(1024)) + packing.flush()


def test_stream_that_unpacks_to_a_gigabyte_is_refused_at_once(bomb: bytes, printed: bytes, tmp_path: Path) -> None:
    """As the job file: no more than what is allowed is unpacked."""
    stream = EncodedStreamObject()
    stream._data = bomb
    stream[NameObject("/Filter")] = NameObject("/FlateDecode")
    (tmp_path / "file.pdf").write_bytes(with_stream(printed, "drawers.toml", stream))
    used = spent("verify", tmp_path / "file.pdf")
    assert '"drawers.toml" is larger than 16 MB' in used.said
    assert (used.cpu_seconds < 5, used.memory_mb < 300) == (True, True)


def test_table_of_objects_that_unpacks_to_a_gigabyte_is_refused_at_once(bomb: bytes, tmp_path: Path) -> None:
    """This one the library unpacks by its own limit, before anything can be asked of the file."""
    table = b"<</Type/XRef/Size 100000000/W[1 2 1]/Root 2 0 R/Length %d/Filter/FlateDecode>>" % len(bomb)
    data = b"%PDF-1.7\n1 0 obj\n" + table + b"\nstream\n" + bomb + b"\nendstream\nendobj\nstartxref\n9\n%%EOF\n"
    (tmp_path / "file.pdf").write_bytes(data)
    used = spent("verify", tmp_path / "file.pdf")
    assert "the file is damaged" in used.said
    assert (used.cpu_seconds < 5, used.memory_mb < 300) == (True, True)


@pytest.mark.parametrize("kind", HOSTILE)
def test_file_that_is_made_to_cost_time_or_memory_is_a_fault_or_false_within_both(
    kind: str, printed: bytes, tmp_path: Path
) -> None:
    """10 s of the processor and 500 MB, all in all."""
    (tmp_path / "hostile.pdf").write_bytes(HOSTILE[kind](printed))
    used = spent("verify", tmp_path / "hostile.pdf")
    assert (used.status, "Traceback" in used.said) == (1, False)
    assert "hostile.pdf" in used.said or used.said.startswith("NOT ")
    assert used.cpu_seconds < 10
    assert used.memory_mb < 500


@pytest.mark.parametrize("kind", HOSTILE)
def test_hostile_file_in_a_job_s_place_costs_a_listing_nothing(kind: str, printed: bytes, tmp_path: Path) -> None:
    (tmp_path / "hostile.pdf").write_bytes(HOSTILE[kind](printed))
    used = spent("marks", tmp_path / "hostile.pdf")
    assert (used.status, used.cpu_seconds < 5, used.memory_mb < 300) == (0, True, True)


def test_what_takes_too_long_or_too_much_says_so_and_how_to_go_on(printed: bytes, tmp_path: Path) -> None:
    (tmp_path / "hostile.pdf").write_bytes(HOSTILE["letters by the thousand"](printed))
    used = spent("verify", tmp_path / "hostile.pdf")
    assert "the file takes more than 10 s or 500 MB to read, which no usual print does" in used.said
    assert "--trusted" in used.said


def with_stream(data: bytes, name: str, stream: EncodedStreamObject) -> bytes:
    """The print with the bytes of one of its files in ``stream``, as they are."""
    writer = pypdf.PdfWriter(clone_from=BytesIO(data))
    reference = writer._add_object(stream)
    files = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"]  # type: ignore[index]
    for filespec in files[1::2]:
        if filespec.get_object()["/UF"] == name:
            held = filespec.get_object()["/EF"]
            held[NameObject("/F")] = held[NameObject("/UF")] = reference
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def test_packing_that_is_not_known_is_said(printed: bytes, tmp_path: Path) -> None:
    stream = EncodedStreamObject()
    stream._data = b"abc"
    stream[NameObject("/Filter")] = NameObject("/LZWDecode")
    words = faults_of(with_stream(printed, "rows.csv", stream), tmp_path)
    assert '"rows.csv" is packed in a way that is not read here: LZWDecode' in words


@pytest.mark.parametrize(
    "name", ["../rows.csv", "..", "C:\\rows.csv", "/etc/rows.csv", "a/b", "a\\b", "a\nb", "x" * 300, ".x.toml", "."]
)
def test_name_that_could_leave_the_folder_or_hide_in_it_is_refused(
    name: str, printed: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    data = with_attachments(printed, lambda pdf: attach(pdf, name))
    assert "is not a bare file name" in faults_of(data, tmp_path, "print")
    assert os.listdir(tmp_path) == ["file.pdf"]


def test_name_in_the_record_is_only_looked_up_among_the_files_inside(printed: bytes, tmp_path: Path) -> None:
    (tmp_path / "other.toml").write_text(JOB, encoding="utf-8")
    for name in ("other.toml", str(tmp_path / "other.toml"), "../other.toml"):
        assert "is missing among the files inside" in faults_of(with_record(printed, job=name), tmp_path)


def test_more_files_than_allowed_are_refused(printed: bytes, tmp_path: Path) -> None:
    def add(pdf: pikepdf.Pdf) -> None:
        for number in range(101):
            attach(pdf, f"{number}.csv")

    assert "carries more than 100 others" in faults_of(with_attachments(printed, add), tmp_path)


def test_files_that_are_too_large_together_are_refused(printed: bytes, tmp_path: Path) -> None:
    def add(pdf: pikepdf.Pdf) -> None:
        for number in range(3):
            attach(pdf, f"a{number}.csv", bytes(12 * 2**20))

    assert "is larger than" in faults_of(with_attachments(printed, add), tmp_path)


@pytest.mark.parametrize("missing", ["drawers.toml", "rows.csv", "shop.toml", RECORD])
def test_missing_file_is_named(missing: str, printed: bytes, tmp_path: Path) -> None:
    def remove(pdf: pikepdf.Pdf) -> None:
        del pdf.attachments[missing]

    words = faults_of(with_attachments(printed, remove), tmp_path)
    assert missing in words
    assert "missing" in words or "but no" in words


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff\xfe", b"[" * 100_000, b'{"paper": 1e999}', b"9" * 10_000])
def test_record_that_cannot_be_read_is_a_fault(content: bytes, printed: bytes, tmp_path: Path) -> None:
    data = with_attachments(printed, lambda pdf: attach(pdf, RECORD, content))
    assert RECORD in faults_of(data, tmp_path)


def paper(**changes: object) -> dict[str, object]:
    return {"name": "shop's own", "long_side": "400", "short_side": "300", "roll": False} | changes


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"paper": paper(long_side="5081")}, "long_side"),
        ({"paper": paper(long_side="-400")}, "long_side"),
        ({"paper": paper(long_side="1e99")}, "long_side"),
        ({"paper": paper(long_side="400/0")}, "long_side"),
        ({"paper": paper(long_side="9" * 5000)}, "long_side"),
        ({"paper": paper(long_side=400)}, "long_side"),
        ({"paper": paper(short_side="0")}, "short_side"),
        ({"paper": paper(short_side="500")}, "is not 400 by 500 mm"),
        ({"paper": paper(name="A4")}, "is not 400 by 300 mm"),
        ({"paper": paper(roll="yes")}, "roll"),
        ({"paper": None}, "paper"),
        ({"paper": paper(colour="white")}, "colour"),
        ({"printer": "other"}, "printer"),
        ({"printer": 3}, "printer"),
        ({"only": ["Other"]}, 'there is no stick "Other"'),
        ({"only": "Side"}, "only"),
        ({"only": [3]}, "only"),
        ({"formats": "png"}, "formats"),
        ({"file": "other.pdf"}, 'gives no file "other.pdf"'),
        ({"file": "../strips.pdf"}, 'gives no file "../strips.pdf"'),
        ({"file": None}, "file"),
        ({"program": 1}, "program"),
        ({"scale": 2}, "scale"),
    ],
)
def test_value_of_the_record_that_cannot_be_is_a_fault(
    changes: dict[str, object], said: str, printed: bytes, tmp_path: Path
) -> None:
    assert said in faults_of(with_record(printed, **changes), tmp_path)


@pytest.mark.parametrize("name", ["file", "long_side"])
def test_value_that_the_record_gives_twice_is_a_fault(name: str, printed: bytes, tmp_path: Path) -> None:
    with pikepdf.open(BytesIO(printed)) as pdf:
        record = pdf.attachments[RECORD].get_file().read_bytes()
    twice = record.replace(f'"{name}":'.encode(), f'"{name}": "297", "{name}":'.encode(), 1)
    assert twice != record
    data = with_attachments(printed, lambda pdf: attach(pdf, RECORD, twice))
    said = faults_of(data, tmp_path).replace(":", "")
    assert f'{RECORD} the record of how it was printed says "{name}" twice' in said


def test_paper_that_is_too_small_is_a_fault(printed: bytes, tmp_path: Path) -> None:
    small = paper(long_side="30", short_side="20")
    assert "less its margins" in faults_of(with_record(printed, paper=small), tmp_path)


def test_tree_of_pages_or_files_that_bites_its_tail_is_a_fault(printed: bytes, tmp_path: Path) -> None:
    for where, told in (("/Pages", "damaged"), ("/Names", TOO_COSTLY)):
        writer = pypdf.PdfWriter(clone_from=BytesIO(printed))
        node = DictionaryObject()
        reference = writer._add_object(node)
        node[NameObject("/Kids")] = ArrayObject([reference, reference])
        node[NameObject("/Type")] = NameObject("/Pages")
        if where == "/Pages":
            writer.root_object[NameObject("/Pages")] = reference
        else:
            writer.root_object[NameObject("/Names")] = DictionaryObject({NameObject("/EmbeddedFiles"): reference})
        out = BytesIO()
        writer.write(out)
        started = time.monotonic()
        assert told in faults_of(out.getvalue(), tmp_path)
        assert time.monotonic() - started < 20


def test_form_that_draws_itself_is_false_or_a_fault(printed: bytes, tmp_path: Path) -> None:
    writer = pypdf.PdfWriter(clone_from=BytesIO(printed))
    form = DecodedStreamObject()
    form.set_data(b"/Self Do /Self Do")
    reference = writer._add_object(form)
    forms = DictionaryObject({NameObject("/Self"): reference})
    form.update(
        {
            NameObject("/Type"): NameObject("/XObject"),
            NameObject("/Subtype"): NameObject("/Form"),
            NameObject("/BBox"): ArrayObject(map(NumberObject, (0, 0, 9, 9))),
            NameObject("/Resources"): DictionaryObject({NameObject("/XObject"): forms}),
        }
    )
    page = writer.pages[0]
    page["/Resources"][NameObject("/XObject")] = forms  # type: ignore[index]
    content = DecodedStreamObject()
    content.set_data(b"/Self Do")
    page[NameObject("/Contents")] = writer._add_object(content)
    out = BytesIO()
    writer.write(out)
    (tmp_path / "self.pdf").write_bytes(out.getvalue())
    used = spent("verify", tmp_path / "self.pdf")
    assert (used.status, used.cpu_seconds < 10, used.memory_mb < 500) == (1, True, True)
    assert "self.pdf" in used.said or used.said.startswith("NOT ")


def test_file_inside_that_says_where_to_run_it_is_only_data(
    printed: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that the job does not name is not even written."""
    monkeypatch.chdir(tmp_path)

    def add(pdf: pikepdf.Pdf) -> None:
        attach(pdf, "run-me.sh", b"#!/bin/sh\ntouch ran\n")
        pdf.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name.Launch, F=pikepdf.String("run-me.sh"))

    (tmp_path / "file.pdf").write_bytes(with_attachments(printed, add))
    assert run("print", "file.pdf").exit_code == 0
    assert not list(tmp_path.rglob("run-me.sh"))
    assert not list(tmp_path.rglob("ran"))


def test_name_of_a_file_inside_is_read_where_only_its_key_has_it(printed: bytes, tmp_path: Path) -> None:
    writer = pypdf.PdfWriter(clone_from=BytesIO(printed))
    files = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"]  # type: ignore[index]
    for number in range(0, len(files), 2):
        filespec = files[number + 1].get_object()
        files[number] = TextStringObject(str(filespec["/UF"]))
        del filespec["/UF"], filespec["/F"]
    writer.write(tmp_path / "keys.pdf")
    result = run("verify", str(tmp_path / "keys.pdf"))
    assert result.exit_code == 0, result.output
