"""A charge in tonnes of carbon dioxide, and how often Regulation (EU) 2024/573 has it checked for leaks."""

from __future__ import annotations

from typing import NamedTuple

from calc.declaration import Field, Result, Working
from calc.fields import REFRIGERANT, weighed, yes_or_no
from calc.messages import N_, Message, message
from calc.refrigerants import Gwp, Refrigerant
from calc.rules import Rule, rule_book
from calc.telling import Telling
from calc.units import named_unit
from calc.values import Values

EU, AR4 = "EU_2024_573", "AR4"
_BASES = {"eu_2024_573": EU, "ar4": AR4, "ar5": "AR5", "ar6": "AR6"}
_BOOK, _OZONE = "eu_2024_573", "ozone_depleting"
_SOURCE = "Regulation (EU) 2024/573, Annexes I, II and VI; IPCC AR4 (2007), AR5 (2013), AR6 (2021)"
_RULE = "Regulation (EU) 2024/573, Article 5"
KG_PER_TONNE = 1000.0


class Count(NamedTuple):
    """What the regulation counts: "" for tonnes of CO2 (Annex I), "_annex_2" for kilograms, None for neither."""

    suffix: str | None
    amount: float


class Check(NamedTuple):
    """Months between leak checks (None: none required), the sentence and the rules that say so."""

    months: float | None
    text: Message
    rules: tuple[Rule, ...]


def _gwp(values: Values) -> Gwp:
    """The figure on the basis asked for; what the regulation does not list stands at AR4, as its Annex VI has it."""
    fluid, basis = values.refrigerant, _BASES[values.word("basis", "eu_2024_573")]
    found = fluid.gwp.get(basis) or (fluid.gwp.get(AR4) if basis == EU else None)
    if found is None:
        known = ", ".join(fluid.gwp)
        raise values.refuse(
            "basis", "outside_table",
            message(N_("There is no figure for {refrigerant} on the basis {basis}"), refrigerant=fluid.designation,
                    basis=basis),
            message(N_("It has one on: {known}"), known=known),
        )  # fmt: skip
    return found


def _share(fluid: Refrigerant, book: str, rule: str) -> float:
    """Share of the mass that a list of substances names."""
    listed = rule_book(book)[rule].value
    return sum(part.mass_fraction for part in fluid.composition if part.designation in listed)


def counted(fluid: Refrigerant, mass_kg: float) -> Count:
    """What Article 5 counts of a charge mass_kg [kg]: tonnes of CO2 of an Annex I gas or mixture, else kg of Annex II.

    Source
        Regulation (EU) 2024/573, Articles 3 and 5
    """
    if _share(fluid, _OZONE, "listed"):
        return Count(None, 0.0)
    if _share(fluid, _BOOK, "annex_1"):
        return Count("", mass_kg * fluid.gwp[EU].value / KG_PER_TONNE)
    second = _share(fluid, _BOOK, "annex_2_section_1")
    return Count("_annex_2", mass_kg * second) if second else Count(None, 0.0)


def co2_equivalent(values: Values) -> dict[str, float]:
    """Global warming potential [kg/kg] and the charge's CO2 equivalent [kg]; counted: as Article 5 counts it.

    Source
        Regulation (EU) 2024/573, Annex VI: mass-weighted sum over a mixture
    """
    gwp = _gwp(values).value
    mass = values["mass"]
    return {"gwp": gwp, "co2_equivalent": mass * gwp, "counted": counted(values.refrigerant, mass).amount}


def check_of(fluid: Refrigerant, mass_kg: float, *, sealed: bool, residential: bool, detection: bool) -> Check:
    """How often stationary equipment with a charge mass_kg [kg] is checked for leaks.

    Source
        Regulation (EU) 2024/573, Article 5(1) and 5(6)
    """
    book, count = rule_book(_BOOK), counted(fluid, mass_kg)
    if count.suffix is None:
        if _share(fluid, _OZONE, "listed"):
            return Check(
                None,
                message(N_("Depletes the ozone layer: its leak checks are in Regulation (EU) 2024/590")),
                (rule_book(_OZONE)["listed"],),
            )  # fmt: skip
        text = message(N_("Not listed in Annex I or in Annex II, section 1: no leak checks by this regulation"))
        return Check(None, text, (book["annex_1"], book["annex_2_section_1"]))

    def below(name: str) -> Rule | None:
        rule = book[name]
        return rule if count.amount < float(rule.value) * (1.0 - 1e-12) else None

    entry = below("entry" + count.suffix)
    if entry:
        return Check(None, message(N_("Below {limit}: no leak checks"), limit=_said(entry)), (entry,))
    if sealed and residential:
        rule = book["sealed_residential_exempt"]
        exempt = rule if mass_kg < float(rule.value) else None
    else:
        exempt = below("sealed_exempt" + count.suffix) if sealed else None
    if exempt:
        text = message(N_("Hermetically sealed, labelled so, and below {limit}: no leak checks"), limit=_said(exempt))
        return Check(None, text, (exempt,))
    name = "from_five_hundred"
    if below("six_months_from" + count.suffix):
        name = "below_fifty"
    elif below("three_months_from" + count.suffix):
        name = "below_five_hundred"
    rule = book[name]
    months = float(rule.value) * (book.number("with_detection") if detection else 1.0)
    text = message(N_("At least every {months} months ({clause})"), months=f"{months:g}", clause=rule.clause)
    return Check(months, text, (rule,))


def _said(rule: Rule) -> str:
    return f"{float(rule.value):g} {rule.unit}"


def explain(telling: Telling) -> None:
    """The figure and its basis, the interval, and whether a limit lies inside the ±."""
    values, fluid = telling.values, telling.values.refrigerant
    gwp = _gwp(values)
    telling.because(
        N_("carbon dioxide equivalent = mass × global warming potential over 100 years"),
        N_("{mass} × {gwp} ({refrigerant}) = {result}"),
        gwp.source,
        mass=telling.reading("mass"), gwp=f"{gwp.value:g}", refrigerant=fluid.designation,
        result=telling.frame.show(
            telling["co2_equivalent"], "mass", telling.contributions["co2_equivalent"], unit=named_unit("kg", "mass")
        ),
    )  # fmt: skip
    basis = _BASES[values.word("basis", "eu_2024_573")]
    if EU not in fluid.gwp and basis == EU:
        telling.note(
            N_("{refrigerant} is not in Annex I or II: its figure is that of AR4"), refrigerant=fluid.designation
        )
    if basis != EU:
        telling.tell("check_interval", None, message(N_("not worked out")))
        text = message(N_("Check intervals count on the basis EU_2024_573"))
        telling.tell("rule", str(text), text)
        return
    _interval(telling)


def _interval(telling: Telling) -> None:
    values, fluid = telling.values, telling.values.refrigerant
    check = check_of(
        fluid, values["mass"], sealed=values.word("hermetically_sealed") == "yes",
        residential=values.word("residential") == "yes", detection=values.word("leak_detection") == "yes",
    )  # fmt: skip
    count = counted(fluid, values["mass"])
    shown = message(N_("none required")) if check.months is None else message(N_("{n} months"), n=f"{check.months:g}")
    telling.tell("check_interval", check.months, shown)
    telling.tell("rule", str(check.text), check.text)
    if count.suffix is None:
        amount = message(N_("nothing that Article 5 counts"))
    else:
        unit = "kg" if count.suffix else "t CO2e"
        amount = message(N_("{amount} of what Article 5 counts"), amount=f"{count.amount:.4g} {unit}")
        _close(telling, count.suffix)
    telling.because(
        N_("leak checks by tonnes of CO2 (Annex I) or by kilograms (Annex II, section 1)"),
        N_("{amount}: {rule}"),
        "; ".join(rule.cite() for rule in check.rules),
        amount=str(amount), rule=str(check.text),
    )  # fmt: skip
    if values.word("residential") == "yes" and values.word("hermetically_sealed") != "yes":
        telling.note(N_("A residential building matters only for equipment labelled as hermetically sealed"))
    telling.note(N_("An aid, not legal advice: the text of the regulation and the national law hold"))


def _close(telling: Telling, suffix: str) -> None:
    """Names a limit that lies inside the ± of what is counted."""
    book, amount, band = rule_book(_BOOK), telling["counted"], telling.expanded("counted")
    sealed = telling.values.word("hermetically_sealed") == "yes" and telling.values.word("residential") != "yes"
    for name in ("entry", *(["sealed_exempt"] if sealed else []), "six_months_from", "three_months_from"):
        rule = book[name + suffix]
        if 0 < abs(amount - float(rule.value)) <= band:
            telling.note(
                N_("The limit of {limit} lies within the ± of this mass: weigh closer, or take the stricter side"),
                limit=_said(rule),
            )


WORKING = Working(
    name="co2_equivalent",
    title=N_("CO2 equivalent"),
    purpose=N_("A charge in carbon dioxide equivalent, and how often the European Union has it checked for leaks"),
    fields=(
        REFRIGERANT,
        weighed("mass", N_("Charge"), N_("Mass of refrigerant in the circuit"), required=True),
        Field(
            "basis", N_("Basis"), N_("Whose figures: the European regulation (where not given), or an IPCC report"),
            shape="choice", choices=tuple(_BASES), said=("EU 2024/573", "AR4", "AR5", "AR6"),
        ),
        yes_or_no(
            "hermetically_sealed", N_("Hermetically sealed"), N_("Whether it is labelled as hermetically sealed")
        ),
        yes_or_no("residential", N_("Residential building"), N_("Whether it stands in a residential building")),
        yes_or_no(
            "leak_detection", N_("Leakage detection system"), N_("Whether a fixed one is installed")
        ),
    ),
    results=(
        Result("gwp", N_("GWP, 100 years"), N_("Kilograms of CO2 per kilogram"), "ratio", own_unit="1"),
        Result("co2_equivalent", N_("CO2 equivalent"), N_("Mass times GWP"), "mass", own_unit="kg"),
        Result(
            "check_interval", N_("Leak check"), N_("Months between leak checks, or none required"), shape="number",
            own_unit="month",
        ),
        Result("rule", N_("Rule"), N_("What the interval follows from"), shape="text"),
    ),
    function=co2_equivalent,
    explain=explain,
    sources=(_SOURCE, _RULE),
    cautions=(N_("An aid to the law, not the law: the local code and a licensed person decide"),),
    order=190,
)  # fmt: skip
