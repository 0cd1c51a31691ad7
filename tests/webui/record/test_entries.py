"""Entries byte for byte: golden texts, one form only, no floats, bodies checked by kind."""

from __future__ import annotations

import copy
import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.webui.record.people import BODIES, NOW, SHEET, Device, everything, request, uid
from webui.page import Ref, Request
from webui.record import KINDS, BadEntry, Writer, canonical, check_entry, fold, local_instant, once, parse

# One entry of every kind and schema ever released: each line is the SHA-256 of the text, a space, and the text.
# Lines are added, never changed.
GOLDEN = [line.split(" ", 1) for line in Path(__file__).with_name("golden.txt").read_text("utf-8").splitlines()]


def test_every_kind_and_schema_has_a_golden_entry() -> None:
    found = {(entry.kind, entry.schema) for entry in (parse(text) for _, text in GOLDEN)}
    assert found == {(kind.name, schema) for kind in KINDS.values() for schema in range(1, kind.schema + 1)}


@pytest.mark.parametrize(("digest", "text"), GOLDEN, ids=[parse(text).kind for _, text in GOLDEN])
def test_golden_entries_are_read_and_fold(digest: str, text: str) -> None:
    entry = parse(text)
    assert entry.text == text
    assert entry.hash == digest == hashlib.sha256(text.encode("utf-8")).hexdigest()
    check_entry(entry)
    state = fold(entry.subject, [entry])
    assert state["exists"]
    assert state["newer"] == []
    assert [item["body"] for item in state["items"]] == ([] if entry.kind == "void" else [entry.body])


def test_the_writer_makes_the_golden_bytes() -> None:
    made = {entry.kind: entry.text for entry in everything()}
    written_today = {
        parse(text).kind: text for _, text in GOLDEN if parse(text).schema == KINDS[parse(text).kind].schema
    }
    assert made == written_today


def test_the_chain_links_each_entry_to_the_one_before() -> None:
    made = everything()
    assert [entry.seq for entry in made] == list(range(1, len(made) + 1))
    assert [entry.prev for entry in made] == ["", *(entry.hash for entry in made[:-1])]


json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53) + 1, 2**53 - 1)
    | st.text(st.characters(exclude_categories=["Cs"])),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text("abcé", max_size=3), inner, max_size=3),
    max_leaves=12,
)


@given(st.dictionaries(st.text("abc", min_size=1, max_size=3), json_values, max_size=4))
def test_writing_and_reading_give_the_same_text(body: dict[str, Any]) -> None:
    envelope = {**json.loads(GOLDEN[0][1]), "body": body, "kind": "of_a_newer_version"}
    text = canonical(envelope)
    entry = parse(text)
    assert (entry.text, entry.body) == (text, body)
    assert canonical(json.loads(text)) == text


@given(st.floats())
def test_a_float_is_refused_wherever_it_stands(number: float) -> None:
    envelope = json.loads(GOLDEN[0][1])
    for body in ({"a": number}, {"a": [number]}, {"a": {"b": [{"c": number}]}}):
        with pytest.raises(BadEntry, match="float"):
            canonical({**envelope, "body": body})


def changed(**change: Any) -> str:
    return json.dumps({**json.loads(GOLDEN[0][1]), **change}, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "not_json"),
        ("[]", "envelope"),
        ("[" * 5000, "not_json"),
        (GOLDEN[0][1] + " ", "not_canonical"),
        (GOLDEN[0][1].replace('"seq":1', '"seq": 1'), "not_canonical"),
        (changed(extra=1), "envelope"),
        (changed(id="X"), "id"),
        (changed(id=uid(1).upper()), "id"),
        (changed(seq=0), "seq"),
        (changed(seq=True), "seq"),
        (changed(seq="1"), "seq"),
        (changed(seq=2), "prev"),
        (changed(prev="0" * 64), "prev"),
        (changed(made_at="2026-11-25 09:30"), "made_at"),
        (changed(made_at="2026-02-30T09:30:00Z"), "made_at"),
        (changed(made_at="2026-11-25T09:30:00"), "made_at"),
        (changed(subject=["sheet"]), "subject"),
        (changed(touches=[["site", "x"]]), "touches"),
        (changed(supersedes=[uid(1), uid(1)]), "supersedes"),
        (changed(supersedes=[json.loads(GOLDEN[0][1])["id"]]), "supersedes"),
        (changed(body=[]), "body"),
        (changed(body={"a": "x" * 70_000}), "too_long"),
        (changed(body={"a": 2**53}), "float"),
        (changed(body={"a": 1.5}), "float"),
        (changed(schema=0), "schema"),
    ],
)
def test_an_envelope_that_is_not_right_is_refused_by_code(text: str, code: str) -> None:
    with pytest.raises(BadEntry) as refused:
        parse(text)
    assert refused.value.code == code
    assert refused.value.why


def test_half_a_character_is_refused_and_not_written() -> None:
    with pytest.raises(BadEntry) as refused:
        Device(1).note("broken \ud83d")
    assert refused.value.code == "not_text"


@pytest.mark.parametrize("kind", BODIES)
def test_each_field_of_a_body_is_checked(kind: str) -> None:
    """Leaving out a required field, adding one, and a null or a number in any place are each refused with its name."""
    ref, body, touches = BODIES[kind]
    tried = 0
    for name in body:
        for bad in (None, 7):
            with pytest.raises(BadEntry, match=name) as refused:
                Device(1).write(kind, ref, {**body, name: bad}, touches=touches)
            assert refused.value.code == "body"
            tried += 1
    with pytest.raises(BadEntry, match="unheard_of"):
        Device(1).write(kind, ref, {**body, "unheard_of": "x"}, touches=touches)
    assert tried == 2 * len(body)


@pytest.mark.parametrize(
    ("kind", "change", "field"),
    [
        ("site", {"name": "  "}, "name"),
        ("site", {"name": "x" * 201}, "name"),
        ("unit", {"kind": "spaceship"}, "kind"),
        ("unit", {"plate_charge": {"text": "3"}}, "plate_charge.unit"),
        ("reading", {"values": {}}, "values"),
        ("reading", {"values": {"Suction": {"text": "1", "unit": ""}}}, "values.Suction"),
        ("reading", {"taken_at": "yesterday"}, "taken_at"),
        ("finding", {"of": []}, "of"),
        ("finding", {"results": {"x": {"value": "1", "unit": "K", "u": "nan", "shown": ""}}}, "results.x.u"),
        ("preference", {"units": {"pressure": ""}}, "units.pressure"),
    ],
)
def test_bounds_of_bodies(kind: str, change: dict[str, Any], field: str) -> None:
    ref, body, touches = BODIES[kind]
    with pytest.raises(BadEntry, match=field.replace(".", r"\.")):
        Device(1).write(kind, ref, copy.deepcopy(body) | change, touches=touches)


def test_an_entry_is_about_its_own_kind_of_subject_and_found_under_what_it_belongs_to() -> None:
    with pytest.raises(BadEntry) as refused:
        Device(1).write("note", Ref("site", uid(1)), {"text": "x"})
    assert refused.value.code == "subject"
    ref, body, _ = BODIES["sheet"]
    with pytest.raises(BadEntry) as refused:
        Device(1).write("sheet", ref, body)
    assert refused.value.code == "touches"


def test_once_becomes_the_id_of_the_first_entry_and_of_a_new_subject() -> None:
    form = (("once", uid(77).upper()), ("name", "x"))
    asked = request([uid(1), uid(2)], form=form)
    writer = Writer(asked)
    assert once(asked) == uid(77)
    site = writer.fresh("site")
    assert (site.id, writer.add("site", site, {"name": "x"}).id) == (uid(77), uid(77))
    assert writer.add("note", SHEET, {"text": "y"}).id == uid(1)
    assert [parse(text).seq for text in writer.texts] == [1, 2]


def test_a_once_that_is_no_id_counts_for_nothing() -> None:
    asked = request([uid(1)], form=(("once", "<script>"),))
    assert once(asked) == ""
    assert Writer(asked).add("note", SHEET, {"text": "y"}).id == uid(1)


def test_a_writer_needs_a_pen_a_person_and_ids() -> None:
    with pytest.raises(BadEntry) as refused:
        Writer(Request("POST", "", now=NOW))
    assert refused.value.code == "no_pen"
    writer = Writer(request([uid(1)]))
    writer.add("note", SHEET, {"text": "one"})
    with pytest.raises(BadEntry) as refused:
        writer.add("note", SHEET, {"text": "two"})
    assert refused.value.code == "no_ids"


def test_a_refused_body_uses_up_nothing() -> None:
    writer = Writer(request([uid(1)]))
    with pytest.raises(BadEntry):
        writer.add("note", SHEET, {"text": ""})
    assert writer.add("note", SHEET, {"text": "now"}).seq == 1


@pytest.mark.parametrize(
    ("offset", "expected"),
    [
        (0, "2026-11-25T09:30:00+00:00"),
        (60, "2026-11-25T10:30:00+01:00"),
        (-360, "2026-11-25T03:30:00-06:00"),
        (330, "2026-11-25T15:00:00+05:30"),
    ],
)
def test_made_at_is_the_devices_own_clock(offset: int, expected: str) -> None:
    assert local_instant(NOW, offset) == expected
