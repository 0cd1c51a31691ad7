"""Lists and series: from JSON, JSON text and lines to canonical values, each fault by its row."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.declaration import Field, Working
from calc.reading import Given, read_inputs
from calc.units import MICRON_PA

VOLTAGES = Field("voltages", "Voltages", "three", "list", "voltage", 0.0, 1000.0, rows=(3, 3))
COEFFICIENTS = Field("coefficients", "Coefficients", "ten", "list")
PRESSURES = Field("pressures", "Pressures", "of each side", "list", "pressure", 1e5, 15e6, reads="gauge")
READINGS = Field(
    "readings", "Readings", "seconds and pressure", "series",
    columns=(
        Field("seconds", "Seconds", "since start", quantity="time", low=0.0, high=1e6, required=True, bare="s"),
        Field("pressure", "Pressure", "absolute", "quantity", "pressure", 0.1, 2e5, True, reads="vacuum"),
    ),
)  # fmt: skip
HOSES = Field(
    "hoses", "Hoses", "one a row", "series",
    columns=(
        Field("bore", "Bore", "inside", quantity="length", low=1e-4, high=1.0, required=True),
        Field("length", "Length", "of one", quantity="length", low=0.01, high=100.0, required=True),
        Field("cores_in", "Cores in", "left in", "choice", choices=("yes", "no"), said=("yes", "no")),
    ),
)  # fmt: skip
FORM = Working(
    "form",
    "",
    "",
    (VOLTAGES, COEFFICIENTS, PRESSURES, READINGS, HOSES),
    (),
    lambda values: {},
    lambda telling: None,
    (),
)


def read(**fields: Any) -> Given:
    return read_inputs(FORM, fields)


def numbers(taken: Given) -> dict[str, float]:
    assert not taken.faults, taken.faults
    return taken.numbers


@pytest.mark.parametrize("typed", [["480 V", "475 V", "492 V"], '["480 V", "475 V", "492 V"]', "480 V\n475 V\n\n492 V"])
def test_a_list_comes_in_three_ways(typed: Any) -> None:
    taken = read(voltages=typed)
    assert numbers(taken) == {"voltages.0": 480.0, "voltages.1": 475.0, "voltages.2": 492.0}
    assert taken.counts == {"voltages": 3}


def test_plain_numbers_need_no_unit() -> None:
    assert numbers(read(coefficients="[1, -2.5e-3]")) == {"coefficients.0": 1.0, "coefficients.1": -0.0025}
    assert numbers(read(coefficients="1\n−0,25")) == {"coefficients.0": 1.0, "coefficients.1": -0.25}


@pytest.mark.parametrize(
    "typed",
    [
        [[0, "310 micron"], [60, "325 micron"]],
        '[[0, "310 micron"], ["1 min", "325 micron"]]',
        [{"seconds": 0, "pressure": "310 micron"}, {"pressure": "325 micron", "seconds": "60"}],
        "0 310 micron\n60 325 micron",
        "0; 310 micron\n1 min; 325 micron",
        "0, 310 micron\n60, 325 micron",
    ],
)
def test_a_series_comes_in_rows(typed: Any) -> None:
    found = numbers(read(readings=typed))
    assert (found["readings.0.seconds"], found["readings.1.seconds"]) == (0.0, 60.0)
    assert found["readings.0.pressure"] == pytest.approx(310 * MICRON_PA)
    assert found["readings.1.pressure"] == pytest.approx(325 * MICRON_PA)


def test_columns_may_be_left_out_and_words_are_read() -> None:
    taken = read(hoses=[{"bore": "3/8 in", "length": "5 ft", "cores_in": True}, ["1/4 in", "5 ft"]])
    assert numbers(taken)["hoses.1.bore"] == pytest.approx(0.00635)
    assert taken.words == {"hoses.0.cores_in": "yes"}
    assert read(hoses="3/8 in; 5 ft; yes\n1/4 in; 5 ft").words == {"hoses.0.cores_in": "yes"}


def test_a_gauge_reading_in_a_list_counts_from_the_sites_air() -> None:
    taken = read(pressures=["150 psig", "300 psig ± 1"])
    assert numbers(taken)["pressures.0"] == pytest.approx(101325 + 150 * 6894.757293168)
    assert taken.gauged == {"pressures.0", "pressures.1"}
    assert taken.typed["pressures.1"].limit == pytest.approx(6894.757293168)


@pytest.mark.parametrize(
    ("fields", "given_text", "code", "words"),
    [
        ({"voltages": ["480 V", "475", "492 V"]}, "475", "unit", "row 2: 475 has no unit"),
        ({"voltages": "480 V\nmuch\n492 V"}, "much", "not_a_number", "row 2: much is not a number"),
        ({"voltages": ["480 V", "475 V", "5000 V"]}, "5000 V", "out_of_range", "row 3: Voltages 5000 V is out of"),
        ({"voltages": ["480 V"]}, '["480 V"]', "missing", "1 given, 3 needed"),
        ({"voltages": "1 V\n2 V\n3 V\n4 V"}, "1 V\n2 V\n3 V\n4 V", "contradiction", "4 given, 3 at most"),
        ({"voltages": "[480"}, "[480", "not_a_number", "JSON"),
        ({"pressures": ["150 psi"]}, "150 psi", "gauge_or_absolute", "row 1: psi does not say"),
        ({"readings": [[0, "310 micron"], [60]]}, '[[0, "310 micron"], [60]]', "missing", "Row 2 lacks pressure"),
        ({"readings": [[0, "5 psig"]]}, "5 psig", "gauge_or_absolute", "row 1: This pressure is absolute"),
        ({"readings": [[0, "1 micron", 3]]}, '[[0, "1 micron", 3]]', "unknown_field", "Row 1 has more"),
        ({"readings": [{"minute": 1}]}, '[{"minute": 1}]', "unknown_field", "minute"),
        ({"readings": "[]"}, "[]", "missing", "0 given, 1 needed"),
        ({"readings": [[0, "1 micron"]] * 2001}, None, "out_of_range", "2001 rows are too many"),
        ({"hoses": "3/8 in; 5 ft; perhaps"}, "perhaps", "unknown_choice", "row 1: perhaps"),
    ],
)  # fmt: skip
def test_faults_name_their_row(fields: dict[str, Any], given_text: str | None, code: str, words: str) -> None:
    (fault,) = read(**fields).faults
    assert fault.field == next(iter(fields))
    assert given_text is None or fault.given == given_text
    assert fault.code == code
    assert words in str(fault.problem)
    assert str(fault.hint)


def test_every_faulty_row_is_told() -> None:
    assert len(read(voltages=["480", "V", "492 V"]).faults) == 2


@given(st.recursive(st.none() | st.booleans() | st.floats() | st.text(max_size=5), st.lists, max_leaves=8))
def test_anything_is_read_or_refused(value: Any) -> None:
    for name in ("voltages", "readings", "hoses"):
        for typed in (value, json.dumps(value)):
            taken = read(**{name: typed})
            assert all(fault.field == name and str(fault.problem) for fault in taken.faults)
