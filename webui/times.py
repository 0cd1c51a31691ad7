"""Moments as people read them, on the clock of whoever reads."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

from webui.page import Request


def shown_time(instant: str, request: Request) -> str:
    """An instant in the reader's local time: 10:42 today, else 2026-11-24 10:42."""
    zone = timezone(timedelta(minutes=request.offset_minutes))
    there = datetime.fromisoformat(instant).astimezone(zone)
    clock = f"{there.hour:02}:{there.minute:02}"
    if request.now and datetime.fromisoformat(request.now).astimezone(zone).date() == there.date():
        return clock
    return f"{there.date().isoformat()} {clock}"
