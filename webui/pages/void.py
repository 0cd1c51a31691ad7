"""Making a strip void: it stays on the sheet, struck out, with who said so and why."""

from __future__ import annotations

from calc.messages import N_
from webui.page import Page, Ref, Request, redirect
from webui.pages.sheet import Around, around
from webui.pages.words import words_form
from webui.record import Book, Item, Writer
from webui.render import refusal
from webui.routes import Params
from webui.strips.words import WHY_VOID, faults
from webui.words import label


def _strip(found: Around | None, params: Params) -> Item | None:
    """The strip that may be made void: a reading, a note, or a closing (which opens the sheet again)."""
    items: list[Item] = found.sheet.state["items"] if found else []
    kinds = ("reading", "note", "sheet_closed")
    return next((x for x in items if x["id"] == params["entry"] and x["kind"] in kinds and not x["void"]), None)


def show(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    strip = _strip(found, params)
    if found is None or strip is None:
        return refusal(request, book, 404)
    about = label(strip["kind"], request.language)
    heading, button = N_("Strike out"), N_("Strike it out")
    return words_form(request, book, found, WHY_VOID, "", [], heading=heading, button=button, about=about)


def keep(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    strip = _strip(found, params)
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
