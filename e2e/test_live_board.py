"""The supervisor's Board follows the crew by itself."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import expect

from e2e.conftest import Office
from e2e.test_visit_offline import take_reading, to_new_sheet
from tests.browser.conftest import Phone, has
from tests.faults import Line


def test_board_shows_what_came_without_being_touched_and_outlives_an_outage(
    office: Office, line: Line, new_phone: Callable[[], Phone]
) -> None:
    board = new_phone().sign_in("maud", "/board")
    expect(board.locator("#board-lines")).to_be_visible()
    board.evaluate("() => { window.untouched = true; }")
    phone = new_phone().set_up("osric")
    to_new_sheet(phone)
    shown = take_reading(phone)
    has(phone, "waiting", "0", timeout=60_000)
    own = board.locator(".line", has_text="Rooftop 3")
    for figure in shown:
        expect(own).to_contain_text(figure)

    # the office dies and comes back: the Board stays as it was, and goes on by itself
    office.kill()
    board.wait_for_timeout(6_000)
    expect(own).to_contain_text(shown[0])
    office.start()
    phone.get_by_role("link", name="Write a note").click()
    phone.locator("textarea[name='text']").fill("Outage over.")
    phone.get_by_role("button", name="Keep").click()
    has(phone, "waiting", "0", timeout=60_000)
    opened = own.get_by_role("link")
    opened.focus()
    board.wait_for_timeout(6_000)
    expect(opened).to_be_focused()  # what is read or held with the keyboard is not taken away
    assert board.evaluate("() => window.untouched")
