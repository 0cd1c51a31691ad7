"""Leak rate of an appliance by the annualizing and by the rolling method of the United States rules."""

from __future__ import annotations

from dataclasses import replace

from calc.declaration import Field, Result, Working
from calc.fields import REFRIGERANT, weighed, yes_or_no
from calc.messages import N_, message
from calc.rules import Rule, rule_book
from calc.telling import Telling
from calc.units import POUND_KG
from calc.values import Values

DAYS_OF_YEAR = 365.0
_BOOK, _OZONE = "us_leak_rate", "ozone_depleting"
_SOURCE = "40 CFR 82.152 and 84.102, definition of leak rate"
_RULE = "40 CFR 82.157 and 84.106"
_SLACK = 1e-9  # pounds and kilograms of one figure part in the last digit
_USES = ("comfort_cooling", "commercial_refrigeration", "industrial_process", "refrigerated_transport")


def _days(values: Values) -> float:
    """Days the addition stands for: never more than a year, and a year where nothing was added before."""
    return min(values.number("days_since_last", DAYS_OF_YEAR), DAYS_OF_YEAR)


def leak_rate(values: Values) -> dict[str, float | str]:
    """Share of the full charge lost in a year [1], and with a use whether that exceeds the rule's threshold.

    annualizing: added/full × 365/min(days, 365); rolling: (added + added in the year before)/full. The threshold is
    exceeded strictly: a rate that equals it is not over it.

    Source
        40 CFR 82.152 and 84.102, definition of leak rate; 40 CFR 82.157(c)(2) and 84.106(c)(2)
    """
    added, full = values["added_mass"], values["full_charge"]
    if values.word("method") == "annualizing":
        rate = added / full * DAYS_OF_YEAR / _days(values)
    else:
        rate = (added + values.number("added_last_year", 0.0)) / full
    if not _judged(values):
        return {"leak_rate": rate}
    threshold = rule_book(_BOOK).number(values.word("use")) / 100.0
    over = rate > threshold * (1.0 + _SLACK)
    return {"leak_rate": rate, "threshold": threshold, "exceeds": "yes" if over else "no"}


def _counted(values: Values) -> bool:
    return values.word("reason", "leak") == "leak"


def _judged(values: Values) -> bool:
    """Whether there is a threshold to hold the rate against."""
    return "use" in values and _counted(values) and not _outside(values)


def _ozone(values: Values) -> bool:
    listed = rule_book(_OZONE)["listed"].value
    return any(part.designation in listed for part in values.refrigerant.composition)


def _entry(values: Values) -> Rule | None:
    """The full charge from which the rule counts this refrigerant; None where it does not count it at all."""
    book = rule_book(_BOOK)
    if _ozone(values):
        return book["entry_ozone"]
    gwp = values.refrigerant.gwp.get("AR4") or values.refrigerant.gwp.get("EU_2024_573")
    return book["entry_substitute"] if gwp and gwp.value > book.number("least_gwp") else None


def _outside(values: Values) -> bool:
    """Whether the rules leave this appliance out, as far as is known."""
    if values.fluid is None:
        return False
    entry = _entry(values)
    if entry is None or values["full_charge"] < float(entry.value) * POUND_KG * (1.0 - _SLACK):
        return True
    return values.word("light_commercial") == "yes" and not _ozone(values)


def explain(telling: Telling) -> None:
    """The method with its numbers, what the rules leave out, the verdict and what follows from it."""
    values = telling.values
    if _counted(values):
        _method(telling)
    else:
        telling.tell("leak_rate", None, message(N_("not counted")))
        telling.because(
            N_("refrigerant added at a new installation, after a retrofit or for a seasonal swing is not a leak"),
            N_("{added} added: no leak rate"),
            rule_book(_BOOK)["not_counted"].cite(),
            added=telling.reading("added_mass"),
        )
    if _judged(values):
        _verdict(telling)
    _scope(telling)
    telling.note(N_("One method for all appliances of a facility; each independent circuit is an appliance of its own"))
    telling.note(N_("An aid, not legal advice: the rule's text and the local code hold"))


def _method(telling: Telling) -> None:
    values, rule = telling.values, rule_book(_BOOK)[telling.values.word("method")]
    added, full, rate = telling.reading("added_mass"), telling.reading("full_charge"), telling.result("leak_rate")
    if values.word("method") == "annualizing":
        telling.because(
            N_("leak rate = added ÷ full charge × 365 ÷ days since the last addition (365 at most)"),
            N_("{added} ÷ {full} × 365 ÷ {days} = {rate}"),
            rule.cite(), added=added, full=full, rate=rate, days=f"{_days(values):g}",
        )  # fmt: skip
        if "days_since_last" not in values:
            telling.note(N_("No earlier addition given: counted over 365 days"))
        if "added_last_year" in values:
            telling.note(N_("What was added before is not used by the annualizing method"))
        return
    telling.because(
        N_("leak rate = all added in the last 365 days ÷ full charge"),
        N_("({added} + {before}) ÷ {full} = {rate}"),
        rule.cite(), added=added, full=full, rate=rate,
        before=telling.amount(values.number("added_last_year", 0.0), "mass"),
    )  # fmt: skip
    if "added_last_year" not in values:
        telling.note(N_("Taken as the only addition in the last 365 days (or since the last follow-up verification)"))
    if "days_since_last" in values:
        telling.note(N_("The days since the last addition are not used by the rolling method"))


def _scope(telling: Telling) -> None:
    """Whether the rules count this appliance, where the refrigerant is known."""
    values = telling.values
    if values.fluid is None:
        if "use" in values:
            telling.note(N_("Give the refrigerant to see whether the rules count this appliance at all"))
        return
    entry = _entry(values)
    if entry is None:
        telling.note(
            N_("{refrigerant} is neither an ozone depleter nor above the GWP the rules begin at: no threshold"),
            refrigerant=values.refrigerant.designation,
        )
    elif values["full_charge"] < float(entry.value) * POUND_KG * (1.0 - _SLACK):
        telling.note(
            N_("Full charge below {limit} lb: no threshold (40 CFR {clause})"),
            limit=f"{entry.value:g}",
            clause=entry.clause,
        )
    elif _outside(values):
        telling.note(
            N_("Residential and light commercial air conditioning and heat pumps have no threshold (84.106(a))")
        )
    elif not _ozone(values):
        since = rule_book(_BOOK)["since"]
        telling.note(
            N_("Additions before {since} are not counted (40 CFR {clause}, from memory)"), since=str(since.value),
            clause=since.clause,
        )  # fmt: skip


def _verdict(telling: Telling) -> None:
    rule = rule_book(_BOOK)[telling.values.word("use")]
    telling.judge_under("leak_rate", telling["threshold"])
    telling.because(
        N_("a leak rate that exceeds the threshold of its use has to be repaired; equal to it does not exceed it"),
        N_("{rate} against {threshold}"),
        rule.cite(),
        rate=telling.result("leak_rate"), threshold=telling.amount(telling["threshold"], "ratio"),
    )  # fmt: skip
    if telling["leak_rate"] > telling["threshold"] * (1.0 + _SLACK):
        repair = rule_book(_BOOK)["repair_days"]
        telling.note(
            N_("By the figures as written the threshold is exceeded: repair within {days} days (40 CFR {clause})"),
            days=f"{repair.value:g}", clause=repair.clause,
        )  # fmt: skip


WORKING = Working(
    name="leak_rate",
    title=N_("Leak rate"),
    purpose=N_("Refrigerant lost in a year as a share of the charge, by either method of the United States rules"),
    fields=(
        Field(
            "method", N_("Method"), N_("annualizing: this addition over its days; rolling: all of the last 365 days"),
            shape="choice", required=True, choices=("annualizing", "rolling"),
            said=(N_("annualizing"), N_("rolling average")),
        ),
        replace(weighed("full_charge", N_("Full charge"), N_("Charge the appliance is meant to hold"), required=True),
                error=""),
        replace(weighed("added_mass", N_("Added"), N_("Mass added now to come back to full charge"), required=True),
                low=0.0),
        Field(
            "days_since_last", N_("Days since the last addition"),
            N_("Whole days, at least 1; leave it out where nothing was added before"), shape="number", low=1.0,
            high=36500.0,
        ),
        replace(
            weighed(
                "added_last_year", N_("Added in the year before"),
                N_("All added in the 365 days before, or since the last successful follow-up verification if later"),
            ),
            low=0.0,
        ),
        Field(
            "reason", N_("Reason"), N_("Why refrigerant was added; a leak where not given"), shape="choice",
            choices=("leak", "new_installation", "retrofit", "seasonal"),
            said=(N_("leak"), N_("new installation"), N_("retrofit"), N_("seasonal swing")),
        ),
        Field(
            "use", N_("Use"), N_("What the appliance is for; sets the threshold"), shape="choice", choices=_USES,
            said=(N_("comfort cooling"), N_("commercial refrigeration"), N_("industrial process"),
                  N_("refrigerated transport")),
        ),
        replace(REFRIGERANT, required=False),
        yes_or_no(
            "light_commercial", N_("Residential or light commercial"),
            N_("Whether it is residential or light commercial air conditioning or a heat pump"),
        ),
    ),
    results=(
        Result("leak_rate", N_("Leak rate"), N_("Share of the full charge in a year"), "ratio"),
        Result("threshold", N_("Threshold"), N_("Above it the rules ask for repair"), "ratio"),
        Result(
            "exceeds", N_("Over the threshold"), N_("By the figures as written, as the rule counts"), shape="text",
            words={"yes": N_("yes"), "no": N_("no")},
        ),
    ),
    function=leak_rate,
    explain=explain,
    sources=(_SOURCE, _RULE),
    cautions=(N_("Never let refrigerant out on purpose: find the leak, recover, repair, then charge; local law"),),
    order=180,
)  # fmt: skip
