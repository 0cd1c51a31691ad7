"""The form of a strip that is a few words, shared by note, void and close."""

from __future__ import annotations

from dataclasses import dataclass, replace

from calc.working import Fault, Field
from webui.forms import Input, Typed, inputs
from webui.page import Page, Request
from webui.pages.sheet import Around
from webui.preferences import preferences
from webui.record import Book
from webui.render import page, speaker


@dataclass(frozen=True)
class Words:
    """heading, the sheet, the one field with its fault, what the button says, and the text it corrects or strikes."""

    around: Around
    heading: str
    button: str
    field: Input
    faults: list[Fault]
    about: str
    of: str


def words_form(
    request: Request,
    book: Book,
    around: Around,
    field: Field,
    text: str,
    faults: list[Fault],
    *,
    heading: str,
    button: str,
    about: str = "",
    of: str = "",
) -> Page:
    """The form with what was typed and what is wrong with it."""
    one = inputs((field,), {field.name: Typed(text)}, faults, preferences(request, book))[0]
    context = Words(around, heading, button, replace(one, shape="prose"), faults, about, of)
    said = speaker(request)(heading)
    return page(request, book, "words.html", context, title=said, area="today", status=422 if faults else 200)
