"""The doors that are not the desk: sign-in and sign-out, health, static files, shell and service worker."""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import Blueprint, Response, abort, jsonify, make_response, redirect, request
from sqlalchemy import text

from server import accounts
from server.accounts import NotAccepted
from server.host import caller, host
from server.pages import render
from server.scope import Scope
from server.static_files import send_static
from webui.assets import build_id
from webui.language import N_

doors = Blueprint("doors", __name__)


@doors.get("/sign-in")
def sign_in_form() -> Response:
    with host().database.read() as connection:
        signed = caller(connection)
    return _form(name="", next_page=_local(request.args.get("next", "/")), signed=signed)


@doors.post("/sign-in")
def sign_in() -> Response:
    name, secret = request.form.get("name", "").strip(), request.form.get("password", "")
    next_page = _local(request.form.get("next", "/"))
    if not _cookie_holds():
        return _form(name, next_page, status=400)
    faults = {"name": not name, "password": not secret}
    if any(faults.values()):
        return _form(name, next_page, faults=[field for field, lacks in faults.items() if lacks], status=400)
    try:
        with host().database.read() as connection:
            company, person = accounts.check_secret(connection, name, secret, host().throttle)
    except NotAccepted as no:
        return _form(name, next_page, refused=no.why, status=403)
    with host().database.write() as connection:
        cookie = accounts.open_session(Scope(connection, company), person)
    answer = make_response(redirect(next_page, 303))
    answer.set_cookie(
        accounts.COOKIE,
        cookie,
        max_age=host().settings.session_seconds,
        path="/",
        httponly=True,
        samesite="Lax",
        secure=request.is_secure,
    )
    return answer


@doors.get("/sign-out")
def sign_out_form() -> Response:
    with host().database.read() as connection:
        signed = caller(connection)
    return render("sign_out.html", N_("Sign out"), signed=signed)


@doors.post("/sign-out")
def sign_out() -> Response:
    with host().database.write() as connection:
        signed = caller(connection)
        if signed is not None:
            accounts.end_session(Scope(connection, signed.person.company), signed)
    answer = make_response(redirect("/sign-in", 303))
    answer.delete_cookie(accounts.COOKIE, path="/")
    return answer


@doors.get("/healthz")
def healthz() -> Response:
    """Whether this process answers and reaches its database; tells nothing else."""
    with host().database.read() as connection:
        connection.execute(text("SELECT 1"))
    return jsonify(ok=True)


@doors.get("/static/<path:name>")
def static_file(name: str) -> Response:
    return send_static(name)


@doors.get("/service-worker.js")
def service_worker() -> Response:
    """From the root, so that it may answer every desk address."""
    if not build_id():
        abort(404, "The browser files were not built yet; `make assets` builds them.")
    return send_static("gen/service_worker.js")


@doors.get("/manifest.webmanifest")
def web_manifest() -> Response:
    return send_static("gen/manifest.webmanifest" if build_id() else "manifest.webmanifest")


@doors.get("/shell")
def shell() -> Response:
    """The page that the service worker shows for every desk address: the same for everybody, so it holds nothing."""
    answer = render("shell.html", N_("Dewbook"), host="phone")
    answer.headers["Cache-Control"] = "no-cache"
    return answer


def _form(name: str, next_page: str, status: int = 200, **more: object) -> Response:
    context = {"signed": None, "refused": "", "faults": [], "cookie_holds": _cookie_holds()} | more
    return render("sign_in.html", N_("Sign in"), status, name=name, next=next_page, **context)


def _local(address: str) -> str:
    """The address where it lies on this site, else the first page (nobody is sent elsewhere by a link to us)."""
    parts = urlsplit(address)
    inside = address.startswith("/") and not address.startswith(("//", "/\\")) and not parts.scheme and not parts.netloc
    plain = all(character.isprintable() and character != "\\" for character in address)
    return address if inside and plain else "/"


def _cookie_holds() -> bool:
    """Whether the session cookie may travel here: over https, or on this very machine."""
    return request.is_secure or urlsplit(request.host_url).hostname in {"localhost", "127.0.0.1", "::1"}
