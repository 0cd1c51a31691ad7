"""Limits of error that stand in where none was typed.

Source: common practice, no source; each answer names the ones it used.
"""

from __future__ import annotations

from calc.messages import N_, Message, message
from calc.notation import Typed
from calc.units import PSI_PA

CLAMP_K = 1.0
AIR_K = 0.5
AIR_DIFFERENCE_K = 0.7
HUMIDITY = 0.03
BAROMETER_PA = 200.0

_NOTES = {
    "gauge": N_("Limit of error assumed for gauge pressures: 1 % of reading + 1 psi"),
    "vacuum": N_("Limit of error assumed for the vacuum gauge: 10 % of reading"),
    "clamp": N_("Limit of error assumed for pipe temperatures: 1 K (1.8 °F)"),
    "air": N_("Limit of error assumed for air temperatures: 0.5 K (0.9 °F)"),
    "air_difference": N_("Limit of error assumed for a difference of air temperatures: 0.7 K (1.3 °F)"),
    "humidity": N_("Limit of error assumed for relative humidity: 3 points of a hundred"),
    "mass": N_("Limit of error assumed for weighing: 0.5 % + 10 g"),
    "barometer": N_("Limit of error assumed for the barometer: 2 hPa"),
}


def kind_of_error(error: str, typed: Typed) -> str:
    """Which assumption fits a reading: an inHg vacuum is read on a compound gauge, not on a vacuum gauge."""
    return "gauge" if error == "vacuum" and typed.unit.reads == "vacuum" else error


def assumed_limit(kind: str, typed: Typed) -> float:
    """The limit of error assumed for a reading, as a difference in its canonical unit.

    Parameters
        kind: a key of the notes here
        typed: the reading; shares are of what was read, not of the absolute pressure
    Source
        common practice, no source
    """
    reading = abs(typed.number) * typed.unit.scale
    if kind == "gauge":
        return 0.01 * reading + PSI_PA
    if kind == "vacuum":
        return 0.10 * reading
    if kind == "mass":
        return 0.005 * reading + 0.010
    return {
        "clamp": CLAMP_K, "air": AIR_K, "air_difference": AIR_DIFFERENCE_K, "humidity": HUMIDITY,
        "barometer": BAROMETER_PA,
    }[kind]  # fmt: skip


def assumed_note(kind: str) -> Message:
    """The sentence that names an assumption."""
    return message(_NOTES[kind])
