"""Plays the scenario through the desk itself, so that the demo's record is made by the same pages as any other."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime, timedelta

from calc.notation import read_quantity
from server import office
from server.db import Database
from server.demo.scenario import FIRM, PASSWORD, PEOPLE, SITES, VISITS, Site, Unit, Visit
from server.demo.states import figures
from server.scope import Scope
from server.web import ask
from webui.page import Person, Request

_SEED = 20260  # the same figures each time
_UTC = "%Y-%m-%dT%H:%M:%SZ"


class OthersHere(Exception):
    """The database belongs to somebody else; the demo's passwords are public and never go into it."""


class NotPlayed(Exception):
    """A page did not take what the scenario types: the scenario or the page is wrong."""


class Hand:
    """One person at the desk, on one device of theirs."""

    def __init__(self, database: Database, person: Person) -> None:
        self.database, self.person = database, person
        self.device = office.register_device(database, person)

    def post(self, path: str, form: Mapping[str, str], when: datetime) -> str:
        """Send a form at a moment; gives the address that the desk goes to. Raises NotPlayed where it refuses."""
        asked = Request(
            "POST",
            path,
            form=tuple(form.items()),
            person=self.person,
            pen=office.pen(self.database, self.person, self.device),
            now=when.strftime(_UTC),
            online=True,
        )
        with self.database.read() as connection:
            page = ask(Scope(connection, self.person.company), asked)
        if page.status != 303:
            raise NotPlayed(f"{path} answered {page.status} to {dict(form)}: {page.html}")
        office.keep(self.database, self.person, page.entries, when.strftime(_UTC))
        return page.headers["Location"]


def play(database: Database, now: datetime | None = None) -> bool:
    """Fill the database with the demo record, as of now; False where it is there already. Raises OthersHere."""
    database.upgrade()
    names = [name for _, name in office.companies(database)]
    if FIRM in names:
        return False
    if names:
        raise OthersHere(", ".join(names))
    now = (now or datetime.now(UTC)).replace(microsecond=0)
    company = office.create_company(database, FIRM)
    hands = {
        one.key: Hand(database, office.create_person(database, company, one.sign_in, one.name, one.role, PASSWORD))
        for one in PEOPLE
    }
    opened = now - timedelta(days=30)
    addresses = {}
    for site in SITES:
        addresses |= _site(hands["maud"], site, opened)
    rng = random.Random(_SEED)
    for visit in VISITS:
        _visit(hands[visit.who], visit, addresses[visit.unit], _unit(visit.unit), now, rng)
    return True


def _unit(key: str) -> tuple[Site, Unit]:
    return next((site, unit) for site in SITES for unit in site.units if unit.key == key)


def _site(hand: Hand, site: Site, when: datetime) -> dict[str, str]:
    """Open a site and its units; gives the address of each unit's page by its key."""
    form = {"name": site.name, "access": site.access, **_typed([("elevation", *site.elevation.split(" "))])}
    place = hand.post("/places/new", form, when)
    return {unit.key: hand.post(f"{place}/units/new", _plate(unit), when) for unit in site.units}


def _plate(unit: Unit) -> dict[str, str]:
    words = {"tag": unit.tag, "kind": unit.kind, "refrigerant": unit.refrigerant, "metering": unit.metering}
    if unit.receiver:
        words["receiver"] = unit.receiver
    for name in ("plate_charge", "target_superheat", "target_subcooling"):
        text = getattr(unit, name)
        if text:
            words |= _typed([(name, *text.rsplit(" ", 1))] if text.count(" ") == 1 else [(name, text, "")])
    return words


def _typed(fields: Iterable[tuple[str, str, str]]) -> dict[str, str]:
    """Quantities as a form holds them: number, unit beside it, and the minus key where the number is below zero."""
    form = {}
    for name, number, unit in fields:
        if number.startswith("-"):
            form[f"{name}.minus"] = "1"
        form[name] = number.removeprefix("-")
        if unit:
            form[f"{name}.unit"] = unit
    return form


def _visit(
    hand: Hand, visit: Visit, address: str, machine: tuple[Site, Unit], now: datetime, rng: random.Random
) -> None:
    site, unit = machine
    start = now - timedelta(minutes=visit.ago)
    sheet = hand.post("/sheet/new", {"unit": address.rpartition("/")[2], "visit": visit.kind}, start)
    elevation = read_quantity(site.elevation, "length")
    elevation_m = elevation.number * elevation.unit.scale
    acts = [(one.after, "reading", one) for one in visit.taken] + [(at, "note", text) for at, text in visit.notes]
    for after, kind, what in sorted(acts, key=lambda act: act[0]):
        if kind == "note":
            form = {"text": what}
        else:
            shown = figures(what, unit.refrigerant, elevation_m, rng)
            form = _typed((name, *value) for name, value in shown.items())
        hand.post(f"{sheet}/{kind}", form, start + timedelta(minutes=after))
    if visit.closed:
        last = max((after for after, _, _ in acts), default=0)
        hand.post(f"{sheet}/close", {"why": visit.why_closed}, start + timedelta(minutes=last + 15))
