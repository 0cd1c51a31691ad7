"""What instruments would have shown: a state of the refrigerant turned into typed figures.

The state is exact by the tables; then each figure gets noise of a stated size (normal, standard deviation 0.3 % of a
gauge pressure, 0.2 K of a temperature) and is rounded to what the display shows (1 psi or 0.05 bar; 0.1 °F or 0.1 °C).
"""

from __future__ import annotations

import random

from calc.pressure import standard_atmosphere_pa
from calc.refrigerants import get
from calc.saturation import bubble_pressure_pa, dew_pressure_pa
from server.demo.scenario import Taken

PRESSURE_NOISE = 0.003  # of the gauge pressure
TEMPERATURE_NOISE_K = 0.2
_PSI_PA = 6894.757293168
_BAR_PA = 1e5


def figures(taken: Taken, refrigerant: str, elevation_m: float, rng: random.Random) -> dict[str, tuple[str, str]]:
    """The fields of a reading as (text, unit), as they would be typed for this state at this site."""
    substance, site_pa = get(refrigerant), standard_atmosphere_pa(elevation_m)
    liquid_c = taken.bubble_c - taken.subcooling_k
    shown = {
        "suction_pressure": _gauge(dew_pressure_pa(substance, taken.dew_c) - site_pa, taken.metric, rng),
        "suction_temperature": _temperature(taken.dew_c + taken.superheat_k, taken.metric, rng),
        "liquid_pressure": _gauge(bubble_pressure_pa(substance, taken.bubble_c) - site_pa, taken.metric, rng),
        "liquid_temperature": _temperature(liquid_c, taken.metric, rng),
    }
    air = {
        "outdoor_dry_bulb": taken.outdoor_c,
        "return_dry_bulb": taken.return_c,
        "return_wet_bulb": taken.return_wet_c,
    }
    taken_air = {name: _temperature(value, taken.metric, rng) for name, value in air.items() if value is not None}
    return shown | taken_air


def _gauge(pressure_pa: float, metric: bool, rng: random.Random) -> tuple[str, str]:
    pressure_pa *= 1 + rng.gauss(0, PRESSURE_NOISE)
    if metric:
        return f"{round(pressure_pa / _BAR_PA / 0.05) * 0.05:.2f}", "barg"
    return f"{pressure_pa / _PSI_PA:.0f}", "psig"


def _temperature(value_c: float, metric: bool, rng: random.Random) -> tuple[str, str]:
    value_c += rng.gauss(0, TEMPERATURE_NOISE_K)
    return (f"{value_c:.1f}", "°C") if metric else (f"{value_c * 1.8 + 32:.1f}", "°F")
