"""The shapes that bodies are made of. A checker gives the reasons against a value; none means it is right."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from webui.record.ids import is_uuid
from webui.record.instants import is_instant

_DECIMAL = re.compile(r"[+-]?\d+(\.\d+)?([eE][+-]?\d{1,3})?")
_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")
_LONGEST_FIGURE = 40
_LONGEST_UNIT = 24
LONGEST_LINE = 200
LONGEST_PROSE = 4000


class Reason(NamedTuple):
    """Why a body is refused: the field, a code, and the sentence."""

    field: str
    code: str
    why: str

    def __str__(self) -> str:
        return f"{self.field} {self.why}"


Check = Callable[[str, Any], list[Reason]]


def text(longest: int = LONGEST_LINE, empty: bool = False) -> Check:
    """A string of at most `longest` characters, with something in it unless `empty`."""

    def check(field: str, value: Any) -> list[Reason]:
        if not isinstance(value, str):
            return [Reason(field, "not_text", "is a text")]
        if not empty and not value.strip():
            return [Reason(field, "missing", "has something written in it")]
        if len(value) > longest:
            return [Reason(field, "too_long", f"has at most {longest} characters, not {len(value)}")]
        return []

    return check


def choice(*allowed: str) -> Check:
    """One of the words given."""

    def check(field: str, value: Any) -> list[Reason]:
        if not isinstance(value, str) or value not in allowed:
            return [Reason(field, "choice", f"is one of {', '.join(allowed)}")]
        return []

    return check


def name(field: str, value: Any) -> list[Reason]:
    """A name in lower case with underscores, as fields and workings have."""
    good = isinstance(value, str) and _NAME.fullmatch(value)
    return [] if good else [Reason(field, "name", "is a name like dew_point")]


def identity(field: str, value: Any) -> list[Reason]:
    """The id of an entry or a subject."""
    return [] if is_uuid(value) else [Reason(field, "id", "is a UUID in lower case")]


def instant(field: str, value: Any) -> list[Reason]:
    """A moment with its offset."""
    return [] if is_instant(value) else [Reason(field, "instant", "is a time like 2026-11-25T10:30:00+01:00")]


def decimal(field: str, value: Any) -> list[Reason]:
    """A number in decimal text, never a float."""
    good = isinstance(value, str) and len(value) <= _LONGEST_FIGURE and _DECIMAL.fullmatch(value)
    return [] if good else [Reason(field, "not_a_number", "is a number written as text, like 9.81")]


def quantity(field: str, value: Any) -> list[Reason]:
    """What was typed and its unit: {"text": "118", "unit": "psig"}; unit is "" where it was typed with the number."""
    return record({"text": text(_LONGEST_FIGURE), "unit": text(_LONGEST_UNIT, empty=True)})(field, value)


def message(field: str, value: Any) -> list[Reason]:
    """A sentence with named places and what stands in them (texts, or small objects of texts such as a figure)."""
    return record({"text": text(LONGEST_PROSE), "values": places})(field, value)


def places(field: str, value: Any) -> list[Reason]:
    """What stands in the places of a sentence."""
    return mapping(_place)(field, value)


def _place(field: str, value: Any) -> list[Reason]:
    if isinstance(value, Mapping):
        return mapping(text(LONGEST_LINE, empty=True))(field, value)
    return text(LONGEST_LINE, empty=True)(field, value)


def listing(item: Check, most: int = 100, least: int = 0) -> Check:
    """A list of items of one shape."""

    def check(field: str, value: Any) -> list[Reason]:
        if not isinstance(value, list):
            return [Reason(field, "not_list", "is a list")]
        if not least <= len(value) <= most:
            return [Reason(field, "length", f"has {least} to {most} items, not {len(value)}")]
        return [reason for index, one in enumerate(value) for reason in item(f"{field}[{index}]", one)]

    return check


def mapping(item: Check, most: int = 100, least: int = 0) -> Check:
    """An object whose names are free (but names) and whose values are of one shape."""

    def check(field: str, value: Any) -> list[Reason]:
        if not isinstance(value, Mapping):
            return [Reason(field, "not_object", "is an object")]
        if not least <= len(value) <= most:
            return [Reason(field, "length", f"has {least} to {most} fields, not {len(value)}")]
        reasons = [reason for key in value for reason in name(f"{field}.{key}", key)]
        return reasons + [reason for key, one in value.items() for reason in item(f"{field}.{key}", one)]

    return check


def record(required: Mapping[str, Check], optional: Mapping[str, Check] | None = None) -> Check:
    """An object with these fields and no others; an optional field is absent, never null."""
    may = optional or {}

    def check(field: str, value: Any) -> list[Reason]:
        if not isinstance(value, Mapping):
            return [Reason(field, "not_object", "is an object")]
        at = f"{field}." if field else ""
        reasons = [Reason(f"{at}{key}", "missing", "is missing") for key in required if key not in value]
        for key, one in value.items():
            inner = required.get(key) or may.get(key)
            if inner is None:
                reasons.append(Reason(f"{at}{key}", "unknown_field", "is not a field of this kind"))
            else:
                reasons += inner(f"{at}{key}", one)
        return reasons

    return check


def body(
    required: Mapping[str, Check], optional: Mapping[str, Check] | None = None
) -> Callable[[Mapping[str, Any]], list[Reason]]:
    """The checker of a whole body."""
    check = record(required, optional)
    return lambda value: check("", value)
