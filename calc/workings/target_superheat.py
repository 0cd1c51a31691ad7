"""The superheat a fixed-metering unit in cooling should show today, from indoor wet bulb and outdoor dry bulb."""

from __future__ import annotations

from calc.declaration import Field, Result, Working
from calc.messages import N_, message
from calc.pressure import STANDARD_ATMOSPHERE_PA
from calc.site import SITE_FIELDS
from calc.target_table import LEAST_F, PRINTS_DIFFER_F, from_formula_f, from_table_f, printed
from calc.telling import Telling
from calc.uncertainty import Origin, from_limit
from calc.units import FAHRENHEIT_K, FAHRENHEIT_ZERO_C
from calc.values import Values

PRINTED = "model:target_table"
THIN_SHARE = 0.95  # of sea level, about 430 m up; common practice, no source
_TABLE = "common practice: table printed in installation literature of the trade"
_RULE = "California 2008 and 2013 Residential Appendix RA3, RA3.2: outdoor 55 °F or more, target 5 °F or more"


def _fahrenheit(temperature_c: float) -> float:
    return (temperature_c - FAHRENHEIT_ZERO_C) / FAHRENHEIT_K


def target_superheat(values: Values) -> dict[str, float]:
    """Target superheat [K] by the printed table (or the rule of thumb, if chosen), and by the rule of thumb beside it.

    Refused where the table has a dash or ends: there the test is not valid, and nothing is extrapolated.

    Source
        calc.target_table
    """
    wet, dry = _fahrenheit(values["indoor_wet_bulb"]), _fahrenheit(values["outdoor_dry_bulb"])
    formula = from_formula_f(wet, dry)
    table = printed()
    for field, value, axis in (("outdoor_dry_bulb", dry, table.dry), ("indoor_wet_bulb", wet, table.wet)):
        if not axis[0] - 1e-6 <= value <= axis[-1] + 1e-6:
            raise _beyond(values, field, axis)
    if values.word("basis", "table") == "formula":
        if formula < LEAST_F:
            raise _not_valid(values)
        return {"target_superheat": formula * FAHRENHEIT_K, "by_formula": formula * FAHRENHEIT_K}
    target = from_table_f(wet, dry)
    if target is None:
        raise _not_valid(values)
    doubt = values.doubt(PRINTED) * FAHRENHEIT_K
    return {"target_superheat": target * FAHRENHEIT_K + doubt, "by_formula": formula * FAHRENHEIT_K}


def _beyond(values: Values, field: str, axis: tuple[float, ...]) -> Exception:
    low, high = (
        values.frame.amount(edge * FAHRENHEIT_K + FAHRENHEIT_ZERO_C, "temperature") for edge in (axis[0], axis[-1])
    )
    return values.refuse(
        field,
        "outside_table",
        message(
            N_("{given} lies beyond the printed table ({low} to {high})"), given=values.texts[field], low=low, high=high
        ),
        message(N_("The charge cannot be checked by superheat now: weigh it in, or come back in other weather")),
    )


def _not_valid(values: Values) -> Exception:
    return values.refuse(
        "indoor_wet_bulb",
        "outside_table",
        message(
            N_("At {wet} indoor wet bulb and {dry} outdoors the target would be under 5 °F: no valid test"),
            wet=values.texts["indoor_wet_bulb"],
            dry=values.texts["outdoor_dry_bulb"],
        ),
        message(
            N_("It cannot be checked now: warm the space or raise its load and read again, or weigh the charge in")
        ),
    )


def explain(telling: Telling) -> None:
    """Which basis, how far the other lies, and when the figure may be used."""
    values = telling.values
    if values.word("basis", "table") == "table":
        telling.because(
            N_("target superheat from the printed table, straight between its cells"),
            N_("{wet} indoor wet bulb, {dry} outdoor dry bulb: {target}"),
            _TABLE,
            wet=telling.reading("indoor_wet_bulb"),
            dry=telling.reading("outdoor_dry_bulb"),
            target=telling.result("target_superheat"),
        )
        telling.note(N_("Prints of this table differ by 1 °F from one another: that is part of the ±"))
    telling.because(
        N_("rule of thumb in °F: (3 · indoor wet bulb − 80 − outdoor dry bulb) / 2"),
        N_("{wet} indoor wet bulb, {dry} outdoor dry bulb: {target}"),
        "common practice, no source",
        wet=telling.reading("indoor_wet_bulb"),
        dry=telling.reading("outdoor_dry_bulb"),
        target=telling.result("by_formula"),
    )
    telling.note(N_("The rule of thumb leaves the table by up to 6.5 °F at its corners"))
    if values.site_pa < THIN_SHARE * STANDARD_ATMOSPHERE_PA:
        telling.note(N_("The table was printed for sea level; in thinner air it is a guide, so weigh the charge in"))
    telling.note(
        N_("Only for fixed metering in cooling, airflow shown adequate, after 15 minutes of running; judged to ± 5 °F")
    )


WORKING = Working(
    name="target_superheat",
    title=N_("Target superheat"),
    purpose=N_("The superheat a unit with fixed metering should show in cooling, from indoor and outdoor air"),
    fields=(
        Field(
            "indoor_wet_bulb", N_("Indoor wet bulb"), N_("Wet bulb temperature of the return air"),
            quantity="temperature", low=-10.0, high=50.0, required=True, error="air",
        ),
        Field(
            "outdoor_dry_bulb", N_("Outdoor dry bulb"), N_("Temperature of the air entering the condenser"),
            quantity="temperature", low=-50.0, high=60.0, required=True, error="air",
        ),
        Field(
            "basis", N_("Basis"), N_("The printed table, or the rule of thumb"), shape="choice",
            choices=("table", "formula"), said=(N_("printed table"), N_("rule of thumb")),
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result("target_superheat", N_("Target superheat"), N_("What superheat should be"), "temperature_difference"),
        Result("by_formula", N_("By rule of thumb"), N_("(3 · wet bulb − 80 − dry bulb)/2"), "temperature_difference"),
    ),
    function=target_superheat,
    explain=explain,
    sources=(_TABLE, _RULE),
    own_doubts=(Origin(PRINTED, {PRINTED: from_limit(PRINTS_DIFFER_F)}),),
    order=25,
)  # fmt: skip
