"""The store: takes entries in, numbers them, and folds what they touch, all in one transaction.

The counter row of the company is locked first, so that whoever commits first has the lower numbers and a roll-back
gives them back: a phone that has read up to a number has read everything below it.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from server import models, rights
from server.folded import refold
from server.scope import Scope
from webui.page import Person
from webui.record import BadEntry, Entry, check_entry, parse

_REFUSALS = {
    "company": "this entry belongs to another company",
    "by": "this entry was made by another person; it can only be sent by them, and waits until they sign in here",
    "device": "this entry was made on a device that is not registered to you",
    "different": "another entry with this id is kept here; nothing was changed",
    "seq_taken": "another entry with this place in the device's row is kept here; nothing was changed",
    "gap": "entries made on this device before this one have not arrived; send those first",
    "chain": "this entry does not follow the last one kept from its device",
    "role": "only a supervisor may write this, or the person it is about",
}


@dataclass(frozen=True)
class Refusal:
    """An entry that was not taken in: its id as far as it can be read, a code, and why."""

    id: str | None
    code: str
    why: str


@dataclass
class Outcome:
    """What became of a batch: accepted entries with their numbers (new or there already), and refusals."""

    accepted: dict[str, int] = field(default_factory=dict)
    refused: list[Refusal] = field(default_factory=list)

    def refuse(self, entry_id: str | None, code: str, why: str = "") -> None:
        self.refused.append(Refusal(entry_id, code, why or _REFUSALS[code]))


@dataclass
class _Head:
    """Where a device's chain stands, and the places in it that were passed over (seq to hash)."""

    seq: int
    prev: str
    withheld: dict[int, str] = field(default_factory=dict)


def counter(scope: Scope, lock: bool = False) -> tuple[int, str]:
    """The company's (last number, epoch); with lock, nobody else numbers until this transaction ends."""
    table = models.counter
    query = scope.select(table, table.c.number, table.c.epoch)
    number, epoch = scope.connection.execute(query.with_for_update() if lock else query).one()
    return number, epoch


def append(scope: Scope, person: Person, texts: Sequence[str], received_at: str, newer_ok: bool = False) -> Outcome:
    """Take in entries of a person, in the order given. Accepted only once the surrounding transaction has committed.

    newer_ok lets entries of kinds and schemas unknown here in, unread. Each entry that cannot be taken is refused with
    one of the codes of webui.record.BadEntry, or company, by, device, different, seq_taken, gap, chain, role. A refusal
    for what an entry says (not for where it stands) leaves its place in the chain withheld and lets the next ones in.
    """
    outcome = Outcome()
    entries = _readable(texts, outcome)
    if not entries:
        return outcome
    number, _ = counter(scope, lock=True)
    known = _known(scope, entries)
    heads = _heads(scope, person, entries)
    new: dict[str, Entry] = {}
    for entry in entries:
        kept = known.get(entry.id)
        if kept is not None:
            if kept[1] == entry.text:
                outcome.accepted[entry.id] = kept[0]
            else:
                outcome.refuse(entry.id, "different")
            continue
        misplaced = _misplaced(scope, person, entry, heads)
        if misplaced:
            outcome.refuse(entry.id, misplaced)
            continue
        head = heads[entry.device]
        code, why = _unfit(person, entry, newer_ok)
        if code:
            outcome.refuse(entry.id, code, why)
            if entry.seq > head.seq:
                _withhold(scope, entry, code, received_at)
                head.seq, head.prev = entry.seq, entry.hash
            continue
        if entry.seq > head.seq:
            head.seq, head.prev = entry.seq, entry.hash
        else:
            _give_back(scope, entry)
        number += 1
        known[entry.id] = (number, entry.text)
        outcome.accepted[entry.id] = number
        new[entry.id] = entry
    if new:
        scope.connection.execute(scope.update(models.counter).values(number=number))
        _insert(scope, new.values(), outcome.accepted, received_at)
        refold(scope, {entry.subject for entry in new.values()})
    _move_heads(scope, heads, received_at)
    return outcome


def _readable(texts: Iterable[str], outcome: Outcome) -> list[Entry]:
    entries = []
    for text in texts:
        try:
            entries.append(parse(text))
        except BadEntry as bad:
            outcome.refuse(_claimed_id(text), bad.code, bad.why)
    return entries


def _claimed_id(text: str) -> str | None:
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        return None
    claimed = data.get("id") if isinstance(data, dict) else None
    return claimed if isinstance(claimed, str) else None


def _known(scope: Scope, entries: Sequence[Entry]) -> dict[str, tuple[int, str]]:
    table = models.entry
    ids = {entry.id for entry in entries}
    rows = scope.rows(scope.select(table, table.c.id, table.c.number, table.c.text).where(table.c.id.in_(ids)))
    return {row.id: (row.number, row.text) for row in rows}


def _heads(scope: Scope, person: Person, entries: Sequence[Entry]) -> dict[str, _Head]:
    """Where the person's own devices among those of the entries stand."""
    device, withheld = models.device, models.withheld
    asked = {entry.device for entry in entries}
    rows = scope.rows(
        scope.select(device, device.c.id, device.c.seq, device.c.prev)
        .where(device.c.id.in_(asked), device.c.person == person.id)
        .with_for_update()
    )
    heads = {row.id: _Head(row.seq, row.prev) for row in rows}
    for row in scope.rows(scope.select(withheld).where(withheld.c.device.in_(heads))):
        heads[row.device].withheld[row.seq] = row.hash
    return heads


def _misplaced(scope: Scope, person: Person, entry: Entry, heads: Mapping[str, _Head]) -> str:
    """Why a new entry cannot stand where it says it stands, as a code, or ""."""
    if entry.company != scope.company:
        return "company"
    if entry.by != person.id:
        return "by"
    if entry.device not in heads:
        return "device"
    head = heads[entry.device]
    if entry.seq <= head.seq:
        return "" if head.withheld.get(entry.seq) == entry.hash else "seq_taken"
    if entry.seq > head.seq + 1:
        return "gap"
    return "" if entry.prev == head.prev else "chain"


def _unfit(person: Person, entry: Entry, newer_ok: bool) -> tuple[str, str]:
    """The code and reason against what an entry says, or ("", "")."""
    if not rights.may_write(person, entry.kind, entry.subject):
        return "role", ""
    try:
        check_entry(entry)
    except BadEntry as bad:
        if not (newer_ok and bad.code in {"unknown_kind", "newer_schema"}):
            return bad.code, bad.why
    return "", ""


def _withhold(scope: Scope, entry: Entry, code: str, received_at: str) -> None:
    row = {"device": entry.device, "seq": entry.seq, "hash": entry.hash, "code": code, "received_at": received_at}
    scope.insert(models.withheld, [row])


def _give_back(scope: Scope, entry: Entry) -> None:
    table = models.withheld
    here = scope.delete(table).where(table.c.device == entry.device, table.c.seq == entry.seq)
    scope.connection.execute(here)


def _insert(scope: Scope, new: Collection[Entry], numbers: Mapping[str, int], received_at: str) -> None:
    scope.insert(
        models.entry,
        [
            {
                "id": entry.id,
                "number": numbers[entry.id],
                "subject_kind": entry.subject.kind,
                "subject": entry.subject.id,
                "kind": entry.kind,
                "schema": entry.schema,
                "by": entry.by,
                "device": entry.device,
                "seq": entry.seq,
                "hash": entry.hash,
                "made_at": entry.made_at,
                "received_at": received_at,
                "text": entry.text,
            }
            for entry in new
        ],
    )
    scope.insert(
        models.entry_subject,
        [
            {
                "subject_kind": ref.kind,
                "subject": ref.id,
                "entry": entry.id,
                "number": numbers[entry.id],
            }
            for entry in new
            for ref in dict.fromkeys((entry.subject, *entry.touches))
        ],
    )


def _move_heads(scope: Scope, heads: dict[str, _Head], seen_at: str) -> None:
    table = models.device
    for device_id, head in heads.items():
        scope.connection.execute(
            scope.update(table).where(table.c.id == device_id).values(seq=head.seq, prev=head.prev, seen_at=seen_at)
        )
