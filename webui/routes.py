"""The one route table: which address is which page, who answers it, and what it needs first.

Pages are named as "module.function" below webui.pages and imported when first asked for, so that the table costs
nothing to read and the phone need not carry the office's pages. Order is the order of a day.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from webui.page import Listing, Need, Ref, Request
from webui.record import is_uuid

Params = Mapping[str, str]
Needs = Callable[[Request, Params], Need]

DESK, OFFICE = "desk", "office"
_WORD = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")
_IDS = frozenset({"site", "unit", "sheet", "entry"})  # places in a pattern that hold a UUID; the others hold a word


@dataclass(frozen=True)
class Route:
    """One address: kind is "desk" (both hosts) or "office" (the server, for supervisors); writes marks a form that
    may make entries, so that the host takes the pen."""

    method: str
    pattern: str
    page: str
    kind: str
    needs: Needs
    writes: bool = False

    @property
    def segments(self) -> tuple[str, ...]:
        return tuple(self.pattern.strip("/").split("/"))

    def params(self, path: str) -> dict[str, str] | None:
        """What the path puts in the places of the pattern; None where it is another address."""
        given = path.strip("/").split("/")
        if len(given) != len(self.segments) or (path != "/" and path.endswith("/")):
            return None
        found: dict[str, str] = {}
        for own, text in zip(self.segments, given, strict=True):
            if not own.startswith("<"):
                if own != text:
                    return None
                continue
            name = own[1:-1]
            fits = is_uuid(text) if name in _IDS else _WORD.fullmatch(text) is not None
            if not fits:
                return None
            found[name] = text
        return found


def _need(*wanted: Ref | Listing) -> Need:
    return Need(
        frozenset(one for one in wanted if isinstance(one, Ref)),
        frozenset(one for one in wanted if isinstance(one, Listing)),
    )


def _nothing(request: Request, params: Params) -> Need:
    return Need()


def _my_sheets(request: Request, params: Params) -> Need:
    return _need(Listing("sheet", status="open", person=request.person.id)) if request.person else Need()


def _sites(request: Request, params: Params) -> Need:
    return _need(Listing("site"))


def _site(request: Request, params: Params) -> Need:
    return _need(Ref("site", params["site"]))


def _site_and_units(request: Request, params: Params) -> Need:
    return _need(
        Ref("site", params["site"]),
        Listing("unit", parent=params["site"]),
        Listing("sheet", parent=params["site"]),
        Listing("person"),
    )


def _unit(request: Request, params: Params) -> Need:
    return _need(Ref("site", params["site"]), Ref("unit", params["unit"]))


def _unit_and_sheets(request: Request, params: Params) -> Need:
    return _unit(request, params) | _need(Listing("sheet", parent=params["unit"]), Listing("person"))


def _unit_asked(request: Request, params: Params) -> Need:
    unit = request.query.get("unit") or request.value("unit")
    return _need(Ref("unit", unit), Listing("sheet", status="open", parent=unit)) if is_uuid(unit) else Need()


def _sheet(request: Request, params: Params) -> Need:
    return _need(Ref("sheet", params["sheet"]), Listing("person"))


def _crew(request: Request, params: Params) -> Need:
    return _need(Listing("sheet", status="open"), Listing("person"))


ROUTES: tuple[Route, ...] = (
    Route("GET", "/", "today.show", DESK, _my_sheets),
    Route("GET", "/bench", "bench.index", DESK, _nothing),
    Route("GET", "/bench/<name>", "bench.show", DESK, _nothing),
    Route("POST", "/bench/<name>", "bench.show", DESK, _nothing),
    Route("GET", "/refrigerants", "refrigerant.index", DESK, _nothing),
    Route("GET", "/refrigerants/<name>", "refrigerant.show", DESK, _nothing),
    Route("GET", "/places", "places.index", DESK, _sites),
    Route("GET", "/places/new", "site.new", DESK, _nothing),
    Route("POST", "/places/new", "site.create", DESK, _nothing, writes=True),
    Route("GET", "/places/<site>", "site.show", DESK, _site_and_units),
    Route("GET", "/places/<site>/edit", "site.edit", DESK, _site),
    Route("POST", "/places/<site>/edit", "site.change", DESK, _site, writes=True),
    Route("GET", "/places/<site>/units/new", "unit.new", DESK, _site),
    Route("POST", "/places/<site>/units/new", "unit.create", DESK, _site, writes=True),
    Route("GET", "/places/<site>/units/<unit>", "unit.show", DESK, _unit_and_sheets),
    Route("GET", "/places/<site>/units/<unit>/edit", "unit.edit", DESK, _unit),
    Route("POST", "/places/<site>/units/<unit>/edit", "unit.change", DESK, _unit, writes=True),
    Route("GET", "/sheet/new", "sheet.new", DESK, _unit_asked),
    Route("POST", "/sheet/new", "sheet.create", DESK, _unit_asked, writes=True),
    Route("GET", "/sheet/<sheet>", "sheet.show", DESK, _sheet),
    Route("GET", "/sheet/<sheet>/reading", "reading.show", DESK, _sheet),
    Route("POST", "/sheet/<sheet>/reading", "reading.keep", DESK, _sheet, writes=True),
    Route("GET", "/sheet/<sheet>/reading/work", "reading.show", DESK, _sheet),  # its address after a reload
    Route("POST", "/sheet/<sheet>/reading/work", "reading.work", DESK, _sheet),
    Route("GET", "/sheet/<sheet>/note", "note.show", DESK, _sheet),
    Route("POST", "/sheet/<sheet>/note", "note.keep", DESK, _sheet, writes=True),
    Route("GET", "/sheet/<sheet>/void/<entry>", "void.show", DESK, _sheet),
    Route("POST", "/sheet/<sheet>/void/<entry>", "void.keep", DESK, _sheet, writes=True),
    Route("GET", "/sheet/<sheet>/close", "close.show", DESK, _sheet),
    Route("POST", "/sheet/<sheet>/close", "close.keep", DESK, _sheet, writes=True),
    Route("GET", "/settings", "settings.show", DESK, _nothing),
    Route("POST", "/settings", "settings.keep", DESK, _nothing, writes=True),
    Route("GET", "/manual", "manual.index", DESK, _nothing),
    Route("GET", "/manual/<topic>", "manual.show", DESK, _nothing),
    Route("GET", "/board", "board.show", OFFICE, _crew),
    Route("GET", "/board/sheet/<sheet>", "sheet.show", OFFICE, _sheet),
)


@dataclass(frozen=True)
class Match:
    """What an address came to: a route with its params; or none, and the methods that the address does take."""

    route: Route | None
    params: Params
    methods: tuple[str, ...] = ()


@cache
def _by_length() -> dict[int, tuple[Route, ...]]:
    lengths = {len(route.segments) for route in ROUTES}
    return {n: tuple(route for route in ROUTES if len(route.segments) == n) for n in lengths}


def match(method: str, path: str) -> Match:
    """The route of a request. HEAD is answered as GET."""
    asked = "GET" if method == "HEAD" else method
    methods = []
    for route in _by_length().get(len(path.strip("/").split("/")), ()):
        params = route.params(path)
        if params is None:
            continue
        if route.method == asked:
            return Match(route, params)
        methods.append(route.method)
    return Match(None, {}, tuple(methods))


def patterns(kind: str) -> tuple[str, ...]:
    """Every pattern of a kind once, in the order of the table (the service worker answers the desk's)."""
    return tuple(dict.fromkeys(route.pattern for route in ROUTES if route.kind == kind))
