"""A note on a sheet, and its correction (?of=ENTRY)."""

from __future__ import annotations

from calc.messages import N_
from calc.working import Fault
from webui.page import Page, Ref, Request, redirect
from webui.pages.sheet import Around, around
from webui.pages.words import words_form
from webui.record import Book, Item, Writer, once
from webui.render import refusal
from webui.routes import Params
from webui.strips.words import NOTE, faults
from webui.subjects import heads


def show(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None or found.closed:
        return refusal(request, book, 404)
    of = _corrected(request, found)
    return _form(request, book, found, of, of["body"]["text"] if of else "", [])


def keep(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None or found.closed:
        return refusal(request, book, 404)
    address = f"/sheet/{found.sheet.id}"
    if once(request) and any(item["id"] == once(request) for item in found.sheet.state["items"]):
        return redirect(address)
    text, of = request.value("text"), _corrected(request, found)
    wrong = faults(NOTE, text)
    if wrong:
        return _form(request, book, found, of, text, wrong)
    writer = Writer(request)
    body = {"text": text, **({"taken_at": of["taken_at"]} if of else {})}
    writer.add("note", Ref("sheet", found.sheet.id), body, supersedes=heads(of) if of else [])
    return redirect(address, writer.texts)


def _corrected(request: Request, found: Around) -> Item | None:
    wanted = request.value("of") or request.query.get("of", "")
    items: list[Item] = found.sheet.state["items"]
    return next((one for one in items if one["kind"] == "note" and one["id"] == wanted and not one["void"]), None)


def _form(request: Request, book: Book, found: Around, of: Item | None, text: str, wrong: list[Fault]) -> Page:
    heading = N_("Correct the note") if of else N_("A note")
    return words_form(
        request, book, found, NOTE, text, wrong, heading=heading, button=N_("Keep the note"), of=of["id"] if of else ""
    )
