"""Binary pairs of the blends: what CoolProp carries, and the pairs that have to be estimated.

CoolProp 8.0.0 lacks ten pairs. Five involve a pentane at 0.6 % of mass; there the linear rule spoils the dew point by
3 K, so gamma_T is borrowed from the n-butane pair of the same fluorocarbon (betas 1, gamma_v linear). The others take
the linear rule as it is, and their blends carry a wide error bar.
"""

from __future__ import annotations

from contextlib import suppress
from functools import cache
from itertools import combinations
from typing import Any

from CoolProp.CoolProp import (
    apply_simple_mixing_rule,
    get_fluid_param_string,
    get_mixture_binary_pair_data,
    set_mixture_binary_pair_data,
)

from tests.reference.catalogue import number_of

# (component, component) -> component whose pair with the second lends its gamma_T, or None for the linear rule.
ESTIMATED: dict[tuple[str, str], str | None] = {
    ("n-Pentane", "R125"): "n-Butane",
    ("n-Pentane", "R134a"): "n-Butane",
    ("Isopentane", "R32"): "n-Butane",
    ("Isopentane", "R125"): "n-Butane",
    ("Isopentane", "R134a"): "n-Butane",
    ("Isopentane", "R227EA"): "n-Butane",
    ("R124", "R22"): None,
    ("R124", "R152A"): None,
    ("R125", "R22"): None,
    ("R227EA", "R236FA"): None,
}
NUMBERS = ("betaT", "gammaT", "betaV", "gammaV", "xi", "zeta")  # a pair has the first four or the last two


def _cas(fluid: str) -> str:
    return str(get_fluid_param_string(fluid, "CAS"))


def _ordered(first: str, second: str) -> list[str]:
    """The two names in the order in which CoolProp keeps the pair; it refuses the other."""
    return sorted((first, second), key=_cas)


def _number(first: str, second: str, name: str) -> float:
    pair = _ordered(first, second)
    return float(get_mixture_binary_pair_data(_cas(pair[0]), _cas(pair[1]), name))


def carried(first: str, second: str) -> bool:
    """Whether CoolProp itself holds data for the pair (asked before set_estimated_pairs)."""
    try:
        _number(first, second, "F")
    except ValueError:
        return False
    return True


@cache
def set_estimated_pairs() -> None:
    """Set every estimated pair of this process, once; a pair that CoolProp does carry is an error."""
    for (first, second), lender in ESTIMATED.items():
        if carried(first, second):
            raise RuntimeError(f"CoolProp now carries {first}/{second}: drop it from ESTIMATED")
        cas = [_cas(f) for f in _ordered(first, second)]
        apply_simple_mixing_rule(*cas, "linear")
        if lender is not None:
            set_mixture_binary_pair_data(*cas, "gammaT", _number(lender, second, "gammaT"))
            set_mixture_binary_pair_data(*cas, "betaT", 1.0)


def describe_pairs(fluids: list[str]) -> list[dict[str, Any]]:
    """Designations, basis, source key and numbers of every pair of a blend, as CoolProp now uses them."""
    rows: list[dict[str, Any]] = []
    for one, other in combinations(fluids, 2):
        first, second = _ordered(one, other)
        row: dict[str, Any] = {"pair": [number_of(first), number_of(second)]}
        estimate = next((k for k in ESTIMATED if set(k) == {first, second}), None)
        if estimate is not None:
            lender = ESTIMATED[estimate]
            row["basis"] = "estimated"
            row["source"] = (
                f"gamma_T of {number_of(lender)} with {number_of(estimate[1])}" if lender else "linear combining rule"
            )
        else:
            row["basis"] = "departure function" if _number(first, second, "F") else "fitted parameters"
            row["source"] = str(get_mixture_binary_pair_data(_cas(first), _cas(second), "BibTeX"))
        for name in NUMBERS:
            with suppress(ValueError):  # the pair is stored in the other form
                row[name] = _number(first, second, name)
        rows.append(row)
    return rows
