"""Nitrogen as a real gas: density at a pressure and a temperature, and the pressure that keeps a density.

Source: R. Span and others, "A reference equation of state for the thermodynamic properties of nitrogen", J. Phys. Chem.
Ref. Data 29 (2000) 1361, equation 53 and its table of coefficients; its density is ± 0.02 % in the range used here.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp

from calc.units import ZERO_C_K

LOWEST_C, HIGHEST_C = -40.0, 80.0
HIGHEST_PA = 20e6
MOLAR_MASS_KG_MOL = 0.02801348
GAS_CONSTANT_J_MOL_K = 8.31451
EQUATION_SHARE = 0.0002
"""Doubt of the density from the equation itself, as a share, k = 2."""

_T_K = 126.192
_RHO_KG_M3 = 11183.9014645806 * MOLAR_MASS_KG_MOL
_R_J_KG_K = GAS_CONSTANT_J_MOL_K / MOLAR_MASS_KG_MOL
# n, power of δ, power of τ, power of δ in the exponential (0: none)
_TERMS = (
    (0.924803575275, 1, 0.25, 0), (-0.492448489428, 1, 0.875, 0), (0.661883336938, 2, 0.5, 0),
    (-1.92902649201, 2, 0.875, 0), (-0.0622469309629, 3, 0.375, 0), (0.349943957581, 3, 0.75, 0),
    (0.564857472498, 1, 0.5, 1), (-1.61720005987, 1, 0.75, 1), (-0.481395031883, 1, 2.0, 1),
    (0.421150636384, 3, 1.25, 1), (-0.0161962230825, 3, 3.5, 1), (0.172100994165, 4, 1.0, 1),
    (0.00735448924933, 6, 0.5, 1), (0.0168077305479, 6, 3.0, 1), (-0.00107626664179, 7, 0.0, 1),
    (-0.0137318088513, 7, 2.75, 1), (0.000635466899859, 8, 0.75, 1), (0.00304432279419, 8, 2.5, 1),
    (-0.0435762336045, 1, 4.0, 2), (-0.0723174889316, 2, 6.0, 2), (0.0389644315272, 3, 6.0, 2),
    (-0.021220136391, 4, 3.0, 2), (0.00408822981509, 5, 3.0, 2), (-5.51990017984e-05, 8, 6.0, 2),
    (-0.0462016716479, 4, 16.0, 3), (-0.00300311716011, 5, 11.0, 3), (0.0368825891208, 5, 15.0, 3),
    (-0.0025585684622, 8, 12.0, 3), (0.00896915264558, 3, 12.0, 4), (-0.0044151337035, 5, 7.0, 4),
    (0.00133722924858, 6, 4.0, 4), (0.000264832491957, 9, 16.0, 4),
)  # fmt: skip
# n, power of δ, power of τ, η, β, γ; every ε is 1
_BELLS = (
    (19.6688194015, 1, 0.0, 20.0, 325.0, 1.16), (-20.911560073, 1, 1.0, 20.0, 325.0, 1.16),
    (0.0167788306989, 3, 2.0, 15.0, 300.0, 1.13), (2627.67566274, 2, 3.0, 25.0, 275.0, 1.25),
)  # fmt: skip


def _residual(delta: float, tau: float) -> tuple[float, float]:
    """δ·∂α/∂δ and δ²·∂²α/∂δ² of the residual part of the reduced Helmholtz energy."""
    first = second = 0.0
    for n, d, t, power in _TERMS:
        reach = power * delta**power if power else 0.0
        term = n * delta**d * tau**t * (exp(-(delta**power)) if power else 1.0)
        first += term * (d - reach)
        second += term * ((d - reach) * (d - 1 - reach) - power * reach)
    for n, d, t, eta, beta, gamma in _BELLS:
        term = n * delta**d * tau**t * exp(-eta * (delta - 1.0) ** 2 - beta * (tau - gamma) ** 2)
        slope = d - 2.0 * eta * delta * (delta - 1.0)
        first += term * slope
        second += term * (slope * slope - d - 2.0 * eta * delta * delta)
    return first, second


def pressure_pa(density_kg_m3: float, temperature_c: float) -> float:
    """Pressure of nitrogen.

    Parameters
        density_kg_m3: density, up to 300 [kg/m³]
        temperature_c: temperature, −40 to 80 [°C]
    Returns
        absolute pressure [Pa]
    Source
        Span and others, J. Phys. Chem. Ref. Data 29 (2000) 1361, equation 56
    Example
        >>> round(pressure_pa(41.0141, 20.0) / 1e3)
        3549
    """
    kelvin = temperature_c + ZERO_C_K
    first, _ = _residual(density_kg_m3 / _RHO_KG_M3, _T_K / kelvin)
    return density_kg_m3 * _R_J_KG_K * kelvin * (1.0 + first)


def density_kg_m3(pressure_pa: float, temperature_c: float) -> float:
    """Density of nitrogen.

    Parameters
        pressure_pa: absolute pressure, 0 to 20e6 [Pa]
        temperature_c: temperature, −40 to 80 [°C]
    Returns
        density [kg/m³]
    Source
        Span and others, J. Phys. Chem. Ref. Data 29 (2000) 1361, equation 56, solved for the density
    Example
        >>> round(density_kg_m3(101325.0, 26.85), 3)
        1.138
    """
    kelvin = temperature_c + ZERO_C_K
    tau = _T_K / kelvin
    density = pressure_pa / (_R_J_KG_K * kelvin)
    for _ in range(50):
        first, second = _residual(density / _RHO_KG_M3, tau)
        miss = density * _R_J_KG_K * kelvin * (1.0 + first) - pressure_pa
        step = miss / (_R_J_KG_K * kelvin * (1.0 + 2.0 * first + second))
        density -= step
        if abs(step) <= 1e-13 * density:
            break
    return density


def same_gas_pa(
    start_pa: float, starts_c: Sequence[float], ends_c: Sequence[float], shares: Sequence[float]
) -> float:  # fmt: skip
    """Pressure of the same nitrogen in the same volume at other temperatures.

    Parameters
        start_pa: absolute pressure, everywhere the same [Pa]
        starts_c, ends_c: temperature of each part of the volume, before and after [°C]
        shares: share of each part in the volume; they add up to 1
    Returns
        absolute pressure [Pa]
    Source
        mass of gas kept: Σ share·ρ(p, T) is the same before and after; ρ as density_kg_m3
    Example
        >>> round(same_gas_pa(3893441.0, [29.4444], [15.5556], [1.0]) / 6894.757 - 14.696, 1)
        521.8
    """
    mass = sum(share * density_kg_m3(start_pa, at) for share, at in zip(shares, starts_c, strict=True))
    if len(shares) == 1:
        return pressure_pa(mass, ends_c[0])
    pressure = start_pa
    for _ in range(50):
        held = sum(share * density_kg_m3(pressure, at) for share, at in zip(shares, ends_c, strict=True))
        pressure, last = pressure * mass / held, pressure
        if abs(pressure - last) <= 1e-12 * pressure:
            break
    return pressure
