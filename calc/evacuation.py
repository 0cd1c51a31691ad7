"""How an evacuation goes: the pump behind its hoses, and the time to a pressure.

dp/dt = −S(p)/V·(p − p_ult) + Q/V with 1/S = 1/S_pump + 1/C. The conductance is taken at the mean of the pressures of
system and pump, and changes manyfold on the way, so the time is summed over steps of equal ratio in pressure.

Source: vacuum technology, common practice, no source; conductance: calc.flow.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import exp, inf, log
from typing import NamedTuple

from calc.flow import GASES, conductance

CORE_BORE_M, CORE_LENGTH_M = 2.0e-3, 0.020
"""What a valve core leaves open, as a tube; common practice, no source."""
_GAS, _AT_C = GASES["air"], 20.0
_STEPS = 160
_BISECTIONS = 40


class Hose(NamedTuple):
    """One hose: bore and length [m], valve cores left in, and the group of hoses side by side it belongs to."""

    bore_m: float
    length_m: float
    cores: int
    group: str


class Rig(NamedTuple):
    """Pump speed [m³/s], its ultimate pressure [Pa], the hoses before it, and a factor on what they conduct."""

    speed: float
    ultimate_pa: float
    hoses: tuple[Hose, ...]
    share: float = 1.0

    def hoses_conduct(self, mean_pa: float) -> float:
        """Conductance of all hoses [m³/s]: side by side within a group they add, groups follow each other."""
        groups: dict[str, float] = {}
        for hose in self.hoses:
            groups[hose.group] = groups.get(hose.group, 0.0) + _of_hose(hose, mean_pa)
        against = sum(1.0 / (self.share * conducts) for conducts in groups.values())
        return 1.0 / against if against else inf


def _of_hose(hose: Hose, mean_pa: float) -> float:
    against = 1.0 / conductance(hose.bore_m, hose.length_m, mean_pa, _GAS, _AT_C)
    if hose.cores:
        against += hose.cores / conductance(CORE_BORE_M, CORE_LENGTH_M, mean_pa, _GAS, _AT_C)
    return 1.0 / against


@lru_cache(maxsize=8192)
def at_pump_pa(rig: Rig, system_pa: float) -> float:
    """Pressure at the pump while it draws on the system.

    Parameters
        rig: pump and hoses
        system_pa: absolute pressure in the system, above the ultimate [Pa]
    Returns
        absolute pressure at the pump: the same flow passes hoses and pump [Pa]
    Source
        S·(p_pump − p_ult) = C·(p − p_pump), C at the mean of both
    """
    low, high = rig.ultimate_pa, system_pa
    if not rig.hoses:
        return system_pa
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        conducts = rig.hoses_conduct((system_pa + middle) / 2.0)
        if rig.speed * (middle - rig.ultimate_pa) < conducts * (system_pa - middle):
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def effective_speed(rig: Rig, system_pa: float) -> float:
    """What is left of the pump's speed at the system.

    Parameters
        rig: pump and hoses
        system_pa: absolute pressure in the system, above the ultimate [Pa]
    Returns
        speed [m³/s]
    Source
        1/S = 1/S_pump + 1/C, C at the mean of the pressures of system and pump
    Example
        >>> round(effective_speed(Rig(2.9722e-2, 0.0, ()), 100.0), 6)
        0.029722
    """
    if not rig.hoses:
        return rig.speed
    conducts = rig.hoses_conduct((system_pa + at_pump_pa(rig, system_pa)) / 2.0)
    return rig.speed * conducts / (rig.speed + conducts)


def limit_pressure_pa(rig: Rig, leak_pa_m3_s: float) -> float:
    """Pressure that the pump does not get below against a leak.

    Parameters
        rig: pump and hoses
        leak_pa_m3_s: what flows in [Pa·m³/s]
    Returns
        absolute pressure where pump and leak are even; infinite where the leak is more than the pump [Pa]
    Source
        S(p)·(p − p_ult) = Q
    """
    if leak_pa_m3_s <= 0:
        return rig.ultimate_pa
    low, high = rig.ultimate_pa, 2e5
    if effective_speed(rig, high) * (high - rig.ultimate_pa) <= leak_pa_m3_s:
        return inf
    for _ in range(80):
        middle = (low + high) / 2.0
        if effective_speed(rig, middle) * (middle - rig.ultimate_pa) < leak_pa_m3_s:
            low = middle
        else:
            high = middle
    return high


def time_s(rig: Rig, volume_m3: float, start_pa: float, target_pa: float, leak_pa_m3_s: float) -> float:
    """Time from one pressure down to another, gas only: no water, nothing out of oil.

    Parameters
        rig: pump and hoses
        volume_m3: volume of the system [m³]
        start_pa, target_pa: absolute pressures in the system, the target above limit_pressure_pa [Pa]
        leak_pa_m3_s: what flows in [Pa·m³/s]
    Returns
        time [s]
    Source
        ∫ V·dp/(S(p)·(p − p_ult) − Q), Simpson's rule over the logarithm of p − p_limit
    Example
        >>> round(time_s(Rig(0.001, 0.0, ()), 0.010, 101325.0, 66.66, 0.0), 2)
        73.26
    """
    floor = limit_pressure_pa(rig, leak_pa_m3_s)
    width = log((start_pa - floor) / (target_pa - floor)) / _STEPS

    def slowness(step: int) -> float:
        over = (target_pa - floor) * exp(width * step)
        pressure = floor + over
        return volume_m3 * over / (
            effective_speed(rig, pressure) * (pressure - rig.ultimate_pa) - leak_pa_m3_s
        )  # fmt: skip

    return width / 3.0 * _simpson([slowness(step) for step in range(_STEPS + 1)])


def _simpson(values: Sequence[float]) -> float:
    return values[0] + values[-1] + 4.0 * sum(values[1:-1:2]) + 2.0 * sum(values[2:-1:2])
