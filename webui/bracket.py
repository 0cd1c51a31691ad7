"""Geometry of a bracket bar: the target as a bracket, the figure as a tick, its uncertainty as a whisker."""

from __future__ import annotations

from dataclasses import dataclass

WIDTH = 320
_MARGIN = 16


@dataclass(frozen=True)
class Bar:
    """Places along the bar [0 to WIDTH, one decimal] and what they say. whisker_low is None without uncertainty."""

    low: float
    high: float
    value: float
    whisker_low: float | None
    whisker_high: float | None
    value_text: str
    target_text: str


def bar(value: float, u: float | None, low: float, high: float, value_text: str, target_text: str) -> Bar:
    """A bar that shows the whole bracket and the whole whisker; all figures in one unit."""
    spread = u or 0.0
    left, right = min(low, value - spread), max(high, value + spread)
    span = (right - left) or 1.0

    def place(at: float) -> float:
        return round(_MARGIN + (at - left) / span * (WIDTH - 2 * _MARGIN), 1)

    ends = (place(value - spread), place(value + spread)) if spread else (None, None)
    return Bar(place(low), place(high), place(value), ends[0], ends[1], value_text, target_text)
