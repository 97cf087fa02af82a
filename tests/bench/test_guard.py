"""The page answers its own browser with the token, and nobody else."""

from __future__ import annotations

import os
import socket
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from conftest import PORT, TOKEN, Served
from flask import Flask
from flask.testing import FlaskClient

OURS = f"http://127.0.0.1:{PORT}"


def ask(app: Flask, method: str = "GET", path: str = "/", **headers: str) -> int:
    client = app.test_client(use_cookies=False)
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


@pytest.mark.parametrize(
    "host",
    [
        *(
            f"LOCALHOST:{PORT}",
            f"localhost.:{PORT}",
            f"127.0.0.1.:{PORT}",
            f"127.1:{PORT}",
            f"[::1]:{PORT}",
            "localhost",
        ),
        *(f"127.0.0.1:{PORT}@evil.example", f"evil@127.0.0.1:{PORT}", f"127.0.0.1:0{PORT}", f"0.0.0.0:{PORT}", "", " "),
        *(f"127.0.0.1:{PORT},evil.example", f"2130706433:{PORT}", f"127.0.0.1:{PORT}/x", f"127.0.0.1:{PORT}#"),
    ],
)
def test_no_other_way_to_write_a_host_is_taken(app: Flask, host: str) -> None:
    assert ask(app, path=f"/?token={TOKEN}", Host=host) in (400, 403)


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_what_another_page_fetches_is_refused(app: Flask, site: str) -> None:
    path = f"/?token={TOKEN}"
    assert ask(app, path=path, Sec_Fetch_Site=site, Sec_Fetch_Dest="image") == 403
    assert ask(app, path=path, Sec_Fetch_Site=site, Sec_Fetch_Dest="iframe") == 403
    assert ask(app, "POST", f"/end?token={TOKEN}", Sec_Fetch_Site=site, Sec_Fetch_Dest="document") == 403
    assert ask(app, path=path, Sec_Fetch_Site=site, Sec_Fetch_Dest="document") == 200
    assert ask(app, path=path, Sec_Fetch_Site="same-origin", Sec_Fetch_Dest="empty") == 200


def test_token_is_taken_from_the_address_and_the_cookie_alone(app: Flask) -> None:
    for headers in ({"Authorization": f"Bearer {TOKEN}"}, {"X_Token": TOKEN}, {"Cookie": f"token={TOKEN}"}):
        assert ask(app, **headers) == 403
    assert app.test_client().post("/end", data={"token": TOKEN}).status_code == 403
    assert ask(app, path=f"/?token={TOKEN}x") == ask(app, path=f"/?token={TOKEN[:-1]}") == 403
    assert ask(app, path="/?token=%ff%00") == 403
    assert ask(app, Cookie=f"storystick-bench-{PORT}={TOKEN}") == 200
    assert ask(app, Cookie=f"storystick-bench-{PORT + 1}={TOKEN}") == 403


def test_cookie_is_for_this_page_alone(app: Flask) -> None:
    words = app.test_client().get(f"/?token={TOKEN}").headers["Set-Cookie"]
    assert words.startswith(f"storystick-bench-{PORT}=")
    assert "HttpOnly" in words
    assert "SameSite=Strict" in words


@pytest.mark.parametrize("method", ["OPTIONS", "TRACE", "PUT", "DELETE", "PATCH", "CONNECT", "X"])
def test_methods_that_no_page_of_ours_uses_do_nothing(app: Flask, method: str) -> None:
    for path in ("/", "/end", "/job/case.toml/save"):
        assert ask(app, method, f"{path}?token={TOKEN}") == 405


@pytest.mark.parametrize(
    "path",
    [
        *(
            "/job/..%2fsecret.toml",
            "/job/%2e%2e%2fsecret.toml",
            "/job/..%5csecret.toml",
            "/job/%00.toml",
            "/job/%ff.toml",
        ),
        *("/job/" + "x" * 5000 + ".toml", "/static/..%2fapp.py", "/static/%2e%2e/app.py", "/static/..%5capp.py"),
        *(
            "/font/..%2f..%2fapp.py",
            "/job/%2fetc%2fpasswd",
            "/job/C:%5cx.toml",
            "/card/..%2fsecret.toml",
            "//etc/passwd",
        ),
        *(
            "/job/link.toml",
            "/job/nul.toml",
            "/job/CASE.TOML",
            "/job/.storystick-trash",
            "/job/x%0d%0aSet-Cookie:a=b.toml",
        ),
    ],
)
def test_no_path_leads_out_of_the_folder(client: FlaskClient, folder: Path, path: str) -> None:
    (folder.parent / "secret.toml").write_text("secret = 1\n")
    (folder / "link.toml").symlink_to(folder.parent / "secret.toml")
    answer = client.get(path)
    assert answer.status_code in (308, 403, 404, 422)
    assert "secret = 1" not in answer.text
    assert str(folder.parent) not in answer.text
    assert "Set-Cookie" not in answer.headers
    assert client.post(f"{path}/save", data={"text": "x", "version": ""}).status_code in (200, 308, 404, 405, 422)
    assert sorted(each.name for each in folder.parent.iterdir()) == ["jobs", "secret.toml"]
    assert (folder.parent / "secret.toml").read_text() == "secret = 1\n"


@pytest.mark.parametrize(
    "changes",
    [
        "[" * 100_000,
        "9" * 6000,
        "{}",
        "null",
        "[null]",
        '["x"]',
        '[{"at": []}]',
        '[{"kind": "set", "at": "x"}]',
        "[1e999]",
    ],
)
def test_what_no_page_of_ours_sends_is_refused(client: FlaskClient, folder: Path, changes: str) -> None:
    (folder / "case.toml").write_text("# case\n")
    answer = client.post("/job/case.toml/edit", data={"text": "# x\n", "changes": changes})
    assert (answer.status_code, "not sent by this page" in answer.text) == (400, changes != "{}") or changes == "{}"


def test_many_changes_and_halves_of_signs_are_no_trouble(client: FlaskClient, folder: Path) -> None:
    (folder / "case.toml").write_text("# case\n")
    one = '{"kind": "set", "at": "/title", "value": "\\ud800"}'
    assert client.post("/job/case.toml/edit", data={"text": "", "changes": f"[{one}]"}).status_code == 200
    many = f"[{','.join([one] * 201)}]"
    assert client.post("/job/case.toml/edit", data={"text": "", "changes": many}).status_code == 400


def test_huge_bodies_are_refused(client: FlaskClient) -> None:
    assert client.post("/job/case.toml/save", data={"text": "x" * 4_100_000}).status_code == 413
    many = "&".join(f"x{number}=1" for number in range(400_000))
    kind = "application/x-www-form-urlencoded"
    assert client.post("/job/case.toml/save", data=many, content_type=kind).status_code in (200, 413, 422)


def raw(served: Served, *lines: str, body: str = "") -> str:
    """What the served page answers to a request as it is written here."""
    port = int(served.root.rpartition(":")[2])
    with socket.create_connection(("127.0.0.1", port), timeout=10) as line:
        try:
            line.sendall("\r\n".join((*lines, "Connection: close", "", body)).encode())
            return b"".join(iter(lambda: line.recv(65536), b"")).decode(errors="replace")
        except ConnectionResetError:
            return "HTTP/1.1 400 cut off while it was sent"


def test_requests_that_no_browser_writes_are_refused(served: Served) -> None:
    host, get = f"Host: {served.root[7:]}", f"GET /?token={TOKEN} HTTP/1.1"
    assert " 200 " in raw(served, get, host).splitlines()[0]
    refused = [
        raw(served, get, host, "Host: evil.example"),
        raw(served, get, "Host: evil.example", host),
        raw(served, get),
        raw(served, get, "Host: evil.example", f"X-Forwarded-Host: {served.root[7:]}"),
        raw(served, f"GET http://evil.example/?token={TOKEN} HTTP/1.1", "Host: evil.example"),
        raw(served, "GET / HTTP/1.1", host, f"X: token={TOKEN}"),
        raw(served, f"TRACE /?token={TOKEN} HTTP/1.1", host),
        raw(served, get, host, f"X: {'x' * 300_000}"),
        raw(served, f"POST /end?token={TOKEN} HTTP/1.1", host, "Content-Length: 99999999999"),
        raw(served, f"POST /end?token={TOKEN} HTTP/1.1", host, "Content-Length: 0", "Origin: http://evil.example"),
        raw(
            served, f"POST /end?token={TOKEN} HTTP/1.1", host, "Content-Length: 4", "Transfer-Encoding: x", body="a=bc"
        ),
    ]
    assert [answer.split(" ")[1] for answer in refused if answer.split(" ")[1][0] != "4"] in ([], ["501"])
    assert not any("Traceback" in answer or "/storystick" in answer for answer in refused)


def test_every_answer_has_a_strict_policy(client: FlaskClient) -> None:
    policy = client.get("/").headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "*" not in policy


def test_post_of_a_browser_of_old_needs_to_come_from_our_page(app: Flask) -> None:
    """One that sends its cookie with any post, and neither Origin nor Sec-Fetch-Site."""
    cookie = f"storystick-bench-{PORT}={TOKEN}"
    for referer in (
        "",
        "http://evil.example/",
        f"http://evil.example/{OURS}/",
        f"http://127.0.0.1:{PORT + 1}/",
        "[",
        "x",
    ):
        assert ask(app, "POST", "/end", Cookie=cookie, **({"Referer": referer} if referer else {})) == 403
    assert ask(app, "POST", "/end", Cookie=cookie, Referer=f"{OURS}/job/case.toml") == 200
    assert ask(app, "POST", f"/end?token={TOKEN}") == 200


STICK = 'units = "mm"\n[[stick]]\nname = "Side"\npart = 18\nopenings = "sizes.csv"\n'


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
@pytest.mark.parametrize("lay", [os.symlink, lambda _target, place: os.mkfifo(place)])
@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("sizes.csv", STICK),
        ("tools.toml", f'shop = "tools.toml"\n{STICK}'),
        ("shop.toml", STICK.replace('"sizes.csv"', "[200]")),
    ],
)
def test_job_reads_no_links_and_no_pipes(
    client: FlaskClient, folder: Path, lay: Callable[[Path, Path], None], name: str, text: str
) -> None:
    outside = folder.parent / name
    outside.write_text("secret-words = 1\n")
    lay(outside, folder / name)
    (folder / "case.toml").write_text(text)
    answers = [client.get("/job/case.toml"), client.get("/card/case.toml")]
    wish = {"text": text, "format": "pdf"}
    if lay is os.symlink:
        answers.append(client.post("/job/case.toml/print", data=wish))
    answers.append(client.post("/job/case.toml/print/plan", data=wish))
    reading = {"rule_paper": "Letter", "rule_printer": "p", "rule_along": "9", "rule_across": "7", "keep": "1"}
    answers.append(client.post("/job/case.toml/calibrate", data=reading | {"text": text}))
    for answer in answers:
        assert answer.status_code == 200
        assert "secret-words" not in answer.text
        assert str(folder.parent) not in answer.text
    assert outside.read_text() == "secret-words = 1\n"
    assert lay is not os.symlink or "a link to a file elsewhere" in answers[0].text
