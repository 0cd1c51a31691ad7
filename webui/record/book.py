"""The book: the folded record that one request may see, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable

from webui.page import Listing, Missing, Need, Ref
from webui.record.entries import Entry
from webui.record.fold import State, fold
from webui.record.summary import Summary, select


class Book:
    """Holds only what its host put in; reading anything else raises Missing, never an empty answer."""

    def __init__(self) -> None:
        self._states: dict[Ref, State] = {}
        self._listings: dict[Listing, tuple[Summary, ...]] = {}

    def put_entries(self, ref: Ref, entries: Iterable[Entry]) -> None:
        """Fold a subject's entries and hold its state."""
        self._states[ref] = fold(ref, entries)

    def put_state(self, ref: Ref, state: State) -> None:
        """Hold a state that was folded before."""
        self._states[ref] = state

    def put_listing(self, listing: Listing, summaries: Iterable[Summary]) -> None:
        """Hold the answer to a listing; the summaries may be more than it asks for, in any order."""
        self._listings[listing] = select(summaries, listing)

    def state(self, ref: Ref) -> State:
        """The state of a subject. Raises Missing where it was not loaded."""
        if ref not in self._states:
            raise Missing(Need(subjects=frozenset({ref})))
        return self._states[ref]

    def listing(self, listing: Listing) -> tuple[Summary, ...]:
        """The summaries a listing asks for. Raises Missing where it was not loaded."""
        if listing not in self._listings:
            raise Missing(Need(lists=frozenset({listing})))
        return self._listings[listing]

    def lacks(self, need: Need) -> Need:
        """The part of a need that the book does not hold."""
        return Need(need.subjects - self._states.keys(), need.lists - self._listings.keys())
