"""A new build in the office: offered, put into force at the person's word, and never mixed with the one before."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import ROOT, Office, Phone, fact, has
from tests.browser.test_keeping import keep, new_site, sites
from tests.browser.test_two_hosts import follow
from tests.faults import Line

LOOK = "() => dispatchEvent(new Event('online'))"  # what makes a page look at what the office has


def changed(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8")


@pytest.fixture(scope="module")
def newer(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the program with a page, a script and the service worker changed, and built."""
    root = tmp_path_factory.mktemp("newer")
    for name in ("calc", "webui", "server"):
        shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copytree(ROOT / "build/browser", root / "build/browser", ignore=shutil.ignore_patterns("node_modules"))
    (root / "build/browser/node_modules").symlink_to(ROOT / "build/browser/node_modules")
    (root / "tests/browser").mkdir(parents=True)
    shutil.copy(ROOT / "tests/browser/office.py", root / "tests/browser")
    changed(root / "webui/templates/places.html", '<h1>{{ _("Places") }}</h1>', "<h1>Newer places</h1>")
    changed(root / "webui/static/js/status.js", "The book is on this phone.", "The newer book is on this phone.")
    with (root / "webui/static/js/service_worker.js").open("a", encoding="utf-8") as script:
        script.write("// newer\n")
    environment = {**os.environ, "PYTHONPATH": str(root)}
    subprocess.run([sys.executable, "-m", "server.build"], cwd=root, env=environment, check=True)
    return root


def manifest_build(root: Path) -> str:
    return next((root / "webui/static/gen").glob("manifest.*.json")).name.split(".")[1]


def built(page: Page) -> tuple[str, str, str]:
    """Of which build the page's frame, its scripts and its Python are; Python is asked for the list of places."""
    frame = fact(page, "build")
    script = page.evaluate(
        "async () => { const text = await (await fetch(document.scripts[0].src)).text();"
        " const [name] = text.match(/status\\.[0-9a-f]+\\.js/);"
        " const status = await (await fetch(new URL(name, document.scripts[0].src))).text();"
        " return status.includes('newer') ? 'new' : 'old'; }"
    )
    follow(page, "/places")
    expect(page.locator("#desk h1")).to_have_text("Newer places" if script == "new" else "Places")
    return frame, script, page.locator("#desk h1").inner_text()


def test_new_build_waits_for_the_persons_word(
    office: Office, line: Line, phone: Phone, newer: Path, tmp_path: Path
) -> None:
    """Nothing changes until then; after it every tab is of the new build, with form and entries as they were."""
    page = phone.set_up()
    old, new = fact(page, "ready"), manifest_build(newer)
    assert old != new
    before, after = (old, "old", "Places"), (new, "new", "Newer places")
    other = phone.browser().new_page()
    phone.open("/places", other)
    has(other, "engine", "ready")
    line.answer("503 Service Unavailable", only="/sync/push")
    new_site(page, "Unsent")
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("Unsent")
    new_site(page, "Half written")
    page.locator("#f-access").fill("Key at the gate")

    office.kill()
    office.start(newer)
    page.evaluate(LOOK)
    has(page, "offered", new, timeout=25_000)
    expect(page.get_by_role("button", name="A new version is here: update now")).to_be_visible()
    assert built(other) == before
    other.reload()  # its navigation also finds the changed service worker
    has(other, "offered", new, timeout=25_000)
    assert built(other) == before
    expect(page.locator("#f-name")).to_have_value("Half written")

    office.kill()
    office.start()  # the office goes back to what it had
    page.evaluate(LOOK)
    page.wait_for_function("() => document.documentElement.dataset.offered === ''")
    expect(page.get_by_role("button", name="update now")).to_have_count(0)
    office.kill()
    office.start(newer)
    page.evaluate(LOOK)
    has(page, "offered", new, timeout=25_000)

    office.kill()
    line.refuse()  # from here without signal: all of the new build comes from the phone
    other.reload()
    assert built(other) == before
    page.get_by_role("button", name="update now").click()
    has(page, "build", new)
    has(other, "build", new)
    expect(page.locator("#f-name")).to_have_value("Half written")
    expect(page.locator("#f-access")).to_have_value("Key at the gate")
    has(page, "waiting", "1")
    assert built(other) == after
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("Half written")
    assert built(page) == after
    assert fact(page, "starts") == "1"

    line.mend()
    office.start(newer)
    page.reload()
    has(page, "waiting", "0", timeout=25_000)
    assert sites(tmp_path) == ["Half written", "Unsent"]
    for _ in range(50):
        kept = page.evaluate("() => caches.keys()")
        if kept == [f"dewbook-{new}"]:
            break
        page.wait_for_timeout(100)
    assert kept == [f"dewbook-{new}"]
    assert page.evaluate("async () => (await navigator.serviceWorker.getRegistration()).waiting") is None
    assert built(page) == after
    assert fact(page, "offered") == ""


def test_cut_of_a_new_build_leaves_the_old_one_in_force(office: Office, line: Line, phone: Phone, newer: Path) -> None:
    """Half of it has come: nothing is offered, the old one opens without signal, and the rest comes later."""
    page = phone.set_up()
    old, new = fact(page, "ready"), manifest_build(newer)
    office.kill()
    office.start(newer)
    line.cut(700, only="gen/app.")
    page.evaluate(LOOK)
    page.wait_for_timeout(4_000)
    assert any("/gen/app." in one for one in line.asked)
    assert fact(page, "offered") == ""
    line.refuse()
    page.reload()
    expect(page.locator("#desk h1")).to_have_text("Today")
    assert built(page) == (old, "old", "Places")
    line.mend()
    page.reload()
    has(page, "offered", new, timeout=25_000)
    assert fact(page, "build") == old


def test_shell_of_another_build_is_not_taken(line: Line, phone: Phone) -> None:
    """The office changes between manifest and shell: with the same scripts the two would look as if they fitted."""
    page = phone.open("/sign-in")
    build = fact(page, "build").encode()
    line.change(lambda piece: piece.replace(build, b"0" * 16) if b"data-shell" in piece else piece)
    page = phone.sign_in()
    page.wait_for_timeout(5_000)
    assert "GET /shell" in line.asked
    assert fact(page, "ready") == ""
    line.mend()
    page.reload()
    has(page, "ready", build.decode(), timeout=25_000)


def test_page_of_the_office_gives_way_to_its_next_build(office: Office, line: Line, phone: Phone, newer: Path) -> None:
    """Without an engine pages come piece by piece from the office; a piece of another build comes as a whole page."""
    phone.browser().add_init_script("delete globalThis.WebAssembly;")
    page = phone.sign_in()
    has(page, "reason", "no_wasm", timeout=20_000)
    old, new = fact(page, "build"), manifest_build(newer)
    assert built(page) == (old, "old", "Places")
    office.kill()
    office.start(newer)
    page.locator("#areas a[href='/places']").click()
    has(page, "build", new)
    assert built(page) == (new, "new", "Newer places")
