"""Imbalance of the three line voltages of a motor."""

from __future__ import annotations

from calc.declaration import Field, Result, Working
from calc.messages import N_
from calc.telling import Telling
from calc.values import Values

GOOD, WORST = 0.01, 0.05
_SOURCE = "NEMA MG 1, 14.36 (from memory): largest deviation from the average, divided by the average"
_LIMITS = "NEMA MG 1, 14.36 (from memory): full load up to 1 %, less above it, no operation above 5 %"


def _voltages_v(values: Values) -> list[float]:
    return [values[f"voltages.{row}"] for row in range(3)]


def voltage_imbalance(values: Values) -> dict[str, float]:
    """Average [V] of three line-to-line voltages, and the largest deviation from it as a share of it [1].

    The average is not rounded first.

    Source
        NEMA MG 1, 14.36 (from memory)
    """
    voltages = _voltages_v(values)
    average = sum(voltages) / 3.0
    return {"average": average, "imbalance": max(abs(voltage - average) for voltage in voltages) / average}


def explain(telling: Telling) -> None:
    """The definition with this motor's numbers, and what the standard allows."""
    voltages = _voltages_v(telling.values)
    telling.because(
        N_("imbalance = largest deviation from the average ÷ average, of the three line-to-line voltages"),
        N_("{first}, {second} and {third}: average {average}, imbalance {imbalance}"),
        _SOURCE,
        first=telling.amount(voltages[0], "voltage"),
        second=telling.amount(voltages[1], "voltage"),
        third=telling.amount(voltages[2], "voltage"),
        average=telling.result("average"),
        imbalance=telling.result("imbalance"),
    )
    _limits(telling)
    telling.note(N_("At the motor's terminals, running under load; imbalance of current is far larger than of voltage"))
    telling.taken_as_exact("voltages")


def _limits(telling: Telling) -> None:
    imbalance, band = telling["imbalance"], telling.expanded("imbalance")
    shown = telling.result("imbalance")
    if imbalance - band > WORST:
        telling.note(N_("{imbalance} is over 5 %: the motor is not to be run; find the cause first"), imbalance=shown)
    elif imbalance + band <= GOOD:
        telling.note(N_("{imbalance} is not over 1 %: the motor may carry its full load"), imbalance=shown)
    elif imbalance - band > GOOD and imbalance + band <= WORST:
        telling.note(N_("{imbalance} is over 1 %: the motor may carry less than its full load"), imbalance=shown)
    else:
        telling.note(N_("{imbalance} is too close to call against the limits of 1 % and 5 %"), imbalance=shown)


WORKING = Working(
    name="voltage_imbalance",
    title=N_("Voltage imbalance"),
    purpose=N_("How far the three line voltages of a motor differ, as NEMA MG 1 defines it"),
    fields=(
        Field(
            "voltages", N_("Line voltages"), N_("The three line-to-line voltages, such as 462 V, 463 V and 455 V"),
            shape="list", quantity="voltage", low=50.0, high=15000.0, required=True, rows=(3, 3), bare="V",
        ),
    ),
    results=(
        Result("average", N_("Average"), N_("Mean of the three voltages"), "voltage"),
        Result("imbalance", N_("Imbalance"), N_("Largest deviation from the average, of the average"), "ratio"),
    ),
    function=voltage_imbalance,
    explain=explain,
    sources=(_SOURCE, _LIMITS),
    cautions=(
        N_(
            "Live parts: only who is qualified measures on them, with a meter rated for the place; "
            "local codes and the licence hold"
        ),
    ),
    order=82,
)  # fmt: skip
