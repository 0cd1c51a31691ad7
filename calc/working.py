"""The registry of workings, and how one is run: read, compute, ask again under each doubt, explain."""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module
from types import MappingProxyType
from typing import Any

import calc.workings
from calc.assumed import assumed_limit, assumed_note, kind_of_error
from calc.conformity import Verdict
from calc.declaration import Field, Need, Result, Working
from calc.errors import Fault, Refused
from calc.frame import SITE, Frame
from calc.messages import N_, Message, message
from calc.reading import Given, read_inputs
from calc.refrigerants import Refrigerant
from calc.site import SITE_NAMES
from calc.telling import Figure, Telling, Why
from calc.uncertainty import Numbers, Origin, TooWide, expanded, from_limit, propagate
from calc.units import named_unit
from calc.values import MODEL, Values

__all__ = ["Answer", "Fault", "Field", "Figure", "Need", "Result", "Verdict", "Why", "Working", "run", "workings"]

SYSTEMS = ("us", "metric")


@dataclass(frozen=True)
class Answer:
    """What a working gave: results with verdict, notes and reasons, or the faults of its input.

    inputs: fields as typed; fluid: the refrigerant whose tables were used (estimated ones are to be marked).
    """

    ok: bool
    working: str
    inputs: Mapping[str, str] = field(default_factory=dict)
    fluid: Refrigerant | None = None
    results: Mapping[str, Figure] = field(default_factory=dict)
    verdict: Verdict | None = None
    notes: tuple[Message, ...] = ()
    why: tuple[Why, ...] = ()
    cautions: tuple[Message, ...] = ()
    errors: tuple[Fault, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The object that the command line prints and POST /api/workings/NAME answers."""
        if not self.ok:
            return {"ok": False, "working": self.working, "errors": [fault.to_json() for fault in self.errors]}
        verdict, refrigerant = None, None
        if self.fluid:
            refrigerant = {
                "designation": self.fluid.designation,
                "grade": self.fluid.grade,
                "estimated": self.fluid.estimated,
            }
        if self.verdict:
            verdict = {
                "state": self.verdict.state,
                "text": str(self.verdict.text),
                "probability": self.verdict.probability,
                "of": self.verdict.of,
                "low": self.verdict.low,
                "high": self.verdict.high,
            }
        return {
            "ok": True,
            "working": self.working,
            "refrigerant": refrigerant,
            "results": {name: figure.to_json() for name, figure in self.results.items()},
            "verdict": verdict,
            "notes": [str(note) for note in self.notes],
            "why": [why.to_json() for why in self.why],
            "cautions": [str(caution) for caution in self.cautions],
        }


@cache
def workings() -> Mapping[str, Working]:
    """Every working by name, in the order they are listed."""
    found = [
        import_module(f"calc.workings.{module.name}").WORKING for module in pkgutil.iter_modules(calc.workings.__path__)
    ]
    return MappingProxyType({working.name: working for working in sorted(found, key=lambda w: (w.order, w.name))})


def run(name: str, inputs: Mapping[str, Any], units: str | None = None) -> Answer:
    """Runs a working on texts as typed.

    Parameters
        name: of the working
        inputs: text with unit by field name; blank ones count as not given. `units` among them is as the argument
        units: "us" or "metric" to show results so; None follows the units typed
    Returns
        an Answer; with ok False it has every fault found and no number
    """
    working = workings().get(name)
    if working is None:
        return Answer(False, name, errors=(_unknown(name),))
    fields = dict(inputs)
    system = fields.pop("units", None) or units
    given = read_inputs(working, fields)
    if system not in (None, *SYSTEMS):
        hint = message(N_("Choose one of: {choices}"), choices=", ".join(SYSTEMS))
        problem = message(N_("{given} is not a system of units"), given=str(system))
        given.faults.append(Fault("units", str(system), "unknown_choice", problem, hint))
    if given.faults:
        return Answer(False, name, given.texts, errors=tuple(given.faults))
    try:
        return _answer(working, given, system)
    except Refused as refused:
        return Answer(False, name, given.texts, errors=refused.faults)


def _unknown(name: str) -> Fault:
    return Fault(
        "", name, "unknown_working", message(N_("There is no working {name}"), name=name),
        message(N_("The workings are: {names}"), names=", ".join(workings())),
    )  # fmt: skip


def _answer(working: Working, given: Given, system: str | None) -> Answer:
    site = given.site
    assert site is not None
    own = [typed for field_name, typed in given.typed.items() if field_name not in SITE_NAMES]
    frame = Frame(own or given.typed.values(), system, site.pressure_pa, site.moves)
    numbers = {**given.numbers, SITE: site.pressure_pa}
    values = Values(
        numbers, given.words, given.texts, frame, given.fluid, given.gauged, given.standard, counts=given.counts
    )
    answer = working.function(values)
    central = {key: value for key, value in answer.items() if not isinstance(value, str)}
    words = {key: value for key, value in answer.items() if isinstance(value, str)}
    origins, assumed = _origins(working, given, values)

    def compute(moves: Numbers) -> Numbers:
        moved = working.function(values.moved(moves))
        return {key: value for key, value in moved.items() if not isinstance(value, str)}

    try:
        spread = propagate(compute, origins, central)
    except TooWide as wide:
        raise _too_wide(working, given, wide) from wide
    telling = Telling(working, values, frame, central, spread.contributions)
    working.explain(telling)
    if any(declared.name in SITE_NAMES for declared in working.fields):
        telling.notes += site.notes
    telling.notes += [assumed_note(kind) for kind in assumed]
    for names, text in (
        (spread.one_sided, N_("Uncertainty from {origin} is taken to one side only: the other leaves the tables")),
        (spread.lopsided, N_("The ± from {origin} is lopsided: it reaches further to one side than to the other")),
    ):
        for origin in names:
            telling.note(text, origin=telling.weakest({origin: 1.0}))
    return Answer(
        True, working.name, given.texts, given.fluid, _figures(telling, words), telling.verdict, tuple(telling.notes),
        tuple(telling.why), tuple(message(caution) for caution in working.cautions),
    )  # fmt: skip


def _too_wide(working: Working, given: Given, wide: TooWide) -> Refused:
    """The refusal where a reading's own ± leaves the tables on both sides."""
    declared = working.field(wide.origin.partition(":")[2].partition(".")[0]) or working.fields[0]
    text = given.texts.get(declared.name, "")
    return Refused(
        [
            Fault(
                declared.name, text, "outside_table",
                message(N_("The ± of {field} leaves the tables on both sides"), field=declared.label.lower()),
                message(N_("Read it with a closer instrument, or give a smaller limit of error after ±")),
            )
        ]
    )  # fmt: skip


def _origins(working: Working, given: Given, values: Values) -> tuple[list[Origin], list[str]]:
    """Every independent doubt of the inputs, and the limits of error that had to be assumed."""
    site = given.site
    assert site is not None
    origins = [
        Origin(origin.name, {SITE: origin.moves[SITE], **dict.fromkeys(given.gauged, origin.moves[SITE])})
        for origin in site.origins
    ]
    assumed: dict[str, None] = {}
    together: dict[str, dict[str, float]] = {}
    one_instrument = working.together(values) if working.together else ()
    for declared in (*working.fields, *(part.field for part in given.parts.values())):
        typed = given.typed.get(declared.name)
        if typed is None or declared.name in SITE_NAMES:
            continue
        limit = typed.limit
        if limit is None and declared.error:
            kind = kind_of_error(declared.error, typed)
            assumed[kind] = None
            limit = assumed_limit(kind, typed)
        if limit and declared.name in one_instrument:
            together.setdefault(one_instrument[0], {})[declared.name] = from_limit(limit)
        elif limit and declared.common:
            together.setdefault(declared.name.partition(".")[0], {})[declared.name] = from_limit(limit)
        elif limit:
            origins.append(Origin(f"reading:{declared.name}", {declared.name: from_limit(limit)}))
    origins += [Origin(f"reading:{name}", moves) for name, moves in together.items()]
    if given.fluid:
        name = f"{MODEL}{given.fluid.designation}"
        sides = {f"{MODEL}bubble": 1.0}, {f"{MODEL}dew": 1.0}
        if given.fluid.pure:
            origins.append(Origin(name, {**sides[0], **sides[1]}))
        else:
            origins += [Origin(f"{name}:bubble", sides[0]), Origin(f"{name}:dew", sides[1])]
    origins += [Origin(origin.name, origin.moves) for origin in working.own_doubts]
    return origins, list(assumed)


def _figures(telling: Telling, words: Mapping[str, str]) -> dict[str, Figure]:
    figures: dict[str, Figure] = {}
    for result in telling.working.results:
        if result.name in telling.told:
            figures[result.name] = telling.told[result.name]
        elif result.shape == "text" and result.name in words:
            word = words[result.name]
            figures[result.name] = Figure(word, "", None, result.say(word), "")
        elif result.name in telling:
            value, doubt = telling[result.name], telling.contributions[result.name]
            if result.own_unit:
                unit = named_unit(result.own_unit, result.quantity)
                doubt = {origin: amount / unit.scale for origin, amount in doubt.items()}
                shown = telling.frame.show(value, result.quantity, telling.contributions[result.name], unit=unit)
                value = value / unit.scale
            else:
                shown = telling.frame.show(value, result.quantity, doubt, result.reads)
            figures[result.name] = Figure(value, result.unit, expanded(doubt), shown, result.quantity, doubt)
    return figures
