"""What calc offers says what it is: docstrings with units, source and examples that hold."""

from __future__ import annotations

import ast
import doctest
import importlib
import pkgutil
import re
from collections.abc import Iterator

import pytest

import calc

UNITS = ("_pa", "_c", "_k", "_m", "_kg", "_s", "_f", "_kg_m3", "_j_kg", "_j_kg_k")
MODULES = ["calc", *(module.name for module in pkgutil.walk_packages(calc.__path__, "calc."))]


def functions(name: str) -> Iterator[tuple[str, ast.FunctionDef]]:
    """Public functions at the top of a module."""
    spec = importlib.util.find_spec(name)
    assert spec is not None
    assert spec.origin is not None
    with open(spec.origin, encoding="utf-8") as source:
        for node in ast.parse(source.read()).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield f"{name}.{node.name}", node


FUNCTIONS = [pair for name in MODULES for pair in functions(name)]
PHYSICAL = [
    (name, node)
    for name, node in FUNCTIONS
    if any(argument.arg.endswith(UNITS) for argument in (*node.args.args, *node.args.kwonlyargs))
    or node.name.endswith(UNITS)
]


@pytest.mark.parametrize("name", MODULES)
def test_modules_and_what_they_offer_are_described(name: str) -> None:
    module = importlib.import_module(name)
    assert (module.__doc__ or "").strip()
    for attribute, value in vars(module).items():
        if isinstance(value, type) and value.__module__ == name and not attribute.startswith("_"):
            assert (value.__doc__ or "").strip(), f"{name}.{attribute}"


@pytest.mark.parametrize(("name", "node"), FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_functions_are_described(name: str, node: ast.FunctionDef) -> None:
    assert (ast.get_docstring(node) or "").strip()


@pytest.mark.parametrize(("name", "node"), PHYSICAL, ids=[name for name, _ in PHYSICAL])
def test_functions_of_quantities_give_units_and_source(name: str, node: ast.FunctionDef) -> None:
    said = ast.get_docstring(node) or ""
    assert re.search(r"^Source\b", said, re.M)
    assert re.search(r"\[[^\]]+\]", said)
    for argument in (*node.args.args, *node.args.kwonlyargs):
        if argument.arg.endswith(UNITS):
            assert argument.arg in said, f"{name} says nothing of {argument.arg}"


def test_the_functions_of_workings_name_their_source() -> None:
    from calc.working import workings

    for working in workings().values():
        assert "Source" in (working.function.__doc__ or ""), working.name


@pytest.mark.parametrize("name", MODULES)
def test_examples_hold(name: str) -> None:
    failed, _ = doctest.testmod(importlib.import_module(name))
    assert failed == 0


def test_there_are_examples() -> None:
    assert len(PHYSICAL) > 15
    assert (
        sum(len(test.examples) for n in MODULES for test in doctest.DocTestFinder().find(importlib.import_module(n)))
        > 20
    )
