"""Refrigerant that a longer or shorter liquid line asks for, from the plate's figure or from its bore."""

from __future__ import annotations

from math import pi

from calc.declaration import Field, Result, Working, all_of, any_of
from calc.fields import REFRIGERANT, pipe_temperature
from calc.liquid import DENSITY_DOUBT, liquid_density, tell_density
from calc.messages import N_, Amount, message
from calc.telling import Telling
from calc.units import FAHRENHEIT_K
from calc.values import Values

USUAL_C = (100.0 - 32.0) * FAHRENHEIT_K
_GEOMETRY = "geometry: area of the bore × density of saturated liquid (tables made with CoolProp 8.0.0)"
_PLATE = "plate or installation manual; it holds over geometry, and runs 15 to 40 % above it (installation literature)"


def _bore_m(values: Values) -> float | None:
    """Bore of the liquid line [m], None where it was not given."""
    if "liquid_bore" in values:
        if "liquid_outside_diameter" in values or "wall" in values:
            other = "liquid_outside_diameter" if "liquid_outside_diameter" in values else "wall"
            raise values.refuse(
                other, "contradiction", message(N_("The bore is given, and outside diameter or wall too")),
                message(N_("Give the bore, or the outside diameter with the wall")),
            )  # fmt: skip
        return values["liquid_bore"]
    if "liquid_outside_diameter" not in values or "wall" not in values:
        return None
    bore = values["liquid_outside_diameter"] - 2.0 * values["wall"]
    if bore <= 0.0:
        raise values.refuse(
            "wall", "impossible",
            message(N_("Walls of {wall} leave no bore in a tube of {outside}"), wall=values.texts["wall"],
                    outside=values.texts["liquid_outside_diameter"]),
            message(N_("Check the wall and its unit: 3/8 in tube usually has 0.032 in")),
        )  # fmt: skip
    return bore


def line_set(values: Values) -> dict[str, float]:
    """Mass of liquid for each length of line [kg/m], and what to add for the length beyond that included [kg].

    by_geometry [kg/m]: the bore's area × density of liquid at its temperature, which a figure of the plate overrides.

    Source
        geometry; density: calc.saturation.density; plate over physics: installation literature
    """
    answer: dict[str, float] = {}
    bore = _bore_m(values)
    if bore is not None:
        at = values.number("liquid_temperature", USUAL_C)
        answer["by_geometry"] = liquid_density(values, at, "liquid_temperature") * pi / 4.0 * bore * bore
    per_length = values["plate_mass_per_length"] if "plate_mass_per_length" in values else answer["by_geometry"]
    beyond = values["length"] - values.number("included_length", 0.0)
    added = per_length * beyond - values.number("included_mass", 0.0)
    return {**answer, "mass_per_length": per_length, "added_mass": added}


def explain(telling: Telling) -> None:
    """Where the figure comes from, the sum, and what it leaves out."""
    values = telling.values
    plate = "plate_mass_per_length" in values
    if "by_geometry" in telling:
        _by_geometry(telling, plate)
    places: dict[str, str | Amount] = {
        "each": telling.result("mass_per_length"), "length": values.texts["length"],
        "included": values.texts.get("included_length", "0"), "allowance": values.texts.get("included_mass", "0"),
        "added": telling.result("added_mass"), "ounces": telling.frame.amount(telling["added_mass"], "mass", unit="oz"),
    }  # fmt: skip
    telling.because(
        N_("to add = mass per length × (length − length included) − mass included"),
        N_("{each} × ({length} − {included}) − {allowance} = {added} ({ounces})"),
        _PLATE if plate else _GEOMETRY,
        **places,
    )
    added, band = telling["added_mass"], telling.expanded("added_mass")
    if added + band < 0:
        telling.note(N_("Negative: the line is shorter than the charge allows for; recover {mass}"),
                     mass=telling.amount(-added, "mass"))  # fmt: skip
    if "included_length" not in values and "included_mass" not in values:
        telling.note(N_("No length included by the factory was given: the whole line is counted"))
    telling.note(N_("Installed charge is plate charge + this + accessories (drier, receiver, coil); more is a stop"))
    telling.note(N_("Beyond the longest line the maker allows: ask for oil and for the maker's table"))
    telling.note(N_("What stays in the hoses counts; vapour in the suction line is not counted"))


def _by_geometry(telling: Telling, plate: bool) -> None:
    values = telling.values
    at, bore = values.number("liquid_temperature", USUAL_C), _bore_m(values)
    assert bore is not None
    telling.because(
        N_("mass per length = density of the liquid × π/4 × bore²"),
        N_("{refrigerant} at {temperature}: {density} kg/m³; bore {bore}: {each}"),
        _GEOMETRY,
        refrigerant=values.refrigerant.designation, temperature=telling.amount(at, "temperature"),
        density=f"{liquid_density(values, at, 'liquid_temperature'):.0f}",
        bore=telling.frame.amount(bore, "length", unit="in" if telling.frame.system == "us" else "mm"),
        each=telling.result("by_geometry", "mass_per_length"),
    )  # fmt: skip
    if "liquid_temperature" not in values:
        telling.note(N_("Liquid taken at 100 °F (37.8 °C)"))
    if plate:
        share = values["plate_mass_per_length"] / telling["by_geometry"] - 1.0
        telling.note(
            N_("By geometry it would be {each}; the plate's figure holds and is {share} % {way}"),
            each=telling.result("by_geometry", "mass_per_length"), share=f"{abs(100 * share):.0f}",
            way=N_("higher") if share >= 0 else N_("lower"),
        )  # fmt: skip
    else:
        telling.note(N_("Geometry only: a figure on the plate or in the manual holds over it, and is usually higher"))
    tell_density(telling)


WORKING = Working(
    name="line_set",
    title=N_("Line set"),
    purpose=N_("Refrigerant to add for a longer liquid line, or to take out for a shorter one"),
    fields=(
        REFRIGERANT,
        Field(
            "liquid_outside_diameter", N_("Liquid line, outside"), N_("Outside diameter of the liquid line's tube"),
            quantity="length", low=3e-3, high=0.2,
        ),
        Field("wall", N_("Wall"), N_("Thickness of the tube's wall"), quantity="length", low=3e-4, high=0.01),
        Field(
            "liquid_bore", N_("Liquid line, bore"), N_("Inside diameter of the tube"), quantity="length", low=2e-3,
            high=0.2,
        ),
        Field(
            "length", N_("Length"), N_("Length of the liquid line as laid, bends included"), quantity="length",
            low=0.0, high=1000.0, required=True,
        ),
        Field(
            "included_length", N_("Length included"), N_("Length the factory charge allows for, from the plate"),
            quantity="length", low=0.0, high=1000.0,
        ),
        Field(
            "included_mass", N_("Mass included"), N_("Mass the factory charge holds for the line, where given as mass"),
            quantity="mass", low=0.0, high=1000.0,
        ),
        pipe_temperature(
            "liquid_temperature", N_("Liquid temperature"), N_("Of the liquid line, running (100 °F where not given)")
        ),
        Field(
            "plate_mass_per_length", N_("Plate figure"), N_("Mass for each length, from the plate or the manual"),
            quantity="mass_per_length", low=1e-4, high=50.0,
        ),
    ),
    needs=any_of("plate_mass_per_length", "liquid_bore", all_of("liquid_outside_diameter", "wall")),
    results=(
        Result("mass_per_length", N_("Mass per length"), N_("Liquid in each length of line"), "mass_per_length"),
        Result("added_mass", N_("To add"), N_("Beyond the factory charge; negative is to be taken out"), "mass"),
    ),
    function=line_set,
    explain=explain,
    sources=(_GEOMETRY, _PLATE),
    cautions=(
        N_("Weigh in liquid into the high side with the compressor off; never a slug into suction"),
        N_("Refrigerant under pressure: eye protection and gloves; a licensed person charges"),
    ),
    own_doubts=(DENSITY_DOUBT,),
    order=140,
)  # fmt: skip
