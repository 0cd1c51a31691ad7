"""Forms: a field is shown, typed, and shown again with its fault; what was typed is never lost.

A quantity is typed as NAME (the number), NAME.unit and, where it may be negative, NAME.minus (the keypad of a phone has
no minus sign). `joined` makes of the three the one text that calc reads.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.errors import Fault
from calc.units import unit_choices
from calc.working import Field

_SIGNED = re.compile(r"\s*([-−+])")
_ACCURACY = re.compile(r"\s*(±|\+/-|\+-)")
_BARE_NUMBER = re.compile(r"\s*[-+−]?[\d.,\s/]+(?:[eE][-+−]?\d+)?\s*")


@dataclass(frozen=True)
class Typed:
    """What stands in one field: text, the unit chosen beside it, and whether the minus key is down."""

    text: str = ""
    unit: str = ""
    minus: bool = False

    def __bool__(self) -> bool:
        return bool(self.text)

    @property
    def number(self) -> str:
        """The text with its sign."""
        return f"-{self.text}" if self.minus and not _SIGNED.match(self.text) else self.text

    def joined(self) -> str:
        """Number and unit as one text: ("118 ± 1", "psig") is "118 psig ± 1"; a unit that was typed stands."""
        if not self.text:
            return ""
        parts = _ACCURACY.split(self.number, maxsplit=1)
        unit = self.unit if _BARE_NUMBER.fullmatch(parts[0]) else ""
        first = f"{parts[0].strip()} {unit}".strip()
        return first if len(parts) == 1 else f"{first} ± {parts[2].strip()}"

    def kept(self) -> dict[str, str]:
        """As an entry keeps it: the number as typed, and the unit it was in ("" where it stands in the text)."""
        bare = _BARE_NUMBER.fullmatch(_ACCURACY.split(self.text, maxsplit=1)[0])
        return {"text": self.number, "unit": self.unit if bare else ""}


def typed_from_kept(kept: Mapping[str, str]) -> Typed:
    """What an entry keeps, as it stood in the form."""
    text = kept["text"]
    minus = text[:1] in ("-", "−")
    return Typed(text[1:].strip() if minus else text, kept["unit"], minus)


def typed(pairs: Iterable[tuple[str, str]], names: Iterable[str]) -> dict[str, Typed]:
    """What a form holds for these fields; the last of each name counts."""
    last = {name: text.strip() for name, text in pairs}
    return {
        name: Typed(last.get(name, ""), last.get(f"{name}.unit", ""), bool(last.get(f"{name}.minus"))) for name in names
    }


@dataclass(frozen=True)
class Input:
    """One field as the template draws it. shape is that of the calc field, or "prose" for free text of ours."""

    name: str
    shape: str
    typed: Typed
    label: str = ""  # "" where the name's own label will do
    quantity: str = ""
    units: tuple[str, ...] = ()
    signed: bool = False
    required: bool = False
    help: Any = ""
    choices: tuple[str, ...] = ()
    fault: Fault | None = None
    focus: bool = False


UnitOf = Callable[[Field], str]


def inputs(
    fields: Sequence[Field], values: Mapping[str, Typed], faults: Mapping[str, Fault], unit_of: UnitOf
) -> list[Input]:
    """The fields of a working as inputs, each with what was typed and its fault; the first fault takes the focus."""
    made: list[Input] = []
    for one in fields:
        fault = faults.get(one.name)
        made.append(
            Input(
                name=one.name,
                shape=one.shape,
                typed=_with_unit(values.get(one.name, Typed()), one, unit_of),
                quantity=one.quantity,
                units=_units(one, values.get(one.name), unit_of),
                signed=one.low is not None and one.low < 0,
                required=one.required,
                help=one.help,
                choices=tuple(one.choices),
                fault=fault,
                focus=fault is not None and not any(earlier.focus for earlier in made),
            )
        )
    return made


def _units(one: Field, value: Typed | None, unit_of: UnitOf) -> tuple[str, ...]:
    """The units to choose from: the usual first, and whatever is chosen already."""
    if one.shape not in ("quantity", "list") or not one.quantity:
        return ()
    wanted = [unit_of(one), *unit_choices(one.quantity, one.reads), *([value.unit] if value and value.unit else [])]
    return tuple(dict.fromkeys(unit for unit in wanted if unit))


def _with_unit(value: Typed, one: Field, unit_of: UnitOf) -> Typed:
    return value if value.unit or not one.quantity else Typed(value.text, unit_of(one), value.minus)
