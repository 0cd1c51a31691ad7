"""The pictures of the README: `make pictures` takes them anew from the demo, in a real browser."""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from e2e.conftest import Office
from tests.browser.conftest import FLAGS, PASSWORD, find

FOLDER = Path(__file__).resolve().parent / "pictures"
PHONE = {"width": 360, "height": 740}
OFFICE = {"width": 1280, "height": 800}
# name, who, colour scheme, size, where to look
PICTURES = (
    ("sheet-paper", "osric", "light", PHONE, "Library heat pump"),
    ("sheet-lamp", "osric", "dark", PHONE, "Library heat pump"),
    ("board-paper", "maud", "light", OFFICE, ""),
)


def signed_in(browser: Browser, office: Office, who: str, scheme: str, size: dict[str, int]) -> Page:
    page = browser.new_context(viewport=size, color_scheme=scheme).new_page()
    page.goto(f"{office.url}/sign-in")
    page.locator("#name").fill(who)
    page.locator("#password").fill(PASSWORD)
    page.locator("main form button").click()
    page.wait_for_url(f"{office.url}/")
    return page


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        office = Office(Path(folder))
        office.dewbook("demo")
        office.start()
        browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
        for name, who, scheme, size, unit in PICTURES:
            page = signed_in(browser, office, who, scheme, size)
            if unit:
                page.locator("a.linehead", has_text=unit).first.click()
                page.locator(".worked").first.scroll_into_view_if_needed()
                page.locator(".worked").first.evaluate("element => element.scrollIntoView({ block: 'start' })")
            else:
                page.goto(f"{office.url}/board")
            page.screenshot(path=FOLDER / f"{name}.png")
            page.context.close()
        browser.close()
        office.kill()


if __name__ == "__main__":
    main()
