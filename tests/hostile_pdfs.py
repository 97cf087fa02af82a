"""Small files that are made to cost whoever reads them much time or memory, each from a print of ours."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Final, NamedTuple

import pikepdf
from pikepdf import Array, Dictionary, Name


def forms_in_forms(printed: bytes) -> bytes:
    """Twelve forms, each of which draws the next one thirty times: 30 to the 12th lines in all."""
    with pikepdf.open(BytesIO(printed)) as pdf:
        inner = pdf.make_stream(b"0 0 m 1 1 l S", Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 9, 9]))
        for _ in range(11):
            content, resources = b"/F Do " * 30, Dictionary(XObject=Dictionary(F=inner))
            inner = pdf.make_stream(
                content, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 9, 9]), Resources=resources
            )
        page = pdf.pages[0]
        page.Resources.XObject = Dictionary(F=inner)
        page.contents_add(b" /F Do", prepend=False)
        return _saved(pdf)


def letters_by_the_thousand(printed: bytes) -> bytes:
    """A font's table that says of each of 65,536 codes that it stands for 100,000 letters."""
    with pikepdf.open(BytesIO(printed)) as pdf:
        table = b"1 beginbfrange <0000> <FFFF> <" + b"0041" * 100_000 + b"> endbfrange"
        for font in pdf.pages[0].Resources.Font.values():
            font.ToUnicode = pdf.make_stream(table)
        return _saved(pdf)


def nothing_but_spaces(printed: bytes) -> bytes:
    """Pages of eight million spaces each."""
    with pikepdf.open(BytesIO(printed)) as pdf:
        spaces = pdf.make_stream(b" " * (8 * 2**20 - 1))
        for page in pdf.pages:
            page.Contents = spaces
        for _ in range(40):
            pdf.pages.append(pdf.pages[0])
        return _saved(pdf)


def deep_brackets(printed: bytes) -> bytes:
    """A page of opening brackets alone."""
    with pikepdf.open(BytesIO(printed)) as pdf:
        pdf.pages[0].Contents = pdf.make_stream(b"[" * (8 * 2**20 - 1))
        return _saved(pdf)


def _saved(pdf: pikepdf.Pdf) -> bytes:
    out = BytesIO()
    pdf.save(out, compress_streams=True, recompress_flate=True)
    return out.getvalue()


HOSTILE: Final[dict[str, Callable[[bytes], bytes]]] = {
    "forms in forms": forms_in_forms,
    "letters by the thousand": letters_by_the_thousand,
    "nothing but spaces": nothing_but_spaces,
    "deep brackets": deep_brackets,
}


class Spent(NamedTuple):
    """What a command used, with the processes that it started: of the processor's time, and of memory at its most."""

    status: int
    said: str
    cpu_seconds: float
    memory_mb: int


_MEASURED: Final = """
import json, resource, subprocess, sys
done = subprocess.run(sys.argv[1:], stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
used = resource.getrusage(resource.RUSAGE_CHILDREN)
said = " ".join(done.stdout.decode().split())
print(json.dumps([done.returncode, said, used.ru_utime + used.ru_stime, used.ru_maxrss // 1024]))
"""
"""Runs a command from a small process: the memory of the one that starts it is counted with the command's."""


def spent(*words: object) -> Spent:
    """Run a command in a process of its own."""
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent)}
    command = [sys.executable, "-c", _MEASURED, sys.executable, "-m", "storystick", *map(str, words)]
    done = subprocess.run(command, env=environment, stdout=subprocess.PIPE, check=True)
    return Spent(*json.loads(done.stdout))
