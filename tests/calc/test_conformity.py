"""Verdicts: probability and guard band against JCGM 106:2012, ILAC-G8:09/2019 and public risk examples."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.conformity import OUTSIDE, TOO_CLOSE, WITHIN, inside, probability_inside, state


@pytest.mark.parametrize(
    ("value", "standard", "low", "high", "expected", "tolerance"),
    [
        (13.6, 1.8, 12.5, 16.3, 0.6626, 5e-5),  # JCGM 106:2012, 7.4 (prints 0.66)
        (-5.47, 0.05, -inf, -5.40, 0.9192, 5e-5),  # JCGM 106:2012, 7.3 (from memory, prints 0.92)
        (509.7, 8.6, 490.0, inf, 0.9890, 5e-5),  # JCGM 106:2012, 7.3 (from memory, prints 0.99)
        (10.0, 0.4, 9.0, 11.0, 1 - 0.01242, 5e-6),  # sandialabs/suncal, test/test_risk.py
        (10.5, 0.4, 9.0, 11.0, 1 - 0.10574, 5e-6),  # same
        (12.0, 0.4, 9.0, 11.0, 1 - 0.99379, 5e-6),  # same
    ],
)
def test_probability_of_being_inside(
    value: float, standard: float, low: float, high: float, expected: float, tolerance: float
) -> None:
    assert probability_inside(value, standard, low, high) == pytest.approx(expected, abs=tolerance)


def test_the_guard_band_of_ilac_g8() -> None:
    """A result on the acceptance limit w = U (k = 2) from the limit: 2.275 % specific risk (ILAC-G8:09/2019)."""
    assert 1 - inside(8.0, 2.0, high=10.0) == pytest.approx(0.02275, abs=5e-6)
    assert state(8.0, 2.0, high=10.0) == WITHIN
    assert state(8.0001, 2.0, high=10.0) == TOO_CLOSE
    assert state(12.0, 2.0, high=10.0) == TOO_CLOSE
    assert state(12.0001, 2.0, high=10.0) == OUTSIDE


def test_without_doubt_the_limit_decides() -> None:
    assert (state(10.0, 0.0, 0.0, 10.0), probability_inside(10.0, 0.0, 0.0, 10.0)) == (WITHIN, 1.0)
    assert (state(10.1, 0.0, 0.0, 10.0), probability_inside(10.1, 0.0, 0.0, 10.0)) == (OUTSIDE, 0.0)


@given(st.floats(-100, 100), st.floats(0.01, 50), st.floats(-50, 50), st.floats(0, 50))
def test_the_pinned_rule_and_the_probability_agree(x: float, u: float, target: float, tolerance: float) -> None:
    said = state(x, u, target - tolerance, target + tolerance)
    chance = inside(x, u, target - tolerance, target + tolerance)
    miss = abs(x - target)
    if abs(miss + u - tolerance) > 1e-6 and abs(miss - u - tolerance) > 1e-6:
        assert said == (WITHIN if miss + u <= tolerance else OUTSIDE if miss - u > tolerance else TOO_CLOSE)
    assert 0.0 <= chance <= 1.0
    if said == WITHIN:
        assert chance > 0.954
    if said == OUTSIDE:
        assert chance < 0.023
