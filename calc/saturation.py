"""Saturation of a refrigerant: bubble and dew temperature, pressure, and the phases' density, enthalpy and entropy.

Bubble is where the first vapour forms (saturated liquid), dew where the last liquid goes (saturated vapour); for a pure
substance they are one curve. Temperatures in °C, pressures in Pa absolute. Outside a table there is no answer, only
OutsideTable with the reason.
"""

from __future__ import annotations

from typing import Literal, NoReturn

from calc.refrigerants import Refrigerant
from calc.saturation_curve import SaturationCurve

Side = Literal["bubble", "dew"]
COLD_C = -40.0  # below this, and above NEAR_CRITICAL of the critical pressure, a blend's model error doubles
NEAR_CRITICAL = 0.9

REASONS = {
    "above_critical": "above the critical point there is no boiling and no condensing",
    "near_critical": "too close to the critical point",
    "above_table": "above the range of the table",
    "below_table": "below the range of the table",
    "below_triple_point": "below the triple point, where the liquid freezes",
    "not_a_number": "not a number",
}


class OutsideTable(ValueError):
    """There is no saturation state to give.

    refrigerant: designation; quantity: "temperature" (°C) or "pressure" (Pa absolute); value: what was asked
    low, high: the range of the curve in that quantity; reason: a key of REASONS
    """

    def __init__(
        self, refrigerant: str, quantity: Literal["temperature", "pressure"], value: float, low: float, high: float,
        reason: str,
    ) -> None:  # fmt: skip
        self.refrigerant, self.quantity, self.value = refrigerant, quantity, value
        self.low, self.high, self.reason = low, high, reason
        unit, scale = ("°C", 1.0) if quantity == "temperature" else ("bar absolute", 1e-5)
        super().__init__(
            f"{refrigerant}: no saturation at a {quantity} of {value * scale:.6g} {unit}: {REASONS[reason]}. "
            f"The table holds from {low * scale:.4g} to {high * scale:.4g} {unit}."
        )


def bubble_pressure_pa(refrigerant: Refrigerant, temperature_c: float) -> float:
    """Pressure at which liquid of the nominal composition begins to boil.

    Parameters
        refrigerant: from calc.refrigerants.get
        temperature_c: [°C]
    Returns
        [Pa absolute]
    Validity
        refrigerant.bubble.t_low_c to t_high_c; OutsideTable beyond
    Source
        tables made with CoolProp 8.0.0 (tests/reference/build_tables.py); model error: model_error_k
    Example
        >>> from calc.refrigerants import get
        >>> round(bubble_pressure_pa(get("R-410A"), 0.0) / 1e3, 1)
        800.7
    """
    curve = refrigerant.bubble
    if curve.t_min <= temperature_c <= curve.t_max:
        return curve.pressure_pa(temperature_c)
    _refuse_temperature(refrigerant, curve, temperature_c)


def dew_pressure_pa(refrigerant: Refrigerant, temperature_c: float) -> float:
    """Pressure at which vapour of the nominal composition begins to condense.

    Parameters
        refrigerant: from calc.refrigerants.get
        temperature_c: [°C]
    Returns
        [Pa absolute]
    Validity
        refrigerant.dew.t_low_c to t_high_c; OutsideTable beyond
    Source
        tables made with CoolProp 8.0.0 (tests/reference/build_tables.py); model error: model_error_k
    Example
        >>> from calc.refrigerants import get
        >>> round(dew_pressure_pa(get("R-407C"), 0.0) / 1e3, 1)
        460.7
    """
    curve = refrigerant.dew
    if curve.t_min <= temperature_c <= curve.t_max:
        return curve.pressure_pa(temperature_c)
    _refuse_temperature(refrigerant, curve, temperature_c)


def bubble_temperature_c(refrigerant: Refrigerant, pressure_pa: float) -> float:
    """Temperature at which liquid of the nominal composition begins to boil: the basis of subcooling.

    Parameters
        refrigerant: from calc.refrigerants.get
        pressure_pa: [Pa absolute]
    Returns
        [°C]
    Validity
        refrigerant.bubble.p_low_pa to p_high_pa; OutsideTable beyond
    Source
        tables made with CoolProp 8.0.0 (tests/reference/build_tables.py); model error: model_error_k
    Example
        >>> from calc.refrigerants import get
        >>> round(bubble_temperature_c(get("R-448A"), 1228.6e3), 1)
        23.2
    """
    curve = refrigerant.bubble
    if curve.p_low_pa <= pressure_pa <= curve.p_high_pa:
        return curve.temperature_c(pressure_pa)
    _refuse_pressure(refrigerant, curve, pressure_pa)


def dew_temperature_c(refrigerant: Refrigerant, pressure_pa: float) -> float:
    """Temperature at which vapour of the nominal composition begins to condense: the basis of superheat.

    Parameters
        refrigerant: from calc.refrigerants.get
        pressure_pa: [Pa absolute]
    Returns
        [°C]
    Validity
        refrigerant.dew.p_low_pa to p_high_pa; OutsideTable beyond
    Source
        tables made with CoolProp 8.0.0 (tests/reference/build_tables.py); model error: model_error_k
    Example
        >>> from calc.refrigerants import get
        >>> round(dew_temperature_c(get("R-134a"), 100e3), 2)
        -26.36
    """
    curve = refrigerant.dew
    if curve.p_low_pa <= pressure_pa <= curve.p_high_pa:
        return curve.temperature_c(pressure_pa)
    _refuse_pressure(refrigerant, curve, pressure_pa)


def midpoint_temperature_c(refrigerant: Refrigerant, pressure_pa: float) -> float:
    """Mean of bubble and dew temperature at one pressure.

    Parameters
        refrigerant: from calc.refrigerants.get
        pressure_pa: [Pa absolute]
    Returns
        [°C]; for a pure substance its saturation temperature
    Validity
        where both curves hold; OutsideTable beyond. Temperature is not linear in enthalpy between the two, so the mean
        over a condenser may differ from this by up to 0.4 K, and by 1 K and more for R-455A and R-470A
    Source
        definition: common practice, no source
    """
    return (bubble_temperature_c(refrigerant, pressure_pa) + dew_temperature_c(refrigerant, pressure_pa)) / 2


def glide_k(refrigerant: Refrigerant, pressure_pa: float) -> float:
    """Dew minus bubble temperature at one pressure.

    Parameters
        refrigerant: from calc.refrigerants.get
        pressure_pa: [Pa absolute]
    Returns
        [K], never negative; zero for a pure substance
    Validity
        where both curves hold; OutsideTable beyond
    Source
        definition: common practice, no source
    Example
        >>> from calc.refrigerants import get
        >>> round(glide_k(get("R-407C"), 500e3), 1), glide_k(get("R-22"), 500e3)
        (6.2, 0.0)
    """
    if refrigerant.pure:
        dew_temperature_c(refrigerant, pressure_pa)  # refuses what lies outside
        return 0.0
    return max(0.0, dew_temperature_c(refrigerant, pressure_pa) - bubble_temperature_c(refrigerant, pressure_pa))


def density(refrigerant: Refrigerant, side: Side, temperature_c: float) -> float:
    """Density of the saturated liquid ("bubble") or vapour ("dew").

    Parameters
        refrigerant: from calc.refrigerants.get
        side: "bubble" or "dew"
        temperature_c: [°C]
    Returns
        [kg/m³]
    Validity
        the range of that curve; OutsideTable beyond
    Source
        tables made with CoolProp 8.0.0 (tests/reference/build_tables.py)
    Example
        >>> from calc.refrigerants import get
        >>> round(density(get("R-134a"), "bubble", 25.0), 1)
        1206.7
    """
    return _curve(refrigerant, side, temperature_c).density_kg_m3(temperature_c)


def enthalpy(refrigerant: Refrigerant, side: Side, temperature_c: float) -> float:
    """Specific enthalpy of the saturated liquid ("bubble") or vapour ("dew").

    Parameters
        refrigerant: from calc.refrigerants.get
        side: "bubble" or "dew"
        temperature_c: [°C]
    Returns
        [J/kg], 200 kJ/kg for the bubble state at 0 °C (IIR reference)
    Validity
        the range of that curve; OutsideTable beyond
    Source
        tables made with CoolProp 8.0.0 (tests/reference/build_tables.py)
    """
    return _curve(refrigerant, side, temperature_c).enthalpy_j_kg(temperature_c)


def entropy(refrigerant: Refrigerant, side: Side, temperature_c: float) -> float:
    """Specific entropy of the saturated liquid ("bubble") or vapour ("dew").

    Parameters
        refrigerant: from calc.refrigerants.get
        side: "bubble" or "dew"
        temperature_c: [°C]
    Returns
        [J/(kg K)], 1 kJ/(kg K) for the bubble state at 0 °C (IIR reference)
    Validity
        the range of that curve; OutsideTable beyond
    Source
        tables made with CoolProp 8.0.0 (tests/reference/build_tables.py)
    """
    return _curve(refrigerant, side, temperature_c).entropy_j_kg_k(temperature_c)


def model_error_k(refrigerant: Refrigerant, side: Side, temperature_c: float) -> float:
    """How far the true saturation temperature may lie from the table's, k = 2.

    Parameters
        refrigerant: from calc.refrigerants.get
        side: "bubble" or "dew"
        temperature_c: saturation temperature [°C]
    Returns
        [K]; of the model only. Composition drift after a leak is not in it
    Validity
        anywhere; for blends doubled below −40 °C and above 90 % of the critical pressure
    Source
        judgement from the publications of the models, kept per refrigerant in tests/reference/refrigerants.csv
    Example
        >>> from calc.refrigerants import get
        >>> model_error_k(get("R-448A"), "bubble", 20.0), model_error_k(get("R-448A"), "dew", -45.0)
        (0.4, 0.8)
    """
    error = refrigerant.model_k[side]
    if refrigerant.pure:
        return error
    curve: SaturationCurve = getattr(refrigerant, side)
    hot = curve.temperature_c(min(NEAR_CRITICAL * refrigerant.critical_pressure_pa, curve.p_high_pa))
    return 2 * error if temperature_c < COLD_C or temperature_c > hot else error


def _curve(refrigerant: Refrigerant, side: Side, temperature_c: float) -> SaturationCurve:
    curve: SaturationCurve = getattr(refrigerant, side)
    if not curve.t_min <= temperature_c <= curve.t_max:
        _refuse_temperature(refrigerant, curve, temperature_c)
    return curve


def _refuse_temperature(refrigerant: Refrigerant, curve: SaturationCurve, temperature_c: float) -> NoReturn:
    low, high = curve.t_low_c, curve.t_high_c
    reason = _reason(refrigerant, temperature_c, low, high, refrigerant.critical_temperature_c)
    raise OutsideTable(refrigerant.designation, "temperature", temperature_c, low, high, reason)


def _refuse_pressure(refrigerant: Refrigerant, curve: SaturationCurve, pressure_pa: float) -> NoReturn:
    low, high = curve.p_low_pa, curve.p_high_pa
    reason = _reason(refrigerant, pressure_pa, low, high, refrigerant.critical_pressure_pa)
    raise OutsideTable(refrigerant.designation, "pressure", pressure_pa, low, high, reason)


def _reason(refrigerant: Refrigerant, value: float, low: float, high: float, critical: float) -> str:
    if value < low:
        return refrigerant.reason_below
    if value >= critical:
        return "above_critical"
    return refrigerant.reason_above if value > high else "not_a_number"
