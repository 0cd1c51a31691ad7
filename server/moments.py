"""The server's clock, read at the edge only."""

from __future__ import annotations

import time
from datetime import UTC, datetime


def now_utc() -> str:
    """This moment as 2026-11-25T09:30:00Z."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def now_seconds() -> int:
    """Seconds since 1970."""
    return int(time.time())
