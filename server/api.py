"""The open door to the workings: list, describe, run. Stateless: it reads no cookie and keeps nothing."""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, Response, current_app, request

from calc.errors import Fault
from calc.messages import N_, Message, message
from calc.working import run, workings
from server.rate import Rate

LONGEST_BODY = 256 * 1024
SUSTAINED_PER_SECOND = 20.0
BURST = 600

blueprint = Blueprint("api", __name__, url_prefix="/api/workings")
RATE_KEY = "DEWBOOK_API_RATE"


@blueprint.record_once
def _own_rate(state: Any) -> None:
    state.app.extensions.setdefault(RATE_KEY, Rate(SUSTAINED_PER_SECOND, BURST))


@blueprint.before_request
def _slow_down() -> Response | None:
    wait = current_app.extensions[RATE_KEY].take(request.remote_addr or "")
    if not wait:
        return None
    answer = _refuse(429, "too_many", message(N_("Too many requests")), message(N_("Try again in a moment")))
    answer.headers["Retry-After"] = str(int(wait) + 1)
    return answer


@blueprint.get("")
def list_workings() -> Response:
    """Every working with its fields and results: the listing of `dewbook work --list --json`."""
    return _json({"workings": [working.to_json() for working in workings().values()]})


@blueprint.get("/<name>")
def describe(name: str) -> Response:
    """One working's fields, needs, results, cautions and sources."""
    working = workings().get(name)
    return _json(working.to_json()) if working else _not_found(name)


@blueprint.post("/<name>")
def answer(name: str) -> Response:
    """Runs a working on a JSON object of texts by field; ?units= or a field `units` chooses how results are shown."""
    if name not in workings():
        return _not_found(name)
    if (request.content_length or 0) > LONGEST_BODY:
        return _too_long()
    if request.mimetype != "application/json":
        problem = message(N_("The body must be JSON (Content-Type: application/json)"))
        return _refuse(415, "not_json", problem, message(N_('Send an object such as {{"elevation": "1600 m"}}')))
    body = request.stream.read(LONGEST_BODY + 1)
    if len(body) > LONGEST_BODY:
        return _too_long()
    try:
        inputs = json.loads(body)
    except (ValueError, RecursionError):
        inputs = None
    if not isinstance(inputs, dict):
        problem = message(N_("The body is not a JSON object"))
        return _refuse(422, "not_json", problem, message(N_('Send an object such as {{"elevation": "1600 m"}}')))
    result = run(name, inputs, request.args.get("units"))
    return _json(result.to_json(), 200 if result.ok else 422)


def _not_found(name: str) -> Response:
    result = run(name, {})
    return _json(result.to_json(), 404)


def _too_long() -> Response:
    problem = message(N_("The body is longer than 256 kB"))
    return _refuse(413, "too_long", problem, message(N_("Send only the fields of the working")))


def _refuse(status: int, code: str, problem: Message, hint: Message) -> Response:
    return _json({"ok": False, "errors": [Fault("", "", code, problem, hint).to_json()]}, status)


def _json(data: Any, status: int = 200) -> Response:
    text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    return Response(text, status, mimetype="application/json", headers={"Cache-Control": "no-store"})
