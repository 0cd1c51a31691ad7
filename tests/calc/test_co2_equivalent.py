"""Carbon dioxide equivalent and the leak checks of Regulation (EU) 2024/573."""

from __future__ import annotations

from typing import Any

import pytest

from calc.working import Answer, run


def ask(refrigerant: str, mass: str, **more: str) -> Answer:
    answer = run("co2_equivalent", {"refrigerant": refrigerant, "mass": mass, **more})
    assert answer.ok, answer.errors
    return answer


def months(refrigerant: str, mass: str, **more: str) -> Any:
    return ask(refrigerant, mass, **more).results["check_interval"].value


GWP = [
    # Regulation (EU) 2024/573, Annexes I, II and VI; IPCC AR4, AR5 as tabulated publicly; blends summed by mass
    ("R-32", 675, 675, 677),
    ("R-125", 3500, 3500, 3170),
    ("R-134a", 1430, 1430, 1300),
    ("R-152a", 124, 124, 138),
    ("R-1234yf", 0.501, 4, 1),
    ("R-410A", 2087.5, 2087.5, 1923.5),
    ("R-407C", 1773.85, 1773.85, 1624.2),
    ("R-404A", 3921.6, 3921.6, 3942.8),
    ("R-448A", 1386.0, 1387.1, 1273.5),
    ("R-449A", 1396.2, 1397.1, 1281.9),
    ("R-454B", 465.2, 466.3, 466.8),
    ("R-513A", 629.5, 631.4, 572.6),
]


@pytest.mark.parametrize(("refrigerant", "eu", "ar4", "ar5"), GWP)
def test_potentials_on_each_basis(refrigerant: str, eu: float, ar4: float, ar5: float) -> None:
    for basis, expected in (("EU_2024_573", eu), ("AR4", ar4), ("AR5", ar5)):
        results = ask(refrigerant, "2 kg", basis=basis).results
        assert results["gwp"].value == pytest.approx(expected, abs=0.06)
        assert results["co2_equivalent"].value == pytest.approx(2 * expected, abs=0.12)


# Kilograms at 5, 10, 50 and 500 t of CO2: the regulation's limits over the potentials above, worked by hand.
LIMITS = [
    ("R-410A", 2.395, 4.790, 23.95, 239.5),
    ("R-32", 7.407, 14.815, 74.07, 740.7),
    ("R-134a", 3.497, 6.993, 34.97, 349.7),
    ("R-404A", 1.275, 2.550, 12.75, 127.5),
    ("R-407C", 2.819, 5.637, 28.19, 281.9),
    ("R-448A", 3.608, 7.215, 36.08, 360.8),
    ("R-449A", 3.581, 7.162, 35.81, 358.1),
    ("R-454B", 10.747, 21.495, 107.47, 1074.7),
    ("R-513A", 7.943, 15.886, 79.43, 794.3),
    ("R-1234yf", 1.0, 2.0, 10.0, 100.0),  # Annex II, section 1: by the kilogram
]


@pytest.mark.parametrize(("refrigerant", "entry", "sealed", "six", "three"), LIMITS)
def test_limits_are_where_the_regulation_puts_them(
    refrigerant: str, entry: float, sealed: float, six: float, three: float
) -> None:
    """Regulation (EU) 2024/573, Article 5(1) and 5(6): "less than" below, "or more" from the limit on."""

    def at(kilograms: float, **more: str) -> Any:
        return months(refrigerant, f"{kilograms:.6f} kg", **more)

    for limit, under, over in ((entry, None, 12.0), (six, 12.0, 6.0), (three, 6.0, 3.0)):
        assert at(limit * 0.9995) == under
        assert at(limit * 1.0005) == over
        assert at(limit * 1.0005, leak_detection="yes") == 2 * over
    assert at(sealed * 0.9995, hermetically_sealed="yes") is None
    assert at(sealed * 1.0005, hermetically_sealed="yes") == 12.0


def test_exactly_on_a_limit_is_on_its_far_side() -> None:
    assert months("R-1234yf", "1 kg") == 12.0
    assert months("R-1234yf", "10 kg") == 6.0
    assert months("R-1234yf", "100 kg") == 3.0
    assert months("R-32", "7.407407407407407 kg") == 12.0  # 5000/675 kg


def test_sealed_in_a_residential_building_counts_three_kilograms() -> None:
    """Article 5(1), third subparagraph, which stands in place of the 10 t of the second."""
    sealed = {"hermetically_sealed": "yes", "residential": "yes"}
    assert months("R-404A", "2.9 kg", **sealed) is None  # 11.4 t
    assert months("R-404A", "2.9 kg", hermetically_sealed="yes") == 12.0
    assert months("R-404A", "3 kg", **sealed) == 12.0
    assert months("R-410A", "4 kg", **sealed) == 12.0  # 8.4 t, yet 3 kg or more
    assert months("R-404A", "2.9 kg", residential="yes") == 12.0


@pytest.mark.parametrize(
    ("refrigerant", "said"),
    [("R-290", "Not listed"), ("R-744", "Not listed"), ("R-22", "2024/590"), ("R-408A", "2024/590")],
)
def test_what_the_regulation_does_not_check(refrigerant: str, said: str) -> None:
    answer = ask(refrigerant, "500 kg")
    assert answer.results["check_interval"].value is None
    assert said in str(answer.results["rule"].value)


def test_what_is_not_listed_stands_at_ar4() -> None:
    """R-22: 1810, IPCC AR4 (2007), WG I table 2.14."""
    answer = ask("R-22", "1 kg")
    assert answer.results["gwp"].value == 1810.0
    assert any("AR4" in str(note) for note in answer.notes)


def test_a_basis_without_a_figure_is_refused_with_those_there_are() -> None:
    answer = run("co2_equivalent", {"refrigerant": "R-466A", "mass": "1 kg", "basis": "AR5"})
    (fault,) = answer.errors
    assert (fault.field, fault.code) == ("basis", "outside_table")
    assert "EU_2024_573" in str(fault.hint)


def test_uncertainty_follows_the_mass() -> None:
    """Against the uncertainties package; 0.05 kg is a limit of error, read as rectangular."""
    ufloat = pytest.importorskip("uncertainties").ufloat
    mass = ufloat(24.0, 0.05 / 3**0.5)
    figure = ask("R-410A", "24 kg ± 0.05").results["co2_equivalent"]
    assert figure.value == pytest.approx((mass * 2087.5).nominal_value)
    assert figure.u == pytest.approx(2 * (mass * 2087.5).std_dev)
    assert figure.unit == "kg"


def test_a_limit_inside_the_band_is_named() -> None:
    def near(mass: str) -> bool:
        return any("50 t CO2e lies within" in str(note) for note in ask("R-410A", mass).notes)

    assert near("24 kg")
    assert not near("30 kg")


def test_other_bases_give_no_interval() -> None:
    assert ask("R-410A", "24 kg", basis="AR6").results["check_interval"].value is None


def test_the_limit_of_sealed_equipment_is_named_only_for_it() -> None:
    def near(**more: str) -> bool:
        return any("10 t CO2e lies within" in str(note) for note in ask("R-410A", "4.8 kg", **more).notes)

    assert near(hermetically_sealed="yes")
    assert not near()
