"""A server with three standing people: a supervisor and two technicians of one firm, and an outsider of another."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from argon2 import PasswordHasher
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from server import accounts, office
from server.app import create_app
from server.db import Database
from server.host import Host
from server.ids import new_id
from server.settings import Settings
from webui.page import Person, Ref, Request
from webui.record import Writer

SECRET = "corrie-ladder-47"
NOW = "2026-11-25T09:30:00Z"
OURS = {"Sec-Fetch-Site": "same-origin"}
DATABASES = os.environ.get("DEWBOOK_TEST_DATABASES", "sqlite").split(",")


@pytest.fixture(autouse=True)
def cheap_hashing(monkeypatch: pytest.MonkeyPatch) -> None:
    """argon2 at its least work: how hard a password is to guess is not what most tests are about."""
    monkeypatch.setattr(accounts, "_HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))


@pytest.fixture(params=DATABASES)
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A fresh database of each kind asked for; anything but "sqlite" is the URL of an empty one."""
    return f"sqlite:///{tmp_path}/dewbook.sqlite" if request.param == "sqlite" else str(request.param)


@pytest.fixture
def database(database_url: str) -> Iterator[Database]:
    made = Database(database_url)
    made.upgrade()
    yield made
    made.close()


@dataclass(frozen=True)
class People:
    technician: Person
    colleague: Person
    supervisor: Person
    outsider: Person


@pytest.fixture
def people(database: Database) -> People:
    firm = office.create_company(database, "Firm of the tests")
    other = office.create_company(database, "Another firm")
    made = [
        office.create_person(database, company, name, name.title(), role, SECRET)
        for company, name, role in (
            (firm, "technician", "technician"),
            (firm, "colleague", "technician"),
            (firm, "supervisor", "supervisor"),
            (other, "outsider", "supervisor"),
        )
    ]
    return People(*made)


class Phone:
    """Makes entries as one device of a person does, and keeps its own chain."""

    def __init__(self, person: Person, device: str, seq: int = 1, prev: str = "") -> None:
        self.person, self.device, self.seq, self.prev = person, device, seq, prev

    def writer(self, once: str = "") -> Writer:
        from webui.page import Pen

        pen = Pen(self.device, self.seq, self.prev, tuple(new_id() for _ in range(8)))
        form = (("once", once),) if once else ()
        return Writer(Request("POST", "", form=form, person=self.person, pen=pen, now=NOW))

    def write(self, kind: str, subject: Ref | None, body: dict[str, Any], **links: Any) -> str:
        """The text of the next entry; its subject is a new one where none is given."""
        writer = self.writer()
        entry = writer.add(kind, subject or writer.fresh(kind), body, **links)
        self.seq, self.prev = self.seq + 1, entry.hash
        return entry.text

    def site(self, name: str = "Cold store") -> str:
        return self.write("site", None, {"name": name})

    def sheet(self, site: str = "", unit: str = "") -> str:
        site, unit = site or new_id(), unit or new_id()
        body = {
            "unit": unit, "unit_tag": "RTU-1", "site": site, "site_name": "Cold store", "visit": "inspect",
            "opened_by": self.person.id,
        }  # fmt: skip
        return self.write("sheet", None, body, touches=(Ref("unit", unit), Ref("site", site)))

    def note(self, sheet: Ref, text: str = "belt worn") -> str:
        return self.write("note", sheet, {"text": text})


@pytest.fixture
def phone(database: Database, people: People) -> Phone:
    return Phone(people.technician, office.register_device(database, people.technician))


@pytest.fixture
def app(database: Database, database_url: str, people: People) -> Iterator[Flask]:
    made = create_app(Settings(database=database_url))
    made.testing = True
    yield made
    host: Host = made.extensions["dewbook"]
    host.database.close()


class Browser:
    """A signed-in browser of a person."""

    def __init__(self, app: Flask, name: str = "") -> None:
        self.client: FlaskClient = app.test_client()
        if name:
            answer = self.client.post("/sign-in", data={"name": name, "password": SECRET}, headers=OURS)
            assert answer.status_code == 303

    def close(self) -> None:
        """Let go of the database."""
        host: Host = self.client.application.extensions["dewbook"]
        host.database.close()

    def sync(self, door: str, call: Any, device: str = "none", **headers: str) -> TestResponse:
        return self.client.post(f"/sync/{door}", json=call, headers=OURS | {"Dewbook-Device": device} | headers)

    def hello(self, device: str | None = None, build: str = "b1") -> dict[str, Any]:
        answer = self.sync("hello", {"device": device, "build": build})
        assert answer.status_code == 200
        found: dict[str, Any] = answer.get_json()
        return found

    def push(self, phone: Phone, *texts: str) -> dict[str, Any]:
        answer = self.sync("push", {"entries": list(texts)}, phone.device)
        assert answer.status_code == 200, answer.get_data(as_text=True)
        found: dict[str, Any] = answer.get_json()
        return found

    def pull(self, device: str, **call: Any) -> dict[str, Any]:
        answer = self.sync("pull", {"epoch": None, "after": 0, "have": [], "want": []} | call, device)
        assert answer.status_code == 200, answer.get_data(as_text=True)
        found: dict[str, Any] = answer.get_json()
        return found


@pytest.fixture
def technician(app: Flask) -> Browser:
    return Browser(app, "technician")
