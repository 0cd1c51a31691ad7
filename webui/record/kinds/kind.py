"""How a kind of entry is declared."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from webui.record.kinds.shapes import Reason

Upgrade = Callable[[dict[str, Any]], dict[str, Any]]


@dataclass(frozen=True)
class Kind:
    """One kind: what it is about, the schema written today, what its body must be, and how older bodies are read.

    upgrades[n] turns a body of schema n into one of schema n + 1; every schema ever released has its step. touches are
    the kinds of subject that an entry must also be found under.
    """

    name: str
    subjects: tuple[str, ...]
    schema: int
    check: Callable[[Mapping[str, Any]], list[Reason]]
    touches: tuple[str, ...] = ()
    upgrades: Mapping[int, Upgrade] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if set(self.upgrades) != set(range(1, self.schema)):
            raise ValueError(f"{self.name}: schemas 1 to {self.schema} need an upgrade step each but the last")
