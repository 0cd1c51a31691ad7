"""The desk: one pure function that answers every request, in Flask and in the phone's browser alike."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module
from typing import cast

from webui.page import Missing, Need, Page, Ref, Request
from webui.record import Book
from webui.render import refusal
from webui.routes import OFFICE, Match, Params, match

PageFunction = Callable[[Request, Book, Params], Page]


@cache
def page_function(name: str) -> PageFunction:
    """The function that a route names: "bench.show" is show in webui.pages.bench."""
    module, _, function = name.partition(".")
    return cast(PageFunction, getattr(import_module(f"webui.pages.{module}"), function))


def first_need(request: Request) -> Need:
    """What the route is known to need from its address alone, so that most requests take one load."""
    found = match(request.method, request.path)
    if found.route is None or request.person is None:
        return Need()
    return found.route.needs(request, found.params) | Need(subjects=frozenset({Ref("person", request.person.id)}))


def answer(request: Request, book: Book) -> Page | Need:
    """The page for a request, or what is lacking to make it.

    Every page is for somebody who is signed in; the host sends others to its own door. An office page is for
    supervisors. 404 and 405 are pages as well.
    """
    found = match(request.method, request.path)
    try:
        return _answer(request, book, found)
    except Missing as missing:
        return missing.need


def _answer(request: Request, book: Book, found: Match) -> Page:
    if request.person is None:
        return refusal(request, None, 401)
    if found.route is None:
        return refusal(request, book, 405 if found.methods else 404)
    if found.route.kind == OFFICE and request.person.role != "supervisor":
        return refusal(request, book, 403)
    return page_function(found.route.page)(request, book, found.params)
