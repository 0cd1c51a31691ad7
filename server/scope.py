"""The one place where a company's rows are told from another's.

Every statement on company rows is made here: a Scope adds its company to each WHERE and to each row it inserts, so that
no query elsewhere can forget it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import ColumnElement, Connection, Delete, Select, Table, Update, delete, insert, select, update


class Scope:
    """A connection, seen by one company."""

    def __init__(self, connection: Connection, company: str) -> None:
        self.connection = connection
        self.company = company

    def select(self, table: Table, *columns: ColumnElement[Any]) -> Select[Any]:
        """SELECT the columns (all, where none is named) of this company's rows."""
        return select(*(columns or (table,))).where(table.c.company == self.company)

    def update(self, table: Table) -> Update:
        """UPDATE this company's rows."""
        return update(table).where(table.c.company == self.company)

    def delete(self, table: Table) -> Delete:
        """DELETE this company's rows (of what is derived or passed over; entries are never deleted)."""
        return delete(table).where(table.c.company == self.company)

    def insert(self, table: Table, rows: Iterable[Mapping[str, Any]]) -> None:
        """Insert rows of this company."""
        owned = [{**row, "company": self.company} for row in rows]
        if owned:
            self.connection.execute(insert(table), owned)

    def rows(self, statement: Select[Any]) -> list[Any]:
        return list(self.connection.execute(statement))

    def first(self, statement: Select[Any]) -> Any:
        """The first row, or None."""
        return self.connection.execute(statement).first()
