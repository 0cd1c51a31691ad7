"""Acknowledged is committed: a process killed before the commit leaves nothing, and several at once lose nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from server import office
from server.db import Database
from tests.server.conftest import SECRET, People, Phone
from webui.record import parse

ROOT = Path(__file__).resolve().parents[2]

_KILLED = """
import os, signal, sys
from server import store
from server.db import Database
from server.scope import Scope
from webui.page import Person

database = Database(sys.argv[1])
person = Person(*sys.argv[2:7])
with database.write() as connection:
    outcome = store.append(Scope(connection, person.company), person, sys.argv[7:], "2026-11-25T09:30:00Z")
    assert len(outcome.accepted) == len(sys.argv[7:]) and not outcome.refused
    os.kill(os.getpid(), signal.SIGKILL)
"""

_WRITES = """
import sys
from server import office
from server.db import Database
from tests.server.conftest import Phone
from webui.page import Person

database = Database(sys.argv[1])
person = Person(*sys.argv[2:7])
phone = Phone(person, office.register_device(database, person))
for turn in range(int(sys.argv[7])):
    office.keep(database, person, [phone.site(f"site {turn}"), phone.sheet()])
"""


def fields(person: object) -> list[str]:
    return [getattr(person, name) for name in ("id", "name", "company", "company_name", "role")]


def run(script: str, *words: str) -> subprocess.Popen[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.Popen([sys.executable, "-c", script, *words], cwd=ROOT, env=environment)


def kept(database: Database, company: str) -> list[tuple[int, str]]:
    return [(number, text) for number, _, text in office.exported(database, company)]


def test_killed_before_the_commit_nothing_is_there_and_the_numbers_come_back(
    database: Database, database_url: str, people: People, phone: Phone
) -> None:
    company = people.technician.company
    before = kept(database, company)
    texts = [phone.site(), phone.sheet()]
    assert run(_KILLED, database_url, *fields(people.technician), *texts).wait(60) == -9
    assert kept(database, company) == before
    numbers = office.keep(database, people.technician, texts)
    assert list(numbers.values()) == [len(before) + 1, len(before) + 2]


def test_killed_after_the_commit_everything_is_there(
    database: Database, database_url: str, people: People, phone: Phone
) -> None:
    texts = [phone.site(), phone.sheet()]
    script = _KILLED.replace("    os.kill", "os.kill")
    assert run(script, database_url, *fields(people.technician), *texts).wait(60) == -9
    assert [text for _, text in kept(database, people.technician.company)][-2:] == texts


def test_several_processes_number_without_hole_or_double(database: Database, database_url: str, people: People) -> None:
    turns = 12
    before = len(kept(database, people.technician.company))
    crew = (people.technician, people.colleague, people.supervisor)
    running = [run(_WRITES, database_url, *fields(person), str(turns)) for person in crew]
    assert [one.wait(120) for one in running] == [0, 0, 0]
    found = kept(database, people.technician.company)
    assert [number for number, _ in found] == list(range(1, before + 2 * turns * len(crew) + 1))
    for person in crew:  # each device's chain arrived whole and in order
        own = [parse(text) for _, text in found if parse(text).by == person.id][1:]
        assert [entry.seq for entry in own] == list(range(1, 2 * turns + 1))
        assert [entry.prev for entry in own] == ["", *(entry.hash for entry in own[:-1])]


def test_a_refused_entry_undoes_its_whole_batch_at_the_console(
    database: Database, people: People, phone: Phone
) -> None:
    before = kept(database, people.technician.company)
    good = phone.site()
    phone.site()
    with pytest.raises(office.Refused, match="gap"):
        office.keep(database, people.technician, [good, phone.site()])
    assert kept(database, people.technician.company) == before


def test_rebuilding_gives_the_same_rows(database: Database, people: People, phone: Phone) -> None:
    office.keep(database, people.technician, [phone.site(), phone.sheet()])
    query = "SELECT * FROM state ORDER BY company, subject_kind, subject"
    with database.read() as connection:
        rows = connection.exec_driver_sql(query).fetchall()
    with database.write() as connection:
        connection.exec_driver_sql("UPDATE state SET fold_version = 0, summary = 'stale'")
    assert office.rebuild(database) == len(rows)
    with database.read() as connection:
        assert connection.exec_driver_sql(query).fetchall() == rows
    assert office.rebuild(database) == 0


def test_a_secret_is_kept_as_argon2_only(database: Database, people: People) -> None:
    with database.read() as connection:
        secrets = [row[0] for row in connection.exec_driver_sql("SELECT secret FROM person")]
    assert len(secrets) == 4
    assert all(one.startswith("$argon2id$") and SECRET not in one for one in secrets)
