"""Charge limits of rooms: each edition's formula and caps, and the word for what it cannot answer."""

from __future__ import annotations

from typing import Any

import pytest

from calc.charge_rules import EDITIONS, NOT_ANSWERABLE, book_of
from calc.working import Answer, run

APPLIANCE, CABINET, OLD_CABINET = "IEC 60335-2-40:2018", "IEC 60335-2-89:2019", "IEC 60335-2-89:2010"
EUROPE, AMERICA = "EN 378-1:2016", "ASHRAE 15:2019"


def ask(refrigerant: str, equipment: str = "split_fixed", **more: str) -> Answer:
    answer = run("charge_limit", {"refrigerant": refrigerant, "equipment": equipment, **more})
    assert answer.ok, answer.errors
    return answer


def row(edition: str, refrigerant: str, equipment: str = "split_fixed", **more: str) -> dict[str, Any]:
    (found,) = ask(refrigerant, equipment, edition=edition, **more).results["limits"].value
    assert found["edition"] == edition
    assert found["clause"]
    return dict(found)


@pytest.mark.parametrize(
    ("refrigerant", "height", "area", "mass"),
    [
        # the table of IEC 60335-2-40:2018, GG.2, for R-32 as an equipment manual reproduces it
        ("R-32", "0.6 m", "10 m2", 1.084),
        ("R-32", "0.6 m", "45 m2", 2.299),
        ("R-32", "0.6 m", "7 m2", 0.907),
        ("R-32", "0.6 m", "1 m2", 0.138),
        ("R-32", "0.6 m", "4 m2", 0.553),
        ("R-32", "0.6 m", "6 m2", 0.829),
        ("R-32", "0 m", "10 m2", 1.084),  # h0 is never below 0.6 m
        # worked by hand from 2.5 · LFL^1.25 · h0 · A^0.5
        ("R-290", "1.8 m", "20 m2", 0.3376),
        ("R-290", "2.2 m", "20 m2", 0.4127),
        ("R-290", "2.6 m", "20 m2", 0.4127),  # nor above 2.2 m
        ("R-32", "1.8 m", "20 m2", 4.599),
    ],
)
def test_area_formula(refrigerant: str, height: str, area: str, mass: float) -> None:
    found = row(APPLIANCE, refrigerant, release_height=height, room_area=area)
    assert found["mass"] == pytest.approx(mass, abs=5e-4)


def test_least_areas_of_the_same_table() -> None:
    """Least area for 1.84 kg of R-32 is 28.81 m² and for 2.30 kg 45.02 m², floor: the same reproduction."""
    for area, mass in (("28.81 m2", 1.84), ("45.02 m2", 2.30)):
        assert row(APPLIANCE, "R-32", release_height="0.6 m", room_area=area)["mass"] == pytest.approx(mass, abs=1e-3)


def test_a_factory_sealed_appliance_is_free_up_to_m1() -> None:
    """IEC 60335-2-40:2018: 1.84 kg of R-32 (6 m³ × LFL) needs no least area, as manuals print it."""
    room = {"release_height": "0.6 m", "room_area": "10 m2"}
    found = row(APPLIANCE, "R-32", "factory_sealed", **room)
    assert found["mass"] == pytest.approx(1.84, abs=5e-3)
    assert "m1" in found["governed_by"]
    large = row(APPLIANCE, "R-32", "factory_sealed", release_height="0.6 m", room_area="45 m2")
    assert large["mass"] == pytest.approx(2.299, abs=5e-4)


def test_class_caps() -> None:
    """m2 = 26 m³ × LFL for R-290: 988 g, as a trade body tells of the standard; 52 m³ × LFL for A2L from memory."""
    hall = {"release_height": "2.2 m", "room_area": "5000 m2"}
    assert row(APPLIANCE, "R-290", **hall)["mass"] == pytest.approx(0.988)
    assert row(APPLIANCE, "R-32", **hall)["mass"] == pytest.approx(52 * 0.307)
    assert row("IEC 60335-2-40:2013", "R-32", **hall)["mass"] == pytest.approx(26 * 0.307)


@pytest.mark.parametrize(
    ("edition", "refrigerant", "mass"),
    [
        # trade press on IEC 60335-2-89:2019: 13 × LFL for A3 (about 500 g of R-290), 1.2 kg for A2L; 150 g before
        (CABINET, "R-290", 0.494),
        (CABINET, "R-454C", 1.2),
        (OLD_CABINET, "R-290", 0.150),
        (OLD_CABINET, "R-454C", 0.150),
    ],
)
def test_cabinets(edition: str, refrigerant: str, mass: float) -> None:
    assert row(edition, refrigerant, "self_contained_cabinet")["mass"] == pytest.approx(mass)


def test_concentration_limits() -> None:
    """RCL × 50 m³: 21.0 kg of R-410A, 3.85 kg of R-32 (ASHRAE 34)."""
    room = {"room_area": "20 m2", "room_height": "2.5 m"}
    assert row(AMERICA, "R-410A", **room)["mass"] == pytest.approx(21.0)
    assert row(AMERICA, "R-32", **room)["mass"] == pytest.approx(3.85)
    assert row(AMERICA, "R-410A", "machinery_room", **room)["mass"] is None


@pytest.mark.parametrize(
    ("refrigerant", "ppm"),
    [("R-32", 36000), ("R-22", 59000), ("R-123", 9100), ("R-125", 75000), ("R-134a", 50000), ("R-410A", 140000)],
)
def test_concentration_limits_by_mass_follow_those_by_volume(refrigerant: str, ppm: int) -> None:
    """ASHRAE 34 by ppm × molar mass ÷ 0.024465 m³/mol (25 °C, 1 atm), to two figures."""
    from calc import refrigerants

    by_volume = ppm * 1e-6 * refrigerants.get(refrigerant).molar_mass / 0.024465
    assert float(f"{by_volume:.2g}") == pytest.approx(book_of("ashrae_15:2019").number(refrigerant))


def test_share_of_the_flammability_limit_in_europe() -> None:
    """0.2 × LFL × volume, for A3 up to 1.5 kg above ground and 1 kg below (from memory); worked by hand."""
    room = {"room_area": "20 m2", "room_height": "2.5 m"}
    assert row(EUROPE, "R-290", "other", below_ground="no", **room)["mass"] == pytest.approx(0.2 * 0.038 * 50)
    hall = {"room_area": "200 m2", "room_height": "2.5 m"}
    assert row(EUROPE, "R-290", "other", below_ground="no", **hall)["mass"] == pytest.approx(1.5)
    assert row(EUROPE, "R-290", "other", below_ground="yes", **hall)["mass"] == pytest.approx(1.0)
    assert row(EUROPE, "R-32", "other", **room)["mass"] == pytest.approx(0.2 * 0.307 * 50)
    assert row(EUROPE, "R-32", "other", room_area="900 m2", room_height="3 m")["mass"] == pytest.approx(39 * 0.307)


@pytest.mark.parametrize(
    ("edition", "refrigerant", "equipment", "more", "missing"),
    [
        (APPLIANCE, "R-32", "split_fixed", {}, ["room_area", "release_height"]),
        (APPLIANCE, "R-32", "split_fixed", {"room_area": "9 m2"}, ["release_height"]),
        (APPLIANCE, "R-32", "ducted", {"room_area": "9 m2", "release_height": "2 m"}, []),
        (APPLIANCE, "R-32", "split_fixed", {"room_area": "9 m2", "release_height": "2 m", "mitigation": "yes"}, []),
        (APPLIANCE, "R-410A", "split_fixed", {"room_area": "9 m2", "release_height": "2 m"}, []),
        (APPLIANCE, "R-444B", "split_fixed", {"room_area": "9 m2", "release_height": "2 m"}, []),
        (CABINET, "R-290", "split_fixed", {}, []),
        (EUROPE, "R-290", "other", {"room_area": "9 m2"}, ["room_height", "below_ground"]),
        (EUROPE, "R-32", "split_fixed", {"room_area": "9 m2", "room_height": "2 m"}, []),
        (EUROPE, "R-152a", "other", {"room_area": "9 m2", "room_height": "2 m", "below_ground": "no"}, []),
        (AMERICA, "R-134a", "other", {}, ["room_area", "room_height"]),
        (AMERICA, "R-454C", "other", {"room_area": "9 m2", "room_height": "2 m"}, []),
    ],
)
def test_what_an_edition_cannot_answer(
    edition: str, refrigerant: str, equipment: str, more: dict[str, str], missing: list[str]
) -> None:
    found = row(edition, refrigerant, equipment, **more)
    assert found["mass"] is None
    assert found["governed_by"] == NOT_ANSWERABLE
    assert found["missing"] == missing
    assert found["reason"]
    assert found["reason"].startswith("inputs missing") == bool(missing)
    answer = ask(refrigerant, equipment, edition=edition, charge="1 kg", **more)
    assert set(answer.results) == {"limits"}
    assert answer.verdict is None
    assert answer.results["limits"].shown == f"{NOT_ANSWERABLE}: {edition}"
    assert any("not answerable without" in str(note) for note in answer.notes) == bool(missing)


def test_every_edition_answers_where_none_is_chosen_and_the_least_is_taken() -> None:
    room = {"room_area": "20 m2", "release_height": "1.8 m", "room_height": "2.5 m", "below_ground": "no"}
    results = ask("R-290", **room).results
    rows = results["limits"].value
    assert len(rows) == len(EDITIONS)
    masses = [one["mass"] for one in rows if one["mass"] is not None]
    assert len(masses) == 3
    assert results["least_limit"].value == min(masses)


@pytest.mark.parametrize(
    ("charge", "state"),
    [("150 g", "within"), ("151 g", "outside"), ("148 g ± 5", "too_close"), ("120 g ± 5", "within")],
)
def test_a_charge_against_the_limit(charge: str, state: str) -> None:
    verdict = ask("R-290", "self_contained_cabinet", charge=charge, edition=OLD_CABINET).verdict
    assert verdict
    assert verdict.state == state


def test_uncertainty_of_the_area_formula() -> None:
    """Against the uncertainties package; limits of error read as rectangular."""
    ufloat = pytest.importorskip("uncertainties").ufloat
    area, height = ufloat(20.0, 0.5 / 3**0.5), ufloat(1.8, 0.05 / 3**0.5)
    expected = 2.5 * 0.307**1.25 * height * area**0.5
    room = {"room_area": "20 m2 ± 0.5", "release_height": "1.8 m ± 0.05"}
    figure = ask("R-32", edition=APPLIANCE, **room).results["least_limit"]
    assert figure.value == pytest.approx(expected.nominal_value)
    assert figure.u == pytest.approx(2 * expected.std_dev, rel=1e-3)
