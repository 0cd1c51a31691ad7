"""Every table against CoolProp at random points: pure substances by its own saturation, blends from a traced guess.

Never against a blend flash without a guess: it fails near the critical point and is sometimes wrong without a word.
"""

from __future__ import annotations

import random
from typing import Any

import pytest

from calc import saturation as sat
from calc.refrigerants import designations, get

pytestmark = pytest.mark.coolprop
coolprop = pytest.importorskip("CoolProp")
POINTS = 50


def rows() -> dict[str, Any]:
    from tests.reference import catalogue

    return {row.designation: row for row in catalogue.rows()}


def check(name: str, side: str, t_c: float, state: Any, zero: tuple[float, float]) -> None:
    fluid = get(name)
    pressure, temperature = (
        (sat.bubble_pressure_pa, sat.bubble_temperature_c)
        if side == "bubble"
        else (sat.dew_pressure_pa, sat.dew_temperature_c)
    )
    assert temperature(fluid, state.p()) == pytest.approx(t_c, abs=0.002)
    assert pressure(fluid, t_c) == pytest.approx(state.p(), rel=2e-5)
    assert sat.density(fluid, side, t_c) == pytest.approx(state.rhomass(), rel=3e-4)
    assert sat.enthalpy(fluid, side, t_c) == pytest.approx(state.hmass() - zero[0] + 200e3, abs=100)
    assert sat.entropy(fluid, side, t_c) == pytest.approx(state.smass() - zero[1] + 1e3, abs=0.4)


@pytest.mark.parametrize("name", [n for n in designations() if get(n).pure])
def test_pure_substances(name: str) -> None:
    state = coolprop.AbstractState("HEOS", rows()[name].components[0])
    state.update(coolprop.QT_INPUTS, 0.0, 273.15)
    zero = state.hmass(), state.smass()
    rng, curve = random.Random(name), get(name).bubble
    for _ in range(POINTS):
        t_c = rng.uniform(curve.t_low_c, curve.t_high_c)
        for quality, side in enumerate(("bubble", "dew")):
            state.update(coolprop.QT_INPUTS, float(quality), t_c + 273.15)
            check(name, side, t_c, state, zero)


@pytest.mark.parametrize("name", [n for n in designations() if not get(n).pure])
def test_blends(name: str) -> None:
    from tests.reference.exact_points import Exact, guess_for

    exact = Exact(rows()[name])
    state = coolprop.AbstractState("HEOS", "&".join(exact.row.components))
    state.set_mole_fractions(exact.mole_fractions)
    rng, fluid = random.Random(name), get(name)
    zero = -exact.h_shift + 200e3, -exact.s_shift + 1e3
    for side in ("bubble", "dew"):
        curve = getattr(fluid, side)
        for _ in range(POINTS):
            t_c = rng.uniform(curve.t_low_c, curve.t_high_c)
            guess = guess_for(exact.curves[side], t_c + 273.15)
            state.update_with_guesses(coolprop.QT_INPUTS, float(side == "dew"), t_c + 273.15, guess)
            check(name, side, t_c, state, zero)
