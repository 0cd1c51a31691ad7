"""A visit typed into the desk's own pages through Flask, as a browser without scripts sends it, up to the Board."""

from __future__ import annotations

import re

from flask import Flask
from werkzeug.test import TestResponse

from server import office
from server.db import Database
from tests.server.conftest import OURS, Browser, People
from webui.record import parse


def sent(browser: Browser, path: str, form: dict[str, str]) -> TestResponse:
    """A form filled in: the page's own hidden fields and what the person typed."""
    page = browser.client.get(path).get_data(as_text=True)
    hidden = dict(re.findall(r'<input type="hidden" name="([\w.]+)" value="([^"]*)"', page))
    return browser.client.post(path, data=hidden | form, headers=OURS)


def test_from_a_new_place_to_the_board(app: Flask, database: Database, people: People, technician: Browser) -> None:
    site = {"name": "Mill Lane dairy", "elevation": "1600", "elevation.unit": "m"}
    place = sent(technician, "/places/new", site)
    assert place.status_code == 303, place.get_data(as_text=True)
    unit_form = {"tag": "CU-2", "kind": "split", "refrigerant": "R-410A", "metering": "modulating"}
    unit = sent(technician, f"{place.headers['Location']}/units/new", unit_form)
    assert unit.status_code == 303, unit.get_data(as_text=True)
    unit_id = unit.headers["Location"].rstrip("/").rpartition("/")[2]
    sheet = sent(technician, f"/sheet/new?unit={unit_id}", {"unit": unit_id, "visit": "inspect"})
    assert sheet.status_code == 303, sheet.get_data(as_text=True)
    page = technician.client.get(f"{sheet.headers['Location']}/note").get_data(as_text=True)
    assert re.search(r'name="once" value="[0-9a-f-]{36}"', page)
    note = sent(technician, f"{sheet.headers['Location']}/note", {"text": "filter clogged"})
    assert note.status_code == 303, note.get_data(as_text=True)
    kinds = [parse(text).kind for _, _, text in office.exported(database, people.technician.company)]
    assert kinds[-4:] == ["site", "unit", "sheet", "note"]
    board = Browser(app, "supervisor").client.get("/board").get_data(as_text=True)
    assert "CU-2" in board
    assert "Mill Lane dairy" in board
    assert "CU-2" not in Browser(app, "outsider").client.get("/board").get_data(as_text=True)
    for name, status in (("colleague", 200), ("supervisor", 200), ("outsider", 404)):
        answer = Browser(app, name).client.get(sheet.headers["Location"])
        assert answer.status_code == status
        assert ("filter clogged" in answer.get_data(as_text=True)) is (status == 200)
