"""Whether an entry is what its kind says: subject, touches and body."""

from __future__ import annotations

from typing import Any

from webui.record.entries import BadEntry, Entry
from webui.record.kinds import KINDS


def understood(entry: Entry) -> bool:
    """Whether this build knows the kind of the entry and is not older than its schema."""
    return entry.kind in KINDS and entry.schema <= KINDS[entry.kind].schema


def present_body(entry: Entry) -> dict[str, Any]:
    """The body of an understood entry, lifted step by step to the schema of this build (never stored)."""
    kind, body = KINDS[entry.kind], entry.body
    for schema in range(entry.schema, kind.schema):
        body = kind.upgrades[schema](dict(body))
    return body


def check_entry(entry: Entry) -> None:
    """Raise BadEntry where an entry of a kind and schema known here is not as that kind has it.

    Codes: unknown_kind, newer_schema, subject, touches, body (why names every faulty field).
    """
    if entry.kind not in KINDS:
        raise BadEntry("unknown_kind", f"entries of the kind {entry.kind!r} are not known here")
    kind = KINDS[entry.kind]
    if entry.schema > kind.schema:
        raise BadEntry("newer_schema", f"{entry.kind!r} is known here up to schema {kind.schema}, not {entry.schema}")
    if entry.subject.kind not in kind.subjects:
        raise BadEntry("subject", f"a {entry.kind} is about {' or '.join(kind.subjects)}, not {entry.subject.kind}")
    touched = {ref.kind for ref in entry.touches}
    lacking = [name for name in kind.touches if name not in touched]
    if lacking:
        raise BadEntry("touches", f"a {entry.kind} must also be found under its {' and its '.join(lacking)}")
    reasons = kind.check(present_body(entry))
    if reasons:
        raise BadEntry("body", f"{entry.kind}: " + "; ".join(str(reason) for reason in reasons))
