"""A site: what is known of it, its units and its sheets; and the form that opens or changes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.messages import N_
from calc.site import ELEVATION
from calc.working import Fault, Field
from webui.forms import Input, Typed, faults_of, inputs, typed, typed_from_kept
from webui.page import Listing, Page, Ref, Request, redirect
from webui.preferences import preferences
from webui.record import Book, Summary, Writer
from webui.render import page, refusal, speaker
from webui.routes import Params
from webui.subjects import Known, known, names_of, shown_quantity

FIELDS = (
    Field("name", N_("Name of the site"), N_("As the customer and the office call it"), shape="text", required=True),
    ELEVATION,
    Field("address", N_("Address"), "", shape="prose"),
    Field("access", N_("Access"), N_("Keys, gates, who opens, where the units are"), shape="prose"),
    Field("contact", N_("Contact"), N_("The role to ask for, and how to reach it"), shape="prose"),
)


@dataclass(frozen=True)
class Site:
    """site: its id and body; elevation as typed; units and sheets there; names of people."""

    site: Known
    elevation: str
    units: tuple[Summary, ...]
    sheets: tuple[Summary, ...]
    names: Mapping[str, str]


@dataclass(frozen=True)
class SubjectForm:
    """A form for a site or a unit: where it goes, where "back" leads, its fields and faults."""

    heading: str
    action: str
    back: str
    fields: list[Input]
    faults: list[Fault]
    refrigerants: tuple[str, ...] = ()


def show(request: Request, book: Book, params: Params) -> Page:
    site = known(book, "site", params["site"])
    if site is None:
        return refusal(request, book, 404)
    context = Site(
        site,
        shown_quantity(site.body.get("elevation")),
        book.listing(Listing("unit", parent=site.id)),
        book.listing(Listing("sheet", parent=site.id)),
        names_of(book),
    )
    return page(request, book, "site.html", context, title=site.body["name"], area="places")


def new(request: Request, book: Book, params: Params) -> Page:
    return _form(request, book, N_("A new site"), "/places", {}, [])


def edit(request: Request, book: Book, params: Params) -> Page:
    site = known(book, "site", params["site"])
    if site is None:
        return refusal(request, book, 404)
    return _form(request, book, N_("Change the site"), f"/places/{site.id}", typed_from_body(FIELDS, site.body), [])


def create(request: Request, book: Book, params: Params) -> Page:
    values = typed(request.form, [one.name for one in FIELDS])
    faults = faults_of("site", FIELDS, {name: one.joined() for name, one in values.items()})
    if faults:
        return _form(request, book, N_("A new site"), "/places", values, faults)
    writer = Writer(request)
    ref = writer.fresh("site")
    writer.add("site", ref, body_from_typed(FIELDS, values))
    return redirect(f"/places/{ref.id}", writer.texts)


def change(request: Request, book: Book, params: Params) -> Page:
    site = known(book, "site", params["site"])
    if site is None:
        return refusal(request, book, 404)
    values = typed(request.form, [one.name for one in FIELDS])
    faults = faults_of("site", FIELDS, {name: one.joined() for name, one in values.items()})
    if faults:
        return _form(request, book, N_("Change the site"), f"/places/{site.id}", values, faults)
    writer = Writer(request)
    writer.add("site", Ref("site", site.id), body_from_typed(FIELDS, values), supersedes=site.heads())
    return redirect(f"/places/{site.id}", writer.texts)


def typed_from_body(fields: tuple[Field, ...], body: Mapping[str, Any]) -> dict[str, Typed]:
    """What a body says, as it would stand in the form."""
    made = {}
    for one in fields:
        if one.name in body:
            value = body[one.name]
            made[one.name] = typed_from_kept(value) if one.shape == "quantity" else Typed(value)
    return made


def body_from_typed(fields: tuple[Field, ...], values: Mapping[str, Typed]) -> dict[str, Any]:
    """The body that a form makes: quantities as typed, blank fields left out."""
    return {
        one.name: values[one.name].kept() if one.shape == "quantity" else values[one.name].text
        for one in fields
        if values[one.name]
    }


def _form(
    request: Request, book: Book, heading: str, back: str, values: Mapping[str, Typed], faults: list[Fault]
) -> Page:
    context = SubjectForm(
        heading=heading,
        action=request.path,
        back=back,
        fields=inputs(FIELDS, values, faults, preferences(request, book)),
        faults=faults,
    )
    said = speaker(request)(heading)
    return page(request, book, "subject_form.html", context, title=said, area="places", status=422 if faults else 200)
