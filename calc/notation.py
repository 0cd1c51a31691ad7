"""Typed text to a value: number, unit and limit of error, as people write them.

`118 psig`, `0,82 MPag`, `1 234.5 kPaa`, `10 lb 4 oz`, `3/8 in`, `118 psig ± 1`, `52 °F +/- 1 %`. What could be read two
ways is refused with both readings; nothing is guessed.
"""

from __future__ import annotations

import re
from math import isfinite
from typing import NamedTuple

from calc.errors import Unreadable
from calc.messages import N_, message
from calc.units import DIFFERENCE_OF, Unit, find_unit, quantities_of, unit_choices

_BLANKS = "  \u2009\u202f\t"
_PLUS_MINUS = re.compile(r"±|\+\s*/\s*[-−]|\+[-−]")
_NUMBER = re.compile(
    rf"\s*(?P<sign>[-+−]?)\s*(?P<body>[0-9]{{1,3}}(?:[{_BLANKS}][0-9]{{3}})+(?![0-9])(?:[.,][0-9]+)?|[0-9][0-9.,]*|[.,][0-9]+)"
    rf"(?P<power>[eE][-+]?[0-9]{{1,3}}(?![0-9A-Za-z]))?"
)
_FRACTION = re.compile(r"\s*(?:(?P<whole>[0-9]+)\s+)?(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)(?![0-9])")
_GROUPED = re.compile(r"[0-9]{1,3}([.,])[0-9]{3}(\1[0-9]{3})*")
_LONGEST = 80
_COMPOUND = frozenset(("mass", "length", "time"))


class Typed(NamedTuple):
    """A value as typed: the text, its number and unit, and the limit of error after ± (None if not given).

    limit is a difference in the canonical unit of the quantity.
    """

    text: str
    number: float
    unit: Unit
    limit: float | None = None


def number(text: str) -> float:
    """The number that a text without unit stands for.

    Point or comma may be the decimal mark; blanks may group digits. A comma followed by exactly three digits with no
    other mark is refused (Unreadable, code ambiguous_number); so is what is no number (code not_a_number).

    Example
        >>> number("1 234,5"), number("1.234,5"), number("−4,69")
        (1234.5, 1234.5, -4.69)
    """
    found = _NUMBER.fullmatch(text.rstrip())
    if not found:
        raise _no_number(text)
    return _value(found, text)


def read_quantity(text: str, quantity: str, reads: str = "") -> Typed:
    """A text with its unit, and its limit of error if given.

    Parameters
        text: as typed
        quantity: a key of calc.units.CANONICAL
        reads: for pressures, what the field is: "gauge" refuses units that do not say gauge or absolute; "absolute"
            and "vacuum" take those as absolute and refuse gauge units
    Errors
        Unreadable with code not_a_number, ambiguous_number, unit or gauge_or_absolute
    """
    if len(text) > _LONGEST:
        raise _no_number(text[:_LONGEST] + "…")
    main, *rest = _PLUS_MINUS.split(text)
    if len(rest) > 1:
        raise _no_number(text)
    value, unit_text, start = _leading(main, quantity)
    if rest and not unit_text:  # `11.2 ± 0.9 °F`: the unit stands once, at the end
        found = _NUMBER.match(rest[0])
        unit_text = rest[0][found.end() :].strip() if found else ""
        if unit_text == "%" and quantity != "ratio":
            unit_text = ""
        elif found:
            rest = [found.group()]
    unit, value, last = _with_unit(text, value, unit_text, start, quantity, reads)
    limit = _limit(rest[0], value, last or unit, quantity) if rest else None
    return Typed(text.strip(), value, unit, limit)


def _leading(text: str, quantity: str) -> tuple[float, str, str]:
    """The first number of a text, what follows it, and its own spelling."""
    fraction = _FRACTION.match(text)
    if fraction and int(fraction["under"]):
        value = int(fraction["whole"] or 0) + int(fraction["over"]) / int(fraction["under"])
        return value, text[fraction.end() :].strip(), fraction.group().strip()
    found = _NUMBER.match(text)
    if not found:
        raise _no_number(text)
    return _value(found, text), text[found.end() :].strip(), found.group().strip()


def _value(found: re.Match[str], text: str) -> float:
    body = found["body"]
    spaced = any(blank in body for blank in _BLANKS)
    digits = "".join(c for c in body if c not in _BLANKS)
    marks = [c for c in digits if c in ".,"]
    if len(marks) == 1:
        before, _, after = digits.partition(marks[0])
        if marks[0] == "," and len(after) == 3 and not spaced:
            raise Unreadable(
                "ambiguous_number",
                message(N_("{text} can be read in two ways"), text=body),
                message(
                    N_("Write {decimal} for the decimal, or {grouped} for the whole number"),
                    decimal=f"{before or '0'}.{after}",
                    grouped=f"{before}{after}",
                ),
            )
        if not after:
            raise _no_number(text)
        digits = f"{before or '0'}.{after}"
    elif marks:
        whole, after = digits, ""
        if marks[-1] not in marks[:-1]:
            whole, _, after = digits.rpartition(marks[-1])
        if not _GROUPED.fullmatch(whole) or (len(whole) < len(digits) and not after):
            raise _no_number(text)
        digits = f"{whole.replace(',', '').replace('.', '')}.{after or '0'}"
    value = float(digits + (found["power"] or ""))
    if not isfinite(value):
        raise _no_number(text)
    return -value if found["sign"] in ("-", "−") else value


def _with_unit(
    text: str, value: float, unit_text: str, start: str, quantity: str, reads: str
) -> tuple[Unit, float, Unit | None]:
    """Unit, number in it, and the last unit where there are several (`10 lb 4 oz`)."""
    unit = find_unit(unit_text, quantity)
    if unit is None and quantity in _COMPOUND:
        first, _, tail = unit_text.partition(" ")
        unit = find_unit(first, quantity)
        while unit and tail:
            more, following, _ = _leading(tail, quantity)
            first, _, tail = following.partition(" ")
            last = find_unit(first, quantity)
            if last is None or last.scale >= unit.scale or more < 0 or value < 0:
                unit = None
                break
            value += more * last.scale / unit.scale
            if not tail:
                return unit, value, last
    if unit is None:
        raise _no_unit(start, unit_text, quantity, reads)
    if quantity == "pressure":
        _check_reference(start, unit, reads)
    return unit, value, None


def _check_reference(start: str, unit: Unit, reads: str) -> None:
    if reads == "gauge" and unit.reads == "bare":
        gauge = "inHgv" if unit.symbol == "inHg" else f"{unit.symbol}g"
        raise Unreadable(
            "gauge_or_absolute",
            message(N_("{unit} does not say whether the pressure is gauge or absolute"), unit=unit.symbol),
            message(
                N_("Write {gauge} as a gauge reads it (from the air around it), or {absolute} if it is absolute"),
                gauge=f"{start} {gauge}",
                absolute=f"{start} {unit.symbol}a",
            ),
        )
    if reads in ("absolute", "vacuum") and unit.reads == "gauge":
        raise Unreadable(
            "gauge_or_absolute",
            message(N_("This pressure is absolute; {unit} is a gauge reading"), unit=unit.symbol),
            message(
                N_("Give it as an absolute pressure, such as {units}"), units=", ".join(unit_choices("pressure", reads))
            ),
        )


def _limit(text: str, value: float, unit: Unit, quantity: str) -> float:
    """The limit of error written after ±, as a difference in the canonical unit."""
    found = _NUMBER.match(text)
    if not found or found["sign"] in ("-", "−"):
        raise Unreadable(
            "not_a_number",
            message(N_("what stands after ± is no limit of error: {text}"), text=text.strip()),
            message(N_("Write it as in 118 psig ± 1, or as in ± 0.5 %")),
        )
    amount = _value(found, text)
    unit_text = text[found.end() :].strip()
    if unit_text == "%" and quantity != "ratio":  # 45 % ± 3 % of humidity is three points, as hygrometers are rated
        return abs(value) * unit.scale * amount / 100.0
    if not unit_text:
        return amount * unit.scale
    difference = DIFFERENCE_OF.get(quantity, quantity)
    other = find_unit(unit_text, difference)
    if other is None:
        raise Unreadable(
            "unit",
            message(N_("{unit} is no unit for a limit of error here"), unit=unit_text),
            message(N_("After ± write a difference: {units}, or %"), units=", ".join(unit_choices(difference))),
        )
    return amount * other.scale


def _no_number(text: str) -> Unreadable:
    return Unreadable(
        "not_a_number",
        message(N_("{text} is not a number with a unit"), text=text.strip() or "—"),
        message(N_("Write digits, with a point or a comma for the decimals, then the unit")),
    )


def _no_unit(start: str, unit_text: str, quantity: str, reads: str) -> Unreadable:
    offered = ", ".join(unit_choices(quantity, reads))
    others = quantities_of(unit_text) if unit_text else ()
    if not unit_text:
        problem = message(N_("{number} has no unit"), number=start)
    elif DIFFERENCE_OF.get(others[0] if others else "") == quantity:
        problem = message(N_("This is a difference, neither gauge nor absolute: {unit} does not fit"), unit=unit_text)
    elif others:
        problem = message(N_("{unit} is a unit of {quantity}"), unit=unit_text, quantity=others[0].replace("_", " "))
    else:
        problem = message(N_("{unit} is not a unit known here"), unit=unit_text)
    return Unreadable("unit", problem, message(N_("Give it with one of: {units}"), units=offered))
