"""A sheet: reading kept with its figures, corrected, forked, struck out, closed; nothing twice."""

from __future__ import annotations

import html
from dataclasses import replace

from desk_host import READING, SUPERVISOR, Host, opened_sheet

from calc.working import run
from webui.record import Entry, build


def bodies(host: Host, kind: str) -> list[dict[str, object]]:
    return [entry.body for entry in host.entries if entry.kind == kind]


def test_a_reading_is_kept_as_typed_with_what_was_worked_out(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/reading", READING)
    (reading,) = bodies(host, "reading")
    assert reading["values"]["suction_pressure"] == {"text": "118", "unit": "psig"}
    findings = {body["working"]: body for body in bodies(host, "finding")}
    assert set(findings) == {"target_superheat", "superheat", "subcooling"}
    page = host.get(sheet).html
    for body in findings.values():
        again = run(body["working"], body["inputs"])
        for name, figure in again.results.items():
            assert body["results"][name]["shown"] == figure.shown
            assert html.escape(figure.shown) in page
    assert findings["superheat"]["inputs"]["elevation"] == "2150 m"
    assert findings["superheat"]["verdict"]["state"] in ("within", "outside", "too_close")
    assert "Computed today" not in page


def test_working_it_out_keeps_nothing(host: Host) -> None:
    sheet = opened_sheet(host)
    before = len(host.entries)
    page = host.post(f"{sheet}/reading/work", READING)
    alone = host.post(f"{sheet}/reading/work", READING, kind="partial", target="figures")
    assert page.status == alone.status == 200
    assert len(host.entries) == before
    assert 'class="mainfigure"' in alone.html
    assert "<form" not in alone.html
    assert 'value="118"' in page.html


def test_a_fault_keeps_everything_typed(host: Host) -> None:
    sheet = opened_sheet(host)
    before = len(host.entries)
    page = host.post(f"{sheet}/reading", READING | {"suction_pressure": "400", "return_wet_bulb": "80"})
    assert page.status == 422
    assert len(host.entries) == before
    for text in ("400", "52", "340", "95", "85", "75", "80"):
        assert f'value="{text}"' in page.html
    assert 'id="f-return_wet_bulb-fault"' in page.html, "a wet bulb above its dry bulb"
    swapped = host.post(f"{sheet}/reading", READING | {"suction_pressure": "400"})
    assert 'id="f-suction_pressure-fault"' in swapped.html
    assert host.post(f"{sheet}/reading", {}).status == 422


def test_a_correction_supersedes_reading_and_findings(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/reading", READING)
    first = next(entry for entry in host.entries if entry.kind == "reading")
    assert 'value="118"' in host.get(f"{sheet}/reading", {"of": first.id}).html
    host.kept(f"{sheet}/reading", READING | {"suction_pressure": "121", "of": first.id})
    second = [entry for entry in host.entries if entry.kind == "reading"][-1]
    assert second.supersedes == (first.id,)
    page = host.get(sheet).html
    assert page.count('class="striphead"') == 1
    assert page.count('class="mainfigure"') == 3
    assert "Earlier versions" in page
    assert "118 psig" in page, "what was there before stays readable"


def test_two_corrections_stand_side_by_side_until_one_settles_them(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/reading", READING)
    first = next(entry for entry in host.entries if entry.kind == "reading")
    host.entries += [beside(first, n) for n in (1, 2)]
    page = host.get(sheet).html
    assert "side by side" in page
    assert "131 psig" in page
    assert "132 psig" in page
    host.kept(f"{sheet}/reading", READING | {"suction_pressure": "131", "of": first.id})
    assert "side by side" not in host.get(sheet).html


def beside(entry: Entry, n: int) -> Entry:
    """A correction made on another device."""
    values = {**entry.body["values"], "suction_pressure": {"text": f"13{n}", "unit": "psig"}}
    return build({
        "id": f"01900000-0000-7000-8000-99999999999{n}", "company": entry.company, "subject": list(entry.subject),
        "touches": [], "kind": "reading", "schema": 1, "by": entry.by,
        "device": f"5555555{n}-5555-4555-8555-555555555555", "seq": 1, "prev": "", "made_at": entry.made_at,
        "supersedes": [entry.id], "body": {"values": values},
    })  # fmt: skip


def test_struck_out_stays_with_who_and_why(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/note", {"text": "Filter <replaced>"})
    note = host.entries[-1]
    assert host.post(f"{sheet}/void/{note.id}", {"why": ""}).status == 422
    host.kept(f"{sheet}/void/{note.id}", {"why": "another unit"})
    page = host.get(sheet).html
    assert "another unit" in page
    assert "Filter &lt;replaced&gt;" in page


def test_what_was_struck_out_meanwhile_takes_no_correction_and_loses_nothing(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/reading", READING)
    first = next(entry for entry in host.entries if entry.kind == "reading")
    host.kept(f"{sheet}/void/{first.id}", {"why": "wrong unit"})
    before = len(host.entries)
    page = host.post(f"{sheet}/reading", READING | {"suction_pressure": "123", "of": first.id})
    assert page.status == 422
    assert "struck out meanwhile" in page.html
    assert 'value="123"' in page.html
    assert len(host.entries) == before
    assert host.get(f"{sheet}/reading", {"of": first.id}).status == 404


def test_a_sheet_with_entries_of_a_newer_version_takes_no_corrections(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/note", {"text": "Filter replaced"})
    note = host.entries[-1]
    host.entries.append(newer(note))
    page = host.get(sheet).html
    assert "newer version" in page
    assert ">Correct<" not in page
    assert host.post(f"{sheet}/note", {"text": "x", "of": note.id}).status == 422
    assert host.get(f"{sheet}/void/{note.id}").status == 404
    host.kept(f"{sheet}/reading", READING)


def newer(entry: Entry) -> Entry:
    """An entry of a kind that this build does not know, from another device."""
    return build({
        "id": "01900000-0000-7000-8000-999999999999", "company": entry.company, "subject": list(entry.subject),
        "touches": [], "kind": "evacuation", "schema": 1, "by": entry.by,
        "device": "55555559-5555-4555-8555-555555555555", "seq": 1, "prev": "", "made_at": entry.made_at,
        "supersedes": [], "body": {"level": "500 micron"},
    })  # fmt: skip


def test_a_form_sent_twice_is_kept_once(host: Host) -> None:
    sheet = opened_sheet(host)
    form = READING | {"once": "01900000-0000-7000-8000-aaaaaaaaaaaa"}
    assert host.kept(f"{sheet}/reading", form) == host.kept(f"{sheet}/reading", form) == sheet
    assert len(bodies(host, "reading")) == 1


def test_a_closed_sheet_takes_nothing_until_it_is_opened_again(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/close", {"why": "Order a new valve"})
    closing = host.entries[-1]
    assert "Order a new valve" in host.get(sheet).html
    for path, form, typed in (("reading", READING, "118"), ("note", {"text": "Too late"}, "Too late")):
        page = host.post(f"{sheet}/{path}", form)
        assert page.status == 422
        assert "closed meanwhile" in page.html
        assert typed in page.html, "nothing typed is lost"
        assert host.get(f"{sheet}/{path}").status == 404
    assert "No sheet is open" in host.get("/").html
    host.kept(f"{sheet}/void/{closing.id}", {"why": "not done yet"})
    host.kept(f"{sheet}/reading", READING)


def test_units_in_hand_are_remembered(host: Host) -> None:
    sheet = opened_sheet(host)
    metric = {"suction_pressure": "8.2", "suction_pressure.unit": "barg", "suction_temperature": "11",
              "suction_temperature.unit": "°C"}  # fmt: skip
    host.kept(f"{sheet}/reading", metric)
    form = host.get(f"{sheet}/reading").html
    assert form.count("<option selected>barg</option>") == 2
    assert "<option selected>psig</option>" not in form


def test_what_would_be_computed_otherwise_today_is_said(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/reading", READING)
    index = next(i for i, e in enumerate(host.entries) if e.kind == "finding" and e.body["working"] == "subcooling")
    old = host.entries[index]
    results = {**old.body["results"]}
    results["subcooling"] = {**results["subcooling"], "shown": "3.3 ± 2.4 °F"}
    host.entries[index] = replace(old, body={**old.body, "results": results})
    page = host.get(sheet).html
    assert "Computed today" in page
    assert "3.3 ± 2.4 °F" in page


def test_the_board_shows_the_same_figures(host: Host) -> None:
    sheet = opened_sheet(host)
    host.kept(f"{sheet}/reading", READING)
    shown = next(b for b in bodies(host, "finding") if b["working"] == "superheat")["results"]["superheat"]["shown"]
    for path in ("/board", f"/board{sheet}"):
        page = host.get(path, person=SUPERVISOR)
        assert page.status == 200
        assert html.escape(shown) in page.html
    assert "Take a reading" not in page.html
