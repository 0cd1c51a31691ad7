"""Places: the sites, found by name."""

from __future__ import annotations

from dataclasses import dataclass

from webui.page import Listing, Page, Request
from webui.record import Book, Summary
from webui.render import page, speaker
from webui.routes import Params


@dataclass(frozen=True)
class Places:
    """sites: those whose name holds what was asked for, by name; asked: that text; total: how many there are."""

    sites: tuple[Summary, ...]
    asked: str
    total: int


def index(request: Request, book: Book, params: Params) -> Page:
    asked = request.query.get("q", "").strip()
    every = tuple(one for one in book.listing(Listing("site")) if one["status"] != "void")
    sites = tuple(one for one in every if asked.casefold() in one["title"].casefold())
    context = Places(sites, asked, len(every))
    return page(request, book, "places.html", context, title=speaker(request)("Places"), area="places")
