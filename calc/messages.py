"""Sentences with named places: what leaves calc for a person to read, kept apart from its formatting.

A Message holds the English sentence (which is its key for translation) and what stands in its places. Entries store
both, so that a record can be read later in another language or in other units.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple


def N_(text: str) -> str:  # noqa: N802 - the customary mark of gettext for a sentence translated later
    """Marks a sentence for translation and gives it back unchanged."""
    return text


class Amount(NamedTuple):
    """A figure inside a sentence: value in its canonical unit, that unit, and how it was shown."""

    value: float
    unit: str
    shown: str

    def __str__(self) -> str:
        return self.shown


@dataclass(frozen=True)
class Message:
    """A sentence `text` with named places and the `values` that fill them; str() is English."""

    text: str
    values: Mapping[str, str | Amount] = field(default_factory=dict)

    def __str__(self) -> str:
        return self.said()

    def said(self, translate: Callable[[str], str] = str) -> str:
        """The sentence in the language of `translate`, its places filled."""
        return translate(self.text).format_map({name: str(value) for name, value in self.values.items()})

    def to_json(self) -> dict[str, Any]:
        """Text and values as an entry keeps them: numbers as decimal text, no floats."""
        values: dict[str, Any] = {}
        for name, value in self.values.items():
            if isinstance(value, Amount):
                values[name] = {"value": repr(float(value.value)), "unit": value.unit, "shown": value.shown}
            else:
                values[name] = value
        return {"text": self.text, "values": values}


def message(text: str, /, **values: str | Amount) -> Message:
    """A Message from a marked sentence and its values."""
    return Message(text, values)
