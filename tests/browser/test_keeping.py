"""What the page says is kept is kept: kills, double taps, lost answers, foreign answers."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.conftest import Office, Phone, fact, has
from tests.faults import Line

KILLS = 20


def new_site(page: Page, name: str) -> None:
    """Open the form for a new site by the desk's own links and fill in its name."""
    page.locator("#areas a[href='/places']").click()
    page.locator("#desk a[href='/places/new']").first.click()
    page.locator("#f-name").fill(name)


def keep(page: Page) -> None:
    page.locator("#desk form button[type=submit]").click()


def sites(folder: Path) -> list[str]:
    """Names of the sites in the office's database, by entry."""
    with sqlite3.connect(folder / "office.sqlite") as database:
        rows = database.execute("SELECT json_extract(text, '$.body.name') FROM entry WHERE kind = 'site'").fetchall()
    return sorted(name for (name,) in rows)


def test_kept_means_on_the_disk_when_the_browser_is_killed(
    office: Office, line: Line, phone: Phone, tmp_path: Path
) -> None:
    """SIGKILL right after the page of a new site is shown, twenty times, without signal: all twenty are there, once."""
    phone.set_up()
    office.kill()
    line.refuse()
    for number in range(KILLS):
        page = phone.page()
        phone.open("/places/new", page)
        page.locator("#f-name").fill(f"Site {number}")
        keep(page)
        page.locator("#desk h1", has_text=f"Site {number}").wait_for()
        phone.kill()
    page = phone.open("/places")
    for number in range(KILLS):
        expect(page.get_by_text(f"Site {number}", exact=True)).to_have_count(1, timeout=15_000)
    has(page, "waiting", str(KILLS))
    expect(page.locator("#status")).to_contain_text(f"{KILLS} entries wait to be sent: no signal")
    line.mend()
    office.start()
    page = phone.sign_in()  # the browser writes cookies late: the first kill took the session with it
    has(page, "waiting", "0", timeout=30_000)
    assert sites(tmp_path) == sorted(f"Site {number}" for number in range(KILLS))


def test_double_tap_keeps_one(office: Office, line: Line, phone: Phone, tmp_path: Path) -> None:
    """Two submits of one form before the first is answered, as a double tap makes them."""
    page = phone.set_up()
    new_site(page, "Harrow Mill")
    page.locator("#desk form button[type=submit]").dblclick(no_wait_after=True)
    expect(page.locator("#desk h1")).to_have_text("Harrow Mill")
    has(page, "waiting", "0")
    page.wait_for_timeout(500)
    assert sites(tmp_path) == ["Harrow Mill"]


def test_same_form_sent_from_two_tabs_at_once_keeps_both_persons_words_and_no_id_twice(
    line: Line, phone: Phone, tmp_path: Path
) -> None:
    """Two tabs write in the same moment: the pen passes from one to the other, and the office gets an unbroken row."""
    first = phone.set_up()
    second = phone.browser().new_page()
    phone.open("/places", second)
    has(second, "engine", "ready")
    new_site(first, "From the first tab")
    new_site(second, "From the second tab")
    first.locator("#desk form button[type=submit]").click(no_wait_after=True)
    second.locator("#desk form button[type=submit]").click(no_wait_after=True)
    expect(first.locator("#desk h1")).to_have_text("From the first tab")
    expect(second.locator("#desk h1")).to_have_text("From the second tab")
    for page in (first, second):
        has(page, "waiting", "0")
    assert sites(tmp_path) == ["From the first tab", "From the second tab"]
    with sqlite3.connect(tmp_path / "office.sqlite") as database:
        assert database.execute("SELECT seq FROM entry ORDER BY seq").fetchall() == [(1,), (2,)]


def test_answer_lost_after_the_office_committed_is_sent_again_and_kept_once(
    line: Line, phone: Phone, tmp_path: Path
) -> None:
    """The push arrives, its answer does not: the phone keeps the entry in its outbox and the office takes it once."""
    page = phone.set_up()
    line.cut(0, only="/sync/push")
    new_site(page, "Cut off")
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("Cut off")
    has(page, "trouble", "no_signal")
    assert fact(page, "waiting") == "1"
    assert sites(tmp_path) == ["Cut off"]
    line.mend()
    page.reload()
    has(page, "waiting", "0")
    assert sites(tmp_path) == ["Cut off"]


def test_foreign_page_is_never_taken_for_the_office(line: Line, phone: Phone, tmp_path: Path) -> None:
    """A network that answers everything with 200 and its own page: nothing counts as sent, and the line says why."""
    page = phone.set_up()
    line.portal()
    new_site(page, "Behind a portal")
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("Behind a portal")
    has(page, "trouble", "portal")
    expect(page.locator("#status")).to_contain_text("1 entry waits to be sent: another page answers")
    line.mend()
    page.reload()
    has(page, "waiting", "0")
    assert sites(tmp_path) == ["Behind a portal"]


def test_silent_line_does_not_slow_a_page(line: Line, phone: Phone) -> None:
    """Connections are taken and never answered: pages come from the phone all the same."""
    page = phone.set_up()
    line.stall()
    new_site(page, "Quiet line")
    page.set_default_timeout(3_000)
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("Quiet line", timeout=3_000)
    has(page, "trouble", "stalled")
    assert fact(page, "waiting") == "1"


def test_refused_page_leaves_the_form_as_it_is(office: Office, line: Line, phone: Phone) -> None:
    """Without an engine a form goes to the office: dead, foreign or signed-out answers never take the form's place."""
    phone.browser().add_init_script("delete globalThis.WebAssembly;")
    page = phone.sign_in()
    has(page, "reason", "no_wasm", timeout=20_000)
    new_site(page, "Half written")
    for fault, said in ((line.portal, "another page answers"), (line.refuse, "no signal")):
        fault()
        keep(page)
        expect(page.locator("#status")).to_contain_text(said)
        expect(page.locator("#f-name")).to_have_value("Half written")
        line.mend()
    phone.browser().clear_cookies()
    keep(page)
    expect(page.locator("#status")).to_contain_text("signed out")
    expect(page.locator("#f-name")).to_have_value("Half written")


def test_end_of_the_session_keeps_everything_and_asks_to_sign_in(line: Line, phone: Phone, tmp_path: Path) -> None:
    """The session ends while work goes on: entries stay, the line asks for a sign-in, and after it they go once."""
    page = phone.set_up()
    phone.browser().clear_cookies(name="dewbook_session")
    new_site(page, "After the session")
    keep(page)
    expect(page.locator("#desk h1")).to_have_text("After the session")
    has(page, "trouble", "sign_in")
    expect(page.locator("#status a[href='/sign-in']")).to_be_visible()
    assert sites(tmp_path) == []
    page = phone.sign_in()
    has(page, "waiting", "0")
    assert sites(tmp_path) == ["After the session"]
