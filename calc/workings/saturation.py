"""Saturation of a refrigerant: temperature from pressure, or pressure from temperature."""

from __future__ import annotations

from calc.declaration import Field, Result, Working, one_of
from calc.fields import HIGHEST_TEMPERATURE_C, LOWEST_TEMPERATURE_C, REFRIGERANT, gauge_pressure
from calc.messages import N_
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.values import Values

_SOURCE = "tables made with CoolProp 8.0.0"


def saturation(values: Values) -> dict[str, float]:
    """Bubble and dew temperature [°C] and glide [K] at a pressure, or both pressures [Pa absolute] at a temperature.

    Source
        calc.saturation; glide: dew minus bubble temperature at one pressure, common practice
    """
    if "pressure" in values:
        bubble = values.bubble_temperature_c(values["pressure"], "pressure")
        dew = bubble if values.refrigerant.pure else values.dew_temperature_c(values["pressure"], "pressure")
        return {"bubble_temperature": bubble, "dew_temperature": dew, "glide": dew - bubble}
    bubble = values.bubble_pressure_pa(values["temperature"], "temperature")
    if values.refrigerant.pure:
        return {"bubble_pressure": bubble, "dew_pressure": bubble}
    return {"bubble_pressure": bubble, "dew_pressure": values.dew_pressure_pa(values["temperature"], "temperature")}


def explain(telling: Telling) -> None:
    """Says what was looked up, and which curve serves what."""
    fluid = telling.values.refrigerant
    if "pressure" in telling.values:
        telling.because(
            N_("bubble temperature: first vapour at this pressure; dew temperature: last liquid; glide = dew − bubble"),
            N_("{refrigerant} at {pressure} absolute: bubble {bubble}, dew {dew}"),
            _SOURCE,
            refrigerant=fluid.designation,
            pressure=telling.absolute(telling.values["pressure"]),
            bubble=telling.result("bubble_temperature"),
            dew=telling.result("dew_temperature"),
        )
        at = telling["bubble_temperature"]
        # where the curves touch, the tables' own 2 mK may cross them
        telling.publish("glide", max(0.0, telling["glide"]), telling.contributions["glide"])
    else:
        telling.because(
            N_("bubble pressure: first vapour at this temperature; dew pressure: last liquid"),
            N_("{refrigerant} at {temperature}: bubble {bubble}, dew {dew}"),
            _SOURCE,
            refrigerant=fluid.designation,
            temperature=telling.reading("temperature"),
            bubble=telling.result("bubble_pressure"),
            dew=telling.result("dew_pressure"),
        )
        at = telling.values["temperature"]
    if not fluid.pure:
        telling.note(N_("A blend: take superheat from the dew and subcooling from the bubble temperature"))
    telling.tables("bubble", "dew", at_c=at)


WORKING = Working(
    name="saturation",
    title=N_("Saturation"),
    purpose=N_("Bubble and dew temperature at a pressure, or bubble and dew pressure at a temperature"),
    fields=(
        REFRIGERANT,
        gauge_pressure("pressure", N_("Pressure"), N_("Pressure of the refrigerant, as the gauge reads it")),
        Field(
            "temperature", N_("Temperature"), N_("Temperature of the refrigerant, boiling or condensing"),
            quantity="temperature", low=LOWEST_TEMPERATURE_C, high=HIGHEST_TEMPERATURE_C, error="clamp",
        ),
        *SITE_FIELDS,
    ),
    needs=one_of("pressure", "temperature"),
    results=(
        Result("bubble_temperature", N_("Bubble temperature"), N_("Where the first vapour forms"), "temperature"),
        Result("dew_temperature", N_("Dew temperature"), N_("Where the last liquid goes"), "temperature"),
        Result("glide", N_("Glide"), N_("Dew minus bubble temperature at this pressure"), "temperature_difference"),
        Result("bubble_pressure", N_("Bubble pressure"), N_("Where the first vapour forms"), "pressure", reads="gauge"),
        Result("dew_pressure", N_("Dew pressure"), N_("Where the last liquid goes"), "pressure", reads="gauge"),
    ),
    function=saturation,
    explain=explain,
    sources=("CoolProp 8.0.0, equation of state of each refrigerant", "ASHRAE 34 and ISO 817 for designations"),
    order=10,
)  # fmt: skip
