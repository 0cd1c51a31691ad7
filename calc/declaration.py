"""How a working is declared: fields, what it needs, results, and the two functions that compute and explain."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from calc.uncertainty import Origin
from calc.units import CANONICAL

if TYPE_CHECKING:
    from calc.telling import Telling
    from calc.values import Values

SHAPES = ("quantity", "number", "choice", "text", "refrigerant", "list", "series")


@dataclass(frozen=True)
class Field:
    """One input. low and high are in the canonical unit (pressures absolute) and are themselves allowed.

    reads: how a pressure's bare unit is taken: "gauge" refuses it, "absolute" and "vacuum" take it as absolute.
    error: which assumed limit of error stands in where none is typed (calc.assumed); "" for none.
    choices and said: the words accepted and what each says to a person. refused: words that must not be, and why.
    Shape "list" holds one value a row, of its quantity (plain numbers without one); shape "series" rows of `columns`.
    rows: how few and how many they may be. common: one instrument read them all, so that its error is one origin.
    bare: the unit taken where none is typed; without it a number alone is refused.
    """

    name: str
    label: str
    help: str
    shape: str = "quantity"
    quantity: str = ""
    low: float | None = None
    high: float | None = None
    required: bool = False
    choices: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    aliases: tuple[str, ...] = ()
    reads: str = ""
    error: str = ""
    columns: tuple[Field, ...] = ()
    rows: tuple[int, int] = (1, 2000)
    common: bool = False
    refused: tuple[tuple[str, str], ...] = ()
    bare: str = ""

    @property
    def unit(self) -> str:
        """The canonical unit, "" where the field has none."""
        return CANONICAL.get(self.quantity, "")

    @property
    def signed(self) -> bool:
        """Whether what is typed may be negative: a gauge reads below zero in vacuum though the pressure never is."""
        return self.reads == "gauge" or (self.low is not None and self.low < 0)

    def to_json(self) -> dict[str, Any]:
        return {
            "name": self.name, "label": self.label, "shape": self.shape, "quantity": self.quantity, "unit": self.unit,
            "range": [self.low, self.high] if self.low is not None else None, "required": self.required,
            "help": self.help, "choices": list(self.choices), "aliases": list(self.aliases), "reads": self.reads,
            "columns": [column.to_json() for column in self.columns],
        }  # fmt: skip


@dataclass(frozen=True)
class Result:
    """One result: its quantity and canonical unit (shape "quantity"), or a word (shape "text").

    Results of the other shapes ("number", "list", "object") are told by explain (Telling.tell); own_unit then says
    what a number counts, such as "month", or "of:FIELD" where it has the unit of what was given there.
    """

    name: str
    label: str
    help: str
    quantity: str = ""
    shape: str = "quantity"
    reads: str = ""
    own_unit: str = ""
    words: Mapping[str, str] = field(default_factory=dict)

    @property
    def unit(self) -> str:
        """The unit its value is given in: the canonical one, or its own; "" for a word."""
        return self.own_unit or CANONICAL.get(self.quantity, "")

    def say(self, word: str) -> str:
        """What a word of a text result says to a person."""
        return self.words.get(word, word)

    def to_json(self) -> dict[str, Any]:
        return {
            "name": self.name, "label": self.label, "shape": self.shape, "quantity": self.quantity, "unit": self.unit,
            "help": self.help,
        }  # fmt: skip


@dataclass(frozen=True)
class Need:
    """What must be given beyond the required fields: one_of, any_of or all_of its parts (field names or needs)."""

    rule: str
    parts: tuple[str | Need, ...]

    def fields(self) -> tuple[str, ...]:
        return tuple(n for part in self.parts for n in ((part,) if isinstance(part, str) else part.fields()))

    def met(self, given: frozenset[str]) -> int:
        """How many parts are wholly given."""
        return sum(self._has(part, given) for part in self.parts)

    @staticmethod
    def _has(part: str | Need, given: frozenset[str]) -> bool:
        if isinstance(part, str):
            return part in given
        count = part.met(given)
        return count == len(part.parts) if part.rule == "all_of" else count >= 1

    def to_json(self) -> dict[str, Any]:
        return {self.rule: [part if isinstance(part, str) else part.to_json() for part in self.parts]}


def one_of(*parts: str | Need) -> Need:
    """Exactly one of the parts."""
    return Need("one_of", parts)


def any_of(*parts: str | Need) -> Need:
    """At least one of the parts."""
    return Need("any_of", parts)


def all_of(*parts: str | Need) -> Need:
    """Every part."""
    return Need("all_of", parts)


@dataclass(frozen=True)
class Working:
    """One calculation, declared once.

    function is pure: Values to results by name (names beside those of `results` are steps, for explain only).
    explain tells notes, reasons and the verdict. own_doubts: origins that are the working's own, such as a printed
    table's rounding, each moving a value that the function reads by that name. together: the fields that one instrument
    read, so that its limit of error moves them all at once. order: place in the list.
    """

    name: str
    title: str
    purpose: str
    fields: tuple[Field, ...]
    results: tuple[Result, ...]
    function: Callable[[Values], Mapping[str, float | str]]
    explain: Callable[[Telling], None]
    sources: tuple[str, ...]
    needs: Need | None = None
    cautions: tuple[str, ...] = ()
    own_doubts: tuple[Origin, ...] = ()
    together: Callable[[Values], tuple[str, ...]] | None = None
    order: int = 100

    def field(self, name: str) -> Field | None:
        return next((f for f in self.fields if name == f.name or name in f.aliases), None)

    def result(self, name: str) -> Result | None:
        return next((r for r in self.results if name == r.name), None)

    def to_json(self) -> dict[str, Any]:
        return {
            "name": self.name, "title": self.title, "purpose": self.purpose,
            "fields": [f.to_json() for f in self.fields], "needs": self.needs.to_json() if self.needs else None,
            "results": [r.to_json() for r in self.results], "cautions": list(self.cautions),
            "sources": list(self.sources),
        }  # fmt: skip
