"""The ten-coefficient map against worked points of an open compressor model, its correction against CoolProp."""

from __future__ import annotations

import json
from math import log

import pytest

from calc.working import Answer, run
from calc.workings.compressor_map import EXPONENT_LIMIT, VAPOUR_EXPONENT

# Sample maps of CenterHighPerformanceBuildingsPurdue/ACHP (commit 3b276c6), after ANSI/AHRI 540: °F, lb/h, W
MASS = [217.3163128, 5.094492028, -0.593170311, 4.38e-2, -2.14e-2, 1.04e-2, 7.90e-5, -5.73e-5, 1.79e-4, -8.08e-5]
POWER = [
    -561.3615705, -15.62601841, 46.92506685, -0.217949552, 0.435062616, -0.442400826, 2.25e-4, 2.37e-3, -3.32e-3,
    2.50e-3,
]  # fmt: skip


def compressor(suction: str, discharge: str, coefficients: object = MASS, **more: str) -> Answer:
    fields = {
        "coefficients": coefficients, "coefficients_in": "F", "suction_dew_temperature": suction,
        "discharge_dew_temperature": discharge, **more,
    }  # fmt: skip
    return run("compressor_map", fields)


def value(answer: Answer) -> float:
    assert answer.ok, [str(fault.problem) for fault in answer.errors]
    return float(answer.results["value"].value)


def notes(answer: Answer) -> str:
    return " ".join(map(str, answer.notes))


@pytest.mark.parametrize(
    ("suction", "discharge", "mass_lb_h", "power_w"),
    [
        # those coefficients by the printed polynomial, worked apart from this code
        ("45 F", "130 F", 459.4479, 3074.966),
        ("45 F", "100 F", 478.9920, 2026.828),
        ("42.53 F", "107.33 F", 454.4145, 2247.784),
        ("-10 F", "105 F", 131.647, 2450.703),
    ],
)
def test_the_polynomial(suction: str, discharge: str, mass_lb_h: float, power_w: float) -> None:
    assert value(compressor(suction, discharge)) == pytest.approx(mass_lb_h, rel=2e-6)
    assert value(compressor(suction, discharge, POWER)) == pytest.approx(power_w, rel=2e-6)
    celsius = (f"{(float(t.split()[0]) - 32) / 1.8!r} C" for t in (suction, discharge))
    assert value(compressor(*celsius)) == pytest.approx(mass_lb_h, rel=2e-6)


def test_each_coefficient_stands_where_the_standard_puts_it() -> None:
    """AHRI 540 with one coefficient 1 at a time: S = 2, D = 3 °C gives 1, S, D, S², SD, D², S³, DS², SD², D³."""
    expected = (1, 2, 3, 4, 6, 9, 8, 12, 18, 27)
    for place, power in enumerate(expected):
        coefficients = [0.0] * 10
        coefficients[place] = 1.0
        for given in (coefficients, json.dumps(coefficients), "\n".join(map(str, coefficients))):
            answer = run(
                "compressor_map",
                {
                    "coefficients": given, "coefficients_in": "C", "suction_dew_temperature": "2 C",
                    "discharge_dew_temperature": "3 C", "value_unit": "kg/h",
                },
            )  # fmt: skip
            assert value(answer) == pytest.approx(power)
            assert answer.results["value"].unit == "kg/h"


CORRECTED = {"rated_superheat": "20 F", "actual_suction_temperature": "75 F", "value_unit": "lb/h"}


def test_mass_flow_is_corrected_for_the_suction_vapour() -> None:
    """AHRI 540's form ṁ (1 + F (v_map/v − 1)), volumes as T^1.4, from 524.67 to 534.67 °R."""
    shares = (524.67 / 534.67) ** 1.4 - 1
    assert value(compressor("45 F", "130 F", **CORRECTED)) == pytest.approx(459.4479 * (1 + 0.75 * shares), rel=2e-6)
    for fraction in ("0", "0.5", "1"):
        answer = compressor("45 F", "130 F", **CORRECTED, volumetric_fraction=fraction)
        assert value(answer) == pytest.approx(459.4479 * (1 + float(fraction) * shares), rel=2e-6)
    by_return = {**CORRECTED, "rated_superheat": "", "rated_return_temperature": "65 F"}
    assert value(compressor("45 F", "130 F", **by_return)) == pytest.approx(
        value(compressor("45 F", "130 F", **CORRECTED))
    )
    same = compressor("45 F", "130 F", **{**CORRECTED, "actual_suction_temperature": "65 F"})
    assert value(same) == pytest.approx(459.4479, rel=2e-6)
    assert "Volumetric fraction assumed: 0.75" in notes(same)


def test_power_is_left_as_the_map_gives_it() -> None:
    answer = compressor("45 F", "130 F", POWER, **{**CORRECTED, "value_unit": "W"})
    assert value(answer) == pytest.approx(3074.966, rel=2e-6)
    assert answer.results["value"].shown.endswith("W")
    assert "Not a mass flow" in notes(answer)
    unsaid = compressor("45 F", "130 F", **{**CORRECTED, "value_unit": ""})
    assert "taken as a mass flow" in notes(unsaid)


@pytest.mark.coolprop
@pytest.mark.parametrize(
    "fluid", ["R22", "R32", "R134a", "R290", "R600a", "R717", "R1234yf", "R410A", "R404A", "R407C"]
)
@pytest.mark.parametrize("dew_c", [-35.0, -15.0, 5.0])
def test_the_volume_of_the_vapour_lies_in_its_band(fluid: str, dew_c: float) -> None:
    """CoolProp 8.0.0: from 11 K to 25 K of superheat the vapour's volume goes as T to a power in 1.4 ± 0.4."""
    properties = pytest.importorskip("CoolProp.CoolProp")
    pressure = properties.PropsSI("P", "T", dew_c + 273.15, "Q", 1, fluid)
    near, far = (1 / properties.PropsSI("D", "P", pressure, "T", dew_c + 273.15 + k, fluid) for k in (11.1, 25.0))
    exponent = log(far / near) / log((dew_c + 298.15) / (dew_c + 284.25))
    assert abs(exponent - VAPOUR_EXPONENT) < EXPONENT_LIMIT


@pytest.mark.parametrize(
    ("change", "field", "code"),
    [
        ({"coefficients": MASS[:9]}, "coefficients", "missing"),
        ({"coefficients": [*MASS, 1.0]}, "coefficients", "contradiction"),
        ({"coefficients": [*MASS[:9], "x"]}, "coefficients", "not_a_number"),
        ({"coefficients": [-1.0] * 10}, "coefficients", "outside_table"),
        ({"coefficients_in": ""}, "coefficients_in", "missing"),
        ({"coefficients_in": "K"}, "coefficients_in", "unknown_choice"),
        ({"suction_dew_temperature": "130 F"}, "suction_dew_temperature", "contradiction"),
        ({"rated_superheat": ""}, "rated_superheat", "missing"),
        ({"rated_return_temperature": "65 F"}, "rated_return_temperature", "contradiction"),
        ({"actual_suction_temperature": "40 F"}, "actual_suction_temperature", "contradiction"),
        ({"rated_superheat": "", "rated_return_temperature": "40 F"}, "rated_return_temperature", "contradiction"),
        ({"volumetric_fraction": "1.5"}, "volumetric_fraction", "out_of_range"),
    ],
)
def test_it_refuses(change: dict[str, object], field: str, code: str) -> None:
    fields = {
        "coefficients": MASS, "coefficients_in": "F", "suction_dew_temperature": "45 F",
        "discharge_dew_temperature": "130 F", **CORRECTED,
    }  # fmt: skip
    (fault,) = run("compressor_map", {**fields, **change}).errors
    assert (fault.field, fault.code) == (field, code)
