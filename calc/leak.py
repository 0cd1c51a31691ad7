"""What a leak is worth: throughput of the test gas, and the range it may mean for a refrigerant.

Source: throughput Q = V·dp/dt and its flow regimes (viscous ∝ p₁² − p₂² over viscosity, molecular ∝ p₁ − p₂ over √M):
vacuum technology, common practice, no source.
"""

from __future__ import annotations

from math import sqrt

from calc.nitrogen import GAS_CONSTANT_J_MOL_K, MOLAR_MASS_KG_MOL
from calc.units import ZERO_C_K

REFERENCE_C = 20.0
YEAR_S = 365.0 * 86400.0
NITROGEN_VISCOSITY = 17.6e-6
"""Viscosity of nitrogen at 20 °C [Pa·s]; CoolProp 8.0.0."""
VAPOUR_VISCOSITIES = (7.5e-6, 15e-6)
"""What vapours of refrigerants have at 20 °C, from hydrocarbons to carbon dioxide [Pa·s]; CoolProp 8.0.0."""


def throughput(volume_m3: float, loss_pa: float, time_s: float, gas_c: float) -> float:
    """Leak from a loss of pressure, told for the gas at 20 °C.

    Parameters
        volume_m3: volume that lost it [m³]
        loss_pa: pressure lost, what temperature did taken off; out is positive [Pa]
        time_s: over which it was lost [s]
        gas_c: temperature of the gas [°C]
    Returns
        leak [Pa·m³/s]
    Source
        Q = V·Δp/Δt, brought to 20 °C as an ideal gas: common practice, no source
    Example
        >>> round(throughput(0.020, 66.661, 600.0, 20.0), 6)
        0.002222
    """
    return volume_m3 * loss_pa / time_s * (REFERENCE_C + ZERO_C_K) / (gas_c + ZERO_C_K)


def nitrogen_kg(leak_pa_m3_s: float, time_s: float = YEAR_S) -> float:
    """Mass of nitrogen that a leak loses.

    Parameters
        leak_pa_m3_s: leak at 20 °C [Pa·m³/s]
        time_s: time, a year where not given [s]
    Returns
        mass [kg]
    Source
        ideal gas: m = Q·M·t/(R·T)
    Example
        >>> round(nitrogen_kg(9.576e-3), 2)
        3.47
    """
    amount = leak_pa_m3_s * time_s / (GAS_CONSTANT_J_MOL_K * (REFERENCE_C + ZERO_C_K))
    return amount * MOLAR_MASS_KG_MOL


def refrigerant_kg(
    leak_pa_m3_s: float, test_pa: float, side_pa: float, air_pa: float, molar_mass: float
) -> tuple[float, float]:
    """What a leak measured with nitrogen may lose of a refrigerant's vapour in a year, least and most.

    Parameters
        leak_pa_m3_s: leak of nitrogen at 20 °C [Pa·m³/s]
        test_pa: test pressure, absolute [Pa]
        side_pa: pressure of the refrigerant on that side, absolute [Pa]
        air_pa: air outside [Pa]
        molar_mass: of the refrigerant [kg/mol]
    Returns
        least and most mass a year [kg], between viscous and molecular flow; liquid would be many times more
    Source
        viscous ∝ (p₁² − p₂²)/η, molecular ∝ (p₁ − p₂)/√M: common practice, no source
    Example
        >>> low, high = refrigerant_kg(9.576e-3, 3.893e6, 1.445e6, 101325.0, 0.0726)
        >>> round(low, 1), round(high, 1)
        (1.4, 2.9)
    """
    moles = nitrogen_kg(leak_pa_m3_s) / MOLAR_MASS_KG_MOL
    squares = (side_pa**2 - air_pa**2) / (test_pa**2 - air_pa**2)
    shares = [squares * NITROGEN_VISCOSITY / viscosity for viscosity in VAPOUR_VISCOSITIES]
    shares.append((side_pa - air_pa) / (test_pa - air_pa) * sqrt(MOLAR_MASS_KG_MOL / molar_mass))
    return moles * min(shares) * molar_mass, moles * max(shares) * molar_mass
