"""What each edition of a standard lets one circuit hold in a room: the least of its area formula and its caps.

Each edition is one function beside its rule-book in calc/data/rules; what an edition needs and was not given is named,
and then it gives no mass.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt

from calc.messages import N_
from calc.rules import RuleBook, rule_book


@dataclass(frozen=True)
class Case:
    """A circuit in a room. lfl [kg/m³], area [m²], heights [m]; None where not given or not known."""

    designation: str
    group: str
    equipment: str
    lfl: float | None
    area: float | None
    release_height: float | None
    room_height: float | None
    mitigation: bool
    below_ground: bool | None


@dataclass(frozen=True)
class Limit:
    """What an edition says: mass [kg] and what governs it; or no mass, what is missing, or why it does not answer."""

    mass: float | None
    governed_by: str
    clause: str
    missing: tuple[str, ...] = ()


NOT_ANSWERABLE = N_("not answerable under this edition")
_BURNS = ("A2L", "A2", "A3")


def _no(why: str, clause: str, missing: tuple[str, ...] = ()) -> Limit:
    return Limit(None, why, clause, missing)


def _needs(case: Case, clause: str, *names: str) -> Limit | None:
    """What has to be given for an answer, if anything is missing."""
    if case.group not in _BURNS:
        return _no(N_("these clauses limit flammable refrigerants only"), clause)
    if case.lfl is None:
        return _no(N_("no lower flammability limit is held for this refrigerant"), clause)
    missing = tuple(name for name in names if getattr(case, name) is None)
    return _no(N_("inputs missing"), clause, missing) if missing else None


def _least(clause: str, limits: Mapping[str, float]) -> Limit:
    name = min(limits, key=lambda key: limits[key])
    return Limit(limits[name], name, clause)


def _room_appliance(case: Case, book: RuleBook) -> Limit:
    """IEC 60335-2-40, annex GG.2: fixed appliances in a room without mitigation."""
    clause = book["factor"].clause
    if case.equipment not in ("factory_sealed", "split_fixed"):
        return _no(N_("this clause is for factory-sealed and fixed split appliances"), clause)
    if case.mitigation:
        return _no(N_("with mitigation other clauses hold, which ask for more"), clause)
    lacking = _needs(case, clause, "area", "release_height")
    if lacking:
        return lacking
    assert case.lfl is not None
    assert case.area is not None
    assert case.release_height is not None
    soft = case.group == "A2L" and "m2_a2l" in book
    height = min(max(case.release_height, book.number("least_height")), book.number("greatest_height"))
    limits = {
        "area": book.number("factor") * case.lfl ** book.number("exponent") * height * sqrt(case.area),
        "m2": book.number("m2_a2l" if soft else "m2") * case.lfl,
    }
    if soft:
        limits["small_room"] = book.number("small_room") * case.lfl * height * case.area
    limit = _least(clause, limits)
    free = book.number("m1_a2l" if soft else "m1") * case.lfl
    assert limit.mass is not None
    if case.equipment == "factory_sealed" and free > limit.mass:
        return Limit(free, "m1", book["m1"].clause)
    return limit


def _cabinet(case: Case, book: RuleBook) -> Limit:
    """IEC 60335-2-89: self-contained commercial cabinets, for each circuit."""
    clause = book["cap"].clause
    if case.equipment != "self_contained_cabinet":
        return _no(N_("this standard is for self-contained commercial cabinets"), clause)
    lacking = _needs(case, clause)
    if lacking:
        return lacking
    assert case.lfl is not None
    limits = {"cap": book.number("cap")}
    if "share" in book:
        limits["lfl_share"] = book.number("share") * case.lfl
    return _least(clause, limits)


def _occupied_space(case: Case, book: RuleBook) -> Limit:
    """EN 378-1, table C.2: other applications, general access, in an occupied space."""
    clause = book["share"].clause
    if case.equipment not in ("self_contained_cabinet", "other"):
        return _no(N_("other rows of the table hold for comfort cooling and for machinery rooms"), clause)
    if case.mitigation:
        return _no(N_("with mitigation other clauses hold, which ask for more"), clause)
    names = ("area", "room_height", "below_ground") if case.group != "A2L" else ("area", "room_height")
    lacking = _needs(case, clause, *names)
    if lacking:
        return lacking
    assert case.lfl is not None
    assert case.area is not None
    assert case.room_height is not None
    if case.group == "A2L":
        cap = book.number("cap_a2l") * case.lfl
    elif case.group == "A3":
        cap = book.number("cap_a3_below" if case.below_ground else "cap_a3")
    else:
        return _no(N_("the row of this safety group is not held"), clause)
    return _least(clause, {"cap": cap, "lfl_share": book.number("share") * case.lfl * case.area * case.room_height})


def _concentration(case: Case, book: RuleBook) -> Limit:
    """ASHRAE 15: refrigerant concentration limit times the volume of the occupied space."""
    clause = next(iter(book.rules.values())).clause
    if case.equipment == "machinery_room":
        return _no(N_("a machinery room is not limited by concentration but by its own rules"), clause)
    if case.designation not in book:
        return _no(N_("no concentration limit is held for this refrigerant"), clause)
    rule = book[case.designation]
    missing = tuple(name for name in ("area", "room_height") if getattr(case, name) is None)
    if missing:
        return _no(N_("inputs missing"), clause, missing)
    assert case.area is not None
    assert case.room_height is not None
    return Limit(float(rule.value) * case.area * case.room_height, "rcl", rule.clause)


EDITIONS: Mapping[str, Callable[[Case, RuleBook], Limit]] = {
    "iec_60335_2_40:2018": _room_appliance,
    "iec_60335_2_40:2013": _room_appliance,
    "iec_60335_2_89:2019": _cabinet,
    "iec_60335_2_89:2010": _cabinet,
    "en_378_1:2016": _occupied_space,
    "ashrae_15:2019": _concentration,
}


def book_of(edition: str) -> RuleBook:
    """The rule-book of an edition."""
    return rule_book(edition.replace(":", "_"))


def limit_of(edition: str, case: Case) -> Limit:
    """What one edition says of a case."""
    return EDITIONS[edition](case, book_of(edition))
