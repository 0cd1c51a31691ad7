"""Evacuation behind hoses against closed forms and scipy, and what is refused."""

from __future__ import annotations

from math import inf, log
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.evacuation import Hose, Rig, at_pump_pa, effective_speed, limit_pressure_pa, time_s
from calc.flow import GASES, conductance
from calc.units import MICRON_PA
from calc.working import Answer, run

AIR = GASES["air"]
QUARTER = Hose(0.00635, 1.524, 0, "a")
WIDE = Hose(0.0127, 0.914, 0, "a")


def evacuate(**fields: Any) -> Answer:
    usual = {"volume": "20 L", "pump_speed": "5 cfm", "target_pressure": "300 micron"}
    return run("evacuation_time", {**usual, **fields})


def value(answer: Answer, name: str) -> float:
    assert answer.ok, answer.errors
    found = answer.results[name].value
    assert isinstance(found, float)
    return found


def test_without_hoses_it_is_the_logarithm() -> None:
    """t = V/S·ln((p0 − p_ult)/(p − p_ult)): vacuum technology, worked by hand."""
    found = time_s(Rig(0.001, 2.0, ()), 0.010, 101325.0, 66.66, 0.0)
    assert found == pytest.approx(10.0 * log(101323.0 / 64.66), rel=1e-6)
    leak = time_s(Rig(0.001, 0.0, ()), 0.010, 101325.0, 66.66, 0.01)
    assert leak == pytest.approx(10.0 * log((101325.0 - 10.0) / (66.66 - 10.0)), rel=1e-6)


def test_the_speed_behind_a_conductance() -> None:
    """A vacuum-engineering handbook, 7.3.2: 2.9722e-2 behind 1.7123e-2 m³/s leaves 1.0864e-2 m³/s."""
    assert pytest.approx(1.0864e-2, abs=5e-7) == 1 / (1 / 2.9722e-2 + 1 / 1.7123e-2)
    # the same rig, its tube (0.07 by 2.47 m) in molecular flow; there with the mean speed of nitrogen, here of air
    found = effective_speed(Rig(2.9722e-2, 0.0, (Hose(0.07, 2.47, 0, ""),)), 1e-4)
    assert found == pytest.approx(1.0864e-2, rel=0.015)


def test_ultimate_pressure_against_a_leak() -> None:
    """p = p_ult + Q/S: identity, vacuum technology."""
    assert limit_pressure_pa(Rig(0.002, 3.0, ()), 0.01) == pytest.approx(8.0, rel=1e-9)
    assert limit_pressure_pa(Rig(0.002, 3.0, ()), 0.0) == 3.0
    assert limit_pressure_pa(Rig(1e-6, 0.0, ()), 1.0) == inf


@pytest.mark.parametrize(
    ("hoses", "leak"),
    [((QUARTER,), 0.0), ((Hose(0.00635, 1.524, 1, "a"),), 0.0), ((WIDE, WIDE), 1e-3), ((QUARTER, WIDE), 1e-4)],
)
def test_against_scipy(hoses: tuple[Hose, ...], leak: float) -> None:
    """scipy.integrate.solve_ivp (1.17) steps the same equation in time, with its own event at the target."""
    integrate = pytest.importorskip("scipy.integrate")
    rig, volume, target = Rig(0.00236, 2.0, hoses), 0.020, 60.0
    ours = time_s(rig, volume, 101325.0, target, leak)

    def fall(_: float, p: Any) -> list[float]:
        pressure = max(float(p[0]), 2.5)
        return [(leak - effective_speed(rig, pressure) * (pressure - rig.ultimate_pa)) / volume]

    def there(_: float, p: Any) -> float:
        return float(p[0]) - target

    there.terminal = True  # type: ignore[attr-defined]
    theirs = integrate.solve_ivp(fall, (0, 3 * ours), [101325.0], method="LSODA", rtol=1e-8, atol=1e-6, events=there)
    assert ours == pytest.approx(float(theirs.t_events[0][0]), rel=1e-4)


def test_side_by_side_adds_and_one_behind_the_other_does_not() -> None:
    mean = 50.0
    one = conductance(QUARTER.bore_m, QUARTER.length_m, mean, AIR, 20.0)
    assert Rig(1, 0, (QUARTER, QUARTER)).hoses_conduct(mean) == pytest.approx(2 * one)
    assert Rig(1, 0, (QUARTER, QUARTER._replace(group="b"))).hoses_conduct(mean) == pytest.approx(one / 2)
    side = [{"bore": "1/4 in", "length": "5 ft", "group": "1"}] * 2
    behind = [["1/4 in", "5 ft"], ["1/4 in", "5 ft"]]
    single = [["1/4 in", "5 ft"]]
    times = [value(evacuate(hoses=hoses), "time") for hoses in (side, single, behind)]
    assert times == sorted(times)
    assert times[2] > 1.5 * times[1] > 2.2 * times[0]
    assert any("same group" in str(note) for note in evacuate(hoses=behind).notes)


def test_a_core_left_in_can_outweigh_the_hose() -> None:
    """Common practice, no source."""
    free = evacuate(hoses="3/8 in; 5 ft; no")
    cored = evacuate(hoses="3/8 in; 5 ft; yes")
    assert value(cored, "effective_speed") < 0.5 * value(free, "effective_speed")
    assert value(cored, "time") > 2 * value(free, "time")
    assert any("cores out" in str(note) for note in cored.notes)


def test_a_gauge_at_the_pump_reads_too_low() -> None:
    """By S_eff/S above the ultimate pressure: p_pump − p_ult = S_eff/S·(p − p_ult)."""
    rig = Rig(0.00236, 2.0, (QUARTER,))
    shares = (at_pump_pa(rig, 40.0) - 2.0) / (40.0 - 2.0), effective_speed(rig, 40.0) / rig.speed
    assert shares[0] == pytest.approx(shares[1], rel=1e-6)
    answer = evacuate(hoses="1/4 in; 5 ft", gauge_at="pump")
    assert any("a gauge at the pump shows" in str(note) for note in answer.notes)
    assert any("lower bound" in str(note) for note in answer.notes)


@given(st.floats(1e-4, 1e-2), st.floats(3e-3, 0.02), st.floats(0.3, 10.0), st.floats(10.0, 1000.0))
def test_hoses_only_ever_slow(speed: float, bore: float, length: float, target: float) -> None:
    free, rig = Rig(speed, 1.0, ()), Rig(speed, 1.0, (Hose(bore, length, 0, ""),))
    assert effective_speed(rig, target) < speed
    assert time_s(rig, 0.02, 101325.0, target, 0.0) > time_s(free, 0.02, 101325.0, target, 0.0)
    assert 1.0 <= at_pump_pa(rig, target) <= target


def test_doubts_reach_the_time() -> None:
    exact, rough = evacuate(), evacuate(volume="20 L ± 10 %")
    assert rough.results["time"].u == pytest.approx(2 * 0.1 / 3**0.5 * value(rough, "time"), rel=0.01)
    assert (exact.results["time"].u or 0) < 0.01 * value(exact, "time")
    assert value(evacuate(elevation="2150 m"), "time") < value(exact, "time")


@pytest.mark.parametrize(
    ("fields", "field", "code"),
    [
        ({"target_pressure": "300 micron", "ultimate_pressure": "400 micron"}, "target_pressure", "impossible"),
        ({"leak": "1 Pa.m3/s"}, "target_pressure", "impossible"),
        ({"leak": "900 Pa.m3/s"}, "leak", "impossible"),
        ({"start_pressure": "200 micron"}, "target_pressure", "contradiction"),
        ({"target_pressure": "-29 psig"}, "target_pressure", "gauge_or_absolute"),
        ({"hoses": "3/8 in"}, "hoses", "missing"),
        ({"hoses": "3/8 in; 5 ft; maybe"}, "hoses", "unknown_choice"),
        ({"pump_speed": "5"}, "pump_speed", "unit"),
        ({"volume": None}, "volume", "missing"),
    ],
)
def test_no_time_from_what_cannot_be(fields: dict[str, Any], field: str, code: str) -> None:
    answer = evacuate(**fields)
    assert [(fault.field, fault.code) for fault in answer.errors] == [(field, code)]


def test_the_target_may_be_typed_in_any_vacuum_unit() -> None:
    times = [value(evacuate(target_pressure=text), "time") for text in ("300 micron", "0.3 Torr", "300 mTorr")]
    times.append(value(evacuate(target_pressure=f"{300 * MICRON_PA:.6f} Pa"), "time"))
    assert times == pytest.approx([times[0]] * 4, rel=1e-6)
