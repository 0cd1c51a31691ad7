"""The units people type and read, and the one fixed unit of each quantity inside calc.

Source: exact factors of the international yard and pound, the conventional inch of mercury (0 °C) and the
international table Btu, NIST SP 811 (2008), appendix B.
"""

from __future__ import annotations

from typing import NamedTuple

PSI_PA = 6894.757293168
IN_HG_PA = 3386.389
TORR_PA = 101325.0 / 760.0
MICRON_PA = TORR_PA / 1000.0
KGF_CM2_PA = 98066.5
POUND_KG = 0.45359237
FOOT_M = 0.3048
WATER_KG_M3 = 999.0
"""Density of water at 60 °F (15.6 °C), where cylinders are stamped in mass of water; IAPWS-95: 999.0 kg/m³."""
GALLON_M3 = 231 * (FOOT_M / 12) ** 3
BTU_J = 1055.05585262
FAHRENHEIT_K = 5.0 / 9.0
FAHRENHEIT_ZERO_C = -32.0 * FAHRENHEIT_K
ZERO_C_K = 273.15
AIR_ZERO_F_J = 1006.0 * FAHRENHEIT_ZERO_C
"""Enthalpy of moist air counts from dry air at 0 °F in Btu/lb, from dry air at 0 °C in kJ/kg (calc.moist_air)."""

CANONICAL = {
    "water_capacity": "m3", "area": "m2",
    "pressure": "Pa", "pressure_difference": "Pa", "temperature": "degC", "temperature_difference": "K", "mass": "kg",
    "length": "m", "volume": "m3", "time": "s", "power": "W", "volume_flow": "m3/s", "mass_per_length": "kg/m",
    "current": "A", "voltage": "V", "capacitance": "F", "frequency": "Hz", "leak": "Pa.m3/s",
    "pressure_slope": "Pa/s", "ratio": "1", "humidity_ratio": "kg/kg",
    "air_enthalpy": "J/kg", "specific_volume": "m3/kg", "mass_flow": "kg/s", "standard_volume_flow": "m3/s",
}  # fmt: skip
"""The canonical unit of each quantity: pressures absolute, temperatures in °C, differences in K."""

DIFFERENCE_OF = {"pressure": "pressure_difference", "temperature": "temperature_difference"}
"""Quantities whose differences are another quantity."""


class Unit(NamedTuple):
    """One unit as it is shown and typed.

    canonical value = zero + scale × number, to which a gauge reading adds the site's pressure and from which a vacuum
    is taken. reads: for pressures "gauge", "absolute", "vacuum" or "bare" (says neither); for flows "standard" where
    they are of standard air. system: "us", "metric" or "" where both worlds use it. plain: the unit of a difference.
    """

    symbol: str
    quantity: str
    scale: float
    zero: float = 0.0
    reads: str = ""
    system: str = ""
    also: tuple[str, ...] = ()
    plain: str = ""


def _pressures() -> list[Unit]:
    made: list[Unit] = []
    families: tuple[tuple[str, float, str, tuple[str, ...]], ...] = (
        ("psi", PSI_PA, "us", ("lb/in2", "lbf/in2")),
        ("bar", 1e5, "metric", ()),
        ("kPa", 1e3, "metric", ()),
        ("MPa", 1e6, "metric", ()),
        ("kgf/cm2", KGF_CM2_PA, "metric", ("kg/cm2",)),
    )
    for name, scale, system, also in families:
        for ending, reads in (("g", "gauge"), ("a", "absolute"), ("", "bare")):
            others = tuple(f"{other}{ending}" for other in also)
            made.append(Unit(name + ending, "pressure", scale, 0.0, reads, system, others, name))
        made.append(Unit(name, "pressure_difference", scale, system=system, also=also))
    made += [
        Unit("inHgv", "pressure", IN_HG_PA, 0.0, "vacuum", "us", ("inHgvac", "inHgvacuum"), "inHg"),
        Unit("inHga", "pressure", IN_HG_PA, 0.0, "absolute", "us", (), "inHg"),
        Unit("inHg", "pressure", IN_HG_PA, 0.0, "bare", "us", (), "inHg"),
        Unit("inHg", "pressure_difference", IN_HG_PA, system="us"),
    ]
    always_absolute: tuple[tuple[str, float, str, tuple[str, ...]], ...] = (
        ("Pa", 1.0, "metric", ("Paa",)),
        ("hPa", 100.0, "metric", ()),
        ("mbar", 100.0, "metric", ()),
        ("micron", MICRON_PA, "us", ("microns", "µmHg", "μmHg", "umHg")),
        ("mTorr", MICRON_PA, "us", ()),
        ("Torr", TORR_PA, "us", ("mmHg",)),
    )
    for name, scale, system, also in always_absolute:
        made.append(Unit(name, "pressure", scale, 0.0, "absolute", system, also, name))
        made.append(Unit(name, "pressure_difference", scale, system=system))
    return made


_TABLE: tuple[Unit, ...] = (
    *_pressures(),
    Unit("lb", "water_capacity", POUND_KG / WATER_KG_M3, system="us", also=("lbs", "lbm")),
    Unit("ft3", "water_capacity", FOOT_M**3, system="us"),
    Unit("gal", "water_capacity", GALLON_M3, system="us"),
    Unit("L", "water_capacity", 1e-3, system="metric", also=("litre", "liter")),
    Unit("kg", "water_capacity", 1.0 / WATER_KG_M3, system="metric"),
    Unit("m3", "water_capacity", 1.0, system="metric"),
    Unit("°F", "temperature", FAHRENHEIT_K, FAHRENHEIT_ZERO_C, "", "us", ("F", "degF", "ºF"), "°F"),
    Unit("°C", "temperature", 1.0, 0.0, "", "metric", ("C", "degC", "ºC"), "K"),
    Unit("K", "temperature", 1.0, -ZERO_C_K, "", "metric", ("kelvin",), "K"),
    Unit("°F", "temperature_difference", FAHRENHEIT_K, system="us", also=("F", "degF", "ºF", "°R", "R")),
    Unit("K", "temperature_difference", 1.0, system="metric", also=("kelvin", "°C", "C", "degC", "ºC")),
    Unit("lb", "mass", POUND_KG, system="us", also=("lbs", "lbm")),
    Unit("oz", "mass", POUND_KG / 16, system="us"),
    Unit("kg", "mass", 1.0, system="metric"),
    Unit("g", "mass", 1e-3, system="metric"),
    Unit("ft", "length", FOOT_M, system="us", also=("feet", "foot")),
    Unit("in", "length", FOOT_M / 12, system="us", also=("inch", "inches")),
    Unit("m", "length", 1.0, system="metric"),
    Unit("mm", "length", 1e-3, system="metric"),
    Unit("cm", "length", 1e-2, system="metric"),
    Unit("km", "length", 1e3, system="metric"),
    Unit("ft2", "area", FOOT_M**2, system="us", also=("sqft",)),
    Unit("m2", "area", 1.0, system="metric"),
    Unit("ft3", "volume", FOOT_M**3, system="us"),
    Unit("gal", "volume", GALLON_M3, system="us"),
    Unit("L", "volume", 1e-3, system="metric", also=("litre", "liter")),
    Unit("m3", "volume", 1.0, system="metric"),
    Unit("s", "time", 1.0, also=("sec",)),
    Unit("min", "time", 60.0),
    Unit("h", "time", 3600.0, also=("hr",)),
    Unit("d", "time", 86400.0, also=("day", "days")),
    Unit("Btu/h", "power", BTU_J / 3600, system="us", also=("Btuh",)),
    Unit("ton", "power", 12000 * BTU_J / 3600, system="us", also=("tons",)),
    Unit("kW", "power", 1e3, system="metric"),
    Unit("W", "power", 1.0, system="metric"),
    Unit("cfm", "volume_flow", FOOT_M**3 / 60, system="us"),
    Unit("L/s", "volume_flow", 1e-3, system="metric"),
    Unit("m3/s", "volume_flow", 1.0, system="metric"),
    Unit("m3/h", "volume_flow", 1 / 3600, system="metric"),
    Unit("scfm", "volume_flow", FOOT_M**3 / 60, reads="standard", system="us"),
    Unit("sL/s", "volume_flow", 1e-3, reads="standard", system="metric"),
    Unit("scfm", "standard_volume_flow", FOOT_M**3 / 60, reads="standard", system="us"),
    Unit("sL/s", "standard_volume_flow", 1e-3, reads="standard", system="metric"),
    Unit("m3/s", "standard_volume_flow", 1.0, reads="standard", system="metric"),
    Unit("lb/h", "mass_flow", POUND_KG / 3600, system="us", also=("lb/hr", "lbm/h")),
    Unit("kg/h", "mass_flow", 1 / 3600, system="metric", also=("kg/hr",)),
    Unit("kg/s", "mass_flow", 1.0, system="metric"),
    Unit("g/s", "mass_flow", 1e-3, system="metric"),
    Unit("gr/lb", "humidity_ratio", 1 / 7000, system="us"),
    Unit("lb/lb", "humidity_ratio", 1.0, system="us"),
    Unit("g/kg", "humidity_ratio", 1e-3, system="metric"),
    Unit("kg/kg", "humidity_ratio", 1.0, system="metric"),
    Unit("Btu/lb", "air_enthalpy", BTU_J / POUND_KG, AIR_ZERO_F_J, system="us"),
    Unit("kJ/kg", "air_enthalpy", 1e3, system="metric"),
    Unit("J/kg", "air_enthalpy", 1.0, system="metric"),
    Unit("ft3/lb", "specific_volume", FOOT_M**3 / POUND_KG, system="us"),
    Unit("m3/kg", "specific_volume", 1.0, system="metric"),
    Unit("Pa.m3/s", "leak", 1.0, also=("Pa·m3/s",)),
    Unit("mbar.L/s", "leak", 0.1, also=("mbar·L/s",)),
    Unit("micron/min", "pressure_slope", MICRON_PA / 60),
    Unit("Pa/s", "pressure_slope", 1.0),
    Unit("oz/ft", "mass_per_length", POUND_KG / 16 / FOOT_M, system="us"),
    Unit("g/m", "mass_per_length", 1e-3, system="metric"),
    Unit("kg/m", "mass_per_length", 1.0, system="metric"),
    Unit("A", "current", 1.0, also=("amp", "amps")),
    Unit("V", "voltage", 1.0, also=("volt", "volts")),
    Unit("µF", "capacitance", 1e-6, also=("μF", "uF", "mfd")),
    Unit("F", "capacitance", 1.0),
    Unit("Hz", "frequency", 1.0),
    Unit("%", "ratio", 0.01),
    Unit("1", "ratio", 1.0, also=("",)),
)

_OFFERED = {
    ("pressure", "gauge"): ("psig", "psia", "inHgv", "barg", "bara", "kPag", "kPaa", "MPag", "MPaa"),
    ("pressure", "absolute"): ("inHg", "hPa", "mbar", "kPa", "psia"),
    ("pressure", "vacuum"): ("micron", "Pa", "mbar", "Torr", "mTorr", "inHgv"),
    ("pressure_difference", ""): ("psi", "bar", "kPa", "inHg"),
    ("temperature", ""): ("°F", "°C", "K"),
    ("temperature_difference", ""): ("°F", "K"),
    ("length", ""): ("ft", "m", "in", "mm"),
    ("mass", ""): ("lb", "oz", "kg", "g"),
}

_SHOWN = {
    "us": {
        ("pressure", "gauge"): "psig", ("pressure", "absolute"): "psia", ("pressure", "vacuum"): "micron",
        ("pressure_difference", ""): "psi", ("temperature", ""): "°F", ("temperature_difference", ""): "°F",
        ("mass", ""): "lb", ("length", ""): "ft", ("time", ""): "min",
    },
    "metric": {
        ("pressure", "gauge"): "barg", ("pressure", "absolute"): "kPaa", ("pressure", "vacuum"): "Pa",
        ("pressure_difference", ""): "bar", ("temperature", ""): "°C", ("temperature_difference", ""): "K",
        ("mass", ""): "kg", ("length", ""): "m", ("time", ""): "min",
    },
}  # fmt: skip


def _plain(text: str) -> str:
    """A unit as typed, without blanks and brackets and with raised digits lowered."""
    return "".join(text.split()).replace("(", "").replace(")", "").replace("²", "2").replace("³", "3").replace("^", "")


def _index() -> tuple[dict[tuple[str, str], Unit], dict[tuple[str, str], Unit]]:
    exact: dict[tuple[str, str], Unit] = {}
    loose: dict[tuple[str, str], Unit | None] = {}
    for unit in _TABLE:
        for name in (unit.symbol, *unit.also):
            exact[unit.quantity, name] = unit
            key = unit.quantity, name.casefold()
            loose[key] = unit if loose.get(key, unit) is unit else None
    return exact, {key: unit for key, unit in loose.items() if unit is not None}


_EXACT, _LOOSE = _index()


def find_unit(text: str, quantity: str) -> Unit | None:
    """The unit of a quantity that a text names, or None; letter case matters only where it tells two units apart."""
    name = _plain(text)
    return _EXACT.get((quantity, name)) or _LOOSE.get((quantity, name.casefold()))


def quantities_of(text: str) -> tuple[str, ...]:
    """The quantities that have a unit of this name."""
    return tuple(quantity for quantity in CANONICAL if find_unit(text, quantity))


def named_unit(symbol: str, quantity: str) -> Unit:
    """The unit with exactly this symbol; KeyError if there is none."""
    return _EXACT[quantity, symbol]


def unit_choices(quantity: str, reads: str = "") -> tuple[str, ...]:
    """The notations offered beside an input of a quantity; reads as in a Field ("gauge", "absolute", "vacuum", "")."""
    offered = _OFFERED.get((quantity, reads)) or _OFFERED.get((quantity, "gauge" if quantity == "pressure" else ""))
    return offered or tuple(unit.symbol for unit in _TABLE if unit.quantity == quantity and unit.symbol != "1")


def usual_unit(quantity: str, reads: str, system: str) -> Unit:
    """The unit a quantity is shown in where none was typed; system is "us" or "metric"."""
    symbol = _SHOWN[system].get((quantity, reads))
    if symbol is None:
        fitting = [u for u in _TABLE if u.quantity == quantity and u.system in (system, "")]
        return fitting[0]
    return named_unit(symbol, quantity)


def difference_unit(unit: Unit) -> Unit:
    """The unit in which a difference of two values in `unit` is shown."""
    quantity = DIFFERENCE_OF.get(unit.quantity)
    return named_unit(unit.plain, quantity) if quantity else unit
