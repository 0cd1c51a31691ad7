"""Opening the book without signal."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import expect

from tests.browser.conftest import Office, Phone, fact, has
from tests.faults import Line

ROOT = Path(__file__).resolve().parents[2]


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


def test_deep_address_opens_without_signal_and_back_and_forward_work(office: Office, line: Line, phone: Phone) -> None:
    """History walked offline: each step shows its own page, though htmx asks for it without its usual headers."""
    page = phone.set_up()
    office.kill()
    line.refuse()
    page.set_default_timeout(5_000)
    phone.open("/bench/superheat", page)
    expect(page.locator("#desk h1")).to_be_visible(timeout=15_000)
    walked = ["/bench/superheat"]
    for step in range(9):
        page.locator(f"#areas a[href='{'/places' if step % 2 else '/bench'}']").click()
        walked.append("/places" if step % 2 else "/bench")
        page.wait_for_url(line.address + walked[-1])
        expect(page.locator(f"#areas a[href='{walked[-1]}']")).to_have_attribute("aria-current", "page")
    headings = {"/bench": "Bench", "/places": "Places"}
    for place in reversed(range(len(walked) - 1)):
        page.go_back(wait_until="commit")
        page.wait_for_url(line.address + walked[place])
        if walked[place] in headings:
            expect(page.locator("#desk h1")).to_have_text(headings[walked[place]])
    page.go_forward(wait_until="commit")
    expect(page.locator("#desk h1")).to_have_text("Bench")
    assert fact(page, "starts") == "1", "a page of the desk was navigated to, which starts the engine anew"


def test_service_worker_never_waits_for_a_page() -> None:
    """A worker that asks a page during a navigation waits for a page that waits for it."""
    source = (ROOT / "webui/static/js/service_worker.js").read_text("utf-8")
    assert not [call for call in ("clients.get(", "resultingClientId", "clients.matchAll") if call in source]


def test_other_tab_goes_on_when_one_is_closed_in_the_middle_of_a_page(office: Office, line: Line, phone: Phone) -> None:
    """Pages are answered by each tab's own engine, so closing a tab at work leaves no other waiting."""
    first = phone.set_up()
    second = phone.browser().new_page()
    line.refuse()
    phone.open("/bench", second)
    expect(second.locator("#desk h1")).to_be_visible(timeout=15_000)
    first.locator("#areas a[href='/bench']").click(no_wait_after=True)
    first.close()
    second.set_default_timeout(5_000)
    second.locator("#areas a[href='/places']").click()
    expect(second.locator("#desk h1")).to_have_text("Places", timeout=5_000)


def test_work_goes_on_after_the_browser_ends_the_service_worker(line: Line, phone: Phone) -> None:
    """Browsers end an idle service worker; pages under way and later navigations do not depend on its life."""
    page = phone.set_up()
    line.refuse()
    session = phone.browser().new_cdp_session(page)
    session.send("ServiceWorker.enable")
    session.send("ServiceWorker.stopAllWorkers")
    page.locator("#areas a[href='/places']").click()
    expect(page.locator("#desk h1")).to_have_text("Places")
    session.send("ServiceWorker.stopAllWorkers")
    page.reload()
    expect(page.locator("#desk h1")).to_have_text("Places", timeout=15_000)
