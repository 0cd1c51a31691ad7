"""An office that answers with errors of a server: the page stays, the line says so, nothing is lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone, fact, has
from tests.browser.test_keeping import keep, new_site, sites
from tests.faults import Line

BROKEN = [
    ("500 Internal Server Error", "broken", "the office has a fault of its own"),
    ("503 Service Unavailable", "busy", "the office is busy"),
]


@pytest.mark.parametrize(("status", "code", "said"), BROKEN)
def test_error_for_a_page_of_the_office_leaves_page_and_form(
    line: Line, phone: Phone, tmp_path: Path, status: str, code: str, said: str
) -> None:
    """Without an engine a link and a form go to the office; its error page never takes their place."""
    phone.browser().add_init_script("delete globalThis.WebAssembly;")
    page = phone.sign_in()
    has(page, "reason", "no_wasm", timeout=20_000)
    new_site(page, "Half written")
    line.answer(status, only="/places")
    keep(page)
    expect(page.locator("#status")).to_contain_text(f"Not done: {said}.")
    expect(page.locator("#f-name")).to_have_value("Half written")
    page.locator("#areas a[href='/places']").click()
    expect(page.locator("#desk h1")).to_have_text("A new site")
    expect(page.locator("#f-name")).to_have_value("Half written")
    assert status.split()[1] not in page.locator("#desk").inner_text()
    assert page.url.endswith("/places/new")
    assert sites(tmp_path) == []
    line.mend()
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("Half written")
    expect(page.locator("#status")).not_to_contain_text("Not done")
    assert sites(tmp_path) == ["Half written"]


@pytest.mark.parametrize(("status", "code", "said"), BROKEN)
@pytest.mark.parametrize("door", ["hello", "push", "pull"])
def test_error_of_a_door_keeps_everything_until_it_is_named(
    line: Line, phone: Phone, tmp_path: Path, status: str, code: str, said: str, door: str
) -> None:
    """Each door of the sync in turn: work goes on, the line says why it is not sent, and it goes once later on."""
    page = phone.set_up()
    line.answer(status, only=f"/sync/{door}")
    page.reload()
    expect(page.locator("#desk h1")).to_have_text("Today")
    if door != "push":  # nothing to push yet
        has(page, "trouble", code)
    new_site(page, "Waits")
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("Waits")
    has(page, "trouble", code)
    if door == "pull":  # what was written goes; what the others wrote does not come
        has(page, "waiting", "0")
        expect(page.locator("#status")).to_contain_text(f"Nothing waits to be sent ({said}).")
    else:
        assert fact(page, "waiting") == "1"
        expect(page.locator("#status")).to_contain_text(f"1 entry waits to be sent: {said}.")
        assert sites(tmp_path) == []
    line.mend()
    page.reload()
    has(page, "waiting", "0")
    page.wait_for_function("() => document.documentElement.dataset.trouble === ''")
    expect(page.locator("#desk h1")).to_have_text("Waits")
    assert sites(tmp_path) == ["Waits"]
