"""Companies, people, sign-in, sessions and devices."""

from __future__ import annotations

import hashlib
import secrets
import threading
import time
from collections import OrderedDict
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlalchemy import Connection, insert, select

from server import models
from server.ids import new_id
from server.moments import now_seconds, now_utc
from server.rights import ROLES
from server.scope import Scope
from webui.page import Person
from webui.record import is_uuid

COOKIE = "dewbook_session"
SHORTEST_SECRET = 8
_LONGEST_SECRET = 200
_HASHER = PasswordHasher()
_TOUCH_SECONDS = 3600  # a session's last use is written at most this often


class NotAccepted(Exception):
    """A sign-in that is refused; why is fit to be shown and does not tell whether the name exists."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


class BadAccount(Exception):
    """An account that cannot be made; says why."""


@dataclass(frozen=True)
class Signed:
    """Who a request comes from: the person and their session."""

    person: Person
    token: str  # the session row's key (a hash, not the secret)
    used_at: int  # seconds since 1970

    @property
    def stale(self) -> bool:
        """Whether the session's last use should be written down again."""
        return self.used_at + _TOUCH_SECONDS <= now_seconds()


class Throttle:
    """After five failures on a name in a row it rests for a while, known name or not; per server process."""

    free, longest_rest_seconds, most_names = 5, 300, 10_000

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._failures: OrderedDict[str, tuple[int, float]] = OrderedDict()

    def rest_seconds(self, name: str) -> int:
        """How long this name has to wait from now on; 0 if not at all."""
        with self._lock:
            count, last = self._failures.get(name, (0, 0.0))
        if count < self.free:
            return 0
        rest = min(2 ** (count - self.free) * 5, self.longest_rest_seconds)
        return max(0, round(last + rest - time.monotonic()))

    def failed(self, name: str) -> None:
        with self._lock:
            count, _ = self._failures.pop(name, (0, 0.0))
            self._failures[name] = (min(count + 1, 32), time.monotonic())
            while len(self._failures) > self.most_names:
                self._failures.popitem(last=False)

    def passed(self, name: str) -> None:
        with self._lock:
            self._failures.pop(name, None)


def add_company(connection: Connection, name: str) -> str:
    """Make a company with its counter; gives its id."""
    company = new_id()
    connection.execute(insert(models.company).values(company=company, name=name))
    connection.execute(insert(models.counter).values(company=company, number=0, epoch=new_id()))
    return company


def company_named(connection: Connection, name: str) -> str | None:
    """The id of the company of that name, or None."""
    row = connection.execute(select(models.company.c.company).where(models.company.c.name == name)).first()
    return row.company if row else None


def add_person(connection: Connection, company: str, sign_in: str, name: str, role: str, secret: str) -> Person:
    """Make a person who signs in as `sign_in`. Raises BadAccount where that cannot be."""
    sign_in = sign_in.strip().lower()
    if not sign_in or len(sign_in) > 200:
        raise BadAccount("the sign-in name has 1 to 200 characters")
    if role not in ROLES:
        raise BadAccount(f"the role is technician or supervisor, not {role!r}")
    if not SHORTEST_SECRET <= len(secret) <= _LONGEST_SECRET:
        raise BadAccount(f"the password has {SHORTEST_SECRET} to {_LONGEST_SECRET} characters")
    if connection.execute(select(models.sign_in_name).where(models.sign_in_name.c.name == sign_in)).first():
        raise BadAccount(f"the sign-in name {sign_in!r} is taken; choose another")
    person_id = new_id()
    scope = Scope(connection, company)
    row = {"id": person_id, "name": name, "role": role, "secret": _HASHER.hash(secret), "active": True}
    scope.insert(models.person, [row])
    connection.execute(insert(models.sign_in_name).values(name=sign_in, company=company, person=person_id))
    return _person(scope, scope.first(scope.select(models.person).where(models.person.c.id == person_id)))


def check_secret(connection: Connection, sign_in: str, secret: str, throttle: Throttle) -> tuple[str, str]:
    """Whether name and password belong together; gives (company, person id).

    Raises NotAccepted. An unknown name takes the same work as a wrong password.
    """
    name = sign_in.strip().lower()[:200]
    rest = throttle.rest_seconds(name)
    if rest:
        raise NotAccepted(f"Too many attempts with this name. Wait {rest} seconds, then try again.")
    row = connection.execute(select(models.sign_in_name).where(models.sign_in_name.c.name == name)).first()
    known = None
    if row is not None:
        scope = Scope(connection, row.company)
        known = scope.first(scope.select(models.person).where(models.person.c.id == row.person))
    good = _verify(known.secret if known else _dummy(), secret[:_LONGEST_SECRET])
    if not (good and known is not None and known.active):
        throttle.failed(name)
        raise NotAccepted("This name and password do not belong together. Check both and try again.")
    throttle.passed(name)
    return known.company, known.id


def open_session(scope: Scope, person_id: str) -> str:
    """Start a session; gives the cookie's value."""
    secret = secrets.token_urlsafe(32)
    now = now_seconds()
    row = {
        "token": fingerprint(secret),
        "person": person_id,
        "device": None,
        "made_at": now,
        "used_at": now,
        "ended": False,
    }
    scope.insert(models.session, [row])
    return f"{scope.company}.{secret}"


def signed_in(connection: Connection, cookie: str, session_seconds: int) -> Signed | None:
    """Who a cookie stands for, or None where it is unknown, too old, ended, or its person has left."""
    company, _, secret = cookie.partition(".")
    if not is_uuid(company) or not secret:
        return None
    scope = Scope(connection, company)
    row = scope.first(scope.select(models.session).where(models.session.c.token == fingerprint(secret)))
    if row is None or row.ended or row.used_at + session_seconds <= now_seconds():
        return None
    found = scope.first(scope.select(models.person).where(models.person.c.id == row.person))
    if found is None or not found.active:
        return None
    return Signed(_person(scope, found), row.token, row.used_at)


def touch(scope: Scope, signed: Signed) -> None:
    """Write down that a session was used now (90 days count from its last use)."""
    table = models.session
    scope.connection.execute(scope.update(table).where(table.c.token == signed.token).values(used_at=now_seconds()))


def end_session(scope: Scope, signed: Signed) -> None:
    """Sign out: the session is good for nothing from now on."""
    table = models.session
    scope.connection.execute(scope.update(table).where(table.c.token == signed.token).values(ended=True))


def register_device(scope: Scope, person_id: str, host: str, build: str = "", device: str = "") -> str:
    """Register a device to a person, under a new id where it brings none; gives its id."""
    device, now = device or new_id(), now_utc()
    row = {"id": device, "person": person_id, "host": host, "build": build[:80], "registered_at": now, "seen_at": now}
    scope.insert(models.device, [{**row, "seq": 0, "prev": ""}])
    return device


def phone_device(scope: Scope, person_id: str, claimed: object, build: str) -> str:
    """The id under which a phone works for a person; registers it where it is not known here yet.

    An id that this database has never seen keeps its phone: the database may have been restored from an older copy,
    and the phone's entries carry that id. One that belongs to somebody else, or is not an id, is replaced.
    """
    table = models.device
    row = scope.first(scope.select(table).where(table.c.id == claimed)) if is_uuid(claimed) else None
    if row is None:
        return register_device(scope, person_id, "phone", build, str(claimed) if is_uuid(claimed) else "")
    if row.person != person_id or row.host != "phone":
        return register_device(scope, person_id, "phone", build)
    seen = scope.update(table).where(table.c.id == row.id).values(build=build[:80], seen_at=now_utc())
    scope.connection.execute(seen)
    return str(row.id)


def server_device(scope: Scope, signed: Signed) -> str:
    """The device that a session's writings on the server are made on; registered at the first one."""
    table = models.session
    row = scope.first(scope.select(table).where(table.c.token == signed.token))
    if row.device:
        found: str = row.device
        return found
    device = register_device(scope, signed.person.id, "server")
    scope.connection.execute(scope.update(table).where(table.c.token == signed.token).values(device=device))
    return device


def _person(scope: Scope, row: Any) -> Person:
    firm = scope.connection.execute(scope.select(models.company)).one()
    return Person(row.id, row.name, scope.company, firm.name, row.role)


def fingerprint(text: str) -> str:
    """SHA-256 in hexadecimal: what is stored of a cookie's secret."""
    return hashlib.sha256(text.encode()).hexdigest()


def _verify(secret_hash: str, secret: str) -> bool:
    try:
        return _HASHER.verify(secret_hash, secret)
    except (VerificationError, InvalidHashError):
        return False


@lru_cache(maxsize=1)
def _dummy() -> str:
    return _HASHER.hash(secrets.token_urlsafe(16))
