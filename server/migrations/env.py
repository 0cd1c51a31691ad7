"""Alembic's entry: runs the migrations on the connection that server.db hands in."""

from alembic import context

from server.models import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    transaction_per_migration=False,
)
with context.begin_transaction():
    context.run_migrations()
