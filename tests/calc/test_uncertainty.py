"""Uncertainty: against JCGM 100, and against the `uncertainties` library on every working."""

from __future__ import annotations

from math import isclose, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import Refused
from calc.moist_air import enthalpy, ratio_at_wet_bulb, specific_volume
from calc.refrigerants import get
from calc.saturation import bubble_pressure_pa, bubble_temperature_c, dew_temperature_c, model_error_k
from calc.target_table import from_table_f
from calc.uncertainty import Origin, TooWide, combined, expanded, from_limit, propagate, standard
from calc.water import water_temperature_c
from calc.working import run
from calc.workings.compressor_map import polynomial

uncertainties = pytest.importorskip("uncertainties")
ufloat, wrap = uncertainties.ufloat, uncertainties.wrap

PSI_PA = 6894.757293168


def test_rectangular_limits() -> None:
    assert from_limit(1.0) == pytest.approx(0.57735, abs=5e-6)  # JCGM 100:2008, 4.3.7


def test_the_end_gauge_of_jcgm_100() -> None:
    """JCGM 100:2008, H.1: 50 000 838 nm with a combined standard uncertainty of 32 nm."""
    names = ("ls", "d1", "d2", "d3", "alpha", "d_alpha", "d_theta", "mean", "swing")
    amounts = (25.0, 5.8, 3.9, 6.7, 2e-6 / sqrt(3), 1e-6 / sqrt(3), 0.05 / sqrt(3), 0.2, 0.5 / sqrt(2))
    start = {"ls": 50_000_623.0, "d1": 215.0, "alpha": 11.5e-6, "mean": -0.1}

    def length(moves: object) -> dict[str, float]:
        x = {n: start.get(n, 0.0) + moves.get(n, 0.0) for n in names}  # type: ignore[attr-defined]
        drift = x["d_alpha"] * (x["mean"] + x["swing"]) + x["alpha"] * x["d_theta"]
        return {"l": x["ls"] + x["d1"] + x["d2"] + x["d3"] - x["ls"] * drift}

    origins = [Origin(name, {name: amount}) for name, amount in zip(names, amounts, strict=True)]
    spread = propagate(length, origins, length({}))
    assert length({})["l"] == pytest.approx(50_000_838.0, abs=0.5)
    assert standard(spread.contributions["l"]) == pytest.approx(32.0, abs=0.5)
    # its components, H.1.4: 25, 16.599 and 2.887 nm
    assert abs(spread.contributions["l"]["d_theta"]) == pytest.approx(16.599, abs=5e-3)
    assert abs(spread.contributions["l"]["d_alpha"]) == pytest.approx(2.887, abs=5e-4)


def test_impedance_of_jcgm_100_keeps_correlation() -> None:
    """JCGM 100:2008, H.2 by correlated origins; `uncertainties` gives 0.0700 and 0.2957."""
    covariance = uncertainties.correlated_values_norm(
        [(4.9990, 0.0032), (0.019661, 0.0000095), (1.04446, 0.00075)],
        [[1.0, -0.36, 0.86], [-0.36, 1.0, -0.65], [0.86, -0.65, 1.0]],
    )
    from uncertainties.umath import cos, sin

    # independent causes by Cholesky's rule: each origin moves several inputs at once
    a21, a31 = -0.36, 0.86
    a22 = sqrt(1 - a21**2)
    a32 = (-0.65 - a21 * a31) / a22
    a33 = sqrt(1 - a31**2 - a32**2)
    u = (0.0032, 0.0000095, 0.00075)
    origins = [
        Origin("first", {"v": u[0], "i": a21 * u[1], "phi": a31 * u[2]}),
        Origin("second", {"i": a22 * u[1], "phi": a32 * u[2]}),
        Origin("third", {"phi": a33 * u[2]}),
    ]

    def impedance(moves: object) -> dict[str, float]:
        from math import cos as plain_cos
        from math import sin as plain_sin

        v, i, phi = (start + moves.get(n, 0.0) for n, start in (("v", 4.9990), ("i", 0.019661), ("phi", 1.04446)))  # type: ignore[attr-defined]
        return {"r": v / i * plain_cos(phi), "x": v / i * plain_sin(phi)}

    spread = propagate(impedance, origins, impedance({}))
    v, i, phi = covariance
    for name, other, printed in (("r", v / i * cos(phi), 0.071), ("x", v / i * sin(phi), 0.295)):
        assert standard(spread.contributions[name]) == pytest.approx(other.std_dev, rel=1e-4)
        assert standard(spread.contributions[name]) == pytest.approx(printed, abs=1.5e-3)
        assert impedance({})[name] == pytest.approx(other.nominal_value)


def test_one_side_alone_is_used_and_named() -> None:
    def walled(moves: object) -> dict[str, float]:
        x = moves.get("x", 0.0)  # type: ignore[attr-defined]
        if x < 0:
            raise Refused([])
        return {"y": 2.0 * x}

    spread = propagate(walled, [Origin("x", {"x": 0.5})], {"y": 0.0})
    assert spread.contributions["y"] == {"x": 1.0}
    assert spread.one_sided == ("x",)


def test_both_sides_refused_is_refused_by_name() -> None:
    def shut(moves: object) -> dict[str, float]:
        raise Refused([])

    with pytest.raises(TooWide, match="x"):
        propagate(shut, [Origin("x", {"x": 0.5})], {"y": 0.0})


def test_an_uneven_band_is_called_lopsided() -> None:
    spread = propagate(lambda m: {"y": max(m.get("x", 0.0), 0.0)}, [Origin("x", {"x": 1.0})], {"y": 0.0})
    assert spread.lopsided == ("x",)


@given(st.floats(-5, 5), st.floats(-5, 5), st.floats(0.01, 3), st.floats(0.01, 3), st.floats(0.01, 3))
def test_linear_sums_agree_with_the_library(a: float, b: float, u: float, v: float, shared: float) -> None:
    origins = [Origin("x", {"x": u}), Origin("y", {"y": v}), Origin("both", {"x": shared, "y": shared})]

    def compute(moves: object) -> dict[str, float]:
        return {"z": a * moves.get("x", 0.0) + b * moves.get("y", 0.0)}  # type: ignore[attr-defined]

    spread = propagate(compute, origins, compute({}))
    common = ufloat(0, shared)
    other = a * (ufloat(0, u) + common) + b * (ufloat(0, v) + common)
    assert isclose(standard(spread.contributions["z"]), other.std_dev, rel_tol=1e-9, abs_tol=1e-9)


def test_amounts_of_one_origin_add_before_squaring() -> None:
    assert expanded(combined((1.0, {"p": 1.0, "q": 2.0}), (1.0, {"p": -1.0}))) == pytest.approx(4.0)


# Every working against the uncertainties library: the same inputs, limits and model errors, propagated by it.

SITE = 101325.0


def inputs(gauge_psi: float, limit_psi: float, temperature_c: float, limit_k: float) -> tuple[object, object]:
    site = ufloat(SITE, 750.0)  # ± 1.5 kPa of weather, k = 2
    return site + ufloat(gauge_psi, limit_psi / sqrt(3)) * PSI_PA, ufloat(temperature_c, limit_k / sqrt(3))


def by_library(name: str, refrigerant: str, side: str, pressure: object) -> object:
    fluid = get(refrigerant)
    table = {"bubble": bubble_temperature_c, "dew": dew_temperature_c}[side]
    value = wrap(lambda p: table(fluid, p))(pressure)
    return value + ufloat(0.0, model_error_k(fluid, side, value.nominal_value) / 2)  # type: ignore[arg-type]


@pytest.mark.parametrize("refrigerant", ["R-410A", "R-22", "R-134a", "R-407C", "R-454B", "R-448A"])
def test_superheat_and_subcooling_agree_with_the_library(refrigerant: str) -> None:
    fields = {"refrigerant": refrigerant, "suction_pressure": "68 psig ± 0.5", "suction_temperature": "20 C ± 0.9"}
    answer = run("superheat", fields)
    pressure, temperature = inputs(68, 0.5, 20, 0.9)
    dew = by_library("superheat", refrigerant, "dew", pressure)
    for name, other in (("superheat", temperature - dew), ("dew_temperature", dew)):  # type: ignore[operator]
        assert answer.results[name].value == pytest.approx(other.nominal_value, abs=1e-9)
        assert answer.results[name].u == pytest.approx(2 * other.std_dev, rel=2e-3)
    fields = {"refrigerant": refrigerant, "liquid_pressure": "220 psig ± 2 %", "liquid_temperature": "20 C ± 0.9"}
    answer = run("subcooling", fields)
    pressure, temperature = inputs(220, 4.4, 20, 0.9)
    other = by_library("subcooling", refrigerant, "bubble", pressure) - temperature  # type: ignore[operator]
    assert answer.results["subcooling"].value == pytest.approx(other.nominal_value, abs=1e-9)
    assert answer.results["subcooling"].u == pytest.approx(2 * other.std_dev, rel=2e-3)


def test_saturation_agrees_with_the_library() -> None:
    answer = run("saturation", {"refrigerant": "R-407C", "pressure": "68 psig ± 0.5"})
    pressure, _ = inputs(68, 0.5, 20, 0.9)
    glide = by_library("", "R-407C", "dew", pressure) - by_library("", "R-407C", "bubble", pressure)  # type: ignore[operator]
    assert answer.results["glide"].u == pytest.approx(2 * glide.std_dev, rel=2e-3)
    pure = run("saturation", {"refrigerant": "R-22", "pressure": "68 psig ± 0.5"})
    assert (pure.results["glide"].value, pure.results["glide"].u) == (0.0, 0.0)


def test_rest_pressure_agrees_with_the_library() -> None:
    answer = run("rest_pressure", {"refrigerant": "R-22", "pressure": "220 psig ± 1", "temperature": "35 C ± 0.5"})
    pressure, temperature = inputs(220, 1, 35, 0.5)
    fluid = get("R-22")
    high = wrap(lambda t: bubble_pressure_pa(fluid, t))(
        temperature + ufloat(0.0, model_error_k(fluid, "bubble", 35) / 2)
    )  # type: ignore[operator]
    other = pressure - high  # type: ignore[operator]
    assert answer.results["excess"].value == pytest.approx(other.nominal_value, abs=1e-6)
    assert answer.results["excess"].u == pytest.approx(2 * other.std_dev, rel=2e-3)
    assert answer.results["expected_high"].u == pytest.approx(2 * high.std_dev, rel=2e-3)


def test_target_superheat_agrees_with_the_library() -> None:
    fields = {"indoor_wet_bulb": "65 F ± 0.5", "outdoor_dry_bulb": "88 F ± 0.7"}
    answer = run("target_superheat", fields)
    wet, dry = ufloat(65, 0.5 / sqrt(3)), ufloat(88, 0.7 / sqrt(3))
    other = wrap(lambda w, d: from_table_f(w, d))(wet, dry) + ufloat(0, 1 / sqrt(3))  # prints differ by 1 °F
    assert answer.results["target_superheat"].value == pytest.approx(other.nominal_value / 1.8)
    assert answer.results["target_superheat"].u == pytest.approx(2 * other.std_dev / 1.8, rel=0.02)
    assert answer.results["by_formula"].u == pytest.approx(2 * ((3 * wet - 80 - dry) / 2).std_dev / 1.8, rel=1e-6)


def test_site_pressure_and_vacuum_agree_with_the_library() -> None:
    pressure = ufloat(66.66, 5.0 / sqrt(3))
    other = wrap(water_temperature_c)(pressure)
    answer = run("vacuum_level", {"pressure": "66.66 Pa ± 5"})
    assert answer.results["water_boiling_temperature"].u == pytest.approx(2 * other.std_dev, rel=3e-3)
    answer = run("site_pressure", {"elevation": "1600 m ± 20"})
    height = wrap(lambda z: 101325 * (1 - 2.25577e-5 * z) ** 5.2559)(ufloat(1600, 20 / sqrt(3))) + ufloat(0, 750)
    assert answer.results["site_pressure"].u == pytest.approx(2 * height.std_dev, rel=1e-4)


def test_moist_air_agrees_with_the_library() -> None:
    answer = run("moist_air", {"dry_bulb": "27 C ± 0.5", "wet_bulb": "19 C ± 0.3", "barometer": "833 hPa ± 2"})
    dry, wet, site = ufloat(27, 0.5 / sqrt(3)), ufloat(19, 0.3 / sqrt(3)), ufloat(83300, 200 / sqrt(3))
    ratio = wrap(lambda t, w, p: ratio_at_wet_bulb(t, w, p, iced=False))(dry, wet, site)
    other = wrap(enthalpy)(dry, ratio)
    assert answer.results["humidity_ratio"].u == pytest.approx(2 * ratio.std_dev, rel=2e-3)
    assert answer.results["enthalpy"].u == pytest.approx(2 * other.std_dev, rel=2e-3)


def test_air_side_agrees_with_the_library() -> None:
    fields = {
        "airflow": "0.57 m3/s ± 5 %", "entering_dry_bulb": "27 C ± 0.5", "entering_wet_bulb": "19 C ± 0.3",
        "leaving_dry_bulb": "14 C ± 0.5", "leaving_wet_bulb": "12 C ± 0.3", "barometer": "833 hPa ± 2",
    }  # fmt: skip
    answer = run("air_side", fields)
    flow, site = ufloat(0.57, 0.0285 / sqrt(3)), ufloat(83300, 200 / sqrt(3))
    dry_in, wet_in, dry_out, wet_out = (ufloat(t, a / sqrt(3)) for t, a in ((27, 0.5), (19, 0.3), (14, 0.5), (12, 0.3)))
    humidity = wrap(lambda t, w, p: ratio_at_wet_bulb(t, w, p, iced=False))
    before, after = humidity(dry_in, wet_in, site), humidity(dry_out, wet_out, site)
    rate = flow / wrap(specific_volume)(dry_in, before, site)
    total = rate * (wrap(enthalpy)(dry_in, before) - wrap(enthalpy)(dry_out, after))
    sensible = rate * (1006 + 930 * (before + after)) * (dry_in - dry_out)
    for name, other in (
        ("total_capacity", total), ("sensible_capacity", sensible), ("latent_capacity", total - sensible),
        ("sensible_heat_ratio", sensible / total), ("mass_flow", rate),
    ):  # fmt: skip
        assert answer.results[name].value == pytest.approx(other.nominal_value, rel=1e-9)
        assert answer.results[name].u == pytest.approx(2 * other.std_dev, rel=1e-2)


def test_heater_airflow_agrees_with_the_library() -> None:
    fields = {
        "voltage": "235 V ± 1 %", "current": "75 A ± 2 %", "temperature_rise": "20 K ± 0.7",
        "entering_dry_bulb": "21 C ± 0.5", "barometer": "1000 hPa ± 2",
    }  # fmt: skip
    answer = run("heater_airflow", fields)
    voltage, current = ufloat(235, 2.35 / sqrt(3)), ufloat(75, 1.5 / sqrt(3))
    rise, dry, site = ufloat(20, 0.7 / sqrt(3)), ufloat(21, 0.5 / sqrt(3)), ufloat(1e5, 200 / sqrt(3))
    moisture = ufloat(0.0, 0.012 / sqrt(3))
    rate = voltage * current / ((1006 + 1860 * moisture) * rise)
    volume = rate * wrap(specific_volume)(dry, moisture, site)
    for name, other in (("mass_flow", rate), ("airflow", volume)):
        assert answer.results[name].value == pytest.approx(other.nominal_value, rel=1e-9)
        assert answer.results[name].u == pytest.approx(2 * other.std_dev, rel=1e-2)


def test_electrical_workings_agree_with_the_library() -> None:
    fields = {"current": "4 A ± 2 %", "voltage": "370 V ± 1 %", "frequency": "60 Hz ± 0.1"}
    answer = run("run_capacitor", fields)
    current, voltage, frequency = (ufloat(x, a / sqrt(3)) for x, a in ((4, 0.08), (370, 3.7), (60, 0.1)))
    assert answer.results["capacitance"].u == pytest.approx(
        2 * (current / (2 * pi * frequency * voltage)).std_dev, rel=1e-3
    )
    answer = run("voltage_imbalance", {"voltages": ["462 V ± 0.5", "463 V ± 0.5", "450 V ± 0.5"]})
    lines = [ufloat(x, 0.5 / sqrt(3)) for x in (462, 463, 450)]
    average = sum(lines) / 3
    assert answer.results["average"].u == pytest.approx(2 * average.std_dev, rel=1e-6)
    assert answer.results["imbalance"].u == pytest.approx(2 * ((average - lines[2]) / average).std_dev, rel=1e-3)


def test_compressor_map_agrees_with_the_library() -> None:
    terms = (200.0, 5.0, -0.5, 0.04, -0.02, 0.01, 8e-5, -6e-5, 2e-4, -8e-5)
    fields = {
        "coefficients": list(terms), "coefficients_in": "C", "suction_dew_temperature": "5 C ± 0.5",
        "discharge_dew_temperature": "50 C ± 0.5", "rated_superheat": "11 K", "actual_suction_temperature": "20 C ± 1",
    }  # fmt: skip
    suction, discharge, actual = ufloat(5, 0.5 / sqrt(3)), ufloat(50, 0.5 / sqrt(3)), ufloat(20, 1 / sqrt(3))
    volumes = ((suction + 11 + 273.15) / (actual + 273.15)) ** ufloat(1.4, 0.4 / sqrt(3))
    other = wrap(lambda s, d: polynomial(terms, s, d))(suction, discharge) * (1 + 0.75 * (volumes - 1))
    figure = run("compressor_map", fields).results["value"]
    assert figure.value == pytest.approx(other.nominal_value)
    assert figure.u == pytest.approx(2 * other.std_dev, rel=2e-3)


def test_the_published_superheat_budget() -> None:
    """R-410A at 917 kPa (dew 4.43 °C), u(p) 0.5 psi, u(T) 0.5 K: slope 0.03539 K/kPa, u 0.515 K by CoolProp 8.0.0."""
    limits = 0.5 * sqrt(3)
    answer = run(
        "superheat",
        {
            "refrigerant": "R-410A",
            "suction_pressure": f"917 kPaa ± {limits * PSI_PA / 1000:.6f} kPa",
            "suction_temperature": f"10 C ± {limits:.6f}",
        },
    )
    figure = answer.results["superheat"]
    without_model = {k: v for k, v in figure.contributions.items() if not k.startswith("model:")}
    assert standard(without_model) == pytest.approx(0.515, abs=5e-4)
    assert answer.results["dew_temperature"].value == pytest.approx(4.43, abs=5e-3)
    assert figure.contributions["reading:suction_pressure"] == pytest.approx(-0.03539 * 3.447, rel=2e-3)
