"""From the texts of a request to canonical values, every fault found at once."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from calc import refrigerants
from calc.declaration import Field, Need, Working
from calc.display import alone
from calc.errors import Fault, Unreadable
from calc.frame import Frame
from calc.messages import N_, message
from calc.notation import Typed, number, read_quantity
from calc.pressure import absolute_pa
from calc.refrigerants import Refrigerant, UnknownRefrigerant
from calc.rows import Part, parts_of
from calc.site import SITE_NAMES, Site, site_of
from calc.units import Unit

_EDGE = 1e-9


@dataclass
class Given:
    """What a request gave: texts as typed, and what could be read of them."""

    texts: dict[str, str] = field(default_factory=dict)
    typed: dict[str, Typed] = field(default_factory=dict)
    numbers: dict[str, float] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    parts: dict[str, Part] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    fluid: Refrigerant | None = None
    site: Site | None = None
    faults: list[Fault] = field(default_factory=list)

    @property
    def gauged(self) -> frozenset[str]:
        """The pressures that count from the site's air."""
        return frozenset(name for name, typed in self.typed.items() if typed.unit.reads in ("gauge", "vacuum"))

    @property
    def standard(self) -> frozenset[str]:
        """The flows typed as flows of standard air."""
        return frozenset(name for name, typed in self.typed.items() if typed.unit.reads == "standard")

    def fault(self, name: str, code: str, problem: Any, hint: Any) -> None:
        part = self.parts.get(name)
        if part is None:
            self.faults.append(Fault(name, self.texts.get(name, ""), code, problem, hint))
            return
        row = message(N_("row {row}: {problem}"), row=str(part.row + 1), problem=str(problem))
        self.faults.append(Fault(name.partition(".")[0], part.text, code, row, hint))

    def text(self, name: str) -> str:
        """What was typed for a field, or for one value of a list."""
        return self.parts[name].text if name in self.parts else self.texts[name]


def read_inputs(working: Working, inputs: Mapping[str, Any]) -> Given:
    """Reads every field of a working; given.faults holds all that is wrong, and is empty if nothing is."""
    given = Given()
    _take(working, inputs, given)
    for declared in working.fields:
        if declared.name in given.texts and declared.shape in ("list", "series"):
            _spread(declared, given)
        elif declared.name in given.texts:
            _read(declared, given)
    for part in given.parts.values():
        _read(part.field, given)
    given.site, faults = site_of(given.typed, given.numbers)
    given.faults += faults
    for declared in working.fields:
        if declared.name in given.typed and declared.name not in SITE_NAMES:
            _place(declared, given)
    for name, part in given.parts.items():
        if name in given.typed:
            _place(part.field, given)
    _complete(working, given)
    order = {declared.name: index for index, declared in enumerate(working.fields)}
    given.faults.sort(key=lambda fault: order.get(fault.field, len(order)))
    return given


def _take(working: Working, inputs: Mapping[str, Any], given: Given) -> None:
    for key, value in inputs.items():
        text = _text(value)
        if not text:
            continue
        declared = working.field(key)
        if declared is None:
            known = ", ".join(f.name for f in working.fields)
            given.faults.append(
                Fault(
                    key, text, "unknown_field",
                    message(N_("{working} has no field {field}"), working=working.name, field=key),
                    message(N_("Its fields are: {fields}"), fields=known),
                )
            )  # fmt: skip
        elif declared.name in given.texts:
            given.fault(
                declared.name, "contradiction",
                message(N_("{field} is given twice, as {first} and as {second}"), field=declared.name,
                        first=given.texts[declared.name], second=text),
                message(N_("Give it once")),
            )  # fmt: skip
        else:
            given.texts[declared.name] = text


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, list):
        return json.dumps(value, ensure_ascii=False) if value else ""
    return value.strip() if isinstance(value, str) else str(value)


def _spread(declared: Field, given: Given) -> None:
    """The values of a list or series, each to be read as a field of its own; how many there must be."""
    try:
        parts, count = parts_of(declared, given.texts[declared.name])
    except Unreadable as wrong:
        given.fault(declared.name, wrong.code, wrong.problem, wrong.hint)
        return
    given.counts[declared.name] = count
    given.parts.update({part.field.name: part for part in parts})


def _read(declared: Field, given: Given) -> None:
    text = given.text(declared.name)
    try:
        if declared.shape == "quantity":
            typed = read_quantity(_with_bare(text, declared), declared.quantity, declared.reads)
            given.typed[declared.name] = typed
            if declared.name in SITE_NAMES:  # the gauges' own zero comes first
                _place(declared, given)
        elif declared.shape == "number":
            value = number(text)
            if _inside(declared, value, value, given):
                given.numbers[declared.name] = value
        elif declared.shape == "choice":
            word = text.casefold().replace(" ", "_").replace("-", "_")
            barred = dict(declared.refused)
            chosen = next((choice for choice in declared.choices if choice.casefold() == word), None)
            if chosen is not None:
                given.words[declared.name] = chosen
            elif word in barred:
                given.fault(
                    declared.name, "impossible",
                    message(N_("{given} must never be used here: {why}"), given=text, why=barred[word]),
                    message(N_("Choose one of: {choices}"), choices=", ".join(declared.choices)),
                )  # fmt: skip
            else:
                given.fault(
                    declared.name, "unknown_choice",
                    message(N_("{given} is not a choice for {field}"), given=text, field=declared.label.lower()),
                    message(N_("Choose one of: {choices}"), choices=", ".join(declared.choices)),
                )  # fmt: skip
        elif declared.shape == "refrigerant":
            given.fluid = refrigerants.get(text)
            given.words[declared.name] = given.fluid.designation
        else:
            given.words[declared.name] = text
    except Unreadable as wrong:
        given.fault(declared.name, wrong.code, wrong.problem, wrong.hint)
    except UnknownRefrigerant as unknown:
        near = ", ".join(unknown.near)
        hint = (
            message(N_("Did you mean {near}?"), near=near)
            if near
            else message(N_("Write the designation as on the plate, such as R-410A"))
        )
        given.fault(
            declared.name, "unknown_refrigerant", message(N_("There are no tables for {given}"), given=text), hint
        )


def _with_bare(text: str, declared: Field) -> str:
    """The text, with the field's own unit where it is a number alone."""
    if not declared.bare:
        return text
    try:
        number(text)
    except Unreadable:
        return text
    return f"{text} {declared.bare}"


def _place(declared: Field, given: Given) -> None:
    """The canonical value of a typed quantity, if it can be and lies in the field's range."""
    typed = given.typed[declared.name]
    unit = typed.unit
    site_pa = given.site.pressure_pa if given.site else 0.0
    if declared.quantity == "pressure":
        value = absolute_pa(typed.number, unit, site_pa)
        if value <= 0.0:
            frame = Frame([typed], None, site_pa, {})
            given.fault(
                declared.name, "impossible",
                message(N_("{given} is below perfect vacuum"), given=typed.text),
                message(
                    N_("Nothing can read beyond {vacuum} here: check the reading, its sign, unit and the gauge's zero"),
                    vacuum=frame.show(0.0, "pressure", unit=unit),
                ),
            )  # fmt: skip
            return
    else:
        value = unit.zero + unit.scale * typed.number
        if declared.quantity == "temperature" and value < -273.15 - 1e-6:
            given.fault(
                declared.name, "impossible",
                message(N_("{given} is below absolute zero (−273.15 °C, −459.67 °F)"), given=typed.text),
                message(N_("Check the reading, its sign and its unit")),
            )  # fmt: skip
            return
    if _inside(declared, value, typed.number, given, unit, site_pa):
        given.numbers[declared.name] = value


def _inside(
    declared: Field, value: float, shown: float, given: Given, unit: Unit | None = None, site_pa: float = 0.0
) -> bool:
    low, high = declared.low, declared.high
    if low is None or high is None:
        return True
    slack = _EDGE * max(abs(low), abs(high))
    if low - slack <= value <= high + slack:
        return True
    frame = Frame([], None, site_pa, {})
    ends = [alone(end, "") if unit is None else frame.show(end, declared.quantity, unit=unit) for end in (low, high)]
    given.fault(
        declared.name, "out_of_range",
        message(
            N_("{field} {given} is out of range ({low} to {high})"), field=declared.label,
            given=given.text(declared.name), low=ends[0], high=ends[1],
        ),
        message(N_("Check the reading and its unit")),
    )  # fmt: skip
    return False


def _count(declared: Field, given: Given) -> None:
    """A fault where a list has too few or too many rows; a faulty row comes first."""
    least, most = declared.rows
    count = given.counts[declared.name]
    if least <= count <= most or any(fault.field == declared.name for fault in given.faults):
        return
    few = count < least
    given.fault(
        declared.name, "missing" if few else "contradiction",
        message(
            N_("{field}: {count} given, {needed} needed") if few else N_("{field}: {count} given, {needed} at most"),
            field=declared.label, count=str(count), needed=str(least if few else most),
        ),
        message(N_("Give it, one a line: {help}"), help=declared.help),
    )  # fmt: skip


def _complete(working: Working, given: Given) -> None:
    has = frozenset(given.texts)
    for declared in working.fields:
        if declared.name in given.counts:
            _count(declared, given)
    for declared in working.fields:
        if declared.required and declared.name not in has:
            _missing(working, declared.name, given)
    if working.needs:
        _met(working, working.needs, has, given)


def _met(working: Working, need: Need, has: frozenset[str], given: Given) -> None:
    """Faults where a need is not met: nothing of it given, a part half given, or two parts where one counts."""
    begun = [part for part in need.parts if any(name in has for name in _names(part))]
    if need.rule == "all_of":
        for part in need.parts:
            if isinstance(part, Need):
                _met(working, part, has, given)
            elif part not in has:
                _missing(working, part, given)
    elif need.rule == "one_of" and len(begun) > 1:
        both = [name for part in begun for name in _names(part) if name in has]
        given.fault(
            both[-1], "contradiction",
            message(N_("Only one of these can be used at once: {fields}"), fields=_listed(working, both, ", ")),
            message(N_("Give one of them")),
        )  # fmt: skip
    elif need.met(has) == 0 and begun:
        for name in _names(begun[0]):
            if name not in has:
                _missing(working, name, given)
    elif need.met(has) == 0:
        fields = " / ".join(_listed(working, _names(part), " + ") for part in need.parts)
        given.fault(
            _names(need.parts[0])[0], "missing",
            message(N_("One of these is needed: {fields}"), fields=fields),
            message(N_("Give one of them with its unit")),
        )  # fmt: skip


def _missing(working: Working, name: str, given: Given) -> None:
    declared = working.field(name)
    assert declared is not None
    given.fault(
        name, "missing", message(N_("{field} is missing"), field=declared.label),
        message(N_("Give it: {help}"), help=declared.help),
    )  # fmt: skip


def _names(part: str | Need) -> tuple[str, ...]:
    return (part,) if isinstance(part, str) else part.fields()


def _listed(working: Working, names: Iterable[str], between: str) -> str:
    found = (working.field(name) for name in names)
    return between.join(declared.label.lower() for declared in found if declared)
