"""Air pressure at the site, and from what a gauge reads to absolute pressure."""

from __future__ import annotations

from calc.units import Unit

STANDARD_ATMOSPHERE_PA = 101325.0
LOWEST_ELEVATION_M = -5000.0
HIGHEST_ELEVATION_M = 11000.0
WEATHER_PA = 1500.0
"""What the weather moves the air pressure at one place, either way, k = 2 [Pa]; common practice, no source."""
REDUCED_SHARE = 0.04
"""A barometer further than this from the elevation's standard pressure is probably reduced to sea level."""


def standard_atmosphere_pa(elevation_m: float) -> float:
    """Pressure of the standard atmosphere at an elevation.

    Parameters
        elevation_m: height above sea level [m]
    Returns
        absolute air pressure [Pa]
    Validity
        −5000 m to 11000 m
    Source
        ASHRAE Handbook Fundamentals (2017), chapter 1, equation 3
    Example
        >>> round(standard_atmosphere_pa(500.0))
        95461
    """
    return STANDARD_ATMOSPHERE_PA * float((1.0 - 2.25577e-5 * elevation_m) ** 5.2559)


def absolute_pa(number: float, unit: Unit, site_pa: float) -> float:
    """Absolute pressure of a reading.

    Parameters
        number: as read, in `unit`
        unit: a pressure unit; "gauge" counts up from the site's air, "vacuum" down from it
        site_pa: absolute air pressure at the site [Pa]
    Returns
        absolute pressure; zero or less cannot be [Pa]
    Source
        definition of gauge pressure, NIST SP 811 (2008), section 8.10 (from memory)
    Example
        >>> from calc.units import named_unit
        >>> round(absolute_pa(118.0, named_unit("psig", "pressure"), 101325.0))
        914906
    """
    value = number * unit.scale
    if unit.reads == "gauge":
        return site_pa + value
    if unit.reads == "vacuum":
        return site_pa - value
    return value


def read_pa(pressure_pa: float, unit: Unit, site_pa: float) -> float:
    """What an instrument in `unit` shows for an absolute pressure: the inverse of absolute_pa.

    Parameters
        pressure_pa: absolute pressure [Pa]
        unit: a pressure unit
        site_pa: absolute air pressure at the site [Pa]
    Returns
        the number in `unit`
    Source
        as absolute_pa
    """
    if unit.reads == "gauge":
        return (pressure_pa - site_pa) / unit.scale
    if unit.reads == "vacuum":
        return (site_pa - pressure_pa) / unit.scale
    return pressure_pa / unit.scale
