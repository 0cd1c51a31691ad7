"""What a page is told of the reader's surroundings: their clock's offset and the units they are used to."""

from __future__ import annotations

from datetime import datetime

from flask import request

OFFSET_COOKIE = "dewbook_offset"  # minutes of the browser's clock ahead of UTC, set by the pages' script
_MOST_MINUTES = 18 * 60
_CUSTOMARY = {"us", "lr", "mm"}  # countries that work in US customary units; common knowledge, no source


def offset_minutes() -> int:
    """Minutes the reader's clock is ahead of UTC; this server's own where the browser has not said."""
    said = request.cookies.get(OFFSET_COOKIE, "")
    digits = said.removeprefix("-")
    if digits.isascii() and digits.isdigit() and len(digits) <= 4 and int(digits) <= _MOST_MINUTES:
        return int(said)
    here = datetime.now().astimezone().utcoffset()
    return int(here.total_seconds() // 60) if here else 0


def units() -> str:
    """The system shown where nothing was typed: us, unless the browser's first language names another country."""
    first = next(iter(request.accept_languages.values()), "en-US").lower()
    language, _, region = first.partition("-")
    if not region:
        return "us" if language == "en" else "metric"
    return "us" if region in _CUSTOMARY else "metric"
