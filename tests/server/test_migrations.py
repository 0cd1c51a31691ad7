"""The schema, from nothing to the newest, is what server.models says; keys begin with company."""

from __future__ import annotations

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import inspect

from server.db import Database
from server.models import metadata


def test_from_nothing_to_what_the_models_say(database: Database) -> None:
    with database.read() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []


def test_upgrading_again_changes_nothing(database: Database) -> None:
    database.upgrade()
    with database.read() as connection:
        assert set(inspect(connection).get_table_names()) == {*metadata.tables, "alembic_version"}


@pytest.mark.parametrize("name", sorted(set(metadata.tables) - {"sign_in_name"}))
def test_every_key_begins_with_company(name: str) -> None:
    table = metadata.tables[name]
    assert next(column.name for column in table.primary_key) == "company"
    for key in table.foreign_key_constraints:
        assert key.column_keys[0] == "company"


def test_sqlite_keeps_its_promises(database: Database) -> None:
    if not database.is_sqlite:
        return
    with database.read() as connection:
        found = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys")
        }
    # https://www.sqlite.org/pragma.html: synchronous 2 is FULL
    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}
