"""Vapour pressure of water over ice and liquid."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.water import (
    boiling_pressure_pa,
    boiling_temperature_c,
    frost_temperature_c,
    sublimation_pressure_pa,
    vapour_pressure_pa,
    water_temperature_c,
)
from calc.working import run

MICRON_PA = 101325 / 760000


def test_published_check_values() -> None:
    # IAPWS R14-08 (2011), table 3
    assert sublimation_pressure_pa(230.0 - 273.15) == pytest.approx(8.94735, abs=5e-6)
    # IAPWS-IF97 (2012), table 35 (pressures) and table 36 (temperatures, from memory)
    for kelvin, mega in ((300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)):
        assert boiling_pressure_pa(kelvin - 273.15) == pytest.approx(mega * 1e6, rel=5e-9)
    for mega, kelvin in ((0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)):
        assert boiling_temperature_c(mega * 1e6) + 273.15 == pytest.approx(kelvin, abs=5e-7)
    # IAPWS SR1-86 (1992), table 1: triple point and normal boiling point
    assert sublimation_pressure_pa(0.01) == pytest.approx(611.657, abs=5e-4)
    assert boiling_pressure_pa(0.01) == pytest.approx(611.657, abs=5e-3)
    assert boiling_pressure_pa(373.1243 - 273.15) == pytest.approx(101325.0, abs=3.0)


@pytest.mark.parametrize(
    ("temperature_c", "pressure_pa", "tolerance"),
    [
        # ASHRAE Fundamentals 2017, chapter 1, table 3 (as carried in PsychroLib's tests); 300 ppm beside half a digit
        (-60.0, 1.08, 0.005),
        (-20.0, 103.24, 0.03),
        (-5.0, 401.74, 0.005),
        (5.0, 872.6, 0.05),
        (50.0, 12351.3, 0.05),
        (100.0, 101418.0, 1.0),
        # IAPWS-95 by CoolProp 8.0.0 above the triple point, IAPWS R14-08 by iapws 1.5.5 below it
        (-40.0, 12.84117, 1e-5),
        (-10.0, 259.8738, 1e-4),
        (20.0, 2339.318, 0.5),
        (60.0, 19946.43, 2.0),
    ],
)
def test_handbook_tables(temperature_c: float, pressure_pa: float, tolerance: float) -> None:
    assert vapour_pressure_pa(temperature_c) == pytest.approx(pressure_pa, abs=tolerance)


@pytest.mark.parametrize(
    ("micron", "temperature_f", "phase"),
    [
        # IAPWS R14-08 and IAPWS-95 inverted with iapws 1.5.5 and CoolProp 8.0.0. Public tables that give 500 micron as
        # +12 °F or 1000 micron as 34 °F follow liquid water below its triple point, where there is none.
        (50, -50.2, "ice"),
        (100, -39.4, "ice"),
        (200, -28.0, "ice"),
        (250, -24.3, "ice"),
        (300, -21.1, "ice"),
        (500, -12.1, "ice"),
        (1000, 0.85, "ice"),
        (1500, 8.75, "ice"),
        (2000, 14.5, "ice"),
        (5000, 34.2, "liquid"),
        (10000, 52.2, "liquid"),
        (20000, 71.8, "liquid"),
        (50000, 100.6, "liquid"),
        (100000, 124.8, "liquid"),
        (760000, 211.95, "liquid"),
    ],
)
def test_vacuum_level_names_frost_below_the_triple_point(micron: int, temperature_f: float, phase: str) -> None:
    answer = run("vacuum_level", {"pressure": f"{micron} micron"})
    assert answer.ok
    figure = answer.results["water_boiling_temperature"]
    assert isinstance(figure.value, float)
    assert figure.value * 1.8 + 32 == pytest.approx(temperature_f, abs=0.06)
    assert answer.results["water_phase"].value == phase
    assert answer.results["pressure"].value == pytest.approx(micron * MICRON_PA)
    assert answer.results["micron"].value == pytest.approx(micron)
    assert answer.results["micron"].unit == "micron"
    assert any("sublimation over ice" in str(note) for note in answer.notes) == (phase == "ice")


def test_inches_of_vacuum_count_down_from_the_site() -> None:
    # split-system manuals: 23 000 micron is 29.01 inHg of vacuum at the standard atmosphere (common practice)
    answer = run("vacuum_level", {"pressure": "29.01 inHgv ± 0.01"})
    assert answer.results["micron"].value == pytest.approx(23000, abs=200)
    # at 1600 m, 83 523 Pa by the ASHRAE equation, 29.01 inHg below the site's air is nothing at all
    (fault,) = run("vacuum_level", {"pressure": "29.01 inHgv", "elevation": "1600 m"}).errors
    assert (fault.field, fault.code) == ("pressure", "impossible")
    assert "24.7 inHgv" in str(fault.hint) or "24.66 inHgv" in str(fault.hint)


def test_a_gauge_reading_is_no_vacuum_level() -> None:
    (fault,) = run("vacuum_level", {"pressure": "1 psig"}).errors
    assert fault.code == "gauge_or_absolute"


def test_the_vacuum_gauge_is_assumed_good_to_ten_percent() -> None:
    answer = run("vacuum_level", {"pressure": "500 micron"})
    assert answer.results["micron"].u == pytest.approx(2 * 50 / 3**0.5)
    assert any("vacuum gauge: 10 %" in str(note) for note in answer.notes)
    compound = run("vacuum_level", {"pressure": "22 inHgv"})
    assert any("gauge pressures: 1 %" in str(note) for note in compound.notes)


@given(st.floats(-100.0, 370.0))
def test_pressure_and_temperature_are_inverse(temperature_c: float) -> None:
    # IF97's two equations agree to a few µK; the sublimation line is inverted exactly
    assert water_temperature_c(vapour_pressure_pa(temperature_c)) == pytest.approx(temperature_c, abs=2e-4)


@given(st.floats(0.1, 611.0), st.floats(1.0001, 1.5))
def test_frost_is_warmer_at_more_pressure(pressure_pa: float, ratio: float) -> None:
    assert frost_temperature_c(pressure_pa * ratio) > frost_temperature_c(pressure_pa) or pressure_pa * ratio > 611.657
