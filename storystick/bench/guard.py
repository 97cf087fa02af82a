"""Who is answered: this machine's own browser with the token in hand, and nobody else.

A page elsewhere may send requests here, by a name of its own that leads to this machine or by a form, but can do
neither under our host's name and our own origin. What is answered loads nothing from anywhere else.
"""

from __future__ import annotations

from secrets import compare_digest
from typing import Final

from flask import Flask, Response, abort, request

MOST_BYTES: Final = 4_000_000
"""No request is longer, but for a print that is opened."""

MOST_PRINT_BYTES: Final = 64_000_000
"""No print that is opened is larger."""

_SOURCES: Final = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
}
_HEADERS: Final = {
    "Content-Security-Policy": "; ".join(f"{name} {value}" for name, value in _SOURCES.items()),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}
PDF_POLICY: Final = "frame-ancestors 'none'; base-uri 'none'"
"""A browser shows a PDF with a program of its own, which no stricter policy lets begin."""

_TOKEN: Final = "token"
_READS: Final = ("GET", "HEAD")
_ANSWERED: Final = (*_READS, "POST")


def guard(app: Flask, token: str, port: int) -> None:
    """Let an app answer only who comes to it by its own host and with its ``token``."""
    hosts = {f"{host}:{port}" for host in ("127.0.0.1", "localhost")}
    cookie = f"storystick-bench-{port}"  # Browsers keep cookies by host alone, whatever the port.
    app.config["MAX_CONTENT_LENGTH"] = MOST_BYTES
    app.config["MAX_FORM_MEMORY_SIZE"] = MOST_BYTES

    @app.before_request
    def check() -> None:
        given = request.args.get(_TOKEN) or request.cookies.get(cookie, "")
        if request.method not in _ANSWERED:
            abort(405)
        if request.host not in hosts or request.headers.get("Host", "") not in hosts:
            abort(403, "This page is only for the machine that it runs on.")
        if not compare_digest(given.encode(), token.encode()):
            abort(403, "Open the page by the address that the program printed: it has a word in it that is asked for.")
        if not (_is_our_own(hosts) or _is_opened()):
            abort(403, "This was sent from another page.")

    @app.after_request
    def answer(response: Response) -> Response:
        for name, value in _HEADERS.items():
            response.headers.setdefault(name, value)
        if request.args.get(_TOKEN, "") and response.status_code == 200:
            response.set_cookie(cookie, token, httponly=True, samesite="Strict")
        return response


def _is_opened() -> bool:
    """Whether somebody opens a page of ours in a window, from wherever the address stood."""
    return request.method in _READS and request.headers.get("Sec-Fetch-Dest") == "document"


def _is_our_own(hosts: set[str]) -> bool:
    """Whether it comes from a page of ours; what is no browser says nothing of it, and brings the token itself."""
    origin = request.headers.get("Origin")
    if origin is not None:
        return origin in {f"http://{host}" for host in hosts}
    site = request.headers.get("Sec-Fetch-Site")
    if site is not None:
        return site in ("same-origin", "none")
    # A browser of old tells neither, and may send its cookie with the post of any page: where that stood has to do.
    is_ours = request.headers.get("Referer", "").startswith(tuple(f"http://{host}/" for host in hosts))
    return request.method in _READS or _TOKEN in request.args or is_ours
