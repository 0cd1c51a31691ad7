"""What a host hands to the desk and what it gets back.

Nothing else may reach a page: no clock, no randomness, no environment. Both hosts (Flask and the engine worker of the
phone) build a Request in one place and hand it to webui.desk.answer together with a Book.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple


class Ref(NamedTuple):
    """A subject: what entries are about, e.g. Ref("sheet", "0190…")."""

    kind: str
    id: str

    def __str__(self) -> str:
        return f"{self.kind}:{self.id}"


class Listing(NamedTuple):
    """A small query that both hosts answer alike: summaries of the subjects of one kind.

    Each of status, parent and person narrows it; None means any. A summary is what webui.record.summary gives.
    """

    kind: str
    status: str | None = None
    parent: str | None = None
    person: str | None = None


@dataclass(frozen=True)
class Need:
    """What the desk lacks to answer; the host loads it, adds it to the book and asks again."""

    subjects: frozenset[Ref] = frozenset()
    lists: frozenset[Listing] = frozenset()

    def __or__(self, other: Need) -> Need:
        return Need(self.subjects | other.subjects, self.lists | other.lists)

    def __bool__(self) -> bool:
        return bool(self.subjects or self.lists)

    def to_json(self) -> dict[str, Any]:
        return {
            "subjects": sorted([r.kind, r.id] for r in self.subjects),
            "lists": sorted([list(x) for x in self.lists], key=json.dumps),
        }


class Missing(Exception):
    """Raised by the book when a page reads what was not loaded; the desk turns it into a Need."""

    def __init__(self, need: Need) -> None:
        super().__init__(str(need))
        self.need = need


@dataclass(frozen=True)
class Person:
    """Who is signed in."""

    id: str
    name: str
    company: str
    company_name: str
    role: str  # "technician" or "supervisor"


@dataclass(frozen=True)
class Pen:
    """The right to write for one device: its next sequence number, its last entry's hash, and ids to use in order."""

    device: str
    seq: int
    prev: str
    ids: tuple[str, ...]


@dataclass(frozen=True)
class Request:
    """One request, wherever it came from.

    form keeps every pair in the order sent; now is UTC text (2026-11-25T09:30:00Z); offset_minutes is the local clock
    minus UTC. units is the system shown where nothing was typed: "us" or "metric".
    """

    method: str
    path: str
    query: Mapping[str, str] = field(default_factory=dict)
    form: tuple[tuple[str, str], ...] = ()
    kind: str = "full"  # "full" or "partial"
    target: str = ""  # id of the element htmx will swap, without '#'
    person: Person | None = None
    pen: Pen | None = None
    now: str = ""
    offset_minutes: int = 0
    units: str = "us"
    language: str = "en"
    build: str = ""
    online: bool = False
    host: str = "server"  # "server", "phone"

    def value(self, name: str, default: str = "") -> str:
        """The last value of a form field, stripped."""
        found = default
        for key, text in self.form:
            if key == name:
                found = text.strip()
        return found

    def values(self, name: str) -> list[str]:
        return [text for key, text in self.form if key == name]

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Request:
        person = data.get("person")
        pen = data.get("pen")
        return cls(
            method=data["method"],
            path=data["path"],
            query=dict(data.get("query") or {}),
            form=tuple((str(k), str(v)) for k, v in data.get("form") or ()),
            kind=data.get("kind", "full"),
            target=data.get("target", ""),
            person=Person(**person) if person else None,
            pen=Pen(pen["device"], int(pen["seq"]), pen["prev"], tuple(pen["ids"])) if pen else None,
            now=data["now"],
            offset_minutes=int(data.get("offset_minutes", 0)),
            units=data.get("units", "us"),
            language=data.get("language", "en"),
            build=data.get("build", ""),
            online=bool(data.get("online")),
            host=data.get("host", "phone"),
        )


ALLOWED_HEADERS = frozenset({"Content-Type", "Location", "HX-Push-Url", "HX-Trigger", "HX-Retarget", "HX-Reswap"})


@dataclass(frozen=True)
class Page:
    """An answer: what to show and which entries to keep (finished texts, in the order of their seq)."""

    status: int
    title: str
    html: str
    headers: Mapping[str, str] = field(default_factory=dict)
    entries: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        return {
            "status": self.status,
            "title": self.title,
            "html": self.html,
            "headers": dict(self.headers),
            "entries": list(self.entries),
        }


def redirect(location: str, entries: tuple[str, ...] = ()) -> Page:
    """After a post that was kept: see the page at location (303)."""
    return Page(303, "", "", {"Location": location}, entries)
