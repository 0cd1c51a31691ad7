"""A reading on a sheet: typed, worked out at once, kept with what was found; and its correction (?of=ENTRY)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from calc.errors import Fault
from webui.forms import Input, Typed, inputs, remembered_under, typed, typed_from_kept, usual
from webui.page import Page, Ref, Request, redirect
from webui.pages.sheet import Around, around, barred
from webui.preferences import Preferences, preferences
from webui.preferences import keep as keep_preferences
from webui.record import Book, Item, Writer, once
from webui.render import page, piece, refusal, speaker
from webui.routes import Params
from webui.strips.cautions import cautions
from webui.strips.lines import findings_of
from webui.strips.reading import FIELDS, NAMES, Worked, keep_findings, work_out
from webui.subjects import heads, safety_group
from webui.worked import Block, block_of, said_once


@dataclass(frozen=True)
class Reading:
    """The form: of is the reading it corrects ("" for a new one); blocks and faults of what was typed so far.

    perilous: more than the usual can go wrong with this refrigerant, so the cautions stand open.
    """

    around: Around
    of: str
    fields: list[Input]
    faults: tuple[Fault, ...]
    blocks: tuple[Block, ...]
    cautions: tuple[str, ...]
    perilous: bool
    forked: bool


@dataclass(frozen=True)
class Figures:
    """What was worked out, alone."""

    blocks: tuple[Block, ...]
    faults: tuple[Fault, ...]


def show(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None or found.closed:
        return refusal(request, book, 404)
    of = found.strip(_wanted(request), "reading")
    if _wanted(request) and of is None:
        return refusal(request, book, 404)
    values = {name: typed_from_kept(kept) for name, kept in of["body"]["values"].items()} if of else {}
    worked = work_out(values, found.unit, found.site) if of else Worked((), ())
    return _form(request, book, found, of, values, worked)


def work(request: Request, book: Book, params: Params) -> Page:
    """Figures without keeping; alone where the element of the figures asks for itself."""
    found = around(book, params["sheet"])
    if found is None:
        return refusal(request, book, 404)
    values = typed(request.form, NAMES)
    worked = work_out(values, found.unit, found.site)
    if request.target == "figures":
        blocks = said_once(block_of(answer, request.language) for answer in worked.answers)
        return piece(request, "reading_figures.html", Figures(blocks, worked.faults))
    return _form(request, book, found, found.strip(_wanted(request), "reading"), values, worked)


def keep(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None:
        return refusal(request, book, 404)
    address = f"/sheet/{found.sheet.id}"
    if once(request) and any(item["id"] == once(request) for item in found.sheet.state["items"]):
        return redirect(address)
    values = typed(request.form, NAMES)
    of = found.strip(_wanted(request), "reading")
    bar = barred(found, _wanted(request), of)
    if bar is not None:
        return _form(request, book, found, of, values, Worked((), (bar,)))
    worked = work_out(values, found.unit, found.site)
    if worked.faults:
        return _form(request, book, found, of, values, worked)
    writer = Writer(request)
    sheet = Ref("sheet", found.sheet.id)
    body: dict[str, object] = {"values": {name: _kept(name, one) for name, one in values.items() if one}}
    if of is not None:
        body["taken_at"] = of["taken_at"]
    entry = writer.add("reading", sheet, body, supersedes=heads(of) if of else [])
    earlier: dict[str, list[str]] = {}
    for finding in findings_of(found.sheet.state, of) if of else []:
        earlier.setdefault(finding["body"]["working"], []).extend(heads(finding))
    keep_findings(writer, sheet, entry, worked, earlier)
    keep_preferences(writer, request, book, _in_hand(values, preferences(request, book)))
    return redirect(address, writer.texts)


def _wanted(request: Request) -> str:
    """The id of the reading that the form corrects, by ?of= or its hidden field; "" for a new one."""
    return request.value("of") or request.query.get("of", "")


def _kept(name: str, one: Typed) -> dict[str, str]:
    declared = next(field for field in FIELDS if field.name == name)
    return one.kept() if declared.shape == "quantity" else {"text": one.text, "unit": ""}


def _in_hand(values: Mapping[str, Typed], chosen: Preferences) -> Preferences:
    """The preferences with the units of the gauges and probes in hand."""
    units = dict(chosen.units)
    for one in FIELDS:
        value = values[one.name]
        if value and one.quantity and value.unit and value.unit != usual(one, chosen):
            units[remembered_under(one)] = value.unit
    return replace(chosen, units=units)


def _form(
    request: Request,
    book: Book,
    found: Around,
    of: Item | None,
    values: Mapping[str, Typed],
    worked: Worked,
) -> Page:
    refrigerant = found.unit.body["refrigerant"]
    context = Reading(
        around=found,
        of=of["id"] if of else "",
        fields=inputs(FIELDS, values, worked.faults, preferences(request, book)),
        faults=worked.faults,
        blocks=said_once(block_of(answer, request.language) for answer in worked.answers),
        cautions=cautions(refrigerant, safety_group(refrigerant)),
        perilous=safety_group(refrigerant) != "A1" or refrigerant == "R-744",
        forked=bool(of and of["fork"]),
    )
    title = speaker(request)("Reading")
    return page(request, book, "reading.html", context, title=title, area="today", status=422 if worked.faults else 200)
