"""One desk, two hosts: the same requests, answered by Flask with scripts off and by the phone's engine, read alike."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Page, Playwright, expect

from calc.working import run
from e2e.conftest import Office
from tests.browser.conftest import FLAGS, PASSWORD, Phone, find
from tests.calc.good_inputs import GOOD
from tests.faults import Line

# Forms of the Bench: every working, with readings that are typed as a person types them. The expectation is calc's
# own answer in this process, and that both hosts show it; calc itself is held to outside sources in tests/calc.
FORMS = {name: inputs[-1] for name, inputs in GOOD.items()}
REFUSED = {
    "saturation": {"refrigerant": "R-744", "temperature": "40 °C"},
    "superheat": {"refrigerant": "R-9999", "suction_pressure": "118 psi", "suction_temperature": "-500 °F"},
    "vacuum_level": {"pressure": "-5 micron"},
}


@pytest.fixture
def plain(playwright: Playwright, office: Office) -> Iterator[Page]:
    """A browser with scripts off: everything it shows was made by Flask."""
    browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
    context = browser.new_context(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{office.url}/sign-in")
    page.locator("#name").fill("osric")
    page.locator("#password").fill(PASSWORD)
    page.locator("main form button").click()
    yield page
    browser.close()


def said(page: Page) -> str:
    """What the page says, blanks evened out.

    Left out are what names the host itself, and the lists of sheets under a place: a phone carries the open ones only.
    """
    text = re.sub(r"\s+", " ", page.locator("#desk").inner_text()).strip()
    if "/places/" in page.url:
        text = text.partition(" Sheets ")[0]
    return re.sub(r"Answered by (the office|this phone)", "Answered by", text)


def fill(page: Page, working: str, values: dict[str, str]) -> None:
    for name, value in values.items():
        field = page.locator(f"#desk [name='{name}']")
        if field.evaluate("element => element.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)
    page.get_by_role("button", name="Work it out").click()


def test_both_hosts_say_the_same(office: Office, line: Line, new_phone: Callable[[], Phone], plain: Page) -> None:
    phone = new_phone().set_up("osric")
    starts = phone.evaluate("document.documentElement.dataset.starts")
    links = plain.locator("#desk a.linehead")
    sheet = str(links.first.get_attribute("href"))
    plain.goto(f"{office.url}/places")
    site = str(links.nth(2).get_attribute("href"))
    plain.goto(office.url + site)
    unit = str(links.first.get_attribute("href"))
    pages = ["/", "/bench", "/places", site, unit, sheet, f"{sheet}/reading", "/manual", "/settings", "/places/new"]
    for path in pages:
        plain.goto(office.url + path)
        phone.goto(line.address + path)
        expect(phone.locator("#desk h1")).to_have_text(plain.locator("#desk h1").inner_text())
        assert said(phone) == said(plain), path

    for working, values in [*FORMS.items(), *REFUSED.items()]:
        for page, address in ((plain, office.url), (phone, line.address)):
            page.goto(f"{address}/bench/{working}")
            fill(page, working, values)
        answer = run(working, values)
        if answer.ok:
            expect(phone.locator("#desk .figures").first).to_be_visible()
            expect(plain.locator("#desk .figures").first).to_be_visible()
        else:
            expect(phone.locator("#desk [aria-invalid]").first).to_be_visible()
            for fault in answer.errors:
                assert str(fault.problem) in said(plain)
        assert said(phone) == said(plain), working
    assert phone.evaluate("document.documentElement.dataset.host") == "phone"
    assert starts == "1"


def test_whole_visit_with_scripts_off(office: Office, plain: Page) -> None:
    from e2e.test_visit_offline import figures, note, take_reading, to_new_sheet

    to_new_sheet(plain)
    shown = take_reading(plain)
    assert figures(plain) == shown
    note(plain, "Kept without a single script.")
    plain.get_by_role("link", name="Close the sheet").click()
    plain.get_by_role("button", name="Close").click()
    expect(plain.get_by_text("This sheet is closed")).to_be_visible()
