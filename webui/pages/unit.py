"""A unit: its plate, its sheets; and the form that opens or changes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from calc import refrigerants
from calc.fields import REFRIGERANT
from calc.messages import N_
from calc.working import Fault, Field, workings
from webui.forms import Typed, faults_of, inputs, typed
from webui.page import Listing, Page, Ref, Request, redirect
from webui.pages.refrigerant import word
from webui.pages.site import SubjectForm, body_from_typed, typed_from_body
from webui.preferences import preferences
from webui.record import Book, Summary, Writer
from webui.record.kinds.unit import UNIT_KINDS
from webui.render import page, refusal, speaker
from webui.routes import Params
from webui.subjects import Known, known, names_of, safety_group, shown_quantity


def _target(name: str, label: str) -> Field:
    declared = workings()["superheat"].field("target")
    assert declared is not None
    return replace(declared, name=name, label=label, help=N_("Only if the plate or the maker's table gives it"))


_SAID = (
    N_("split system"), N_("rooftop unit"), N_("heat pump"), N_("chiller"), N_("walk-in cooler or freezer"),
    N_("cabinet"), N_("rack"), N_("other"),
)  # fmt: skip
_METERING = workings()["superheat"].field("metering")
assert _METERING is not None
FIELDS = (
    Field("tag", N_("Tag"), N_("What is written on the unit, or what you call it"), shape="text", required=True),
    Field("kind", N_("Kind"), "", shape="choice", choices=UNIT_KINDS, said=_SAID, required=True),
    REFRIGERANT,
    replace(_METERING, required=True),
    Field("plate_charge", N_("Plate charge"), "", quantity="mass", low=0.001, high=50_000.0),
    _target("target_superheat", N_("Target superheat of the plate")),
    _target("target_subcooling", N_("Target subcooling of the plate")),
    Field("receiver", N_("Receiver"), "", shape="choice", choices=("yes", "no"), said=(N_("yes"), N_("no"))),
    Field("serial", N_("Serial number"), "", shape="text"),
)


@dataclass(frozen=True)
class Unit:
    """unit and its site; facts: label and value, of the plate; group: safety group; about: its refrigerant's address
    word; sheets: newest first."""

    unit: Known
    site: Known
    facts: tuple[tuple[str, str], ...]
    group: str
    about: str
    sheets: tuple[Summary, ...]
    names: Mapping[str, str]


def show(request: Request, book: Book, params: Params) -> Page:
    site, unit = known(book, "site", params["site"]), known(book, "unit", params["unit"])
    if site is None or unit is None or unit.body["site"] != site.id:
        return refusal(request, book, 404)
    context = Unit(
        unit,
        site,
        facts(unit),
        safety_group(unit.body["refrigerant"]),
        word(unit.body["refrigerant"]),
        book.listing(Listing("sheet", parent=unit.id)),
        names_of(book),
    )
    return page(request, book, "unit.html", context, title=unit.body["tag"], area="places")


def facts(unit: Known) -> tuple[tuple[str, str], ...]:
    """What the plate says, label and text as typed."""
    said = []
    for one in FIELDS[1:]:
        value = unit.body.get(one.name)
        if value:
            text = shown_quantity(value) if one.shape == "quantity" else value
            said.append((one.label, dict(zip(one.choices, one.said, strict=True)).get(text, text)))
    return tuple(said)


def new(request: Request, book: Book, params: Params) -> Page:
    site = known(book, "site", params["site"])
    if site is None:
        return refusal(request, book, 404)
    return _form(request, book, N_("A new unit"), f"/places/{site.id}", {}, [])


def create(request: Request, book: Book, params: Params) -> Page:
    site = known(book, "site", params["site"])
    if site is None:
        return refusal(request, book, 404)
    values, faults = _read(request)
    if faults:
        return _form(request, book, N_("A new unit"), f"/places/{site.id}", values, faults)
    writer = Writer(request)
    ref = writer.fresh("unit")
    body = {"site": site.id, **body_from_typed(FIELDS, values)}
    writer.add("unit", ref, _named(body), touches=[Ref("site", site.id)])
    return redirect(f"/places/{site.id}/units/{ref.id}", writer.texts)


def edit(request: Request, book: Book, params: Params) -> Page:
    unit = known(book, "unit", params["unit"])
    if unit is None or unit.body["site"] != params["site"]:
        return refusal(request, book, 404)
    back = f"/places/{params['site']}/units/{unit.id}"
    return _form(request, book, N_("Change the unit"), back, typed_from_body(FIELDS, unit.body), [])


def change(request: Request, book: Book, params: Params) -> Page:
    unit = known(book, "unit", params["unit"])
    if unit is None or unit.body["site"] != params["site"]:
        return refusal(request, book, 404)
    back = f"/places/{params['site']}/units/{unit.id}"
    values, faults = _read(request)
    if faults:
        return _form(request, book, N_("Change the unit"), back, values, faults)
    writer = Writer(request)
    body = {"site": params["site"], **body_from_typed(FIELDS, values)}
    writer.add("unit", Ref("unit", unit.id), _named(body), [Ref("site", params["site"])], unit.heads())
    return redirect(back, writer.texts)


def _read(request: Request) -> tuple[dict[str, Typed], list[Fault]]:
    values = typed(request.form, [one.name for one in FIELDS])
    return values, faults_of("unit", FIELDS, {name: one.joined() for name, one in values.items()})


def _named(body: dict[str, object]) -> dict[str, object]:
    """With the refrigerant under its one designation, whatever it was called in the form."""
    return {**body, "refrigerant": refrigerants.get(str(body["refrigerant"])).designation}


def _form(
    request: Request, book: Book, heading: str, back: str, values: Mapping[str, Typed], faults: list[Fault]
) -> Page:
    context = SubjectForm(
        heading=heading,
        action=request.path,
        back=back,
        fields=inputs(FIELDS, values, faults, preferences(request, book)),
        faults=faults,
        refrigerants=refrigerants.designations(),
    )
    said = speaker(request)(heading)
    return page(request, book, "subject_form.html", context, title=said, area="places", status=422 if faults else 200)
