"""Closing a sheet; striking the closing out opens it again."""

from __future__ import annotations

from calc.messages import N_
from webui.page import Page, Ref, Request, redirect
from webui.pages.sheet import around
from webui.pages.words import words_form
from webui.record import Book, Writer
from webui.render import refusal
from webui.routes import Params
from webui.strips.words import WHY_CLOSED, faults


def show(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None or found.closed:
        return refusal(request, book, 404)
    heading, button = N_("Close the sheet"), N_("Close it")
    return words_form(request, book, found, WHY_CLOSED, "", [], heading=heading, button=button)


def keep(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None:
        return refusal(request, book, 404)
    if found.closed:
        return redirect(f"/sheet/{found.sheet.id}")
    why = request.value("why")
    wrong = faults(WHY_CLOSED, why)
    if wrong:
        heading, button = N_("Close the sheet"), N_("Close it")
        return words_form(request, book, found, WHY_CLOSED, why, wrong, heading=heading, button=button)
    writer = Writer(request)
    writer.add("sheet_closed", Ref("sheet", found.sheet.id), {"why": why} if why else {})
    return redirect(f"/sheet/{found.sheet.id}", writer.texts)
