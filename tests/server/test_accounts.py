"""Signing in and out, sessions, throttle, and the commands of the console."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest
from flask import Flask

from server import accounts
from server.cli import main
from server.db import Database
from server.office import create_person
from server.settings import BadSetting, Settings
from tests.server.conftest import OURS, SECRET, Browser, People
from webui.record import parse, text_hash


@pytest.mark.parametrize(
    ("form", "status", "says"),
    [
        ({"name": "technician", "password": "wrong-wrong"}, 403, "do not belong together"),
        ({"name": "nobody-here", "password": SECRET}, 403, "do not belong together"),
        ({"name": "", "password": SECRET}, 400, "Give the name"),
        ({"name": "technician", "password": ""}, 400, "Give your password"),
    ],
)
def test_a_sign_in_that_is_refused_keeps_the_name_and_says_what_to_do(
    app: Flask, form: dict[str, str], status: int, says: str
) -> None:
    answer = app.test_client().post("/sign-in", data=form, headers=OURS)
    page = answer.get_data(as_text=True)
    assert answer.status_code == status
    assert says in page
    assert f'value="{form["name"]}"' in page
    assert SECRET not in page
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize(
    ("asked", "led"),
    [
        ("/places", "/places"),
        ("/sheet/x?y=1", "/sheet/x?y=1"),
        ("//elsewhere.example", "/"),
        ("https://elsewhere.example/", "/"),
        ("/\\elsewhere.example", "/"),
        ("/\n/elsewhere.example", "/"),
        ("javascript:alert(1)", "/"),
        ("", "/"),
    ],
)
def test_nobody_is_led_elsewhere(app: Flask, asked: str, led: str) -> None:
    form = {"name": "Technician ", "password": SECRET, "next": asked}
    assert app.test_client().post("/sign-in", data=form, headers=OURS).headers["Location"] == led


def test_after_five_failures_a_name_rests_whether_it_exists_or_not(app: Flask) -> None:
    client = app.test_client()
    for name in ("technician", "nobody-here"):
        for _ in range(accounts.Throttle.free):
            client.post("/sign-in", data={"name": name, "password": "wrong-wrong"}, headers=OURS)
        answer = client.post("/sign-in", data={"name": name, "password": SECRET}, headers=OURS)
        assert "Too many attempts" in answer.get_data(as_text=True)


def test_signing_out_ends_the_session_for_good(app: Flask, technician: Browser) -> None:
    cookie = technician.client.get_cookie(accounts.COOKIE)
    assert cookie is not None
    assert technician.sync("hello", {"device": None, "build": ""}).status_code == 200
    assert technician.client.post("/sign-out", headers=OURS).status_code == 303
    thief = Browser(app)
    thief.client.set_cookie(accounts.COOKIE, cookie.value)
    assert thief.sync("hello", {"device": None, "build": ""}).status_code == 401


def test_a_session_ends_ninety_days_after_its_last_use(
    app: Flask, technician: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = accounts.now_seconds()
    day = 86_400
    for passed, status in ((89 * day, 200), (89 * day + 89 * day, 200), (89 * day * 2 + 90 * day, 401)):
        monkeypatch.setattr(accounts, "now_seconds", lambda passed=passed: now + passed)
        assert technician.sync("hello", {"device": None, "build": ""}).status_code == status


def test_a_made_up_cookie_is_nobody(app: Flask, people: People) -> None:
    for cookie in ("", "x", f"{people.technician.company}.", f"{people.technician.company}.guess", "é.é"):
        stranger = Browser(app)
        stranger.client.set_cookie(accounts.COOKIE, cookie)
        assert stranger.sync("hello", {"device": None, "build": ""}).status_code == 401


@pytest.mark.parametrize(
    ("sign_in", "role", "secret", "says"),
    [
        ("technician", "technician", SECRET, "is taken"),
        ("", "technician", SECRET, "1 to 200"),
        ("new", "owner", SECRET, "technician or supervisor"),
        ("new", "technician", "short", "8 to 200"),
    ],
)
def test_an_account_that_cannot_be(
    database: Database, people: People, sign_in: str, role: str, secret: str, says: str
) -> None:
    with pytest.raises(accounts.BadAccount, match=says):
        create_person(database, people.technician.company, sign_in, "N", role, secret)


def test_the_console_adds_people_exports_and_rebuilds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("DEWBOOK_DATA", str(tmp_path / "new" / "folder"))
    monkeypatch.delenv("DEWBOOK_DATABASE", raising=False)
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{SECRET}\n"))
    add = ["person", "add", "ada", "--name", "Ada", "--company", "A firm", "--role", "supervisor"]
    assert main(add) == 0
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{SECRET}\n"))
    assert main(add) == 2
    assert "is taken" in capsys.readouterr().err
    assert main(["export"]) == 0
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [line["number"] for line in lines] == [1]
    assert parse(lines[0]["text"]).hash == text_hash(lines[0]["text"])
    assert main(["export", "--company", "Nobody"]) == 2
    assert "A firm" in capsys.readouterr().err
    assert main(["db", "upgrade"]) == 0
    assert main(["db", "rebuild"]) == 0
    assert "1 subjects" in capsys.readouterr().out


@pytest.mark.parametrize("change", [{"session_days": "0"}, {"session_days": "x"}, {"trust_proxy": "maybe"}])
def test_a_setting_that_cannot_be_is_named(change: dict[str, str]) -> None:
    with pytest.raises(BadSetting, match="DEWBOOK_"):
        Settings(**change).check()


def test_settings_come_from_the_environment_and_empty_ones_do_not_count() -> None:
    found = Settings.from_environment({"DEWBOOK_DATA": "/srv/book", "DEWBOOK_SESSION_DAYS": " "})
    assert found.database_url == "sqlite:////srv/book/dewbook.sqlite"
    assert found.session_seconds == 90 * 86_400
