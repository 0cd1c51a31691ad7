"""Standard atmosphere and the site's air pressure, against ASHRAE Fundamentals 2017 chapter 1 table 1 and libraries."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.pressure import standard_atmosphere_pa
from calc.working import run

PSI_PA = 6894.757293168


@pytest.mark.parametrize(
    ("elevation", "pressure_pa", "tolerance"),
    [
        # ASHRAE Fundamentals 2017, chapter 1, table 1, as carried in PsychroLib's tests; half the last digit
        ("-500 m", 107478.0, 0.5),
        ("0 m", 101325.0, 0.0),
        ("500 m", 95461.0, 0.5),
        ("4000 m", 61640.0, 0.5),
        ("10000 m", 26436.0, 0.5),
        # the same table in feet; it was made from unrounded metres, which the equation misses by up to 0.15 %
        ("-1000 ft", 15.236 * PSI_PA, 2e-3 * PSI_PA),
        ("1000 ft", 14.175 * PSI_PA, 3e-3 * PSI_PA),
        ("10000 ft", 10.108 * PSI_PA, 3e-3 * PSI_PA),
        ("30000 ft", 4.371 * PSI_PA, 7e-3 * PSI_PA),
        ("5280 ft", 12.100 * PSI_PA, 1e-3 * PSI_PA),  # ASHRAE equation worked by hand, 24.64 inHg
    ],
)
def test_site_pressure_is_the_standard_atmosphere(elevation: str, pressure_pa: float, tolerance: float) -> None:
    answer = run("site_pressure", {"elevation": elevation})
    assert answer.ok
    assert answer.results["site_pressure"].value == pytest.approx(pressure_pa, abs=tolerance)
    assert answer.results["site_pressure"].u == pytest.approx(1500.0)  # the weather, k = 2: common practice, no source


def test_it_is_geopotential_height_so_the_geometric_atmosphere_differs_a_little() -> None:
    # US Standard Atmosphere 1976 at geometric 1000, 2000, 3000 m, by the libraries fluids 1.3.1 and ambiance 1.3.1
    for elevation, pressure_pa in ((1000.0, 89876.3), (2000.0, 79501.4), (3000.0, 70121.2)):
        assert standard_atmosphere_pa(elevation) == pytest.approx(pressure_pa, rel=3e-4)


@given(st.floats(-5000.0, 10999.0), st.floats(0.1, 1.0))
def test_higher_is_thinner(elevation_m: float, step_m: float) -> None:
    assert standard_atmosphere_pa(elevation_m + step_m) < standard_atmosphere_pa(elevation_m)


def dew(**fields: str) -> float:
    answer = run("saturation", {"refrigerant": "R-134a", **fields})
    assert answer.ok, answer.errors
    value = answer.results["dew_temperature"].value
    assert isinstance(value, float)
    return value


def test_a_gauge_counts_from_the_site_not_from_the_sea() -> None:
    # R-134a at 20 psig and 1600 m is 3.64 °F from the sea-level answer (ASHRAE equation, dew line of CoolProp 8.0.0)
    apart = dew(pressure="20 psig") - dew(pressure="20 psig", elevation="1600 m")
    assert apart * 1.8 == pytest.approx(3.64, abs=0.01)


def test_an_absolute_reading_does_not_care_for_the_site() -> None:
    assert dew(pressure="30 psia") == dew(pressure="30 psia", elevation="1600 m")


def test_a_barometer_takes_the_place_of_the_elevation() -> None:
    typed = dew(pressure="20 psig", barometer="835 hPa", elevation="1600 m")
    assert typed == pytest.approx(dew(pressure=f"{20 + 83500 / PSI_PA} psia"), abs=1e-9)


def test_a_barometer_reduced_to_sea_level_is_asked_about() -> None:
    answer = run(
        "saturation", {"refrigerant": "R-134a", "pressure": "20 psig", "barometer": "1013 hPa", "elevation": "1600 m"}
    )
    assert not answer.ok
    (fault,) = answer.errors
    assert (fault.field, fault.given, fault.code) == ("barometer", "1013 hPa", "contradiction")
    assert "reduced to sea level?" in str(fault.hint)
    assert "835.2 hPa" in str(fault.problem)
    close = {"refrigerant": "R-134a", "pressure": "20 psig", "elevation": "0 m"}
    assert run("saturation", {**close, "barometer": f"{1013.25 * 1.039} hPa"}).ok
    assert not run("saturation", {**close, "barometer": f"{1013.25 * 1.041} hPa"}).ok


def test_without_either_sea_level_is_assumed_and_said() -> None:
    notes = [str(note) for note in run("saturation", {"refrigerant": "R-134a", "pressure": "20 psig"}).notes]
    assert any(note.startswith("Sea level assumed") for note in notes)
    notes = [
        str(n) for n in run("saturation", {"refrigerant": "R-134a", "pressure": "20 psig", "elevation": "5 m"}).notes
    ]
    assert not any(note.startswith("Sea level assumed") for note in notes)
