"""First starts that cannot succeed: the page says why within ten seconds and goes on with pages from the office."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Phone, fact, has
from tests.faults import Line


def works_with_signal(page: Page, line: Line) -> None:
    page.locator("#areas a[href='/places']").click()
    expect(page.locator("#desk h1")).to_have_text("Places")
    page.reload()
    expect(page.locator("#desk h1")).to_have_text("Places")


def test_browser_without_webassembly(phone: Phone, line: Line) -> None:
    """WebAssembly is switched off, as some browsers do in their locked-down mode."""
    phone.browser().add_init_script("delete globalThis.WebAssembly;")
    page = phone.sign_in()
    has(page, "reason", "no_wasm", timeout=20_000)
    expect(page.locator("#status")).to_contain_text("no WebAssembly")
    works_with_signal(page, line)
    assert fact(page, "ready") == ""


def test_webassembly_forbidden_on_the_way(phone: Phone, line: Line) -> None:
    """A policy without 'wasm-unsafe-eval' reaches the worker: Pyodide alone would wait for ever without a word."""
    line.change(lambda piece: piece.replace(b"'wasm-unsafe-eval'", b"'wasm-forbidden!!'"))
    page = phone.sign_in()
    has(page, "reason", "blocked_wasm", timeout=20_000)
    expect(page.locator("#status")).to_contain_text("forbids WebAssembly")
    line.mend()
    works_with_signal(page, line)
    phone.complaints.clear()  # the policy of this test is the fault


@pytest.mark.parametrize(("broken", "reason"), [("throw new Error('dead');", "dead_worker"), ("", "slow_start")])
def test_worker_that_dies_or_never_answers(phone: Phone, line: Line, broken: str, reason: str) -> None:
    """The engine's own script breaks at once, or starts and never says a word: both are told within ten seconds."""
    headers = {"Content-Type": "text/javascript"}
    phone.browser().add_init_script(
        "const Real = Worker; window.Worker = class extends Real { constructor(url, options) {"
        " super('/static/broken_engine.js', options); } };"
    )
    phone.browser().route("**/static/broken_engine.js", lambda route: route.fulfill(body=broken, headers=headers))
    page = phone.sign_in()
    has(page, "reason", reason, timeout=25_000)
    expect(page.locator("#status")).to_contain_text("cannot be opened on this phone now")
    works_with_signal(page, line)


def test_wrong_types_on_the_way_do_not_reach_the_engine(phone: Phone, line: Line) -> None:
    """A proxy that calls WebAssembly and modules plain bytes: what is stored here has its right type by its name."""
    line.change(lambda piece: piece.replace(b"Content-Type: application/wasm", b"Content-Type: application/junk"))
    page = phone.set_up()
    line.refuse()
    page.reload()
    expect(page.locator("#desk h1")).to_be_visible(timeout=15_000)
    assert page.evaluate(
        "async () => { const w = performance.getEntriesByType('resource'); const keys = [];"
        "for (const name of await caches.keys()) for (const r of await (await caches.open(name)).keys())"
        " if (r.url.endsWith('.wasm')) keys.push((await caches.match(r)).headers.get('Content-Type'));"
        "return keys; }"
    ) == ["application/wasm"]


@pytest.mark.parametrize("part", ["pyodide.asm.wasm", "pyodide.asm.mjs", "python_stdlib", "app.zip", "/shell", "css"])
def test_install_cut_at_each_part_claims_nothing_and_goes_on(phone: Phone, line: Line, part: str) -> None:
    """The line is cut in the middle of one file: the book is not called ready, and what came is not fetched again."""
    names = {"app.zip": "gen/app."}
    line.cut(700, only=names.get(part, part))
    page = phone.sign_in()
    page.wait_for_function("() => document.documentElement.dataset.waiting !== undefined")
    page.wait_for_timeout(2_500)
    assert fact(page, "ready") == ""
    line.mend()
    line.asked.clear()
    page.reload()
    has(page, "ready", timeout=60_000)
    fetched = [one for one in line.asked if one.endswith(".wasm")]
    assert len(fetched) == (1 if part == "pyodide.asm.wasm" else len(fetched)) <= 1
