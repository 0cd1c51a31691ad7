"""`dewbook work`: run a working, or list them."""

from __future__ import annotations

import argparse
import json
import sys
from typing import Any

from calc.errors import Fault
from calc.messages import N_, message
from calc.working import SYSTEMS, Answer, Field, run, workings

REFUSED = 2


def register(subparsers: Any) -> None:
    """Adds the command."""
    parser = subparsers.add_parser("work", help="run a working on readings, or list the workings")
    parser.add_argument(
        "words", nargs="*", metavar="NAME FIELD=VALUE", default=[],
        help='working to run, then readings with their unit: pressure="118 psig"; a name alone is described',
    )  # fmt: skip
    parser.add_argument("--list", action="store_true", help="list every working with its fields and results")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--units", choices=SYSTEMS, help="show results in US customary or metric units")
    parser.set_defaults(run=work)


def work(options: argparse.Namespace) -> int:
    """Runs, describes or lists; exit status 2 where the input is refused."""
    if options.list or not options.words:
        return _list(options.json)
    name, *pairs = options.words
    if not pairs and name in workings() and not options.json:
        _describe(name)
        return 0
    answer = _run(name, pairs, options.units)
    if options.json:
        _say(json.dumps(answer.to_json(), ensure_ascii=False, allow_nan=False, indent=2))
    else:
        _print(answer)
    return 0 if answer.ok else REFUSED


def _run(name: str, pairs: list[str], units: str | None) -> Answer:
    inputs: dict[str, str] = {}
    faults = []
    for pair in pairs:
        field, sign, value = pair.partition("=")
        field = field.strip()
        if not sign or not field:
            problem = message(N_("{given} is no field with a value"), given=pair)
            faults.append(Fault("", pair, "unknown_field", problem, message(N_('Write FIELD="VALUE UNIT"'))))
        elif field in inputs:
            problem = message(N_("{field} is given twice"), field=field)
            faults.append(Fault(field, value, "contradiction", problem, message(N_("Give it once"))))
        else:
            inputs[field] = value
    answer = run(name, inputs, units)
    return Answer(False, name, inputs, errors=(*faults, *answer.errors)) if faults else answer


def _list(as_json: bool) -> int:
    found = workings().values()
    if as_json:
        listing = {"workings": [working.to_json() for working in found]}
        _say(json.dumps(listing, ensure_ascii=False, allow_nan=False, indent=2))
    else:
        for working in found:
            _say(f"{working.name:<20} {working.purpose}")
    return 0


def _describe(name: str) -> None:
    working = workings()[name]
    _say(f"{working.name}: {working.purpose}\n\nFields")
    for one in working.fields:
        _say(f"  {one.name}{' (required)' if one.required else ''}: {_range(one)}\n      {one.help}")
    _say("\nResults")
    for result in working.results:
        _say(f"  {result.name}: {result.help}{f' [{result.unit}]' if result.unit else ''}")
    for caution in working.cautions:
        _say(f"\nCaution: {caution}")
    _say("\nSources: " + "; ".join(working.sources))


def _range(one: Field) -> str:
    if one.choices:
        return " or ".join(one.choices)
    if one.low is None or one.high is None:
        return one.shape
    absolute = " absolute" if one.quantity == "pressure" else ""
    return f"{one.quantity.replace('_', ' ')}, {one.low:g} to {one.high:g} {one.unit}{absolute}"


def _print(answer: Answer) -> None:
    if not answer.ok:
        for fault in answer.errors:
            where = f"{fault.field}: " if fault.field else ""
            sys.stderr.write(f"{where}{fault.problem}. {fault.hint}.\n")
        return
    for name, figure in answer.results.items():
        _say(f"{name.replace('_', ' '):<28} {figure.shown}")
    if answer.verdict:
        _say(f"\n{answer.verdict.text}.")
    for note in answer.notes:
        _say(f"Note: {note}.")
    for caution in answer.cautions:
        _say(f"Caution: {caution}.")
    for why in answer.why:
        _say(f"Why: {why.formula}\n     {why.with_}\n     Source: {why.source}")


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")
