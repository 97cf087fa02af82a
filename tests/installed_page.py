"""The page of an installed storystick, away from the checkout: it is answered, and all that it loads is there.

``python tests/installed_page.py STORYSTICK FOLDER`` starts that program in a folder and ends it again.
"""

from __future__ import annotations

import re
import subprocess
import sys
from http.cookiejar import CookieJar
from urllib.parse import urljoin
from urllib.request import HTTPCookieProcessor, build_opener


def main(program: str, folder: str) -> None:
    """Ask for the first page and for whatever it and its styles name; an answer that is no 200 is an error."""
    command = [program, "bench", folder, "--no-open", "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        try:
            assert server.stdout
            address = server.stdout.readline().strip()
            opener = build_opener(HTTPCookieProcessor(CookieJar()))
            page = opener.open(address, timeout=10).read().decode()
            loaded = {urljoin(address, each) for each in re.findall(r'(?:href|src)="(/(?:static|font)/[^"]+)"', page)}
            assert loaded, "the first page loads nothing"
            for each in sorted(loaded):
                body = opener.open(each, timeout=10).read()
                for inner in re.findall(rb'url\("?(/[^")]+)', body) if each.endswith(".css") else ():
                    opener.open(urljoin(address, inner.decode()), timeout=10).read()
            print(f"The page answers, with {len(loaded)} files that it loads.")
        finally:
            server.terminate()
            server.wait(20)
    assert server.returncode == 0, f"it ended with {server.returncode}"


if __name__ == "__main__":
    main(*sys.argv[1:])
