"""Pages and objects for requests that could not be answered, so that no error wipes what was typed.

A request made by a script for part of a page gets a line for the status line (HX-Retarget), never the form's place.
"""

from __future__ import annotations

from http import HTTPStatus

from flask import Flask, Response, jsonify, make_response, request
from sqlalchemy.exc import OperationalError
from werkzeug.exceptions import HTTPException

from server.pages import is_partial, render
from webui.language import N_

_KIND = {
    400: "This request could not be read.",
    403: "You may not do this here.",
    404: "There is nothing at this address.",
    405: "This address does not take that.",
    413: "This is more than can be sent at once.",
    500: "Something broke here, and nothing was kept from this request. What you typed is still in your form.",
    503: "The office is busy. Nothing was kept from this request. Wait a moment and send it again.",
}


def refuse(status: int, text: str, sign_in: bool = False) -> Response:
    """An answer that says why not: JSON at the doors for programs, a status line for scripts, a page for people."""
    if request.path.startswith(("/sync", "/api")):
        code = "sign_in" if sign_in else HTTPStatus(status).name.lower()
        return make_response(jsonify(error=code, text=text), status)
    page = "refused_line.html" if is_partial() else "refused.html"
    answer = render(page, N_("Not done"), status, text=text, sign_in=sign_in)
    if is_partial():
        answer.headers["HX-Retarget"] = "#status"
        answer.headers["HX-Reswap"] = "innerHTML"
    return answer


def install(app: Flask) -> None:
    """Answer errors by refuse()."""

    @app.errorhandler(HTTPException)
    def refused(error: HTTPException) -> Response:
        status = error.code or 500
        if error.response is not None and status < 400:
            return make_response(error.response)
        own_words = error.description if error.description != type(error).description else None
        return refuse(status, own_words or _KIND.get(status, error.name))

    @app.errorhandler(OperationalError)
    def busy(error: OperationalError) -> Response:
        app.logger.exception("the database did not answer")
        return refuse(503, _KIND[503])

    @app.errorhandler(Exception)
    def broken(error: Exception) -> Response:
        app.logger.exception("a request broke")
        return refuse(500, _KIND[500])
