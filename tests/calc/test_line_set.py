"""Refrigerant for a line set: plate figures, and geometry where there is none."""

from __future__ import annotations

import pytest

from calc.liquid import SHARE_OF_GRADE
from calc.units import FOOT_M, POUND_KG
from calc.working import Answer, run

OUNCE_KG = POUND_KG / 16
OZ_FT = OUNCE_KG / FOOT_M


def ask(refrigerant: str, length: str, **more: str) -> Answer:
    answer = run("line_set", {"refrigerant": refrigerant, "length": length, **more})
    assert answer.ok, answer.errors
    return answer


def results(refrigerant: str, length: str, **more: str) -> tuple[float, float]:
    found = ask(refrigerant, length, **more).results
    each, added = found["mass_per_length"].value, found["added_mass"].value
    assert isinstance(each, float)
    assert isinstance(added, float)
    return each / OZ_FT, added / OUNCE_KG


@pytest.mark.parametrize(
    ("plate", "length", "expected"),
    [
        # an installation manual's two worked examples for R-410A, 13.5 oz in the factory charge
        ("0.27 oz/ft", "25 ft", -6.75),
        ("0.40 oz/ft", "45 ft", 4.5),
    ],
)
def test_a_manuals_examples(plate: str, length: str, expected: float) -> None:
    each, added = results("R-410A", length, plate_mass_per_length=plate, included_mass="13.5 oz")
    assert f"{each:.2f} oz/ft" == plate
    assert added == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("refrigerant", "outside", "wall", "expected"),
    [
        # area of the bore × saturated liquid at 100 °F by CoolProp 8.0.0, called outside this program
        ("R-22", "3/8 in", "0.032 in", 0.600),
        ("R-134a", "3/8 in", "0.032 in", 0.609),
        ("R-32", "3/8 in", "0.032 in", 0.476),
        ("R-454B", "3/8 in", "0.032 in", 0.489),
        ("R-410A", "1/4 in", "0.030 in", 0.195),
        ("R-410A", "1/2 in", "0.032 in", 1.025),
        ("R-22", "1/2 in", "0.032 in", 1.179),
        ("R-410A", "5/8 in", "0.035 in", 1.660),
    ],
)
def test_geometry(refrigerant: str, outside: str, wall: str, expected: float) -> None:
    each, added = results(refrigerant, "10 ft", liquid_outside_diameter=outside, wall=wall)
    assert each == pytest.approx(expected, abs=1e-3)
    assert added == pytest.approx(10 * each)


def test_bore_and_outside_diameter_with_wall_are_one() -> None:
    by_wall = results("R-410A", "10 m", liquid_outside_diameter="9.53 mm", wall="0.8 mm")
    assert results("R-410A", "10 m", liquid_bore="7.93 mm") == pytest.approx(by_wall)


def test_the_plate_holds_over_geometry_and_both_are_said() -> None:
    tube = {"liquid_outside_diameter": "1/4 in", "wall": "0.030 in", "plate_mass_per_length": "0.27 oz/ft"}
    assert results("R-410A", "25 ft", **tube)[0] == pytest.approx(0.27)
    notes = [str(note) for note in ask("R-410A", "25 ft", **tube).notes]
    assert any("By geometry it would be 0.19" in note and "39 % higher" in note for note in notes)


def test_the_density_is_that_of_the_liquids_temperature() -> None:
    """Ratio of R-410A's saturated liquid at 25 and 55 °C: 1058.90 and 865.4 kg/m³ (CoolProp 8.0.0)."""
    cool = results("R-410A", "10 m", liquid_bore="8 mm", liquid_temperature="25 C")[0]
    warm = results("R-410A", "10 m", liquid_bore="8 mm", liquid_temperature="55 C")[0]
    assert cool / warm == pytest.approx(1058.90 / 865.4, rel=5e-4)


def test_a_length_included_is_taken_off() -> None:
    assert results("R-410A", "15 ft", plate_mass_per_length="0.6 oz/ft", included_length="15 ft")[1] == 0.0
    assert results("R-410A", "10 ft", plate_mass_per_length="0.6 oz/ft", included_length="15 ft")[1] == pytest.approx(
        -3
    )
    short = ask("R-410A", "10 ft", plate_mass_per_length="0.6 oz/ft", included_length="15 ft")
    assert any("recover" in str(note) for note in short.notes)


@pytest.mark.parametrize(
    ("refrigerant", "more", "field", "code"),
    [
        ("R-410A", {}, "plate_mass_per_length", "missing"),
        ("R-410A", {"liquid_outside_diameter": "3/8 in"}, "wall", "missing"),
        ("R-410A", {"liquid_outside_diameter": "3 mm", "wall": "1.5 mm"}, "wall", "impossible"),
        ("R-410A", {"liquid_bore": "8 mm", "wall": "1 mm"}, "wall", "contradiction"),
        ("R-410A", {"liquid_bore": "8 mm", "liquid_temperature": "75 C"}, "liquid_temperature", "outside_table"),
        ("R-744", {"liquid_bore": "8 mm"}, "liquid_temperature", "outside_table"),  # gas at 100 °F
    ],
)
def test_what_is_refused(refrigerant: str, more: dict[str, str], field: str, code: str) -> None:
    (fault,) = run("line_set", {"refrigerant": refrigerant, "length": "10 m", **more}).errors
    assert (fault.field, fault.code) == (field, code)


def test_uncertainty_follows_plate_and_length() -> None:
    """Against the uncertainties package; limits of error read as rectangular."""
    ufloat = pytest.importorskip("uncertainties").ufloat
    plate, length, included = (ufloat(v, a / 3**0.5) for v, a in ((0.055, 0.002), (20.0, 0.3), (7.5, 0.1)))
    expected = plate * (length - included)
    figure = ask("R-410A", "20 m ± 0.3", plate_mass_per_length="55 g/m ± 2", included_length="7.5 m ± 0.1").results[
        "added_mass"
    ]
    assert figure.value == pytest.approx(expected.nominal_value)
    assert figure.u == pytest.approx(2 * expected.std_dev, rel=1e-3)


def test_uncertainty_follows_tube_and_density() -> None:
    """Against the uncertainties package; limits of error read as rectangular, the density by its grade."""
    ufloat = pytest.importorskip("uncertainties").ufloat
    each = results("R-410A", "20 m", liquid_outside_diameter="9.53 mm", wall="0.8 mm")[0] * OZ_FT
    outside, wall = ufloat(9.53, 0.05 / 3**0.5), ufloat(0.8, 0.03 / 3**0.5)
    share = ufloat(1.0, SHARE_OF_GRADE["A"] / 2)
    expected = each * share * ((outside - 2 * wall) / 7.93) ** 2
    tube = {"liquid_outside_diameter": "9.53 mm ± 0.05", "wall": "0.8 mm ± 0.03"}
    figure = ask("R-410A", "20 m", **tube).results["mass_per_length"]
    assert figure.value == pytest.approx(expected.nominal_value)
    assert figure.u == pytest.approx(2 * expected.std_dev, rel=1e-3)
