"""Forms: a field is shown, typed, and shown again with its fault; what was typed is never lost.

A quantity is typed as NAME (the number), NAME.unit and, where it may be negative, NAME.minus (the keypad of a phone has
no minus sign). `joined` makes of the three the one text that calc reads.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from calc.errors import Fault
from calc.reading import read_inputs
from calc.units import unit_choices, usual_unit
from calc.working import Field, Working
from webui.preferences import Preferences

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
    label: str
    shape: str
    typed: Typed
    units: tuple[str, ...] = ()
    signed: bool = False
    required: bool = False
    help: str = ""
    choices: tuple[tuple[str, str], ...] = ()  # word and what it says
    fault: Fault | None = None
    focus: bool = False


def inputs(
    fields: Sequence[Field], values: Mapping[str, Typed], faults: Iterable[Fault], chosen: Preferences
) -> list[Input]:
    """Fields as inputs, each with what was typed and its fault; the first faulty one takes the focus."""
    first_faults: dict[str, Fault] = {}
    for fault in faults:
        first_faults.setdefault(fault.field, fault)
    focus = next((one.name for one in fields if one.name in first_faults), "")
    return [
        Input(
            name=one.name,
            label=one.label,
            shape=one.shape,
            typed=_with_unit(values.get(one.name, Typed()), one, chosen),
            units=_units(one, values.get(one.name, Typed()), chosen),
            signed=one.low is not None and one.low < 0,
            required=one.required,
            help=one.help,
            choices=tuple(zip(one.choices, one.said or one.choices, strict=True)),
            fault=first_faults.get(one.name),
            focus=one.name == focus,
        )
        for one in fields
    ]


def remembered_under(one: Field) -> str:
    """The name under which the unit last used for such a field is kept: its quantity, and for pressures the kind."""
    return f"{one.quantity}_{one.reads}" if one.reads else one.quantity


def usual(one: Field, chosen: Preferences) -> str:
    """The unit a field starts with: the one last in hand, else the usual one of the system."""
    kept = chosen.units.get(remembered_under(one), "")
    offered = unit_choices(one.quantity, one.reads)
    if kept in offered:
        return kept
    if one.reads == "absolute":  # a barometer, not a gauge
        return "inHg" if chosen.system == "us" else "hPa"
    symbol = usual_unit(one.quantity, one.reads, chosen.system).symbol
    return symbol if symbol in offered else offered[0]


def faults_of(name: str, fields: tuple[Field, ...], texts: Mapping[str, str]) -> list[Fault]:
    """What is wrong with the fields of a form of ours, found as calc finds it for a working."""
    form = Working(name, "", "", fields, (), lambda values: {}, lambda telling: None, ())
    return list(read_inputs(form, {key: text for key, text in texts.items() if text}).faults)


def _units(one: Field, value: Typed, chosen: Preferences) -> tuple[str, ...]:
    """The units to choose from: the usual first, and whatever is chosen already."""
    if one.shape != "quantity" or not one.quantity or _is_factor(one):
        return ()
    wanted = [usual(one, chosen), *unit_choices(one.quantity, one.reads), value.unit]
    return tuple(dict.fromkeys(unit for unit in wanted if unit))


def _is_factor(one: Field) -> bool:
    """Whether a ratio is a factor, typed as it is, and not a share, typed in per cent: 1.5 times, but 45 %."""
    return one.quantity == "ratio" and one.high is not None and one.high > 1.0


def _with_unit(value: Typed, one: Field, chosen: Preferences) -> Typed:
    if one.shape != "quantity" or value.unit or _is_factor(one):
        return value
    return Typed(value.text, usual(one, chosen), value.minus)
