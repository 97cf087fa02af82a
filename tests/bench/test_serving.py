"""The page as a program that is begun, ended and begun again."""

from __future__ import annotations

import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from http.client import HTTPConnection
from pathlib import Path

import pytest

from storystick.bench.serving import serve
from storystick.errors import Fault


@contextmanager
def started(folder: Path, *options: str) -> Iterator[tuple[subprocess.Popen[str], int, str]]:
    """The program for a folder, its port and its token."""
    command = [sys.executable, "-m", "storystick", "bench", str(folder), "--no-open", *options]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as program:
        try:
            assert program.stdout
            found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)/\?token=(\S+)\n", program.stdout.readline())
            assert found
            yield program, int(found[1]), found[2]
        finally:
            program.kill()


@pytest.mark.skipif(sys.platform == "win32", reason="signals are others there")
@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_the_next_one_is_at_the_same_port(folder: Path, how: signal.Signals) -> None:
    """Browsers keep by host and port what was not saved: at another port it is not offered."""
    ports = []
    for _ in range(2):
        with started(folder) as (program, port, token):
            ports.append(port)
            with closing(HTTPConnection("127.0.0.1", port, timeout=20)) as connection:
                connection.request("GET", f"/?token={token}")
                answer = connection.getresponse()
                assert (answer.status, bool(answer.read())) == (200, True)
                program.send_signal(how)
                _, told = program.communicate(timeout=20)
            assert (program.returncode, told) == (0, "")
    assert ports[0] == ports[1]


def test_port_in_use_is_a_fault(folder: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other, pytest.raises(Fault, match="is in use"):
        serve(folder, other.getsockname()[1], None, False, print)
