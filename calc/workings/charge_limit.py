"""The most refrigerant a circuit may hold in a room, by several editions of several standards."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from calc.charge_rules import EDITIONS, NOT_ANSWERABLE, Case, Limit, book_of, limit_of
from calc.declaration import Field, Result, Working
from calc.fields import REFRIGERANT, weighed, yes_or_no
from calc.messages import N_, message
from calc.rules import rule_book
from calc.telling import Telling
from calc.uncertainty import expanded
from calc.values import Values

_LFL = "lower_flammability_limit"
_SOURCE = "IEC 60335-2-40 (2013, 2018), IEC 60335-2-89 (2010, 2019), EN 378-1 (2016), ASHRAE 15 (2019) with ASHRAE 34"
_STEP = "limit:"
_EQUIPMENT = {
    "factory_sealed": N_("factory-sealed appliance"), "split_fixed": N_("fixed split"), "ducted": N_("ducted"),
    "self_contained_cabinet": N_("self-contained cabinet"), "machinery_room": N_("in a machinery room"),
    "other": N_("other"),
}  # fmt: skip
_GOVERNS = {
    "area": N_("area formula"), "small_room": N_("small-room formula"), "m1": N_("m1, free of a least area"),
    "m2": N_("class cap m2"), "cap": N_("class cap"), "lfl_share": N_("share of the flammability limit"),
    "rcl": N_("concentration limit × volume"),
}  # fmt: skip
_FIELD_OF = {"area": "room_area"}


def _editions(values: Values) -> tuple[str, ...]:
    return (values.word("edition"),) if "edition" in values else tuple(EDITIONS)


def _case(values: Values) -> Case:
    fluid, book = values.refrigerant, rule_book(_LFL)

    def given(name: str) -> float | None:
        return values.number(name, 0.0) if name in values else None

    return Case(
        fluid.designation, fluid.safety_group, values.word("equipment"),
        book.number(fluid.designation) if fluid.designation in book else None,
        given("room_area"), given("release_height"), given("room_height"), values.word("mitigation") == "yes",
        values.word("below_ground") == "yes" if "below_ground" in values else None,
    )  # fmt: skip


def charge_limit(values: Values) -> dict[str, float | str]:
    """The least mass [kg] that the editions asked for allow, and by how much a charge exceeds it [kg].

    Each edition's own mass [kg] is a step; an edition that lacks an input gives none.

    Source
        calc.charge_rules, each edition with its clause in calc/data/rules
    """
    case = _case(values)
    answer: dict[str, float | str] = {}
    for edition in _editions(values):
        mass = limit_of(edition, case).mass
        if mass is not None:
            answer[_STEP + edition] = mass
    if answer:
        least = min(value for value in answer.values() if not isinstance(value, str))
        answer["least_limit"] = least
        if "charge" in values:
            answer["over_limit"] = values["charge"] - least
    return answer


def _said(edition: str) -> str:
    book = book_of(edition)
    return f"{book.source}:{book.edition}"


def _cite(edition: str, limit: Limit, designation: str) -> str:
    """Edition and clause with the figures that went in."""
    book = book_of(edition)
    rules = (book[name] for name in ([designation] if limit.governed_by == "rcl" else book))
    figures = "; ".join(
        f"{rule.value:g}{'' if rule.unit == '1' else f' {rule.unit}'} ({rule.remark})" for rule in rules
    )
    return f"{_said(edition)}, {limit.clause}: {figures}"


def _missing(limit: Limit) -> list[str]:
    return [_FIELD_OF.get(name, name) for name in limit.missing]


def _labels(telling: Telling, limit: Limit) -> list[str]:
    return [field.label.lower() for field in telling.working.fields if field.name in _missing(limit)]


def explain(telling: Telling) -> None:
    """Every edition with its clause, the least of them, and the charge against it."""
    values, case = telling.values, _case(telling.values)
    rows: list[dict[str, Any]] = []
    parts: list[str] = []
    silent: list[str] = []
    for edition in _editions(values):
        limit = limit_of(edition, case)
        row: dict[str, Any] = {"edition": _said(edition), "clause": limit.clause, "mass": limit.mass}
        if limit.mass is None:
            reason = f"{limit.governed_by}: {', '.join(_missing(limit))}" if limit.missing else limit.governed_by
            row |= {"governed_by": NOT_ANSWERABLE, "reason": reason, "missing": _missing(limit)}
            telling.because(
                N_("not answerable under this edition"), N_("{edition}: {reason}"),
                f"{_said(edition)}, {limit.clause}",
                edition=_said(edition), reason=reason,
            )  # fmt: skip
            silent.append(_said(edition))
            if limit.missing:
                telling.note(
                    N_("{edition} is not answerable without: {fields}"), edition=_said(edition),
                    fields=", ".join(_labels(telling, limit)),
                )  # fmt: skip
        else:
            doubt = telling.contributions[_STEP + edition]
            shown = telling.frame.show(limit.mass, "mass", doubt)
            row |= {"governed_by": _GOVERNS[limit.governed_by], "u": expanded(doubt)}
            telling.because(
                N_("largest charge = the least of the edition's area formula and its caps"),
                N_("{edition}: {mass}, by {governs}"),
                _cite(edition, limit, case.designation),
                edition=_said(edition), mass=shown, governs=_GOVERNS[limit.governed_by],
            )  # fmt: skip
            parts.append(f"{_said(edition)} {shown} ({_GOVERNS[limit.governed_by]})")
        rows.append(row)
    if silent:
        parts.append(f"{NOT_ANSWERABLE}: {', '.join(silent)}")
    telling.tell("limits", rows, message(N_("{limits}"), limits="; ".join(parts)))
    _notes(telling, case)
    if "over_limit" in telling:
        telling.judge_under("over_limit", 0.0)
        telling.taken_as_exact("charge")
        telling.why_judged("over_limit", _SOURCE)


def _notes(telling: Telling, case: Case) -> None:
    values = telling.values
    book, name = rule_book(_LFL), case.designation
    if name in book:
        telling.note(
            N_("Lower flammability limit of {refrigerant}: {lfl} kg/m³ ({where})"), refrigerant=name,
            lfl=f"{book.number(name):g}", where=book[name].remark,
        )  # fmt: skip
    if "least_limit" not in telling:
        telling.note(N_("No edition answers: see under why what each one lacks"))
    if case.equipment == "split_fixed" and "least_limit" in telling:
        telling.note(
            N_("Below m1 (4 or 6 m³ × LFL) IEC 60335-2-40 asks for no least area; that is not taken as a limit")
        )
    if "charge" in values and "edition" not in values and "least_limit" in telling:
        telling.note(N_("Judged against the least of the editions that answer; choose the edition your code adopts"))
    telling.note(N_("The figures of the standards are as others reproduce them or from memory: check your own copy"))
    telling.note(
        N_("An aid: the edition adopted, the maker's instructions, the local code and a licensed person decide")
    )


def _length(name: str, label: str, help: str) -> Field:
    return Field(name, label, help, quantity="length", low=0.0, high=30.0)


WORKING = Working(
    name="charge_limit",
    title=N_("Charge limit of a room"),
    purpose=N_("The most refrigerant a circuit may hold in a room, by edition and clause of the standards"),
    fields=(
        REFRIGERANT,
        Field(
            "equipment", N_("Equipment"), N_("What kind of equipment the circuit is"), shape="choice", required=True,
            choices=tuple(_EQUIPMENT), said=tuple(_EQUIPMENT.values()),
        ),
        Field(
            "room_area", N_("Room area"), N_("Floor area of the smallest room a leak can reach"), quantity="area",
            low=0.1, high=1e5,
        ),
        _length("release_height", N_("Release height"), N_("Where it would leak, above the floor (wall 1.8 m)")),
        _length("room_height", N_("Room height"), N_("Floor to ceiling")),
        replace(weighed("charge", N_("Charge"), N_("Mass in one circuit, from the plate or as weighed")), error=""),
        yes_or_no("mitigation", N_("Mitigation"), N_("Detection with fan, valves or ventilation as the standard asks")),
        Field(
            "below_ground", N_("Below ground"), N_("Whether the room lies below ground"), shape="choice",
            choices=("yes", "no"), said=(N_("yes"), N_("no")),
        ),
        Field(
            "edition", N_("Edition"), N_("The one your code adopts; all of them where not given"), shape="choice",
            choices=tuple(EDITIONS), said=tuple(_said(edition) for edition in EDITIONS),
        ),
    ),
    results=(
        Result("limits", N_("Limits"), N_("Of each edition: mass and what governs, or what it lacks"), shape="list"),
        Result("least_limit", N_("Least limit"), N_("The least of the editions that answer"), "mass"),
        Result("over_limit", N_("Above the limit"), N_("Charge minus the least limit; negative is below it"), "mass"),
    ),
    function=charge_limit,
    explain=explain,
    sources=(_SOURCE,),
    cautions=(
        N_("Flammable refrigerant: ignition sources out, detector on, ventilate; only by people licensed for it"),
        N_("A charge beyond the limit is a stop: recover, never vent it into a room"),
    ),
    order=150,
)  # fmt: skip
