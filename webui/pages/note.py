"""A note on a sheet, and its correction (?of=ENTRY)."""

from __future__ import annotations

from calc.messages import N_
from calc.working import Fault
from webui.page import Page, Ref, Request, redirect
from webui.pages.sheet import Around, around, barred
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
    of = found.strip(_wanted(request), "note")
    if _wanted(request) and of is None:
        return refusal(request, book, 404)
    return _form(request, book, found, of, of["body"]["text"] if of else "", [])


def keep(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None:
        return refusal(request, book, 404)
    address = f"/sheet/{found.sheet.id}"
    if once(request) and any(item["id"] == once(request) for item in found.sheet.state["items"]):
        return redirect(address)
    text, of = request.value("text"), found.strip(_wanted(request), "note")
    bar = barred(found, _wanted(request), of, NOTE.name)
    if bar is not None:
        return _form(request, book, found, of, text, [bar])
    wrong = faults(NOTE, text)
    if wrong:
        return _form(request, book, found, of, text, wrong)
    writer = Writer(request)
    body = {"text": text, **({"taken_at": of["taken_at"]} if of else {})}
    writer.add("note", Ref("sheet", found.sheet.id), body, supersedes=heads(of) if of else [])
    return redirect(address, writer.texts)


def _wanted(request: Request) -> str:
    """The id of the note that the form corrects, by ?of= or its hidden field; "" for a new one."""
    return request.value("of") or request.query.get("of", "")


def _form(request: Request, book: Book, found: Around, of: Item | None, text: str, wrong: list[Fault]) -> Page:
    heading = N_("Correct the note") if of else N_("A note")
    return words_form(
        request, book, found, NOTE, text, wrong, heading=heading, button=N_("Keep the note"), of=of["id"] if of else ""
    )
