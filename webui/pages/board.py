"""The Board: what the crew has open now, with the latest figures and verdicts, for supervisors on the server."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from webui.page import Listing, Page, Request
from webui.record import Book, Summary
from webui.render import page, piece, speaker
from webui.routes import Params
from webui.subjects import names_of


@dataclass(frozen=True)
class Board:
    """sheets: every open one, newest first; names: person's id to name; counts: standing to how many figures."""

    sheets: tuple[Summary, ...]
    names: Mapping[str, str]
    counts: Mapping[str, int]


def show(request: Request, book: Book, params: Params) -> Page:
    sheets = book.listing(Listing("sheet", status="open"))
    counts = {
        standing: sum(sheet["standings"].get(standing, 0) for sheet in sheets)
        for standing in ("not_proven", "too_close", "proven")
    }
    context = Board(sheets, names_of(book), counts)
    if request.target == "board-lines":  # the Board asks again by itself
        return piece(request, "_board_lines.html", context)
    return page(request, book, "board.html", context, title=speaker(request)("Board"), area="board")
