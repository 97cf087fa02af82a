"""How long the page takes from a key to the new drawing, beside a floor measured in the same run.

Run it with the project's environment: ``python tests/benchmarks/bench.py``; with ``--no-browser`` only the answers are
timed. The floor is reading the job's text by the standard library alone, and on a shared machine only the ratio to it
means anything: its figures, and those of the answer, are of the processor. Those of the browser go by the clock, from
the key to the frame after the new drawing is in the page.
"""

from __future__ import annotations

import json
import re
import statistics
import sys
import time
import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from html import unescape
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread
from typing import Any, Final

HERE: Final = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from large_jobs import many_cabinets  # noqa: E402 it lies beside the tests, not in a package

ROUNDS: Final = 15
TOKEN: Final = "for-this-benchmark"
PLAIN: Final = """units = "inch"
[stock]
ply = "23/32"
[[stick]]
name = "Side"
part = "ply"
openings = ["5 1/2", {}]
"""
CHEST: Final = HERE.parents[1] / "gallery" / "bead-chest" / "bead-chest.toml"
JOBS: Final = {
    "a plain stick": (PLAIN.format(", ".join(['"2 1/4"'] * 9)), "/stick/0/openings/0", ("5 1/2", "5 3/4")),
    "a chest of drawers": (CHEST.read_text("utf-8"), "/cabinet/0/height", ("34", "34 1/2")),
    "30 cabinets": (many_cabinets(30, 10), "/cabinet/11/height", ("870", "880")),
}
"""Each job's text, a length in it, and what is typed there in turn."""

DRAWN: Final = """
([at, value]) => new Promise((done) => {
  const field = document.querySelector(`#form input[data-at="${at}"]`);
  const start = performance.now();
  new MutationObserver((_, watch) => {
    watch.disconnect();
    requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - start)));
  }).observe(document.querySelector(".sheet"), { childList: true });
  field.value = value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
})
"""


def main(with_browser: bool) -> None:
    """Print a row a job."""
    heading = ["floor ms", "answer ms", "ratio", *(["key to drawing ms"] if with_browser else [])]
    print(f"{'':22}", *(f"{word:>18}" for word in heading))
    for name, (text, at, values) in JOBS.items():
        floor = median(lambda _, text=text: tomllib.loads(text), time.process_time)
        answer = answered(text, at, values)
        row = [f"{floor:18.2f}", f"{answer:18.1f}", f"{answer / floor:18.1f}"]
        row += [f"{in_browser(text, at, values):18.0f}"] if with_browser else []
        print(f"{name:22}", *row, flush=True)


def median(work: Callable[[int], object], clock: Callable[[], float]) -> float:
    """What it takes in ms, after two rounds that are not counted."""
    taken = []
    for number in range(ROUNDS + 2):
        start = clock()
        work(number)
        taken.append(1000 * (clock() - start))
    return statistics.median(taken[2:])


@contextmanager
def app_of(text: str, port: int) -> Iterator[Any]:
    """The page of a folder with that one job."""
    from storystick.bench.app import create_app
    from storystick.bench.files.folder import Folder
    from storystick.bench.state import Bench

    with TemporaryDirectory() as name:
        (Path(name) / "job.toml").write_text(text, encoding="utf-8")
        yield create_app(Bench(Folder(Path(name)), None, lambda: None), TOKEN, port)


def answered(text: str, at: str, values: tuple[str, str]) -> float:
    """From an edit that is posted to its answer."""
    root, current, thing = "http://127.0.0.1:4711", text, "/".join(at.split("/")[:3])
    with app_of(text, 4711) as app:
        client = app.test_client()

        def edit(number: int) -> None:
            nonlocal current
            change = {"kind": "set", "at": at, "value": values[(number + 1) % 2]}
            form = {"text": current, "at": thing, "tab": "drawing", "changes": json.dumps([change])}
            answer = client.post("/job/job.toml/edit", data=form, base_url=root, headers={"Origin": root})
            page = answer.get_data(as_text=True)
            assert answer.status_code == 200, page
            assert "<svg" in page
            found = re.search(r'<textarea id="draft"[^>]*>\n?(.*?)</textarea>', page, re.DOTALL)
            assert found
            current = unescape(found[1])
            assert current != form["text"]

        client.get("/", query_string={"token": TOKEN}, base_url=root)
        return median(edit, time.process_time)


def in_browser(text: str, at: str, values: tuple[str, str]) -> float:
    """From a key in the field of a length to the frame that shows the new drawing."""
    import socket

    from playwright.sync_api import sync_playwright
    from waitress.server import create_server

    listening = socket.create_server(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    with app_of(text, port) as app, sync_playwright() as playwright:
        server = create_server(app, sockets=[listening], threads=4)
        Thread(target=server.run, daemon=True).start()
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        page = browser.new_page()
        thing = "/".join(at.split("/")[:3])
        page.goto(f"http://127.0.0.1:{port}/job/job.toml?token={TOKEN}&at={thing}")
        page.wait_for_selector(f'#form input[data-at="{at}"]', state="attached")
        taken = [page.evaluate(DRAWN, [at, values[(number + 1) % 2]]) for number in range(ROUNDS + 2)]
        browser.close()
        server.close()
    return statistics.median(taken[2:])


if __name__ == "__main__":
    main("--no-browser" not in sys.argv[1:])
