"""Conductance of hoses, and the time of an evacuation."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.flow import GASES, conductance, molecular, regime, viscosity, viscous
from calc.working import Answer, run

AIR = GASES["air"]
TORR_PA = 101325 / 760


def value(answer: Answer, name: str) -> float:
    assert answer.ok, answer.errors
    found = answer.results[name].value
    assert isinstance(found, float)
    return found


@pytest.mark.parametrize(
    ("gas", "litres", "share"),
    [
        # a public page on molecular flow, bore 5 and length 100 cm: 12.1·D³/L = 15.125 for air, 40.7 for helium
        ("air", 15.125, 0.003),
        ("helium", 40.7, 0.003),
    ],
)
def test_molecular_flow(gas: str, litres: float, share: float) -> None:
    assert 1000 * molecular(0.05, 1.0, GASES[gas], 20.0) == pytest.approx(litres, rel=share)


def test_molecular_flow_of_a_handbook() -> None:
    """A vacuum-engineering handbook, 7.3.2: bore 0.07 m, length with bends 2.47 m, 471 m/s: 0.017123 m³/s.

    It calls the gas air; 471 m/s is the mean speed of nitrogen at 293 K.
    """
    assert molecular(0.07, 2.47, GASES["nitrogen"], 19.85) == pytest.approx(0.017123, rel=0.003)


def test_viscous_flow() -> None:
    """Lecture notes on vacuum technology: 135·D⁴·p/L in cm and mbar (where printed with Torr, the unit is a slip)."""
    assert 1000 * viscous(0.01, 1.0, 100.0, AIR, 20.0) == pytest.approx(1.35, rel=0.003)


@pytest.mark.parametrize(
    ("bore_cm", "length_cm", "mbar", "litres"),
    [
        # Knudsen's formula with the rounded numbers of standard vacuum texts: 135, 12.1, 192, 237 (cm, mbar, L/s)
        (1.0, 100.0, 1.0, 1.448),
        (1.0, 100.0, 0.1, 0.2340),
        (0.635, 152.4, 0.6666, 0.1125),
        (0.9525, 152.4, 0.6666, 0.5417),
        (5.0, 100.0, 1e-4, 14.9),
    ],
)
def test_transition(bore_cm: float, length_cm: float, mbar: float, litres: float) -> None:
    found = 1000 * conductance(bore_cm / 100, length_cm / 100, 100 * mbar, AIR, 20.0)
    assert found == pytest.approx(litres, rel=0.005)
    answer = run("hose_conductance", {"bore": f"{bore_cm} cm", "length": f"{length_cm} cm",
                                      "mean_pressure": f"{mbar} mbar"})  # fmt: skip
    assert value(answer, "conductance") == pytest.approx(found / 1000)


@pytest.mark.parametrize(
    ("torr_cm", "flow"), [(0.6, "viscous"), (0.4, "transition"), (0.011, "transition"), (0.009, "molecular")]
)
def test_regimes(torr_cm: float, flow: str) -> None:
    """Viscous above 0.5 Torr·cm, molecular below 0.01: lecture notes on vacuum technology."""
    assert regime(0.01, torr_cm * TORR_PA, AIR, 20.0) == flow


@pytest.mark.coolprop
@pytest.mark.parametrize(("name", "fluid"), [("air", "Air"), ("nitrogen", "Nitrogen"), ("helium", "Helium"),
                                             ("water_vapour", "Water")])  # fmt: skip
def test_viscosities_against_coolprop(name: str, fluid: str) -> None:
    from CoolProp.CoolProp import PropsSI

    for at in range(0 if name == "water_vapour" else -40, 81, 10):
        pascal = 100.0 if name == "water_vapour" and at > 0 else 1000.0
        if name == "water_vapour" and at == 0:
            continue  # ice, not vapour, at this pressure
        theirs = PropsSI("V", "P", pascal, "T", at + 273.15, fluid)
        assert viscosity(GASES[name], at) == pytest.approx(theirs, rel=0.015)


@given(st.floats(1e-3, 0.05), st.floats(0.1, 20.0), st.floats(1e-3, 1e5), st.sampled_from(sorted(GASES)))
def test_conductance_lies_between_its_limits(bore: float, length: float, pascal: float, gas: str) -> None:
    found = conductance(bore, length, pascal, GASES[gas], 20.0)
    thin, thick = molecular(bore, length, GASES[gas], 20.0), viscous(bore, length, pascal, GASES[gas], 20.0)
    assert thick + 0.8 * thin < found <= (thick + thin) * (1 + 1e-12)
    assert conductance(bore, 2 * length, pascal, GASES[gas], 20.0) == pytest.approx(found / 2)
    assert conductance(1.1 * bore, length, pascal, GASES[gas], 20.0) > found


def hose(**fields: Any) -> Answer:
    return run("hose_conductance", {"bore": "3/8 in", "length": "5 ft", "mean_pressure": "500 micron", **fields})


def test_the_hose_has_its_doubt() -> None:
    answer = hose(bore="9.5 mm ± 0.1")
    assert answer.results["conductance"].u == pytest.approx(
        2 * value(answer, "conductance") * ((0.05 / 3**0.5) ** 2 + (3.9 * 0.1 / 9.5 / 3**0.5) ** 2) ** 0.5, rel=0.03
    )
    assert any("outweigh" in str(note) for note in answer.notes)
    assert any("ten bores" in str(note) for note in hose(length="2 in").notes)


@pytest.mark.parametrize(
    ("fields", "field", "code"),
    [
        ({"mean_pressure": "-29 psig"}, "mean_pressure", "gauge_or_absolute"),
        ({"bore": "0 in"}, "bore", "out_of_range"),
        ({"bore": "3/8"}, "bore", "unit"),
        ({"gas": "freon"}, "gas", "unknown_choice"),
        ({"length": None}, "length", "missing"),
    ],
)
def test_no_conductance_from_what_cannot_be(fields: dict[str, Any], field: str, code: str) -> None:
    assert [(fault.field, fault.code) for fault in hose(**fields).errors] == [(field, code)]
