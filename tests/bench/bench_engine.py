"""The phone's engine under Node: start and warm answers as ratios, and the bytes that a phone receives."""

from __future__ import annotations

import json
import subprocess
import time
from pathlib import Path

from server.build.node import node
from server.build.places import GEN, PYODIDE
from webui.desk import answer, first_need
from webui.page import Need, Page, Request
from webui.record import Book

HERE = Path(__file__).resolve().parent
PERSON = {
    "id": "01900000-0000-7000-8000-000000000001",
    "name": "Wren Adair",
    "company": "01900000-0000-7000-8000-000000000002",
    "company_name": "Tern & Alder Cooling",
    "role": "technician",
}
FORM = {
    "refrigerant": "R-410A",
    "suction_pressure": "118",
    "suction_pressure.unit": "psig",
    "suction_temperature": "52",
    "suction_temperature.unit": "°F",
    "elevation": "1600",
    "elevation.unit": "m",
}
ASKED = {
    "method": "POST",
    "path": "/bench/superheat",
    "query": {},
    "form": list(FORM.items()),
    "kind": "partial",
    "person": PERSON,
    "now": "2026-11-25T10:00:00Z",
    "build": "bench",
}
REPEATS = 30
MOST_BYTES = 5_000_000


def run() -> list[tuple[str, str, str]]:
    """Rows of what, ratio, aim."""
    manifest = json.loads((GEN / "manifest.json").read_text("utf-8"))
    job = {"gen": f"{GEN}/", "stock": f"{PYODIDE}/", "manifest": manifest, "request": ASKED, "repeats": REPEATS}
    done = subprocess.run(
        [node(), str(HERE / "engine_timing.mjs")], input=json.dumps(job), text=True, capture_output=True, check=True
    )
    there = json.loads(done.stdout)
    carried = sum(one["brotli"] for one in manifest["files"] if one["phone"])
    return [
        ("warm answer, superheat worked: engine / this Python", f"{there['warm'] / _here():.1f} ×", "lower is better"),
        ("start to first page: our bundle / bare stock Pyodide", f"{there['start'] / there['stock']:.2f} ×", "≤ 1.5"),
        ("bytes to a phone (brotli) / 5 MB", f"{carried / MOST_BYTES:.2f}", "≤ 1"),
    ]


def _here() -> float:
    """Median seconds of the same request in this Python."""
    request = Request.from_json(ASKED)
    times = []
    for _ in range(REPEATS):
        begun = time.perf_counter()
        book = Book()
        need: Need | Page = first_need(request)
        while isinstance(need, Need):
            for ref in need.subjects:
                book.put_entries(ref, ())
            for listing in need.lists:
                book.put_listing(listing, ())
            need = answer(request, book)
        assert need.status == 200, need.html
        times.append(time.perf_counter() - begun)
    return sorted(times)[len(times) // 2]
