"""The first tables: companies, people, sign-in, devices, sessions, entries and what is folded from them."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_ID = sa.String(36)
_HASH = sa.String(64)
_INSTANT = sa.String(40)


def _company() -> sa.Column:
    return sa.Column("company", _ID, nullable=False)


def _key(table: str, *columns: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint("company", *columns, name=f"pk_{table}")


def _firm(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(["company"], ["company.company"], name=f"fk_{table}_company")


def _belongs(table: str, column: str, to: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["company", column], [f"{to}.company", f"{to}.id"], name=f"fk_{table}_company_{column}"
    )


def upgrade() -> None:
    op.create_table("company", _company(), sa.Column("name", sa.String(200), nullable=False), _key("company"))
    op.create_table(
        "counter",
        _company(),
        sa.Column("number", sa.BigInteger, nullable=False),
        sa.Column("epoch", _ID, nullable=False),
        _key("counter"),
        _firm("counter"),
    )
    op.create_table(
        "person",
        _company(),
        sa.Column("id", _ID, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("role", sa.String(20), nullable=False),
        sa.Column("secret", sa.String(200), nullable=False),
        sa.Column("active", sa.Boolean, nullable=False),
        _key("person", "id"),
        _firm("person"),
    )
    op.create_table(
        "sign_in_name",
        sa.Column("name", sa.String(200), nullable=False),
        _company(),
        sa.Column("person", _ID, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_sign_in_name"),
        _belongs("sign_in_name", "person", "person"),
    )
    op.create_table(
        "device",
        _company(),
        sa.Column("id", _ID, nullable=False),
        sa.Column("person", _ID, nullable=False),
        sa.Column("host", sa.String(20), nullable=False),
        sa.Column("build", sa.String(80), nullable=False),
        sa.Column("registered_at", _INSTANT, nullable=False),
        sa.Column("seen_at", _INSTANT, nullable=False),
        sa.Column("seq", sa.BigInteger, nullable=False),
        sa.Column("prev", _HASH, nullable=False),
        _key("device", "id"),
        _belongs("device", "person", "person"),
    )
    op.create_table(
        "session",
        _company(),
        sa.Column("token", _HASH, nullable=False),
        sa.Column("person", _ID, nullable=False),
        sa.Column("device", _ID),
        sa.Column("made_at", sa.BigInteger, nullable=False),
        sa.Column("used_at", sa.BigInteger, nullable=False),
        sa.Column("ended", sa.Boolean, nullable=False),
        _key("session", "token"),
        _belongs("session", "person", "person"),
        _belongs("session", "device", "device"),
    )
    op.create_table(
        "entry",
        _company(),
        sa.Column("id", _ID, nullable=False),
        sa.Column("number", sa.BigInteger, nullable=False),
        sa.Column("subject_kind", sa.String(40), nullable=False),
        sa.Column("subject", _ID, nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("schema", sa.Integer, nullable=False),
        sa.Column("by", _ID, nullable=False),
        sa.Column("device", _ID, nullable=False),
        sa.Column("seq", sa.BigInteger, nullable=False),
        sa.Column("hash", _HASH, nullable=False),
        sa.Column("made_at", _INSTANT, nullable=False),
        sa.Column("received_at", _INSTANT, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        _key("entry", "id"),
        sa.UniqueConstraint("company", "number", name="uq_entry_company_number"),
        sa.UniqueConstraint("company", "device", "seq", name="uq_entry_company_device_seq"),
        _belongs("entry", "by", "person"),
        _belongs("entry", "device", "device"),
    )
    op.create_table(
        "withheld",
        _company(),
        sa.Column("device", _ID, nullable=False),
        sa.Column("seq", sa.BigInteger, nullable=False),
        sa.Column("hash", _HASH, nullable=False),
        sa.Column("code", sa.String(40), nullable=False),
        sa.Column("received_at", _INSTANT, nullable=False),
        _key("withheld", "device", "seq"),
        _belongs("withheld", "device", "device"),
    )
    op.create_table(
        "entry_subject",
        _company(),
        sa.Column("subject_kind", sa.String(40), nullable=False),
        sa.Column("subject", _ID, nullable=False),
        sa.Column("entry", _ID, nullable=False),
        sa.Column("number", sa.BigInteger, nullable=False),
        _key("entry_subject", "subject_kind", "subject", "entry"),
        _belongs("entry_subject", "entry", "entry"),
    )
    for table in ("entry", "entry_subject"):
        op.create_index(
            f"ix_{table}_company_subject_kind_subject_number", table, ["company", "subject_kind", "subject", "number"]
        )
    op.create_table(
        "state",
        _company(),
        sa.Column("subject_kind", sa.String(40), nullable=False),
        sa.Column("subject", _ID, nullable=False),
        sa.Column("status", sa.String(40), nullable=False),
        sa.Column("parent", _ID),
        sa.Column("place", _ID),
        sa.Column("person", _ID),
        sa.Column("number", sa.BigInteger, nullable=False),
        sa.Column("fold_version", sa.Integer, nullable=False),
        sa.Column("summary", sa.Text, nullable=False),
        _key("state", "subject_kind", "subject"),
    )
    for column in ("status", "parent", "person"):
        op.create_index(f"ix_state_company_subject_kind_{column}", "state", ["company", "subject_kind", column])
