"""The reading strip: what gauges and probes showed, and which workings follow from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from calc import CALC_VERSION, refrigerants
from calc.errors import Fault
from calc.messages import N_, Message, message
from calc.notation import read_quantity
from calc.site import BAROMETER
from calc.working import Answer, Field, run, workings
from webui.forms import Typed, faults_of, typed_from_kept
from webui.page import Ref
from webui.record import Entry, Writer
from webui.subjects import Known
from webui.worked import message_of, results_of, verdict_of


def _of(working: str, field: str) -> Field:
    declared = workings()[working].field(field)
    assert declared is not None
    return declared


FIELDS = (
    replace(_of("superheat", "suction_pressure"), required=False),
    replace(_of("superheat", "suction_temperature"), required=False),
    replace(_of("superheat", "suction_at"), label=N_("Suction temperature taken at")),
    replace(_of("subcooling", "liquid_pressure"), required=False),
    replace(_of("subcooling", "liquid_temperature"), required=False),
    replace(_of("subcooling", "liquid_at"), label=N_("Liquid temperature taken at")),
    replace(_of("target_superheat", "outdoor_dry_bulb"), required=False),
    Field(
        "return_dry_bulb", N_("Return air, dry bulb"), N_("Air going into the indoor coil"),
        quantity="temperature", low=-50.0, high=60.0, error="air",
    ),
    replace(
        _of("target_superheat", "indoor_wet_bulb"), name="return_wet_bulb", label=N_("Return air, wet bulb"),
        required=False,
    ),
    BAROMETER,
)  # fmt: skip
NAMES = tuple(one.name for one in FIELDS)


@dataclass(frozen=True)
class Worked:
    """What follows from a reading: answers in the order of the page, and every fault by the form's own names."""

    answers: tuple[Answer, ...]
    faults: tuple[Fault, ...]


def work_out(values: Mapping[str, Typed], unit: Known, site: Known) -> Worked:
    """Run every working that the reading has the figures for, at the pressure of the site."""
    texts = {name: one.joined() for name, one in values.items() if one}
    faults = faults_of("reading", FIELDS, texts)
    if not texts:
        nothing = message(N_("Nothing was typed"))
        faults.append(Fault("", "", "missing", nothing, message(N_("Type at least one reading"))))
    faults += _wet_above_dry(texts, {fault.field for fault in faults})
    if faults:
        return Worked((), tuple(faults))
    asked, remarks = _asked(texts, unit, site)
    answers = [run(name, inputs) for name, inputs in asked]
    answers = [replace(one, notes=one.notes + remarks) if one.working == "superheat" else one for one in answers]
    said: list[Fault] = []
    for answer in answers:
        for fault in answer.errors:
            own = fault._replace(field=_own(fault.field, answer, texts))
            if (own.field, own.code) not in {(one.field, one.code) for one in said}:
                said.append(own)
    return Worked(tuple(answer for answer in answers if answer.ok), tuple(said))


def _asked(
    texts: Mapping[str, str], unit: Known, site: Known
) -> tuple[list[tuple[str, dict[str, str]]], tuple[Message, ...]]:
    """The workings and their inputs, and what to say beside superheat where no target can be had.

    The unit's own targets go before those worked out. Weather beyond the printed table takes away the target, not the
    reading: as found is as found.
    """
    has = texts.keys()
    body = unit.body
    common = {"refrigerant": body["refrigerant"], **_air(texts, site)}
    asked: list[tuple[str, dict[str, str]]] = []
    remarks: tuple[Message, ...] = ()
    target: dict[str, str] = _plate(body, "target_superheat")
    if {"outdoor_dry_bulb", "return_wet_bulb"} <= has and body["metering"] == "fixed" and not target:
        declared = {one.name for one in workings()["target_superheat"].fields}
        inputs = {name: text for name, text in _air(texts, site).items() if name in declared}
        inputs |= {"indoor_wet_bulb": texts["return_wet_bulb"], "outdoor_dry_bulb": texts["outdoor_dry_bulb"]}
        found = run("target_superheat", inputs)
        if found.ok:
            asked.append(("target_superheat", inputs))
            target = {"target": found.results["target_superheat"].shown}
        else:
            remarks = (message(N_("No target superheat today")), *(fault.problem for fault in found.errors))
    other = {"suction": "liquid_pressure", "liquid": "suction_pressure"}
    for side, name in (("suction", "superheat"), ("liquid", "subcooling")):
        if f"{side}_pressure" not in has:
            continue
        if f"{side}_temperature" not in has:
            asked.append(("saturation", {**common, "pressure": texts[f"{side}_pressure"]}))
            continue
        wanted = (f"{side}_pressure", f"{side}_temperature", f"{side}_at", other[side])
        inputs = {**common, **{key: texts[key] for key in wanted if key in has}}
        if side == "suction":
            inputs |= {"metering": body["metering"], **target}
        else:
            inputs |= _plate(body, "target_subcooling")
        asked.append((name, inputs))
    return asked, remarks


def _plate(body: Mapping[str, object], name: str) -> dict[str, str]:
    kept = body.get(name)
    return {"target": typed_from_kept(kept).joined()} if isinstance(kept, Mapping) else {}


def _air(texts: Mapping[str, str], site: Known) -> dict[str, str]:
    """What the air pressure of the site follows from: a barometer that was read, and the elevation if known."""
    elevation = site.body.get("elevation")
    air = {"elevation": typed_from_kept(elevation).joined()} if elevation else {}
    return {**air, "barometer": texts["barometer"]} if "barometer" in texts else air


def _own(field: str, answer: Answer, texts: Mapping[str, str]) -> str:
    """The form's name of a working's field."""
    if field == "pressure":
        given = answer.inputs.get("pressure")
        return next((name for name in ("suction_pressure", "liquid_pressure") if texts.get(name) == given), "")
    return {"indoor_wet_bulb": "return_wet_bulb"}.get(field, field)


def _wet_above_dry(texts: Mapping[str, str], faulty: set[str]) -> list[Fault]:
    """A wet bulb cannot be above its dry bulb."""
    wet, dry = texts.get("return_wet_bulb"), texts.get("return_dry_bulb")
    if not wet or not dry or faulty & {"return_wet_bulb", "return_dry_bulb"}:
        return []
    one, other = read_quantity(wet, "temperature"), read_quantity(dry, "temperature")
    limits = (one.limit or 0.0) + (other.limit or 0.0)
    above = (one.unit.zero + one.unit.scale * one.number) - (other.unit.zero + other.unit.scale * other.number)
    if above <= limits:
        return []
    problem = message(N_("Wet bulb {wet} is above dry bulb {dry}"), wet=wet, dry=dry)
    hint = message(N_("Check that the two were not swapped, and that the wick is wet"))
    return [Fault("return_wet_bulb", wet, "contradiction", problem, hint)]


def keep_findings(writer: Writer, sheet: Ref, reading: Entry, worked: Worked, earlier: Mapping[str, list[str]]) -> None:
    """Add what was worked out; earlier: by working, the findings that a correction of the reading replaces."""
    unused = {name: list(ids) for name, ids in earlier.items()}
    for answer in worked.answers:
        body = {
            "of": [reading.id],
            "working": answer.working,
            "calc_version": CALC_VERSION,
            "tables": refrigerants.tables_id(),
            "inputs": {name: str(text) for name, text in answer.inputs.items()},
            "results": results_of(answer),
            "notes": [message_of(note) for note in answer.notes],
        }
        verdict = verdict_of(answer)
        if verdict is not None:
            body["verdict"] = verdict
        ids = unused.get(answer.working, [])
        writer.add("finding", sheet, body, supersedes=[ids.pop(0)] if ids else [])
