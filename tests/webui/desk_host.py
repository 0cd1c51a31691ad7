"""A host in memory: hands the desk what it asks for and keeps the entries it makes, as both real hosts do."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping

from webui import desk
from webui.page import Need, Page, Pen, Person, Request
from webui.record import Book, Entry, fold, parse, summary

COMPANY = "22222222-2222-4222-8222-222222222222"
TECHNICIAN = Person("11111111-1111-4111-8111-111111111111", "Wen Larch", COMPANY, "Tern & Alder Cooling", "technician")
SUPERVISOR = Person("33333333-3333-4333-8333-333333333333", "Odo Fenn", COMPANY, "Tern & Alder Cooling", "supervisor")
DEVICE = "44444444-4444-4444-8444-444444444444"


class Host:
    """Keeps entries of one device; ask() is one request."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []
        self._ids = (f"01900000-0000-7000-8000-{n:012d}" for n in itertools.count(1))

    def request(self, method: str, path: str, form: Iterable[tuple[str, str]] = (), **more: object) -> Request:
        last = next((entry for entry in reversed(self.entries) if entry.device == DEVICE), None)
        pen = Pen(
            DEVICE,
            last.seq + 1 if last else 1,
            last.hash if last else "",
            tuple(itertools.islice(self._ids, 20)),
        )
        defaults: dict[str, object] = {"person": TECHNICIAN, "now": "2026-11-25T09:30:00Z", "pen": pen}
        return Request(method, path, form=tuple(form), **(defaults | more))  # type: ignore[arg-type]

    def load(self, need: Need, book: Book) -> None:
        for ref in need.subjects:
            book.put_entries(ref, self.entries)
        for listing in need.lists:
            refs = {entry.subject for entry in self.entries if entry.subject.kind == listing.kind}
            book.put_listing(listing, [summary(fold(ref, self.entries)) for ref in refs])

    def answer(self, request: Request) -> Page:
        book = Book()
        self.load(desk.first_need(request), book)
        for _ in range(3):
            page = desk.answer(request, book)
            if isinstance(page, Page):
                self.entries += [parse(text) for text in page.entries]
                return page
            self.load(page, book)
        raise AssertionError(f"{request.path} asks for {page} in its third round")

    def get(self, path: str, query: Mapping[str, str] | None = None, **more: object) -> Page:
        return self.answer(self.request("GET", path, query=query or {}, **more))

    def post(self, path: str, form: Mapping[str, str], **more: object) -> Page:
        return self.answer(self.request("POST", path, form.items(), **more))

    def kept(self, path: str, form: Mapping[str, str], **more: object) -> str:
        """Post a form that must be kept; gives where it leads."""
        page = self.post(path, form, **more)
        assert page.status == 303, page.html
        return page.headers["Location"]


def opened_sheet(host: Host, **unit: str) -> str:
    """A site, a unit and an open sheet; gives the sheet's address. Invented, as in the demo."""
    site = host.kept("/places/new", {"name": "Hill Observatory", "elevation": "2150", "elevation.unit": "m"})
    plate = {"tag": "AC-2", "kind": "split", "refrigerant": "R410A", "metering": "fixed"} | unit
    address = host.kept(f"{site}/units/new", plate)
    return host.kept("/sheet/new", {"unit": address.rpartition("/")[2], "visit": "repair"})


READING = {
    "suction_pressure": "118", "suction_pressure.unit": "psig",
    "suction_temperature": "52", "suction_temperature.unit": "°F",
    "liquid_pressure": "340", "liquid_pressure.unit": "psig",
    "liquid_temperature": "95", "liquid_temperature.unit": "°F",
    "outdoor_dry_bulb": "85", "outdoor_dry_bulb.unit": "°F",
    "return_dry_bulb": "75", "return_dry_bulb.unit": "°F",
    "return_wet_bulb": "63", "return_wet_bulb.unit": "°F",
}  # fmt: skip
