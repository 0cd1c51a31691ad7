"""Making a strip void: it stays on the sheet, struck out, with who said so and why."""

from __future__ import annotations

from calc.messages import N_
from webui.page import Page, Ref, Request, redirect
from webui.pages.sheet import around
from webui.pages.words import words_form
from webui.record import Book, Writer
from webui.render import refusal
from webui.routes import Params
from webui.strips.words import WHY_VOID, faults
from webui.words import label

_KINDS = ("reading", "note", "sheet_closed")  # striking out a closing opens the sheet again


def show(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    strip = found.strip(params["entry"], *_KINDS) if found else None
    if found is None or strip is None:
        return refusal(request, book, 404)
    about = label(strip["kind"], request.language)
    heading, button = N_("Strike out"), N_("Strike it out")
    return words_form(request, book, found, WHY_VOID, "", [], heading=heading, button=button, about=about)


def keep(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    strip = found.strip(params["entry"], *_KINDS) if found else None
    if found is None or strip is None:
        return refusal(request, book, 404)
    why = request.value("why")
    wrong = faults(WHY_VOID, why)
    if wrong:
        about = label(strip["kind"], request.language)
        heading, button = N_("Strike out"), N_("Strike it out")
        return words_form(request, book, found, WHY_VOID, why, wrong, heading=heading, button=button, about=about)
    writer = Writer(request)
    writer.add("void", Ref("sheet", found.sheet.id), {"target": strip["id"], "why": why})
    return redirect(f"/sheet/{found.sheet.id}", writer.texts)
