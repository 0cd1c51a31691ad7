"""Plan of a pressure test, and the standing pressure test."""

from __future__ import annotations

from typing import Any

import pytest

from calc.working import Answer, run

PSI_PA = 6894.757293168
ATM_PA = 101325.0


def value(answer: Answer, name: str) -> float:
    assert answer.ok, answer.errors
    found = answer.results[name].value
    assert isinstance(found, float)
    return found


def gauge_psi(answer: Answer, name: str) -> float:
    return (value(answer, name) - ATM_PA) / PSI_PA


def plan(**fields: Any) -> Answer:
    usual = {"kind": "tightness", "design_pressures": ["611 psig"], "fill_temperature": "50 F"}
    return run("test_plan", {**usual, "hottest_temperature": "100 F", **fields})


def test_the_fill_leaves_room_for_the_hottest_hour() -> None:
    """550 psig at 50 °F is 611 at 100 °F: nitrogen at constant density, CoolProp 8.0.0."""
    assert gauge_psi(plan(), "fill_limit") == pytest.approx(550.0, abs=0.6)
    assert gauge_psi(plan(), "limit") == pytest.approx(611.0, abs=1e-6)
    assert gauge_psi(plan(hottest_temperature="40 F"), "fill_limit") == pytest.approx(611.0, abs=1e-6)


@pytest.mark.parametrize(
    ("fields", "limit", "governs"),
    [
        ({"design_pressures": ["450 psig", "250 psig"]}, 250.0, "design"),
        ({"design_pressures": "450 psig\n250 psig", "relief_pressure": "300 psig"}, 250.0, "design"),
        ({"design_pressures": ["450 psig"], "relief_pressure": "450 psig"}, 405.0, "relief"),
        ({"design_pressures": ["450 psig"], "kind": "strength", "factor": "1.1"}, 495.0, "factor"),
        ({"design_pressures": ["450 psig"], "kind": "strength", "factor": "1.1", "relief_pressure": "450 psig"},
         495.0, "factor"),
    ],
)  # fmt: skip
def test_what_sets_the_limit(fields: dict[str, Any], limit: float, governs: str) -> None:
    """Lowest design pressure and 0.9 of the relief setting, or factor × design: common practice, no source."""
    answer = plan(**fields)
    assert gauge_psi(answer, "limit") == pytest.approx(limit, abs=1e-6)
    assert answer.results["governed_by"].value == governs
    assert value(answer, "fill_limit") <= value(answer, "limit")


def test_the_limit_is_what_a_gauge_shows_wherever_the_site_lies() -> None:
    high = plan(elevation="2150 m")
    assert high.results["limit"].shown.startswith("611")
    assert value(high, "limit") < value(plan(), "limit")


def test_steps_rise_to_the_fill_and_strength_comes_down_again() -> None:
    steps = plan().results["steps"].value
    pressures = [step["pressure"] for step in steps]
    assert pressures == sorted(pressures)
    assert pressures[-1] == value(plan(), "fill_limit")
    assert steps[-1]["wait"] >= 15 * 60, "reading starts 15 minutes or more after pressurising"
    strength = plan(kind="strength", factor="1.1")
    last = strength.results["steps"].value[-1]["pressure"]
    assert (last - ATM_PA) / PSI_PA == pytest.approx(611.0)


@pytest.mark.parametrize(
    ("fields", "field", "code"),
    [
        ({"kind": "strength"}, "factor", "missing"),
        ({"design_pressures": None}, "design_pressures", "missing"),
        ({"design_pressures": ["450 psi"]}, "design_pressures", "gauge_or_absolute"),
        ({"design_pressures": ["-2 psig"]}, "design_pressures", "impossible"),
        ({"relief_pressure": "-1 psig"}, "relief_pressure", "impossible"),
        ({"design_pressures": ["2500 psig"], "kind": "strength", "factor": "2"}, "factor", "out_of_range"),
        ({"hottest_temperature": "90 C"}, "hottest_temperature", "out_of_range"),
        ({"kind": "strength", "factor": "0.9"}, "factor", "out_of_range"),
    ],
)
def test_no_plan_without_what_it_needs(fields: dict[str, Any], field: str, code: str) -> None:
    """Design pressure comes from the plate, the factor from the code: neither has a default."""
    answer = plan(**fields)
    assert not answer.ok
    assert [(fault.field, fault.code) for fault in answer.errors] == [(field, code)]


def test_the_act_is_cautioned() -> None:
    said = " ".join(str(caution) for caution in plan().cautions)
    for word in ("never oxygen", "regulator", "suffocates", "clear"):
        assert word in said
