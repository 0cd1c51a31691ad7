"""The printed table of target superheat for fixed metering in cooling, and the rule of thumb beside it.

Source: calc/data/target_superheat_f.csv, as printed in installation literature of the trade (common practice); where
prints disagree the row's note says so. A dash in print, an empty cell here, is no valid test.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import NamedTuple

_SNAP_F = 1e-6
_COLUMNS = 15  # before the note, which may hold commas
PRINTS_DIFFER_F = 1.0
"""How far one print may lie from another at the same cell [°F]."""
LEAST_F = 5.0
"""Below this target the test is not valid [°F]: California 2008 Residential Appendix RA3, RA3.2."""


class Table(NamedTuple):
    """Outdoor dry bulbs (rows) and indoor wet bulbs (columns) [°F], cells [°F] with None for a dash, notes by row."""

    dry: tuple[float, ...]
    wet: tuple[float, ...]
    cells: tuple[tuple[float | None, ...], ...]
    notes: tuple[str, ...]


@cache
def printed() -> Table:
    """The table as printed.

    Source
        common practice: installation literature of the trade
    """
    text = files("calc").joinpath("data/target_superheat_f.csv").read_text(encoding="utf-8")
    head, *rows = (line.split(",", _COLUMNS) for line in text.splitlines())
    return Table(
        tuple(float(row[0]) for row in rows),
        tuple(float(name) for name in head[1:-1]),
        tuple(tuple(float(cell) if cell else None for cell in row[1:-1]) for row in rows),
        tuple(row[-1] for row in rows),
    )


def from_table_f(wet_f: float, dry_f: float) -> float | None:
    """Target superheat between the printed cells, straight along both sides; None where a cell needed is a dash.

    Parameters
        wet_f: indoor wet bulb [°F]
        dry_f: outdoor dry bulb [°F]
    Returns
        target superheat, a difference [°F], or None
    Validity
        inside the table's edges; ValueError beyond
    Source
        common practice: installation literature of the trade
    Example
        >>> from_table_f(67.0, 90.0), from_table_f(58.0, 95.0)
        (14.5, None)
    """
    table = printed()
    total = 0.0
    for row, row_share in _between(table.dry, dry_f):
        for column, column_share in _between(table.wet, wet_f):
            cell = table.cells[row][column]
            if cell is None:
                return None
            total += row_share * column_share * cell
    return total


def from_formula_f(wet_f: float, dry_f: float) -> float:
    """Target superheat by the rule of thumb (3·wet bulb − 80 − dry bulb)/2.

    Parameters
        wet_f: indoor wet bulb [°F]
        dry_f: outdoor dry bulb [°F]
    Returns
        target superheat, a difference [°F]; it leaves the printed table by up to 6.5 °F at the corners
    Source
        common practice, no source
    Example
        >>> from_formula_f(67.0, 90.0)
        15.5
    """
    return (3.0 * wet_f - 80.0 - dry_f) / 2.0


def _between(axis: tuple[float, ...], value: float) -> list[tuple[int, float]]:
    """The places on an axis that a value lies between, with their shares; one place where it is on it."""
    for place, at in enumerate(axis):
        if abs(value - at) <= _SNAP_F:
            return [(place, 1.0)]
    for place in range(len(axis) - 1):
        if axis[place] < value < axis[place + 1]:
            share = (value - axis[place]) / (axis[place + 1] - axis[place])
            return [(place, 1.0 - share), (place + 1, share)]
    raise ValueError(f"{value} °F is beyond the table ({axis[0]:g} to {axis[-1]:g} °F)")
