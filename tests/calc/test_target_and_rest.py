"""Target superheat against the printed table, and pressure at rest against saturation."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calc
from calc.target_table import from_formula_f, from_table_f, printed
from calc.working import Answer, run

PRINT = Path(calc.__file__).parent / "data" / "target_superheat_f.csv"


def target(wet: str, dry: str, **more: str) -> Answer:
    return run("target_superheat", {"indoor_wet_bulb": wet, "outdoor_dry_bulb": dry, **more})


def test_every_printed_cell_is_given_as_printed_and_every_dash_refused() -> None:
    """The table as printed in installation literature of the trade (common practice)."""
    cells = 0
    with PRINT.open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            dry = row.pop("outdoor_dry_bulb_f")
            del row["note"]
            for wet, cell in row.items():
                answer = target(f"{wet} F", f"{dry} F")
                assert answer.ok == bool(cell)
                if cell:
                    assert answer.results["target_superheat"].value == pytest.approx(float(cell) / 1.8, abs=1e-9)
                    cells += 1
                else:
                    (fault,) = answer.errors
                    assert fault.code == "outside_table"
                    assert "no valid test" in str(fault.problem)
    assert cells == 118


@pytest.mark.parametrize(
    ("wet", "dry", "chart_f", "formula_f"),
    [
        # a teaching note's chart (knowt.com/note/69334856), whose band is ± 5 °F, and the rule of thumb beside it
        ("67 F", "90 F", 12.0, 15.5),
        ("18 C", "35 C", 5.9, 9.1),
        ("20 C", "32 C", 16.0, 17.2),
        ("17 C", "27 C", 12.1, 13.6),
        ("24 C", "46 C", 23.0, 15.4),  # worked by hand: (3 · 75.2 − 80 − 114.8)/2
    ],
)
def test_another_chart_and_the_rule_of_thumb(wet: str, dry: str, chart_f: float, formula_f: float) -> None:
    answer = target(wet, dry)
    by_table, by_formula = (answer.results[name].value for name in ("target_superheat", "by_formula"))
    assert isinstance(by_table, float)
    assert isinstance(by_formula, float)
    assert by_table * 1.8 == pytest.approx(chart_f, abs=5.0)
    assert by_formula * 1.8 == pytest.approx(formula_f, abs=0.1)
    chosen = target(wet, dry, basis="formula")
    assert chosen.results["target_superheat"].value == by_formula


def test_a_hot_dry_day_cannot_be_checked() -> None:
    """Outdoor 95 °F, wet bulb 58 °F is a dash (California 2008 RA3, RA3.2: target under 5 °F is no valid test)."""
    (fault,) = target("58 F", "95 F").errors
    assert "cannot be checked now" in str(fault.hint)
    assert "weigh the charge in" in str(fault.hint)
    (fault,) = target("58 F", "95 F", basis="formula").errors
    assert fault.code == "outside_table"


@pytest.mark.parametrize(
    ("wet", "dry", "field"),
    [
        ("49 F", "80 F", "indoor_wet_bulb"),
        ("77 F", "80 F", "indoor_wet_bulb"),
        ("66 F", "54 F", "outdoor_dry_bulb"),
        ("74 F", "116 F", "outdoor_dry_bulb"),
    ],
)
@pytest.mark.parametrize("basis", ["table", "formula"])
def test_nothing_is_extrapolated(wet: str, dry: str, field: str, basis: str) -> None:
    """Outdoor 55 °F or more: California 2013 RA3.2.1.1; the other edges are the table's."""
    (fault,) = target(wet, dry, basis=basis).errors
    assert (fault.field, fault.code) == (field, "outside_table")
    assert "beyond the printed table" in str(fault.problem)


@given(st.floats(50, 76), st.floats(55, 115))
def test_between_the_cells_it_lies_between_them(wet: float, dry: float) -> None:
    value = from_table_f(wet, dry)
    if value is not None:
        cells = [cell for row in printed().cells for cell in row if cell is not None]
        assert min(cells) <= value <= max(cells)
        # the two differ by up to 6.5 °F at printed cells; between them a little more is possible
        assert abs(value - from_formula_f(wet, dry)) < 8.0


def test_thin_air_is_said() -> None:
    assert not any("thinner air" in str(note) for note in target("67 F", "90 F", elevation="100 m").notes)
    assert any("thinner air" in str(note) for note in target("67 F", "90 F", elevation="2150 m").notes)


def test_rule_and_table_differ_by_six_and_a_half_at_most() -> None:
    table = printed()
    gaps = [
        abs(cell - from_formula_f(wet, dry))
        for dry, row in zip(table.dry, table.cells, strict=True)
        for wet, cell in zip(table.wet, row, strict=True)
        if cell is not None
    ]
    assert max(gaps) == pytest.approx(6.5)


def rest(refrigerant: str, pressure: str, temperature: str, **more: str) -> Answer:
    answer = run(
        "rest_pressure", {"refrigerant": refrigerant, "pressure": pressure, "temperature": temperature, **more}
    )
    assert answer.ok, answer.errors
    return answer


@pytest.mark.parametrize(
    ("pressure", "state"),
    [
        ("181.8 psig", "within"),
        ("184 psig", "within"),
        ("192 psig", "too_close"),
        ("220 psig", "outside"),
        ("150 psig", "outside"),
    ],
)
def test_non_condensables_by_the_stop_test(pressure: str, state: str) -> None:
    """R-22 at 95 °F stands at 181.8 psig (CoolProp 8.0.0); higher is non-condensables (common practice, no source)."""
    answer = rest("R-22", pressure, "95 F")
    high = answer.results["expected_high"]
    assert isinstance(high.value, float)
    assert (high.value - 101325) / 6894.757293168 == pytest.approx(181.8, abs=0.1)
    assert answer.verdict is not None
    assert answer.verdict.state == state


def test_within_says_what_could_still_hide() -> None:
    answer = rest("R-22", "181.8 psig", "95 F")
    assert answer.verdict is not None
    assert "could still hide" in str(answer.verdict.text)
    assert answer.results["excess"].value == pytest.approx(0.0, abs=500)


def test_a_blend_stands_between_dew_and_bubble() -> None:
    for pressure in ("12.6 barg", "13.5 barg", "14.3 barg"):
        answer = rest("R-407C", pressure, "35 C")
        assert answer.results["excess"].value == 0
        assert answer.verdict is not None
        assert answer.verdict.state == "within"
    above = rest("R-407C", "17 barg", "35 C")
    assert above.results["excess"].value > 0  # type: ignore[operator]
    below = rest("R-407C", "9 barg", "35 C")
    assert below.results["excess"].value < 0  # type: ignore[operator]
    assert "below it" in str(below.verdict.text if below.verdict else "")


def test_two_temperatures_apart_are_not_settled() -> None:
    answer = rest("R-22", "175 psig", "95 F", second_temperature="88 F")
    assert any("not at rest yet" in str(note) for note in answer.notes)
    low, high = (answer.results[name].value for name in ("expected_low", "expected_high"))
    assert low < high  # type: ignore[operator]
    assert not any(
        "not at rest" in str(note) for note in rest("R-22", "175 psig", "95 F", second_temperature="94 F").notes
    )


def test_carbon_dioxide_above_its_critical_temperature_has_no_pressure_at_rest() -> None:
    (fault,) = run("rest_pressure", {"refrigerant": "R-744", "pressure": "80 barg", "temperature": "40 C"}).errors
    assert (fault.field, fault.given, fault.code) == ("temperature", "40 C", "outside_table")
