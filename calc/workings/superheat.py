"""Superheat of the suction vapour: how far above its dew temperature it is."""

from __future__ import annotations

from calc.contradictions import check_suction_below
from calc.declaration import Field, Result, Working
from calc.fields import REFRIGERANT, gauge_pressure, line_drop, pipe_temperature, target_and_tolerance
from calc.messages import N_
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.units import FAHRENHEIT_K
from calc.values import Values

TOLERANCE_K = 5 * FAHRENHEIT_K
MODULATING_LOW_K, MODULATING_HIGH_K = 4 * FAHRENHEIT_K, 25 * FAHRENHEIT_K
DOUBTED_BELOW_K = -2 * FAHRENHEIT_K
_SOURCE = "definition: common practice, no source; dew temperature: tables made with CoolProp 8.0.0"
_RULE = "California 2008 Residential Appendix RA3, RA3.2: ± 5 °F of target; modulating valve 4 to 25 °F"


def _at_evaporator(values: Values) -> bool:
    """Where the temperature was taken: as said, else at the compressor unless a line drop was given."""
    default = "evaporator_outlet" if "suction_line_drop" in values else "compressor_inlet"
    return values.word("suction_at", default) == "evaporator_outlet"


def _pressure_pa(values: Values) -> float:
    """Suction pressure where the temperature was taken."""
    return values["suction_pressure"] + (values.number("suction_line_drop", 0.0) if _at_evaporator(values) else 0.0)


def superheat(values: Values) -> dict[str, float | str]:
    """Dew temperature [°C] at the place of the temperature reading, and superheat [K] above it.

    The pressure is read at the compressor; at the evaporator's outlet it is higher by the suction line's drop [Pa].
    Superheat below zero means liquid in the vapour, or a wrong reading.

    Source
        definition: common practice, no source; dew temperature: calc.saturation
    """
    check_suction_below(values, "suction_pressure", "liquid_pressure", blame="suction_pressure")
    evaporator = _at_evaporator(values)
    dew = values.dew_temperature_c(_pressure_pa(values), "suction_pressure")
    answer: dict[str, float | str] = {
        "dew_temperature": dew,
        "superheat": values["suction_temperature"] - dew,
        "superheat_kind": "evaporator" if evaporator else "total",
    }
    if "target" in values:
        answer["miss"] = values["suction_temperature"] - dew - values["target"]
    return answer


def explain(telling: Telling) -> None:
    """Why, verdict against the target, and what a low or negative figure means."""
    values = telling.values
    evaporator = _at_evaporator(values)
    telling.because(
        N_("superheat = suction temperature − dew temperature at the suction pressure"),
        N_("{temperature} − {dew} ({refrigerant}, dew at {pressure} absolute) = {superheat}"),
        _SOURCE,
        temperature=telling.reading("suction_temperature"),
        dew=telling.result("dew_temperature"),
        refrigerant=values.refrigerant.designation,
        pressure=telling.absolute(_pressure_pa(values)),
        superheat=telling.result("superheat"),
    )
    if "suction_at" not in values:
        place = N_("evaporator outlet") if evaporator else N_("compressor inlet")
        telling.note(N_("Place not stated: taken as read at the {place}"), place=place)
    if "suction_line_drop" in values and not evaporator:
        telling.note(N_("Pressure and temperature both at the compressor inlet: the suction line's drop is not used"))
    _low(telling)
    _verdict(telling)
    telling.tables("dew", at_c=telling["dew_temperature"])


def _low(telling: Telling) -> None:
    """Superheat near or below zero."""
    values, value, band = telling.values, telling["superheat"], telling.expanded("superheat")
    shown = telling.result("superheat")
    if value - band > 0:
        return
    if value >= 0:
        telling.note(
            N_("Superheat {superheat} cannot be told from zero: liquid may be reaching this point"), superheat=shown
        )
        return
    bubble = values.bubble_temperature_c(_pressure_pa(values), "suction_pressure")
    if values["suction_temperature"] >= bubble - band:
        telling.note(
            N_("Wet suction: {temperature} is below the dew temperature, so liquid is reaching this point"),
            temperature=telling.reading("suction_temperature"),
        )
    else:
        telling.note(
            N_(
                "{temperature} is below saturation: doubt the reading first (clamp loose or not insulated, "
                "wrong refrigerant chosen, not steady)"
            ),
            temperature=telling.reading("suction_temperature"),
        )
    if value < DOUBTED_BELOW_K:
        _other_reading(telling)


def _other_reading(telling: Telling) -> None:
    """What the superheat would be had a gauge pressure been an absolute one."""
    values = telling.values
    other = _pressure_pa(values) - values.site_pa
    if (
        "suction_pressure" not in values.gauged
        or not values.refrigerant.dew.p_low_pa <= other <= values.refrigerant.dew.p_high_pa
    ):
        return
    instead = values["suction_temperature"] - values.dew_temperature_c(other, "suction_pressure")
    if instead > telling["superheat"]:
        telling.note(
            N_(
                "The pressure may be absolute: superheat is {superheat} as typed, and would be {instead} "
                "if {given} were an absolute pressure"
            ),
            superheat=telling.result("superheat"),
            instead=telling.amount(instead, "temperature_difference"),
            given=values.texts["suction_pressure"],
        )


def _verdict(telling: Telling) -> None:
    values = telling.values
    modulating = values.word("metering") == "modulating"
    if modulating and not ("target" in values and "tolerance" in values):
        if "target" in values:
            telling.note(
                N_("Modulating valve: judged against 4 to 25 °F; give a tolerance to judge against the target")
            )
        telling.judge("superheat", MODULATING_LOW_K, MODULATING_HIGH_K)
    elif "target" in values:
        target, tolerance = values["target"], values.number("tolerance", TOLERANCE_K)
        if "tolerance" not in values:
            telling.note(N_("Tolerance assumed: 5 °F (2.8 K) either way"))
        telling.judge("superheat", target - tolerance, target + tolerance, telling.contributions["miss"])
    else:
        return
    telling.why_judged("superheat", _RULE)


WORKING = Working(
    name="superheat",
    title=N_("Superheat"),
    purpose=N_("How far suction vapour is above its dew temperature, against what it should be"),
    fields=(
        REFRIGERANT,
        gauge_pressure(
            "suction_pressure", N_("Suction pressure"), N_("Suction pressure at the compressor, as the gauge reads it"),
            required=True,
        ),
        pipe_temperature(
            "suction_temperature", N_("Suction line temperature"),
            N_("Temperature of the suction line, clamp insulated from the air"), required=True,
        ),
        Field(
            "suction_at", N_("Taken at"), N_("Where the suction temperature was taken"), shape="choice",
            choices=("evaporator_outlet", "compressor_inlet"), said=(N_("evaporator outlet"), N_("compressor inlet")),
        ),
        line_drop(
            "suction_line_drop", N_("Suction line drop"),
            N_("Pressure lost in the suction line, where the temperature was taken at the evaporator outlet"),
        ),
        Field(
            "metering", N_("Metering device"), N_("Fixed (piston, capillary tube) or modulating (expansion valve)"),
            shape="choice", choices=("fixed", "modulating"), said=(N_("fixed"), N_("modulating")),
        ),
        *target_and_tolerance(
            N_("Superheat it should have, from the plate or the table"),
            N_("How far superheat may miss the target, either way (5 °F where not given)"),
        ),
        gauge_pressure(
            "liquid_pressure", N_("Liquid pressure"),
            N_("High-side pressure read at the same time, to check the suction pressure against"),
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result("dew_temperature", N_("Dew temperature"), N_("Where the last liquid is gone"), "temperature"),
        Result(
            "superheat", N_("Superheat"), N_("Suction minus dew temperature; negative is wet or wrong"),
            "temperature_difference",
        ),
        Result(
            "superheat_kind", N_("Kind"), N_("evaporator: at its outlet; total: at the compressor"), shape="text",
            words={"evaporator": N_("evaporator superheat"), "total": N_("total superheat")},
        ),
    ),
    function=superheat,
    explain=explain,
    sources=(_SOURCE, _RULE),
    cautions=(N_("Refrigerant under pressure: eye protection and gloves when hoses go on or off; local codes apply"),),
    order=20,
)  # fmt: skip
