"""Saturation against published tables, NIST's points and the case book; what lies outside is refused."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import saturation as sat
from calc.refrigerants import designations, get
from calc.saturation import OutsideTable

DATA = Path(__file__).resolve().parents[1] / "reference"
PSI, ATM = 6894.757293168, 101_325.0
COLUMNS = {"source", "unit", "tolerance"}


def rows(name: str) -> list[dict[str, str]]:
    """Reference rows; "same" in the source means the row above."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    for before, row in zip([None, *found], found, strict=False):
        if row["source"].startswith("same") and before:
            row["source"] = before["source"] + row["source"].removeprefix("same")
    return found


def in_f(celsius: float) -> float:
    return celsius * 1.8 + 32


def psig(gauge: float) -> float:
    return gauge * PSI + ATM


PUBLISHED = rows("saturation_published.csv")
SIDE_PRESSURE = {"bubble": sat.bubble_pressure_pa, "dew": sat.dew_pressure_pa}
SIDE_TEMPERATURE = {"bubble": sat.bubble_temperature_c, "dew": sat.dew_temperature_c}


def looked_up(row: dict[str, str]) -> float:
    fluid, side, at = get(row["refrigerant"]), row["curve"], float(row["at"])
    if row["quantity"] == "temperature":
        return SIDE_TEMPERATURE[side](fluid, at)
    if row["quantity"] == "pressure":
        return SIDE_PRESSURE[side](fluid, at)
    return getattr(sat, row["quantity"])(fluid, side, at)


@pytest.mark.parametrize(
    "row", PUBLISHED, ids=[f"{r['refrigerant']}-{r['curve']}-{r['quantity']}-{r['at']}" for r in PUBLISHED]
)
def test_published_saturation_states(row: dict[str, str]) -> None:
    assert row.keys() >= COLUMNS
    assert row["source"]
    assert looked_up(row) == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


def test_latent_heat_of_r32() -> None:
    # R-32 standard formulation, J. Phys. Chem. Ref. Data 26 (1997), Table 12: 315.30 kJ/kg at 0 °C
    r32 = get("R-32")
    latent = sat.enthalpy(r32, "dew", 0.0) - sat.enthalpy(r32, "bubble", 0.0)
    assert latent == pytest.approx(315.30e3, abs=30)


def test_latent_heat_of_ammonia() -> None:
    # Fundamentals of Engineering Thermodynamics, table A-13: 1329.10 kJ/kg at −20 °C, 1185.64 at 20 °C (other equation)
    r717 = get("ammonia")
    for t, expected in ((-20.0, 1329.10e3), (20.0, 1185.64e3)):
        latent = sat.enthalpy(r717, "dew", t) - sat.enthalpy(r717, "bubble", t)
        assert latent == pytest.approx(expected, rel=3e-3)
        # what evaporates at constant pressure takes T·Δs: a law, not a table
        change = sat.entropy(r717, "dew", t) - sat.entropy(r717, "bubble", t)
        assert change * (t + 273.15) == pytest.approx(latent, rel=1e-4)


def grid() -> Iterator[tuple[str, str, float, float, float]]:
    for row in rows("saturation_grid_kpa.csv"):
        assert row.keys() >= COLUMNS
        for at in ("-40", "-20", "0", "10", "20", "30", "40", "50", "60"):
            values = row[at].split("/") if row[at] else []
            for side, value in zip(("bubble", "dew"), values * 2 if len(values) == 1 else values, strict=False):
                yield row["refrigerant"], side, float(at), float(value), float(row["tolerance"])


@pytest.mark.parametrize(("name", "side", "at_c", "kpa", "tolerance"), list(grid()))
def test_grid_of_the_property_library(name: str, side: str, at_c: float, kpa: float, tolerance: float) -> None:
    # half a unit of the last digit printed, and the table's own error (2 mK is at most 0.008 % in pressure)
    assert SIDE_PRESSURE[side](get(name), at_c) / 1e3 == pytest.approx(kpa, abs=tolerance + 4e-5 * kpa)


@pytest.mark.parametrize(
    "row", rows("nist_r410a_saturation_points.csv"), ids=lambda r: f"{r['curve']}-{r['pressure_psia']}"
)
def test_points_published_by_nist(row: dict[str, str]) -> None:
    found = SIDE_TEMPERATURE[row["curve"]](get("R-410A"), float(row["pressure_psia"]) * PSI)
    assert in_f(found) == pytest.approx(float(row["temperature_f"]), abs=float(row["tolerance_f"]))


def test_case_superheat_of_a_piston_unit() -> None:
    # common practice, no source: 143 psig is 50 °F, so 61 °F at the pipe is 11 °F of superheat
    superheat = 61 - in_f(sat.dew_temperature_c(get("410a"), psig(143)))
    assert round(superheat) == 11
    assert superheat == pytest.approx(10.9, abs=0.05)


CHART = [
    (10, 42, 15.0),
    (20, 55, 14.9),
    (30, 70, 15.0),
    (36, 81, 14.5),
    (40, 88, 14.7),
    (50, 108, 14.7),
    (60, 131, 14.6),
]


@pytest.mark.parametrize(("pipe_f", "gauge_psi", "expected_f"), [*CHART, (70, 157, 14.6)])
def test_case_chart_of_fifteen_degrees(pipe_f: float, gauge_psi: float, expected_f: float) -> None:
    # common practice, no source: the chart means 15 °F for each; the exact values from CoolProp 8.0.0
    found = pipe_f - in_f(sat.dew_temperature_c(get("R-410A"), psig(gauge_psi)))
    assert found == pytest.approx(15, abs=0.51)
    assert found == pytest.approx(expected_f, abs=0.06)


def test_case_clear_sight_glass_of_r448a() -> None:
    # CEC 2008 Residential Appendix RA3.2: 163.5 psig read as bubble 73.8 °F, liquid at 74.1 °F
    r448a = get("R-448A")
    bubble = in_f(sat.bubble_temperature_c(r448a, psig(163.5)))
    assert bubble == pytest.approx(73.7, abs=0.06)
    assert abs(bubble - 74.1) < 0.5
    assert in_f(sat.dew_temperature_c(r448a, psig(163.5))) - 74.1 > 5  # taking dew for bubble invents subcooling
    middle = in_f(sat.midpoint_temperature_c(r448a, psig(163.5)))
    assert 2 < middle - 74.1 < 7


# Points at which CoolProp 8.0.0's own blend flash fails, or answers wrongly without a word. Expected bubble or dew
# temperatures come from the same equations, solved by another method (update_with_guesses from a traced point).
SILENT = [
    ("R-410A", "bubble", 44.5e5, 66.8), ("R-410A", "bubble", 46e5, 68.3), ("R-410A", "dew", 46e5, 68.4),
]  # fmt: skip


@pytest.mark.parametrize(("name", "side", "pressure_pa", "expected_c"), SILENT)
def test_where_a_blend_flash_is_silently_wrong(name: str, side: str, pressure_pa: float, expected_c: float) -> None:
    assert SIDE_TEMPERATURE[side](get(name), pressure_pa) == pytest.approx(expected_c, abs=0.12)


def test_r463a_at_38_degrees() -> None:
    # CoolProp 8.0.0's flash gives 35.67 bar here; the equations give about 25.4
    assert sat.bubble_pressure_pa(get("R-463A"), 38.0) == pytest.approx(25.4e5, rel=0.005)


def test_r454c_dew_at_50_degrees() -> None:
    # 1 818 177 Pa with the model of CoolProp 8.0.0: CoolProp issue 3195
    assert sat.dew_pressure_pa(get("R-454C"), 50.0) == pytest.approx(1_818_177, rel=3e-5)


@pytest.mark.parametrize("name", designations())
def test_every_curve_rises_returns_and_keeps_dew_under_bubble(name: str) -> None:
    fluid = get(name)
    for pressure, temperature, curve in (
        (sat.bubble_pressure_pa, sat.bubble_temperature_c, fluid.bubble),
        (sat.dew_pressure_pa, sat.dew_temperature_c, fluid.dew),
    ):
        steps = [curve.t_low_c + (curve.t_high_c - curve.t_low_c) * i / 200 for i in range(201)]
        pressures = [pressure(fluid, t) for t in steps]
        assert all(a < b for a, b in pairwise(pressures))
        for t, p in zip(steps[1:-1], pressures[1:-1], strict=True):
            assert temperature(fluid, p) == pytest.approx(t, abs=0.0005)
        for p in (curve.p_low_pa, curve.p_high_pa):
            assert pressure(fluid, temperature(fluid, p)) == pytest.approx(p, rel=1e-4)
    low, high = max(fluid.bubble.t_low_c, fluid.dew.t_low_c), min(fluid.bubble.t_high_c, fluid.dew.t_high_c)
    for t in (low + (high - low) * i / 50 for i in range(51)):
        assert sat.dew_pressure_pa(fluid, t) <= sat.bubble_pressure_pa(fluid, t) * (1 + 1e-5)
        assert sat.density(fluid, "dew", t) < sat.density(fluid, "bubble", t)
        assert sat.enthalpy(fluid, "dew", t) > sat.enthalpy(fluid, "bubble", t)
        assert sat.entropy(fluid, "dew", t) > sat.entropy(fluid, "bubble", t)
    assert sat.enthalpy(fluid, "bubble", 0.0) == pytest.approx(200e3, abs=60)
    assert sat.entropy(fluid, "bubble", 0.0) == pytest.approx(1e3, abs=0.2)


@pytest.mark.parametrize(
    ("name", "temperature_c", "reason"),
    [
        ("R-744", 31.0, "above_critical"), ("R-744", 30.9, "near_critical"), ("R-744", -57.0, "below_triple_point"),
        ("R-410A", -75.0, "below_table"), ("R-410A", 71.0, "near_critical"), ("R-410A", 80.0, "above_critical"),
        ("R-13", 25.0, "above_table"), ("R-22", math.nan, "not_a_number"), ("R-22", math.inf, "above_critical"),
        ("R-22", -math.inf, "below_table"), ("R-717", -80.0, "below_triple_point"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("ask", [sat.bubble_pressure_pa, sat.dew_pressure_pa])
def test_temperatures_outside_are_refused(ask: object, name: str, temperature_c: float, reason: str) -> None:
    with pytest.raises(OutsideTable, match=f"{name}: no saturation at a temperature of .* °C: ") as refused:
        ask(get(name), temperature_c)  # type: ignore[operator]
    assert refused.value.reason == reason
    assert refused.value.refrigerant == name
    assert refused.value.quantity == "temperature"
    assert refused.value.low < refused.value.high


@pytest.mark.parametrize(
    ("name", "pressure_pa", "reason"),
    [
        ("R-744", 74e5, "above_critical"), ("R-744", 73.7e5, "near_critical"), ("R-744", 5e5, "below_triple_point"),
        ("R-744", ATM, "below_triple_point"), ("R-454B", 60e5, "above_critical"), ("R-454B", 1e3, "below_table"),
        ("R-32", 0.0, "below_table"), ("R-32", -1e5, "below_table"), ("R-32", math.nan, "not_a_number"),
    ],
)  # fmt: skip
@pytest.mark.parametrize(
    "ask", [sat.bubble_temperature_c, sat.dew_temperature_c, sat.midpoint_temperature_c, sat.glide_k]
)
def test_pressures_outside_are_refused(ask: object, name: str, pressure_pa: float, reason: str) -> None:
    with pytest.raises(OutsideTable, match="The table holds from") as refused:
        ask(get(name), pressure_pa)  # type: ignore[operator]
    assert (refused.value.reason, refused.value.quantity) == (reason, "pressure")


@pytest.mark.parametrize("ask", [sat.density, sat.enthalpy, sat.entropy])
@pytest.mark.parametrize("side", ["bubble", "dew"])
def test_states_outside_are_refused(ask: object, side: str) -> None:
    with pytest.raises(OutsideTable, match="above the critical point"):
        ask(get("CO2"), side, 40.0)  # type: ignore[operator]


def test_model_error_doubles_where_a_blends_model_is_weak() -> None:
    blend, pure = get("R-454B"), get("R-32")
    assert sat.model_error_k(blend, "dew", 0.0) == blend.model_k["dew"]
    assert sat.model_error_k(blend, "dew", -41.0) == 2 * blend.model_k["dew"]
    assert sat.model_error_k(blend, "bubble", 75.0) == 2 * blend.model_k["bubble"]
    assert {sat.model_error_k(pure, "dew", t) for t in (-60.0, 0.0, 77.0)} == {pure.model_k["dew"]}


@given(st.sampled_from(designations()), st.sampled_from(["bubble", "dew"]), st.floats(0.0, 1.0))
def test_round_trip_anywhere(name: str, side: str, share: float) -> None:
    fluid = get(name)
    curve = getattr(fluid, side)
    t = curve.t_low_c + share * (curve.t_high_c - curve.t_low_c)
    p = min(max(SIDE_PRESSURE[side](fluid, t), curve.p_low_pa), curve.p_high_pa)
    assert SIDE_TEMPERATURE[side](fluid, p) == pytest.approx(t, abs=0.0005)


@given(st.sampled_from(designations()), st.floats(allow_nan=True, allow_infinity=True))
def test_any_pressure_gives_a_temperature_or_a_refusal(name: str, pressure_pa: float) -> None:
    fluid = get(name)
    for ask in (sat.bubble_temperature_c, sat.dew_temperature_c):
        curve = fluid.bubble if ask is sat.bubble_temperature_c else fluid.dew
        if curve.p_low_pa <= pressure_pa <= curve.p_high_pa:
            assert curve.t_min <= ask(fluid, pressure_pa) <= curve.t_max
        else:
            with pytest.raises(OutsideTable) as refused:
                ask(fluid, pressure_pa)
            assert refused.value.reason in sat.REASONS
