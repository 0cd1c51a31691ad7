"""The desk in the phone's worker: one JSON text in, one out. Holds what was loaded, asks its host for what lacks.

The host (webui/static/js/engine.js) loops: `ask` with a request; where the answer is a need, load it, hand it in with
`load`, ask again; more than three rounds is an error. Entries of a page are written by the host first and then told
back with `kept`; what other tabs and the sync brought is told with `forget`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any

from webui import assets
from webui.desk import answer, first_need
from webui.page import Listing, Need, Page, Ref, Request
from webui.record import Book, Entry, State, Summary, fold, parse, summary
from webui.routes import match

Data = dict[str, Any]


class Shelf:
    """Subjects loaded so far, with their entries; folded once and again only when something came."""

    def __init__(self) -> None:
        self._entries: dict[Ref, dict[str, Entry]] = {}
        self._states: dict[Ref, State] = {}
        self._summaries: dict[Ref, Summary] = {}
        self._whole_kinds: set[str] = set()
        self._stale: set[Ref] = set()

    def put(self, ref: Ref, texts: list[str]) -> None:
        """Take all entries of a subject, as they are stored."""
        self._entries[ref] = {entry.id: entry for entry in map(parse, texts)}
        self._stale.discard(ref)
        self._unfold(ref)

    def put_kind(self, kind: str, subjects: list[tuple[Ref, list[str]]]) -> None:
        """Take every subject of a kind that is stored."""
        for ref, texts in subjects:
            self.put(ref, texts)
        self._whole_kinds.add(kind)

    def keep(self, texts: list[str]) -> None:
        """Add entries that were just written."""
        for entry in map(parse, texts):
            if entry.subject in self._entries or entry.subject.kind in self._whole_kinds:
                self._entries.setdefault(entry.subject, {})[entry.id] = entry
            self._unfold(entry.subject)

    def forget(self, ref: Ref) -> None:
        """A subject changed elsewhere: it is loaded again when next needed."""
        self._entries.pop(ref, None)
        self._unfold(ref)
        self._stale.add(ref)

    def lacks(self, need: Need) -> Need:
        """What has to be loaded before a book can hold this need. A Listing stands here for its whole kind."""
        kinds = {listing.kind for listing in need.lists}
        subjects = {ref for ref in need.subjects if ref not in self._entries and ref.kind not in self._whole_kinds}
        subjects |= {ref for ref in self._stale if ref in need.subjects or ref.kind in kinds & self._whole_kinds}
        return Need(frozenset(subjects), frozenset(Listing(kind) for kind in kinds - self._whole_kinds))

    def book(self, need: Need) -> Book:
        """A book with exactly what a need names."""
        book = Book()
        for ref in need.subjects:
            book.put_state(ref, self._state(ref))
        for listing in need.lists:
            refs = [ref for ref in self._entries if ref.kind == listing.kind]
            book.put_listing(listing, [self._summary(ref) for ref in refs])
        return book

    def _state(self, ref: Ref) -> State:
        if ref not in self._states:
            self._states[ref] = fold(ref, self._entries.get(ref, {}).values())
        return self._states[ref]

    def _summary(self, ref: Ref) -> Summary:
        if ref not in self._summaries:
            self._summaries[ref] = summary(self._state(ref))
        return self._summaries[ref]

    def _unfold(self, ref: Ref) -> None:
        self._states.pop(ref, None)
        self._summaries.pop(ref, None)


_shelf = Shelf()


def step(text: str) -> str:
    """Answer one call of the host. Raises KeyError for an op that is not there; other errors are the desk's own."""
    call: Data = json.loads(text)
    return json.dumps(_OPS[call["op"]](call), ensure_ascii=False)


def _start(call: Data) -> Data:
    """A new session of a person: nothing of another one's stays."""
    global _shelf
    _shelf = Shelf()
    assets.use(call["manifest"])
    return {}


def _plan(call: Data) -> Data:
    """Whether a request may write, so that the host takes the pen first."""
    route = match(call["method"], call["path"]).route
    return {"writes": bool(route and route.writes)}


def _load(call: Data) -> Data:
    for kind, identity, texts in call.get("subjects", ()):
        _shelf.put(Ref(kind, identity), texts)
    for kind, subjects in call.get("kinds", ()):
        _shelf.put_kind(kind, [(Ref(kind, identity), texts) for identity, texts in subjects])
    return {}


def _ask(call: Data) -> Data:
    """{"page": …} or {"need": {"subjects": [[kind, id]…], "kinds": [kind…]}}."""
    request = Request.from_json(call["request"])
    need = first_need(request)
    while not (lacking := _shelf.lacks(need)):
        answered = answer(request, _shelf.book(need))
        if isinstance(answered, Page):
            return {"page": answered.to_json()}
        if not answered or need | answered == need:
            raise RuntimeError(f"{request.path} asks again for what it was given")
        need |= answered
    return {"need": {"subjects": sorted(map(list, lacking.subjects)), "kinds": sorted(x.kind for x in lacking.lists)}}


def _kept(call: Data) -> Data:
    _shelf.keep(call["entries"])
    return {}


def _forget(call: Data) -> Data:
    for kind, identity in call["subjects"]:
        _shelf.forget(Ref(kind, identity))
    return {}


_OPS: Mapping[str, Callable[[Data], Data]] = {
    "start": _start,
    "plan": _plan,
    "load": _load,
    "ask": _ask,
    "kept": _kept,
    "forget": _forget,
}
