"""The same pages from the phone and from the office; what the phone's surroundings may change and what not."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Office, Phone, fact, has
from tests.faults import Line

ROOT = Path(__file__).resolve().parents[2]
AXE = ROOT / "build" / "browser" / "node_modules" / "axe-core" / "axe.min.js"
# the text of a page and what its forms would send, but for the one-time id
SHOWN = """() => [document.querySelector('#desk').innerText,
  ...[...document.querySelectorAll('#desk form')].flatMap((form) => [...new FormData(form)])
    .filter(([name]) => name !== 'once').map((pair) => pair.join(' = '))].join('\\n')"""
WORKINGS = (
    "saturation",
    "superheat",
    "subcooling",
    "target_superheat",
    "rest_pressure",
    "site_pressure",
    "vacuum_level",
)
GOTO = ("/", "/bench", *(f"/bench/{name}" for name in WORKINGS), "/places", "/places/new", "/settings", "/manual")


def follow(page: Page, address: str) -> None:
    """Go to a desk address as a link of the page does, through the seam."""
    page.evaluate(
        "(address) => { const link = document.createElement('a'); link.href = address; link.id = 'walk';"
        " link.textContent = 'walk'; document.getElementById('desk').prepend(link);"
        " window.htmx.process(link); link.click(); }",  # at once: a refresh could take it away again
        address,
    )
    page.locator("#walk").wait_for(state="detached")


def from_both(page: Page, addresses: Sequence[str]) -> list[tuple[str, str, str]]:
    """What each address shows: by the phone's engine and, after it was taken away, by the office."""
    ours = {}
    for address in addresses:
        follow(page, address)
        ours[address] = page.evaluate(SHOWN)
    assert fact(page, "starts") == "1"
    page.add_init_script("delete globalThis.WebAssembly;")
    page.reload()
    has(page, "reason", "no_wasm")
    expect(page.locator("#desk h1")).to_be_visible()
    both = []
    for address in addresses:
        follow(page, address)
        both.append((address, ours[address], page.evaluate(SHOWN)))
    return both


def test_every_page_is_the_same_from_phone_and_office(office: Office, line: Line, phone: Phone) -> None:
    """Lazy imports that trimming lost, and figures that differ in the last bits, would show as a difference."""
    for address, by_phone, by_office in from_both(phone.set_up(), GOTO):
        if address == "/settings":  # the one page that says who answers
            assert by_office != by_phone
            by_office = by_office.replace("the office", "this phone")
        assert by_office == by_phone, address


@pytest.mark.parametrize(
    ("locale", "system", "unit"), [("de-DE", "metric", "°C"), ("fr", "metric", "°C"), ("en", "us", "°F")]
)
def test_units_of_the_first_language_are_the_same_from_both(
    office: Office, line: Line, phone: Phone, locale: str, system: str, unit: str
) -> None:
    """The browser's first language decides the units of a person who has chosen none, on the phone as in the office."""
    phone.browser(locale=locale)
    (_, ours, theirs), (_, chosen, _) = from_both(phone.set_up(), ("/bench/superheat", "/settings"))
    assert ours == theirs
    assert f"suction_temperature.unit = {unit}" in ours.splitlines()
    assert f"system = {system}" in chosen.splitlines()


@pytest.mark.parametrize(("zone", "minutes"), [("America/New_York", -300), ("Asia/Kolkata", 330)])
def test_phone_in_another_time_zone_shows_its_own_time_and_keeps_the_offset(
    phone: Phone, line: Line, zone: str, minutes: int
) -> None:
    """The interpreter knows no zone; the browser's offset travels with each request into the entry."""
    phone.browser(timezone_id=zone)
    page = phone.set_up()
    page.locator("#areas a[href='/places']").click()
    page.locator("#desk a[href='/places/new']").first.click()
    page.locator("#f-name").fill("Elsewhere")
    page.locator("#desk form button[type=submit]").click()
    expect(page.locator("#desk h1")).to_have_text("Elsewhere")
    made_at = page.evaluate(
        """async () => { for (const {name} of await indexedDB.databases()) if (name.startsWith("dewbook:")) {
          const db = await new Promise(r => { const q = indexedDB.open(name); q.onsuccess = () => r(q.result); });
          const rows = await new Promise(r => { const q = db.transaction("entries").objectStore("entries").getAll();
            q.onsuccess = () => r(q.result); });
          db.close();
          for (const row of rows) { const e = JSON.parse(row.text); if (e.kind === "site") return e.made_at; } } }"""
    )
    offset = page.evaluate("-new Date().getTimezoneOffset()")
    sign, ahead = ("-" if offset < 0 else "+"), abs(offset)
    assert made_at.endswith(f"{sign}{ahead // 60:02}:{ahead % 60:02}")
    assert offset in {minutes, minutes + 60}, "New York has summer time, Kolkata has none"


def test_pages_do_not_depend_on_the_order_of_hashes() -> None:
    """The same page under three hash seeds, byte for byte."""
    code = (
        "import json, sys; from tests.bench.bench_engine import ASKED; from webui.desk import answer, first_need\n"
        "from webui.page import Page, Request; from webui.record import Book\n"
        "def page(path, method='GET', form=()):\n"
        "    request = Request.from_json({**ASKED, 'path': path, 'method': method, 'form': form}); book = Book()\n"
        "    need = first_need(request)\n"
        "    while not isinstance(need, Page):\n"
        "        for ref in need.subjects: book.put_entries(ref, ())\n"
        "        for one in need.lists: book.put_listing(one, ())\n"
        "        need = answer(request, book)\n"
        "    return need.html\n"
        "pages = [page(p) for p in json.loads(sys.argv[1])] + [page(ASKED['path'], 'POST', ASKED['form'])]\n"
        "print(json.dumps(pages))"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", code, json.dumps(GOTO)],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert len(made) == 1
    assert len(json.loads(made.pop())) == len(GOTO) + 1


def test_swaps_are_accessible(new_phone: Callable[..., Phone], line: Line) -> None:
    """After each swap the focus is in the new page, the status line is a live region, and axe finds nothing."""
    phone = new_phone()
    phone.browser(bypass_csp=True)  # axe is put in by the test, not by the page
    page = phone.set_up()
    for address in ("/bench", "/bench/superheat", "/places", "/places/new", "/settings"):
        follow(page, address)
        inside = "() => document.activeElement !== null && document.activeElement.closest('#desk') !== null"
        page.wait_for_function(inside)
        assert page.locator("#status").get_attribute("aria-live") == "polite"
        page.add_script_tag(path=AXE)
        found = page.evaluate(
            "() => axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'],"
            " rules: {'target-size': {enabled: true}}})"
        )["violations"]
        assert not [(address, one["id"], [node["html"] for node in one["nodes"]][:3]) for one in found]
    page.locator("#areas a[href='/places']").click()
    page.locator("#desk a[href='/places/new']").first.click()
    page.locator("#desk form button[type=submit]").click()
    expect(page.locator("#f-name")).to_have_attribute("aria-invalid", "true")
    page.wait_for_function("() => document.activeElement?.closest('#desk .faulty, #desk [role=alert]') !== null")
