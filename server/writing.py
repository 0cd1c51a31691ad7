"""The pen of a server device: what a page needs to make entries."""

from __future__ import annotations

from server import models
from server.ids import new_id
from server.scope import Scope
from webui.page import Pen

_IDS_AT_HAND = 16


def pen_of(scope: Scope, device: str) -> Pen:
    """The right to write for a device: next place in its row, hash of its last entry, and fresh ids."""
    table = models.device
    row = scope.connection.execute(scope.select(table).where(table.c.id == device)).one()
    return Pen(device, row.seq + 1, row.prev, tuple(new_id() for _ in range(_IDS_AT_HAND)))
