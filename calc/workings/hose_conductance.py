"""Conductance of an evacuation hose at a pressure."""

from __future__ import annotations

from calc.declaration import Field, Result, Working
from calc.flow import GASES, conductance, molecular, regime, viscous
from calc.messages import N_
from calc.telling import Telling
from calc.uncertainty import Origin, from_limit
from calc.values import Values

FORMULA_SHARE = 0.05
"""Doubt of the formula on a real hose with its fittings, as a limit of error; common practice, no source."""
_SOURCE = "Knudsen's formula for long tubes, standard vacuum texts (from memory); viscosity: CoolProp 8.0.0"
USUAL_C = 20.0


def hose_conductance(values: Values) -> dict[str, float | str]:
    """Conductance [m³/s] of a hose at the mean of the pressures at its ends, and its flow regime.

    Source
        Knudsen's formula for long tubes; see calc.flow
    """
    gas, at = GASES[values.word("gas", "air")], values.number("temperature", USUAL_C)
    bore, length, mean = values["bore"], values["length"], values["mean_pressure"]
    sure = 1.0 + values.doubt("formula") * from_limit(FORMULA_SHARE)
    return {
        "conductance": sure * conductance(bore, length, mean, gas, at),
        "regime": regime(bore, mean, gas, at),
        "viscous_part": viscous(bore, length, mean, gas, at),
        "molecular_part": molecular(bore, length, gas, at),
    }


def explain(telling: Telling) -> None:
    """The two parts it is made of, and what a core does."""
    values = telling.values
    telling.because(
        N_("conductance = viscous (∝ bore⁴ × pressure / length) + molecular (∝ bore³ / length) × (1+x)/(1+1.235x)"),
        N_("bore {bore}, length {length}, {pressure}: {viscous} viscous, {molecular} molecular, in all {conductance}"),
        _SOURCE,
        bore=telling.reading("bore"), length=telling.reading("length"), pressure=telling.reading("mean_pressure"),
        viscous=telling.amount(telling["viscous_part"], "volume_flow"),
        molecular=telling.amount(telling["molecular_part"], "volume_flow"), conductance=telling.result("conductance"),
    )  # fmt: skip
    if "gas" not in values:
        telling.note(N_("Gas not given: worked for air"))
    if "temperature" not in values:
        telling.note(N_("Temperature not given: 20 °C (68 °F) assumed"))
    if values["length"] < 10.0 * values["bore"]:
        telling.note(N_("Shorter than ten bores: the ends count too, so it conducts less than this"))
    telling.note(N_("± 5 % for a real hose with its fittings; a valve core left in can outweigh the whole hose"))
    telling.note(N_("Half the bore conducts 8 times less in molecular flow, 16 times less in viscous"))


WORKING = Working(
    name="hose_conductance",
    title=N_("Hose conductance"),
    purpose=N_("How much a hose lets through at a vacuum, and in which kind of flow"),
    fields=(
        Field(
            "bore", N_("Bore"), N_("Inside diameter, such as 3/8 in"), quantity="length", low=5e-4, high=0.2,
            required=True,
        ),
        Field("length", N_("Length"), N_("Of the hose"), quantity="length", low=5e-3, high=100.0, required=True),
        Field(
            "mean_pressure", N_("Mean pressure"), N_("Absolute, half way between the pressures at its two ends"),
            quantity="pressure", low=0.001, high=125e3, required=True, reads="vacuum",
        ),
        Field(
            "gas", N_("Gas"), N_("What flows: air where not given"), shape="choice", choices=tuple(GASES),
            said=(N_("air"), N_("nitrogen"), N_("water vapour"), N_("helium")),
        ),
        Field(
            "temperature", N_("Temperature"), N_("Of the gas, 20 °C where not given"), quantity="temperature",
            low=-40.0, high=80.0,
        ),
    ),
    results=(
        Result("conductance", N_("Conductance"), N_("Throughput over pressure difference"), "volume_flow"),
        Result(
            "regime", N_("Flow"), N_("viscous, transition or molecular"), shape="text",
            words={
                "viscous": N_("viscous"), "transition": N_("in transition"), "molecular": N_("molecular"),
            },
        ),
    ),
    function=hose_conductance,
    explain=explain,
    sources=(_SOURCE, "limits of flow: 0.5 and 0.01 Torr·cm, lecture notes on vacuum technology"),
    cautions=(N_("Never start, megger or hi-pot a hermetic or scroll compressor under vacuum"),),
    own_doubts=(Origin("formula:bore", {"formula": 1.0}),),
    order=80,
)  # fmt: skip
