"""Points in time as the record writes them: ISO 8601 text to the second or finer, always with an offset."""

from __future__ import annotations

import re
from datetime import datetime, timedelta, timezone

_FORM = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,6})?(Z|[+-]\d{2}:\d{2})")
_EPOCH = datetime(1970, 1, 1, tzinfo=timezone.utc)  # noqa: UP017 - the alias is younger than some of our readers
_LONGEST_OFFSET_MINUTES = 18 * 60


def microseconds(instant: str) -> int:
    """Microseconds since 1970 in UTC of an instant such as 2026-11-25T10:30:00+01:00.

    Raises ValueError where the text is no such instant; the text always carries its offset, for a time without one
    means something else on every device.
    """
    if not _FORM.fullmatch(instant):
        raise ValueError(f"{instant!r} is not an instant like 2026-11-25T10:30:00+01:00")
    return (datetime.fromisoformat(instant) - _EPOCH) // timedelta(microseconds=1)


def is_instant(text: object) -> bool:
    """Whether text is an instant that microseconds() reads."""
    if not isinstance(text, str):
        return False
    try:
        microseconds(text)
    except (ValueError, OverflowError):
        return False
    return True


def local_instant(now_utc: str, offset_minutes: int) -> str:
    """The same moment on a clock offset_minutes ahead of UTC: ("…T09:30:00Z", 60) gives "…T10:30:00+01:00"."""
    if abs(offset_minutes) > _LONGEST_OFFSET_MINUTES:
        raise ValueError(f"no clock is {offset_minutes} minutes from UTC")
    moment = _EPOCH + timedelta(microseconds=microseconds(now_utc))
    return moment.astimezone(timezone(timedelta(minutes=offset_minutes))).isoformat()
