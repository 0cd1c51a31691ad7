"""Flask's side of the desk: makes the Request, loads what the desk needs, keeps the entries it makes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from urllib.parse import parse_qsl, quote, urlsplit

from flask import Blueprint, Response, abort, make_response, redirect, request

from server import accounts, models, store
from server.accounts import Signed
from server.folded import load
from server.host import caller, host, keep_alive
from server.ids import new_id
from server.moments import now_utc
from server.pages import LANGUAGE, is_partial
from server.refusals import refuse
from server.scope import Scope
from server.surroundings import offset_minutes, units
from server.writing import pen_of
from webui import desk
from webui.assets import build_id
from webui.page import Page, Pen, Person, Request
from webui.record import Book, parse
from webui.routes import match

web = Blueprint("web", __name__)
_MOST_ROUNDS = 3
_MOST_REDIRECTS = 3
_MOST_FIELDS = 500


class NotKept(Exception):
    """Entries that a page made were refused; everything of this request is undone."""


@web.errorhandler(NotKept)
def not_kept(error: NotKept) -> Response:
    return refuse(409, f"Nothing was kept from this form: {error}. What you typed is still in it.")


@web.route("/", defaults={"path": ""}, methods=["GET", "POST"])
@web.route("/<path:path>", methods=["GET", "POST"])
def answer_desk(path: str) -> Response:
    """Every address of the route table, and every other that no door has taken."""
    found = match(request.method, request.path).route
    writes = found is not None and found.writes
    with host().database.write() if writes else host().database.read() as connection:
        signed = caller(connection)
        if signed is None:
            return _sign_in_first()
        scope = Scope(connection, signed.person.company)
        tag = _board_tag(scope, signed.person) if found is not None and found.kind == "office" else ""
        if tag and tag in request.if_none_match:
            page = Page(304, "", "")
        else:
            asked = _request(signed.person)
            page = keep(scope, signed, asked) if writes else ask(scope, asked)
    keep_alive(signed)
    if page.status == 303 and is_partial():
        page = _followed(signed.person, page)
    return _response(page, tag)


def ask(scope: Scope, asked: Request) -> Page:
    """The desk's page for a request, loading what it needs (at most three rounds)."""
    book = Book()
    load(scope, book, desk.first_need(asked))
    for _ in range(_MOST_ROUNDS):
        page = desk.answer(asked, book)
        if isinstance(page, Page):
            return page
        load(scope, book, page)
    raise RuntimeError(f"{asked.path} still lacks something after {_MOST_ROUNDS} rounds")


def keep(scope: Scope, signed: Signed, asked: Request) -> Page:
    """The desk's page for a request that may write, its entries kept in this transaction. Raises NotKept.

    A form whose one-time id is the id of an entry kept before was sent twice: it is answered and adds nothing.
    """
    store.counter(scope, lock=True)
    if asked.method == "POST":
        asked = replace(asked, pen=pen_of(scope, accounts.server_device(scope, signed)))
    page = ask(scope, asked)
    if not page.entries or _kept_before(scope, page.entries[0]):
        return page
    outcome = store.append(scope, signed.person, page.entries, now_utc())
    if outcome.refused:
        raise NotKept("; ".join(one.why for one in outcome.refused))
    return page


def _kept_before(scope: Scope, text: str) -> bool:
    """Whether the first entry of a form is kept here already. Raises NotKept where that one says something else."""
    made, table = parse(text), models.entry
    row = scope.first(scope.select(table, table.c.text).where(table.c.id == made.id))
    if row is None:
        return False
    kept = parse(row.text)
    if (kept.by, kept.kind, kept.subject, kept.body) != (made.by, made.kind, made.subject, made.body):
        raise NotKept("this form was sent before with other words in it. Open it anew to send these")
    return True


def _followed(person: Person, page: Page) -> Page:
    """Where a redirect leads, for a script: the page itself and its address for the browser's address line."""
    for _ in range(_MOST_REDIRECTS):
        location = page.headers["Location"]
        asked = replace(
            _request(person),
            method="GET",
            path=urlsplit(location).path,
            query=_query(urlsplit(location).query),
            form=(),
        )
        with host().database.read() as connection:
            page = ask(Scope(connection, person.company), asked)
        if page.status != 303:
            return replace(page, headers={"HX-Push-Url": location, **page.headers})
    raise RuntimeError(f"{request.path} redirects more than {_MOST_REDIRECTS} times")


def _request(person: Person) -> Request:
    return Request(
        method="GET" if request.method == "HEAD" else request.method,
        path=request.path,
        query=_query(request.query_string.decode("utf-8", "replace")),
        form=_form(),
        kind="partial" if is_partial() else "full",
        target=_target(),
        person=person,
        pen=Pen("", 0, "", (new_id(),)),  # writes nothing: an id for the page's form to be sent under
        now=now_utc(),
        offset_minutes=offset_minutes(),
        units=units(),
        language=LANGUAGE,
        build=build_id(),
        online=True,
        host="server",
    )


def _target() -> str:
    """The id of the element that a script will put the answer into."""
    return request.headers.get("HX-Target", "").rpartition("#")[2]


def _query(text: str) -> Mapping[str, str]:
    return dict(parse_qsl(text, keep_blank_values=True, max_num_fields=_MOST_FIELDS))


def _form() -> tuple[tuple[str, str], ...]:
    """The fields in the order sent (werkzeug would group them by name)."""
    if request.method != "POST":
        return ()
    if request.mimetype == "application/x-www-form-urlencoded":
        try:
            return tuple(parse_qsl(request.get_data(as_text=True), keep_blank_values=True, max_num_fields=_MOST_FIELDS))
        except (ValueError, UnicodeDecodeError):
            abort(400, "This form could not be read.")
    return tuple(request.form.items(multi=True))


def _board_tag(scope: Scope, person: Person) -> str:
    """What an office page depends on: the company's last number, who asks and how, and the minute shown on it."""
    number, epoch = store.counter(scope)
    kind = f"partial of {_target()}" if is_partial() else "full"
    parts = (
        epoch,
        number,
        build_id(),
        person.id,
        request.path,
        kind,
        units(),
        offset_minutes(),
        now_utc()[:16],
    )
    return accounts.fingerprint("|".join(str(part) for part in parts))[:32]


def _sign_in_first() -> Response:
    if is_partial() or request.method == "POST":
        return refuse(401, "You are signed out. Sign in, then send this again; what you typed is still here.", True)
    here = request.full_path.rstrip("?")
    return make_response(redirect(f"/sign-in?next={quote(here, safe='/')}", 303))


def _response(page: Page, tag: str) -> Response:
    answer = make_response(page.html, page.status)
    for name, value in page.headers.items():
        answer.headers[name] = value
    answer.headers["Vary"] = "HX-Request, HX-Request-Type, HX-Target, Cookie"
    answer.headers["Dewbook-Build"] = build_id()
    if tag:
        answer.set_etag(tag)
        answer.headers["Cache-Control"] = "private, no-cache"
    return answer
