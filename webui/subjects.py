"""Sites, units and sheets as pages need them: what holds of them now, or nothing where they are not known here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc import refrigerants
from webui.forms import typed_from_kept
from webui.page import Listing, Missing, Need, Ref
from webui.record import Book, Item, State, current


@dataclass(frozen=True)
class Known:
    """A subject that exists: its opening item and the state it is from."""

    ref: Ref
    item: Item
    state: State

    @property
    def id(self) -> str:
        return self.ref.id

    @property
    def body(self) -> Mapping[str, Any]:
        body: Mapping[str, Any] = self.item["body"]
        return body

    def heads(self) -> list[str]:
        """The entries that a change of it supersedes."""
        return heads(self.item)


def heads(item: Item) -> list[str]:
    """What stands of an item now: its head, or every side of a fork."""
    return [one["id"] for one in item["fork"]] or [item["head"]]


def together(book: Book, need: Need) -> None:
    """Ask for everything that is lacking at once, so that it costs one round."""
    lacking = book.lacks(need)
    if lacking:
        raise Missing(lacking)


def known(book: Book, kind: str, identity: str) -> Known | None:
    """A site, unit or sheet by its id."""
    ref = Ref(kind, identity)
    state = book.state(ref)
    item = current(state, kind)
    return Known(ref, item, state) if item is not None else None


def names_of(book: Book) -> dict[str, str]:
    """Everybody's name by id, from the company's people."""
    return {one["id"]: one["title"] for one in book.listing(Listing("person"))}


def shown_quantity(kept: Mapping[str, str] | None) -> str:
    """A quantity as it was typed, with its unit."""
    return typed_from_kept(kept).joined() if kept else ""


def safety_group(designation: str) -> str:
    """The safety group of a refrigerant, "" where it is not held here."""
    try:
        return refrigerants.get(designation).safety_group
    except refrigerants.UnknownRefrigerant:
        return ""
