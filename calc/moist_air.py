"""Moist air as an ideal mixture of dry air and water vapour, per kilogram of dry air.

Source: ASHRAE Handbook—Fundamentals (2017), chapter 1: saturation pressure equations 5 and 6, humidity ratio 20 and 22,
specific volume 26, enthalpy 30, wet bulb 33 (water) and 35 (ice). The two saturation equations change over at 0 °C, as
printed: 0.01 % apart there, so that inverses are found by halving, which a small step does not mislead.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, inf, log

ZERO_C_K = 273.15
MASS_RATIO = 0.621945
DRY_AIR_GAS = 287.042
CP_DRY_AIR, CP_VAPOUR = 1006.0, 1860.0
VAPORIZATION_0C = 2.501e6
LOWEST_C = -100.0
STANDARD_DENSITY = 0.075 * 0.45359237 / 0.3048**3
"""Standard air [kg/m³]: 0.075 lb/ft³ (ASHRAE Handbook—Fundamentals 2017, chapter 18)."""

_STEPS = 60


def saturation_pressure_pa(temperature_c: float, over_ice: bool | None = None) -> float:
    """Vapour pressure of water over ice or liquid.

    Parameters
        temperature_c: [°C]
        over_ice: which of the two; None takes ice below 0 °C and liquid from there up
    Returns
        absolute pressure [Pa]
    Validity
        ice −100 to 0 °C, liquid 0 to 200 °C; near 0 °C each is used a little beyond, for water that has not frozen yet
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equations 5 and 6
    Example
        >>> round(saturation_pressure_pa(25.0), 1), round(saturation_pressure_pa(-20.0), 2)
        (3169.2, 103.26)
    """
    t = temperature_c + ZERO_C_K
    if temperature_c < 0.0 if over_ice is None else over_ice:
        return exp(
            -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t**2 + 2.0747825e-9 * t**3
            - 9.484024e-13 * t**4 + 4.1635019 * log(t)
        )  # fmt: skip
    return exp(
        -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2 - 1.4452093e-8 * t**3
        + 6.5459673 * log(t)
    )  # fmt: skip


def humidity_ratio(vapour_pa: float, pressure_pa: float) -> float:
    """Water per dry air; infinite where there is no air among the vapour.

    Parameters
        vapour_pa: vapour pressure [Pa]
        pressure_pa: absolute air pressure [Pa]
    Returns
        humidity ratio [kg/kg]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equation 20
    """
    return MASS_RATIO * vapour_pa / (pressure_pa - vapour_pa) if vapour_pa < pressure_pa else inf


def vapour_pressure_pa(ratio: float, pressure_pa: float) -> float:
    """Vapour pressure of moist air: the inverse of humidity_ratio.

    Parameters
        ratio: humidity ratio [kg/kg]
        pressure_pa: absolute air pressure [Pa]
    Returns
        vapour pressure [Pa]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equation 36
    """
    return pressure_pa * ratio / (MASS_RATIO + ratio)


def enthalpy(dry_bulb_c: float, ratio: float) -> float:
    """Enthalpy; zero for dry air and for liquid water at 0 °C.

    Parameters
        dry_bulb_c: [°C]
        ratio: humidity ratio [kg/kg]
    Returns
        enthalpy per dry air [J/kg]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equation 30
    Example
        >>> round(enthalpy(30.0, 0.02))
        81316
    """
    return CP_DRY_AIR * dry_bulb_c + ratio * (VAPORIZATION_0C + CP_VAPOUR * dry_bulb_c)


def specific_volume(dry_bulb_c: float, ratio: float, pressure_pa: float) -> float:
    """Volume of moist air.

    Parameters
        dry_bulb_c: [°C]
        ratio: humidity ratio [kg/kg]
        pressure_pa: absolute air pressure [Pa]
    Returns
        volume per dry air [m³/kg]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equation 26
    """
    return DRY_AIR_GAS * (dry_bulb_c + ZERO_C_K) * (1.0 + ratio / MASS_RATIO) / pressure_pa


def ratio_at_wet_bulb(dry_bulb_c: float, wet_bulb_c: float, pressure_pa: float, *, iced: bool) -> float:
    """Humidity ratio from dry and wet bulb; below zero where no air can show such a pair.

    Parameters
        dry_bulb_c, wet_bulb_c: [°C]
        pressure_pa: absolute air pressure [Pa]
        iced: whether the wick is frozen
    Returns
        humidity ratio [kg/kg]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equations 33 and 35
    """
    saturated = humidity_ratio(saturation_pressure_pa(wet_bulb_c, iced), pressure_pa)
    heat, slope, water = (2.830e6, 240.0, 2100.0) if iced else (VAPORIZATION_0C, 2326.0, 4186.0)
    given_up = CP_DRY_AIR * (dry_bulb_c - wet_bulb_c)
    return ((heat - slope * wet_bulb_c) * saturated - given_up) / (heat + CP_VAPOUR * dry_bulb_c - water * wet_bulb_c)


def iced_at(dry_bulb_c: float, ratio: float, pressure_pa: float) -> bool:
    """Whether a wick in this air is below 0 °C even while wet.

    Air within a narrow band of humidity holds a wet wick just above 0 °C and a frozen one just below: it counts as wet.

    Parameters
        dry_bulb_c: [°C]
        ratio: humidity ratio [kg/kg]
        pressure_pa: absolute air pressure [Pa]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equation 33
    """
    return ratio < ratio_at_wet_bulb(dry_bulb_c, 0.0, pressure_pa, iced=False)


def wet_bulb_c(dry_bulb_c: float, ratio: float, pressure_pa: float, *, iced: bool) -> float:
    """Wet bulb of air: the inverse of ratio_at_wet_bulb for one state of the wick.

    Parameters
        dry_bulb_c: [°C]
        ratio: humidity ratio [kg/kg]
        pressure_pa: absolute air pressure [Pa]
        iced: whether the wick is frozen
    Returns
        wet bulb [°C]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equations 33 and 35, solved by halving
    """

    def excess(wet: float) -> float:
        return ratio_at_wet_bulb(dry_bulb_c, wet, pressure_pa, iced=iced) - ratio

    return _root(excess, LOWEST_C, dry_bulb_c + 5.0)


def dew_point_c(vapour_pa: float) -> float | None:
    """Temperature at which vapour begins to settle, as frost below 0 °C; None under −100 °C.

    Parameters
        vapour_pa: vapour pressure [Pa]
    Returns
        dew or frost point [°C]
    Source
        ASHRAE Handbook—Fundamentals (2017), chapter 1, equations 5 and 6, solved by halving
    """
    if vapour_pa < saturation_pressure_pa(LOWEST_C):
        return None
    goal = log(vapour_pa)
    return _root(lambda t: log(saturation_pressure_pa(t)) - goal, LOWEST_C, 200.0)


def _root(excess: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses zero, by halving."""
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        if excess(middle) < 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
