"""Opening the book without signal."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.conftest import Office, Phone, fact, has
from tests.faults import Line


def test_first_page_after_a_restart_without_signal_comes_from_the_phone(
    office: Office, line: Line, phone: Phone
) -> None:
    """The browser is started anew with the server dead, so no other page is there to answer for the service worker."""
    phone.set_up()
    phone.kill()
    office.kill()
    line.refuse()
    page = phone.page()
    page.set_default_timeout(5_000)
    phone.open("/")
    expect(page.locator("#desk h1")).to_be_visible(timeout=15_000)
    assert fact(page, "engine") == "ready"
    has(page, "trouble", "no_signal")
