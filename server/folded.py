"""Reading the record back: entries of subjects, listings over state rows, and the upkeep of those rows."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from sqlalchemy import func, or_

from server import models
from server.scope import Scope
from webui.page import Listing, Need, Ref
from webui.record import FOLD_VERSION, Book, Entry, State, Summary, fold, parse, summary


def entries_of(scope: Scope, ref: Ref) -> list[Entry]:
    """Every entry about a subject."""
    table = models.entry
    rows = scope.rows(
        scope.select(table, table.c.text)
        .where(table.c.subject_kind == ref.kind, table.c.subject == ref.id)
        .order_by(table.c.device, table.c.seq)
    )
    return [parse(row.text) for row in rows]


def state_of(scope: Scope, ref: Ref) -> State:
    """The folded state of a subject; of one that this company does not have it says that it does not exist."""
    return fold(ref, entries_of(scope, ref))


def listing_of(scope: Scope, listing: Listing) -> list[Summary]:
    """Summaries that answer a listing (webui.record.select orders them)."""
    table = models.state
    query = scope.select(table, table.c.summary).where(table.c.subject_kind == listing.kind)
    if listing.status is not None:
        query = query.where(table.c.status == listing.status)
    if listing.parent is not None:
        query = query.where(or_(table.c.parent == listing.parent, table.c.place == listing.parent))
    if listing.person is not None:
        query = query.where(table.c.person == listing.person)
    return [json.loads(row.summary) for row in scope.rows(query)]


def load(scope: Scope, book: Book, need: Need) -> None:
    """Put into the book what it lacks of a need."""
    lacking = book.lacks(need)
    for ref in lacking.subjects:
        book.put_state(ref, state_of(scope, ref))
    for listing in lacking.lists:
        book.put_listing(listing, listing_of(scope, listing))


def refold(scope: Scope, refs: Iterable[Ref]) -> None:
    """Make the state rows of these subjects again from their entries."""
    table, entry = models.state, models.entry
    rows: list[dict[str, Any]] = []
    for ref in sorted(set(refs)):
        scope.connection.execute(scope.delete(table).where(table.c.subject_kind == ref.kind, table.c.subject == ref.id))
        number = scope.connection.execute(
            scope.select(entry, func.max(entry.c.number)).where(
                entry.c.subject_kind == ref.kind, entry.c.subject == ref.id
            )
        ).scalar_one()
        found = summary(state_of(scope, ref))
        rows.append(
            {
                "subject_kind": ref.kind,
                "subject": ref.id,
                "status": found["status"],
                "parent": found["parent"],
                "place": found["place"],
                "person": found["person"],
                "number": number,
                "fold_version": FOLD_VERSION,
                "summary": json.dumps(found, sort_keys=True),
            }
        )
    scope.insert(table, rows)


def subjects_to_refold(scope: Scope, everything: bool) -> list[Ref]:
    """Subjects whose state row is missing or folded by another version; all of them where asked."""
    entry, state = models.entry, models.state
    found = scope.rows(scope.select(entry, entry.c.subject_kind, entry.c.subject).distinct())
    fresh = (
        set()
        if everything
        else {
            (row.subject_kind, row.subject)
            for row in scope.rows(
                scope.select(state, state.c.subject_kind, state.c.subject).where(state.c.fold_version == FOLD_VERSION)
            )
        }
    )
    return [Ref(*row) for row in found if tuple(row) not in fresh]
