"""What is done at the office's own console, each in a transaction of its own: firms, people, entries, upkeep.

The demo and the command line come in here; requests do not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sqlalchemy import select

from server import accounts, models, store
from server.db import Database
from server.folded import refold, subjects_to_refold
from server.ids import new_id
from server.moments import now_utc
from server.scope import Scope
from server.writing import pen_of
from webui.page import Pen, Person, Ref, Request
from webui.record import Writer

_SUBJECTS_AT_ONCE = 200
_ROWS_AT_ONCE = 500


class Refused(Exception):
    """Entries that the store did not take in; nothing of their batch was kept."""


def create_company(database: Database, name: str) -> str:
    """The id of the company of that name; made where there is none."""
    with database.write() as connection:
        return accounts.company_named(connection, name) or accounts.add_company(connection, name)


def create_person(database: Database, company: str, sign_in: str, name: str, role: str, secret: str) -> Person:
    """Make a person who can sign in, and the entry that tells colleagues' phones who they are.

    Raises accounts.BadAccount where sign-in name, role or password cannot be.
    """
    with database.write() as connection:
        person = accounts.add_person(connection, company, sign_in, name, role, secret)
        scope = Scope(connection, company)
        pen = pen_of(scope, accounts.register_device(scope, person.id, "server"))
        writer = Writer(Request("POST", "", person=person, pen=pen, now=now_utc()))
        writer.add("person", Ref("person", person.id), {"name": name, "role": role, "status": "active"})
        # who is who is the supervisor's to write, and whoever sits at the console stands in for them
        _append(scope, replace(person, role="supervisor"), writer.texts, now_utc())
        return person


def register_device(database: Database, person: Person) -> str:
    """A new device of a person; gives its id."""
    with database.write() as connection:
        return accounts.register_device(Scope(connection, person.company), person.id, "server")


def pen(database: Database, person: Person, device: str) -> Pen:
    """The pen of a device as its last kept entry left it, for webui.record.Writer."""
    with database.read() as connection:
        return pen_of(Scope(connection, person.company), device)


def keep(database: Database, person: Person, texts: Sequence[str], received_at: str | None = None) -> dict[str, int]:
    """Keep a person's entry texts, all or none; gives the number of each id. Raises Refused."""
    with database.write() as connection:
        return _append(Scope(connection, person.company), person, texts, received_at or now_utc())


def _append(scope: Scope, person: Person, texts: Sequence[str], received_at: str) -> dict[str, int]:
    outcome = store.append(scope, person, texts, received_at)
    if outcome.refused:
        raise Refused("; ".join(f"{one.id}: {one.code}: {one.why}" for one in outcome.refused))
    return outcome.accepted


def companies(database: Database) -> list[tuple[str, str]]:
    """(id, name) of every company, by name."""
    with database.read() as connection:
        table = models.company
        return [(row.company, row.name) for row in connection.execute(select(table).order_by(table.c.name))]


def rebuild(database: Database, everything: bool = False) -> int:
    """Fold again what is missing or was folded by another version (or everything); gives how many subjects."""
    made = 0
    for company, _ in companies(database):
        with database.read() as connection:
            waiting = subjects_to_refold(Scope(connection, company), everything)
        for start in range(0, len(waiting), _SUBJECTS_AT_ONCE):
            with database.write() as connection:
                scope = Scope(connection, company)
                store.counter(scope, lock=True)
                refold(scope, waiting[start : start + _SUBJECTS_AT_ONCE])
        made += len(waiting)
    return made


def begin_epoch(database: Database) -> None:
    """After a restore from an older copy: every phone reads from the start and offers all its entries again."""
    for company, _ in companies(database):
        with database.write() as connection:
            scope = Scope(connection, company)
            store.counter(scope, lock=True)
            connection.execute(scope.update(models.counter).values(epoch=new_id()))


def exported(database: Database, company: str) -> Iterator[tuple[int, str, str]]:
    """Every entry of a company in the order of its numbers: (number, when it was received, text)."""
    table, after = models.entry, 0
    while True:
        with database.read() as connection:
            scope = Scope(connection, company)
            rows = scope.rows(
                scope.select(table, table.c.number, table.c.received_at, table.c.text)
                .where(table.c.number > after)
                .order_by(table.c.number)
                .limit(_ROWS_AT_ONCE)
            )
        if not rows:
            return
        yield from ((row.number, row.received_at, row.text) for row in rows)
        after = rows[-1].number
