"""Posts made up at random to every route of the page: each is answered, none breaks it, and no file comes of any
outside of what saving says.

By hand, in the project's environment: ``python tests/posts.py 2000 FOLDER`` keeps every case that ends in an error in
that folder; a third word is the number of the first one. The tests try a few.
"""

from __future__ import annotations

import json
import random
import sys
from collections import Counter
from collections.abc import Callable, Mapping
from contextlib import redirect_stderr
from dataclasses import dataclass, field
from io import BytesIO, StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final
from urllib.parse import quote

from flask import Flask
from flask.testing import FlaskClient
from mutations import Mutator, seeds
from werkzeug.routing import Rule

from storystick import load, print_job
from storystick.bench.app import create_app
from storystick.bench.files.folder import TRASH, Folder
from storystick.bench.print_run import Run, Runs, RunState
from storystick.bench.state import Bench

TOKEN: Final = "for-these-posts"
PORT: Final = 4712
OURS: Final = f"http://127.0.0.1:{PORT}"
JOB: Final = Path(__file__).parents[1] / "gallery" / "tea-shelves" / "tea-shelves.toml"
LARGEST_TEXT: Final = 6_000
"""Of the jobs that are tried, so that many can be."""

NAMES: Final = (
    *("case.toml", "case.toml", "case.toml", "shop.toml", "other.toml", "case-2.toml", "none.toml", "folder.toml"),
    *("..", "../outside.toml", "..%2foutside.toml", "%2e%2e%2foutside.toml", "..\\outside.toml", "/etc/passwd"),
    *("C:x.toml", "nul.toml", "x" * 300 + ".toml", "a\0b.toml", ".storystick-lock", ".hidden.toml", "link.toml"),
    *("\u202e.toml", "\ud800.toml", "é漆.toml", "CASE.toml", "case.toml:x", "", " ", "a\r\nSet-Cookie: x=1.toml"),
)
POINTERS: Final = (
    *("", "/", "//", "x", "/stick", "/stick/0", "/stick/0/openings/1", "/stick/0/name", "/stick/99", "/stick/-1"),
    *("/cabinet/0/height", "/cabinet/0/openings/0/opening", "/cabinet/0/front/kind", "/stock/ply", "/joint/case/width"),
    *(
        "/title",
        "/units",
        "/printer",
        "/a~0b~1c",
        "/~2",
        "/stick/0/holes/0/at",
        "/run/0/order/0",
        "/run/order/0/cabinet",
    ),
    *("/" * 500, "/x" * 2_000, "/stick/999999999999", "/\0", "/\ud800", "/stick/0/openings/1/inside/0/inside/0"),
)
KINDS: Final = (
    *("set", "raw", "add", "insert", "remove", "move", "rename", "duplicate", "split", "row", "column", "equal"),
    *("graduated", "text", "", "nothing", "__class__"),
)
VALUES: Final = (
    *("", "5 1/2", "18.3", "½", "equal", "true", "up", "down", "2", "0", "-1", "1e400", "9" * 5000, "1/0", "99 m"),
    *(
        "[",
        "]",
        "{ a = 1 }",
        '["x"]',
        '"',
        "'''",
        "\\",
        "\0",
        "\ud800",
        "\u202e",
        "\r\n",
        "# x",
        "a" * 3000,
        "[" * 3000,
    ),
    *(
        '{ stock = "ply" }',
        "../x",
        "x\n[[stick]]\n",
        "1979-05-27",
        "inf",
        "nan",
        "{{ 7*7 }}",
        "<script>alert(1)</script>",
    ),
)
WORDS: Final = (
    *("text", "at", "tab", "view", "shown", "changes", "form", "version", "as", "name", "units", "height", "openings"),
    *(
        "file",
        "print",
        "token",
        "width",
        "holds",
        "frame",
        "cabinets",
        "length",
        "what",
        "paper",
        "printer",
        "readings",
    ),
)


@dataclass(frozen=True)
class Post:
    """One request: its method, address, fields and files, and headers."""

    method: str
    path: str
    data: Mapping[str, Any] = field(repr=False)
    headers: Mapping[str, str] = field(default_factory=dict)


class Poster:
    """Makes posts up, those of a number always the same."""

    def __init__(self, app: Flask, print_file: bytes) -> None:
        left_out = ("static", "end")  # Ending would end it.
        self._rules = [rule for rule in app.url_map.iter_rules() if rule.endpoint not in left_out]
        jobs = [files for files in seeds() if len(next(iter(files.values()))) < LARGEST_TEXT]
        self._jobs = [next(iter(files.values())) for files in jobs]
        self._all = tuple(text for files in jobs for text in files.values())
        self._print = print_file

    def post(self, number: int, versions: Mapping[str, str]) -> Post:
        """The post of a number, in a folder whose files have these versions."""
        chance = random.Random(number)
        takes = [rule for rule in self._rules if "POST" in (rule.methods or ())]
        rule = chance.choice((self._rules, takes, takes, takes)[chance.randrange(4)])
        usual = "POST" if rule in takes else "GET"
        method = chance.choice((*[usual] * 12, "HEAD", "PUT", "DELETE", "OPTIONS", "GET"))
        path = self._path(rule, chance)
        data = self._fields(chance, versions, path)
        if "print" in rule.rule and chance.random() < 0.7:
            data["print"] = (BytesIO(self._pdf(chance)), chance.choice(NAMES).replace("\ud800", "x") or "x.pdf")
        if method in ("GET", "HEAD") and chance.random() < 0.5:
            path += (
                f"?at={chance.choice(('/stick/0', '%00', '/x', '%ff'))}&done={chance.choice(('deleted', '{0}', 'x'))}"
            )
        return Post(method, path, data if method not in ("GET", "HEAD") else {})

    def _path(self, rule: Rule, chance: random.Random) -> str:
        """The address of a rule, its gaps filled with names of files, or of whatever else it asks for."""
        parts = [self._filled(part, chance) if part.startswith("<") else part for part in rule.rule.split("/")]
        return "/".join(parts)

    def _filled(self, part: str, chance: random.Random) -> str:
        other = ("cabinet", "stick", "wall", "drawing", "marks", "text")
        usual = NAMES[:6] if "name" in part else other
        words = chance.choice(usual if chance.random() < 0.7 else (*NAMES, *other))
        return words if "%" in words else quote(words.encode("utf-8", "surrogatepass"), safe="")

    def _fields(self, chance: random.Random, versions: Mapping[str, str], path: str) -> dict[str, Any]:
        data: dict[str, Any] = {"text": self._text(chance), "at": chance.choice(POINTERS)}
        data["changes"] = self._changes(chance)
        name = path.split("/")[2] if path.count("/") > 1 else ""
        data["version"] = versions.get(name, "") if chance.random() < 0.7 else chance.choice(("", "0", "x" * 99))
        data["as"] = chance.choice(NAMES)
        if "/print" in path:
            data |= self._wish(chance, data["text"])
        data["tab"] = chance.choice(("drawing", "text", "marks", "parts", "square", "print", "", "\ud800"))
        for _ in range(chance.randrange(4)):
            data[chance.choice(WORDS)] = chance.choice((*VALUES, *NAMES, *POINTERS))
        for _ in range(chance.choice((0, 0, 0, 1, 2))):
            data.pop(chance.choice(sorted(data)), None)
        return {key: _sendable(value) for key, value in data.items()}

    def _text(self, chance: random.Random) -> str:
        text = chance.choice(self._jobs)
        return Mutator(chance, self._all).changed(text) if chance.random() < 0.6 else text

    def _changes(self, chance: random.Random) -> str:
        way = chance.random()
        if way < 0.08:
            return chance.choice(
                ("[" * 50_000, "{", "null", "[null]", "3", '[{"kind": 1}]', '"x"', "9" * 6000, "[[]]", "")
            )
        changes = [
            {"kind": chance.choice(KINDS), "at": chance.choice(POINTERS), "value": chance.choice(VALUES)}
            for _ in range(chance.choice((0, 1, 1, 2, 5)))
        ]
        return json.dumps(changes)

    def _wish(self, chance: random.Random, text: str) -> dict[str, Any]:
        """What is printed: of what is saved now, or of what is not."""
        wish = {
            "kind": chance.choice(("strips", "boards", "", "x")),
            "format": chance.choice(("pdf", "all", "svg", "x")),
        }
        wish["hands"] = chance.choice(("", "one", "both", "x"))
        wish["text"] = JOB.read_text(encoding="utf-8") if chance.random() < 0.5 else text
        return {key: value for key, value in wish.items() if key == "text" or chance.random() < 0.5}

    def _pdf(self, chance: random.Random) -> bytes:
        data = bytearray(self._print)
        for _ in range(chance.choice((0, 1, 5, 50))):
            data[chance.randrange(len(data))] = chance.randrange(256)
        return bytes(data[: chance.randrange(len(data))] if chance.random() < 0.2 else data)


def _sendable(value: object) -> object:
    """Text as a browser sends it, which knows no halves of signs."""
    return value.encode("utf-8", "replace").decode() if isinstance(value, str) else value


class _OverAtOnce(Runs):
    """Prints that are stopped before they begin: else each is a process of its own, at work for seconds."""

    def begin(self, name: str, begin: Callable[[], Run]) -> Run:
        return Run(f"{Path(name).stem}-print", RunState.STOPPED)


@dataclass(frozen=True)
class Tried:
    """A page to post to, in a folder inside another one that must stay as it is."""

    outer: Path
    folder: Path
    client: FlaskClient
    poster: Poster

    @classmethod
    def at(cls, outer: Path) -> Tried:
        """A folder with a job, a shop, a folder called like a job, and a link that leads out."""
        folder = outer / "jobs"
        folder.mkdir()
        (outer / "outside.toml").write_text("secret = 1\n")
        (folder / "case.toml").write_bytes(JOB.read_bytes())
        (folder / "shop.toml").write_text('units = "inch"\n')
        (folder / "folder.toml").mkdir()
        (folder / "link.toml").symlink_to(outer / "outside.toml")
        app = create_app(Bench(Folder(folder), None, lambda: None, prints=_OverAtOnce()), TOKEN, PORT)
        client = app.test_client()
        client.environ_base["HTTP_ORIGIN"] = OURS
        client.get("/", base_url=OURS, query_string={"token": TOKEN})
        with TemporaryDirectory() as place:
            print_job(load(JOB), Path(place))
            print_file = (Path(place) / "strips.pdf").read_bytes()
        return cls(outer, folder, client, Poster(app, print_file))

    def one(self, number: int) -> tuple[str, str]:
        """Send the post of a number: how it ended, and what went wrong, empty where nothing did."""
        jobs = Folder(self.folder)
        post = self.poster.post(number, {name: jobs.version(name) for name in ("case.toml", "shop.toml", "other.toml")})
        told = StringIO()
        try:
            with redirect_stderr(told):
                answer = self.client.open(post.path, method=post.method, base_url=OURS, data=dict(post.data))
        except ValueError as error:  # an address that the client itself cannot send
            return "not sent", "" if "port" in str(error).lower() or "address" in str(error).lower() else repr(error)
        wrong = told.getvalue()
        if answer.status_code >= 500:
            wrong += f"status {answer.status_code}"
        if str(self.outer).encode() in answer.data or "secret" in answer.text:
            wrong += "a place on this machine, or a file outside, is in the answer"
        if "Set-Cookie" in answer.headers and "x=1" in answer.headers["Set-Cookie"]:
            wrong += "a header came of a name"
        wrong += self._strays()
        return str(answer.status_code), wrong and f"{post}\n{wrong}"

    def _strays(self) -> str:
        """What lies where nothing of the page may lie."""
        outside = {path.name for path in self.outer.iterdir()} - {"jobs", "outside.toml"}
        odd = [
            path.name
            for path in self.folder.iterdir()
            if path.name != TRASH and path.suffix.lower() not in (".toml", ".csv") and not path.name.endswith("-print")
        ]
        changed = (self.outer / "outside.toml").read_text() != "secret = 1\n"
        return f"strays: {outside} {odd}" if outside or odd or changed else ""


def main(posts: int, kept: Path, first: int = 0) -> None:
    """Send so many from the ``first`` on, and count how they were answered."""
    counts, wrong = Counter[str](), 0
    kept.mkdir(exist_ok=True)
    with TemporaryDirectory() as name:
        tried = Tried.at(Path(name))
        for number in range(first, first + posts):
            kind, told = tried.one(number)
            counts[kind] += 1
            if told:
                wrong += 1
                (kept / f"{number}.txt").write_text(told, encoding="utf-8", errors="replace")
        files = sorted(path.name for path in tried.folder.iterdir())
    print(dict(sorted(counts.items())), f"{wrong} wrong", f"{len(files)} files in the folder")


if __name__ == "__main__":
    main(int(sys.argv[1]), Path(sys.argv[2]), *map(int, sys.argv[3:4]))
