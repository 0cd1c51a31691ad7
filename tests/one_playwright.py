"""Playwright once in a process: its synchronous interface cannot be started twice, and two folders of tests use it."""

from __future__ import annotations

import atexit
from functools import cache

from playwright.sync_api import Playwright, sync_playwright


@cache
def playwright() -> Playwright:
    """The one that runs, started when first asked for and stopped when the process ends."""
    manager = sync_playwright()
    running = manager.start()
    atexit.register(running.stop)
    return running
