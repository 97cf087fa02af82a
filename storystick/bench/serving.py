"""The page served from this machine to this machine, until it is ended."""

from __future__ import annotations

import secrets
import socket
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from threading import Timer
from typing import Final

from waitress.server import create_server

from storystick.bench.app import create_app
from storystick.bench.folder import Folder
from storystick.bench.state import Bench
from storystick.errors import Fault

HOST: Final = "127.0.0.1"
_TOKEN_BYTES: Final = 24
_THREADS: Final = 4
_FIRST_PORT: Final = 20_000
_PORTS: Final = 12_000
_TRIES: Final = 20
_LAST_WORD_SECONDS: Final = 0.3


def serve(folder: Path, port: int | None, settings: Path | None, opens: bool, say: Callable[[str], None]) -> None:
    """Serve a folder at a ``port`` until the page or Ctrl-C ends it; ``say`` its address.

    With None it is the folder's own port, or one near it; 0 is any that is free.

    Raises:
        Fault: the port cannot be had.
    """
    listening = _listen(port) if port is not None else _listen_near(folder)
    own_port, token = listening.getsockname()[1], secrets.token_urlsafe(_TOKEN_BYTES)

    def end() -> None:
        # The page that asked for it still wants its answer.
        Timer(_LAST_WORD_SECONDS, server.close).start()

    app = create_app(Bench(Folder(folder), settings, end), token, own_port)
    server = create_server(app, sockets=[listening], threads=_THREADS, ident=None, clear_untrusted_proxy_headers=True)
    address = f"http://{HOST}:{own_port}/?token={token}"
    say(address)
    if opens:
        webbrowser.open(address)
    server.run()


def _listen_near(folder: Path) -> socket.socket:
    """At the folder's own port: browsers keep what was not saved by the port, so it is the same again tomorrow."""
    first = _FIRST_PORT + int.from_bytes(sha256(str(folder.resolve()).encode()).digest()[:4]) % _PORTS
    for port in range(first, first + _TRIES):
        with suppress(Fault):
            return _listen(port)
    return _listen(0)


def _listen(port: int) -> socket.socket:
    listening = socket.socket()
    try:
        listening.bind((HOST, port))
    except OSError as error:
        raise Fault(f"port {port} of this machine is in use", "leave --port out, or give another") from error
    listening.listen()
    return listening
