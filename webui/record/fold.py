"""Folding: from the entries of a subject to its state, by links alone.

No clock and no order of arrival decides anything: what supersedes what, what is void and what stands as a fork follows
from `supersedes` and `target`. Times only order what is shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from webui.page import Ref
from webui.record.checking import check_entry, present_body, understood
from webui.record.entries import BadEntry, Entry
from webui.record.instants import microseconds

State = dict[str, Any]
Item = dict[str, Any]

FOLD_VERSION = 1  # raised when the same entries fold to another state or summary, so that cached ones are made again


def fold(ref: Ref, entries: Iterable[Entry]) -> State:
    """The state of a subject from its entries, in any order and with any repetition; other subjects' are left out.

    The state is JSON-able: {"ref", "exists", "count", "newer", "items"}. An item is one thing written down with its
    corrections: {"id": its first entry, "head": the entry that holds now or None while forked, "kind", "body" (of the
    head; of the first entry while forked), "by", "device", "made_at" (of the entry whose body is shown), "taken_at",
    "history": earlier entries in the order of their links, "fork": the entries that stand beside each other,
    "newer": whether a newer version corrected it, "void": None or who said so and why}.

    Items come in the order they were taken. Entries of a newer schema or unknown kind are named in "newer"; such a
    subject takes no corrections from this build.
    """
    own = {entry.id: entry for entry in entries if entry.subject == ref}
    bodies = {entry.id: body for entry in own.values() if (body := _readable(entry)) is not None}
    newer = sorted(set(own) - set(bodies))
    voids = _voids(own, bodies)
    items = [
        _item(group, own, bodies, voids)
        for group in _groups(own)
        if own[group[0]].kind != "void" and any(entry_id in bodies for entry_id in group)
    ]
    items.sort(key=lambda item: (microseconds(item["taken_at"]), item["id"]))
    return {"ref": str(ref), "exists": bool(own), "count": len(own), "newer": newer, "items": items}


def empty(ref: Ref) -> State:
    """The state of a subject nothing is known of."""
    return fold(ref, ())


def _readable(entry: Entry) -> dict[str, Any] | None:
    """The body, or None where this build is too old for it or the body is not what its kind says."""
    if not understood(entry):
        return None
    try:
        check_entry(entry)
    except BadEntry:
        return None
    return present_body(entry)


def _groups(own: Mapping[str, Entry]) -> list[list[str]]:
    """Entries joined by links within one kind, each group sorted by id."""
    group_of = {entry_id: entry_id for entry_id in own}

    def leader(entry_id: str) -> str:
        while group_of[entry_id] != entry_id:
            group_of[entry_id] = group_of[group_of[entry_id]]
            entry_id = group_of[entry_id]
        return entry_id

    for entry in own.values():
        for target in _links(entry, own):
            group_of[leader(entry.id)] = leader(target)
    groups: dict[str, list[str]] = {}
    for entry_id in sorted(own):
        groups.setdefault(leader(entry_id), []).append(entry_id)
    return list(groups.values())


def _links(entry: Entry, own: Mapping[str, Entry]) -> list[str]:
    return sorted(t for t in entry.supersedes if t in own and own[t].kind == entry.kind)


def _voids(own: Mapping[str, Entry], bodies: Mapping[str, Mapping[str, Any]]) -> dict[str, list[Entry]]:
    """Which entry is made void by which; a void entry that was itself corrected counts as its correction says."""
    superseded = {target for entry in own.values() for target in _links(entry, own)}
    voids: dict[str, list[Entry]] = {}
    for entry in own.values():
        if entry.kind == "void" and entry.id in bodies and entry.id not in superseded:
            voids.setdefault(bodies[entry.id]["target"], []).append(entry)
    return voids


def _item(
    group: list[str],
    own: Mapping[str, Entry],
    bodies: Mapping[str, dict[str, Any]],
    voids: Mapping[str, list[Entry]],
) -> Item:
    links = {entry_id: _links(own[entry_id], own) for entry_id in group}
    superseded = {target for targets in links.values() for target in targets}
    order = [entry_id for entry_id in _by_links(group, links) if entry_id in bodies]
    first = order[0]
    heads = [entry_id for entry_id in group if entry_id not in superseded and entry_id in bodies]
    by_newer = any(entry_id not in superseded and entry_id not in bodies for entry_id in group)
    if not heads:  # only a newer version's correction holds, or the links run in a ring: the last that can be read
        heads = order[-1:]
    forked = len(heads) > 1
    shown = first if forked else heads[0]
    entry, body = own[shown], bodies[shown]
    reasons = [void for entry_id in group for void in voids.get(entry_id, ())]
    void = min(reasons, key=lambda one: one.id, default=None)
    return {
        "id": first,
        "head": None if forked else shown,
        "kind": entry.kind,
        "body": body,
        "by": entry.by,
        "device": entry.device,
        "made_at": entry.made_at,
        "taken_at": body.get("taken_at") or own[first].made_at,
        "history": [_line(own[x], bodies[x]) for x in order if x not in heads],
        "fork": [_line(own[x], bodies[x]) for x in heads] if forked else [],
        "newer": by_newer,
        "void": void and {"id": void.id, "by": void.by, "why": bodies[void.id]["why"], "made_at": void.made_at},
    }


def _line(entry: Entry, body: dict[str, Any]) -> dict[str, Any]:
    return {"id": entry.id, "body": body, "by": entry.by, "made_at": entry.made_at}


def _by_links(group: list[str], links: Mapping[str, list[str]]) -> list[str]:
    """The group with every entry after those it supersedes; among free ones by id."""
    placed: list[str] = []
    waiting = list(group)
    while waiting:
        done = set(placed)
        free = next((x for x in waiting if all(target in done for target in links[x])), waiting[0])
        waiting.remove(free)
        placed.append(free)
    return placed
