"""Typed text to values. Factors: NIST SP 811 (2008), appendix B, exact unless a tolerance stands beside the row."""

from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import Unreadable
from calc.notation import number, read_quantity
from calc.pressure import absolute_pa, read_pa
from calc.units import CANONICAL, find_unit, named_unit, unit_choices

SITE_PA = 101_325.0


def pascal(text: str, reads: str = "gauge", site_pa: float = SITE_PA) -> float:
    typed = read_quantity(text, "pressure", reads)
    return absolute_pa(typed.number, typed.unit, site_pa)


def canonical(text: str, quantity: str) -> float:
    typed = read_quantity(text, quantity)
    return typed.unit.zero + typed.unit.scale * typed.number


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("118", 118.0),
        ("1 234", 1234.0),
        ("1 234,5", 1234.5),
        ("1,234.5", 1234.5),
        ("1.234,5", 1234.5),
        ("4,69", 4.69),
        ("1.234", 1.234),
        ("1,234,567", 1234567.0),
        ("1.234.567", 1234567.0),
        (".5", 0.5),
        (",25", 0.25),
        ("−4.69", -4.69),
        ("-4,6", -4.6),
        ("+3", 3.0),
        ("1e3", 1000.0),
        ("1\u202f234.5", 1234.5),
        ("12 345 678", 12345678.0),
        ("1,234,567.8", 1234567.8),
    ],
)
def test_numbers_as_people_write_them(text: str, expected: float) -> None:
    assert number(text) == expected


@pytest.mark.parametrize(
    "text", ["", "abc", "1,23.4", "12,34,567", "1.5,5", "--3", "nan", "inf", "1e999", "5.", "٣", "1 23"]
)
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(Unreadable, match="is not a number") as refused:
        number(text)
    assert refused.value.code == "not_a_number"


@pytest.mark.parametrize(
    ("text", "readings"), [("1,234", ("1.234", "1234")), ("0,500", ("0.500", "0500")), ("-12,345", ("12.345", "12345"))]
)
def test_a_comma_before_three_digits_is_refused_with_both_readings(text: str, readings: tuple[str, str]) -> None:
    with pytest.raises(Unreadable, match="two ways") as refused:
        number(text)
    assert refused.value.code == "ambiguous_number"
    assert all(reading in str(refused.value.hint) for reading in readings)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("118 psig", SITE_PA + 118 * 6894.757293168),
        ("132.7 psia", 132.7 * 6894.757293168),
        ("8.2 barg", SITE_PA + 8.2e5),
        ("9.2 bara", 9.2e5),
        ("820 kPag", SITE_PA + 820e3),
        ("920 kPaa", 920e3),
        ("0.82 MPag", SITE_PA + 0.82e6),
        ("22 inHgv", SITE_PA - 22 * 3386.389),
        ("500 micron", 500 * 101325 / 760000),
        ("500 mTorr", 500 * 101325 / 760000),
        ("0.5 Torr", 0.5 * 101325 / 760),
        ("0.7 mbar", 70.0),
        ("66 Pa", 66.0),
        ("9 kgf/cm2a", 9 * 98066.5),
        ("118 PSIG", SITE_PA + 118 * 6894.757293168),
        ("118psig", SITE_PA + 118 * 6894.757293168),
        ("118 psi(g)", SITE_PA + 118 * 6894.757293168),
        ("8 bar g", SITE_PA + 8e5),
        ("500 microns", 500 * 101325 / 760000),
    ],
)
def test_pressures_a_gauge_field_takes(text: str, expected: float) -> None:
    assert pascal(text) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("24.6 inHg", 24.6 * 3386.389),
        ("833 hPa", 83300.0),
        ("12.1 psi", 12.1 * 6894.757293168),
        ("1 bar", 1e5),
        ("83 kPa", 83e3),
    ],
)
def test_an_absolute_field_takes_bare_units(text: str, expected: float) -> None:
    assert pascal(text, "absolute") == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("unit", ["psi", "bar", "kPa", "MPa", "kgf/cm2", "inHg"])
def test_a_gauge_field_refuses_bare_units_and_offers_both(unit: str) -> None:
    with pytest.raises(Unreadable, match="gauge or absolute") as refused:
        pascal(f"118 {unit}")
    assert refused.value.code == "gauge_or_absolute"
    gauge = "118 inHgv" if unit == "inHg" else f"118 {unit}g"
    assert gauge in str(refused.value.hint)
    assert f"118 {unit}a" in str(refused.value.hint)


@pytest.mark.parametrize("unit", ["psig", "barg", "kPag", "MPag", "kgf/cm2g"])
@pytest.mark.parametrize("reads", ["absolute", "vacuum"])
def test_an_absolute_field_refuses_gauge_units_but_takes_inches_of_vacuum(unit: str, reads: str) -> None:
    with pytest.raises(Unreadable, match="absolute") as refused:
        pascal(f"1 {unit}", reads)
    assert refused.value.code == "gauge_or_absolute"
    assert pascal("22 inHgv", reads) == pytest.approx(SITE_PA - 22 * 3386.389)


@pytest.mark.parametrize(
    ("text", "quantity", "expected"),
    [
        ("52 F", "temperature", 100 / 9),
        ("52 °F", "temperature", 100 / 9),
        ("11 C", "temperature", 11.0),
        ("284 K", "temperature", 10.85),
        ("-40 degF", "temperature", -40.0),
        ("10 °F", "temperature_difference", 50 / 9),
        ("5 C", "temperature_difference", 5.0),
        ("5 K", "temperature_difference", 5.0),
        ("10 lb 4 oz", "mass", 10.25 * 0.45359237),
        ("164 oz", "mass", 10.25 * 0.45359237),
        ("4.65 kg", "mass", 4.65),
        ("4,69 kg", "mass", 4.69),
        ("650 g", "mass", 0.65),
        ("25 ft", "length", 7.62),
        ("7 ft 6 in", "length", 2.286),
        ("3/8 in", "length", 0.009525),
        ("1 3/8 in", "length", 0.034925),
        ("7.6 m", "length", 7.6),
        ("20 L", "volume", 0.02),
        ("0.7 ft3", "volume", 0.7 * 0.028316846592),
        ("0.7 ft³", "volume", 0.7 * 0.028316846592),
        ("5 gal", "volume", 5 * 0.003785411784),
        ("1200 cfm", "volume_flow", 1200 * 0.0004719474432),
        ("0.57 m3/s", "volume_flow", 0.57),
        ("570 L/s", "volume_flow", 0.57),
        ("2000 m3/h", "volume_flow", 2000 / 3600),
        ("36000 Btu/h", "power", 36000 * 1055.05585262 / 3600),
        ("3 ton", "power", 3 * 3516.8528420667),
        ("10.5 kW", "power", 10500.0),
        ("45 uF", "capacitance", 45e-6),
        ("45 µF", "capacitance", 45e-6),
        ("10 min", "time", 600.0),
        ("1 h", "time", 3600.0),
        ("1 h 30 min", "time", 5400.0),
        ("45 d", "time", 45 * 86400.0),
        ("60 Hz", "frequency", 60.0),
        ("45 %", "ratio", 0.45),
        ("47.6 lb", "water_capacity", 47.6 * 0.45359237 / 999.0),  # water at 60 °F: 999.0 kg/m³ (IAPWS-95)
        ("26.2 L", "water_capacity", 0.0262),
        ("120 ft2", "area", 120 * 0.3048**2),
        ("11.1 m²", "area", 11.1),
        ("0.6 oz/ft", "mass_per_length", 0.6 * 0.028349523125 / 0.3048),
        ("55 g/m", "mass_per_length", 0.055),
        ("1200 scfm", "volume_flow", 1200 * 0.0004719474432),
        ("570 sL/s", "volume_flow", 0.57),
        ("570 sL/s", "standard_volume_flow", 0.57),
        ("3600 lb/h", "mass_flow", 0.45359237),
        ("36 kg/h", "mass_flow", 0.01),
        ("70 gr/lb", "humidity_ratio", 0.01),
        ("10 g/kg", "humidity_ratio", 0.01),
        ("0 Btu/lb", "air_enthalpy", -1006 * 160 / 9),
        ("50 kJ/kg", "air_enthalpy", 50000.0),
        ("1 ft3/lb", "specific_volume", 0.3048**3 / 0.45359237),
    ],
)
def test_notations(text: str, quantity: str, expected: float) -> None:
    assert canonical(text, quantity) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "quantity", "limit"),
    [
        ("118 psig ± 1", "pressure", 6894.757293168),
        ("118 psig ± 1 psi", "pressure", 6894.757293168),
        ("118 psig +/- 0.5 %", "pressure", 0.59 * 6894.757293168),
        ("52 F ± 0.9", "temperature", 0.5),
        ("52 F ± 1 K", "temperature", 1.0),
        ("52 °F ± 1 °F", "temperature", 5 / 9),
        ("8,2 barg ± 7 kPa", "pressure", 7000.0),
        ("10 lb 4 oz ± 1", "mass", 0.028349523125),
        ("118 psig ± 0", "pressure", 0.0),
        ("11.2 ± 0.9 °F", "temperature", 0.5),
        ("500 micron +- 10 %", "pressure", 50 * 101325 / 760000),
        ("45 % ± 3", "ratio", 0.03),
        ("45 % ± 3 %", "ratio", 0.03),  # points, not a share of the reading
        ("45 ± 3 %", "ratio", 0.03),
    ],
)
def test_the_limit_of_error_stands_after_plus_minus(text: str, quantity: str, limit: float) -> None:
    assert read_quantity(text, quantity, "gauge" if quantity == "pressure" else "").limit == pytest.approx(limit)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("118 psig ± 1 psig", "unit"),
        ("118 psig ± x", "not_a_number"),
        ("118 psig ± -1", "not_a_number"),
        ("118 psig ± 1 ± 2", "not_a_number"),
        ("118 psig ± 1 F", "unit"),
        ("118 psig ± 1,234", "ambiguous_number"),
    ],
)
def test_a_limit_of_error_is_a_difference(text: str, code: str) -> None:
    with pytest.raises(Unreadable, match=r"\w") as refused:
        read_quantity(text, "pressure", "gauge")
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("text", "quantity", "says"),
    [
        ("118", "pressure", "no unit"),
        ("118 furlong", "pressure", "not a unit known"),
        ("118 psig", "temperature", "unit of pressure"),
        ("10 oz 4 lb", "mass", "not a unit"),
        ("7 ft -6 in", "length", "not a unit"),
    ],
)
def test_a_unit_that_does_not_fit_is_named(text: str, quantity: str, says: str) -> None:
    with pytest.raises(Unreadable, match=says) as refused:
        read_quantity(text, quantity, "gauge" if quantity == "pressure" else "")
    assert refused.value.code == "unit"


@pytest.mark.parametrize("unit", ["psig", "psia", "barg", "kPaa", "inHgv"])
def test_a_difference_is_neither_gauge_nor_absolute(unit: str) -> None:
    with pytest.raises(Unreadable, match="neither gauge nor absolute") as refused:
        read_quantity(f"2 {unit}", "pressure_difference")
    assert refused.value.code == "unit"
    assert canonical("2 psi", "pressure_difference") == pytest.approx(2 * 6894.757293168)


def test_every_unit_offered_is_read_back() -> None:
    for quantity in CANONICAL:
        for reads in ("", "gauge", "absolute", "vacuum"):
            for symbol in unit_choices(quantity, reads):
                assert find_unit(symbol, quantity) is not None
                if quantity == "pressure" and reads:
                    assert read_quantity(f"1 {symbol}", quantity, reads).unit.symbol == symbol


@pytest.mark.parametrize(
    ("text", "quantity", "value"),
    [
        ("7.2286 mbar.L/s", "leak", 0.72286),  # 40 CFR 1065.644, worked example: 0.72286 Pa·m³/s
        ("7.2286 mbar·L/s", "leak", 0.72286),
        ("2e-3 Pa·m³/s", "leak", 2e-3),
        ("60 micron/min", "pressure_slope", 101.325 / 760),
    ],
)
def test_leaks_and_slopes(text: str, quantity: str, value: float) -> None:
    assert canonical(text, quantity) == pytest.approx(value)


def test_canonical_units_are_read_and_change_nothing() -> None:
    for quantity, unit in CANONICAL.items():
        assert canonical(f"7.5 {unit}", quantity) == pytest.approx(7.5)


PRESSURE_UNITS = st.sampled_from([*unit_choices("pressure", "gauge"), *unit_choices("pressure", "vacuum")])


@given(st.floats(1.0, 1e7), PRESSURE_UNITS, st.floats(5e4, 1.1e5))
def test_pressure_to_any_unit_and_back(pressure_pa: float, symbol: str, site_pa: float) -> None:
    unit = named_unit(symbol, "pressure")
    assert absolute_pa(read_pa(pressure_pa, unit, site_pa), unit, site_pa) == pytest.approx(
        pressure_pa, rel=1e-9, abs=1e-6
    )


@given(st.decimals(-99999, 99999, places=2), st.booleans(), st.booleans())
def test_a_number_written_is_the_number_read(value: object, comma: bool, grouped: bool) -> None:
    text = f"{value:,.2f}" if grouped else f"{value:.2f}"
    if comma:
        text = text.replace(",", "_").replace(".", ",").replace("_", ".")
    assert number(text) == float(value)  # type: ignore[arg-type]


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    for quantity, reads in (("pressure", "gauge"), ("temperature", ""), ("mass", "")):
        refused = None
        try:
            typed = read_quantity(text, quantity, reads)
        except Unreadable as unreadable:
            refused = unreadable
        else:
            assert isfinite(typed.number)
        assert refused is None or (str(refused.problem) and str(refused.hint))
