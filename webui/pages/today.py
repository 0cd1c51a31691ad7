"""Today: the sheets that are open in my name."""

from __future__ import annotations

from dataclasses import dataclass

from webui.page import Listing, Page, Request
from webui.record import Book, Summary
from webui.render import page, speaker
from webui.routes import Params


@dataclass(frozen=True)
class Today:
    """sheets: open ones of the signed-in person, newest first."""

    sheets: tuple[Summary, ...]


def show(request: Request, book: Book, params: Params) -> Page:
    assert request.person is not None
    sheets = book.listing(Listing("sheet", status="open", person=request.person.id))
    return page(request, book, "today.html", Today(sheets), title=speaker(request)("Today"), area="today")
