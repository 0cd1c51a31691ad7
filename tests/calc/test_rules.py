"""Every rule held as data says what it is worth, where it stands, for whom, and when it was read."""

from __future__ import annotations

from pathlib import Path

import pytest

import calc
from calc import refrigerants
from calc.rules import Rule, rule_book

BOOKS = sorted(path.stem for path in (Path(calc.__file__).parent / "data/rules").glob("*.json"))


@pytest.mark.parametrize("name", BOOKS)
def test_every_rule_says_where_it_stands(name: str) -> None:
    book = rule_book(name)
    assert list(book)
    for key in book:
        rule = book[key]
        assert isinstance(rule, Rule)
        assert rule.value is not None
        for part in (rule.source, rule.clause, rule.edition, rule.region, rule.read, rule.remark):
            assert part in rule.cite()
        assert all((rule.source, rule.clause, rule.edition, rule.region, rule.read))
        assert rule.unit or isinstance(rule.value, str | list), key


@pytest.mark.parametrize("name", BOOKS)
def test_rules_about_refrigerants_are_about_refrigerants_held(name: str) -> None:
    held = set(refrigerants.designations())
    assert {key for key in rule_book(name) if key.startswith("R-")} <= held


def test_there_are_books() -> None:
    assert len(BOOKS) >= 14
