"""The registry is complete, its ranges are what is enforced, and bad input never gives a number."""

from __future__ import annotations

import ast
import inspect
import json
import math
import sys
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.declaration import SHAPES, Need
from calc.errors import CODES
from calc.frame import SITE
from calc.messages import Message
from calc.units import CANONICAL, named_unit, unit_choices
from calc.working import Field, Working, run, workings
from tests.calc.good_inputs import GOOD

PINNED = {
    "charge_limit": (
        {
            "refrigerant",
            "equipment",
            "room_area",
            "release_height",
            "room_height",
            "charge",
            "mitigation",
            "below_ground",
            "edition",
        },
        {"limits"},
    ),
    "line_set": (
        {
            "refrigerant",
            "liquid_outside_diameter",
            "wall",
            "liquid_bore",
            "length",
            "included_length",
            "liquid_temperature",
            "plate_mass_per_length",
        },
        {"mass_per_length", "added_mass"},
    ),
    "recovery_fill": (
        {
            "refrigerant",
            "water_capacity",
            "tare",
            "gross_now",
            "stamped_limit",
            "service_pressure",
            "contents",
            "fill_fraction",
            "reference_temperature",
        },
        {"max_net_mass", "max_gross_mass", "remaining_mass", "governed_by"},
    ),
    "recovery_level": (
        {"refrigerant", "full_charge", "recovery_machine_before_1993", "major_repair", "leak_prevents", "reading"},
        {"required_pressure", "pressure_class"},
    ),
    "leak_rate": (
        {"method", "full_charge", "added_mass", "days_since_last", "added_last_year", "reason"},
        {"leak_rate"},
    ),
    "co2_equivalent": (
        {"refrigerant", "mass", "basis", "hermetically_sealed", "residential", "leak_detection"},
        {"gwp", "co2_equivalent", "check_interval", "rule"},
    ),
    "saturation": (
        {"refrigerant", "pressure", "temperature"},
        {"bubble_temperature", "dew_temperature", "glide", "bubble_pressure", "dew_pressure"},
    ),
    "superheat": (
        {
            "refrigerant",
            "suction_pressure",
            "suction_temperature",
            "suction_at",
            "suction_line_drop",
            "metering",
            "target",
            "tolerance",
        },
        {"dew_temperature", "superheat", "superheat_kind"},
    ),
    "subcooling": (
        {
            "refrigerant",
            "liquid_pressure",
            "discharge_pressure",
            "condenser_drop",
            "liquid_temperature",
            "liquid_at",
            "target",
            "tolerance",
        },
        {"bubble_temperature", "subcooling"},
    ),
    "target_superheat": ({"indoor_wet_bulb", "outdoor_dry_bulb", "basis"}, {"target_superheat", "by_formula"}),
    "rest_pressure": (
        {"refrigerant", "pressure", "temperature", "second_temperature"},
        {"expected_low", "expected_high", "excess"},
    ),
    "site_pressure": ({"elevation"}, {"site_pressure"}),
    "vacuum_level": ({"pressure"}, {"pressure", "micron", "water_boiling_temperature"}),
    "hose_conductance": ({"bore", "length", "mean_pressure", "gas", "temperature"}, {"conductance", "regime"}),
    "evacuation_time": (
        {"volume", "pump_speed", "target_pressure", "start_pressure", "ultimate_pressure", "hoses", "leak", "gauge_at"},
        {"time", "effective_speed", "limit_pressure"},
    ),
    "vacuum_rise": (
        {"readings", "volume", "coldest_temperature", "limit", "limit_time", "levelling"},
        {"shape", "slope", "plateau", "plateau_kind", "leak"},
    ),
    "standing_pressure": (
        {
            "start_pressure",
            "start_temperature",
            "end_pressure",
            "end_temperature",
            "duration",
            "volume",
            "gas",
            "allowed_change",
            "volume_shares",
            "same_gauge",
            "gauge_resolution",
            "temperature_doubt",
            "end_barometer",
        },
        {"expected_pressure", "compensated_change", "smallest_visible_change", "leak", "smallest_visible_leak"},
    ),
    "test_plan": (
        {"kind", "design_pressures", "relief_pressure", "factor", "fill_temperature", "hottest_temperature"},
        {"limit", "fill_limit", "steps"},
    ),
    "moist_air": (
        {"dry_bulb", "wet_bulb", "relative_humidity", "dew_point"},
        {
            "wet_bulb",
            "dew_point",
            "relative_humidity",
            "humidity_ratio",
            "enthalpy",
            "specific_volume",
            "vapour_pressure",
        },
    ),
    "air_side": (
        {
            "airflow",
            "entering_dry_bulb",
            "entering_wet_bulb",
            "entering_relative_humidity",
            "leaving_dry_bulb",
            "leaving_wet_bulb",
            "leaving_relative_humidity",
        },
        {"total_capacity", "sensible_capacity", "latent_capacity", "sensible_heat_ratio"},
    ),
    "heater_airflow": (
        {"power", "voltage", "current", "phases", "temperature_rise", "entering_dry_bulb", "blower_power"},
        {"airflow", "standard_airflow", "mass_flow"},
    ),
    "run_capacitor": ({"current", "voltage", "frequency", "rated", "tolerance"}, {"capacitance"}),
    "voltage_imbalance": ({"voltages"}, {"average", "imbalance"}),
    "compressor_map": (
        {
            "coefficients",
            "coefficients_in",
            "suction_dew_temperature",
            "discharge_dew_temperature",
            "rated_superheat",
            "rated_return_temperature",
            "actual_suction_temperature",
            "volumetric_fraction",
            "value_unit",
        },
        {"value"},
    ),
}
EVERY = [(name, inputs) for name, all_inputs in GOOD.items() for inputs in all_inputs]


def fields_with_range() -> Iterator[tuple[str, dict[str, str], dict[str, Any]]]:
    """Each working of the printed listing with good inputs, and each of its fields that has a range."""
    for working in json.loads(json.dumps([w.to_json() for w in workings().values()])):
        for field in working["fields"]:
            if field["range"]:
                yield working["name"], GOOD[working["name"]][0], field


RANGED = list(fields_with_range())


def test_every_working_is_tried_here_and_has_its_pinned_names() -> None:
    assert set(GOOD) == set(workings())
    for name, (fields, results) in PINNED.items():
        working = workings()[name]
        assert fields <= {field.name for field in working.fields}
        assert results <= {result.name for result in working.results}


@pytest.mark.parametrize("working", workings().values(), ids=lambda w: w.name)
def test_declarations_are_complete(working: Working) -> None:
    assert working.title
    assert working.purpose
    assert working.sources
    names = [field.name for field in working.fields] + [alias for field in working.fields for alias in field.aliases]
    assert len(names) == len(set(names))
    for field in working.fields:
        assert field.label
        assert field.help
        assert field.shape in SHAPES
        if field.shape == "quantity":
            assert field.quantity in CANONICAL
            assert field.unit
            assert field.low is not None
            assert field.high is not None
            assert field.low < field.high
            assert unit_choices(field.quantity, field.reads)
        if field.shape == "choice":
            assert len(field.choices) == len(field.said) > 1
        if field.quantity == "pressure":
            assert field.reads in ("gauge", "absolute", "vacuum")
    for result in working.results:
        assert result.label
        assert result.help
        assert result.shape in ("text", "number", "list", "object") or result.quantity in CANONICAL
    if any(field.reads == "gauge" for field in working.fields):
        assert {"elevation", "barometer"} <= set(names)
    if working.needs:
        assert all(working.field(name) for name in working.needs.fields())


@pytest.mark.parametrize(("name", "inputs"), EVERY)
def test_every_result_has_figure_reason_and_source(name: str, inputs: dict[str, str]) -> None:
    answer = run(name, inputs)
    assert answer.ok, answer.errors
    told = answer.to_json()
    json.dumps(told, allow_nan=False)
    assert told["why"]
    for why in told["why"]:
        assert why["formula"]
        assert why["with"]
        assert why["source"]
    for result_name, figure in answer.results.items():
        declared = workings()[name].result(result_name)
        assert declared is not None
        given_unit = declared.unit.startswith("of:")
        assert given_unit or figure.unit == declared.unit
        assert figure.shown
        if declared.shape == "quantity":
            assert isinstance(figure.value, float)
            assert math.isfinite(figure.value)
            assert figure.u is not None
            assert figure.u >= 0
            only_the_air = set(figure.contributions) <= {SITE}  # a gauge shows that figure without doubt
            assert ("±" in figure.shown) == (figure.u > 0) or only_the_air
        else:
            assert figure.u is None or given_unit
            assert declared.shape != "text" or not declared.words or figure.value in declared.words


@pytest.mark.parametrize(("name", "inputs"), EVERY)
def test_all_declared_results_are_reached(name: str, inputs: dict[str, str]) -> None:
    reached = {result for case in GOOD[name] for result in run(name, case).results}
    assert reached == {result.name for result in workings()[name].results}


@pytest.mark.parametrize(
    ("name", "inputs", "field"), RANGED, ids=lambda x: x["name"] if isinstance(x, dict) and "name" in x else None
)
@pytest.mark.parametrize("end", [0, 1])
def test_the_listed_range_is_the_range(name: str, inputs: dict[str, str], field: dict[str, Any], end: int) -> None:
    def codes(value: float) -> list[tuple[str, str]]:
        text = f"{value!r} {field['unit']}"
        if inputs.get(field["name"], "").startswith("["):  # one value of a list
            text = json.dumps([text, *json.loads(inputs[field["name"]])[1:]])
        fields = {**inputs, field["name"]: text}
        return [(fault.code, str(fault.problem)) for fault in run(name, fields).errors if fault.field == field["name"]]

    edge = field["range"][end]
    assert not [code for code, _ in codes(edge) if code in ("out_of_range", "unit", "not_a_number")]
    span = field["range"][1] - field["range"][0]
    ((code, problem),) = (said for said in codes(edge + (span if end else -span) * 1e-6) if said[0] != "contradiction")
    assert code in ("out_of_range", "impossible")
    if code == "out_of_range":
        assert "is out of range" in problem
        assert " to " in problem


SUCTION = {"refrigerant": "R-410A", "suction_pressure": "118 psig", "suction_temperature": "52 F"}
BOTH = {"refrigerant": "R-410A", "pressure": "118 psig", "temperature": "40 F"}
BAD = [
    ("saturation", {"refrigerant": "R-410A", "pressure": "118 psi"}, "pressure", "gauge_or_absolute"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "118"}, "pressure", "unit"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "118 F"}, "pressure", "unit"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "about 118 psig"}, "pressure", "not_a_number"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "1,234 psig"}, "pressure", "ambiguous_number"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "−14.8 psig"}, "pressure", "impossible"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "-70.2 psig"}, "pressure", "impossible"),  # dead transducer
    ("saturation", {"refrigerant": "R-410A", "pressure": "30 inHgv"}, "pressure", "impossible"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "9 psig", "elevation": "21 km"}, "elevation", "out_of_range"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "-12 psig", "elevation": "7000 ft"}, "pressure", "impossible"),
    ("saturation", {"refrigerant": "R-744", "temperature": "40 C"}, "temperature", "outside_table"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "700 psig"}, "pressure", "outside_table"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "118 psig ± 2000"}, "pressure", "outside_table"),
    ("saturation", {"refrigerant": "R-999", "pressure": "118 psig"}, "refrigerant", "unknown_refrigerant"),
    ("saturation", {"refrigerant": "R-410A"}, "pressure", "missing"),
    ("saturation", {"pressure": "118 psig"}, "refrigerant", "missing"),
    ("saturation", BOTH, "temperature", "contradiction"),
    ("saturation", {"refrigerant": "R-410A", "pressure": "118 psig", "colour": "red"}, "colour", "unknown_field"),
    ("superheat", {**SUCTION, "suction_temperature": "-460 F"}, "suction_temperature", "impossible"),
    ("superheat", {**SUCTION, "suction_temperature": "-300 C"}, "suction_temperature", "impossible"),
    ("superheat", {**SUCTION, "suction_temperature": "-1 K"}, "suction_temperature", "impossible"),
    ("superheat", {**SUCTION, "metering": "valve"}, "metering", "unknown_choice"),
    ("site_pressure", {"elevation": "1600"}, "elevation", "unit"),
    ("site_pressure", {"elevation": "1,600 m"}, "elevation", "ambiguous_number"),
    ("site_pressure", {}, "elevation", "missing"),
    ("site_pressure", {"elevation": "1600 m", "units": "imperial"}, "units", "unknown_choice"),
    ("vacuum_level", {"pressure": "-5 micron"}, "pressure", "impossible"),
    ("nothing", {}, "", "unknown_working"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "inputs", "field", "code"), BAD)
def test_bad_input_is_refused_by_name_with_what_to_do(name: str, inputs: dict[str, str], field: str, code: str) -> None:
    answer = run(name, inputs)
    assert not answer.ok
    assert not answer.results
    told = answer.to_json()
    assert set(told) == {"ok", "working", "errors"}
    (error,) = told["errors"]
    assert set(error) == {"field", "given", "code", "problem", "hint"}
    assert (error["field"], error["code"]) == (field, code)
    assert error["code"] in CODES
    assert error["problem"]
    assert error["hint"]
    assert "{" not in error["problem"] + error["hint"]
    if field in inputs:
        assert error["given"] == inputs[field]


def test_every_fault_is_told_at_once() -> None:
    fields = {
        "refrigerant": "R-999",
        "suction_pressure": "118 psi",
        "suction_temperature": "cold",
        "metering": "x",
        "zzz": "1",
    }
    answer = run("superheat", fields)
    assert [(f.field, f.code) for f in answer.errors] == [
        ("refrigerant", "unknown_refrigerant"),
        ("suction_pressure", "gauge_or_absolute"),
        ("suction_temperature", "not_a_number"),
        ("metering", "unknown_choice"),
        ("zzz", "unknown_field"),
    ]
    assert answer.inputs == {k: v for k, v in fields.items() if k != "zzz"}


def test_nearby_refrigerants_are_offered() -> None:
    (fault,) = run("saturation", {"refrigerant": "R-410", "pressure": "118 psig"}).errors
    assert "R-410A" in str(fault.hint)


@pytest.mark.parametrize("alias", ["R410A", "410a", "R-410A", "r 410 a"])
def test_refrigerants_answer_to_their_other_names(alias: str) -> None:
    first = run("saturation", {"refrigerant": "R-410A", "pressure": "118 psig"})
    assert run("saturation", {"refrigerant": alias, "pressure": "118 psig"}).results == first.results


def test_blank_fields_count_as_not_given() -> None:
    full = {"refrigerant": "R-410A", "pressure": "118 psig", "temperature": " ", "elevation": "", "barometer": None}
    assert run("saturation", full).ok


def test_any_text_in_any_field_is_answered() -> None:
    @given(st.data())
    def any_text(data: st.DataObject) -> None:
        name, inputs = data.draw(st.sampled_from(EVERY))
        field = data.draw(st.sampled_from([f.name for f in workings()[name].fields]))
        answer = run(
            name, {**inputs, field: data.draw(st.one_of(st.text(max_size=12), st.integers(), st.lists(st.none())))}
        )
        json.dumps(answer.to_json(), allow_nan=False)
        assert answer.ok != bool(answer.errors)

    any_text()


def test_any_reading_gives_a_finite_figure_or_a_refusal() -> None:
    pressures = [*unit_choices("pressure", "gauge"), *unit_choices("pressure", "vacuum")]

    @given(
        st.sampled_from(["R-410A", "R-407C", "R-744", "R-717", "R-454B"]),
        st.floats(-50, 5000), st.sampled_from(pressures), st.floats(-500, 500), st.sampled_from(["°F", "°C", "K"]),
    )  # fmt: skip
    def any_reading(refrigerant: str, number: float, unit: str, temperature: float, degree: str) -> None:
        fields = {
            "refrigerant": refrigerant, "suction_pressure": f"{number:.3f} {unit}",
            "suction_temperature": f"{temperature:.2f} {degree}",
        }  # fmt: skip
        answer = run("superheat", fields)
        json.dumps(answer.to_json(), allow_nan=False)
        for figure in answer.results.values():
            assert figure.u is None or math.isfinite(figure.u)
        assert all(fault.field in fields and fault.given for fault in answer.errors)

    any_reading()


def test_shown_units_are_those_typed_or_asked_for() -> None:
    fields = {"refrigerant": "R-410A", "temperature": "5 C"}
    assert run("saturation", fields).results["dew_pressure"].shown.endswith(" barg")
    assert run("saturation", {**fields, "temperature": "41 F"}).results["dew_pressure"].shown.endswith(" psig")
    assert run("saturation", fields, "us").results["dew_pressure"].shown.endswith(" psig")
    pressure = {"refrigerant": "R-410A", "pressure": "8.2 barg"}
    assert run("saturation", pressure).results["dew_temperature"].shown.endswith(" °C")
    assert run("saturation", {**pressure, "pressure": "118 psia"}).results["dew_temperature"].shown.endswith(" °F")


def test_a_shown_gauge_pressure_reads_back_as_the_result() -> None:
    answer = run("saturation", {"refrigerant": "R-410A", "temperature": "41 F", "elevation": "1600 m"})
    figure = answer.results["dew_pressure"]
    assert isinstance(figure.value, float)
    number = float(figure.shown.split(" ")[0])
    assert number * named_unit("psig", "pressure").scale + 83523.5 == pytest.approx(figure.value, abs=3500)


def test_messages_keep_text_and_values_apart() -> None:
    answer = run(*EVERY[2])
    messages: list[Message] = [*answer.notes, *(why.with_ for why in answer.why)]
    if answer.verdict:
        messages.append(answer.verdict.text)
    for said in messages:
        kept = said.to_json()
        assert Message(
            kept["text"], {k: v if isinstance(v, str) else v["shown"] for k, v in kept["values"].items()}
        ).said() == str(said)
        for value in kept["values"].values():
            assert isinstance(value, str) or all(isinstance(part, str) for part in value.values())


def test_needs_count_their_parts() -> None:
    need = workings()["subcooling"].needs
    assert isinstance(need, Need)
    assert need.to_json() == {"one_of": ["liquid_pressure", {"all_of": ["discharge_pressure", "condenser_drop"]}]}
    assert need.met(frozenset({"discharge_pressure"})) == 0
    assert need.met(frozenset({"discharge_pressure", "condenser_drop"})) == 1


def test_functions_keep_no_state() -> None:
    """Same input, same answer, whatever ran between."""
    first = [run(name, inputs).to_json() for name, inputs in EVERY]
    assert [run(name, inputs).to_json() for name, inputs in reversed(EVERY)] == first[::-1]


def test_modules_of_calc_hold_no_mutable_state() -> None:
    """A module of calc keeps constants; lists and sets at its top would be state (the caches are of pure functions)."""
    for name, module in list(sys.modules.items()):
        if name.split(".")[0] == "calc" and inspect.ismodule(module) and getattr(module, "__file__", None):
            tree = ast.parse(inspect.getsource(module))
            for node in tree.body:
                value = getattr(node, "value", None)
                if isinstance(node, ast.Assign | ast.AnnAssign) and isinstance(
                    value, ast.List | ast.Set | ast.ListComp
                ):
                    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                    assert any(getattr(t, "id", "") == "__all__" for t in targets), f"{name}:{node.lineno}"


def test_fields_are_found_by_name() -> None:
    working = workings()["superheat"]
    assert isinstance(working.field("suction_pressure"), Field)
    assert working.field("nothing") is None
