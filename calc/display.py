"""Numbers for people: rounded to their uncertainty, with it and their unit.

Source: JCGM 100:2008, 7.2.6 (one or two figures of an uncertainty are enough, the result follows it); where to keep two
figures is the rule of the Review of Particle Physics, section 5.3 (from memory).
"""

from __future__ import annotations

from math import floor, log10

_FEWEST_FIGURES = 4


def decimals_of(uncertainty: float) -> int:
    """Decimal places an uncertainty is worth (negative: tens, hundreds): two figures up to 3.54, else one.

    Example
        >>> decimals_of(0.936), decimals_of(1.6), decimals_of(57.7)
        (1, 1, -1)
    """
    power = floor(log10(uncertainty))
    leading = uncertainty / 10.0**power
    if leading < 3.545:
        return 1 - power
    return -power


def plain(number: float, decimals: int) -> str:
    """A number with so many decimal places (negative: rounded to tens or hundreds), with a true minus sign."""
    rounded = round(number, decimals)
    text = f"{abs(rounded):.{max(decimals, 0)}f}"
    return f"−{text}" if rounded < 0 and float(text) != 0 else text


def alone(number: float, symbol: str, most: int = 3) -> str:
    """A number with its unit where no uncertainty is meant: four figures, at most `most` decimals."""
    if number == 0:
        return _joined("0", symbol)
    decimals = min(most, max(0, _FEWEST_FIGURES - 1 - floor(log10(abs(number)))))
    text = plain(number, decimals)
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return _joined(text, symbol)


def with_uncertainty(number: float, expanded: float | None, symbol: str) -> str:
    """A number, its expanded uncertainty and the unit, both rounded alike.

    Example
        >>> with_uncertainty(11.178, 0.936, "°F"), with_uncertainty(-0.3, 1.6, "°F")
        ('11.2 ± 0.9 °F', '−0.3 ± 1.6 °F')
    """
    if not expanded or expanded < 1e-9 * max(abs(number), 1e-30):
        return alone(number, symbol)
    decimals = decimals_of(expanded)
    return _joined(f"{plain(number, decimals)} ± {plain(expanded, decimals)}", symbol)


def _joined(text: str, symbol: str) -> str:
    return text if symbol in ("", "1") else f"{text} {symbol}"
