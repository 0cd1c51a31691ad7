"""Rules of law and of standards as data: each with value, unit, source, clause, edition, region and the day read.

They live in calc/data/rules, one file for each rule-book, so that a new edition is a new file and not a changed number.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

_FOLDER = "data/rules"


@dataclass(frozen=True)
class Rule:
    """One rule. value: a number, a word or a list in `unit` ("" where it has none); remark: what else to know."""

    value: Any
    unit: str
    source: str
    clause: str
    edition: str
    region: str
    read: str
    remark: str = ""

    def cite(self) -> str:
        """Where the rule stands, and when it was read there."""
        remark = f"; {self.remark}" if self.remark else ""
        return f"{self.source}, {self.clause} ({self.edition}; {self.region}; read {self.read}{remark})"


@dataclass(frozen=True)
class RuleBook:
    """The rules of one text by name."""

    name: str
    source: str
    edition: str
    region: str
    rules: Mapping[str, Rule]

    def __getitem__(self, name: str) -> Rule:
        return self.rules[name]

    def __contains__(self, name: str) -> bool:
        return name in self.rules

    def __iter__(self) -> Iterator[str]:
        return iter(self.rules)

    def number(self, name: str) -> float:
        """The value of a rule that is a number, in the rule's own unit."""
        return float(self.rules[name].value)


@cache
def rule_book(name: str) -> RuleBook:
    """A rule-book by the name of its file.

    Source
        calc/data/rules/NAME.json
    Example
        >>> rule_book("eu_2024_573")["sealed_exempt"].value
        10
    """
    raw = json.loads(files("calc").joinpath(f"{_FOLDER}/{name}.json").read_text(encoding="utf-8"))
    shared = {key: raw[key] for key in ("source", "edition", "region", "read")}
    rules = {key: Rule(**{**shared, **row}) for key, row in raw["rules"].items()}
    return RuleBook(name, raw["source"], raw["edition"], raw["region"], MappingProxyType(rules))
