"""The state of moist air: from dry bulb and one of wet bulb, relative humidity or dew point to all the others."""

from __future__ import annotations

from calc import moist_air as air
from calc.air import DEW_POINT, SOURCE, AirFields, air_fields, frozen_wick, ratio_of
from calc.declaration import Field, Result, Working, one_of
from calc.messages import N_, message
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.values import Values

NAMES = AirFields(dew_point="dew_point")
NEAR_FREEZING_K = 0.5  # either way of 0 °C a wick may be wet or frozen; common practice, no source
_DEFINED = f"{SOURCE}, equations 5, 6, 20, 22, 24, 26, 30, 33 and 35"


def moist_air(values: Values) -> dict[str, float | str]:
    """Wet bulb and dew point [°C], relative humidity [1], humidity ratio [kg/kg dry air], enthalpy [J/kg dry air],
    specific volume [m³/kg dry air] and vapour pressure [Pa].

    Source
        calc.moist_air
    """
    dry, pressure = values["dry_bulb"], values.site_pa
    ratio = ratio_of(values, NAMES)
    vapour = air.vapour_pressure_pa(ratio, pressure)
    dew = air.dew_point_c(vapour)
    if dew is None:
        raise values.refuse(
            NAMES.moisture(values), "outside_table",
            message(N_("Air as dry as that has its frost point below −100 °C, where the equations end")),
            message(N_("Check both readings: air of a building or outdoors is never so dry")),
        )  # fmt: skip
    return {
        "wet_bulb": values["wet_bulb"] if "wet_bulb" in values else _wet_bulb_c(values, ratio),
        "dew_point": dew,
        "relative_humidity": vapour / air.saturation_pressure_pa(dry),
        "humidity_ratio": ratio,
        "enthalpy": air.enthalpy(dry, ratio),
        "specific_volume": air.specific_volume(dry, ratio, pressure),
        "vapour_pressure": vapour,
    }


def _iced(values: Values) -> bool:
    """Whether the wick that a wet bulb is worked out for would be frozen; moves of the inputs do not thaw it."""
    still = values.moved({})
    return air.iced_at(still["dry_bulb"], ratio_of(still, NAMES), still.site_pa)


def _wet_bulb_c(values: Values, ratio: float) -> float:
    return air.wet_bulb_c(values["dry_bulb"], ratio, values.site_pa, iced=_iced(values))


def explain(telling: Telling) -> None:
    """The balance used, and what ice on the wick means for it."""
    _humidity(telling)
    telling.because(
        N_("enthalpy = 1.006 t + W (2501 + 1.86 t) kJ/kg of dry air, t in °C"),
        N_("{dry}, humidity ratio {ratio}: {enthalpy}"),
        f"{SOURCE}, equation 30",
        dry=telling.reading("dry_bulb"),
        ratio=telling.result("humidity_ratio"),
        enthalpy=telling.result("enthalpy"),
    )
    telling.because(
        N_("specific volume = 0.287042 T (1 + 1.607858 W) / p, per kilogram of dry air"),
        N_("{dry}, humidity ratio {ratio}, air pressure {pressure}: {volume}"),
        f"{SOURCE}, equation 26",
        dry=telling.reading("dry_bulb"),
        ratio=telling.result("humidity_ratio"),
        pressure=telling.absolute(telling.values.site_pa),
        volume=telling.result("specific_volume"),
    )
    telling.note(N_("Per kilogram or pound of dry air; Btu/lb counts from dry air at 0 °F, kJ/kg from dry air at 0 °C"))
    if telling.values["dry_bulb"] < 0.0:
        telling.note(N_("Below 0 °C relative humidity and dew point are meant over ice: many hygrometers mean water"))
    _wick(telling)


def _humidity(telling: Telling) -> None:
    values = telling.values
    moisture = NAMES.moisture(values)
    formula, equation = {
        "relative_humidity": (N_("vapour pressure = relative humidity × saturation pressure"), "equation 22"),
        "dew_point": (N_("vapour pressure = saturation pressure at the dew point"), "equations 5, 6 and 37"),
        "wet_bulb": (
            N_("humidity ratio from the heat that the wick takes from the air and gives to the water it loses"),
            "equations 33 (wet wick) and 35 (frozen wick)",
        ),
    }[moisture]
    telling.because(
        formula,
        N_("{dry} and {moist} at {pressure} absolute: vapour pressure {vapour}, humidity ratio {ratio}"),
        f"{SOURCE}, {equation}",
        dry=telling.reading("dry_bulb"),
        moist=telling.reading(moisture),
        pressure=telling.absolute(values.site_pa),
        vapour=telling.result("vapour_pressure"),
        ratio=telling.result("humidity_ratio"),
    )


def _wick(telling: Telling) -> None:
    values = telling.values
    if "wet_bulb" not in values:
        if "wick" in values:
            telling.note(N_("No wet bulb was given: what was said of the wick is not used"))
        if _iced(values):
            telling.note(N_("The wet bulb given is that of a frozen wick"))
        return
    if "wick" in values:
        return
    frozen = frozen_wick(values, NAMES)
    if frozen:
        telling.note(N_("Wet bulb below 0 °C: the wick is taken as frozen"))
    if abs(values["wet_bulb"]) > max(NEAR_FREEZING_K, telling.expanded("wet_bulb")):
        return
    other = air.ratio_at_wet_bulb(values["dry_bulb"], values["wet_bulb"], values.site_pa, iced=not frozen)
    if other > 0.0:
        saturated = air.saturation_pressure_pa(values["dry_bulb"])
        humidity = air.vapour_pressure_pa(other, values.site_pa) / saturated
        telling.note(
            N_("This near to freezing look at the wick: frozen and wet differ. Were it {state}, it is {humidity}"),
            state=N_("wet") if frozen else N_("frozen"),
            humidity=telling.amount(humidity, "ratio"),
        )


WORKING = Working(
    name="moist_air",
    title=N_("Moist air"),
    purpose=N_("State of air from dry bulb and wet bulb, relative humidity or dew point, at the site's air pressure"),
    fields=(
        *air_fields(),
        DEW_POINT,
        Field(
            "wick", N_("Wick"), N_("Whether the wick of the wet bulb is wet or frozen; below 0 °C frozen if not said"),
            shape="choice", choices=("wet", "frozen"), said=(N_("wet"), N_("frozen")),
        ),
        *SITE_FIELDS,
    ),
    needs=one_of("wet_bulb", "relative_humidity", "dew_point"),
    results=(
        Result("wet_bulb", N_("Wet bulb"), N_("What a wetted wick in moving air shows"), "temperature"),
        Result("dew_point", N_("Dew point"), N_("Where water settles, below 0 °C frost"), "temperature"),
        Result("relative_humidity", N_("Relative humidity"), N_("Of saturation at the dry bulb"), "ratio"),
        Result("humidity_ratio", N_("Humidity ratio"), N_("Water per dry air"), "humidity_ratio"),
        Result("enthalpy", N_("Enthalpy"), N_("Of the moist air, per dry air"), "air_enthalpy"),
        Result("specific_volume", N_("Specific volume"), N_("Of the moist air, per dry air"), "specific_volume"),
        Result("vapour_pressure", N_("Vapour pressure"), N_("Of the water in the air"), "pressure", reads="absolute"),
    ),
    function=moist_air,
    explain=explain,
    sources=(_DEFINED,),
    order=60,
)  # fmt: skip
