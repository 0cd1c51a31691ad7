"""The manual: pages that are there without signal."""

from __future__ import annotations

from dataclasses import dataclass

from calc.messages import N_
from webui.page import Page, Request
from webui.record import Book
from webui.render import page, refusal, speaker
from webui.routes import Params

TOPICS = (
    ("visit", N_("A visit, start to end")),
    ("figures", N_("Reading a figure: ±, verdicts, why")),
    ("typing", N_("Typing readings and units")),
    ("refrigerants", N_("Dew, bubble, and how good the tables are")),
    ("record", N_("The record: kept, corrected, struck out")),
    ("signal", N_("Without signal")),
    ("safety", N_("Before a hose goes on")),
    ("limits", N_("What this book does not do")),
)


@dataclass(frozen=True)
class Index:
    """topics: address and heading."""

    topics: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Topic:
    """One page of the manual."""

    heading: str
    text: str


def index(request: Request, book: Book, params: Params) -> Page:
    title = speaker(request)("Manual")
    return page(request, book, "manual_index.html", Index(TOPICS), title=title, area="manual")


def show(request: Request, book: Book, params: Params) -> Page:
    heading = dict(TOPICS).get(params["topic"])
    if heading is None:
        return refusal(request, book, 404)
    context = Topic(heading, f"manual/{params['topic']}.html")
    return page(request, book, "manual.html", context, title=speaker(request)(heading), area="manual")
