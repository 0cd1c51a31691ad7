"""Entries of a device, made as the desk makes them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from webui.page import Pen, Person, Ref, Request
from webui.record import Entry, Writer

COMPANY = "0190a000-0000-7000-8000-000000000001"
NOW = "2026-11-25T09:30:00Z"


def uid(number: int) -> str:
    return f"0190b000-0000-7000-8000-{number:012d}"


PERSON = Person(uid(900), "Technician", COMPANY, "Firm of the tests", "technician")
SHEET = Ref("sheet", uid(500))


def request(ids: Iterable[str], device: str = uid(800), seq: int = 1, prev: str = "", **more: Any) -> Request:
    pen = Pen(device, seq, prev, tuple(ids))
    return Request("POST", "", person=PERSON, pen=pen, now=NOW, offset_minutes=-360, **more)


class Device:
    """One device's chain, with ids counted from a number of its own."""

    def __init__(self, number: int) -> None:
        self.id, self.next, self.seq, self.prev = uid(800 + number), number * 1000, 1, ""

    def write(self, kind: str, subject: Ref, body: dict[str, Any], **links: Any) -> Entry:
        self.next += 1
        entry = Writer(request([uid(self.next)], self.id, self.seq, self.prev)).add(kind, subject, body, **links)
        self.seq, self.prev = self.seq + 1, entry.hash
        return entry

    def note(self, text: str, supersedes: Iterable[str] = ()) -> Entry:
        return self.write("note", SHEET, {"text": text}, supersedes=supersedes)


Q = {"text": "118", "unit": "psig"}
BODIES: dict[str, tuple[Ref, dict[str, Any], tuple[Ref, ...]]] = {
    "site": (
        Ref("site", uid(1)),
        {"name": "Cold store", "elevation": {"text": "1600", "unit": "m"}, "access": "ring at the gate"},
        (),
    ),
    "unit": (
        Ref("unit", uid(2)),
        {
            "site": uid(1), "tag": "RTU-1", "kind": "rooftop", "refrigerant": "R-410A", "metering": "modulating",
            "target_subcooling": {"text": "10", "unit": "F"}, "receiver": "no",
        },
        (Ref("site", uid(1)),),
    ),
    "sheet": (
        SHEET,
        {
            "unit": uid(2), "unit_tag": "RTU-1", "site": uid(1), "site_name": "Cold store", "visit": "inspect",
            "opened_by": uid(900),
        },
        (Ref("unit", uid(2)), Ref("site", uid(1))),
    ),
    "sheet_closed": (SHEET, {"why": "work is done"}, ()),
    "reading": (SHEET, {"values": {"suction_pressure": Q}, "taken_at": "2026-11-25T10:10:00+01:00"}, ()),
    "finding": (
        SHEET,
        {
            "of": [uid(5)], "working": "superheat", "calc_version": "0.1.0", "tables": "t1",
            "inputs": {"suction_pressure": "118 psig"},
            "results": {"superheat": {"value": "6.12", "unit": "K", "u": "0.31", "shown": "11.0 ± 0.6 °F"}},
            "verdict": {"state": "within", "text": "Within {low} to {high}", "values": {"low": "8 °F", "high": "9 °F"}},
            "notes": [{"text": "Read {what} at the port", "values": {"what": {"shown": "118 psig"}}}],
        },
        (),
    ),
    "note": (SHEET, {"text": "belt worn — ½ mm; “replace” soon ✓"}, ()),
    "void": (SHEET, {"target": uid(5), "why": "wrong port"}, ()),
    "person": (Ref("person", uid(900)), {"name": "Technician", "role": "technician", "status": "active"}, ()),
    "preference": (Ref("person", uid(900)), {"units": {"pressure": "psig"}}, ()),
}  # fmt: skip


def everything() -> list[Entry]:
    """One entry of each kind in one chain, always the same bytes."""
    device = Device(1)
    return [device.write(kind, ref, body, touches=touches) for kind, (ref, body, touches) in BODIES.items()]
