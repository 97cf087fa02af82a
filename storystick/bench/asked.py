"""What every request of the page of a job brings: the draft; and the end of one that is none of ours."""

from __future__ import annotations

from typing import NoReturn

from flask import abort, request


def posted_text() -> str:
    """The draft as it stands on the page, with lines that end with "\\n"."""
    return request.form.get("text", "").replace("\r\n", "\n")


def refuse() -> NoReturn:
    """End a request that the page cannot have sent, with 400."""
    abort(400, "That was not sent by this page.")
