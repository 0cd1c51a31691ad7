"""One saturation curve as stored: five short polynomials and the maps that lead to them.

With u = √(1 − T/Tc) and w = √ln(pc/p), each curve holds ln p, ln ρ, h and s as polynomials in u, and u as a polynomial
in w. The stored numbers are Chebyshev coefficients (float32); here they become power series, by Horner's rule.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from functools import cache
from itertools import accumulate, pairwise
from math import exp, log, sqrt
from typing import Any

ZERO_C = 273.15
TERMS = {"ln_p": 16, "ln_rho": 20, "h": 20, "s": 20, "u_of_w": 16}  # in the order in which they are stored
EDGE_K = 0.002  # the tables' own error: a temperature read from the table may be put back into it at the very edge


@cache
def _chebyshev(count: int) -> tuple[tuple[float, ...], ...]:
    """Power coefficients of T0 … T(count−1), each padded to count, by T(n+1) = 2x·T(n) − T(n−1)."""
    rows = [[1.0] + [0.0] * (count - 1), [0.0, 1.0, *([0.0] * count)][:count]]
    while len(rows) < count:
        doubled = [0.0, *(2.0 * c for c in rows[-1][:-1])]
        rows.append([d - b for d, b in zip(doubled, rows[-2], strict=True)])
    return tuple(tuple(row) for row in rows[:count])


def power_series(chebyshev: Sequence[float]) -> tuple[float, ...]:
    """Coefficients of 1, x, x², … of a Chebyshev sum on [−1, 1].

    Parameters
        chebyshev: coefficients of T0, T1, T2, …
    Returns
        as many coefficients of powers of x
    Source
        recurrence T(n+1) = 2x·T(n) − T(n−1), any textbook of approximation
    Example
        >>> power_series((1.0, 2.0, 3.0))
        (-2.0, 2.0, 6.0)
    """
    columns = zip(*_chebyshev(len(chebyshev)), strict=True)
    return tuple(sum(c * t for c, t in zip(chebyshev, column, strict=True)) for column in columns)


def horner(coefficients: Sequence[float], x: float) -> float:
    """Value of a power series at x in [−1, 1].

    Source
        Horner's rule, any textbook
    Example
        >>> horner((-2.0, 2.0, 6.0), 0.5)
        0.5
    """
    value = 0.0
    for coefficient in reversed(coefficients):
        value = value * x + coefficient
    return value


class SaturationCurve:
    """The bubble or the dew curve of one refrigerant, decoded.

    Temperatures in °C, pressures in Pa absolute. t_low_c … t_high_c and p_low_pa … p_high_pa are the range of the
    table (t_min … t_max the same, widened by the tables' own error); nothing here checks it, calc.saturation does.
    """

    __slots__ = (
        "h", "ln_p", "ln_pc", "ln_rho", "p_high_pa", "p_low_pa", "s", "t_high_c", "t_low_c", "t_max", "t_min", "tc_c",
        "tc_k", "u_of_w", "u_scale", "u_shift", "w_scale", "w_shift",
    )  # fmt: skip

    def __init__(self, critical: dict[str, Any], bounds: dict[str, Any], numbers: Sequence[float]) -> None:
        self.tc_k: float = critical["temperature_k"]
        self.tc_c = self.tc_k - ZERO_C
        self.ln_pc = log(critical["pressure_pa"])
        self.t_low_c: float
        self.t_high_c: float
        self.p_low_pa: float
        self.p_high_pa: float
        self.t_low_c, self.t_high_c = bounds["temperature_c"]
        self.p_low_pa, self.p_high_pa = bounds["pressure_pa"]
        self.t_min, self.t_max = self.t_low_c - EDGE_K, self.t_high_c + EDGE_K
        u = [sqrt(self.tc_c - t) for t in (self.t_high_c, self.t_low_c)]  # √Tc times u, which spares a division
        w = [sqrt(self.ln_pc - log(p)) for p in (self.p_high_pa, self.p_low_pa)]
        self.u_scale, self.u_shift = 2.0 / (u[1] - u[0]), (u[1] + u[0]) / (u[1] - u[0])
        self.w_scale, self.w_shift = 2.0 / (w[1] - w[0]), (w[1] + w[0]) / (w[1] - w[0])
        ends = list(accumulate(TERMS.values(), initial=0))
        rows = [power_series(numbers[start:end]) for start, end in pairwise(ends)]
        self.ln_p, self.ln_rho, self.h, self.s, self.u_of_w = rows

    def place(self, temperature_c: float) -> float:
        """Where a temperature lies on the polynomials' interval [−1, 1]."""
        return self.u_scale * sqrt(self.tc_c - temperature_c) - self.u_shift

    def pressure_pa(self, temperature_c: float) -> float:
        """Saturation pressure [Pa] at a temperature [°C] inside the table."""
        x = self.u_scale * sqrt(self.tc_c - temperature_c) - self.u_shift
        # written out, because a loop takes twice as long
        a, b, c, d, e, f, g, h, i, j, k, m, n, o, q, r = self.ln_p
        y = h + x * (i + x * (j + x * (k + x * (m + x * (n + x * (o + x * (q + x * r)))))))
        return exp(a + x * (b + x * (c + x * (d + x * (e + x * (f + x * (g + x * y)))))))

    def temperature_c(self, pressure_pa: float) -> float:
        """Saturation temperature [°C] at a pressure [Pa] inside the table."""
        x = self.w_scale * sqrt(self.ln_pc - log(pressure_pa)) - self.w_shift
        a, b, c, d, e, f, g, h, i, j, k, m, n, o, q, r = self.u_of_w
        y = h + x * (i + x * (j + x * (k + x * (m + x * (n + x * (o + x * (q + x * r)))))))
        u = a + x * (b + x * (c + x * (d + x * (e + x * (f + x * (g + x * y))))))
        celsius: float = self.tc_c - self.tc_k * u * u
        return celsius

    def density_kg_m3(self, temperature_c: float) -> float:
        """Density [kg/m³] of the saturated phase at a temperature [°C] inside the table."""
        return exp(horner(self.ln_rho, self.place(temperature_c)))

    def enthalpy_j_kg(self, temperature_c: float) -> float:
        """Enthalpy [J/kg] of the saturated phase at a temperature [°C] inside the table, IIR reference."""
        return horner(self.h, self.place(temperature_c))

    def entropy_j_kg_k(self, temperature_c: float) -> float:
        """Entropy [J/(kg K)] of the saturated phase at a temperature [°C] inside the table, IIR reference."""
        return horner(self.s, self.place(temperature_c))


def decode(blob: bytes) -> tuple[float, ...]:
    """Little-endian float32 numbers of a table's blob.

    Source
        format of the tables: calc/data/refrigerants, tests/reference/build_tables.py
    """
    return struct.unpack(f"<{len(blob) // 4}f", blob)
