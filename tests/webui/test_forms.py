"""Three inputs to the one text that calc reads, and back from what an entry keeps."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.working import workings
from webui.forms import Typed, inputs, typed, typed_from_kept
from webui.preferences import Preferences


@pytest.mark.parametrize(
    ("parts", "text"),
    [
        (("118", "psig", False), "118 psig"),
        (("118 ± 1", "psig", False), "118 psig ± 1"),
        (("118 +/- 0.5 %", "psig", False), "118 psig ± 0.5 %"),
        (("118 psi", "psig", False), "118 psi"),
        (("8.2 barg", "psig", False), "8.2 barg"),
        (("5", "°F", True), "-5 °F"),
        (("-5", "°F", True), "-5 °F"),
        (("1e3", "Pa", False), "1e3 Pa"),
        (("1 234,5", "kPaa", False), "1 234,5 kPaa"),
        (("3/8", "in", False), "3/8 in"),
        (("7 lb 4 oz", "kg", False), "7 lb 4 oz"),
        (("", "psig", True), ""),
    ],
)
def test_joined(parts: tuple[str, str, bool], text: str) -> None:
    assert Typed(*parts).joined() == text
    if text:
        assert typed_from_kept(Typed(*parts).kept()).joined() == text, "the same after it was kept"


@given(st.decimals(min_value=0, max_value=9999, places=2), st.sampled_from(["psig", "°C", "K"]), st.booleans())
def test_kept_and_back(number: object, unit: str, minus: bool) -> None:
    one = Typed(str(number), unit, minus)
    assert typed_from_kept(one.kept()) == one


def test_the_last_of_a_name_counts_and_blanks_go() -> None:
    assert typed([("a", "1"), ("a", " 2 "), ("a.unit", "K")], ["a", "b"]) == {"a": Typed("2", "K"), "b": Typed()}


def test_a_factor_is_typed_as_it_is_and_a_share_in_per_cent() -> None:
    """1.1 times the design pressure is no 1.1 %: a ratio that may pass one has no unit beside it."""
    by_name = {
        one.name: inputs([one], {}, [], Preferences("us"))[0]
        for working in workings().values()
        for one in working.fields
        if one.shape == "quantity" and one.quantity == "ratio"
    }
    assert by_name["factor"].units == ()
    assert by_name["factor"].typed.unit == ""
    assert by_name["relative_humidity"].units == ("%",)
