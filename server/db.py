"""The database: engine, durability, transactions, schema.

What is acknowledged must survive a power cut: SQLite runs with synchronous=FULL (NORMAL may lose the last commits of a
WAL), PostgreSQL with synchronous_commit=on. Writes on SQLite begin with BEGIN IMMEDIATE, for the driver would otherwise
take the write lock late and fail instead of waiting.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, create_engine, event, make_url

_BUSY_MS = 10_000
_MIGRATIONS = Path(__file__).resolve().parent / "migrations"
_WRITES = "dewbook_writes"
_SQLITE_PRAGMAS = (
    ("busy_timeout", _BUSY_MS, _BUSY_MS),  # first, for the change to WAL below may have to wait for another process
    ("journal_mode", "WAL", "wal"),
    ("synchronous", "FULL", 2),
    ("foreign_keys", "ON", 1),
)


class Database:
    """One database by its URL. Opens nothing until first used."""

    def __init__(self, url: str) -> None:
        self.url = make_url(url)
        if self.is_sqlite and self.url.database:
            Path(self.url.database).parent.mkdir(parents=True, exist_ok=True)
        self.engine = _engine(self.url.render_as_string(hide_password=False), self.is_sqlite)

    @property
    def is_sqlite(self) -> bool:
        return self.url.get_backend_name() == "sqlite"

    @contextmanager
    def read(self) -> Iterator[Connection]:
        """A transaction that only reads, of one moment."""
        with self.engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def write(self) -> Iterator[Connection]:
        """A transaction that holds the right to write from its start; leaving it without an error commits to disk."""
        with self.engine.connect() as plain:
            connection = plain.execution_options(**{_WRITES: True})
            with connection.begin():
                yield connection

    def upgrade(self, revision: str = "head") -> None:
        """Bring the schema to a revision, by default the newest."""
        with self.write() as connection:
            command.upgrade(self._alembic(connection), revision)

    def _alembic(self, connection: Connection) -> Config:
        config = Config()
        config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
        config.attributes["connection"] = connection
        return config

    def close(self) -> None:
        self.engine.dispose()


def _engine(url: str, is_sqlite: bool) -> Engine:
    engine = create_engine(url, pool_size=16, max_overflow=48, pool_pre_ping=not is_sqlite)
    event.listen(engine, "connect", _prepare_sqlite if is_sqlite else _prepare_postgresql)
    if is_sqlite:
        event.listen(engine, "begin", _begin_sqlite)
    return engine


class NotDurable(Exception):
    """The database does not keep a promise that the record rests on; nothing is read or written through it."""


def _prepare_sqlite(raw: Any, record: Any) -> None:
    raw.isolation_level = None  # the driver begins nothing by itself; _begin_sqlite does
    cursor = raw.cursor()
    for pragma, value, expected in _SQLITE_PRAGMAS:
        cursor.execute(f"PRAGMA {pragma}={value}")
        cursor.execute(f"PRAGMA {pragma}")
        found = cursor.fetchone()[0]
        if found != expected:
            raise NotDurable(f"SQLite was asked for {pragma}={value} and has {found!r}; it may lie on a network disk")
    cursor.close()


def _begin_sqlite(connection: Connection) -> None:
    writes = connection.get_execution_options().get(_WRITES)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _prepare_postgresql(raw: Any, record: Any) -> None:
    with raw.cursor() as cursor:
        cursor.execute("SET synchronous_commit TO on")
    raw.commit()
