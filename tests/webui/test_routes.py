"""The route table: one address one page, both roles answered, 404 and 405 as pages."""

from __future__ import annotations

import pytest
from desk_host import SUPERVISOR, TECHNICIAN, Host, opened_sheet

from webui.desk import page_function
from webui.page import ALLOWED_HEADERS
from webui.routes import OFFICE, ROUTES, Route, match, patterns

UUID = "01900000-0000-7000-8000-000000000001"


def example(route: Route) -> str:
    words = {"<name>": "410a" if route.page == "refrigerant.show" else "superheat", "<topic>": "limits"}
    parts = [words.get(one, UUID) if one.startswith("<") else one for one in route.segments]
    return "/" + "/".join(parts)


@pytest.mark.parametrize("route", ROUTES, ids=lambda r: f"{r.method} {r.pattern}")
def test_every_route_is_found_by_its_own_address_and_no_other(route: Route) -> None:
    path = example(route)
    assert match(route.method, path).route is route
    assert [r for r in ROUTES if r.method == route.method and r.params(path) is not None] == [route]
    assert callable(page_function(route.page))


@pytest.mark.parametrize("person", [TECHNICIAN, SUPERVISOR], ids=lambda p: p.role)
@pytest.mark.parametrize("route", ROUTES, ids=lambda r: f"{r.method} {r.pattern}")
def test_every_route_answers_every_role(host: Host, route: Route, person: object) -> None:
    sheet = opened_sheet(host)
    site, unit, note = (e.id for e in [*host.entries[:2], host.entries[2]])
    host.kept(f"{sheet}/note", {"text": "Filter replaced."})
    ids = {"site": site, "unit": unit, "sheet": note, "entry": host.entries[-1].id}
    path = example(route)
    for name, value in ids.items():
        index = [i for i, one in enumerate(route.segments) if one == f"<{name}>"]
        parts = path.strip("/").split("/")
        for i in index:
            parts[i] = value
        path = "/" + "/".join(parts)
    page = host.answer(host.request(route.method, path, query={"unit": unit}, person=person))
    if route.kind == OFFICE and person is TECHNICIAN:
        assert page.status == 403
    else:
        assert page.status in ({200} if route.method == "GET" else {200, 303, 404, 422})
    assert set(page.headers) <= ALLOWED_HEADERS
    assert not page.entries or route.writes


def test_addresses_that_are_none(host: Host) -> None:
    assert host.get("/nowhere").status == 404
    assert host.get(f"/sheet/{UUID}").status == 404
    assert host.get("/bench/no_such_working").status == 404
    assert host.get("/sheet/0190-not-an-id").status == 404
    assert host.post("/places", {}).status == 405
    assert host.get("/", person=None).status == 401


def test_patterns_are_told_once() -> None:
    assert len(patterns("desk")) == len(set(patterns("desk"))) > 15
    assert patterns("office") == ("/board", "/board/sheet/<sheet>")
