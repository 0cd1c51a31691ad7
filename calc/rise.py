"""Which curve a vacuum rises by: level, flattening, straight, flattening on a straight line, or not to be told.

Each curve is fitted by least squares within its bounds (nothing falls; a plateau is neared within the hold); they are
compared by the corrected Akaike information criterion; where two that mean different things are near, none is chosen.

Source: K. P. Burnham and D. R. Anderson, Model Selection and Multimodel Inference (2002), 2.4 (AICc) and 2.6 (from
memory); curves: common practice of vacuum technology, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, partial
from math import exp, inf, log, sqrt
from typing import NamedTuple

from calc.units import MICRON_PA

LEVEL, FLATTENING, SLOW, STRAIGHT, BOTH = "level", "flattening", "slow", "straight", "both"
FEWEST = 6
NEAR = 2.0
NOISE_SHARE, NOISE_PA = 0.002, 0.5 * MICRON_PA
"""A gauge repeats no better than this share of its reading, nor than half a micron; common practice, no source."""
QUICKEST, FLAT_WITHIN, STRAIGHT_BEYOND, BOTH_WITHIN = 0.03, 1.5, 4.0, 0.7
"""Time constants as shares of the hold: from 1.5 holds on a flattening is not seen, beyond 4 it is a straight line."""
_GRID = 30
_CLOSER = 30


class Curve(NamedTuple):
    """p = level + slope·t − drop·e^(−t/tau) in Pa and s; free: how many parameters; squares: of the misses [Pa²]."""

    kind: str
    level: float
    slope: float
    drop: float
    tau_s: float
    free: int
    squares: float
    criterion: float

    def at(self, time_s: float) -> float:
        """Pressure [Pa] at a time [s] after the first reading used."""
        return self.level + self.slope * time_s - (self.drop * exp(-time_s / self.tau_s) if self.drop else 0.0)


class Choice(NamedTuple):
    """The best curve, the best that means something else, whether they can be told apart, noise of a reading [Pa]."""

    best: Curve
    rival: Curve | None
    told: bool
    noise_pa: float


def noise_floor_pa(pressures_pa: tuple[float, ...]) -> float:
    """How well a vacuum gauge repeats at best.

    Parameters
        pressures_pa: readings, absolute [Pa]
    Returns
        standard deviation [Pa]
    Source
        common practice, no source
    """
    return max(NOISE_PA, NOISE_SHARE * sum(pressures_pa) / len(pressures_pa))


@lru_cache(maxsize=64)
def choose(times_s: tuple[float, ...], pressures_pa: tuple[float, ...]) -> Choice:
    """The curve that readings of a closed vacuum follow.

    Parameters
        times_s: rising, the first is 0; at least FEWEST of them [s]
        pressures_pa: readings, absolute [Pa]
    Returns
        the best curve, its rival, and whether the readings tell them apart
    Source
        AICc, Burnham and Anderson (2002), 2.4; differences under 2 do not decide, 2.6
    """
    floor = noise_floor_pa(pressures_pa)
    hold = times_s[-1]

    def at(kind: str, tau_s: float) -> Curve | None:
        return fitted(kind, tau_s, times_s, pressures_pa, floor)

    best = {kind: curve for kind in (LEVEL, STRAIGHT) if (curve := at(kind, 0.0))}
    for kind, low, high in (
        (FLATTENING, QUICKEST, FLAT_WITHIN), (SLOW, FLAT_WITHIN, STRAIGHT_BEYOND), (BOTH, QUICKEST, BOTH_WITHIN),
    ):  # fmt: skip
        curve = _nearest(partial(at, kind), low * hold, high * hold)
        if curve:
            best[kind] = curve
    order = sorted(best.values(), key=lambda curve: curve.criterion)
    first = order[0]
    level = best[LEVEL]
    if level.criterion <= first.criterion + NEAR:
        first = level
    elif first.kind == BOTH and STRAIGHT in best and best[STRAIGHT].criterion <= first.criterion + NEAR:
        first = best[STRAIGHT]
    leaks = (STRAIGHT, BOTH)  # these two mean the same
    rival = next((one for one in order if one.kind != first.kind and not {one.kind, first.kind} <= set(leaks)), None)
    clear = rival is None or first is level or rival.criterion > first.criterion + NEAR
    noise = sqrt(max(first.squares / max(len(times_s) - first.free, 1), floor * floor))
    return Choice(first, rival, clear and first.kind != SLOW, noise)


def _taus(low_s: float, high_s: float) -> list[float]:
    return [low_s * (high_s / low_s) ** (step / (_GRID - 1)) for step in range(_GRID)]


def _nearest(at: Callable[[float], Curve | None], low_s: float, high_s: float) -> Curve | None:
    """The curve with the time constant of least squares in a range: along a grid, then closer around the best."""
    taus = _taus(low_s, high_s)
    found = [(curve.squares, index) for index, tau in enumerate(taus) if (curve := at(tau))]
    if not found:
        return None
    _, index = min(found)
    low, high = taus[max(index - 1, 0)], taus[min(index + 1, _GRID - 1)]
    best = at(taus[index])
    for _ in range(_CLOSER):
        third = (high / low) ** (1.0 / 3.0)
        left, right = at(low * third), at(high / third)
        if left is None or right is None:
            break
        best = min((best, left, right), key=lambda curve: curve.squares if curve else inf)
        low, high = (low, high / third) if left.squares < right.squares else (low * third, high)
    return best


def fitted(
    kind: str, tau_s: float, times_s: tuple[float, ...], pressures_pa: tuple[float, ...], floor_pa: float
) -> Curve | None:
    """One curve with its time constant held, by least squares; None where it would fall or cannot be told.

    Parameters
        kind: LEVEL, STRAIGHT, FLATTENING, SLOW or BOTH
        tau_s: time constant, where it has one [s]
        times_s, pressures_pa, floor_pa: readings [s], [Pa], and what a gauge repeats to [Pa]
    Source
        linear least squares, normal equations
    """
    hold = times_s[-1]
    columns: list[list[float]] = [[1.0] * len(times_s)]
    if kind in (STRAIGHT, BOTH):
        columns.append([time / hold for time in times_s])
    if kind in (FLATTENING, SLOW, BOTH):
        columns.append([-exp(-time / tau_s) for time in times_s])
    solved = _solve(columns, pressures_pa)
    if solved is None or any(value < 0 for value in solved[1:]):
        return None
    level = solved[0]
    slope = solved[1] / hold if kind in (STRAIGHT, BOTH) else 0.0
    drop = solved[-1] if kind in (FLATTENING, SLOW, BOTH) else 0.0
    free = len(columns) + (1 if drop else 0)
    bare = Curve(kind, level, slope, drop, tau_s, free, 0.0, 0.0)
    squares = sum((bare.at(time) - p) ** 2 for time, p in zip(times_s, pressures_pa, strict=True))
    return bare._replace(squares=squares, criterion=_criterion(squares, len(times_s), free, floor_pa))


def _criterion(squares: float, count: int, free: int, floor_pa: float) -> float:
    """AICc; the noise is one more parameter, and never under the floor."""
    k = free + 1
    if count <= k + 1:
        return inf
    return count * log(squares / count + floor_pa**2) + 2.0 * k + 2.0 * k * (k + 1) / (count - k - 1)


def spread(choice: Choice, times_s: tuple[float, ...], pressures_pa: tuple[float, ...]) -> tuple[float, float]:
    """Standard uncertainty of the plateau [Pa] and of the slope [Pa/s] of the curve chosen, from the scatter alone.

    By how far each moves as the time constant runs over all that fits nearly as well, and by the scatter itself.

    Parameters
        choice: of choose
        times_s, pressures_pa: the same readings [s], [Pa]
    Source
        profile of the sum of squares, one standard uncertainty where it has grown by the noise squared
    """
    best, noise = choice.best, choice.noise_pa
    count, hold = len(times_s), times_s[-1]
    middle = sum(times_s) / count
    about = sqrt(sum((time - middle) ** 2 for time in times_s))
    levels, slopes = [best.level], [best.slope]
    if best.drop:
        widest = BOTH_WITHIN if best.kind == BOTH else STRAIGHT_BEYOND
        for tau in _taus(QUICKEST * hold, widest * hold):
            curve = fitted(best.kind, tau, times_s, pressures_pa, noise)
            if curve and curve.squares <= best.squares + noise * noise:
                levels.append(curve.level)
                slopes.append(curve.slope)
    level = max(abs(value - best.level) for value in levels)
    slope = max(abs(value - best.slope) for value in slopes)
    return max(level, noise / sqrt(count)), max(slope, noise / about)


def _solve(columns: list[list[float]], values: tuple[float, ...]) -> list[float] | None:
    """Least squares by the normal equations; None where the columns are too alike."""
    size = len(columns)
    rows = [
        [sum(a * b for a, b in zip(one, other, strict=True)) for other in columns]
        + [sum(a * b for a, b in zip(one, values, strict=True))]
        for one in columns
    ]
    for pivot in range(size):
        swap = max(range(pivot, size), key=lambda row: abs(rows[row][pivot]))
        rows[pivot], rows[swap] = rows[swap], rows[pivot]
        if abs(rows[pivot][pivot]) < 1e-10 * len(values):
            return None
        for row in range(pivot + 1, size):
            share = rows[row][pivot] / rows[pivot][pivot]
            rows[row] = [a - share * b for a, b in zip(rows[row], rows[pivot], strict=True)]
    solved = [0.0] * size
    for row in reversed(range(size)):
        rest = sum(rows[row][other] * solved[other] for other in range(row + 1, size))
        solved[row] = (rows[row][size] - rest) / rows[row][row]
    return solved
