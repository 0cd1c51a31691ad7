"""Capacity of a coil and airflow by heater: against factors of standard air and PsychroLib 2.5.0's enthalpies."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.working import Answer, run

BTU_H = 1055.05585262 / 3600
CFM = 0.3048**3 / 60
COIL = {
    "airflow": "1200 cfm", "entering_dry_bulb": "80 F", "entering_wet_bulb": "67 F", "leaving_dry_bulb": "55 F",
    "leaving_wet_bulb": "54 F", "barometer": "101325 Pa",
}  # fmt: skip


def value(answer: Answer, name: str) -> float:
    assert answer.ok, [str(fault.problem) for fault in answer.errors]
    return float(answer.results[name].value)


def told(answer: Answer) -> str:
    return " ".join([*map(str, answer.notes), *(str(why.with_) for why in answer.why)])


def test_standard_air_gives_the_usual_factors() -> None:
    """0.075 lb/ft³ × 60 min is 4.5 lb/h per cfm; 1.08 dry, 1.10 at W 0.01 (ASHRAE Fundamentals chapter 18)."""
    answer = run("air_side", {**COIL, "airflow": "1200 scfm"})
    assert value(answer, "mass_flow") / 0.45359237 * 3600 == pytest.approx(4.5 * 1200)
    # 80/67 °F in (31.447 Btu/lb), 55/54 °F out (22.569) by PsychroLib 2.5.0, factor 4.5: 47 945 Btu/h
    assert value(answer, "total_capacity") / BTU_H == pytest.approx(47945, abs=50)
    assert value(answer, "sensible_capacity") / BTU_H == pytest.approx(1.10 * 1200 * 25, rel=5e-3)
    assert "1.101 Btu/(h·cfm·°F)" in told(answer)
    assert "4.500 lb/(h·cfm)" in told(answer)
    metric = told(run("air_side", {**COIL, "airflow": "570 sL/s"}))
    assert "1.201 kg/m³" in metric  # 1.20 W per L/s and kJ/kg
    assert "1.231 W/(L/s·K)" in metric  # 1.23 W per L/s and K


@pytest.mark.parametrize(("pressure_pa", "wet_out"), [(101325.0, "54 F"), (84310.0, "54 F"), (101325.0, "55 F")])
def test_actual_airflow_against_the_library(pressure_pa: float, wet_out: str) -> None:
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    before = psychrolib.CalcPsychrometricsFromTWetBulb(80 / 1.8 - 160 / 9, 67 / 1.8 - 160 / 9, pressure_pa)
    after = psychrolib.CalcPsychrometricsFromTWetBulb(
        55 / 1.8 - 160 / 9, float(wet_out.split()[0]) / 1.8 - 160 / 9, pressure_pa
    )
    mass_flow = 1200 * CFM / before[5]
    answer = run("air_side", {**COIL, "leaving_wet_bulb": wet_out, "barometer": f"{pressure_pa} Pa"})
    assert value(answer, "mass_flow") == pytest.approx(mass_flow, rel=1e-3)
    assert value(answer, "total_capacity") == pytest.approx(mass_flow * (before[4] - after[4]), rel=1e-3)


@pytest.mark.parametrize(("airflow", "rising"), [("1200 cfm", 0.833), ("1200 scfm", 1.0)])
def test_thin_air_carries_less_unless_it_was_counted_as_standard(airflow: str, rising: float) -> None:
    low = run("air_side", {**COIL, "airflow": airflow})
    high = run("air_side", {**COIL, "airflow": airflow, "barometer": "844 hPa"})
    assert value(high, "sensible_capacity") / value(low, "sensible_capacity") == pytest.approx(rising, rel=5e-3)


def test_printed_heating_processes() -> None:
    """Chart exercises (scribd.com/document/468636835): 0.5 m³/s of 10 °C/80 % to 30 °C, 12.53 kW; 1.2 m³/s of
    15 °C/90 % to 50 °C, 51.92 kW; hand-rounded, ± 2 %. Leaving humidity from the same vapour pressure."""
    for flow, dry, share, leaving, kilowatts in (("0.5", 10, 80, 30, 12.53), ("1.2", 15, 90, 50, 51.92)):
        before = run("moist_air", {"dry_bulb": f"{dry} C", "relative_humidity": f"{share} %"})
        dew = value(before, "dew_point")
        after = run("moist_air", {"dry_bulb": f"{leaving} C", "dew_point": f"{dew!r} C"})
        fields = {
            "airflow": f"{flow} m3/s", "entering_dry_bulb": f"{dry} C", "entering_relative_humidity": f"{share} %",
            "leaving_dry_bulb": f"{leaving} C", "leaving_wet_bulb": f"{value(after, 'wet_bulb')!r} C",
        }  # fmt: skip
        answer = run("air_side", fields)
        assert -value(answer, "total_capacity") / 1000 == pytest.approx(kilowatts, rel=0.02)
        assert value(answer, "latent_capacity") == pytest.approx(0.0, abs=1.0)
        assert value(answer, "sensible_heat_ratio") == pytest.approx(1.0, abs=1e-3)
        assert "negative where it is heated" in told(answer)


@given(st.floats(15, 40), st.floats(20, 100), st.floats(5, 40), st.floats(20, 100), st.floats(0.01, 5))
def test_the_parts_add_up_and_the_balance_holds(
    dry: float, share: float, leaving: float, after: float, flow: float
) -> None:
    """Energy: total = sensible + latent, and swapping the two states turns every sign at the same flow of dry air."""
    states = {"entering": (dry, share), "leaving": (leaving, after)}
    fields = {"airflow": f"{flow:.4f} m3/s"}
    for name, (t, rh) in states.items():
        fields |= {f"{name}_dry_bulb": f"{t:.4f} C", f"{name}_relative_humidity": f"{rh:.4f} %"}
    answer = run("air_side", fields)
    total = value(answer, "total_capacity")
    parts = value(answer, "sensible_capacity") + value(answer, "latent_capacity")
    assert parts == pytest.approx(total, rel=1e-9, abs=1e-6)
    turned = {
        name.replace("entering", "x").replace("leaving", "entering").replace("x", "leaving"): text
        for name, text in fields.items()
    }
    other = run("air_side", turned)
    per_mass = total / value(answer, "mass_flow")
    assert -value(other, "total_capacity") / value(other, "mass_flow") == pytest.approx(per_mass, rel=1e-9, abs=1e-6)


def test_what_the_readings_cannot_tell_is_said() -> None:
    """Moister air after a cooling coil is a doubt, and a capacity that may be zero has no sensible share."""
    wetter = run("air_side", {**COIL, "leaving_dry_bulb": "78 F", "leaving_wet_bulb": "75 F"})
    assert "moister than it came" in told(wetter)
    still = run("air_side", {**COIL, "leaving_dry_bulb": "80 F", "leaving_wet_bulb": "66.9 F"})
    assert "sensible_heat_ratio" not in still.results
    assert "cannot be told from zero" in told(still)
    assert "Taken as exact: airflow" in told(still)
    assert "Taken as exact" not in told(run("air_side", {**COIL, "airflow": "1200 cfm ± 5 %"}))


@pytest.mark.parametrize(
    ("change", "field", "code"),
    [
        ({"leaving_wet_bulb": ""}, "leaving_wet_bulb", "missing"),
        ({"entering_wet_bulb": ""}, "entering_wet_bulb", "missing"),
        ({"entering_relative_humidity": "50 %"}, "entering_relative_humidity", "contradiction"),
        ({"leaving_wet_bulb": "60 F"}, "leaving_wet_bulb", "contradiction"),
        ({"airflow": "1200"}, "airflow", "unit"),
        ({"airflow": "0 cfm"}, "airflow", "out_of_range"),
        ({"airflow": "1200 psig"}, "airflow", "unit"),
    ],
)
def test_air_side_refuses(change: dict[str, str], field: str, code: str) -> None:
    (fault,) = run("air_side", {**COIL, **change}).errors
    assert (fault.field, fault.code) == (field, code)


def heater(**fields: str) -> Answer:
    return run("heater_airflow", {"entering_dry_bulb": "74 F", "barometer": "101325 Pa", **fields})


@pytest.mark.parametrize(
    ("voltage", "current", "rise", "cfm"),
    [
        # common practice, no source: cfm = W × 3.412142/(1.08 × rise); the constant 1.08 rounds 0.24 and 0.075
        ("235 V", "75 A", "36 F", 1546.8),
        ("235 V", "49 A", "30 F", 1212.68),
    ],
)
def test_heater_airflow_in_standard_air(voltage: str, current: str, rise: str, cfm: float) -> None:
    answer = heater(voltage=voltage, current=current, temperature_rise=rise)
    assert value(answer, "standard_airflow") / CFM == pytest.approx(cfm, rel=2e-3)
    assert answer.results["standard_airflow"].shown.endswith("scfm")
    watts = float(voltage.split()[0]) * float(current.split()[0])
    by_power = heater(power=f"{watts} W", temperature_rise=rise)
    assert value(by_power, "mass_flow") == value(answer, "mass_flow")


def test_heater_airflow_at_the_site_and_on_three_phases() -> None:
    """Dry air: volume by the gas law (287.042 J/(kg·K)), power √3·V·I."""
    low = heater(power="10 kW", temperature_rise="20 K")
    high = heater(power="10 kW", temperature_rise="20 K", barometer="833 hPa")
    assert value(high, "standard_airflow") == value(low, "standard_airflow")
    assert value(high, "airflow") / value(low, "airflow") == pytest.approx(101325 / 83300, rel=1e-9)
    entering_k = (74 - 32) / 1.8 + 273.15
    mass_flow = 10000 / (1006 * 20)
    assert value(high, "mass_flow") == pytest.approx(mass_flow)
    assert value(high, "airflow") == pytest.approx(mass_flow * 287.042 * entering_k / 83300)
    one = heater(voltage="400 V", current="20 A", temperature_rise="20 K")
    three = heater(voltage="400 V", current="20 A", temperature_rise="20 K", phases="3")
    assert value(three, "mass_flow") / value(one, "mass_flow") == pytest.approx(3**0.5)
    assert "One phase taken" in told(one)
    assert "One phase taken" not in told(three)
    blown = heater(power="10 kW", temperature_rise="20 K", blower_power="500 W")
    assert value(blown, "mass_flow") / mass_flow == pytest.approx(1.05)
    unread = run("heater_airflow", {"power": "10 kW", "temperature_rise": "20 K"})
    assert unread.results["airflow"].u is not None
    assert low.results["airflow"].u is not None
    assert unread.results["airflow"].u > low.results["airflow"].u
    assert "Entering air taken as" in told(unread)


@pytest.mark.parametrize(
    ("fields", "field", "code"),
    [
        ({"temperature_rise": "36 F"}, "power", "missing"),
        ({"temperature_rise": "36 F", "voltage": "235 V"}, "current", "missing"),
        ({"temperature_rise": "36 F", "power": "9 kW", "voltage": "9 V", "current": "5 A"}, "current", "contradiction"),
        ({"temperature_rise": "0 F", "power": "10 kW"}, "temperature_rise", "out_of_range"),
        ({"power": "10 kW"}, "temperature_rise", "missing"),
        ({"power": "10 kW", "temperature_rise": "20 K", "phases": "2"}, "phases", "unknown_choice"),
    ],
)  # fmt: skip
def test_heater_airflow_refuses(fields: dict[str, str], field: str, code: str) -> None:
    (fault,) = heater(**fields).errors
    assert (fault.field, fault.code) == (field, code)
