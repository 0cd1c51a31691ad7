"""The desk's host: who sees what, entries kept in one transaction, a form sent twice kept once, errors in place.

The desk's own pages have their tests under tests/webui; where a test here needs a page with a certain behaviour it
puts one of its own in their place.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from flask import Flask
from sqlalchemy.exc import OperationalError

from server import office, web
from server.db import Database
from server.ids import new_id
from tests.server.conftest import OURS, Browser, People, Phone
from webui import desk
from webui.page import Need, Page, Ref, Request, redirect
from webui.record import Book, Writer, parse
from webui.routes import ROUTES

PARTIAL = {"HX-Request": "true", "HX-Request-Type": "partial"}


def entries(database: Database, person_company: str) -> list[str]:
    return [text for _, _, text in office.exported(database, person_company)]


@pytest.fixture
def notes(monkeypatch: pytest.MonkeyPatch) -> list[Request]:
    """In place of the desk: posts make a site and go to its page; every request is remembered."""
    seen: list[Request] = []

    def answer(request: Request, book: Book) -> Page | Need:
        seen.append(request)
        if request.method == "POST":
            writer = Writer(request)
            site = writer.fresh("site")
            writer.add("site", site, {"name": request.value("name") or "unnamed"})
            return redirect(f"/places/{site.id}", writer.texts)
        return Page(200, "", f"<p>at {request.path}</p>", {"Content-Type": "text/html; charset=utf-8"})

    monkeypatch.setattr(desk, "answer", answer)
    return seen


def test_a_post_is_kept_and_redirects(
    app: Flask, database: Database, technician: Browser, people: People, notes: list[Request]
) -> None:
    answer = technician.client.post("/places/new", data={"name": "Dairy"}, headers=OURS)
    assert answer.status_code == 303
    last = parse(entries(database, people.technician.company)[-1])
    assert answer.headers["Location"] == f"/places/{last.id}"
    assert (last.kind, last.body, last.by) == ("site", {"name": "Dairy"}, people.technician.id)


def test_the_request_is_what_was_sent(technician: Browser, notes: list[Request]) -> None:
    technician.client.post(
        "/places/new?unit=a&unit=b",
        data="b=2&a=1&b=%C2%B1+3&empty=",
        content_type="application/x-www-form-urlencoded",
        headers=OURS | {"Accept-Language": "de-CH", "HX-Target": "main#desk", "Cookie": "dewbook_offset=-330"},
    )
    asked = notes[0]
    assert asked.form == (("b", "2"), ("a", "1"), ("b", "± 3"), ("empty", ""))
    assert asked.query == {"unit": "b"}
    assert (asked.units, asked.target, asked.host, asked.online, asked.kind) == (
        "metric", "desk", "server", True, "full",
    )  # fmt: skip
    assert asked.now.endswith("Z")


def test_a_script_gets_the_page_behind_the_redirect_and_its_address(technician: Browser, notes: list[Request]) -> None:
    answer = technician.client.post("/places/new", data={"name": "Dairy"}, headers=OURS | PARTIAL)
    assert answer.status_code == 200
    address = answer.headers["HX-Push-Url"]
    assert answer.get_data(as_text=True) == f"<p>at {address}</p>"
    assert (notes[-1].method, notes[-1].form) == ("GET", ())


def test_sent_twice_is_kept_once(
    app: Flask, database: Database, technician: Browser, people: People, notes: list[Request]
) -> None:
    form = {"name": "Dairy", "once": new_id()}
    first = technician.client.post("/places/new", data=form, headers=OURS)
    again = technician.client.post("/places/new", data=form, headers=OURS)
    assert first.headers["Location"] == again.headers["Location"]
    assert [parse(text).id for text in entries(database, people.technician.company)].count(form["once"]) == 1


def test_sent_again_with_other_words_is_refused_not_dropped(
    database: Database, technician: Browser, people: People, notes: list[Request]
) -> None:
    once = new_id()
    technician.client.post("/places/new", data={"name": "Dairy", "once": once}, headers=OURS)
    before = entries(database, people.technician.company)
    answer = technician.client.post("/places/new", data={"name": "Bakery", "once": once}, headers=OURS)
    assert answer.status_code == 409
    assert "sent before with other words" in answer.get_data(as_text=True)
    assert entries(database, people.technician.company) == before


def test_sent_twice_at_the_same_moment_is_kept_once(
    app: Flask, database: Database, people: People, notes: list[Request]
) -> None:
    browsers = [Browser(app, "technician") for _ in range(4)]
    form = {"name": "Dairy", "once": new_id()}
    before = len(entries(database, people.technician.company))
    with ThreadPoolExecutor(4) as crew:
        answers = list(crew.map(lambda one: one.client.post("/places/new", data=form, headers=OURS), browsers))
    assert [answer.status_code for answer in answers] == [303] * 4
    assert len(entries(database, people.technician.company)) == before + 1


def test_an_id_that_another_person_used_is_refused_and_nothing_is_lost_silently(
    app: Flask, database: Database, people: People, notes: list[Request]
) -> None:
    form = {"name": "Dairy", "once": new_id()}
    Browser(app, "colleague").client.post("/places/new", data=form, headers=OURS)
    answer = Browser(app, "technician").client.post("/places/new", data=form, headers=OURS)
    assert answer.status_code == 409
    assert "Nothing was kept" in answer.get_data(as_text=True)


def test_a_page_that_breaks_after_making_entries_keeps_none(
    app: Flask, database: Database, technician: Browser, people: People, monkeypatch: pytest.MonkeyPatch
) -> None:
    app.testing = False
    before = entries(database, people.technician.company)
    real = web.store.append

    def cut(*given: object) -> object:
        real(*given)  # type: ignore[arg-type]
        raise OperationalError("COMMIT", {}, Exception("disk I/O error"))

    def answer(request: Request, book: Book) -> Page:
        writer = Writer(request)
        writer.add("site", writer.fresh("site"), {"name": "Dairy"})
        return redirect("/", writer.texts)

    monkeypatch.setattr(desk, "answer", answer)
    monkeypatch.setattr(web.store, "append", cut)
    answered = technician.client.post("/places/new", data={"name": "x"}, headers=OURS | PARTIAL)
    assert answered.status_code == 503
    assert (answered.headers["HX-Retarget"], answered.headers["HX-Reswap"]) == ("#status", "innerHTML")
    assert entries(database, people.technician.company) == before


@pytest.mark.parametrize("failure", [RuntimeError("inner-secret"), KeyError("inner-secret")])
def test_an_error_goes_to_the_status_line_and_never_into_the_form(
    app: Flask, technician: Browser, monkeypatch: pytest.MonkeyPatch, failure: Exception
) -> None:
    def answer(request: Request, book: Book) -> Page:
        raise failure

    monkeypatch.setattr(desk, "answer", answer)
    answered = technician.client.get("/", headers=PARTIAL)
    assert answered.status_code == 500
    assert answered.headers["HX-Retarget"] == "#status"
    whole = technician.client.get("/")
    assert whole.status_code == 500
    assert "<html" in whole.get_data(as_text=True)
    assert "inner-secret" not in whole.get_data(as_text=True)


def test_signed_out_a_script_or_form_is_told_and_a_page_is_led_to_the_door(app: Flask) -> None:
    stranger = app.test_client()
    led = stranger.get("/places?x=1")
    assert (led.status_code, led.headers["Location"]) == (303, "/sign-in?next=/places%3Fx%3D1")
    for answer in (stranger.get("/", headers=PARTIAL), stranger.post("/places/new", headers=OURS | PARTIAL)):
        assert answer.status_code == 401
        assert answer.headers["HX-Retarget"] == "#status"
    assert stranger.post("/places/new", headers=OURS).status_code == 401


@pytest.mark.parametrize("route", [one for one in ROUTES if one.method == "GET"], ids=lambda one: one.pattern)
def test_every_route_asks_for_sign_in(app: Flask, route: object) -> None:
    path = route.pattern  # type: ignore[attr-defined]
    for place in ("site", "unit", "sheet", "entry"):
        path = path.replace(f"<{place}>", new_id())
    answer = app.test_client().get(path.replace("<name>", "superheat").replace("<topic>", "reading"))
    assert answer.status_code == 303
    assert answer.headers["Location"].startswith("/sign-in?next=")


def test_the_board_is_the_supervisors(app: Flask, technician: Browser) -> None:
    assert technician.client.get("/board").status_code == 403
    assert Browser(app, "supervisor").client.get("/board").status_code == 200


def test_the_board_is_sent_again_only_when_something_came(
    app: Flask, database: Database, people: People, phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(web, "now_utc", lambda: "2026-11-25T09:30:05Z")
    board = Browser(app, "supervisor").client
    first = board.get("/board")
    assert first.headers["Cache-Control"] == "private, no-cache"
    asks = {"If-None-Match": first.headers["ETag"]}
    assert board.get("/board", headers=asks).status_code == 304
    office.keep(database, people.technician, [phone.sheet()])
    later = board.get("/board", headers=asks)
    assert later.status_code == 200
    assert "RTU-1" in later.get_data(as_text=True)


@pytest.mark.parametrize("name", ["technician", "colleague", "supervisor", "outsider"])
def test_a_foreign_firms_subject_does_not_exist(
    app: Flask, database: Database, people: People, phone: Phone, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Whatever a route loads goes through one scope: an address gives a colleague the sheet, and an outsider none."""
    text = phone.sheet()
    office.keep(database, people.technician, [text])
    sheet = parse(text).subject
    found: list[bool] = []

    def answer(request: Request, book: Book) -> Page | Need:
        if book.lacks(Need(frozenset({sheet, Ref("site", sheet.id)}))):
            return Need(frozenset({sheet, Ref("site", sheet.id)}))
        found.append(book.state(sheet)["exists"])
        return Page(200, "", "")

    monkeypatch.setattr(desk, "answer", answer)
    assert Browser(app, name).client.get(f"/sheet/{sheet.id}").status_code == 200
    assert found == [name != "outsider"]


def test_a_desk_that_never_has_enough_is_an_error(
    app: Flask, technician: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(desk, "answer", lambda request, book: Need(frozenset({Ref("sheet", new_id())})))
    assert technician.client.get("/").status_code == 500
