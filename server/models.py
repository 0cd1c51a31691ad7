"""The tables. Every primary key begins with company, and every foreign key carries it, so that the whole can be spread
by company; only sign-in names are known across companies.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    ForeignKeyConstraint,
    Index,
    Integer,
    MetaData,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
    UniqueConstraint,
)

metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    }
)
_ID = String(36)
_HASH = String(64)
_INSTANT = String(40)


def _company() -> Column[str]:
    return Column("company", _ID, nullable=False)


def _belongs(column: str, to: str) -> ForeignKeyConstraint:
    return ForeignKeyConstraint(["company", column], [f"{to}.company", f"{to}.id"])


company = Table(
    "company", metadata, Column("company", _ID, primary_key=True), Column("name", String(200), nullable=False)
)

# The counter numbers a company's entries; its row lock makes commit order equal number order. The epoch changes when a
# database is restored from a copy, so that phones offer everything again.
counter = Table(
    "counter",
    metadata,
    _company(),
    Column("number", BigInteger, nullable=False),
    Column("epoch", _ID, nullable=False),
    PrimaryKeyConstraint("company"),
    ForeignKeyConstraint(["company"], ["company.company"]),
)

person = Table(
    "person",
    metadata,
    _company(),
    Column("id", _ID, nullable=False),
    Column("name", String(200), nullable=False),
    Column("role", String(20), nullable=False),
    Column("secret", String(200), nullable=False),  # argon2 hash
    Column("active", Boolean, nullable=False),
    PrimaryKeyConstraint("company", "id"),
    ForeignKeyConstraint(["company"], ["company.company"]),
)

sign_in_name = Table(
    "sign_in_name",
    metadata,
    Column("name", String(200), primary_key=True),
    _company(),
    Column("person", _ID, nullable=False),
    _belongs("person", "person"),
)

device = Table(
    "device",
    metadata,
    _company(),
    Column("id", _ID, nullable=False),
    Column("person", _ID, nullable=False),
    Column("host", String(20), nullable=False),  # "phone" or "server"
    Column("build", String(80), nullable=False),
    Column("registered_at", _INSTANT, nullable=False),
    Column("seen_at", _INSTANT, nullable=False),
    Column("seq", BigInteger, nullable=False),  # of its last entry here, 0 before the first
    Column("prev", _HASH, nullable=False),  # hash of that entry, "" before the first
    PrimaryKeyConstraint("company", "id"),
    _belongs("person", "person"),
)

session = Table(
    "session",
    metadata,
    _company(),
    Column("token", _HASH, nullable=False),  # SHA-256 of the cookie's secret part
    Column("person", _ID, nullable=False),
    Column("device", _ID),  # the server device of its writings; made at the first one
    Column("made_at", BigInteger, nullable=False),  # seconds since 1970
    Column("used_at", BigInteger, nullable=False),
    Column("ended", Boolean, nullable=False),
    PrimaryKeyConstraint("company", "token"),
    _belongs("person", "person"),
    _belongs("device", "device"),
)

entry = Table(
    "entry",
    metadata,
    _company(),
    Column("id", _ID, nullable=False),
    Column("number", BigInteger, nullable=False),
    Column("subject_kind", String(40), nullable=False),
    Column("subject", _ID, nullable=False),
    Column("kind", String(40), nullable=False),
    Column("schema", Integer, nullable=False),
    Column("by", _ID, nullable=False),
    Column("device", _ID, nullable=False),
    Column("seq", BigInteger, nullable=False),
    Column("hash", _HASH, nullable=False),
    Column("made_at", _INSTANT, nullable=False),
    Column("received_at", _INSTANT, nullable=False),
    Column("text", Text, nullable=False),  # byte for byte as it was made
    PrimaryKeyConstraint("company", "id"),
    UniqueConstraint("company", "number"),
    UniqueConstraint("company", "device", "seq"),
    _belongs("by", "person"),
    _belongs("device", "device"),
    Index(None, "company", "subject_kind", "subject", "number"),
)

# Places in a device's chain whose entry was read but not taken in: the chain goes on after them, so that one refused
# entry never holds up the rest, and the same entry may be taken in later (by a newer server, or with other rights).
withheld = Table(
    "withheld",
    metadata,
    _company(),
    Column("device", _ID, nullable=False),
    Column("seq", BigInteger, nullable=False),
    Column("hash", _HASH, nullable=False),
    Column("code", String(40), nullable=False),
    Column("received_at", _INSTANT, nullable=False),
    PrimaryKeyConstraint("company", "device", "seq"),
    _belongs("device", "device"),
)

# Where an entry is found: under its own subject and under those it touches.
entry_subject = Table(
    "entry_subject",
    metadata,
    _company(),
    Column("subject_kind", String(40), nullable=False),
    Column("subject", _ID, nullable=False),
    Column("entry", _ID, nullable=False),
    Column("number", BigInteger, nullable=False),
    PrimaryKeyConstraint("company", "subject_kind", "subject", "entry"),
    _belongs("entry", "entry"),
    Index(None, "company", "subject_kind", "subject", "number"),
)

# What lists and the Board show of a subject: webui.record.summary, made again in the transaction that adds an entry.
state = Table(
    "state",
    metadata,
    _company(),
    Column("subject_kind", String(40), nullable=False),
    Column("subject", _ID, nullable=False),
    Column("status", String(40), nullable=False),
    Column("parent", _ID),
    Column("place", _ID),
    Column("person", _ID),
    Column("number", BigInteger, nullable=False),
    Column("fold_version", Integer, nullable=False),
    Column("summary", Text, nullable=False),
    PrimaryKeyConstraint("company", "subject_kind", "subject"),
    Index(None, "company", "subject_kind", "status"),
    Index(None, "company", "subject_kind", "parent"),
    Index(None, "company", "subject_kind", "person"),
)
