"""Vapour pressure of water: over ice below its triple point, over liquid above.

Sources: IAPWS R14-08 (2011), sublimation pressure, equation 6; IAPWS-IF97 (2012), region 4, equations 30 and 31.
"""

from __future__ import annotations

from math import exp, log, sqrt

TRIPLE_C = 0.01
TRIPLE_PA = 611.657
LOWEST_C = -100.0
CRITICAL_C = 373.946
_ZERO_C_K = 273.15
_TRIPLE_K = 273.16

_ICE = ((-0.212144006e2, 0.333333333e-2), (0.273203819e2, 0.120666667e1), (-0.610598130e1, 0.170333333e1))
_LIQUID = (
    0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
    0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
)  # fmt: skip


def sublimation_pressure_pa(temperature_c: float) -> float:
    """Vapour pressure over ice.

    Parameters
        temperature_c: of the ice [°C]
    Returns
        absolute pressure [Pa]
    Validity
        50 K to 273.16 K; used here from −100 °C
    Source
        IAPWS R14-08 (2011), equation 6
    Example
        >>> round(sublimation_pressure_pa(230.0 - 273.15), 5)
        8.94735
    """
    theta = (temperature_c + _ZERO_C_K) / _TRIPLE_K
    return TRIPLE_PA * exp(sum(a * theta**b for a, b in _ICE) / theta)


def boiling_pressure_pa(temperature_c: float) -> float:
    """Vapour pressure over liquid water.

    Parameters
        temperature_c: of the water [°C]
    Returns
        absolute pressure [Pa]
    Validity
        0 °C to 373.946 °C
    Source
        IAPWS-IF97 (2012), equation 30
    Example
        >>> round(boiling_pressure_pa(300.0 - 273.15), 2)
        3536.59
    """
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _LIQUID
    kelvin = temperature_c + _ZERO_C_K
    theta = kelvin + n9 / (kelvin - n10)
    a = theta * theta + n1 * theta + n2
    b = n3 * theta * theta + n4 * theta + n5
    c = n6 * theta * theta + n7 * theta + n8
    return 1e6 * float((2.0 * c / (-b + sqrt(b * b - 4.0 * a * c))) ** 4)


def boiling_temperature_c(pressure_pa: float) -> float:
    """Temperature at which liquid water boils.

    Parameters
        pressure_pa: absolute pressure [Pa]
    Returns
        temperature [°C]
    Validity
        611.213 Pa to 22.064 MPa
    Source
        IAPWS-IF97 (2012), equation 31
    Example
        >>> round(boiling_temperature_c(101325.0), 3)
        99.974
    """
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _LIQUID
    beta = (pressure_pa / 1e6) ** 0.25
    e = beta * beta + n3 * beta + n6
    f = n1 * beta * beta + n4 * beta + n7
    g = n2 * beta * beta + n5 * beta + n8
    d = 2.0 * g / (-f - sqrt(f * f - 4.0 * e * g))
    total = n10 + d
    kelvin: float = (total - sqrt(total * total - 4.0 * (n9 + n10 * d))) / 2.0
    return kelvin - _ZERO_C_K


def frost_temperature_c(pressure_pa: float) -> float:
    """Temperature at which ice is in balance with its vapour: the inverse of sublimation_pressure_pa.

    Parameters
        pressure_pa: absolute pressure [Pa]
    Returns
        temperature [°C]
    Validity
        0.0014 Pa (−100 °C) to 611.657 Pa
    Source
        IAPWS R14-08 (2011), equation 6, solved by Newton's rule in the logarithm
    Example
        >>> round(frost_temperature_c(66.6612), 2)
        -24.48
    """
    goal, kelvin = log(pressure_pa / TRIPLE_PA), 250.0
    for _ in range(30):
        theta = kelvin / _TRIPLE_K
        terms = [a * theta**b for a, b in _ICE]
        value = sum(terms) / theta
        slope = (sum(b * term for term, (_, b) in zip(terms, _ICE, strict=True)) / theta - value) / kelvin
        step = (goal - value) / slope
        kelvin += step
        if abs(step) < 1e-9:
            break
    return kelvin - _ZERO_C_K


def vapour_pressure_pa(temperature_c: float) -> float:
    """Vapour pressure of water: over ice up to 0.01 °C, over liquid above.

    Parameters
        temperature_c: of ice or water [°C]
    Returns
        absolute pressure [Pa]
    Validity
        −100 °C to 373.946 °C
    Source
        IAPWS R14-08 (2011), equation 6; IAPWS-IF97 (2012), equation 30
    Example
        >>> round(vapour_pressure_pa(-5.0), 2), round(vapour_pressure_pa(5.0), 1)
        (401.74, 872.6)
    """
    return sublimation_pressure_pa(temperature_c) if temperature_c <= TRIPLE_C else boiling_pressure_pa(temperature_c)


def water_temperature_c(pressure_pa: float) -> float:
    """Temperature at which ice (below 611.657 Pa) or liquid water gives off vapour at a pressure.

    Parameters
        pressure_pa: absolute pressure [Pa]
    Returns
        temperature [°C]
    Validity
        0.0014 Pa to 22.064 MPa
    Source
        IAPWS R14-08 (2011), equation 6; IAPWS-IF97 (2012), equation 31
    """
    return frost_temperature_c(pressure_pa) if pressure_pa < TRIPLE_PA else boiling_temperature_c(pressure_pa)
