"""What a recovery cylinder may hold: the least of several limits, and what is refused."""

from __future__ import annotations

import pytest

from calc import refrigerants
from calc.liquid import SHARE_OF_GRADE
from calc.rules import rule_book
from calc.units import POUND_KG
from calc.working import Answer, run

WATER = 999.0  # kg/m³ at 60 °F, IAPWS-95


def ask(refrigerant: str, water_capacity: str, **more: str) -> Answer:
    answer = run("recovery_fill", {"refrigerant": refrigerant, "water_capacity": water_capacity, **more})
    assert answer.ok, answer.errors
    return answer


def net(refrigerant: str, water_capacity: str, **more: str) -> float:
    value = ask(refrigerant, water_capacity, **more).results["max_net_mass"].value
    assert isinstance(value, float)
    return value


# Saturated liquid [kg/m³] at 25 and 55 °C: CoolProp 8.0.0, called outside this program.
DENSITY = [
    ("R-22", 1190.65, 1057.2),
    ("R-134a", 1206.71, 1078.3),
    ("R-32", 961.01, 808.3),
    ("R-410A", 1058.90, 865.4),
    ("R-407C", 1137.53, 984.0),
    ("R-404A", 1044.03, 859.8),
    ("R-448A", 1097.5, 939.3),
    ("R-454B", 986.23, 829.9),
    ("R-513A", 1134.30, 1004.9),
    ("R-290", 492.36, 438.8),
    ("R-600a", 550.65, 510.2),
    ("R-1234yf", 1091.74, 966.1),
    ("R-717", 602.96, 554.3),
]


@pytest.mark.parametrize(("refrigerant", "cool", "hot"), DENSITY)
def test_the_lesser_of_the_two_liquid_limits(refrigerant: str, cool: float, hot: float) -> None:
    assert net(refrigerant, "20 L") == pytest.approx(0.020 * min(0.8 * cool, 0.95 * hot), rel=5e-4)
    governs = ask(refrigerant, "20 L").results["governed_by"].value
    assert governs == ("liquid_at_25" if 0.8 * cool < 0.95 * hot else "liquid_full_hot")


@pytest.mark.parametrize(("refrigerant", "cool", "hot"), DENSITY)
def test_no_cylinder_is_ever_liquid_full_when_hot(refrigerant: str, cool: float, hot: float) -> None:
    assert net(refrigerant, "20 L") < 0.96 * 0.020 * hot


def test_guideline_k_as_told_by_the_trade_press() -> None:
    """AHRI Guideline K-2004: 1000 lb of water, R-22 of specific gravity 1.197 at 77 °F, 957.6 lb."""
    assert net("R-22", "1000 lb") / POUND_KG == pytest.approx(957.6, rel=5e-3)


def test_eight_tenths_of_the_water_would_over_fill_what_is_light() -> None:
    """0.8 × water capacity is common practice; R-290 at that is 182 % of liquid-full at 55 °C (0.8 · 999/438.8)."""
    assert 1.8 * net("R-290", "20 L") < 0.8 * 0.020 * WATER


@pytest.mark.parametrize("refrigerant", ["R-12", "R-22", "R-152a", "R-717"])
def test_the_transport_table_stands_just_below_liquid_full(refrigerant: str) -> None:
    """49 CFR 173.304a as reproduced in AFMAN 24-604, table A6.1, against liquid density at 55 °C (CoolProp 8.0.0)."""
    full = {"R-12": 119.2, "R-22": 105.8, "R-152a": 81.6, "R-717": 55.5}[refrigerant]
    table = rule_book("us_filling_density").number(refrigerant)
    assert 0.96 * full < table < full


def test_the_least_governs() -> None:
    assert ask("R-22", "20 L", stamped_limit="10 kg").results["governed_by"].value == "stamped_limit"
    assert net("R-22", "20 L", stamped_limit="10 kg") == 10.0
    assert net("R-22", "20 L", stamped_limit="30 kg") == net("R-22", "20 L")
    assert net("R-22", "20 L", fill_fraction="50 %") == pytest.approx(0.5 * 0.020 * WATER)
    assert ask("R-410A", "20 L", reference_temperature="65 C").results["governed_by"].value == "liquid_full_hot"
    assert net("R-410A", "20 L", reference_temperature="65 C") < net("R-410A", "20 L")


@pytest.mark.parametrize("refrigerant", ["R-744", "R-23", "R-13", "R-508B"])
def test_without_liquid_only_a_filling_density_counts(refrigerant: str) -> None:
    assert refrigerants.get(refrigerant).critical_temperature_c < 60
    (fault,) = run("recovery_fill", {"refrigerant": refrigerant, "water_capacity": "20 L"}).errors
    assert (fault.field, fault.code) == ("fill_fraction", "missing")
    assert ("68 %" in str(fault.hint)) == (refrigerant == "R-744")
    answer = ask(refrigerant, "20 kg", fill_fraction="68 %")
    assert answer.results["max_net_mass"].value == pytest.approx(13.6)
    assert answer.results["governed_by"].value == "fill_fraction"


def test_gross_and_what_may_still_go_in() -> None:
    weights = {"tare": "27.5 lb", "gross_now": "47.6 lb"}
    results = ask("R-22", "47.6 lb", **weights).results
    gross = results["max_gross_mass"].value
    assert isinstance(gross, float)
    assert gross == pytest.approx(net("R-22", "47.6 lb") + 27.5 * POUND_KG)
    assert results["remaining_mass"].value == pytest.approx(gross - 47.6 * POUND_KG)


@pytest.mark.parametrize(("gross", "said"), [("80 lb", "Over-filled"), ("72.9 lb", "count the cylinder as full")])
def test_full_and_over_full_are_said(gross: str, said: str) -> None:
    answer = ask("R-22", "47.6 lb", tare="27.5 lb", gross_now=gross)
    assert any(said in str(note) for note in answer.notes)


@pytest.mark.parametrize(
    ("more", "field", "code"),
    [
        ({"contents": "mixed"}, "contents", "contradiction"),
        ({"contents": "unknown"}, "contents", "contradiction"),
        ({"contents": "R-22"}, "contents", "contradiction"),
        ({"contents": "soup"}, "contents", "unknown_choice"),
        ({"service_pressure": "260 psig"}, "service_pressure", "contradiction"),
        ({"tare": "27 lb", "gross_now": "20 lb"}, "gross_now", "contradiction"),
    ],
)
def test_what_is_refused(more: dict[str, str], field: str, code: str) -> None:
    (fault,) = run("recovery_fill", {"refrigerant": "R-410A", "water_capacity": "47.6 lb", **more}).errors
    assert (fault.field, fault.code) == (field, code)


@pytest.mark.parametrize("contents", ["empty", "Recovered", "R410A"])
def test_the_same_refrigerant_may_be_added(contents: str) -> None:
    assert net("R-410A", "20 L", contents=contents) == net("R-410A", "20 L")


@pytest.mark.parametrize(("service", "said"), [("400 psig", True), ("500 psig", False)])
def test_pressure_when_hot_against_the_service_pressure(service: str, said: bool) -> None:
    """R-410A at 55 °C is 484 psig (bubble, CoolProp 8.0.0): above 400, within 5/4 of it."""
    notes = ask("R-410A", "20 L", service_pressure=service).notes
    assert any("484" in str(note) for note in notes)
    assert any("above the service pressure" in str(note) for note in notes) == said


def test_a_refrigerant_that_burns_wants_its_own_cylinder() -> None:
    assert any("burns" in str(note) for note in ask("R-454B", "20 L").notes)
    assert not any("burns" in str(note) for note in ask("R-134a", "20 L").notes)


def test_uncertainty_of_what_remains() -> None:
    """Against the uncertainties package; limits of error read as rectangular, the density by its grade."""
    ufloat = pytest.importorskip("uncertainties").ufloat
    volume = ufloat(0.020, 0.0001 / 3**0.5)
    share = ufloat(1.0, SHARE_OF_GRADE["A"] / 2)
    density = net("R-22", "20 L") / (0.8 * 0.020)
    expected = 0.8 * volume * density * share + ufloat(12, 0.05 / 3**0.5) - ufloat(20, 0.1 / 3**0.5)
    figure = ask("R-22", "20 L ± 0.1", tare="12 kg ± 0.05", gross_now="20 kg ± 0.1").results["remaining_mass"]
    assert figure.value == pytest.approx(expected.nominal_value)
    assert figure.u == pytest.approx(2 * expected.std_dev, rel=1e-6)
