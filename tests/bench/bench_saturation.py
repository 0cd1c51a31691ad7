"""Saturation from the tables against CoolProp's equations, in one run: speed as ratios, and values."""

from __future__ import annotations

import time
from collections.abc import Callable
from statistics import geometric_mean

import CoolProp
from CoolProp.CoolProp import PropsSI

from calc import saturation as sat
from calc.refrigerants import get

AIM_BLEND, AIM_PURE = 300, 50
BLENDS = ("R-410A", "R-454B", "R-407C", "R-404A", "R-448A", "R-513A")
PURES = ("R-134a", "R-22", "R-32", "R-290", "R-744", "R-717")
NAMES = {"R-290": "n-Propane", "R-744": "CarbonDioxide", "R-717": "Ammonia"}
TEMPERATURES_C = tuple(float(t) for t in range(-40, 28))
WRONG_K = 0.01
ZERO_C = 273.15
ROUNDS = 5


def _seconds(work: Callable[[], object], calls: int) -> float:
    """Least time for one call, of several rounds."""
    least = float("inf")
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        least = min(least, time.perf_counter() - start)
    return least / calls


def _tables(name: str) -> tuple[float, float]:
    """Seconds for a bubble pressure and for a dew temperature."""
    fluid, repeats = get(name), 200
    pressures = [sat.dew_pressure_pa(fluid, t) for t in TEMPERATURES_C]

    def by_temperature() -> None:
        for _ in range(repeats):
            for t in TEMPERATURES_C:
                sat.bubble_pressure_pa(fluid, t)

    def by_pressure() -> None:
        for _ in range(repeats):
            for p in pressures:
                sat.dew_temperature_c(fluid, p)

    calls = repeats * len(TEMPERATURES_C)
    return _seconds(by_temperature, calls), _seconds(by_pressure, calls)


def _wrong(name: str, bubble_pa: list[float], dew_c: list[float]) -> int:
    """How many values of the table lie further from CoolProp's than WRONG_K."""
    fluid = get(name)
    by_pressure = sum(
        abs(sat.bubble_temperature_c(fluid, p) - t) > WRONG_K for t, p in zip(TEMPERATURES_C, bubble_pa, strict=True)
    )
    found = (sat.dew_temperature_c(fluid, sat.dew_pressure_pa(fluid, t)) for t in TEMPERATURES_C)
    return by_pressure + sum(abs(a - b) > WRONG_K for a, b in zip(found, dew_c, strict=True))


def _blend(name: str) -> tuple[float, float, int]:
    state = CoolProp.AbstractState("HEOS", f"{name.replace('-', '')}.mix")
    fluid = get(name)
    pressures = [sat.dew_pressure_pa(fluid, t) for t in TEMPERATURES_C]
    bubble_pa: list[float] = []
    dew_c: list[float] = []

    def by_temperature() -> None:
        bubble_pa.clear()
        for t in TEMPERATURES_C:
            state.update(CoolProp.QT_INPUTS, 0.0, t + ZERO_C)
            bubble_pa.append(state.p())

    def by_pressure() -> None:
        dew_c.clear()
        for p in pressures:
            state.update(CoolProp.PQ_INPUTS, p, 1.0)
            dew_c.append(state.T() - ZERO_C)

    theirs = _seconds(by_temperature, len(TEMPERATURES_C)), _seconds(by_pressure, len(TEMPERATURES_C))
    ours = _tables(name)
    return theirs[0] / ours[0], theirs[1] / ours[1], _wrong(name, bubble_pa, dew_c)


def _pure(name: str) -> tuple[float, float, int]:
    called = NAMES.get(name, name.replace("-", ""))
    fluid = get(name)
    pressures = [sat.dew_pressure_pa(fluid, t) for t in TEMPERATURES_C]
    bubble_pa: list[float] = []
    dew_c: list[float] = []

    def by_temperature() -> None:
        bubble_pa[:] = [PropsSI("P", "T", t + ZERO_C, "Q", 0, called) for t in TEMPERATURES_C]

    def by_pressure() -> None:
        dew_c[:] = [PropsSI("T", "P", p, "Q", 1, called) - ZERO_C for p in pressures]

    theirs = _seconds(by_temperature, len(TEMPERATURES_C)), _seconds(by_pressure, len(TEMPERATURES_C))
    ours = _tables(name)
    return theirs[0] / ours[0], theirs[1] / ours[1], _wrong(name, bubble_pa, dew_c)


def run() -> list[tuple[str, str, str]]:
    """Ratios of this run: how many table look-ups fit into one of CoolProp's, and how many values were wrong."""
    rows: list[tuple[str, str, str]] = []
    for kind, names, measure, aim in (
        ("blend, against AbstractState", BLENDS, _blend, AIM_BLEND),
        ("pure, against PropsSI", PURES, _pure, AIM_PURE),
    ):
        results = {name: measure(name) for name in names}
        for i, what in enumerate(("bubble pressure", "dew temperature")):
            ratios = {name: result[i] for name, result in results.items()}
            worst = min(ratios, key=ratios.__getitem__)
            rows.append(
                (f"{what}, {kind}: mean of {len(names)}", f"{geometric_mean(ratios.values()):.0f}×", f"≥ {aim}×")
            )
            rows.append((f"{what}, {kind}: least ({worst})", f"{ratios[worst]:.0f}×", f"≥ {aim}×"))
        wrong = sum(result[2] for result in results.values())
        total = 2 * len(TEMPERATURES_C) * len(names)
        rows.append((f"{kind.split(',')[0]}: values off by more than {WRONG_K} K", f"{wrong} of {total}", "0"))
    return rows
