"""Airflow from an electric heater: its power and by how much it warms the air."""

from __future__ import annotations

from math import sqrt

from calc.air import SOURCE
from calc.declaration import Field, Result, Working, all_of, one_of
from calc.messages import N_
from calc.moist_air import CP_DRY_AIR, CP_VAPOUR, STANDARD_DENSITY, specific_volume
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.uncertainty import Origin, from_limit
from calc.values import Values

USUAL_ENTERING_C, USUAL_LIMIT_K = 21.0, 6.0
MOST_HUMIDITY = 0.012
HUMIDITY, ENTERING = "assumed:humidity", "assumed:entering_dry_bulb"
_BALANCE = "heat balance of the air; common practice of the trade, no source"
_STANDARD = "standard air of ASHRAE Handbook—Fundamentals (2017), chapter 18: 0.075 lb/ft³ (from memory)"


def _heat_w(values: Values) -> float:
    """Heat given to the air [W]: the heater's, and the blower's where it was given."""
    if "power" in values:
        heater = values["power"]
    else:
        heater = values["voltage"] * values["current"] * (sqrt(3.0) if values.word("phases") == "3" else 1.0)
    return heater + values.number("blower_power", 0.0)


def heater_airflow(values: Values) -> dict[str, float]:
    """Flow of dry air [kg/s], and the airflow that is [m³/s]: actual at the entering air, and as standard air.

    Source
        heat balance of the air with the heat capacity of ASHRAE Handbook—Fundamentals (2017), chapter 1, equation 30
    """
    humidity = values.doubt(HUMIDITY)
    heat = CP_DRY_AIR + CP_VAPOUR * humidity
    entering = values.number("entering_dry_bulb", USUAL_ENTERING_C + values.doubt(ENTERING))
    power = _heat_w(values)
    mass_flow = power / (heat * values["temperature_rise"])
    return {
        "airflow": mass_flow * specific_volume(entering, humidity, values.site_pa),
        "standard_airflow": mass_flow / STANDARD_DENSITY,
        "mass_flow": mass_flow,
        "heat": power,
    }


def explain(telling: Telling) -> None:
    """The balance, what was assumed of the air, and which heat is not counted."""
    values = telling.values
    _power(telling)
    telling.because(
        N_("flow of dry air = heat ÷ (1.006 kJ/(kg·K) × temperature rise)"),
        N_("{heat} and a rise of {rise}: {flow}"),
        f"{_BALANCE}; heat capacity: {SOURCE}, equation 30",
        heat=telling.result("heat", "power"),
        rise=telling.reading("temperature_rise"),
        flow=telling.result("mass_flow"),
    )
    telling.because(
        N_("airflow = flow of dry air × specific volume of the entering air; as standard air ÷ 0.075 lb/ft³"),
        N_("{flow} at {pressure} absolute: {airflow}, as standard air {standard}"),
        f"{SOURCE}, equation 26; {_STANDARD}",
        flow=telling.result("mass_flow"),
        pressure=telling.absolute(values.site_pa),
        airflow=telling.result("airflow"),
        standard=telling.result("standard_airflow"),
    )
    telling.note(N_("Dry air taken; moisture up to 0.012 kg/kg would lower the figure by up to 2 %: part of the ±"))
    if "entering_dry_bulb" not in values:
        telling.note(
            N_("Entering air taken as {temperature} ± {limit}: give its dry bulb"),
            temperature=telling.amount(USUAL_ENTERING_C, "temperature"),
            limit=telling.amount(USUAL_LIMIT_K, "temperature_difference"),
        )
    if "blower_power" not in values:
        telling.note(N_("Heat of the blower not counted: with it the airflow is larger"))
    telling.note(
        N_("Heater alone on, compressor off, 10 minutes steady; supply read out of sight of the heater, in mixed air")
    )
    telling.taken_as_exact("power", "voltage", "current", "blower_power")


def _power(telling: Telling) -> None:
    values = telling.values
    if "power" in values:
        return
    three = values.word("phases") == "3"
    telling.because(
        N_("power = √3 × voltage × current (three phases, power factor 1)") if three
        else N_("power = voltage × current (power factor 1)"),
        N_("{voltage} × {current}, with the blower {heat}") if "blower_power" in values
        else N_("{voltage} × {current} = {heat}"),
        "definition of electric power; a resistance heater has power factor 1",
        voltage=telling.reading("voltage"),
        current=telling.reading("current"),
        heat=telling.result("heat", "power"),
    )  # fmt: skip
    if "phases" not in values:
        telling.note(N_("One phase taken; say 3 where the heater is on three"))


WORKING = Working(
    name="heater_airflow",
    title=N_("Airflow by electric heater"),
    purpose=N_("Airflow from the power of an electric heater and the temperature rise across it"),
    fields=(
        Field(
            "power", N_("Heater power"), N_("Electric power of the heater, measured, not from its plate"),
            quantity="power", low=10.0, high=1e6,
        ),
        Field("voltage", N_("Voltage"), N_("Across the heater"), quantity="voltage", low=1.0, high=1000.0),
        Field("current", N_("Current"), N_("Of the heater, every element"), quantity="current", low=0.05, high=1000.0),
        Field(
            "phases", N_("Phases"), N_("Of the heater's supply; three: line-to-line voltage and line current"),
            shape="choice", choices=("1", "3"), said=(N_("one"), N_("three")),
        ),
        Field(
            "temperature_rise", N_("Temperature rise"), N_("Supply minus return dry bulb with only the heater on"),
            quantity="temperature_difference", low=1.0, high=80.0, required=True, error="air_difference",
        ),
        Field(
            "entering_dry_bulb", N_("Entering dry bulb"), N_("Temperature of the return air, for the actual volume"),
            quantity="temperature", low=-40.0, high=60.0, error="air",
        ),
        Field(
            "blower_power", N_("Blower power"), N_("Electric power of the blower, where it sits in the same air"),
            quantity="power", low=0.0, high=1e5,
        ),
        *SITE_FIELDS,
    ),
    needs=one_of("power", all_of("voltage", "current")),
    results=(
        Result("airflow", N_("Airflow"), N_("Actual volume at the entering air"), "volume_flow"),
        Result(
            "standard_airflow", N_("Standard airflow"), N_("The same mass as air of 0.075 lb/ft³"),
            "standard_volume_flow",
        ),
        Result("mass_flow", N_("Flow of dry air"), N_("Mass of dry air a time"), "mass_flow"),
    ),
    function=heater_airflow,
    explain=explain,
    sources=(_BALANCE, _STANDARD, SOURCE),
    cautions=(
        N_(
            "Live parts: only who is qualified measures on them, with a meter rated for the place; "
            "local codes and the licence hold"
        ),
        N_("Never run an electric heater without its blower"),
    ),
    own_doubts=(
        Origin(HUMIDITY, {HUMIDITY: from_limit(MOST_HUMIDITY)}),
        Origin(ENTERING, {ENTERING: from_limit(USUAL_LIMIT_K)}),
    ),
    order=64,
)  # fmt: skip
