"""Rounding to the uncertainty. Rule of places: Review of Particle Physics, 5.3 (from memory); JCGM 100:2008, 7.2.6."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.display import alone, decimals_of, plain, with_uncertainty
from calc.notation import read_quantity


@pytest.mark.parametrize(
    ("number", "expanded", "shown"),
    [
        (11.178, 0.936, "11.2 ± 0.9"),
        (9.81, 1.6, "9.8 ± 1.6"),
        (0.827, 0.119, "0.83 ± 0.12"),  # Review of Particle Physics, 5.3
        (0.827, 0.367, "0.8 ± 0.4"),  # same
        (500.0, 57.7, "500 ± 60"),
        (10.0, 0.96, "10.0 ± 1.0"),
        (-0.04, 1.6, "0.0 ± 1.6"),
        (-0.3, 0.5, "−0.3 ± 0.5"),
        (123456.0, 2345.0, "123500 ± 2300"),
    ],
)
def test_both_are_rounded_alike(number: float, expanded: float, shown: str) -> None:
    assert with_uncertainty(number, expanded, "") == shown


@pytest.mark.parametrize(
    ("number", "most", "shown"),
    [
        (0.0, 3, "0 K"),
        (101325.0, 3, "101325 K"),
        (25.4, 3, "25.4 K"),
        (0.77912, 1, "0.8 K"),
        (-14.6959, 3, "−14.7 K"),
        (1.0, 3, "1 K"),
    ],
)
def test_without_uncertainty(number: float, most: int, shown: str) -> None:
    assert alone(number, "K", most) == shown


@given(st.floats(-1e5, 1e5), st.floats(1e-3, 1e5))
def test_what_is_shown_reads_back_within_its_rounding(number: float, expanded: float) -> None:
    shown = with_uncertainty(number, expanded, "°F")
    typed = read_quantity(shown, "temperature")
    step = 10.0 ** -decimals_of(expanded)
    assert typed.number == pytest.approx(number, abs=0.5001 * step + 1e-9)
    assert typed.limit is not None
    assert typed.limit * 1.8 == pytest.approx(expanded, abs=0.5001 * step + 1e-9)
    assert step < expanded * 1.06


@given(st.floats(-1e6, 1e6), st.integers(-3, 6))
def test_no_minus_before_zero(number: float, decimals: int) -> None:
    text = plain(number, decimals)
    assert not (text.startswith("−") and float(text[1:]) == 0)
