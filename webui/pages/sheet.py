"""A sheet: one visit to one unit, strip by strip; and the form that opens one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.errors import Fault
from calc.messages import N_, message
from calc.working import run
from webui.forms import typed_from_kept
from webui.page import Listing, Need, Page, Ref, Request, redirect
from webui.record import Book, Item, Summary, Writer, is_uuid
from webui.record.kinds.sheet import VISITS
from webui.render import page, refusal, speaker
from webui.routes import Params
from webui.strips.cautions import cautions
from webui.strips.lines import Strip, strips
from webui.subjects import Known, known, names_of, safety_group, shown_quantity, together


@dataclass(frozen=True)
class Around:
    """A sheet with the unit and the site it is about."""

    sheet: Known
    unit: Known
    site: Known

    @property
    def closed(self) -> bool:
        return any(item["kind"] == "sheet_closed" and not item["void"] for item in self.sheet.state["items"])

    @property
    def corrigible(self) -> bool:
        """Whether this build may correct what is there: not where a newer version wrote what it cannot read."""
        return not self.sheet.state["newer"]

    def strip(self, identity: str, *kinds: str) -> Item | None:
        """What may be corrected or struck out under an id; None where there is nothing such."""
        items: list[Item] = self.sheet.state["items"] if self.corrigible else []
        return next((one for one in items if one["id"] == identity and one["kind"] in kinds and not one["void"]), None)


@dataclass(frozen=True)
class Sheet:
    """around: sheet, unit, site; air: the site's pressure; strips in the order of the day; readonly on the Board."""

    around: Around
    group: str
    elevation: str
    air: str
    cautions: tuple[str, ...]
    strips: tuple[Strip, ...]
    who: str
    readonly: bool
    newer: int


@dataclass(frozen=True)
class NewSheet:
    """unit: what the sheet will be about; visits: kinds to choose from; open_here: sheets of the unit still open."""

    unit: Known
    visits: tuple[tuple[str, str], ...]
    open_here: tuple[Summary, ...]
    names: Mapping[str, str]
    fault: bool


def barred(found: Around, wanted: str, of: Item | None, field: str = "") -> Fault | None:
    """Why a form may not be kept now, though it could be filled in: what happened on the sheet meanwhile."""
    if found.closed:
        problem = message(N_("This sheet was closed meanwhile; nothing was kept"))
        hint = message(N_("Strike its closing out on the sheet, then keep this again"))
        return Fault(field, "", "contradiction", problem, hint)
    if wanted and of is None:
        problem = message(N_("What this corrects was struck out meanwhile, or a newer version wrote on this sheet"))
        hint = message(N_("Look at the sheet first; then write it anew, or update this phone"))
        return Fault(field, "", "contradiction", problem, hint)
    return None


def around(book: Book, sheet_id: str) -> Around | None:
    """A sheet with what it is about; None where the sheet, its unit or its site is not known here."""
    sheet = known(book, "sheet", sheet_id)
    if sheet is None:
        return None
    together(book, Need(frozenset({Ref("unit", sheet.body["unit"]), Ref("site", sheet.body["site"])})))
    unit, site = known(book, "unit", sheet.body["unit"]), known(book, "site", sheet.body["site"])
    return Around(sheet, unit, site) if unit and site else None


def show(request: Request, book: Book, params: Params) -> Page:
    found = around(book, params["sheet"])
    if found is None:
        return refusal(request, book, 404)
    elevation = found.site.body.get("elevation")
    air = run("site_pressure", {"elevation": typed_from_kept(elevation).joined()}) if elevation else None
    group = safety_group(found.unit.body["refrigerant"])
    names = names_of(book)
    office = request.path.startswith("/board/")
    context = Sheet(
        around=found,
        group=group,
        elevation=shown_quantity(elevation),
        air=air.results["site_pressure"].shown if air and air.ok else "",
        cautions=cautions(found.unit.body["refrigerant"], group),
        strips=strips(found.sheet.state, names, request.language),
        who=names.get(found.sheet.item["by"], ""),
        readonly=office or found.closed,
        newer=len(found.sheet.state["newer"]),
    )
    area = "board" if office else "today"
    return page(request, book, "sheet.html", context, title=found.sheet.body["unit_tag"], area=area)


_VISIT_WORDS = (N_("Inspect"), N_("Repair"), N_("Install"), N_("Decommission"))


def new(request: Request, book: Book, params: Params) -> Page:
    asked = request.query.get("unit") or request.value("unit")
    unit = known(book, "unit", asked) if is_uuid(asked) else None
    if unit is None:
        return refusal(request, book, 404)
    fault = request.method == "POST"
    context = NewSheet(
        unit,
        tuple(zip(VISITS, _VISIT_WORDS, strict=True)),
        book.listing(Listing("sheet", status="open", parent=unit.id)),
        names_of(book),
        fault,
    )
    title = speaker(request)("Open a sheet")
    return page(request, book, "sheet_new.html", context, title=title, area="places", status=422 if fault else 200)


def create(request: Request, book: Book, params: Params) -> Page:
    asked, visit = request.value("unit"), request.value("visit")
    unit = known(book, "unit", asked) if is_uuid(asked) else None
    if unit is None:
        return refusal(request, book, 404)
    site = known(book, "site", unit.body["site"])
    if site is None:
        return refusal(request, book, 404)
    if visit not in VISITS:
        return new(request, book, params)
    assert request.person is not None
    writer = Writer(request)
    ref = writer.fresh("sheet")
    body = {
        "unit": unit.id,
        "unit_tag": unit.body["tag"],
        "site": site.id,
        "site_name": site.body["name"],
        "visit": visit,
        "opened_by": request.person.id,
    }
    writer.add("sheet", ref, body, touches=[Ref("unit", unit.id), Ref("site", site.id)])
    return redirect(f"/sheet/{ref.id}", writer.texts)
