"""What the parts of the application share: settings, database, sign-in throttle; and who calls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from flask import Flask, current_app, request
from sqlalchemy import Connection

from server import accounts
from server.accounts import Signed, Throttle
from server.db import Database
from server.scope import Scope
from server.settings import Settings

_NAME = "dewbook"


@dataclass(frozen=True)
class Host:
    """One application's shared parts."""

    settings: Settings
    database: Database
    throttle: Throttle


def attach(app: Flask, settings: Settings) -> Host:
    """Give an application its shared parts."""
    made = Host(settings, Database(settings.database_url), Throttle())
    app.extensions[_NAME] = made
    return made


def host() -> Host:
    """The shared parts of the application that answers now."""
    return cast(Host, current_app.extensions[_NAME])


def caller(connection: Connection) -> Signed | None:
    """Who the present request comes from, by its cookie."""
    cookie = request.cookies.get(accounts.COOKIE, "")
    return accounts.signed_in(connection, cookie, host().settings.session_seconds) if cookie else None


def keep_alive(signed: Signed) -> None:
    """Write down now and then that a session is in use; call it outside any transaction."""
    if signed.stale:
        with host().database.write() as connection:
            accounts.touch(Scope(connection, signed.person.company), signed)
