"""The writer: makes a request's new entries with the pen that the host handed in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from webui.page import Pen, Person, Ref, Request
from webui.record.checking import check_entry
from webui.record.entries import BadEntry, Entry, build
from webui.record.ids import is_uuid
from webui.record.instants import local_instant
from webui.record.kinds import KINDS


def once(request: Request) -> str:
    """The one-time id of a posted form, or "" where it has none that is a UUID.

    It becomes the id of the form's first entry, so a replay or a double tap meets an entry that is there already.
    """
    given = request.value("once").lower()
    return given if is_uuid(given) else ""


class Writer:
    """Makes entries one after the other; texts are what a Page hands to its host to keep."""

    def __init__(self, request: Request) -> None:
        if request.pen is None or request.person is None:
            raise BadEntry("no_pen", "this request may not write: it came without a pen or without a person")
        self._pen: Pen = request.pen
        self._person: Person = request.person
        self._made_at = local_instant(request.now, request.offset_minutes)
        first = once(request)
        self._ids = [*([first] if first else []), *(i for i in request.pen.ids if i != first)]
        self._seq, self._prev = request.pen.seq, request.pen.prev
        self._entries: list[Entry] = []

    def fresh(self, kind: str) -> Ref:
        """A new subject, to be opened by the very next entry: it takes that entry's id.

        So a form sent twice with one `once` names the same new subject both times.
        """
        return Ref(kind, self._next_id())

    def add(
        self,
        kind: str,
        subject: Ref,
        body: Mapping[str, Any],
        touches: Iterable[Ref] = (),
        supersedes: Iterable[str] = (),
    ) -> Entry:
        """Make the next entry. Raises BadEntry where kind, subject, links or body are not as the kind has them."""
        if kind not in KINDS:
            raise BadEntry("unknown_kind", f"there is no kind of entry called {kind!r}")
        entry = build(
            {
                "id": self._next_id(),
                "company": self._person.company,
                "subject": list(subject),
                "touches": [list(ref) for ref in touches],
                "kind": kind,
                "schema": KINDS[kind].schema,
                "by": self._person.id,
                "device": self._pen.device,
                "seq": self._seq,
                "prev": self._prev,
                "made_at": self._made_at,
                "supersedes": list(supersedes),
                "body": dict(body),
            }
        )
        check_entry(entry)
        self._ids.pop(0)
        self._seq, self._prev = self._seq + 1, entry.hash
        self._entries.append(entry)
        return entry

    @property
    def entries(self) -> tuple[Entry, ...]:
        return tuple(self._entries)

    @property
    def texts(self) -> tuple[str, ...]:
        """Finished texts in the order of their seq, for Page.entries."""
        return tuple(entry.text for entry in self._entries)

    def _next_id(self) -> str:
        if not self._ids:
            raise BadEntry("no_ids", "the pen's supply of ids is used up; the host hands out more")
        return self._ids[0]
