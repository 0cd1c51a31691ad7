"""Recovery before opening: 40 CFR 82.156(a) with its table 1, and the classes of 82.152."""

from __future__ import annotations

from typing import Any

import pytest

from calc import refrigerants, saturation
from calc.rules import rule_book
from calc.units import IN_HG_PA, PSI_PA, TORR_PA
from calc.working import Answer, run

STANDARD_IN_HG = 29.9


def ask(refrigerant: str, full: str, **more: str) -> Answer:
    answer = run("recovery_level", {"refrigerant": refrigerant, "full_charge": full, **more})
    assert answer.ok, answer.errors
    return answer


def level(refrigerant: str, full: str, **more: str) -> Any:
    return ask(refrigerant, full, **more).results["required_pressure"].value


# 40 CFR 82.156, table 1, as stored publicly: vacuum [inHg] with a machine before and from 15 November 1993.
TABLE = [
    ("R-744", "500 lb", "very_high", 0, 0),
    ("R-22", "199 lb", "high", 0, 0),
    ("R-22", "200 lb", "high", 4, 10),
    ("R-410A", "200 lb", "high", 4, 10),
    ("R-134a", "199 lb", "medium", 4, 10),
    ("R-134a", "200 lb", "medium", 4, 15),
]


@pytest.mark.parametrize(("refrigerant", "full", "named", "before", "after"), TABLE)
def test_table_1(refrigerant: str, full: str, named: str, before: int, after: int) -> None:
    for machine, vacuum in (("yes", before), ("no", after)):
        answer = ask(refrigerant, full, recovery_machine_before_1993=machine)
        assert answer.results["pressure_class"].value == named
        expected = (STANDARD_IN_HG - vacuum) * IN_HG_PA
        assert answer.results["required_pressure"].value == pytest.approx(expected, abs=100.0)


def test_low_pressure_appliances_go_to_25_mm_absolute() -> None:
    for machine in ("yes", "no"):
        assert level("R-123", "900 lb", recovery_machine_before_1993=machine) == pytest.approx(25 * TORR_PA)


def test_ten_inches_of_vacuum_are_67_kilopascal_wherever_the_site() -> None:
    """Worked by hand: 29.9 − 10 = 19.9 inHg absolute = 67.4 kPa; the standard atmosphere counts, not the site's."""
    for elevation in ("0 m", "1600 m"):
        assert level("R-22", "200 lb", elevation=elevation) == pytest.approx(67.4e3, abs=50.0)


def test_no_level_is_above_the_air_of_the_site() -> None:
    """At 2150 m the standard atmosphere is 78.1 kPa (ICAO), less than 29.9 − 4 inHg (87.7 kPa)."""
    high = {"elevation": "2150 m", "recovery_machine_before_1993": "yes"}
    assert level("R-22", "200 lb", **high) == pytest.approx(78.1e3, abs=100.0)
    assert level("R-22", "10 lb", **high) == pytest.approx(78.1e3, abs=100.0)


def test_exceptions_ask_for_no_more_than_0_psig() -> None:
    """40 CFR 82.156(a)(1) and (2)."""
    for more in ({"major_repair": "no"}, {"leak_prevents": "yes"}):
        assert level("R-134a", "500 lb", **more) == pytest.approx(101325.0)
        assert level("R-123", "500 lb", **more) == pytest.approx(101325.0)
        assert any("0 psig stands" in str(note) for note in ask("R-134a", "500 lb", **more).notes)
    assert level("R-134a", "500 lb", major_repair="yes") == pytest.approx(14.9 * IN_HG_PA)


@pytest.mark.parametrize(
    ("reading", "state"), [("14 inHgv", "within"), ("5 inHgv", "outside"), ("10 inHgv", "too_close")]
)
def test_verdict(reading: str, state: str) -> None:
    verdict = ask("R-22", "250 lb", reading=reading, elevation="0 m").verdict
    assert verdict
    assert verdict.state == state


def test_every_refrigerant_has_a_stored_class_that_its_saturation_bears_out() -> None:
    """40 CFR 82.152: limits 45, 170 and 355 psia of liquid saturation at 104 °F, or a critical point below that."""
    book = rule_book("us_pressure_class")
    assert set(book) == set(refrigerants.designations())
    at_c = (104.0 - 32.0) / 1.8
    for designation in book:
        fluid, stored = refrigerants.get(designation), book[designation]
        assert stored.cite()
        if fluid.critical_temperature_c < at_c:
            assert stored.value == "very_high"
            continue
        psia = saturation.bubble_pressure_pa(fluid, at_c) / PSI_PA
        expected = "low" if psia < 45 else "medium" if psia < 170 else "high" if psia <= 355 else "very_high"
        assert stored.value == expected, designation
        assert f"{psia:.0f} psia" in stored.remark


def test_a_class_near_its_limit_is_said() -> None:
    assert any("near the limit" in str(note) for note in ask("R-32", "5 lb").notes)
    assert not any("near the limit" in str(note) for note in ask("R-22", "5 lb").notes)


def test_uncertainty_of_the_difference() -> None:
    """Against the uncertainties package: a gauge counts from the site's air, a level of table 1 does not."""
    ufloat = pytest.importorskip("uncertainties").ufloat
    site = ufloat(101325.0, 200.0 / 3**0.5)
    read = site + ufloat(-12 * IN_HG_PA, 0.5 * IN_HG_PA / 3**0.5)
    expected = read - (STANDARD_IN_HG - 10) * IN_HG_PA
    figure = ask("R-22", "200 lb", reading="12 inHgv ± 0.5", barometer="1013.25 hPa").results["above_required"]
    assert figure.value == pytest.approx(expected.nominal_value)
    assert figure.u == pytest.approx(2 * expected.std_dev, rel=1e-6)


def test_exempt_venting_is_said() -> None:
    """40 CFR 82.154(a)(1), from memory."""
    assert any("exempt" in str(note) for note in ask("R-290", "1 kg").notes)
    assert not any("exempt" in str(note) for note in ask("R-134a", "1 kg").notes)
