"""Subcooling of the liquid: how far below its bubble temperature it is."""

from __future__ import annotations

from calc.contradictions import check_suction_below
from calc.declaration import Field, Result, Working, all_of, one_of
from calc.fields import REFRIGERANT, gauge_pressure, line_drop, pipe_temperature, target_and_tolerance
from calc.messages import N_
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.units import FAHRENHEIT_K
from calc.values import Values

TOLERANCE_K = 3 * FAHRENHEIT_K
_SOURCE = "definition: common practice, no source; bubble temperature: tables made with CoolProp 8.0.0"
_RULE = "California 2008 Residential Appendix RA3, RA3.2: ± 3 °F of target"


def _high_side(values: Values) -> str:
    return "liquid_pressure" if "liquid_pressure" in values else "discharge_pressure"


def _liquid_pressure_pa(values: Values) -> float:
    return values[_high_side(values)] - values.number("condenser_drop", 0.0)  # one_of: a drop means a discharge


def subcooling(values: Values) -> dict[str, float]:
    """Bubble temperature [°C] at the liquid pressure, and subcooling [K] below it.

    Negative is vapour in the line, or a wrong reading. From a discharge pressure the condenser's
    drop [Pa] is taken off first.

    Source
        definition: common practice, no source; bubble temperature: calc.saturation
    """
    check_suction_below(values, "suction_pressure", _high_side(values), blame="suction_pressure")
    bubble = values.bubble_temperature_c(_liquid_pressure_pa(values), _high_side(values))
    answer = {"bubble_temperature": bubble, "subcooling": bubble - values["liquid_temperature"]}
    if "target" in values:
        answer["miss"] = answer["subcooling"] - values["target"]
    return answer


def explain(telling: Telling) -> None:
    """Why, verdict against the target, and what a figure near or below zero means."""
    values = telling.values
    telling.because(
        N_("subcooling = bubble temperature at the liquid pressure − liquid temperature"),
        N_("{bubble} ({refrigerant}, bubble at {pressure} absolute) − {temperature} = {subcooling}"),
        _SOURCE,
        temperature=telling.reading("liquid_temperature"),
        bubble=telling.result("bubble_temperature"),
        refrigerant=values.refrigerant.designation,
        pressure=telling.absolute(_liquid_pressure_pa(values)),
        subcooling=telling.result("subcooling"),
    )
    if values.word("liquid_at") == "device_inlet":
        telling.note(N_("Taken at the metering device: the liquid line's gain or loss is part of the figure"))
    value, band = telling["subcooling"], telling.expanded("subcooling")
    if abs(value) <= band:
        telling.note(
            N_("Subcooling {subcooling} is about zero: it cannot be told from saturated liquid"),
            subcooling=telling.result("subcooling"),
        )
    elif value < 0:
        telling.note(
            N_(
                "The liquid line is hotter than the bubble temperature: vapour in the line, or a doubtful reading "
                "(clamp in the sun, wrong refrigerant chosen, pressure read elsewhere)"
            )
        )
    if "target" in values:
        target, tolerance = values["target"], values.number("tolerance", TOLERANCE_K)
        if "tolerance" not in values:
            telling.note(N_("Tolerance assumed: 3 °F (1.7 K) either way"))
        telling.judge("subcooling", target - tolerance, target + tolerance, telling.contributions["miss"])
        telling.why_judged("subcooling", _RULE)
    telling.note(N_("With a receiver, subcooling says nothing of the charge until the receiver is empty of liquid"))
    telling.tables("bubble", at_c=telling["bubble_temperature"])


WORKING = Working(
    name="subcooling",
    title=N_("Subcooling"),
    purpose=N_("How far liquid is below its bubble temperature, against what it should be"),
    fields=(
        REFRIGERANT,
        gauge_pressure(
            "liquid_pressure", N_("Liquid pressure"), N_("Pressure in the liquid line, as the gauge reads it"),
        ),
        gauge_pressure(
            "discharge_pressure", N_("Discharge pressure"),
            N_("Pressure at the discharge, where the liquid line has no port; needs the condenser's drop"),
        ),
        line_drop("condenser_drop", N_("Condenser drop"), N_("Pressure lost between discharge and liquid line")),
        pipe_temperature(
            "liquid_temperature", N_("Liquid line temperature"),
            N_("Temperature of the liquid line, clamp insulated from the air"), required=True,
        ),
        Field(
            "liquid_at", N_("Taken at"), N_("Where the liquid temperature was taken"), shape="choice",
            choices=("condenser_outlet", "device_inlet"), said=(N_("condenser outlet"), N_("metering device inlet")),
        ),
        *target_and_tolerance(
            N_("Subcooling it should have, from the plate"),
            N_("How far subcooling may miss the target, either way (3 °F where not given)"),
        ),
        gauge_pressure(
            "suction_pressure", N_("Suction pressure"),
            N_("Suction pressure read at the same time, to check the two against each other"),
        ),
        *SITE_FIELDS,
    ),
    needs=one_of("liquid_pressure", all_of("discharge_pressure", "condenser_drop")),
    results=(
        Result("bubble_temperature", N_("Bubble temperature"), N_("Where the liquid would boil"), "temperature"),
        Result(
            "subcooling", N_("Subcooling"), N_("Bubble minus liquid temperature; negative is vapour or wrong"),
            "temperature_difference",
        ),
    ),
    function=subcooling,
    explain=explain,
    sources=(_SOURCE, _RULE),
    cautions=(N_("Refrigerant under pressure: eye protection and gloves when hoses go on or off; local codes apply"),),
    order=30,
)  # fmt: skip
