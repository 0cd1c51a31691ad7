"""What a coil does to air: total, sensible and latent capacity from airflow and the air before and after it."""

from __future__ import annotations

from calc.air import SOURCE, AirFields, air_fields, ratio_of
from calc.declaration import Field, Result, Working, all_of, one_of
from calc.messages import N_
from calc.moist_air import CP_DRY_AIR, CP_VAPOUR, STANDARD_DENSITY, VAPORIZATION_0C, enthalpy, specific_volume
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.units import BTU_J, FAHRENHEIT_K, named_unit
from calc.values import Values

ENTERING = AirFields("entering_dry_bulb", "entering_wet_bulb", "entering_relative_humidity")
LEAVING = AirFields("leaving_dry_bulb", "leaving_wet_bulb", "leaving_relative_humidity")
_BALANCE = "air enthalpy method of ANSI/ASHRAE 37-2009, heat of the condensate left out (from memory)"
_STANDARD = "standard air of ASHRAE Handbook—Fundamentals (2017), chapter 18: 0.075 lb/ft³ (from memory)"


def air_side(values: Values) -> dict[str, float]:
    """Capacities [W], positive where the air loses heat (cooling), and the flow of dry air [kg/s].

    The airflow is the actual volume at the entering state, or standard air if it was typed so. Sensible and latent add
    up to the total: the sensible part is taken at the mean humidity, the latent part at the mean temperature.

    Source
        ANSI/ASHRAE 37-2009, air enthalpy method; states by calc.moist_air
    """
    dry_in, dry_out = values["entering_dry_bulb"], values["leaving_dry_bulb"]
    wet_in, wet_out = ratio_of(values, ENTERING), ratio_of(values, LEAVING)
    volume = specific_volume(dry_in, wet_in, values.site_pa)
    density = STANDARD_DENSITY if "airflow" in values.standard else 1.0 / volume
    mass_flow = values["airflow"] * density
    heat = CP_DRY_AIR + CP_VAPOUR * (wet_in + wet_out) / 2.0
    vaporization = VAPORIZATION_0C + CP_VAPOUR * (dry_in + dry_out) / 2.0
    total = mass_flow * (enthalpy(dry_in, wet_in) - enthalpy(dry_out, wet_out))
    sensible = mass_flow * heat * (dry_in - dry_out)
    return {
        "total_capacity": total,
        "sensible_capacity": sensible,
        "latent_capacity": mass_flow * vaporization * (wet_in - wet_out),
        "mass_flow": mass_flow,
        "density": density,
        "heat": heat,
        "fall": enthalpy(dry_in, wet_in) - enthalpy(dry_out, wet_out),
        "ratio": sensible / total if total else 0.0,
        "dried": wet_in - wet_out,
    }


def explain(telling: Telling) -> None:
    """The factors that this air has in place of the usual ones, and what cannot be told apart from nothing."""
    values = telling.values
    standard = "airflow" in values.standard
    telling.because(
        N_("flow of dry air = airflow × 0.075 lb/ft³ (1.201 kg/m³), the airflow being standard air")
        if standard
        else N_("flow of dry air = airflow ÷ specific volume of the entering air"),
        N_("{airflow}, entering {dry} and {moist} at {pressure} absolute: {flow}"),
        _STANDARD if standard else f"{SOURCE}, equation 26",
        airflow=values.texts["airflow"],
        dry=telling.reading(ENTERING.dry_bulb),
        moist=telling.reading(ENTERING.moisture(values)),
        pressure=telling.absolute(values.site_pa),
        flow=telling.result("mass_flow"),
    )
    telling.because(
        N_("total capacity = flow of dry air × (entering − leaving enthalpy)"),
        N_("{flow}, enthalpy falls by {fall}: {total}"),
        f"{_BALANCE}; enthalpy: {SOURCE}, equation 30",
        flow=telling.result("mass_flow"),
        fall=_enthalpy_fall(telling),
        total=telling.result("total_capacity"),
    )
    telling.because(
        N_("sensible capacity = factor × airflow × (entering − leaving dry bulb); latent = total − sensible"),
        N_("this air's factors: {sensible} sensible, {total} total; sensible {figure}, latent {latent}"),
        f"{_BALANCE}; the usual factors are those of dry standard air: 1.08 and 4.5 in US units, 1.21 and 1.20 in SI",
        sensible=_sensible_factor(telling),
        total=_total_factor(telling),
        figure=telling.result("sensible_capacity"),
        latent=telling.result("latent_capacity"),
    )
    telling.note(N_("Positive where the air is cooled, negative where it is heated"))
    if standard:
        telling.note(N_("Airflow taken as standard air (0.075 lb/ft³): its mass does not depend on the site"))
    else:
        telling.note(N_("Airflow taken as the actual volume at the entering air; standard air is written scfm or sL/s"))
    telling.taken_as_exact("airflow")
    _share(telling)
    if telling["dried"] < 0.0 < telling["sensible_capacity"] and -telling["dried"] > telling.expanded("dried"):
        telling.note(
            N_("The air leaves moister than it came: doubt the readings (places, wick, not steady) or look for water")
        )


def _share(telling: Telling) -> None:
    if abs(telling["total_capacity"]) > telling.expanded("total_capacity"):
        telling.publish("sensible_heat_ratio", telling["ratio"], telling.contributions["ratio"])
    else:
        telling.note(N_("Total capacity cannot be told from zero: no sensible heat ratio"))


def _in_us(telling: Telling) -> bool:
    return telling.frame.unit("volume_flow").system == "us"


def _enthalpy_fall(telling: Telling) -> str:
    fall = telling["fall"]
    if _in_us(telling):
        return f"{fall / named_unit('Btu/lb', 'air_enthalpy').scale:.2f} Btu/lb"
    return f"{fall / 1000:.2f} kJ/kg"


def _sensible_factor(telling: Telling) -> str:
    """Heat [W] per flow [m³/s] and kelvin, in the units of the trade."""
    factor = telling["density"] * telling["heat"]
    if _in_us(telling):
        per_hour = factor * named_unit("cfm", "volume_flow").scale * FAHRENHEIT_K * 3600 / BTU_J
        return f"{per_hour:.3f} Btu/(h·cfm·°F)"
    return f"{factor / 1000:.3f} W/(L/s·K)"


def _total_factor(telling: Telling) -> str:
    """Heat per flow and enthalpy: the flow of dry air that goes with a flow of air."""
    density = telling["density"]
    if _in_us(telling):
        per_hour = density * named_unit("cfm", "volume_flow").scale / named_unit("lb/h", "mass_flow").scale
        return f"{per_hour:.3f} lb/(h·cfm)"
    return f"{density:.3f} kg/m³"


_MOISTURE_BEFORE = one_of(ENTERING.wet_bulb, ENTERING.relative_humidity)
_MOISTURE_AFTER = one_of(LEAVING.wet_bulb, LEAVING.relative_humidity)

WORKING = Working(
    name="air_side",
    title=N_("Air side"),
    purpose=N_("Total, sensible and latent capacity of a coil from airflow and the air before and after it"),
    fields=(
        Field(
            "airflow", N_("Airflow"),
            N_("Actual volume at the entering air, in cfm or L/s; scfm or sL/s where it is standard air"),
            quantity="volume_flow", low=0.001, high=1000.0, required=True,
        ),
        *air_fields("entering", N_("Entering dry bulb"), N_("Entering wet bulb"), N_("Entering relative humidity")),
        *air_fields("leaving", N_("Leaving dry bulb"), N_("Leaving wet bulb"), N_("Leaving relative humidity")),
        *SITE_FIELDS,
    ),
    needs=all_of(_MOISTURE_BEFORE, _MOISTURE_AFTER),
    results=(
        Result("total_capacity", N_("Total capacity"), N_("Heat the air loses; negative if it gains"), "power"),
        Result("sensible_capacity", N_("Sensible capacity"), N_("The part that changes its temperature"), "power"),
        Result("latent_capacity", N_("Latent capacity"), N_("The part that dries it"), "power"),
        Result("sensible_heat_ratio", N_("Sensible heat ratio"), N_("Sensible of total"), "ratio"),
        Result("mass_flow", N_("Flow of dry air"), N_("Mass of dry air a time"), "mass_flow"),
    ),
    function=air_side,
    explain=explain,
    sources=(_BALANCE, _STANDARD, SOURCE),
    cautions=(N_("Turning blades and live parts behind panels: isolate before a probe goes in; local codes apply"),),
    order=62,
)  # fmt: skip
