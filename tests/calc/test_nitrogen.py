"""Nitrogen against published densities, against CoolProp, and at constant volume."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.nitrogen import HIGHEST_C, HIGHEST_PA, LOWEST_C, density_kg_m3, pressure_pa, same_gas_pa

PSI_PA = 6894.757293168
ATM_PSI = 14.695949


@pytest.mark.parametrize(
    ("kelvin", "pascal", "density", "half_digit"),
    [
        # J. Phys. Chem. Ref. Data 11, Suppl. 1 (1982), appendix I, nitrogen
        (300.0, 101325.0, 1.138, 5e-4),
        (260.0, 0.3e6, 3.895, 5e-4),
        (350.0, 0.8e6, 7.693, 5e-4),
        # J. Phys. Chem. Ref. Data 29 (2000) 1361: 6.3552 mol/dm³
        (350.0, 20e6, 6.3552 * 28.01348, 5e-5 * 28.0135),
    ],
)
def test_published_densities(kelvin: float, pascal: float, density: float, half_digit: float) -> None:
    assert density_kg_m3(pascal, kelvin - 273.15) == pytest.approx(density, abs=half_digit)


@pytest.mark.coolprop
def test_against_coolprop_over_the_whole_range() -> None:
    """CoolProp 8.0.0, Nitrogen: within 0.02 % everywhere (in fact to the last digits: the same equation of state)."""
    from CoolProp.CoolProp import PropsSI

    for pascal in (1e3, 1e5, 3e5, 1e6, 2e6, 4e6, 7e6, 10e6, 15e6, HIGHEST_PA):
        for at in range(int(LOWEST_C), int(HIGHEST_C) + 1, 5):
            theirs = PropsSI("D", "P", pascal, "T", at + 273.15, "Nitrogen")
            assert density_kg_m3(pascal, at) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(
    ("gauge_psi", "start_f", "end_f", "ideal_psi", "real_psi"),
    [
        # inputs: a trade-press article on dry-nitrogen testing; a teaching note (its 143.8 is a slip)
        (150.0, 80.0, 70.0, 146.95, 146.87),
        (150.0, 95.0, 75.0, 144.06, 143.92),
        # worked with CoolProp 8.0.0 at constant density
        (450.0, 70.0, 90.0, 467.55, 468.89),
        (600.0, 77.0, 50.0, 569.07, 566.02),
        (300.0, 60.0, 100.0, 324.22, 325.53),
        (600.0, 14.0, 122.0, 740.16, 758.42),
        (550.0, 85.0, 60.0, 524.1, 521.8),
    ],
)  # fmt: skip
def test_constant_volume(gauge_psi: float, start_f: float, end_f: float, ideal_psi: float, real_psi: float) -> None:
    start, end = (start_f - 32) / 1.8, (end_f - 32) / 1.8
    absolute = (gauge_psi + ATM_PSI) * PSI_PA
    real = same_gas_pa(absolute, [start], [end], [1.0]) / PSI_PA - ATM_PSI
    assert real == pytest.approx(real_psi, abs=0.05 if real_psi == 521.8 else 0.006)
    ideal = absolute * (end + 273.15) / (start + 273.15) / PSI_PA - ATM_PSI
    assert ideal == pytest.approx(ideal_psi, abs=0.05)


def test_parts_at_one_temperature_are_one_volume() -> None:
    one = same_gas_pa(3.9e6, [30.0], [10.0], [1.0])
    assert same_gas_pa(3.9e6, [30.0] * 3, [10.0] * 3, [0.2, 0.3, 0.5]) == pytest.approx(one, rel=1e-10)


@given(
    st.floats(1e3, HIGHEST_PA), st.floats(LOWEST_C, HIGHEST_C), st.floats(LOWEST_C, HIGHEST_C), st.floats(0.05, 0.95)
)
def test_round_trips(pascal: float, first: float, second: float, share: float) -> None:
    assert pressure_pa(density_kg_m3(pascal, first), first) == pytest.approx(pascal, rel=1e-10)
    there = same_gas_pa(pascal, [first, first], [second, first], [share, 1 - share])
    assert same_gas_pa(there, [second, first], [first, first], [share, 1 - share]) == pytest.approx(pascal, rel=1e-9)
    assert (there - pascal) * (second - first) >= 0 or abs(there / pascal - 1) < 1e-9
