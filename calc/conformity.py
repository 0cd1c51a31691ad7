"""From a figure and what is allowed to a verdict: within, outside, or too close to call.

The guard band is the expanded uncertainty itself, on both sides of the limit (JCGM 106:2012, 8.2 and 8.3;
ILAC-G8:09/2019): neither a pass nor a fail is said where the figure's own uncertainty could turn it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import erf, inf, sqrt

from calc.messages import Message
from calc.uncertainty import COVERAGE

WITHIN, OUTSIDE, TOO_CLOSE = "within", "outside", "too_close"


@dataclass(frozen=True)
class Verdict:
    """state, the sentence, and the probability that the true value is inside [low, high] of the result named `of`.

    low and high are in the result's canonical unit.
    """

    state: str
    text: Message
    probability: float
    of: str = ""
    low: float | None = None
    high: float | None = None


def probability_inside(value: float, standard: float, low: float = -inf, high: float = inf) -> float:
    """Probability that the true value lies in [low, high], for a normal distribution around the value.

    Parameters
        value, standard: figure and its standard uncertainty, same unit as the limits
        low, high: what is allowed; either may be infinite
    Returns
        0 to 1
    Source
        JCGM 106:2012, 7.2 to 7.4
    Example
        >>> round(probability_inside(13.6, 1.8, 12.5, 16.3), 4)
        0.6626
    """
    if standard == 0:
        return 1.0 if low <= value <= high else 0.0
    return _normal((high - value) / standard) - _normal((low - value) / standard)


def state(value: float, expanded: float, low: float = -inf, high: float = inf) -> str:
    """ "within" if the whole ± band lies inside [low, high], "outside" if all of it lies beyond, else "too_close".

    Parameters
        value, expanded: figure and expanded uncertainty (k = 2), same unit as the limits
    Source
        JCGM 106:2012, 8.3.2 (guarded acceptance) and 8.3.3 (guarded rejection)
    Example
        >>> state(10.0, 1.0, 5.0, 15.0), state(14.5, 1.0, 5.0, 15.0), state(17.0, 1.0, 5.0, 15.0)
        ('within', 'too_close', 'outside')
    """
    if value - expanded >= low and value + expanded <= high:
        return WITHIN
    if value - expanded > high or value + expanded < low:
        return OUTSIDE
    return TOO_CLOSE


def inside(value: float, expanded: float, low: float = -inf, high: float = inf) -> float:
    """probability_inside from an expanded uncertainty (k = 2)."""
    return probability_inside(value, expanded / COVERAGE, low, high)


def _normal(z: float) -> float:
    return 0.5 * (1.0 + erf(z / sqrt(2.0)))
