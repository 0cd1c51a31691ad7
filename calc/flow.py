"""How well a hose conducts a thin gas: from viscous through transition to molecular flow.

Source: M. Knudsen's formula for long tubes as in standard vacuum texts (from memory), with the viscous part of
Hagen-Poiseuille and the molecular part of kinetic theory; viscosities from CoolProp 8.0.0.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import NamedTuple

from calc.units import TORR_PA, ZERO_C_K

GAS_CONSTANT_J_MOL_K = 8.314462618
REFERENCE_K = 293.15
VISCOUS_PA_M = 0.5 * TORR_PA * 0.01
MOLECULAR_PA_M = 0.01 * TORR_PA * 0.01
"""Pressure × bore above which flow of air at 20 °C is viscous, below which molecular: 0.5 and 0.01 Torr·cm, as lecture
notes on vacuum technology print them."""


class Gas(NamedTuple):
    """Molar mass [kg/mol], viscosity at 20 °C [Pa·s] and the power of absolute temperature that it grows with."""

    molar_mass: float
    viscosity: float
    power: float


GASES = {
    "air": Gas(0.0289647, 1.8206e-5, 0.77),
    "nitrogen": Gas(0.0280135, 1.7577e-5, 0.77),
    "water_vapour": Gas(0.0180153, 0.9544e-5, 1.05),
    "helium": Gas(0.0040026, 1.9611e-5, 0.70),
}


def viscosity(gas: Gas, temperature_c: float) -> float:
    """Viscosity of a thin gas, whatever its pressure.

    Parameters
        gas: of GASES
        temperature_c: temperature, −40 to 80 [°C]
    Returns
        viscosity [Pa·s]
    Source
        CoolProp 8.0.0 at 20 °C; power law in between, within 1 %
    """
    return float(gas.viscosity * ((temperature_c + ZERO_C_K) / REFERENCE_K) ** gas.power)


def viscous(bore_m: float, length_m: float, mean_pa: float, gas: Gas, temperature_c: float) -> float:
    """Conductance of a long tube in laminar viscous flow.

    Parameters
        bore_m, length_m: inside [m]
        mean_pa: mean of the pressures at its ends, absolute [Pa]
        gas, temperature_c: of GASES; its temperature [°C]
    Returns
        conductance [m³/s]
    Source
        π·D⁴·p/(128·η·L), Hagen-Poiseuille
    """
    return pi * bore_m**4 * mean_pa / (128.0 * viscosity(gas, temperature_c) * length_m)


def molecular(bore_m: float, length_m: float, gas: Gas, temperature_c: float) -> float:
    """Conductance of a long tube in molecular flow, whatever the pressure.

    Parameters
        bore_m, length_m: inside [m]
        gas, temperature_c: of GASES; its temperature [°C]
    Returns
        conductance [m³/s]
    Source
        c·π·D³/(12·L) with c the mean speed of the molecules, kinetic theory
    Example
        >>> round(1000 * molecular(0.05, 1.0, GASES["air"], 20.0), 2)
        15.15
    """
    speed = sqrt(8.0 * GAS_CONSTANT_J_MOL_K * (temperature_c + ZERO_C_K) / (pi * gas.molar_mass))
    return speed * pi * bore_m**3 / (12.0 * length_m)


def conductance(bore_m: float, length_m: float, mean_pa: float, gas: Gas, temperature_c: float) -> float:
    """Conductance of a long tube at any pressure.

    Parameters
        bore_m, length_m: inside, the length ten bores or more [m]
        mean_pa: mean of the pressures at its ends, absolute [Pa]
        gas, temperature_c: of GASES; its temperature [°C]
    Returns
        conductance [m³/s]
    Source
        Knudsen: viscous + molecular·(1 + x)/(1 + 1.235·x), x = D·p·√(M/RT)/η
    Example
        >>> round(1000 * conductance(0.01, 1.0, 100.0, GASES["air"], 20.0), 2)
        1.45
    """
    kelvin = temperature_c + ZERO_C_K
    thickness = sqrt(gas.molar_mass / (GAS_CONSTANT_J_MOL_K * kelvin)) / viscosity(gas, temperature_c)
    x = bore_m * mean_pa * thickness
    slip = molecular(bore_m, length_m, gas, temperature_c) * (1.0 + x) / (1.0 + 1.235 * x)
    return viscous(bore_m, length_m, mean_pa, gas, temperature_c) + slip


def regime(bore_m: float, mean_pa: float, gas: Gas, temperature_c: float) -> str:
    """ "viscous", "transition" or "molecular", by pressure × bore against the free path of the molecules.

    Parameters
        bore_m: inside [m]
        mean_pa: absolute [Pa]
        gas, temperature_c: of GASES; its temperature [°C]
    Source
        0.5 and 0.01 Torr·cm for air at 20 °C (lecture notes); other gases by their free path, ∝ η·√(T/M)
    """
    air = GASES["air"]
    path = viscosity(gas, temperature_c) * sqrt((temperature_c + ZERO_C_K) / gas.molar_mass)
    share = path / (air.viscosity * sqrt(REFERENCE_K / air.molar_mass))
    if mean_pa * bore_m > VISCOUS_PA_M * share:
        return "viscous"
    return "molecular" if mean_pa * bore_m < MOLECULAR_PA_M * share else "transition"
