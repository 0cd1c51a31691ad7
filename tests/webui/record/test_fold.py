"""Folding by links alone: no order, repetition or split of what arrives changes the state."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.webui.record.people import BODIES, SHEET, Device, everything, uid
from webui.page import Listing, Missing, Need, Ref
from webui.record import Book, Entry, canonical, empty, fold, parse, select, standing, summary


def rewritten(entry: Entry, **change: Any) -> Entry:
    return parse(canonical({**json.loads(entry.text), **change}))


@st.composite
def histories(draw: st.DrawFn) -> list[Entry]:
    """What up to three devices wrote on one sheet, each having seen any part of what was there before."""
    devices = [Device(number) for number in (1, 2, 3)]
    made: list[Entry] = []
    for _ in range(draw(st.integers(0, 14))):
        device = draw(st.sampled_from(devices))
        notes = [entry.id for entry in made if entry.kind == "note"]
        act = draw(st.sampled_from(["note", "correct", "void", "newer", "reading"]))
        if act == "void" and made:
            target = draw(st.sampled_from([entry.id for entry in made]))
            made.append(device.write("void", SHEET, {"target": target, "why": "wrong"}))
        elif act == "reading":
            made.append(device.write("reading", SHEET, {"values": {"suction_at": {"text": "x", "unit": ""}}}))
        elif act in ("correct", "newer") and notes:
            targets = draw(st.lists(st.sampled_from(notes), min_size=1, max_size=3, unique=True))
            entry = device.note(draw(st.text("ab", min_size=1, max_size=4)), targets)
            made.append(rewritten(entry, schema=99) if act == "newer" else entry)
        else:
            made.append(device.note(draw(st.text("ab", min_size=1, max_size=4))))
    return made


@given(histories(), st.randoms(use_true_random=False))
def test_order_repetition_and_strangers_change_nothing(entries: list[Entry], chance: random.Random) -> None:
    state = fold(SHEET, entries)
    shuffled = entries + chance.sample(entries, len(entries) // 2) + everything()[:2]
    chance.shuffle(shuffled)
    assert fold(SHEET, shuffled) == state
    assert json.loads(json.dumps(state)) == state


@given(histories())
def test_nothing_written_is_lost_from_the_state(entries: list[Entry]) -> None:
    """Every readable entry but a void is shown once: as the one that holds, in a history, or in a fork."""
    state = fold(SHEET, entries)
    shown = []
    for item in state["items"]:
        lines = item["history"] + item["fork"]
        shown += [line["id"] for line in lines] + ([item["head"]] if item["head"] else [])
    expected = [entry.id for entry in entries if entry.kind != "void" and entry.schema == 1]
    assert sorted(shown) == sorted(expected)
    assert state["newer"] == sorted(entry.id for entry in entries if entry.schema == 99)
    assert state["count"] == len(entries)


def only(entries: list[Entry]) -> Any:
    (item,) = fold(SHEET, entries)["items"]
    return item


def test_a_correction_holds_and_the_first_stays_in_the_history() -> None:
    device = Device(1)
    first = device.note("belt worn")
    second = device.note("belt torn", [first.id])
    item = only([second, first])
    assert (item["id"], item["head"], item["body"]) == (first.id, second.id, {"text": "belt torn"})
    assert [line["body"]["text"] for line in item["history"]] == ["belt worn"]
    assert item["fork"] == []


def test_two_corrections_of_one_stand_beside_each_other_until_one_supersedes_both() -> None:
    one, other = Device(1), Device(2)
    first = one.note("belt worn")
    left, right = one.note("belt torn", [first.id]), other.note("belt gone", [first.id])
    forked = only([first, left, right])
    assert forked["head"] is None
    assert forked["body"] == {"text": "belt worn"}
    assert {line["id"] for line in forked["fork"]} == {left.id, right.id}
    settled = only([first, left, right, other.note("belt torn off", [left.id, right.id])])
    assert settled["body"] == {"text": "belt torn off"}
    assert settled["fork"] == []
    assert len(settled["history"]) == 3


def test_a_correction_that_comes_before_what_it_corrects_waits_for_it() -> None:
    device = Device(1)
    first = device.note("belt worn")
    second = device.note("belt torn", [first.id])
    assert only([second])["body"] == {"text": "belt torn"}
    assert only([second, first])["id"] == first.id


def test_void_keeps_what_it_voids_with_who_and_why() -> None:
    device = Device(1)
    first = device.note("belt worn")
    void = device.write("void", SHEET, {"target": first.id, "why": "other unit"})
    item = only([first, void])
    assert item["void"] == {"id": void.id, "by": void.by, "why": "other unit", "made_at": void.made_at}
    assert item["body"] == {"text": "belt worn"}


def test_a_newer_versions_correction_is_named_and_what_can_be_read_is_shown() -> None:
    device = Device(1)
    first = device.note("belt worn")
    newer = rewritten(device.note("belt torn", [first.id]), schema=2)
    state = fold(SHEET, [first, newer])
    assert state["newer"] == [newer.id]
    assert state["items"][0]["newer"] is True
    assert state["items"][0]["body"] == {"text": "belt worn"}


def test_links_in_a_ring_fold_to_something_and_to_one_thing() -> None:
    one, other = Device(1), Device(2)
    first = one.note("a", [uid(2001)])
    second = other.note("b", [first.id])
    assert second.id == uid(2001)
    assert fold(SHEET, [first, second]) == fold(SHEET, [second, first])
    assert only([first, second])["head"] in (first.id, second.id)


def test_items_stand_in_the_order_they_were_taken_not_written() -> None:
    device = Device(1)
    late = device.write("reading", SHEET, {"values": {"place": {"text": "1", "unit": ""}}})
    early = device.write(
        "reading", SHEET, {"values": {"place": {"text": "2", "unit": ""}}, "taken_at": "2026-11-25T08:00:00+01:00"}
    )
    assert [item["id"] for item in fold(SHEET, [late, early])["items"]] == [early.id, late.id]


def test_an_unknown_subject_does_not_exist() -> None:
    assert empty(SHEET) == {"ref": str(SHEET), "exists": False, "count": 0, "newer": [], "items": []}
    assert summary(empty(SHEET))["status"] == ""


def sheet_of(device: Device, *more: Entry) -> list[Entry]:
    ref, body, touches = BODIES["sheet"]
    return [device.write("sheet", ref, body, touches=touches), *more]


def test_the_summary_of_a_sheet_follows_what_stands_on_it() -> None:
    device = Device(1)
    entries = sheet_of(device)
    reading = device.write("reading", SHEET, BODIES["reading"][1])
    finding = device.write("finding", SHEET, BODIES["finding"][1] | {"of": [reading.id]})
    found = summary(fold(SHEET, [*entries, reading, finding]))
    assert (found["status"], found["title"], found["readings"]) == ("open", "RTU-1", 1)
    assert (found["parent"], found["place"], found["person"]) == (uid(2), uid(1), uid(900))
    assert found["standings"] == {"proven": 1}
    corrected = device.write("reading", SHEET, BODIES["reading"][1], supersedes=[reading.id])
    after = summary(fold(SHEET, [*entries, reading, finding, corrected]))
    assert after["latest_findings"] == []  # it was of a reading that was corrected since
    closing = device.write("sheet_closed", SHEET, {})
    assert summary(fold(SHEET, [*entries, closing]))["status"] == "closed"
    reopened = device.write("void", SHEET, {"target": closing.id, "why": "not done yet"})
    assert summary(fold(SHEET, [*entries, closing, reopened]))["status"] == "open"
    undone = device.write("void", SHEET, {"target": entries[0].id, "why": "wrong unit"})
    assert summary(fold(SHEET, [*entries, undone]))["status"] == "void"


@pytest.mark.parametrize(
    ("state", "expected"),
    [
        ("within", "proven"), ("tight", "proven"), ("dry", "proven"), ("outside", "not_proven"),
        ("leaking", "not_proven"), ("moisture", "not_proven"), ("too_close", "too_close"), (None, "kept"),
        ("of a newer version", "kept"),
    ],
)  # fmt: skip
def test_what_a_verdict_makes_of_its_strip(state: str | None, expected: str) -> None:
    assert standing(state) == expected


def test_a_listing_narrows_and_orders_alike_on_both_hosts() -> None:
    found = []
    for number, name in enumerate(("beta", "Alpha", "alpha")):
        device = Device(number + 1)
        ref = Ref("site", uid(10 + number))
        found.append(summary(fold(ref, [device.write("site", ref, {"name": name})])))
    ref, body, touches = BODIES["unit"]
    found.append(summary(fold(ref, [Device(9).write("unit", ref, body, touches=touches)])))
    assert [one["title"] for one in select(found, Listing("site"))] == ["Alpha", "alpha", "beta"]
    assert select(found, Listing("site")) == select(reversed(found), Listing("site"))
    assert [one["title"] for one in select(found, Listing("unit", parent=uid(1)))] == ["RTU-1"]
    assert select(found, Listing("unit", parent=uid(3))) == ()
    assert select(found, Listing("site", status="void")) == ()


def test_the_book_never_answers_for_what_was_not_put_in() -> None:
    book, listing = Book(), Listing("site")
    with pytest.raises(Missing) as missing:
        book.state(SHEET)
    assert missing.value.need == Need(subjects=frozenset({SHEET}))
    with pytest.raises(Missing) as missing:
        book.listing(listing)
    assert missing.value.need == Need(lists=frozenset({listing}))
    book.put_entries(SHEET, sheet_of(Device(1)))
    book.put_listing(listing, [])
    assert book.state(SHEET)["exists"]
    assert book.listing(listing) == ()
    both = Need(frozenset({SHEET, Ref("site", uid(1))}), frozenset({listing}))
    assert book.lacks(both) == Need(frozenset({Ref("site", uid(1))}))
