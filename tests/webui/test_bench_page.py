"""The Bench: bad input beside its field with what was typed, figures as calc gives them, for every working."""

from __future__ import annotations

import html

import pytest
from desk_host import Host

from calc.working import run, workings

GOOD = {
    "refrigerant": "R-410A", "suction_pressure": "118", "suction_pressure.unit": "psig",
    "suction_temperature": "52", "suction_temperature.unit": "°F", "target": "10", "target.unit": "°F",
    "elevation": "1600", "elevation.unit": "m",
}  # fmt: skip
# The bad inputs a technician is to be saved from: field, what is typed over the good form, code of the fault.
BAD = [
    ("superheat", {"suction_pressure": "118 psi"}, "suction_pressure", "118 psi"),
    ("superheat", {"suction_pressure": "1,234"}, "suction_pressure", "1,234"),
    ("superheat", {"suction_temperature": "-500"}, "suction_temperature", "-500"),
    ("superheat", {"suction_pressure": "400", "liquid_pressure": "340", "liquid_pressure.unit": "psig"},
     "suction_pressure", "400"),
    ("superheat", {"refrigerant": "R-9999"}, "refrigerant", "R-9999"),
    ("superheat", {"suction_pressure": "35", "suction_pressure.unit": "inHgv"}, "suction_pressure", "35"),
    ("superheat", {"suction_temperature": "warm"}, "suction_temperature", "warm"),
]  # fmt: skip


@pytest.mark.parametrize("method", ["GET", "POST"])
@pytest.mark.parametrize(("working", "change", "field", "typed"), BAD)
def test_bad_input_stays_beside_its_field(
    host: Host, working: str, change: dict[str, str], field: str, typed: str, method: str
) -> None:
    form = GOOD | change
    path = f"/bench/{working}"
    page = host.get(path, form) if method == "GET" else host.post(path, form)
    assert page.status == 422
    part = page.html.partition(f'id="f-{field}"')[2].partition('<div class="field')[0]
    assert f'value="{html.escape(typed)}"' in part
    assert f'id="f-{field}-fault"' in part
    assert 'aria-invalid="true"' in part
    for name, text in form.items():
        if "." not in name:
            assert f'value="{html.escape(text)}"' in page.html, "what was typed elsewhere is kept too"
    assert 'class="mainfigure"' not in page.html, "never a number"


def test_carbon_dioxide_above_its_critical_point_gives_no_number(host: Host) -> None:
    """R-744 has no saturation at 40 °C: its critical temperature is 30.98 °C (ASHRAE Fundamentals, from memory)."""
    page = host.get("/bench/saturation", {"refrigerant": "R-744", "temperature": "40", "temperature.unit": "°C"})
    assert page.status == 422
    assert 'id="f-temperature-fault"' in page.html
    assert 'class="mainfigure"' not in page.html


def test_figures_are_those_of_calc(host: Host) -> None:
    page = host.get("/bench/superheat", GOOD)
    answer = run(
        "superheat",
        {"refrigerant": "R-410A", "suction_pressure": "118 psig", "suction_temperature": "52 °F", "target": "10 °F",
         "elevation": "1600 m"},
    )  # fmt: skip
    assert page.status == 200
    for figure in answer.results.values():
        assert f"<dd>{html.escape(figure.shown)}</dd>" in page.html
    assert answer.verdict is not None
    assert html.escape(str(answer.verdict.text)) in page.html
    assert '<svg class="bracketbar"' in page.html
    assert html.escape(str(answer.why[0].with_)) in page.html
    for note in answer.notes:
        assert html.escape(str(note)) in page.html


@pytest.mark.parametrize("name", workings())
def test_every_working_has_its_form(host: Host, name: str) -> None:
    page = host.get(f"/bench/{name}")
    assert page.status == 200
    for field in workings()[name].fields:
        assert f'name="{field.name}"' in page.html
        if field.shape in ("list", "series"):
            assert f'<textarea id="f-{field.name}"' in page.html
        elif field.low is not None and field.low < 0:
            assert f'name="{field.name}.minus"' in page.html
    assert "fault" not in page.html
    assert host.get(f"/bench/{name}", {workings()[name].fields[0].name: ""}).status == 422


def test_sentences_of_calc_may_hold_signs_that_templates_use(host: Host) -> None:
    assert "at most 5 % hydrogen" in host.get("/bench/standing_pressure").html


def test_the_minus_key(host: Host) -> None:
    page = host.get("/bench/saturation", {"refrigerant": "R-410A", "temperature": "20", "temperature.unit": "°C",
                                          "temperature.minus": "1"})  # fmt: skip
    shown = run("saturation", {"refrigerant": "R-410A", "temperature": "-20 °C"}).results["dew_pressure"].shown
    assert f"<dd>{html.escape(shown)}</dd>" in page.html
    assert 'name="temperature.minus" value="1" checked' in page.html
