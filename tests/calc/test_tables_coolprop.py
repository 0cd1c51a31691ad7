"""Every table against CoolProp at random points: pure substances by its own saturation, blends from a traced guess.

Never against a blend flash without a guess: it fails near the critical point and is sometimes wrong without a word.
"""

from __future__ import annotations

import copy
import dataclasses
import json
import random
from importlib.resources import files
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


# J. Phys. Chem. Ref. Data 52 (2023) 013101, Table XIII, as in CoolProp src/Tests/CoolProp-Tests.cpp: residual Helmholtz
# energy of the mixture model under R-454B, R-448A, R-449A and their sisters, x1 = 0.4.
CHECK_VALUES = [
    ("R32&R1234yf", 445.0, 4149.0, -0.47311064743911),
    ("R125&R1234yf", 445.0, 3513.0, -0.46576307479447),
    ("R32&R1234ze(E)", 451.0, 4242.0, -0.48576186760231),
]


@pytest.mark.parametrize(("fluids", "t_k", "rho_molar", "expected"), CHECK_VALUES)
def test_the_library_holds_the_published_mixture_model(
    fluids: str, t_k: float, rho_molar: float, expected: float
) -> None:
    state = coolprop.AbstractState("HEOS", fluids)
    state.set_mole_fractions([0.4, 0.6])
    state.specify_phase(coolprop.iphase_gas)
    state.update(coolprop.DmolarT_INPUTS, rho_molar, t_k)
    assert state.alphar() == pytest.approx(expected, rel=1e-10)


@pytest.mark.parametrize("spoilt", ["p_pa", "rho_kg_m3", "h_j_kg", "s_j_kg_k"])
def test_the_builder_refuses_a_table_that_misses_its_limits(spoilt: str) -> None:
    import numpy as np

    from tests.reference.exact_points import Exact
    from tests.reference.fit_tables import Point, TableTooCoarse, errors_of

    exact = Exact(rows()["R-32"])
    errors_of(get("R-32").bubble, exact.sources["bubble"], 50, np.random.default_rng(1))

    def wrong(t_k: float) -> Point:
        point = exact.sources["bubble"](t_k)
        return dataclasses.replace(point, **{spoilt: getattr(point, spoilt) * 1.001})

    with pytest.raises(TableTooCoarse, match="exceed"):
        errors_of(get("R-32").bubble, wrong, 50, np.random.default_rng(1))


def test_verification_finds_a_table_that_was_altered() -> None:
    from tests.reference.build_tables import differences

    kept = json.loads((files("calc") / "data" / "refrigerants" / "R-32.json").read_text("utf-8"))
    assert differences(kept, kept) == []
    moved = copy.deepcopy(kept)
    moved["critical"]["temperature_k"] += 0.02
    assert any("temperature differs" in one for one in differences(kept, moved))
    renamed = copy.deepcopy(kept) | {"safety_group": "A1"}
    assert differences(kept, renamed) == ["R-32: safety_group is 'A1', built anew it is 'A2L'"]
