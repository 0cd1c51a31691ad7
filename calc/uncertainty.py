"""How sure a result is: each input's standard uncertainty carried through, first order, correlations kept by origin.

An origin is one independent cause (a reading, the site's pressure, a table's model error); it may move several inputs
at once, and that is all there is to correlation. Amounts of one origin add before squaring.

Source: JCGM 100:2008 (GUM), 5.1 and 5.2, with origins as in 5.2.4; rectangular limits 4.3.7.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import sqrt
from typing import NamedTuple

from calc.errors import Refused

COVERAGE = 2.0
"""Coverage factor k of every uncertainty shown."""
LOPSIDED = 0.5

Contributions = Mapping[str, float]
Numbers = Mapping[str, float]


class TooWide(Exception):
    """A doubt so wide that the results cannot be worked out to either side of it; origin: its name."""

    def __init__(self, origin: str) -> None:
        self.origin = origin
        super().__init__(origin)


class Origin(NamedTuple):
    """One cause of doubt: its name and by how much one standard uncertainty of it moves each input."""

    name: str
    moves: Mapping[str, float]


class Spread(NamedTuple):
    """Contributions of each origin to each result, and the origins felt on one side only or unevenly."""

    contributions: dict[str, dict[str, float]]
    one_sided: tuple[str, ...]
    lopsided: tuple[str, ...]


def from_limit(limit: float) -> float:
    """Standard uncertainty of a limit of error, read as rectangular: a/√3.

    Source
        JCGM 100:2008, 4.3.7
    Example
        >>> round(from_limit(1.0), 5)
        0.57735
    """
    return limit / sqrt(3.0)


def standard(contributions: Contributions) -> float:
    """Combined standard uncertainty: root of the sum of squares over independent origins (JCGM 100:2008, 5.1.2)."""
    return sqrt(sum(amount * amount for amount in contributions.values()))


def expanded(contributions: Contributions) -> float:
    """Expanded uncertainty U = k·u with k = 2."""
    return COVERAGE * standard(contributions)


def combined(*parts: tuple[float, Contributions]) -> dict[str, float]:
    """Contributions of a weighted sum of results: amounts of one origin add with their signs.

    Example
        >>> combined((1.0, {"a": 3.0}), (-1.0, {"a": 3.0, "b": 4.0}))
        {'a': 0.0, 'b': -4.0}
    """
    total: dict[str, float] = {}
    for weight, contributions in parts:
        for origin, amount in contributions.items():
            total[origin] = total.get(origin, 0.0) + weight * amount
    return total


def propagate(compute: Callable[[Numbers], Numbers], origins: Sequence[Origin], central: Numbers) -> Spread:
    """Contributions by central differences of one standard uncertainty of each origin.

    compute takes the moves of the inputs and gives the results; where one side is refused the other is used alone, and
    where both are, TooWide names the origin. An origin whose two sides differ by more than half is called lopsided.

    Source
        JCGM 100:2008, 5.1.3, note 2 (numerical sensitivity)
    """
    contributions: dict[str, dict[str, float]] = {name: {} for name in central}
    one_sided: list[str] = []
    lopsided: list[str] = []
    for origin in origins:
        up, down = _side(compute, origin, 1.0), _side(compute, origin, -1.0)
        if up is None and down is None:
            raise TooWide(origin.name)
        if up is None or down is None:
            one_sided.append(origin.name)
        for name, middle in central.items():
            rise = up[name] - middle if up is not None else None
            fall = middle - down[name] if down is not None else None
            if rise is not None and fall is not None:
                amount = (rise + fall) / 2.0
                if abs(rise - fall) > LOPSIDED * max(abs(rise), abs(fall)) and abs(rise - fall) > 1e-9 * abs(middle):
                    lopsided.append(origin.name)
            else:
                amount = rise if rise is not None else fall if fall is not None else 0.0
            if amount:
                contributions[name][origin.name] = amount
    return Spread(contributions, tuple(one_sided), tuple(dict.fromkeys(lopsided)))


def _side(compute: Callable[[Numbers], Numbers], origin: Origin, sign: float) -> Numbers | None:
    try:
        return compute({name: sign * move for name, move in origin.moves.items()})
    except Refused:
        return None
