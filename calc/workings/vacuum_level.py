"""A vacuum in other units, and the temperature at which water would still boil or frost sublime in it."""

from __future__ import annotations

from calc.declaration import Field, Result, Working
from calc.messages import N_, message
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.values import Values
from calc.water import TRIPLE_PA, water_temperature_c

LOWEST_PA, HIGHEST_PA = 0.1, 125e3
LEAST_PA = 0.002
_SOURCE = "IAPWS R14-08 (2011), equation 6 (over ice); IAPWS-IF97 (2012), equation 31 (over liquid water)"


def vacuum_level(values: Values) -> dict[str, float | str]:
    """The pressure [Pa absolute] and the temperature [°C] at which water, or below 611.657 Pa ice, gives off vapour.

    Source
        IAPWS R14-08 (2011), equation 6; IAPWS-IF97 (2012), equation 31
    """
    pressure = values["pressure"]
    if pressure < LEAST_PA:
        raise values.refuse(
            "pressure", "impossible", message(N_("No vacuum is as deep as that")),
            message(N_("Read it on an absolute vacuum gauge, in micron or Pa")),
        )  # fmt: skip
    return {
        "pressure": pressure,
        "micron": pressure,
        "water_boiling_temperature": water_temperature_c(pressure),
        "water_phase": "ice" if pressure < TRIPLE_PA else "liquid",
    }


def explain(telling: Telling) -> None:
    """Which line was used, and what a temperature named from a vacuum is worth."""
    ice = telling["pressure"] < TRIPLE_PA
    telling.because(
        N_("temperature at which the vapour pressure over ice equals the pressure")
        if ice
        else N_("temperature at which the vapour pressure over liquid water equals the pressure"),
        N_("{pressure} gives {temperature}"),
        _SOURCE,
        pressure=telling.reading("pressure"),
        temperature=telling.result("water_boiling_temperature"),
    )
    if ice:
        telling.note(
            N_("Below the triple point (4588 micron, 611.657 Pa) the line is sublimation over ice, not boiling: frost")
        )
    telling.note(
        N_("A heat-conduction gauge is calibrated for air: a temperature named from a stall is a few kelvin uncertain")
    )


WORKING = Working(
    name="vacuum_level",
    title=N_("Vacuum level"),
    purpose=N_("A vacuum in other units, and the temperature at which water would still boil in it"),
    fields=(
        Field(
            "pressure", N_("Pressure"), N_("Absolute, from a vacuum gauge; or inHgv as a compound gauge reads"),
            quantity="pressure", low=LOWEST_PA, high=HIGHEST_PA, required=True, reads="vacuum", error="vacuum",
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result("pressure", N_("Pressure"), N_("Absolute pressure"), "pressure", reads="vacuum"),
        Result("micron", N_("Micron"), N_("The same in micron of mercury"), "pressure", own_unit="micron"),
        Result(
            "water_boiling_temperature", N_("Water boils at"),
            N_("Where liquid water boils, or below 611.657 Pa where ice gives off vapour"), "temperature",
        ),
        Result(
            "water_phase", N_("Water is"), N_("ice below the triple point, liquid above"), shape="text",
            words={"ice": N_("ice"), "liquid": N_("liquid water")},
        ),
    ),
    function=vacuum_level,
    explain=explain,
    sources=(_SOURCE, "1 micron = 101325/760000 Pa (conventional millimetre of mercury, NIST SP 811)"),
    cautions=(
        N_("Never start, megger or hi-pot a hermetic or scroll compressor under vacuum"),
    ),
    order=50,
)  # fmt: skip
