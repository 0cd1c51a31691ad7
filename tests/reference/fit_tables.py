"""From exact saturation points to the short polynomials of a table, and how far apart the two are."""

from __future__ import annotations

import base64
import math
import struct
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.polynomial import chebyshev

from calc.saturation_curve import TERMS, ZERO_C, SaturationCurve, decode

NODES = 64  # Chebyshev points of the least-squares fit
LIMITS = {"temperature_k": 0.002, "density": 3e-4, "enthalpy_j_kg": 100.0, "entropy_j_kg_k": 0.4}


class TableTooCoarse(Exception):
    """A table missed its limits on the independent grid; nothing is written."""


@dataclass(frozen=True)
class Point:
    """An exact saturation point."""

    p_pa: float
    rho_kg_m3: float
    h_j_kg: float
    s_j_kg_k: float


Source = Callable[[float], Point]  # by temperature in K


@dataclass(frozen=True)
class Fitted:
    """A curve's stored numbers and bounds."""

    bounds: dict[str, Any]
    numbers: np.ndarray


def _fit(name: str, x: np.ndarray, y: Any) -> np.ndarray:
    return chebyshev.chebfit(x, np.asarray(y), TERMS[name] - 1)


def fit_curve(critical: dict[str, float], low_c: float, high_c: float, source: Source) -> Fitted:
    """Chebyshev coefficients of ln p, ln rho, h, s in u and of u in w."""
    tc, ln_pc = critical["temperature_k"], math.log(critical["pressure_pa"])
    u_cold, u_hot = (math.sqrt(1 - (t + ZERO_C) / tc) for t in (low_c, high_c))
    x = np.cos(np.pi * (np.arange(NODES) + 0.5) / NODES)
    u = 0.5 * (u_cold + u_hot) + 0.5 * (u_cold - u_hot) * x
    points = [source(tc * (1 - value**2)) for value in u]
    ends = [source(t + ZERO_C).p_pa for t in (low_c, high_c)]
    # A hair wider than the ends, so that a pressure read from the table may be put back into it.
    p_low, p_high = (float(f"{ends[0] * (1 - 5e-6):.9g}"), float(f"{ends[1] * (1 + 5e-6):.9g}"))
    w_cold, w_hot = (math.sqrt(ln_pc - math.log(p)) for p in (p_low, p_high))
    w = np.array([math.sqrt(ln_pc - math.log(p.p_pa)) for p in points])
    xw = (2 * w - w_cold - w_hot) / (w_cold - w_hot)
    rows = [
        _fit("ln_p", x, np.log([p.p_pa for p in points])),
        _fit("ln_rho", x, np.log([p.rho_kg_m3 for p in points])),
        _fit("h", x, [p.h_j_kg for p in points]),
        _fit("s", x, [p.s_j_kg_k for p in points]),
        _fit("u_of_w", xw, u),
    ]
    bounds = {"temperature_c": [low_c, high_c], "pressure_pa": [p_low, p_high]}
    return Fitted(bounds, np.concatenate(rows).astype("<f4"))


def encode(*curves: Fitted) -> str:
    """Base64 of the curves' numbers, little-endian float32."""
    numbers = np.concatenate([c.numbers for c in curves])
    return base64.b64encode(struct.pack(f"<{len(numbers)}f", *numbers)).decode("ascii")


def open_curves(saturation: dict[str, Any]) -> dict[str, SaturationCurve]:
    """The curves as the program will decode them."""
    numbers = decode(base64.b64decode(saturation["numbers"]))
    size = sum(TERMS.values())
    return {
        name: SaturationCurve(saturation["critical"], saturation[name], numbers[i * size : (i + 1) * size])
        for i, name in enumerate(("bubble", "dew"))
    }


def errors_of(curve: SaturationCurve, source: Source, count: int, rng: np.random.Generator) -> dict[str, float]:
    """Worst differences from the exact points on a random grid; raises TableTooCoarse beyond LIMITS."""
    worst = dict.fromkeys(("temperature_of_pressure_k", "pressure_as_temperature_k", "density", "enthalpy_j_kg",
                           "entropy_j_kg_k"), 0.0)  # fmt: skip
    grid = np.sort(rng.uniform(curve.t_low_c, curve.t_high_c, count))
    for t_c in [curve.t_low_c, *map(float, grid), curve.t_high_c]:
        exact = source(t_c + ZERO_C)
        step = 0.001
        slope = math.log(curve.pressure_pa(t_c + step) / curve.pressure_pa(t_c - step)) / (2 * step)
        found = {
            "temperature_of_pressure_k": abs(curve.temperature_c(exact.p_pa) - t_c),
            "pressure_as_temperature_k": abs(math.log(curve.pressure_pa(t_c) / exact.p_pa)) / slope,
            "density": abs(curve.density_kg_m3(t_c) / exact.rho_kg_m3 - 1),
            "enthalpy_j_kg": abs(curve.enthalpy_j_kg(t_c) - exact.h_j_kg),
            "entropy_j_kg_k": abs(curve.entropy_j_kg_k(t_c) - exact.s_j_kg_k),
        }
        worst = {k: max(v, found[k]) for k, v in worst.items()}
    fine = [curve.pressure_pa(float(t)) for t in np.linspace(curve.t_low_c, curve.t_high_c, 2000)]
    back = [curve.temperature_c(float(p)) for p in np.geomspace(curve.p_low_pa, curve.p_high_pa, 2000)]
    if min(np.diff(fine)) <= 0 or min(np.diff(back)) <= 0:
        raise TableTooCoarse("a saturation function does not rise everywhere")
    if (
        max(worst["temperature_of_pressure_k"], worst["pressure_as_temperature_k"]) > LIMITS["temperature_k"]
        or worst["density"] > LIMITS["density"]
        or worst["enthalpy_j_kg"] > LIMITS["enthalpy_j_kg"]
        or worst["entropy_j_kg_k"] > LIMITS["entropy_j_kg_k"]
    ):
        raise TableTooCoarse(f"errors {worst} exceed {LIMITS}")
    return {k: float(f"{v:.2g}") for k, v in worst.items()}
