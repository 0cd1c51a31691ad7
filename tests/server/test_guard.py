"""The guard, the headers, and static files: types, caches, no nonce."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask import Flask

from server import static_files
from tests.server.conftest import OURS, SECRET, Browser

SIGN_IN = {"name": "technician", "password": SECRET}


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Sec-Fetch-Site": "same-origin"}, 303),
        ({"Sec-Fetch-Site": "same-site"}, 403),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Sec-Fetch-Site": "none"}, 403),
        ({"Origin": "http://localhost"}, 303),
        ({"Origin": "http://elsewhere.example"}, 403),
        ({"Origin": "null"}, 403),
        ({"Origin": "http://localhost", "Sec-Fetch-Site": "cross-site"}, 403),
        ({}, 403),
    ],
)
def test_only_our_own_pages_may_post(app: Flask, headers: dict[str, str], status: int) -> None:
    assert app.test_client().post("/sign-in", data=SIGN_IN, headers=headers).status_code == status


def test_the_open_door_of_the_workings_takes_any_program(app: Flask) -> None:
    answer = app.test_client().post("/api/workings/site_pressure", json={"elevation": "1600 m"})
    assert answer.status_code == 200
    assert answer.get_json()["ok"] is True


@pytest.mark.parametrize(
    "path", ["/sign-in", "/shell", "/healthz", "/no-such-page", "/static/none.js", "/api/workings"]
)
def test_every_answer_binds_the_browser(app: Flask, path: str) -> None:
    headers = app.test_client().get(path).headers
    policy = headers["Content-Security-Policy"]
    assert "script-src 'self' 'wasm-unsafe-eval';" in policy
    for word in ("unsafe-inline", "'unsafe-eval'", "nonce-", "sha256-", "*", "http:"):
        assert word not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"


def test_shell_holds_nothing_of_anybody(app: Flask) -> None:
    stranger, known = Browser(app).client.get("/shell"), Browser(app, "technician").client.get("/shell")
    assert stranger.get_data() == known.get_data()
    assert stranger.headers["Cache-Control"] == "no-cache"
    assert "nonce" not in stranger.get_data(as_text=True)


def test_pages_of_people_are_not_stored_by_caches(app: Flask) -> None:
    assert Browser(app, "technician").client.get("/nowhere").headers["Cache-Control"] == "no-store"


@pytest.fixture
def files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "gen" / "pyodide-0123456789ab").mkdir(parents=True)
    for name in ("gen/app.0123456789ab.js", "gen/pyodide-0123456789ab/x.wasm", "gen/service_worker.js"):
        (tmp_path / name).write_bytes(b"plain")
        (tmp_path / f"{name}.br").write_bytes(b"brotli")
        (tmp_path / f"{name}.gz").write_bytes(b"gzip")
    for suffix in ("css", "mjs", "json", "svg", "png", "zip", "webmanifest"):
        (tmp_path / "gen" / f"a.0123456789ab.{suffix}").write_bytes(b"plain")
    (tmp_path / "gen" / ".inputs").write_text("private")
    monkeypatch.setattr(static_files, "STATIC", tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("app.0123456789ab.js", "text/javascript"),
        ("pyodide-0123456789ab/x.wasm", "application/wasm"),
        ("a.0123456789ab.mjs", "text/javascript"),
        ("a.0123456789ab.css", "text/css"),
        ("a.0123456789ab.json", "application/json"),
        ("a.0123456789ab.svg", "image/svg+xml"),
        ("a.0123456789ab.png", "image/png"),
        ("a.0123456789ab.zip", "application/zip"),
        ("a.0123456789ab.webmanifest", "application/manifest+json"),
    ],
)
def test_types_and_caching_of_hashed_files(app: Flask, files: Path, name: str, kind: str) -> None:
    answer = app.test_client().get(f"/static/gen/{name}")
    assert answer.mimetype == kind
    assert "immutable" in answer.headers["Cache-Control"]
    answer.close()


@pytest.mark.parametrize(
    ("accepts", "encoding", "body"),
    [("br, gzip", "br", b"brotli"), ("gzip", "gzip", b"gzip"), ("", None, b"plain"), ("br;q=0", None, b"plain")],
)
def test_the_compressed_twin_goes_where_it_is_taken(
    app: Flask, files: Path, accepts: str, encoding: str | None, body: bytes
) -> None:
    with app.test_client().get("/static/gen/app.0123456789ab.js", headers={"Accept-Encoding": accepts}) as answer:
        assert answer.headers.get("Content-Encoding") == encoding
        assert answer.get_data() == body
        assert answer.headers["Vary"] == "Accept-Encoding"
        assert answer.mimetype == "text/javascript"


def test_what_keeps_its_name_is_asked_for_each_time_and_changes_with_its_bytes(
    app: Flask, files: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("server.doors.build_id", lambda: "b1")
    with app.test_client().get("/service-worker.js") as first:
        assert first.headers["Cache-Control"] == "no-cache"
        assert first.mimetype == "text/javascript"
        tag = first.headers["ETag"]
    with app.test_client().get("/service-worker.js", headers={"If-None-Match": tag}) as same:
        assert same.status_code == 304
    (files / "gen" / "service_worker.js").write_bytes(b"another text")
    with app.test_client().get("/service-worker.js", headers={"If-None-Match": tag}) as changed:
        assert changed.status_code == 200


@pytest.mark.parametrize("name", ["../settings.py", "gen/../../app.py", "gen/.inputs", "gen", "gen/none.js"])
def test_nothing_else_is_sent(app: Flask, files: Path, name: str) -> None:
    assert app.test_client().get(f"/static/{name}").status_code == 404


def test_signing_in_over_plain_http_elsewhere_is_refused(app: Flask) -> None:
    answer = app.test_client().post("/sign-in", data=SIGN_IN, headers=OURS, base_url="http://office.example")
    assert answer.status_code == 400
    assert "Set-Cookie" not in answer.headers
    assert "https" in answer.get_data(as_text=True)
    held = app.test_client().post("/sign-in", data=SIGN_IN, headers=OURS, base_url="https://office.example")
    assert "Secure; HttpOnly" in held.headers["Set-Cookie"]
    assert "SameSite=Lax" in held.headers["Set-Cookie"]
