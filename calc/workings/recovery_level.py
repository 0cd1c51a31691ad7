"""How far a circuit has to be recovered before it is opened, by the table of 40 CFR 82.156."""

from __future__ import annotations

from dataclasses import replace

from calc.declaration import Field, Result, Working
from calc.fields import REFRIGERANT, gauge_pressure, weighed, yes_or_no
from calc.messages import N_
from calc.rules import Rule, rule_book
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.units import IN_HG_PA, POUND_KG, TORR_PA
from calc.values import Values

_BOOK, _CLASSES = "us_recovery_level", "us_pressure_class"
_SOURCE = "40 CFR 82.156(a) with table 1; pressure classes: 40 CFR 82.152"
_SLACK = 1e-9


def _class_of(values: Values) -> str:
    return str(rule_book(_CLASSES)[values.refrigerant.designation].value)


def _row(values: Values) -> Rule:
    """The row and column of table 1."""
    book, name = rule_book(_BOOK), _class_of(values)
    if name in ("high", "medium"):
        large = values["full_charge"] >= book.number("large") * POUND_KG * (1.0 - _SLACK)
        name += "_from_200" if large else "_below_200"
    return book[name + ("_before_1993" if values.word("recovery_machine_before_1993") == "yes" else "")]


def _exception(values: Values) -> Rule | None:
    """The rule that puts 0 psig in the table's place, if one does."""
    book = rule_book(_BOOK)
    if values.word("leak_prevents") == "yes":
        return book["leaks"]
    return book["not_major"] if values.word("major_repair") == "no" else None


def recovery_level(values: Values) -> dict[str, float | str]:
    """Highest absolute pressure [Pa] allowed before opening; above_required: by how much a reading exceeds it [Pa].

    A vacuum counts from the standard atmosphere (29.9 inHg), not from the site's air. 0 psig and 0 inHg are the air of
    the site, and at height no level is above it.

    Source
        40 CFR 82.156(a), table 1; 82.156(a)(1) and (2)
    """
    book, row = rule_book(_BOOK), _row(values)
    site = values.site_pa
    if _exception(values) or not row.value:
        required = site
    elif row.unit == "mmHg":
        required = float(row.value) * TORR_PA
    else:
        required = min((book.number("standard") - float(row.value)) * IN_HG_PA, site)
    answer: dict[str, float | str] = {"required_pressure": required, "pressure_class": _class_of(values)}
    if "reading" in values:
        answer["above_required"] = values["reading"] - required
    return answer


def explain(telling: Telling) -> None:
    """The row, what stands in its place, the verdict on the reading and what to do next."""
    values = telling.values
    row, instead = _row(values), _exception(values)
    named = rule_book(_CLASSES)[values.refrigerant.designation]
    telling.because(
        N_("class by liquid saturation pressure at 104 °F: low < 45 ≤ medium < 170 ≤ high ≤ 355 psia < very high"),
        N_("{refrigerant}: {named}"),
        named.cite(), refrigerant=values.refrigerant.designation, named=_words(values),
    )  # fmt: skip
    telling.because(
        N_("highest pressure before opening = 29.9 inHg − vacuum of table 1, and never above the air of the site"),
        N_("{level} of table 1; here {required} absolute"),
        (instead or row).cite(),
        level=f"{row.value} {row.unit}", required=telling.absolute(telling["required_pressure"]),
    )  # fmt: skip
    if instead:
        telling.note(
            N_("0 psig stands in the table's place (40 CFR {clause}): {when}"), clause=instead.clause,
            when=instead.remark,
        )  # fmt: skip
    elif "major_repair" not in values:
        telling.note(N_("Taken as a major repair, or one after which the circuit is evacuated to the air"))
    if "near the limit" in named.remark:
        telling.note(N_("{refrigerant} lies near the limit of its class: {how}"),
                     refrigerant=values.refrigerant.designation, how=named.remark)  # fmt: skip
    exempt = rule_book(_BOOK)["exempt"]
    if values.refrigerant.designation in exempt.value:
        telling.note(
            N_("Venting {refrigerant} is exempt in some listed uses (40 CFR {clause}, from memory); recovery is still "
               "the safe way where people or ignition are near"),
            refrigerant=values.refrigerant.designation, clause=exempt.clause,
        )  # fmt: skip
    if "reading" in values:
        _verdict(telling)
    telling.note(
        N_("Wait 5 minutes or more and read again: gas boils out of oil and traps (common practice, no source)")
    )
    telling.note(N_("Small appliances and vehicle air conditioning have rules of their own, which are not these"))


def _words(values: Values) -> str:
    return {"very_high": N_("very high"), "high": N_("high"), "medium": N_("medium"), "low": N_("low")}[
        _class_of(values)
    ]


def _verdict(telling: Telling) -> None:
    telling.judge_under("above_required", 0.0)
    telling.because(
        N_("reached: the reading is at or below the level, its whole ± with it"),
        N_("{reading} is {above} above the level (negative: below it)"),
        "40 CFR 82.156(a); guard band: JCGM 106:2012, 8.3",
        reading=telling.reading("reading"), above=telling.result("above_required"),
    )  # fmt: skip


WORKING = Working(
    name="recovery_level",
    title=N_("Recovery level"),
    purpose=N_("How far refrigerant has to be recovered before a circuit is opened, by the United States table"),
    fields=(
        REFRIGERANT,
        replace(
            weighed("full_charge", N_("Full charge"), N_("Charge of the appliance or of its isolated part"),
                    required=True),
            error="",
        ),
        yes_or_no(
            "recovery_machine_before_1993", N_("Machine before 15 November 1993"),
            N_("Whether the recovery machine was made or imported before 15 November 1993; no where not given"),
        ),
        Field(
            "major_repair", N_("Major repair"),
            N_("yes: a main part comes out, or the circuit is evacuated to the air afterwards (taken where not given)"),
            shape="choice", choices=("yes", "no"), said=(N_("yes"), N_("no")),
        ),
        yes_or_no(
            "leak_prevents", N_("Leak prevents it"),
            N_("Whether a leak keeps the level from being reached or would draw air into the refrigerant"),
        ),
        gauge_pressure("reading", N_("Pressure now"), N_("Pressure of the circuit now, after it stood for 5 minutes")),
        *SITE_FIELDS,
    ),
    results=(
        Result(
            "required_pressure", N_("Recover to"), N_("Highest pressure allowed before opening"), "pressure",
            reads="gauge",
        ),
        Result(
            "pressure_class", N_("Pressure class"), N_("Class of the appliance by its refrigerant"), shape="text",
            words={"very_high": N_("very high"), "high": N_("high"), "medium": N_("medium"), "low": N_("low")},
        ),
        Result(
            "above_required", N_("Above the level"), N_("Reading minus level; negative is deeper than asked"),
            "pressure_difference",
        ),
    ),
    function=recovery_level,
    explain=explain,
    sources=(_SOURCE,),
    cautions=(
        N_("Water-cooled: keep water flowing or drain it while recovering, or it freezes and bursts tubes"),
        N_("Lock off and prove dead; liquid trapped between valves bursts pipes; a licensed person recovers"),
        N_("Flammable refrigerant: a machine and a cylinder marked for it, ignition sources out, ventilate"),
    ),
    order=120,
)  # fmt: skip
