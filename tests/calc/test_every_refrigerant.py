"""Every refrigerant through every working that takes one: figures hang together, errors at the ends, marks kept."""

from __future__ import annotations

import pytest

from calc.refrigerants import designations, get
from calc.working import Answer, run


def value(answer: Answer, name: str) -> float:
    assert answer.ok, [str(fault.problem) for fault in answer.errors]
    found = answer.results[name].value
    assert isinstance(found, float)
    return found


@pytest.mark.parametrize("refrigerant", designations())
def test_figures_hang_together(refrigerant: str) -> None:
    fluid = get(refrigerant)
    low, high = fluid.dew.t_low_c, min(fluid.bubble.t_high_c, fluid.dew.t_high_c)
    for share in (0.3, 0.5, 0.8):
        celsius = low + share * (high - low)
        both = run("saturation", {"refrigerant": refrigerant, "temperature": f"{celsius} C"})
        dew, bubble = value(both, "dew_pressure"), value(both, "bubble_pressure")
        assert dew <= bubble * (1 + 2e-4)
        suction = {
            "refrigerant": refrigerant,
            "suction_pressure": f"{dew} Pa",
            "suction_temperature": f"{celsius + 6} C",
        }
        assert value(run("superheat", suction), "superheat") == pytest.approx(6.0, abs=5e-3)
        liquid = {
            "refrigerant": refrigerant,
            "liquid_pressure": f"{bubble} Pa",
            "liquid_temperature": f"{celsius - 4} C",
        }
        assert value(run("subcooling", liquid), "subcooling") == pytest.approx(4.0, abs=5e-3)
        at_rest = {"refrigerant": refrigerant, "pressure": f"{bubble} Pa", "temperature": f"{celsius} C"}
        rest = run("rest_pressure", at_rest)
        assert rest.verdict is not None
        assert rest.verdict.state == "within"
        assert value(run("saturation", {"refrigerant": refrigerant, "pressure": f"{dew} Pa"}), "glide") >= 0.0


@pytest.mark.parametrize("refrigerant", designations())
def test_beyond_the_table_there_is_no_figure(refrigerant: str) -> None:
    fluid = get(refrigerant)
    answer = run("saturation", {"refrigerant": refrigerant, "temperature": f"{fluid.critical_temperature_c + 1} C"})
    assert not answer.ok
    (fault,) = answer.errors
    assert (fault.field, fault.code) == ("temperature", "outside_table")
    assert "critical" in str(fault.problem)
    answer = run("saturation", {"refrigerant": refrigerant, "pressure": f"{fluid.critical_pressure_pa * 1.01} Pa"})
    assert [fault.code for fault in answer.errors] == ["outside_table"]


@pytest.mark.parametrize("refrigerant", designations())
def test_grade_error_and_estimate_are_told(refrigerant: str) -> None:
    fluid = get(refrigerant)
    answer = run("saturation", {"refrigerant": refrigerant, "temperature": "0 C"})
    assert answer.ok
    notes = " ".join(str(note) for note in answer.notes)
    assert f"grade {fluid.grade}" in notes
    assert (f"{fluid.designation} is estimated (grade" in notes) == fluid.estimated
    told = answer.to_json()["refrigerant"]
    assert told == {"designation": fluid.designation, "grade": fluid.grade, "estimated": fluid.estimated}
    model = {name: amount for name, amount in answer.results["dew_pressure"].contributions.items() if "model" in name}
    assert model
    assert all(amount != 0 for amount in model.values())
