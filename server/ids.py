"""New ids: UUIDs of version 7, which sort by the time they were made (RFC 9562, section 5.7)."""

from __future__ import annotations

import secrets
import time
import uuid


def new_id() -> str:
    """A fresh UUIDv7 in lower case: 48 bits of milliseconds, 74 random bits."""
    milliseconds = time.time_ns() // 1_000_000
    value = (milliseconds & (2**48 - 1)) << 80 | secrets.randbits(80)
    value = value & ~(0xF << 76) | 0x7 << 76
    value = value & ~(0x3 << 62) | 0x2 << 62
    return str(uuid.UUID(int=value))
