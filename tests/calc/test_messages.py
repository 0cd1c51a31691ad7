"""Sentences and their places fit each other, wherever calc writes one."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

import calc
from calc.messages import N_, Amount, Message, message

FILES = sorted(Path(calc.__file__).parent.rglob("*.py"))
SPEAKERS = {"message": 0, "note": 0, "because": 1}


def places(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def sentences(node: ast.AST) -> Iterator[str]:
    """Every marked sentence inside an expression."""
    for inner in ast.walk(node):
        if isinstance(inner, ast.Call) and getattr(inner.func, "id", "") == "N_":
            (argument,) = inner.args
            assert isinstance(argument, ast.Constant), ast.dump(argument)
            yield argument.value


def calls(path: Path) -> Iterator[tuple[int, str, set[str]]]:
    """Line, sentence and named values of each call that speaks with values written out."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", None) or getattr(node.func, "attr", "")
            if name in SPEAKERS and all(keyword.arg for keyword in node.keywords) and len(node.args) > SPEAKERS[name]:
                for text in sentences(node.args[SPEAKERS[name]]):
                    yield node.lineno, text, {keyword.arg for keyword in node.keywords if keyword.arg}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_place_has_its_value_and_every_value_its_place(path: Path) -> None:
    for line, text, values in calls(path):
        assert places(text) == values, f"{path.name}:{line}"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_places_are_plain_names(path: Path) -> None:
    for text in sentences(ast.parse(path.read_text("utf-8"))):
        assert all(name.isidentifier() for name in places(text)), text


def test_there_are_sentences_to_check() -> None:
    assert sum(1 for path in FILES for _ in calls(path)) > 40


def test_a_message_is_english_and_can_be_said_otherwise() -> None:
    said = message(N_("{refrigerant} at {pressure}"), refrigerant="R-22", pressure=Amount(9.1e5, "Pa", "118 psig"))
    assert str(said) == "R-22 at 118 psig"
    assert said.said(lambda text: text.replace("at", "bei")) == "R-22 bei 118 psig"
    assert said.to_json() == {
        "text": "{refrigerant} at {pressure}",
        "values": {"refrigerant": "R-22", "pressure": {"value": "910000.0", "unit": "Pa", "shown": "118 psig"}},
    }


def test_what_was_typed_is_never_a_pattern() -> None:
    given = "{0.__class__} {x!r}"
    assert str(Message("given: {given}", {"given": given})) == f"given: {given}"
