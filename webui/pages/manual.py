"""The manual: short pages that stand beside the work, on the phone as in the office."""

from __future__ import annotations

from dataclasses import dataclass

from webui.language import N_
from webui.page import Page, Request
from webui.record import Book
from webui.render import page, refusal, speaker
from webui.routes import Params

TOPICS = {
    "visit": N_("A visit, from arriving to leaving"),
    "figures": N_("What a figure says, and what it does not"),
    "gauges": N_("Gauges, units and thin air"),
    "refrigerants": N_("Refrigerants: dew, bubble and how good the tables are"),
    "record": N_("The record: kept, corrected, void"),
    "signal": N_("Without signal, and when it comes back"),
    "safety": N_("Before you put a hose on"),
    "limits": N_("What this book cannot do"),
}


@dataclass(frozen=True)
class Contents:
    """topics: (name, title) of every page, in reading order."""

    topics: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Topic:
    """name: of this page; body: its template; onward: (name, title) of the next page, or None after the last."""

    heading: str
    body: str
    onward: tuple[str, str] | None


def index(request: Request, book: Book, params: Params) -> Page:
    contents = Contents(tuple(TOPICS.items()))
    return page(request, book, "manual.html", contents, title=speaker(request)("Manual"), area="manual")


def show(request: Request, book: Book, params: Params) -> Page:
    name = params["topic"]
    if name not in TOPICS:
        return refusal(request, book, 404)
    names = list(TOPICS)
    following = names[names.index(name) + 1 : names.index(name) + 2]
    onward = (following[0], TOPICS[following[0]]) if following else None
    topic = Topic(TOPICS[name], f"manual/{name}.html", onward)
    return page(request, book, "manual_topic.html", topic, title=speaker(request)(TOPICS[name]), area="manual")
