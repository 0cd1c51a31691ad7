"""Moist air against values printed in ASHRAE's tables and examples, and against PsychroLib 2.5.0."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import moist_air as air
from calc.working import run

SEA = 101325.0


def library() -> Any:
    """PsychroLib, in SI; what needs it is left out inside Pyodide."""
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    return psychrolib


def state(**fields: str) -> dict[str, float]:
    answer = run("moist_air", fields)
    assert answer.ok, [str(fault.problem) for fault in answer.errors]
    return {name: float(figure.value) for name, figure in answer.results.items()}


def pair(dry_c: float, wet_c: float, pressure_pa: float = SEA, **more: str) -> dict[str, float]:
    return state(dry_bulb=f"{dry_c!r} C", wet_bulb=f"{wet_c!r} C", barometer=f"{pressure_pa!r} Pa", **more)


@pytest.mark.parametrize(
    ("temperature_c", "ratio", "share", "enthalpy"),
    [
        # ASHRAE Handbook—Fundamentals (2017), chapter 1, table 2, as PsychroLib's own tests quote it, with the shares
        # that the ideal mixture may miss the real gas by
        (-50.0, 0.0000243, 0.01, -50.222),
        (-20.0, 0.0006373, 0.01, None),
        (-5.0, 0.0024863, 0.005, 1.164),
        (5.0, None, 0.0, 18.639),
        (25.0, 0.020173, 0.005, 76.504),
        (50.0, 0.086863, 0.01, 275.353),
        (85.0, 0.838105, 0.02, None),
    ],
)
def test_saturated_air_of_the_table(
    temperature_c: float, ratio: float | None, share: float, enthalpy: float | None
) -> None:
    found = state(dry_bulb=f"{temperature_c} C", relative_humidity="100 %", barometer="101325 Pa")
    if ratio is not None:
        assert found["humidity_ratio"] == pytest.approx(ratio, rel=share)
    if enthalpy is not None:
        assert found["enthalpy"] / 1000 == pytest.approx(enthalpy, rel=0.01, abs=0.035)
    assert found["wet_bulb"] == pytest.approx(temperature_c, abs=1e-6)
    assert found["dew_point"] == pytest.approx(temperature_c, abs=1e-6)


def test_worked_examples_of_the_handbook() -> None:
    """ASHRAE Handbook—Fundamentals (2017), chapter 1, example 1, read off the chart, in SI and in I-P."""
    si = pair(40.0, 20.0)
    assert si["humidity_ratio"] == pytest.approx(0.0065, abs=1e-4)
    assert si["dew_point"] == pytest.approx(7.0, abs=0.5)
    assert si["relative_humidity"] == pytest.approx(0.14, abs=0.01)
    assert si["enthalpy"] == pytest.approx(56700, abs=100)
    assert si["specific_volume"] == pytest.approx(0.896, rel=0.01)
    answer = run("moist_air", {"dry_bulb": "100 F ± 0.1", "wet_bulb": "65 F ± 0.1", "barometer": "101325 Pa ± 1"})
    shown = {name: float(figure.shown.split()[0]) for name, figure in answer.results.items()}
    assert shown["enthalpy"] == pytest.approx(29.80, abs=0.1)
    assert answer.results["enthalpy"].shown.endswith("Btu/lb")
    assert shown["specific_volume"] == pytest.approx(14.22, rel=0.01)
    assert float(answer.results["humidity_ratio"].value) == pytest.approx(0.00523, abs=1e-4)
    assert float(answer.results["dew_point"].value) * 1.8 + 32 == pytest.approx(40.0, abs=1.0)


@pytest.mark.parametrize(
    ("dry", "wet", "pressure_pa", "ratio"),
    [
        # a spreadsheet of the same equations, quoted in PsychroLib's tests
        ("30 C", "25 C", 95461.0, 0.0192281274241096),
        ("86 F", "77 F", 14.175 * 6894.757293168, 0.0187193288418892),
        ("30.2 F", "23 F", 14.175 * 6894.757293168, 0.00114657481090184),
    ],
)
def test_wet_and_ice_bulb_of_a_spreadsheet(dry: str, wet: str, pressure_pa: float, ratio: float) -> None:
    rounding = 0.0 if dry.endswith("C") else 6e-6  # constants of the I-P equations are rounded otherwise
    found = state(dry_bulb=dry, wet_bulb=wet, barometer=f"{pressure_pa} Pa")["humidity_ratio"]
    assert found == pytest.approx(ratio, rel=3e-4, abs=rounding)


def test_enthalpy_in_both_systems() -> None:
    """PsychroLib's tests: 30 °C with W 0.02 is 81 316 J/kg, 86 °F 42.6168 Btu/lb; dry air at 77 °F 18.498 Btu/lb."""
    from calc.units import named_unit

    unit = named_unit("Btu/lb", "air_enthalpy")
    assert air.enthalpy(30.0, 0.02) == pytest.approx(81316, rel=3e-4)
    assert (air.enthalpy(30.0, 0.02) - unit.zero) / unit.scale == pytest.approx(42.6168, rel=1e-3)
    assert (air.enthalpy(25.0, 0.0) - unit.zero) / unit.scale == pytest.approx(18.498, rel=1e-3)
    assert air.specific_volume(30.0, 0.02, 14.175 * 6894.757293168) * 16.018463 == pytest.approx(14.7205749, rel=3e-4)
    assert air.humidity_ratio(3169.7, 95461.0) == pytest.approx(0.0213603998047487, rel=1e-6)


GRID = [(dry, share, p) for dry in range(-40, 61, 10) for share in (5, 20, 50, 80, 99) for p in (SEA, 83400.0, 70000.0)]


@pytest.mark.parametrize(("dry", "share", "pressure_pa"), GRID)
def test_every_result_agrees_with_the_library_from_humidity(dry: int, share: int, pressure_pa: float) -> None:
    """Every result within 0.1 % of PsychroLib 2.5.0 (temperatures: of the kelvin)."""
    found = state(dry_bulb=f"{dry} C", relative_humidity=f"{share} %", barometer=f"{pressure_pa} Pa")
    other = library().CalcPsychrometricsFromRelHum(dry, share / 100, pressure_pa)
    ratio, wet, dew, vapour, enthalpy, volume, _ = other
    assert found["humidity_ratio"] == pytest.approx(ratio, rel=1e-3)
    assert found["wet_bulb"] == pytest.approx(wet, abs=2e-3)
    assert found["dew_point"] == pytest.approx(dew, abs=2e-3)
    assert found["vapour_pressure"] == pytest.approx(vapour, rel=1e-3)
    assert found["enthalpy"] == pytest.approx(enthalpy, rel=1e-3, abs=5.0)
    assert found["specific_volume"] == pytest.approx(volume, rel=1e-3)


@given(st.floats(-30, 60), st.floats(0.0, 15.0), st.floats(65e3, 105e3))
def test_wet_bulb_agrees_with_the_library_and_comes_back(dry: float, depression: float, pressure_pa: float) -> None:
    wet = dry - depression
    fields = {"dry_bulb": f"{dry:.3f} C", "wet_bulb": f"{wet:.3f} C", "barometer": f"{pressure_pa:.1f} Pa"}
    dry, wet, pressure_pa = round(dry, 3), round(wet, 3), round(pressure_pa, 1)
    answer = run("moist_air", fields)
    iced = wet < 0.0
    expected = air.ratio_at_wet_bulb(dry, wet, pressure_pa, iced=iced)
    if expected <= 0.0 or wet > dry:
        assert [fault.code for fault in answer.errors] == ["contradiction"]
        return
    if not answer.ok:
        assert [fault.code for fault in answer.errors] == ["outside_table"]
        assert expected < 1e-6
        return
    if expected > 1e-5:
        ratio = float(answer.results["humidity_ratio"].value)
        assert ratio == pytest.approx(library().GetHumRatioFromTWetBulb(dry, wet, pressure_pa), rel=1e-3, abs=1e-6)
        humidity = library().GetRelHumFromTWetBulb(dry, wet, pressure_pa)
        assert float(answer.results["relative_humidity"].value) == pytest.approx(humidity, rel=1e-3, abs=2e-4)
    assert air.wet_bulb_c(dry, expected, pressure_pa, iced=iced) == pytest.approx(wet, abs=1e-6)


def test_no_hole_around_a_wet_bulb_of_freezing() -> None:
    """Every humidity has a wet bulb, and the wet bulb found leads back to that humidity, whichever way the wick is."""
    dry, seen = 5.0, set()
    for tenth in range(200, 600, 2):
        share = tenth / 1000
        wet = state(dry_bulb="5 C", relative_humidity=f"{share * 100:.1f} %")["wet_bulb"]
        iced = wet < 0.0
        seen.add(iced)
        ratio = air.ratio_at_wet_bulb(dry, wet, SEA, iced=iced)
        assert air.vapour_pressure_pa(ratio, SEA) / air.saturation_pressure_pa(dry) == pytest.approx(share, abs=1e-6)
    assert seen == {True, False}
    frozen = state(dry_bulb="0 C", wet_bulb="0 C")
    assert frozen["relative_humidity"] == pytest.approx(1.0, abs=1e-9)
    assert frozen["dew_point"] == pytest.approx(0.0, abs=1e-6)
    for wet_text in ("0 C", "0.00 C", "32 F", "-0.001 C", "0.01 C", "-0 C"):
        assert 0.32 < state(dry_bulb="5 C", wet_bulb=wet_text)["relative_humidity"] < 0.38


def test_wet_and_frozen_wick_differ_at_freezing_and_it_is_said() -> None:
    """PsychroLib at 5 °C: 0.330 just above freezing (water), 0.368 just below (ice); nothing is put between."""
    assert pair(5.0, 0.02)["relative_humidity"] == pytest.approx(0.330, abs=5e-4)
    assert pair(5.0, -0.02)["relative_humidity"] == pytest.approx(0.368, abs=5e-4)
    assert pair(5.0, -0.02, wick="wet")["relative_humidity"] == pytest.approx(0.325, abs=1e-3)
    assert pair(5.0, 0.0, wick="frozen")["relative_humidity"] == pytest.approx(0.3705, abs=3e-3)
    notes = " ".join(str(n) for n in run("moist_air", {"dry_bulb": "5 C", "wet_bulb": "-0.02 C"}).notes)
    assert "look at the wick" in notes
    assert "taken as frozen" in notes
    assert "32." in notes
    said = run("moist_air", {"dry_bulb": "5 C", "wet_bulb": "-0.02 C", "wick": "frozen"})
    assert "look at the wick" not in " ".join(str(n) for n in said.notes)
    # the reading's own ± does not thaw the wick: the band stays that of one curve
    near, far = (run("moist_air", {"dry_bulb": "5 C", "wet_bulb": wet}).results for wet in ("-0.02 C", "-1.5 C"))
    assert near["relative_humidity"].u == pytest.approx(far["relative_humidity"].u, rel=0.1)


IMPOSSIBLE = [
    ({"dry_bulb": "100 F", "wet_bulb": "40 F", "barometer": "12.23 psi"}, "wet_bulb", "contradiction", "drier than"),
    ({"dry_bulb": "67 F", "wet_bulb": "80 F"}, "wet_bulb", "contradiction", "above the dry bulb"),
    ({"dry_bulb": "20 C", "dew_point": "20.1 C"}, "dew_point", "contradiction", "above the dry bulb"),
    ({"dry_bulb": "20 C", "wet_bulb": "5 C", "wick": "frozen"}, "wet_bulb", "contradiction", "frozen wick"),
    ({"dry_bulb": "-15 C", "wet_bulb": "-16 C", "wick": "wet"}, "wet_bulb", "contradiction", "freezes"),
    ({"dry_bulb": "20 C", "relative_humidity": "101 %"}, "relative_humidity", "out_of_range", "out of range"),
    ({"dry_bulb": "20 C", "relative_humidity": "0 %"}, "relative_humidity", "out_of_range", "out of range"),
    ({"dry_bulb": "-60 C", "relative_humidity": "0.1 %"}, "relative_humidity", "outside_table", "−100 °C"),
    ({"dry_bulb": "90 C", "relative_humidity": "99 %", "barometer": "30 kPa"}, "relative_humidity", "impossible", ""),
    ({"dry_bulb": "90 C", "wet_bulb": "89 C", "barometer": "30 kPa"}, "wet_bulb", "impossible", "boils"),
    ({"dry_bulb": "20 C"}, "wet_bulb", "missing", "relative humidity"),
    ({"dry_bulb": "20 C", "wet_bulb": "15 C", "dew_point": "10 C"}, "dew_point", "contradiction", "Only one"),
]  # fmt: skip


@pytest.mark.parametrize(("fields", "field", "code", "says"), IMPOSSIBLE)
def test_air_that_cannot_be_is_refused(fields: dict[str, str], field: str, code: str, says: str) -> None:
    """The first is psychrolib issue 81: a dew point of −126.65 °F there, no error."""
    (fault,) = run("moist_air", fields).errors
    assert (fault.field, fault.code) == (field, code)
    assert says in str(fault.problem)


def test_it_follows_the_site() -> None:
    """80/67 °F at 12.228 psia (5000 ft) by PsychroLib 2.5.0: W 0.014095, 53.41 %, 61.56 °F, 34.656 Btu/lb."""
    found = state(dry_bulb="80 F", wet_bulb="67 F", barometer=f"{12.228 * 6894.757293168} Pa")
    assert found["humidity_ratio"] == pytest.approx(0.014095, rel=1e-3)
    assert found["relative_humidity"] == pytest.approx(0.5341, rel=1e-3)
    assert found["dew_point"] * 1.8 + 32 == pytest.approx(61.56, abs=0.02)
