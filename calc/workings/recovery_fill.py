"""How much refrigerant a recovery cylinder may hold, and which limit says so."""

from __future__ import annotations

from dataclasses import replace

from calc import refrigerants
from calc.declaration import Field, Result, Working
from calc.fields import REFRIGERANT, gauge_pressure, weighed
from calc.liquid import DENSITY_DOUBT, liquid_density, tell_density
from calc.messages import N_, message
from calc.rules import rule_book
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.units import WATER_KG_M3
from calc.values import Values

_RULES, _BOOK = "cylinder_fill", "us_filling_density"
_SOURCE = (
    "0.8 of the volume at liquid density of 25 °C: AHRI Guideline K (2004), as told by the trade press; 0.95 at 55 °C: "
    "not liquid-full at 55 °C (131 °F), 49 CFR 173.304a; densities: tables made with CoolProp 8.0.0"
)
_HARMLESS = ("empty", "virgin", "recovered", "reclaimed", "recycled")


def _rule(name: str) -> float:
    return rule_book(_RULES).number(name)


def _liquid(values: Values) -> bool:
    """Whether the refrigerant has a liquid in a hot cylinder."""
    return values.refrigerant.critical_temperature_c >= _rule("no_liquid_below")


def _hot(values: Values) -> float:
    """Temperature [°C] at which the cylinder must not be liquid-full."""
    return values.number("reference_temperature", _rule("hot_at"))


def _limits(values: Values) -> dict[str, float]:
    """Net mass [kg] that each limit allows."""
    fluid, volume = values.refrigerant, values["water_capacity"]
    book = rule_book(_BOOK)
    row = f": {book.number(fluid.designation):g} % in 49 CFR 173.304a" if fluid.designation in book else ""
    limits: dict[str, float] = {}
    if _liquid(values):
        cool = liquid_density(values, _rule("cool_at"), "refrigerant")
        hot = liquid_density(values, _hot(values), "reference_temperature")
        limits["liquid_at_25"] = _rule("cool_share") * volume * cool
        limits["liquid_full_hot"] = _rule("hot_share") * volume * hot
        if fluid.designation in book:
            limits["transport_table"] = volume * WATER_KG_M3 * book.number(fluid.designation) / 100.0
    elif "fill_fraction" not in values:
        raise values.refuse(
            "fill_fraction", "missing",
            message(N_("{refrigerant} has no liquid in a hot cylinder: its critical point is {critical}"),
                    refrigerant=fluid.designation,
                    critical=values.frame.amount(fluid.critical_temperature_c, "temperature")),
            message(N_("Give the filling density of your transport table as fill_fraction (per mass of water){row}"),
                    row=row),
        )  # fmt: skip
    if "fill_fraction" in values:
        limits["fill_fraction"] = volume * WATER_KG_M3 * values["fill_fraction"]
    if "stamped_limit" in values:
        limits["stamped_limit"] = values["stamped_limit"]
    return limits


def recovery_fill(values: Values) -> dict[str, float | str]:
    """Largest net mass [kg], and with tare and gross weight the largest gross and what may still go in [kg].

    The least of: 0.8 of the volume at liquid density of 25 °C, 0.95 of it at that of 55 °C (or the reference
    temperature), the filling density of the transport table times the water capacity, the stamped limit.

    Source
        AHRI Guideline K (2004); 49 CFR 173.304a
    """
    _check_contents(values)
    _check_pressure(values)
    limits = _limits(values)
    governs = min(limits, key=lambda name: limits[name])
    net = limits[governs]
    answer: dict[str, float | str] = {"max_net_mass": net, "governed_by": governs}
    if "tare" in values:
        answer["max_gross_mass"] = net + values["tare"]
        if "gross_now" in values:
            _check_weights(values)
            answer["remaining_mass"] = net + values["tare"] - values["gross_now"]
    return answer


def _check_contents(values: Values) -> None:
    """Refuses to add to what is mixed, unknown or another refrigerant."""
    said = values.word("contents").casefold()
    if not said or said in _HARMLESS:
        return
    try:
        other = refrigerants.get(said)
    except refrigerants.UnknownRefrigerant:
        if said in ("mixed", "unknown"):
            problem = message(N_("The cylinder's contents are {contents}: neither density nor pressure is known"),
                              contents=said)  # fmt: skip
            hint = message(N_("Never mix: take an empty cylinder, and keep this one for mixed refrigerant"))
            raise values.refuse("contents", "contradiction", problem, hint) from None
        raise values.refuse(
            "contents", "unknown_choice",
            message(N_("{given} is not known as the contents of a cylinder"), given=values.texts["contents"]),
            message(N_("Write one of {words}, mixed, unknown, or a designation such as R-410A"),
                    words=", ".join(_HARMLESS)),
        ) from None  # fmt: skip
    if other is not values.refrigerant:
        raise values.refuse(
            "contents", "contradiction",
            message(N_("The cylinder holds {other}, not {refrigerant}"), other=other.designation,
                    refrigerant=values.refrigerant.designation),
            message(N_("Never mix: take a cylinder that is empty or holds the same refrigerant")),
        )  # fmt: skip


def _check_pressure(values: Values) -> None:
    """Refuses a cylinder that cannot take the refrigerant's pressure when hot."""
    if "service_pressure" not in values or not _liquid(values):
        return
    hot = _hot(values)
    gauge = _hot_pressure(values) - values.site_pa
    allowed = values["service_pressure"] - values.site_pa
    if gauge > _rule("pressure_factor") * allowed:
        show = values.frame.amount
        raise values.refuse(
            "service_pressure", "contradiction",
            message(N_("{refrigerant} reaches {pressure} at {hot}, more than 5/4 of the service pressure"),
                    refrigerant=values.refrigerant.designation,
                    pressure=show(gauge + values.site_pa, "pressure", "gauge"), hot=show(hot, "temperature")),
            message(N_("Take a cylinder of a higher service pressure")),
        )  # fmt: skip


def _hot_pressure(values: Values) -> float:
    return values.bubble_pressure_pa(_hot(values), "reference_temperature")


def _check_weights(values: Values) -> None:
    if values["gross_now"] < 0.98 * values["tare"]:
        raise values.refuse(
            "gross_now", "contradiction",
            message(N_("The cylinder weighs {gross}, less than its tare of {tare}"),
                    gross=values.texts["gross_now"], tare=values.texts["tare"]),
            message(N_("Check the scale's zero, the tare stamped on this cylinder, and the units")),
        )  # fmt: skip


def explain(telling: Telling) -> None:
    """Each limit, the one that governs, pressure when hot, and what may still go in."""
    values = telling.values
    limits = _limits(values)
    hot = _hot(values)
    telling.because(
        N_("largest net mass = the least of: 0.8 × volume × liquid density at 25 °C; 0.95 × volume × that when hot; "
           "filling density × water capacity; stamped limit"),
        N_("{limits}; so {net}"),
        _source(telling),
        limits="; ".join(f"{_NAMES[name]} {telling.amount(mass, 'mass')}" for name, mass in limits.items()),
        net=telling.result("max_net_mass"),
    )  # fmt: skip
    if "liquid_full_hot" in limits:
        telling.note(
            N_("Hot is {hot}; there {refrigerant} stands at {pressure}"), hot=telling.amount(hot, "temperature"),
            refrigerant=values.refrigerant.designation,
            pressure=telling.amount(_hot_pressure(values), "pressure", "gauge"),
        )  # fmt: skip
        if "service_pressure" not in values:
            telling.note(N_("Give the service pressure stamped on the cylinder to have it checked against that"))
        elif _hot_pressure(values) > values["service_pressure"]:
            telling.note(
                N_("That is above the service pressure: allowed only where the code counts 5/4 of it "
                   "(United States, 49 CFR 173.301a, from memory); elsewhere take another cylinder")
            )  # fmt: skip
        tell_density(telling)
    _remaining(telling)
    if values.refrigerant.safety_group not in ("A1", "B1"):
        telling.note(
            N_("{refrigerant} ({group}) burns: a cylinder and a machine marked for it"),
            refrigerant=values.refrigerant.designation, group=values.refrigerant.safety_group,
        )  # fmt: skip
    if "contents" not in values:
        telling.note(N_("Contents not stated: never add to another refrigerant, or to one that is unknown or mixed"))


_NAMES = {
    "liquid_at_25": N_("0.8 of the volume at 25 °C"), "liquid_full_hot": N_("0.95 of the volume when hot"),
    "transport_table": N_("transport table"), "fill_fraction": N_("fill fraction given"),
    "stamped_limit": N_("stamped limit"),
}  # fmt: skip


def _source(telling: Telling) -> str:
    book, name = rule_book(_BOOK), telling.values.refrigerant.designation
    return f"{_SOURCE}; {book[name].cite()}" if name in book else _SOURCE


def _remaining(telling: Telling) -> None:
    if "remaining_mass" not in telling:
        return
    left, band = telling["remaining_mass"], telling.expanded("remaining_mass")
    if left + band < 0:
        telling.note(N_("Over-filled: isolate it in the cool, and take {mass} out into another cylinder"),
                     mass=telling.amount(-left, "mass"))  # fmt: skip
    elif left - band <= 0:
        telling.note(N_("What remains cannot be told from nothing: count the cylinder as full"))
    telling.note(N_("The scale carries the hoses too: hold them up, let it settle, then read"))


WORKING = Working(
    name="recovery_fill",
    title=N_("Cylinder fill"),
    purpose=N_("How much refrigerant a recovery cylinder may hold, and what may still go in"),
    fields=(
        REFRIGERANT,
        Field(
            "water_capacity", N_("Water capacity"), N_("As stamped (WC): mass of water it holds, or its volume"),
            quantity="water_capacity", low=1e-4, high=2.0, required=True,
        ),
        replace(weighed("tare", N_("Tare"), N_("As stamped (TW): the empty cylinder with its valve")), error=""),
        weighed("gross_now", N_("Gross now"), N_("What the cylinder weighs now")),
        replace(
            weighed("stamped_limit", N_("Stamped limit"), N_("Largest net mass stamped on the cylinder, if any")),
            error="",
        ),
        replace(
            gauge_pressure("service_pressure", N_("Service pressure"), N_("As stamped on the cylinder")), error=""
        ),
        Field(
            "contents", N_("Contents"), N_("What is in it: empty, virgin, recovered, mixed, unknown, or a designation"),
            shape="text",
        ),
        Field(
            "fill_fraction", N_("Fill fraction"),
            N_("Filling density of your transport table: mass of refrigerant per mass of water"), quantity="ratio",
            low=0.05, high=1.6,
        ),
        Field(
            "reference_temperature", N_("Hot"), N_("Where it must not be liquid-full (55 °C where not given)"),
            quantity="temperature", low=45.0, high=65.0,
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result("max_net_mass", N_("Largest net mass"), N_("Refrigerant the cylinder may hold"), "mass"),
        Result("max_gross_mass", N_("Largest gross mass"), N_("What the scale may read, cylinder included"), "mass"),
        Result("remaining_mass", N_("May still go in"), N_("Negative is over-filled"), "mass"),
        Result("governed_by", N_("Governed by"), N_("The least of the limits"), shape="text", words=_NAMES),
    ),
    function=recovery_fill,
    explain=explain,
    sources=(_SOURCE, "filling densities: 49 CFR 173.304a, as reproduced in AFMAN 24-604 (2020), table A6.1"),
    cautions=(
        N_("A liquid-full cylinder bursts when it warms: stop at the limit, never heat it, keep it out of the sun"),
        N_("Retest date passed, dents, rust or an unknown past: do not fill; a licensed person recovers"),
    ),
    own_doubts=(DENSITY_DOUBT,),
    order=130,
)  # fmt: skip
