"""What is wrong with an input: faults that name field, value, allowed range and what to do next."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from calc.messages import Message

CODES = (
    "missing", "not_a_number", "unit", "gauge_or_absolute", "ambiguous_number", "out_of_range", "impossible",
    "outside_table", "contradiction", "unknown_refrigerant", "unknown_field", "unknown_choice", "unknown_working",
)  # fmt: skip


class Fault(NamedTuple):
    """One thing wrong: the field, what was given for it, a code of CODES, the problem and what to do."""

    field: str
    given: str
    code: str
    problem: Message
    hint: Message

    def to_json(self) -> dict[str, str]:
        return {
            "field": self.field,
            "given": self.given,
            "code": self.code,
            "problem": str(self.problem),
            "hint": str(self.hint),
        }


class Refused(Exception):
    """Raised instead of a number: carries every fault found."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{fault.field}: {fault.problem}" for fault in self.faults))


class Unreadable(Exception):
    """A typed text that is no value of its quantity; whoever knows the field makes a Fault of it."""

    def __init__(self, code: str, problem: Message, hint: Message) -> None:
        self.code, self.problem, self.hint = code, problem, hint
        super().__init__(str(problem))
