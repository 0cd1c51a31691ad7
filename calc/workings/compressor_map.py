"""A compressor's map: the ten coefficients of its maker evaluated at two dew temperatures, for the suction it has."""

from __future__ import annotations

from calc.declaration import Field, Result, Working
from calc.errors import Fault, Refused
from calc.fields import HIGHEST_TEMPERATURE_C, LOWEST_TEMPERATURE_C, pipe_temperature
from calc.messages import N_, message
from calc.telling import Telling
from calc.uncertainty import Origin, from_limit
from calc.units import FAHRENHEIT_K, FAHRENHEIT_ZERO_C, ZERO_C_K, find_unit
from calc.values import Values

VOLUMETRIC_FRACTION = 0.75
VAPOUR_EXPONENT, EXPONENT_LIMIT = 1.4, 0.4
VAPOUR = "assumed:vapour"
_MAP = "ANSI/AHRI 540, form of ten coefficients, both temperatures dew temperatures"
_SUPERHEAT = "volumetric-fraction correction of mass flow as open compressor models use it with AHRI 540 maps, F 0.75"
_VOLUME = "vapour volume taken as (absolute temperature)^(1.4 ± 0.4): spread of common refrigerants in CoolProp 8.0.0"


def polynomial(coefficients: tuple[float, ...], suction: float, discharge: float) -> float:
    """The map: ten coefficients at suction and discharge dew temperature, both in the unit the map was made for.

    Source
        ANSI/AHRI 540
    Example
        >>> polynomial((1.0, 2.0, 3.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0), 10.0, 2.0)
        35.0
    """
    c1, c2, c3, c4, c5, c6, c7, c8, c9, c10 = coefficients
    s, d = suction, discharge
    lower = c1 + c2 * s + c3 * d + c4 * s * s + c5 * s * d + c6 * d * d
    return lower + c7 * s**3 + c8 * d * s * s + c9 * s * d * d + c10 * d**3


def compressor_map(values: Values) -> dict[str, float]:
    """What the map gives (as its coefficients do), a mass flow corrected for the temperature of the suction vapour.

    Source
        ANSI/AHRI 540: X = C1 + C2·S + C3·D + C4·S² + C5·S·D + C6·D² + C7·S³ + C8·D·S² + C9·S·D² + C10·D³
    """
    suction, discharge = values["suction_dew_temperature"], values["discharge_dew_temperature"]
    if values.numbers["suction_dew_temperature"] >= values.numbers["discharge_dew_temperature"]:
        raise values.refuse(
            "suction_dew_temperature", "contradiction",
            message(N_("The suction's dew temperature is not below the discharge's, {discharge}"),
                    discharge=values.texts["discharge_dew_temperature"]),
            message(N_("Check that the two were not swapped, and each one's unit")),
        )  # fmt: skip
    if "rated_superheat" in values and "rated_return_temperature" in values:
        raise values.refuse(
            "rated_return_temperature", "contradiction",
            message(N_("The map's suction vapour is given twice, by superheat and by return gas temperature")),
            message(N_("Give the one that is printed with the map")),
        )  # fmt: skip
    coefficients = tuple(values[f"coefficients.{row}"] for row in range(10))
    by_map = polynomial(coefficients, *(_in_map_unit(values, t) for t in (suction, discharge)))
    if by_map <= 0.0:
        raise values.refuse(
            "coefficients", "outside_table",
            message(N_("The map gives {value} there: these temperatures are outside what it was made for"),
                    value=f"{by_map:.4g}"),
            message(N_("Check the ten coefficients and their order, the unit they take, and both dew temperatures")),
        )  # fmt: skip
    return {"value": by_map * _correction(values), "by_map": by_map}


def _in_map_unit(values: Values, temperature_c: float) -> float:
    if values.word("coefficients_in") == "F":
        return (temperature_c - FAHRENHEIT_ZERO_C) / FAHRENHEIT_K
    return temperature_c


def _is_mass_flow(values: Values) -> bool:
    """Whether the map's figure is a mass flow: by its unit; taken so where none was given."""
    unit = values.word("value_unit")
    return not unit or find_unit(unit, "mass_flow") is not None


def _rated_suction_c(values: Values) -> float:
    """Temperature of the suction vapour [°C] that the map was made with."""
    if "rated_return_temperature" in values:
        return values["rated_return_temperature"]
    return values["suction_dew_temperature"] + values["rated_superheat"]


def _correction(values: Values) -> float:
    """Mass flow with the actual suction vapour over that with the map's; 1 where nothing is to be corrected."""
    if "actual_suction_temperature" not in values or not _is_mass_flow(values):
        return 1.0
    if "rated_superheat" not in values and "rated_return_temperature" not in values:
        raise Refused(
            [
                Fault(
                    "rated_superheat", "", "missing", message(N_("What the map's suction vapour was is not given")),
                    message(N_("Give the rated superheat or the rated return gas temperature printed with the map")),
                )
            ]
        )  # fmt: skip
    still = values.moved({})
    for name, temperature_c in (
        ("actual_suction_temperature", still["actual_suction_temperature"]),
        ("rated_return_temperature", _rated_suction_c(still)),
    ):
        if temperature_c < still["suction_dew_temperature"]:
            raise _wet(values, name)
    ratio = (_rated_suction_c(values) + ZERO_C_K) / (values["actual_suction_temperature"] + ZERO_C_K)
    fraction = values.number("volumetric_fraction", VOLUMETRIC_FRACTION)
    volumes: float = ratio ** (VAPOUR_EXPONENT + values.doubt(VAPOUR))
    return 1.0 + fraction * (volumes - 1.0)


def _wet(values: Values, name: str) -> Refused:
    return values.refuse(
        name, "contradiction",
        message(N_("{given} is below the suction's dew temperature: that suction is wet"), given=values.texts[name]),
        message(N_("Check the temperature and the dew temperature; a map does not hold for wet suction")),
    )  # fmt: skip


def explain(telling: Telling) -> None:
    """The polynomial, the correction, and what the map's figure is worth."""
    values = telling.values
    unit = values.word("value_unit")
    telling.tell_number("value", unit)
    degree = "°F" if values.word("coefficients_in") == "F" else "°C"
    telling.because(
        N_("X = C1 + C2·S + C3·D + C4·S² + C5·S·D + C6·D² + C7·S³ + C8·D·S² + C9·S·D² + C10·D³"),
        N_("S {suction} and D {discharge} (dew), in {degree}: {value}"),
        _MAP,
        suction=telling.reading("suction_dew_temperature"),
        discharge=telling.reading("discharge_dew_temperature"),
        degree=degree,
        value=f"{telling['by_map']:.5g} {unit}".strip(),
    )
    telling.note(N_("Both are dew temperatures, at the compressor: for a blend neither bubble nor mean temperatures"))
    telling.note(N_("The maker's own doubt about the map is not in the ±; it does not hold outside the printed range"))
    _told_correction(telling)
    telling.taken_as_exact("suction_dew_temperature", "discharge_dew_temperature")


def _told_correction(telling: Telling) -> None:
    values = telling.values
    if not _is_mass_flow(values):
        if "actual_suction_temperature" in values:
            telling.note(
                N_("Not a mass flow: left as the map gives it (power changes little with the suction's superheat)")
            )
        return
    if "actual_suction_temperature" not in values:
        telling.note(N_("Holds for the suction vapour of the map: give the actual suction temperature to correct it"))
        return
    if not values.word("value_unit"):
        telling.note(N_("No unit given: taken as a mass flow and corrected for the suction's temperature"))
    if "volumetric_fraction" not in values:
        telling.note(N_("Volumetric fraction assumed: 0.75"))
    telling.because(
        N_("mass flow × (1 + F·(volume at the map's suction ÷ volume at the actual suction − 1))"),
        N_("F {fraction}, map's suction {rated}, actual {actual}: × {factor}"),
        f"{_SUPERHEAT}; {_VOLUME}",
        fraction=f"{values.number('volumetric_fraction', VOLUMETRIC_FRACTION):g}",
        rated=telling.amount(_rated_suction_c(values), "temperature"),
        actual=telling.reading("actual_suction_temperature"),
        factor=f"{telling['value'] / telling['by_map']:.4f}",
    )
    telling.note(
        N_("The vapour's volume is estimated without tables; near the critical point (R-744) it is further off")
    )


def _dew(name: str, label: str, help: str) -> Field:
    return Field(
        name, label, help, quantity="temperature", low=LOWEST_TEMPERATURE_C, high=HIGHEST_TEMPERATURE_C, required=True
    )


WORKING = Working(
    name="compressor_map",
    title=N_("Compressor map"),
    purpose=N_("Mass flow, power or current of a compressor from the ten coefficients of its maker"),
    fields=(
        Field(
            "coefficients", N_("Coefficients"), N_("The ten of the map, C1 to C10 in the order of AHRI 540"),
            shape="list", required=True, rows=(10, 10),
        ),
        Field(
            "coefficients_in", N_("Made for"), N_("Unit of temperature that the coefficients take"), shape="choice",
            required=True, choices=("F", "C"), said=(N_("°F"), N_("°C")),
        ),
        _dew("suction_dew_temperature", N_("Suction dew temperature"), N_("Dew temperature at the suction pressure")),
        _dew(
            "discharge_dew_temperature", N_("Discharge dew temperature"),
            N_("Dew temperature at the discharge pressure"),
        ),
        Field(
            "rated_superheat", N_("Rated superheat"), N_("Superheat of the suction vapour that the map was made with"),
            quantity="temperature_difference", low=0.0, high=60.0,
        ),
        Field(
            "rated_return_temperature", N_("Rated return gas temperature"),
            N_("Temperature of the suction vapour that the map was made with, where it is fixed"),
            quantity="temperature", low=LOWEST_TEMPERATURE_C, high=HIGHEST_TEMPERATURE_C,
        ),
        pipe_temperature(
            "actual_suction_temperature", N_("Actual suction temperature"), N_("Read at the compressor's inlet")
        ),
        Field(
            "volumetric_fraction", N_("Volumetric fraction"),
            N_("Share of the suction's change of volume that the compressor feels (0.75 where not given)"),
            shape="number", low=0.0, high=1.0,
        ),
        Field("value_unit", N_("Unit of the value"), N_("What the coefficients give, such as lb/h, kg/h, W or A"),
              shape="text"),
    ),
    results=(
        Result("value", N_("Value"), N_("In the unit of the coefficients"), shape="number", own_unit="of:coefficients"),
    ),
    function=compressor_map,
    explain=explain,
    sources=(_MAP, _SUPERHEAT, _VOLUME),
    own_doubts=(Origin(VAPOUR, {VAPOUR: from_limit(EXPONENT_LIMIT)}),),
    order=70,
)  # fmt: skip
