"""Leak rate by both methods of 40 CFR 82.152 and 84.102, and the thresholds of 82.157 and 84.106."""

from __future__ import annotations

from typing import Any

import pytest

from calc.rules import rule_book
from calc.units import POUND_KG
from calc.working import Answer, run


def ask(method: str, full: str, added: str, **more: Any) -> Answer:
    answer = run("leak_rate", {"method": method, "full_charge": full, "added_mass": added, **more})
    assert answer.ok, answer.errors
    return answer


def rate(method: str, full: str, added: str, **more: Any) -> Any:
    return ask(method, full, added, **more).results["leak_rate"].value


@pytest.mark.parametrize(
    ("full", "added", "days", "expected"),
    [
        # worked by hand from the definition in 40 CFR 82.152, save where a source is named
        ("100 lb", "10 lb", 180, 0.20278),
        ("100 lb", "10 lb", 182, 0.20055),
        ("100 lb", "10 lb", 183, 0.19945),
        ("100 lb", "5 lb", 30, 0.60833),  # trade press on leak repair: 5 lb of 100 lb in a month, about 60 % a year
        ("200 lb", "12 lb", 45, 0.48667),
        ("200 lb", "12 lb", None, 0.06),  # nothing added before: 365 days
        ("50 lb", "5 lb", 400, 0.10),  # never more than 365 days
    ],
)
def test_annualizing(full: str, added: str, days: int | None, expected: float) -> None:
    more = {} if days is None else {"days_since_last": days}
    assert rate("annualizing", full, added, **more) == pytest.approx(expected, abs=5e-6)


def test_rolling() -> None:
    """Worked by hand: 20, 15 and 30 lb of 300 lb in a year; then only the 30 lb since the last verification."""
    assert rate("rolling", "300 lb", "30 lb", added_last_year="35 lb") == pytest.approx(65 / 300)
    assert rate("rolling", "300 lb", "30 lb", added_last_year="0 lb") == pytest.approx(0.10)
    assert rate("rolling", "300 lb", "30 lb") == pytest.approx(0.10)


def test_pounds_and_kilograms_are_one() -> None:
    pounds = rate("annualizing", "100 lb", "10 lb", days_since_last=180)
    metric = rate("annualizing", f"{100 * POUND_KG!r} kg", f"{10 * POUND_KG!r} kg", days_since_last=180)
    assert metric == pytest.approx(pounds)


def exceeds(full: str, added: str, **more: Any) -> Any:
    figure = ask("annualizing", full, added, **more).results.get("exceeds")
    return figure and figure.value


def test_a_threshold_is_exceeded_strictly() -> None:
    """40 CFR 82.157(c) and 84.106(c): repair where the rate exceeds it; worked by hand at its edge."""
    ten = {"use": "comfort_cooling", "days_since_last": 400}
    assert exceeds("50 lb", "5 lb", **ten) == "no"
    assert exceeds("50 lb", "5.01 lb", **ten) == "yes"
    twenty = {"use": "commercial_refrigeration"}
    assert exceeds("100 lb", "10 lb", days_since_last=182, **twenty) == "yes"
    assert exceeds("100 lb", "10 lb", days_since_last=183, **twenty) == "no"
    assert exceeds("100 lb", "30 lb", use="industrial_process") == "no"
    assert exceeds("100 lb", "30.1 lb", use="industrial_process") == "yes"


def test_the_verdict_knows_the_scale() -> None:
    edge = ask("annualizing", "50 lb", "5 lb", use="comfort_cooling").verdict
    assert edge
    assert edge.state == "too_close"
    assert edge.probability == pytest.approx(0.5)
    for added, state in (("2 lb", "within"), ("9 lb", "outside")):
        verdict = ask("annualizing", "50 lb", added, use="comfort_cooling").verdict
        assert verdict
        assert verdict.state == state


@pytest.mark.parametrize(
    ("refrigerant", "full", "more", "counted"),
    [
        ("R-22", "50 lb", {}, True),  # 82.157(a): 50 lb or more of an ozone depleter
        ("R-22", "49.9 lb", {}, False),
        ("R-410A", "15 lb", {}, True),  # 84.106(a): 15 lb or more
        ("R-410A", "14.9 lb", {}, False),
        ("R-410A", "40 lb", {"light_commercial": "yes"}, False),  # 84.106(a)(3)
        ("R-22", "60 lb", {"light_commercial": "yes"}, True),
        ("R-744", "500 lb", {}, False),
        ("R-1234yf", "500 lb", {}, False),
        ("R-454C", "15 lb", {}, True),
    ],
)
def test_what_the_rules_count(refrigerant: str, full: str, more: dict[str, str], counted: bool) -> None:
    asked = {"use": "comfort_cooling", "refrigerant": refrigerant, **more}
    answer = ask("annualizing", full, "5 lb", **asked)
    assert ("exceeds" in answer.results) == counted
    assert (answer.verdict is not None) == counted
    assert any("no threshold" in str(note) for note in answer.notes) != counted


@pytest.mark.parametrize("reason", ["new_installation", "retrofit", "seasonal"])
def test_what_is_no_leak_has_no_rate(reason: str) -> None:
    answer = ask("rolling", "300 lb", "30 lb", reason=reason, use="comfort_cooling")
    assert answer.results["leak_rate"].value is None
    assert set(answer.results) == {"leak_rate"}
    assert answer.verdict is None
    assert not any("=" in str(why.with_) for why in answer.why)


@pytest.mark.parametrize("days", ["0.9", "0", "-3"])
def test_under_a_day_is_refused(days: str) -> None:
    fields = {"method": "annualizing", "full_charge": "9 lb", "added_mass": "1 lb", "days_since_last": days}
    (fault,) = run("leak_rate", fields).errors
    assert (fault.field, fault.code) == ("days_since_last", "out_of_range")


def test_what_is_not_used_is_said() -> None:
    def notes(method: str) -> str:
        answer = ask(method, "9 lb", "1 lb", days_since_last=30, added_last_year="2 lb")
        return " ".join(str(note) for note in answer.notes)

    assert "not used by the annualizing" in notes("annualizing")
    assert "not used by the rolling" in notes("rolling")


def test_uncertainty_follows_the_masses() -> None:
    """Against the uncertainties package; limits of error read as rectangular."""
    ufloat = pytest.importorskip("uncertainties").ufloat
    added, before, full = (ufloat(value, limit / 3**0.5) for value, limit in ((30, 0.2), (35, 0.3), (300, 3.0)))
    figure = ask("rolling", "300 lb ± 3", "30 lb ± 0.2", added_last_year="35 lb ± 0.3").results["leak_rate"]
    assert figure.value == pytest.approx(((added + before) / full).nominal_value)
    assert figure.u == pytest.approx(2 * ((added + before) / full).std_dev, rel=1e-3)


def test_thresholds_by_use() -> None:
    """40 CFR 82.157(c)(2) and 84.106(c)(2)."""
    book = rule_book("us_leak_rate")
    uses = ("comfort_cooling", "commercial_refrigeration", "industrial_process", "refrigerated_transport")
    assert [book.number(use) for use in uses] == [10, 20, 30, 10]


def test_what_was_added_before_the_rule_began_is_said() -> None:
    """40 CFR 84.106(b), from memory: additions before 1 January 2026 are not counted."""

    def said(refrigerant: str) -> bool:
        notes = ask("rolling", "60 lb", "5 lb", use="comfort_cooling", refrigerant=refrigerant).notes
        return any("1 January 2026" in str(note) for note in notes)

    assert said("R-410A")
    assert not said("R-22")
