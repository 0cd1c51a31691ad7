"""Refrigerants: what each is, how far its tables can be trusted, and where every fact comes from."""

from __future__ import annotations

from dataclasses import dataclass

from calc import refrigerants
from calc.display import alone
from calc.refrigerants import Refrigerant, UnknownRefrigerant, plain
from webui.language import N_
from webui.page import Page, Request
from webui.record import Book
from webui.render import page, refusal, speaker
from webui.routes import Params
from webui.strips.cautions import cautions

_BAR_PA = 1e5
_PSI_PA = 6894.757293168
BASES = {
    "EU_2024_573": N_("Regulation (EU) 2024/573"),
    "AR4": N_("IPCC AR4"),
    "AR5": N_("IPCC AR5"),
    "AR6": N_("IPCC AR6"),
}
GRADES = {
    "A": N_("A: a published reference model"),
    "B": N_("B: parameters fitted to some pairs of components"),
    "C": N_("C: some pairs of components are estimated"),
}


@dataclass(frozen=True)
class Index:
    """fluids: address word, designation, what it is, safety group, whether estimated."""

    fluids: tuple[tuple[str, str, str, str, bool], ...]


@dataclass(frozen=True)
class Fact:
    """One fact: its label, the text, and its source ("" where another line tells it)."""

    label: str
    text: str
    source: str = ""


@dataclass(frozen=True)
class About:
    """One refrigerant: facts, models behind its tables, cautions."""

    designation: str
    estimated: bool
    remark: str
    facts: tuple[Fact, ...]
    models: tuple[tuple[str, str], ...]
    pairs: tuple[tuple[str, str, str], ...]
    cautions: tuple[str, ...]


def word(designation: str) -> str:
    """A designation as an address has it: "R-1234ze(E)" is "1234zee"."""
    return plain(designation).lower()


def index(request: Request, book: Book, params: Params) -> Page:
    found = [refrigerants.get(name) for name in refrigerants.designations()]
    context = Index(tuple((word(r.designation), r.designation, r.name, r.safety_group, r.estimated) for r in found))
    return page(request, book, "refrigerants.html", context, title=speaker(request)("Refrigerants"), area="bench")


def show(request: Request, book: Book, params: Params) -> Page:
    try:
        found = refrigerants.get(params["name"])
    except UnknownRefrigerant:
        return refusal(request, book, 404)
    context = About(
        found.designation,
        found.estimated,
        found.remark,
        _facts(request, found),
        tuple(sorted(found.sources["equations_of_state"].items())),
        tuple((" + ".join(one["pair"]), one["basis"], one["source"]) for one in found.sources.get("pairs", ())),
        cautions(found.designation, found.safety_group),
    )
    return page(request, book, "refrigerant.html", context, title=found.designation, area="bench")


def _facts(request: Request, found: Refrigerant) -> tuple[Fact, ...]:
    tell, own = speaker(request), found.sources
    shares = ", ".join(f"{one.designation} {alone(100 * one.mass_fraction, '%')}" for one in found.composition)
    model = [tell(N_("± {k} K in saturation temperature")).format(k=k) for k in found.model_k.values()]
    critical = f"{_temperature(found.critical_temperature_c)}, {_pressure(found)}"
    span = f"{_temperature(found.dew.t_low_c)} … {_temperature(found.dew.t_high_c)}"
    facts = [
        Fact(tell(N_("What it is")), found.name),
        Fact(tell(N_("By mass")), shares, own.get("composition", "")),
        Fact(tell(N_("Safety group")), found.safety_group, own["safety_group"]),
        Fact(tell(N_("Molar mass")), alone(1000 * found.molar_mass, "g/mol")),
        Fact(tell(N_("Critical point")), critical, own["critical"]),
        Fact(tell(N_("Grade of the tables")), tell(GRADES[found.grade])),
        Fact(tell(N_("Error of the model (k = 2)")), "; ".join(dict.fromkeys(model))),
        Fact(tell(N_("The tables reach")), span),
    ]
    if found.normal_bubble_c is not None:
        facts.insert(4, Fact(tell(N_("Boils at 1.013 25 bar from")), _temperature(found.normal_bubble_c)))
    for basis, name in BASES.items():
        if basis in found.gwp:
            warms = found.gwp[basis]
            label = tell(N_("Global warming potential, {basis}")).format(basis=tell(name))
            facts.append(Fact(label, alone(warms.value, "", most=2), warms.source))
    return tuple(facts)


def _temperature(value_c: float) -> str:
    return f"{value_c:.1f} °C ({value_c * 1.8 + 32:.1f} °F)".replace("-", "−")


def _pressure(found: Refrigerant) -> str:
    return f"{found.critical_pressure_pa / _BAR_PA:.2f} bara ({found.critical_pressure_pa / _PSI_PA:.0f} psia)"
