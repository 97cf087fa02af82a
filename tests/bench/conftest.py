"""A page to try: an app without a server, one that is served, and a browser that looks at it."""

from __future__ import annotations

import os
import shutil
import socket
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from programs import LEFT_OUT, NEEDED
from waitress.server import create_server

from storystick.bench.app import create_app
from storystick.bench.files.folder import Folder
from storystick.bench.state import Bench

TOKEN = "for-these-tests"
PORT = 4711
GALLERY = Path(__file__).parents[2] / "gallery"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An empty folder of jobs."""
    place = tmp_path / "jobs"
    place.mkdir()
    return place


class Visitor(FlaskClient):
    """Comes by the page's own host."""

    def open(self, *args: Any, **kwargs: Any) -> Any:
        kwargs.setdefault("base_url", f"http://127.0.0.1:{PORT}")
        return super().open(*args, **kwargs)


@pytest.fixture
def app(folder: Path) -> Flask:
    app = create_app(Bench(Folder(folder), None, lambda: None), TOKEN, PORT)
    app.test_client_class = Visitor
    return app


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """Who has been let in with the token."""
    return let_in(app)


def let_in(app: Flask) -> FlaskClient:
    """Another one who has been let in."""
    client = app.test_client()
    client.environ_base["HTTP_ORIGIN"] = f"http://127.0.0.1:{PORT}"
    assert client.get("/", query_string={"token": TOKEN}).status_code == 200
    return client


@dataclass(frozen=True)
class Served:
    """A page that is served: its ``folder`` and its ``root``, to which a path is added."""

    folder: Path
    root: str

    def __call__(self, path: str = "/") -> str:
        return f"{self.root}{path}{'&' if '?' in path else '?'}token={TOKEN}"


@pytest.fixture
def served(folder: Path) -> Iterator[Served]:
    """The page on a port of its own."""
    listening = socket.create_server(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    app = create_app(Bench(Folder(folder), None, lambda: None), TOKEN, port)
    server = create_server(app, sockets=[listening], threads=4)
    thread = Thread(target=server.run, daemon=True)
    thread.start()
    yield Served(folder, f"http://127.0.0.1:{port}")
    server.close()
    thread.join(5)


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Chromium, for all tests that look at pages."""
    found = shutil.which("chromium")
    if found is None:
        missing = f"The program chromium {LEFT_OUT} chromium"
        if os.environ.get(NEEDED):
            pytest.fail(f"{missing}. Try: sudo apt-get install chromium", pytrace=False)
        pytest.skip(missing)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield browser
        browser.close()


@dataclass
class Looked:
    """What went wrong on a page while it was looked at: errors of scripts, and requests that left the machine."""

    errors: list[str]
    strays: list[str]


@pytest.fixture
def looked() -> Looked:
    """What is seen on the page of a test; one that expects an error takes it away here."""
    return Looked([], [])


@pytest.fixture
def page(browser: Any, served: Served, looked: Looked) -> Iterator[Any]:
    """A page of a new browser session; no script may fail on it, and no request may leave this machine."""
    context = browser.new_context(viewport={"width": 1400, "height": 900})
    page = context.new_page()
    page.on("pageerror", lambda error: looked.errors.append(str(error)))
    page.on("console", lambda words: looked.errors.append(words.text) if words.type == "error" else None)
    page.on("request", lambda sent: None if _is_ours(sent.url, served) else looked.strays.append(sent.url))
    yield page
    context.close()
    assert looked == Looked([], [])


def _is_ours(url: str, served: Served) -> bool:
    return url.startswith((f"{served.root}/", "data:", "blob:"))
