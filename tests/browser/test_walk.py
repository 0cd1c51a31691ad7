"""Every address of the desk, answered by the phone's engine, with what a person has kept there."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import Office, Phone, fact, has
from tests.browser.test_keeping import keep, new_site
from tests.browser.test_two_hosts import follow
from tests.faults import Line
from webui.pages.manual import TOPICS
from webui.routes import DESK, ROUTES, Route

NOBODY = "01900000-0000-7000-8000-000000000000"  # a well-formed id of nothing
UNIT = {"tag": "Rooftop 3", "kind": "rooftop unit", "refrigerant": "R-410A", "metering": "fixed"}
READING = {"suction_pressure": "118", "suction_temperature": "52", "liquid_pressure": "352", "liquid_temperature": "94"}
# the form that posts to an address stands at this one, where it is not the same
FORM_AT = {"/sheet/<sheet>/reading/work": "/sheet/<sheet>/reading"}
WATCH = (
    "() => { window.answers = []; document.addEventListener('htmx:after:request', ({ detail }) => {"
    " const { response, request } = detail.ctx;"
    " window.answers.push([request.method, new URL(request.action, location.href).pathname, response?.status]); }); }"
)


def fill(page: Page, values: dict[str, str]) -> None:
    for name, value in values.items():
        field = page.locator(f"#desk [name='{name}']")
        if field.evaluate("element => element.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)


def id_in(page: Page, pattern: str) -> str:
    """The last id in the address of the page, once it is like the pattern."""
    page.wait_for_url(re.compile(pattern + "$"))
    return page.url.rsplit("/", 1)[1]


def kept_visit(page: Page) -> dict[str, str]:
    """A site, a unit, a sheet, a reading and a note, kept by hand; gives an id for each place of the route table."""
    each = "[0-9a-f-]{36}"
    new_site(page, "Harrow Mill")
    keep(page)
    site = id_in(page, f"/places/{each}")
    follow(page, f"/places/{site}/units/new")
    fill(page, UNIT)
    keep(page)
    unit = id_in(page, f"/units/{each}")
    follow(page, f"/sheet/new?unit={unit}")
    page.locator("#desk [name='visit']").first.check()
    keep(page)
    sheet = id_in(page, f"/sheet/{each}")
    follow(page, f"/sheet/{sheet}/reading")
    fill(page, READING)
    page.get_by_role("button", name="Keep").click()
    page.wait_for_url(f"**/sheet/{sheet}")
    follow(page, f"/sheet/{sheet}/note")
    page.locator("#desk [name='text']").fill("Belt worn")
    keep(page)
    page.wait_for_url(f"**/sheet/{sheet}")
    entry = str(page.locator("#desk a[href*='/void/']").last.get_attribute("href")).rsplit("/", 1)[1]
    return {"site": site, "unit": unit, "sheet": sheet, "entry": entry, "topic": TOPICS[0][0]}


def address(pattern: str, ids: dict[str, str], name: str = "") -> str:
    found = re.sub("<([a-z]+)>", lambda place: name if place[1] == "name" else ids[place[1]], pattern)
    return f"{found}?unit={ids['unit']}" if found == "/sheet/new" else found


def names_of(route: Route) -> list[str]:
    """What stands in <name>, one of each kind of address."""
    return {"bench": ["superheat"], "refrigerants": ["r-454b"]}.get(route.segments[0], [""])


def test_every_address_of_the_desk_is_answered_by_the_engine(office: Office, line: Line, phone: Phone) -> None:
    """Without signal: each page with real ids, each form as it stands, unknown ids and refused forms."""
    page = phone.set_up()
    office.kill()
    line.refuse()
    page.evaluate(WATCH)
    ids = kept_visit(page)
    routes = [route for route in ROUTES if route.kind == DESK]
    assert len(routes) > 30

    def answered(method: str, path: str) -> int:
        plain = path.partition("?")[0]
        page.wait_for_function(
            "([method, path]) => window.answers.some((one) => one[0] === method && one[1] === path)",
            arg=[method, plain],
        )
        return int(page.evaluate("() => window.answers.splice(0).pop()[2]"))

    def seen(path: str, status: int) -> None:
        page.evaluate("() => { window.answers.length = 0; }")
        follow(page, path)
        assert answered("GET", path) == status, path
        expect(page.locator("#desk h1")).not_to_be_empty()
        expect(page.locator("#status")).not_to_contain_text("Not done")

    for route in routes:
        if route.method == "GET":
            for name in names_of(route):
                seen(address(route.pattern, ids, name), 200)
            if "<" in route.pattern:
                nobody = dict.fromkeys(ids, NOBODY) | {"topic": "no-such-page"}
                seen(address(route.pattern, nobody, "no-such-name"), 404)

    # each form as it is opened, with its last text emptied or spoiled; none of them may close the sheet before its turn
    for route in sorted(routes, key=lambda one: one.pattern.endswith("/close")):
        if route.method != "POST":
            continue
        path = address(route.pattern, ids, "superheat")
        follow(page, address(FORM_AT.get(route.pattern, route.pattern), ids, "superheat"))
        form = page.locator("#desk form[method='post']")
        page.evaluate("() => { window.answers.length = 0; }")
        if form.count():
            button = form.locator(f"[formaction='{path}']")
            (button if button.count() else form.locator("[type=submit]").last).click()
        else:  # an address that takes a form of that kind as well, though none of its pages sends one
            page.evaluate("(path) => window.htmx.ajax('POST', path, { target: '#desk' })", path)
        status = answered("POST", path.partition("?")[0])
        assert status in (200, 422), (path, status)
        expect(page.locator("#desk h1")).not_to_be_empty()
        expect(page.locator("#status")).not_to_contain_text("Not done")
        if status == 422:
            expect(page.locator("#desk .fault").first).to_be_visible()
    assert fact(page, "starts") == "1"
    assert fact(page, "engine") == "ready"
    line.mend()
    office.start()
    page.evaluate("() => dispatchEvent(new Event('online'))")
    has(page, "waiting", "0", timeout=60_000)
