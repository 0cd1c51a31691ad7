"""Summaries: the few facts of a subject that lists and the Board show and filter by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from typing import Any

from webui.page import Listing
from webui.record.fold import Item, State
from webui.record.instants import microseconds
from webui.record.standing import standing

Summary = dict[str, Any]


def current(state: State, kind: str) -> Item | None:
    """The item of a kind that holds: the first that is not void, else the first."""
    items: list[Item] = [item for item in state["items"] if item["kind"] == kind]
    return next((item for item in items if not item["void"]), items[0] if items else None)


def summary(state: State) -> Summary:
    """What lists show of a subject.

    Always kind, id, status ("" where nothing is known), title, parent, place (the site it stands under), person,
    forks, newer and count; more by kind. parent, place and person are None where there is none.
    """
    kind, _, identity = state["ref"].partition(":")
    found: Summary = {
        "kind": kind,
        "id": identity,
        "status": "",
        "title": "",
        "parent": None,
        "place": None,
        "person": None,
        "forks": sum(1 for item in state["items"] if item["fork"]),
        "newer": bool(state["newer"]),
        "count": state["count"],
    }
    opening = current(state, kind)
    if opening is not None and kind in _BY_KIND:
        found["status"] = "void" if opening["void"] else "current"
        _BY_KIND[kind](found, opening, state)
    return found


def select(summaries: Iterable[Summary], listing: Listing) -> tuple[Summary, ...]:
    """The summaries a Listing asks for, in the one order of both hosts.

    parent matches the parent or the place a subject stands under. Sheets come newest first, the rest by title.
    """
    chosen = [one for one in summaries if _asked_for(one, listing)]
    chosen.sort(key=lambda one: (one["title"].casefold(), one["id"]))
    if listing.kind == "sheet":
        chosen.sort(key=lambda one: microseconds(one["opened_at"]) if "opened_at" in one else 0, reverse=True)
    return tuple(chosen)


def _asked_for(one: Summary, listing: Listing) -> bool:
    return (
        one["kind"] == listing.kind
        and (one["status"] == listing.status if listing.status is not None else one["status"] != "")
        and (listing.parent is None or listing.parent in (one["parent"], one["place"]))
        and (listing.person is None or one["person"] == listing.person)
    )


def _site(found: Summary, opening: Item, state: State) -> None:
    found.update(title=opening["body"]["name"], elevation=opening["body"].get("elevation"))


def _unit(found: Summary, opening: Item, state: State) -> None:
    body = opening["body"]
    found.update(
        title=body["tag"],
        parent=body["site"],
        place=body["site"],
        unit_kind=body["kind"],
        refrigerant=body["refrigerant"],
    )


def _person(found: Summary, opening: Item, state: State) -> None:
    body = opening["body"]
    found.update(title=body["name"], role=body["role"])
    if found["status"] != "void":
        found["status"] = body["status"]


def _sheet(found: Summary, opening: Item, state: State) -> None:
    body = opening["body"]
    live = [item for item in state["items"] if not item["void"]]
    closed = any(item["kind"] == "sheet_closed" for item in live)
    if found["status"] != "void":
        found["status"] = "closed" if closed else "open"
    readings = [item for item in live if item["kind"] == "reading"]
    findings = _latest_findings(live)
    found.update(
        title=body["unit_tag"],
        parent=body["unit"],
        place=body["site"],
        person=body["opened_by"],
        place_name=body["site_name"],
        visit=body["visit"],
        opened_at=opening["made_at"],
        last_at=max((item["taken_at"] for item in live), key=microseconds, default=opening["made_at"]),
        readings=len(readings),
        notes=sum(1 for item in live if item["kind"] == "note"),
        latest_reading=_reading_line(readings[-1]) if readings else None,
        latest_findings=findings,
        standings=dict(sorted(Counter(one["standing"] for one in findings).items())),
    )


def _reading_line(item: Item) -> dict[str, Any]:
    return {"id": item["id"], "taken_at": item["taken_at"], "by": item["by"], "values": item["body"]["values"]}


def _latest_findings(live: list[Item]) -> list[dict[str, Any]]:
    """The last finding of each working, from readings that still stand."""
    standing_ids = {item["head"] for item in live if item["kind"] == "reading"}
    latest: dict[str, Item] = {}
    for item in live:
        if item["kind"] == "finding" and standing_ids.intersection(item["body"]["of"]):
            latest[item["body"]["working"]] = item
    return [
        {
            "id": item["id"],
            "working": working,
            "taken_at": item["taken_at"],
            "results": item["body"]["results"],
            "verdict": item["body"].get("verdict"),
            "standing": standing((item["body"].get("verdict") or {}).get("state")),
        }
        for working, item in sorted(latest.items())
    ]


_BY_KIND: dict[str, Callable[[Summary, Item, State], None]] = {
    "site": _site,
    "unit": _unit,
    "person": _person,
    "sheet": _sheet,
}
