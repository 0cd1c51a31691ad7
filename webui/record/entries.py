"""Entries: the only thing the record ever stores or sends.

The text of an entry is written once, as UTF-8 JSON with sorted keys, no spaces and no floats, and is kept byte for
byte on phone and server; hash and chain are over that text.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webui.page import Ref
from webui.record.ids import is_uuid
from webui.record.instants import is_instant

LONGEST_TEXT_BYTES = 64 * 1024
_LARGEST_INTEGER = 2**53 - 1  # the largest that JavaScript reads exactly
_ENVELOPE = (
    "body", "by", "company", "device", "id", "kind", "made_at", "prev", "schema", "seq", "subject", "supersedes",
    "touches",
)  # fmt: skip
_HASH_LENGTH = 64
_LONGEST_NAME = 40
_MOST_LINKS = 64


class BadEntry(Exception):
    """An entry that may not be kept: code for machines, why for people."""

    def __init__(self, code: str, why: str) -> None:
        super().__init__(f"{code}: {why}")
        self.code = code
        self.why = why


@dataclass(frozen=True)
class Entry:
    """One entry: its envelope, its body, and the text and hash it is kept under."""

    id: str
    company: str
    subject: Ref
    touches: tuple[Ref, ...]
    kind: str
    schema: int
    by: str
    device: str
    seq: int
    prev: str
    made_at: str
    supersedes: tuple[str, ...]
    body: dict[str, Any]
    text: str
    hash: str


def text_hash(text: str) -> str:
    """SHA-256 of an entry's text, in hexadecimal: its place in its device's chain."""
    return hashlib.sha256(text.encode()).hexdigest()


def canonical(envelope: Mapping[str, Any]) -> str:
    """The one text of an envelope.

    Raises BadEntry("float") where a number is not whole, BadEntry("not_text") where a string cannot be written as
    UTF-8.
    """
    _refuse_inexact(envelope)
    text = json.dumps(envelope, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    try:
        size = len(text.encode())
    except UnicodeEncodeError:
        raise BadEntry("not_text", "a text in this entry holds half a character and cannot be written") from None
    if size > LONGEST_TEXT_BYTES:
        raise BadEntry("too_long", f"this entry takes {size} bytes; at most {LONGEST_TEXT_BYTES} can be kept")
    return text


def parse(text: str) -> Entry:
    """Read an entry's text and check its envelope (the body is the kind's affair, see check_entry).

    Raises BadEntry with code not_json, too_long, not_canonical, float, not_text, envelope or a field's own name.
    """
    if len(text) > LONGEST_TEXT_BYTES:
        raise BadEntry("too_long", f"an entry may take {LONGEST_TEXT_BYTES} bytes at most")
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise BadEntry("not_json", "the entry cannot be read: it is not JSON") from None
    if not isinstance(data, dict):
        raise BadEntry("envelope", "an entry is a JSON object")
    if canonical(data) != text:
        raise BadEntry("not_canonical", "the entry is not written in the one form (sorted keys, no spaces)")
    return _from_envelope(data, text)


def build(envelope: Mapping[str, Any]) -> Entry:
    """Make an entry from its envelope: write the text, then check it as if it came from outside."""
    return parse(canonical(envelope))


def _from_envelope(data: dict[str, Any], text: str) -> Entry:
    missing = [name for name in _ENVELOPE if name not in data]
    unknown = sorted(set(data) - set(_ENVELOPE))
    if missing or unknown:
        raise BadEntry("envelope", f"fields missing: {missing}; fields not known: {unknown}")
    for name in ("id", "company", "by", "device"):
        _expect(is_uuid(data[name]), name, "is a UUID in lower case")
    for name in ("schema", "seq"):
        number = data[name]
        _expect(isinstance(number, int) and not isinstance(number, bool) and number >= 1, name, "is 1 or more")
    _expect(isinstance(data["body"], dict), "body", "is an object")
    kind = data["kind"]
    _expect(isinstance(kind, str) and kind.isidentifier() and len(kind) <= _LONGEST_NAME, "kind", "is a name")
    _expect(is_instant(data["made_at"]), "made_at", "is an instant with its offset")
    prev = data["prev"]
    first = data["seq"] == 1
    _expect(isinstance(prev, str) and (prev == "" if first else _is_hash(prev)), "prev", "is the hash of entry seq − 1")
    supersedes = data["supersedes"]
    _expect(isinstance(supersedes, list) and len(supersedes) <= _MOST_LINKS, "supersedes", "is a short list of ids")
    _expect(all(is_uuid(x) for x in supersedes) and len(set(supersedes)) == len(supersedes), "supersedes", "holds ids")
    _expect(data["id"] not in supersedes, "supersedes", "does not name the entry itself")
    touches = data["touches"]
    _expect(isinstance(touches, list) and len(touches) <= _MOST_LINKS, "touches", "is a short list of subjects")
    return Entry(
        id=data["id"],
        company=data["company"],
        subject=_ref(data["subject"], "subject"),
        touches=tuple(_ref(x, "touches") for x in touches),
        kind=kind,
        schema=data["schema"],
        by=data["by"],
        device=data["device"],
        seq=data["seq"],
        prev=prev,
        made_at=data["made_at"],
        supersedes=tuple(supersedes),
        body=data["body"],
        text=text,
        hash=text_hash(text),
    )


def _ref(pair: object, field: str) -> Ref:
    if isinstance(pair, list) and len(pair) == 2:
        kind, identity = pair
        if isinstance(kind, str) and kind.isidentifier() and len(kind) <= _LONGEST_NAME and is_uuid(identity):
            return Ref(kind, identity)
    raise BadEntry(field, f"{field} names a subject by its kind and id")


def _is_hash(text: str) -> bool:
    return len(text) == _HASH_LENGTH and all(c in "0123456789abcdef" for c in text)


def _expect(holds: bool, field: str, what: str) -> None:
    if not holds:
        raise BadEntry(field, f"{field} of an entry {what}")


def _refuse_inexact(value: object) -> None:
    if isinstance(value, float):
        raise BadEntry("float", "an entry keeps figures as typed or as decimal text, never as floating point")
    if isinstance(value, int) and abs(value) > _LARGEST_INTEGER:
        raise BadEntry("float", "a whole number in an entry has at most 53 bits")
    if isinstance(value, Mapping):
        for key, item in value.items():
            if not isinstance(key, str):
                raise BadEntry("envelope", "names in an entry are texts")
            _refuse_inexact(item)
    elif isinstance(value, list | tuple):
        for item in value:
            _refuse_inexact(item)
