"""Every route of the table for every standing person, with a subject of the firm and with one of nobody's."""

from __future__ import annotations

import pytest
from flask import Flask

from server import office
from server.db import Database
from server.ids import new_id
from tests.server.conftest import OURS, Browser, People, Phone
from webui.page import Ref
from webui.record import parse
from webui.routes import OFFICE, ROUTES, Route

PERSONS = ("technician", "colleague", "supervisor", "outsider")
SUBJECTS = ("site", "unit", "sheet", "entry")


@pytest.fixture
def subjects(database: Database, people: People, phone: Phone) -> dict[str, str]:
    """One of each, written by the technician: id by place in a pattern."""
    site_text = phone.site()
    site = parse(site_text).subject
    unit_text = phone.write(
        "unit",
        None,
        {"site": site.id, "tag": "RTU-1", "kind": "rooftop", "refrigerant": "R-410A", "metering": "modulating"},
        touches=(site,),
    )
    unit = parse(unit_text).subject
    sheet_text = phone.sheet(site.id, unit.id)
    sheet = parse(sheet_text).subject
    note_text = phone.note(sheet)
    office.keep(database, people.technician, [site_text, unit_text, sheet_text, note_text])
    return {"site": site.id, "unit": unit.id, "sheet": sheet.id, "entry": parse(note_text).id}


def address(route: Route, subjects: dict[str, str]) -> str:
    path = route.pattern
    for name in SUBJECTS:
        path = path.replace(f"<{name}>", subjects[name])
    path = (
        path.replace("refrigerants/<name>", "refrigerants/410a")
        .replace("<name>", "superheat")
        .replace("<topic>", "signal")
    )
    return f"{path}?unit={subjects['unit']}" if path == "/sheet/new" else path


def names_a_subject(route: Route) -> bool:
    return any(f"<{name}>" in route.pattern for name in SUBJECTS) or route.pattern == "/sheet/new"


@pytest.mark.parametrize("name", PERSONS)
def test_reading(app: Flask, subjects: dict[str, str], name: str) -> None:
    browser = Browser(app, name)
    nobodys = {kind: new_id() for kind in SUBJECTS}
    for route in (one for one in ROUTES if one.method == "GET"):
        if route.kind == OFFICE and name in ("technician", "colleague"):
            expected = {403}
        elif names_a_subject(route) and name == "outsider":
            expected = {404}
        else:
            expected = {200}
        assert browser.client.get(address(route, subjects)).status_code in expected, (name, route.pattern)
        if names_a_subject(route) and expected != {403}:
            assert browser.client.get(address(route, nobodys)).status_code == 404, (name, route.pattern)


@pytest.mark.parametrize("name", ["nobody", *PERSONS])
def test_writing_to_what_is_not_there_keeps_nothing(
    app: Flask, database: Database, people: People, subjects: dict[str, str], name: str
) -> None:
    """An outsider at the firm's subjects, and everybody at nobody's: refused, and no entry is made on either side."""
    browser = Browser(app, "" if name == "nobody" else name)
    target = subjects if name in ("outsider", "nobody") else {kind: new_id() for kind in SUBJECTS}
    form = {
        "text": "x", "why": "x", "name": "x", "tag": "x", "kind": "split", "refrigerant": "R-410A",
        "unit": target["unit"], "metering": "fixed", "visit": "inspect",
        "suction_pressure": "118", "suction_pressure.unit": "psig",
    }  # fmt: skip

    def counts() -> list[int]:
        return [len(list(office.exported(database, company))) for company, _ in office.companies(database)]

    before = counts()
    for route in (one for one in ROUTES if one.writes and names_a_subject(one)):
        answer = browser.client.post(address(route, target), data=form, headers=OURS)
        assert answer.status_code == (401 if name == "nobody" else 404), (name, route.pattern)
    assert counts() == before


@pytest.mark.parametrize("kind", ["site", "unit", "sheet"])
def test_pushing_onto_another_firms_subject_makes_one_of_ones_own(
    app: Flask, database: Database, people: People, subjects: dict[str, str], kind: str
) -> None:
    """An id is only an id inside a firm: what an outsider sends under it stays with the outsider."""
    outsider = Browser(app, "outsider")
    phone = Phone(people.outsider, outsider.hello()["device"])
    text = phone.write("void", Ref(kind, subjects[kind]), {"target": subjects[kind], "why": "mischief"})
    assert len(outsider.push(phone, text)["accepted"]) == 1
    firm = [entry for _, _, entry in office.exported(database, people.technician.company)]
    assert text not in firm
    browser = Browser(app, "technician")
    assert "mischief" not in browser.client.get(f"/sheet/{subjects['sheet']}").get_data(as_text=True)
