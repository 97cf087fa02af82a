"""The page served from this machine to this machine, until it is ended."""

from __future__ import annotations

import os
import secrets
import signal
import socket
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from logging import ERROR, getLogger
from pathlib import Path
from threading import Event, Thread, Timer, current_thread, main_thread
from typing import Any, Final

from waitress.server import create_server

from storystick.bench.app import create_app
from storystick.bench.files.folder import Folder
from storystick.bench.guard import MOST_PRINT_BYTES
from storystick.bench.state import Bench
from storystick.errors import Fault

HOST: Final = "127.0.0.1"
_TOKEN_BYTES: Final = 24
LIMITS: Final[dict[str, Any]] = {
    "threads": 6,
    "ident": None,
    "clear_untrusted_proxy_headers": True,
    "max_request_header_size": 32_768,
    "max_request_body_size": MOST_PRINT_BYTES + 1_000_000,
    "connection_limit": 100,
    "channel_timeout": 60,
    "cleanup_interval": 10,
}
"""Of the server: whoever sends more, or slower than one piece in ``channel_timeout`` seconds, is let go of."""

_FIRST_PORT: Final = 20_000
_PORTS: Final = 12_000
_TRIES: Final = 20
_LAST_WORD_SECONDS: Final = 0.3
_LOOK_SECONDS: Final = 0.2


def serve(folder: Path, port: int | None, settings: Path | None, opens: bool, say: Callable[[str], None]) -> None:
    """Serve a folder at a ``port`` until the page or Ctrl-C ends it; ``say`` its address.

    With None it is the folder's own port, or one near it; 0 is any that is free.

    Raises:
        Fault: the port cannot be had.
    """
    listening = _listen(port) if port is not None else _listen_near(folder)
    own_port, token = listening.getsockname()[1], secrets.token_urlsafe(_TOKEN_BYTES)

    ended = Event()

    def end() -> None:
        Timer(_LAST_WORD_SECONDS, ended.set).start()  # The page that asked for it still wants its answer.

    bench = Bench(Folder(folder), settings, end)
    app = create_app(bench, token, own_port)
    getLogger("waitress").setLevel(ERROR)  # That requests wait a moment is nothing to tell.
    server = create_server(app, sockets=[listening], **LIMITS)
    # What is asked last may be at work for long, and browsers hold their lines: neither is waited for.
    Thread(target=server.run, daemon=True).start()
    if current_thread() is main_thread():  # where alone it may be asked for
        signal.signal(signal.SIGTERM, lambda *_: ended.set())
    address = f"http://{HOST}:{own_port}/?token={token}"
    say(address)
    if opens:
        webbrowser.open(address)
    with suppress(KeyboardInterrupt):
        while not ended.wait(_LOOK_SECONDS):  # Where a wait without end is not interrupted by Ctrl-C.
            pass
    with suppress(KeyboardInterrupt):
        server.task_dispatcher.shutdown(timeout=_LAST_WORD_SECONDS)  # A save that is at work may still be done.
        bench.prints.end()


def _listen_near(folder: Path) -> socket.socket:
    """At the folder's own port: browsers keep what was not saved by the port, so it is the same again tomorrow."""
    first = _FIRST_PORT + int.from_bytes(sha256(str(folder.resolve()).encode()).digest()[:4]) % _PORTS
    for port in range(first, first + _TRIES):
        with suppress(Fault):
            return _listen(port)
    return _listen(0)


def _listen(port: int) -> socket.socket:
    listening = socket.socket()
    # Else the port is refused for a minute after the last program ended there; on Windows it would be shared instead.
    if os.name == "posix":
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen()
    except OSError as error:
        listening.close()
        raise Fault(f"port {port} of this machine {_why(error)}", "leave --port out, or give another") from error
    return listening


def _why(error: OSError) -> str:
    return "is only for programs of the system" if isinstance(error, PermissionError) else "is in use"
