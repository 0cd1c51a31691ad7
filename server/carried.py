"""What a phone carries: the company's catalogue and the sheets it asks for, read in parts behind a cursor.

A part never passes the cursor over an entry that the phone should have. Sheets new to the phone come whole, whatever
the cursor says; entries that come twice for it are the same entries, told by their id.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from sqlalchemy import ColumnElement, and_, or_

from server import models
from server.scope import Scope
from webui.page import Person, Ref

CATALOGUE = ("site", "unit")
MOST_ENTRIES = 500
MOST_CHARACTERS = 1_000_000
_PER_QUERY = 300  # subjects named in one statement; databases limit its parameters


@dataclass
class Part:
    """One answer to a pull; more says that another waits behind it."""

    after: int
    entries: list[tuple[int, str]] = field(default_factory=list)
    carry: list[Ref] = field(default_factory=list)
    more: bool = False
    characters: int = 0

    def add(self, entries: Iterable[tuple[int, str]]) -> None:
        for number, text in entries:
            self.entries.append((number, text))
            self.characters += len(text)

    @property
    def full(self) -> bool:
        return len(self.entries) >= MOST_ENTRIES or self.characters >= MOST_CHARACTERS


def pull(scope: Scope, person: Person, after: int, have: Sequence[Ref], want: Sequence[Ref], last: int) -> Part:
    """The next part for a phone that has read up to `after` of `last` and carries the sheets in `have`."""
    asked = _asked(scope, person, want)
    kept = _own_sheets(scope, have)
    part = Part(after)
    whole = _whole(scope, [ref for ref in asked if ref not in kept], last, part)
    if part.full:
        part.more = True
    else:
        _behind_cursor(scope, person, kept, last, part)
    # A sheet that is not asked for any more is let go only when its last entries have arrived.
    part.carry = sorted({*whole, *(kept if part.more else (ref for ref in kept if ref in asked))})
    part.more = part.more or not set(asked) <= set(part.carry)
    return part


def _asked(scope: Scope, person: Person, want: Sequence[Ref]) -> list[Ref]:
    """Open sheets of the person, and the wanted ones; a wanted site or unit stands for every sheet under it."""
    state = models.state
    mine = and_(state.c.status == "open", state.c.person == person.id)
    found = _sheets(scope, [mine])
    for some in _parcels([ref.id for ref in want]):
        found += _sheets(scope, [or_(state.c.subject.in_(some), state.c.parent.in_(some), state.c.place.in_(some))])
    return sorted(set(found))


def _own_sheets(scope: Scope, have: Sequence[Ref]) -> list[Ref]:
    """Those of the sheets a phone says it has that the company has as well."""
    found: list[Ref] = []
    for some in _parcels([ref.id for ref in have]):
        found += _sheets(scope, [models.state.c.subject.in_(some)])
    return found


def _sheets(scope: Scope, conditions: Iterable[ColumnElement[bool]]) -> list[Ref]:
    state = models.state
    rows = scope.rows(scope.select(state, state.c.subject).where(state.c.subject_kind == "sheet", *conditions))
    return [Ref("sheet", row.subject) for row in rows]


def _whole(scope: Scope, sheets: Sequence[Ref], last: int, part: Part) -> list[Ref]:
    """Put sheets into the part, each of them whole, until it is full; gives those that went in."""
    entry = models.entry
    gone: list[Ref] = []
    for ref in sheets:
        if part.full:
            break
        part.add(
            _read(scope, [entry.c.subject_kind == ref.kind, entry.c.subject == ref.id, entry.c.number <= last], None)
        )
        gone.append(ref)
    return gone


def _behind_cursor(scope: Scope, person: Person, sheets: Sequence[Ref], last: int, part: Part) -> None:
    """Put into the part what came after its cursor, of the catalogue and of these sheets, and move the cursor."""
    entry = models.entry
    catalogue = or_(
        entry.c.subject_kind.in_(CATALOGUE),
        and_(entry.c.subject_kind == "person", or_(entry.c.kind == "person", entry.c.subject == person.id)),
    )
    since = [entry.c.number > part.after, entry.c.number <= last]
    found = _read(scope, [*since, catalogue], MOST_ENTRIES + 1)
    for some in _parcels([ref.id for ref in sheets]):
        of_sheets = and_(entry.c.subject_kind == "sheet", entry.c.subject.in_(some))
        found += _read(scope, [*since, of_sheets], MOST_ENTRIES + 1)
    for number, text in sorted(found):
        if part.full:
            part.more = True
            return
        part.after = number
        part.add([(number, text)])
    part.after = last


def _read(scope: Scope, conditions: Iterable[ColumnElement[bool]], most: int | None) -> list[tuple[int, str]]:
    entry = models.entry
    query = scope.select(entry, entry.c.number, entry.c.text).where(*conditions).order_by(entry.c.number)
    return [(row.number, row.text) for row in scope.rows(query.limit(most))]


def _parcels(ids: Sequence[str]) -> list[Sequence[str]]:
    return [ids[start : start + _PER_QUERY] for start in range(0, len(ids), _PER_QUERY)]
