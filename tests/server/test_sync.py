"""The sync door: hello, push, pull; named acknowledgement, refusals by code, a cursor that never skips."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from flask import Flask

from server import carried
from server.app import create_app
from server.cli import main
from server.db import Database
from server.ids import new_id
from server.office import create_company, create_person
from server.settings import Settings
from tests.server.conftest import OURS, SECRET, Browser, People, Phone
from webui.page import Ref
from webui.record import canonical, parse


def ref_of(text: str) -> Ref:
    return parse(text).subject


def pair(ref: Ref) -> list[str]:
    return [ref.kind, ref.id]


@pytest.fixture
def own(technician: Browser, people: People) -> Phone:
    return Phone(people.technician, technician.hello()["device"])


def test_hello_registers_once_and_says_who(technician: Browser, people: People) -> None:
    first = technician.hello()
    assert first["person"] == {
        "id": people.technician.id, "name": "Technician", "role": "technician",
        "company": people.technician.company, "company_name": "Firm of the tests",
    }  # fmt: skip
    assert technician.hello(first["device"])["device"] == first["device"]


def test_a_device_unknown_after_a_restore_keeps_its_id(technician: Browser) -> None:
    before = new_id()
    assert technician.hello(before)["device"] == before


def test_a_device_of_another_person_is_not_handed_over(app: Flask, technician: Browser) -> None:
    device = technician.hello()["device"]
    assert Browser(app, "colleague").hello(device)["device"] != device


def test_push_acknowledges_by_name_and_again_the_same(technician: Browser, own: Phone) -> None:
    texts = [own.site(), own.sheet()]
    first = technician.push(own, *texts)
    assert [one["id"] for one in first["accepted"]] == [parse(text).id for text in texts]
    assert first["refused"] == []
    assert technician.push(own, *texts, *texts) == first


def altered(text: str, **change: object) -> str:
    return canonical({**json.loads(text), **change})


def test_refusals_have_their_codes(app: Flask, technician: Browser, own: Phone, people: People) -> None:
    first = own.site()
    technician.push(own, first)
    ahead = own.site("second")
    foreign = Phone(people.colleague, own.device, own.seq, own.prev).site()
    strange = Phone(people.technician, new_id()).site()
    outside = altered(strange, company=people.outsider.company)
    cases = {
        "different": altered(first, body={"name": "another"}),
        "seq_taken": altered(first, id=new_id()),
        "gap": own.site("third"),
        "chain": altered(ahead, id=new_id(), prev="0" * 64),
        "by": foreign,
        "device": strange,
        "company": outside,
        "not_json": "{",
    }
    for code, text in cases.items():
        answer = technician.push(own, text)
        assert [one["code"] for one in answer["refused"]] == [code]
        assert answer["accepted"] == []
        assert answer["refused"][0]["why"]


def test_one_refused_entry_does_not_hold_up_the_rest(technician: Browser, own: Phone, people: People) -> None:
    other = Ref("person", people.colleague.id)
    forbidden = own.write("person", other, {"name": "X", "role": "technician", "status": "left"})
    after = own.site()
    answer = technician.push(own, forbidden, after)
    assert [one["code"] for one in answer["refused"]] == ["role"]
    assert [one["id"] for one in answer["accepted"]] == [parse(after).id]
    again = technician.push(own, forbidden)
    assert [one["code"] for one in again["refused"]] == ["role"]


def test_a_withheld_place_takes_only_the_entry_that_was_withheld(technician: Browser, own: Phone) -> None:
    newer = altered(own.site(), schema=99)
    assert technician.push(own, newer)["refused"][0]["code"] == "newer_schema"
    assert technician.push(own, altered(newer, schema=1))["refused"][0]["code"] == "seq_taken"


def test_known_builds_may_send_what_is_newer(app: Flask, technician: Browser, own: Phone) -> None:
    newer = altered(own.site(), schema=99)
    technician.push(own, newer)
    host = app.extensions["dewbook"]
    object.__setattr__(host.settings, "known_builds", "b2,b3")
    technician.hello(own.device, "b3")
    assert [one["id"] for one in technician.push(own, newer)["accepted"]] == [parse(newer).id]


def test_pull_gives_the_catalogue_and_own_open_sheets(
    app: Flask, technician: Browser, own: Phone, people: People
) -> None:
    colleague = Browser(app, "colleague")
    theirs = Phone(people.colleague, colleague.hello()["device"])
    site, my_sheet = own.site(), own.sheet()
    their_sheet = theirs.sheet()
    technician.push(own, site, my_sheet)
    colleague.push(theirs, their_sheet)
    got = technician.pull(own.device)
    texts = {one["text"] for one in got["entries"]}
    assert {site, my_sheet} <= texts
    assert their_sheet not in texts
    assert got["carry"] == [pair(ref_of(my_sheet))]
    assert not got["more"]
    wanted = technician.pull(own.device, epoch=got["epoch"], after=got["after"], want=[pair(ref_of(their_sheet))])
    assert their_sheet in {one["text"] for one in wanted["entries"]}


def test_a_site_chosen_by_hand_brings_its_sheets(app: Flask, technician: Browser, own: Phone, people: People) -> None:
    colleague = Browser(app, "colleague")
    theirs = Phone(people.colleague, colleague.hello()["device"])
    site = theirs.site()
    sheet = theirs.sheet(site=ref_of(site).id)
    colleague.push(theirs, site, sheet)
    got = technician.pull(own.device, want=[pair(ref_of(site))])
    assert sheet in {one["text"] for one in got["entries"]}


def test_nothing_of_another_firm_is_ever_pulled(app: Flask, technician: Browser, own: Phone) -> None:
    sheet = own.sheet()
    technician.push(own, sheet)
    outsider = Browser(app, "outsider")
    device = outsider.hello()["device"]
    got = outsider.pull(device, have=[pair(ref_of(sheet))], want=[pair(ref_of(sheet))])
    assert got["carry"] == []
    assert all(json.loads(one["text"])["company"] != own.person.company for one in got["entries"])


def test_parts_never_skip(technician: Browser, own: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(carried, "MOST_ENTRIES", 3)
    texts = []
    for _ in range(4):
        sheet = own.sheet()
        texts += [own.site(), sheet, own.note(ref_of(sheet)), own.note(ref_of(sheet), "again")]
        ordered = sorted(texts[-4:], key=lambda text: parse(text).seq)
        technician.push(own, *ordered)
    got: dict[str, int] = {}
    call = {"epoch": None, "after": 0, "have": []}
    for _ in range(40):
        part = technician.pull(own.device, **call)
        got |= {one["text"]: one["number"] for one in part["entries"]}
        call = {"epoch": part["epoch"], "after": part["after"], "have": part["carry"]}
        if not part["more"]:
            break
    assert set(texts) <= set(got)
    assert len(part["carry"]) == 4


def test_the_cursor_passes_nothing_by(technician: Browser, own: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    """Catalogue and sheets are read apart; where one is cut short the cursor stops before what it still holds."""
    sheet = own.sheet()
    technician.push(own, sheet)
    part = technician.pull(own.device)
    sites, notes = [own.site() for _ in range(8)], [own.note(ref_of(sheet)) for _ in range(8)]
    technician.push(own, *sites, *notes)
    monkeypatch.setattr(carried, "MOST_ENTRIES", 3)
    got: list[str] = []
    part["more"] = True
    while part["more"]:
        part = technician.pull(own.device, epoch=part["epoch"], after=part["after"], have=part["carry"])
        got += [one["text"] for one in part["entries"]]
    assert got == sites + notes


def test_the_closing_of_a_carried_sheet_still_arrives(technician: Browser, own: Phone) -> None:
    sheet = own.sheet()
    technician.push(own, sheet)
    first = technician.pull(own.device)
    closed = own.write("sheet_closed", ref_of(sheet), {})
    technician.push(own, closed)
    then = technician.pull(own.device, epoch=first["epoch"], after=first["after"], have=first["carry"])
    assert [one["text"] for one in then["entries"]] == [closed]
    assert then["carry"] == []


def test_a_closed_sheet_is_carried_until_its_last_part_came(
    technician: Browser, own: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet = own.sheet()
    technician.push(own, sheet)
    part = technician.pull(own.device)
    last_ones = [own.site(), own.site(), own.site(), own.write("sheet_closed", ref_of(sheet), {})]
    technician.push(own, *last_ones)
    monkeypatch.setattr(carried, "MOST_ENTRIES", 2)
    got: list[str] = []
    part["more"] = True
    while part["more"]:
        part = technician.pull(own.device, epoch=part["epoch"], after=part["after"], have=part["carry"])
        got += [one["text"] for one in part["entries"]]
    assert got == last_ones
    assert part["carry"] == []


def test_another_epoch_starts_from_nothing(technician: Browser, own: Phone) -> None:
    sheet = own.sheet()
    technician.push(own, sheet)
    got = technician.pull(own.device, epoch=new_id(), after=10_000, have=[pair(ref_of(sheet))])
    assert sheet in {one["text"] for one in got["entries"]}


@pytest.mark.parametrize("door", ["hello", "push", "pull"])
def test_each_door_asks_for_sign_in_type_header_and_own_page(app: Flask, technician: Browser, door: str) -> None:
    stranger = Browser(app).sync(door, {})
    assert stranger.status_code == 401
    assert stranger.get_json()["error"] == "sign_in"
    assert stranger.headers["Dewbook"] == "sync"
    path = f"/sync/{door}"
    assert technician.client.post(path, data="{}", headers=OURS | {"Dewbook-Device": "x"}).status_code == 415
    assert technician.client.post(path, json={}, headers=OURS).status_code == 400
    assert technician.client.post(path, json={}, headers={"Dewbook-Device": "x"}).status_code == 403


def test_too_much_at_once_is_refused_whole(technician: Browser, own: Phone) -> None:
    answer = technician.sync("push", {"entries": ["x"] * 201}, own.device)
    assert answer.status_code == 413
    assert answer.headers["Dewbook"] == "sync"
    assert technician.sync("push", {"entries": ["x" * 300_000]}, own.device).status_code == 413


def test_numbers_are_given_without_a_hole(database: Database, technician: Browser, own: Phone) -> None:
    technician.push(own, own.site(), "{", own.site())
    with database.read() as connection:
        numbers = [row[0] for row in connection.exec_driver_sql(
            f"SELECT number FROM entry WHERE company = '{own.person.company}' ORDER BY number"
        )]  # fmt: skip
    assert numbers == list(range(1, len(numbers) + 1))


def test_an_office_restored_from_an_old_copy_is_whole_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The phone said hello, wrote and was acknowledged after the copy was made; then the copy is put in its place."""
    file, copy = tmp_path / "dewbook.sqlite", tmp_path / "copy.sqlite"
    database = Database(f"sqlite:///{file}")
    database.upgrade()
    person = create_person(database, create_company(database, "A firm"), "technician", "T", "technician", SECRET)
    with closing(sqlite3.connect(file)) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)
    browser = Browser(create_app(Settings(database=str(file))), "technician")
    said = browser.hello()
    phone = Phone(person, said["device"])
    texts = [phone.site(), phone.sheet()]
    assert len(browser.push(phone, *texts)["accepted"]) == 2
    database.close()
    browser.close()
    for name in (file, file.with_name("dewbook.sqlite-wal"), file.with_name("dewbook.sqlite-shm")):
        name.unlink(missing_ok=True)
    copy.rename(file)
    monkeypatch.setenv("DEWBOOK_DATABASE", str(file))
    assert main(["db", "restored"]) == 0
    after = Browser(create_app(Settings(database=str(file))), "technician")  # its session was lost with the rest
    again = after.hello(phone.device)
    assert again["device"] == phone.device
    assert again["epoch"] != said["epoch"]
    assert len(after.push(phone, *texts)["accepted"]) == 2
    pulled = after.pull(phone.device, epoch=said["epoch"], after=said["number"])
    assert set(texts) <= {one["text"] for one in pulled["entries"]}
    after.close()
