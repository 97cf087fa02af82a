"""The page answers its own browser with the token, and nobody else."""

from __future__ import annotations

import pytest
from conftest import PORT, TOKEN
from flask import Flask
from flask.testing import FlaskClient

OURS = f"http://127.0.0.1:{PORT}"


def ask(app: Flask, method: str = "GET", path: str = "/", **headers: str) -> int:
    client = app.test_client()
    sent = {name.replace("_", "-"): value for name, value in headers.items()}
    return client.open(path, method=method, headers=sent).status_code


def test_nobody_is_answered_without_the_token(app: Flask) -> None:
    assert ask(app) == 403
    assert ask(app, path="/?token=another") == 403
    assert ask(app, path="/static/bench.css") == 403
    assert ask(app, path=f"/?token={TOKEN}") == 200


@pytest.mark.parametrize("host", ["example.com", f"evil.example:{PORT}", "127.0.0.1", f"127.0.0.1.example:{PORT}"])
def test_another_host_is_refused_even_with_the_token(app: Flask, host: str) -> None:
    assert ask(app, path=f"/?token={TOKEN}", Host=host) == 403


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:1", f"https://127.0.0.1:{PORT}"])
def test_a_post_from_another_page_is_refused(app: Flask, origin: str) -> None:
    assert ask(app, "POST", f"/end?token={TOKEN}", Origin=origin) == 403
    assert ask(app, "POST", f"/end?token={TOKEN}", Origin=OURS) == 200


def test_every_answer_has_a_strict_policy(client: FlaskClient) -> None:
    policy = client.get("/").headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "*" not in policy
