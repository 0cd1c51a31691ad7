"""What an id looks like: a UUID in its usual lower-case form."""

from __future__ import annotations

import re

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")


def is_uuid(text: object) -> bool:
    """Whether text is a UUID as the record writes them (36 characters, lower case)."""
    return isinstance(text, str) and _UUID.fullmatch(text) is not None
