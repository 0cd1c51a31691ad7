"""The sync door: a phone says hello, pushes what is not acknowledged yet, and pulls what it carries."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

from flask import Blueprint, Response, jsonify, request

from server import accounts, carried, models, store
from server.accounts import Signed
from server.host import caller, host, keep_alive
from server.moments import now_utc
from server.scope import Scope
from webui.page import Ref
from webui.record import is_uuid

sync = Blueprint("sync", __name__, url_prefix="/sync")
DEVICE_HEADER = "Dewbook-Device"
MARKER = ("Dewbook", "sync")  # a captive portal's answer does not carry it
MOST_ENTRIES, MOST_BYTES = 200, 256 * 1024
_MOST_REFS = 1000
_JSON_ROOM = 2  # a text may grow this much when it is quoted inside the batch

Door = Callable[[dict[str, Any], Scope, Signed], Response]


class BadCall(Exception):
    """A call that cannot be read: status, code, and what is wrong."""

    def __init__(self, status: int, code: str, text: str) -> None:
        super().__init__(text)
        self.status, self.code, self.text = status, code, text


def door(writes: bool) -> Callable[[Door], Callable[[], Response]]:
    """A door for a phone's program: JSON in and out, signed in, in one transaction that has ended before the answer."""

    def wrap(answer: Door) -> Callable[[], Response]:
        @functools.wraps(answer)
        def view() -> Response:
            call = _call()
            database = host().database
            with database.write() if writes else database.read() as connection:
                signed = caller(connection)
                if signed is None:
                    return _refused(401, "sign_in", "Sign in again; everything on the phone stays as it is.")
                made = answer(call, Scope(connection, signed.person.company), signed)
            keep_alive(signed)
            return made

        return view

    return wrap


@sync.errorhandler(BadCall)
def bad_call(bad: BadCall) -> Response:
    return _refused(bad.status, bad.code, bad.text)


@sync.after_request
def mark(answer: Response) -> Response:
    answer.headers[MARKER[0]] = MARKER[1]
    return answer


@sync.post("/hello")
@door(writes=True)
def hello(call: dict[str, Any], scope: Scope, signed: Signed) -> Response:
    build = call.get("build")
    if not isinstance(build, str):
        raise BadCall(400, "build", "build is the id of the program on the phone, as text")
    person = signed.person
    device = accounts.phone_device(scope, person.id, call.get("device"), build)
    number, epoch = store.counter(scope)
    return jsonify(
        device=device,
        person={
            "id": person.id,
            "name": person.name,
            "role": person.role,
            "company": person.company,
            "company_name": person.company_name,
        },
        epoch=epoch,
        now=now_utc(),
        number=number,
    )


@sync.post("/push")
@door(writes=True)
def push(call: dict[str, Any], scope: Scope, signed: Signed) -> Response:
    texts = call.get("entries")
    if not isinstance(texts, list) or not all(isinstance(text, str) for text in texts):
        raise BadCall(400, "entries", "entries is a list of texts")
    if len(texts) > MOST_ENTRIES or sum(len(text.encode(errors="replace")) for text in texts) > MOST_BYTES:
        raise BadCall(413, "too_much", f"a batch holds at most {MOST_ENTRIES} entries and {MOST_BYTES} bytes")
    device = _own_device(scope, signed)
    newer_ok = device.build in host().settings.builds
    outcome = store.append(scope, signed.person, texts, now_utc(), newer_ok)
    _, epoch = store.counter(scope)
    return jsonify(
        epoch=epoch,
        accepted=[{"id": entry_id, "number": number} for entry_id, number in outcome.accepted.items()],
        refused=[{"id": one.id, "code": one.code, "why": one.why} for one in outcome.refused],
    )


@sync.post("/pull")
@door(writes=False)
def pull(call: dict[str, Any], scope: Scope, signed: Signed) -> Response:
    after = call.get("after")
    if not isinstance(after, int) or isinstance(after, bool) or after < 0:
        raise BadCall(400, "after", "after is the last number read, 0 at first")
    if not isinstance(call.get("epoch"), str | None):
        raise BadCall(400, "epoch", "epoch is the text the office gave, or null at first")
    have, want = _refs(call, "have"), _refs(call, "want")
    _own_device(scope, signed)
    number, epoch = store.counter(scope)
    if call.get("epoch") != epoch:  # another life of this database: what was read counts for nothing
        after, have = 0, []
    part = carried.pull(scope, signed.person, min(after, number), have, want, number)
    return jsonify(
        epoch=epoch,
        after=part.after,
        entries=[{"number": n, "text": text} for n, text in part.entries],
        carry=[list(ref) for ref in part.carry],
        more=part.more,
    )


def _call() -> dict[str, Any]:
    if request.mimetype != "application/json":
        raise BadCall(415, "content_type", "this door takes application/json")
    if DEVICE_HEADER not in request.headers:
        raise BadCall(400, "device_header", f"this door asks for the header {DEVICE_HEADER}")
    if (request.content_length or 0) > MOST_BYTES * _JSON_ROOM + 4096:
        raise BadCall(413, "too_much", f"a batch holds at most {MOST_BYTES} bytes")
    data = request.get_json(silent=True)
    if not isinstance(data, dict):
        raise BadCall(400, "not_json", "this call is not a JSON object")
    return data


def _own_device(scope: Scope, signed: Signed) -> Any:
    table = models.device
    device_id = request.headers[DEVICE_HEADER]
    row = scope.first(scope.select(table).where(table.c.id == device_id, table.c.person == signed.person.id))
    if row is None:
        raise BadCall(409, "device", "this device is not registered to you; say hello first")
    return row


def _refs(call: dict[str, Any], name: str) -> list[Ref]:
    pairs = call.get(name, [])
    good = isinstance(pairs, list) and all(
        isinstance(pair, list) and len(pair) == 2 and isinstance(pair[0], str) and is_uuid(pair[1]) for pair in pairs
    )
    if not good:
        raise BadCall(400, name, f"{name} is a list of [kind, id]")
    if len(pairs) > _MOST_REFS:
        raise BadCall(413, name, f"{name} holds at most {_MOST_REFS}")
    return list(dict.fromkeys(Ref(kind, identity) for kind, identity in pairs))


def _refused(status: int, code: str, text: str) -> Response:
    answer = jsonify(error=code, text=text)
    answer.status_code = status
    return answer
