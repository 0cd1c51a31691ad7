"""Readings that cannot all be true together, found before any arithmetic.

Source: the share of 0.9 is this project's own line between a running circuit, whose absolute suction pressure is well
under its liquid pressure (at most 0.61 of it in the fault-free and faulty runs of NIST's heat-pump data,
doi:10.18434/M32132), and a dead or doubled transducer, which reads the same twice.
"""

from __future__ import annotations

from calc.messages import N_, message
from calc.values import Values

RUNNING_SHARE = 0.9


def check_suction_below(values: Values, suction: str, high: str, *, blame: str) -> None:
    """Refuses a suction pressure that is not below the liquid or discharge pressure, both absolute; names one field.

    Parameters
        suction, high: names of the two pressure fields; nothing is said unless both were given
        blame: the field that carries the fault
    Raises
        Refused with code contradiction
    """
    if suction not in values or high not in values:
        return
    if values[suction] < RUNNING_SHARE * values[high]:
        return
    problem = (
        message(N_("Suction pressure {suction} is above the high side, {high}"), **_both(values, suction, high))
        if values[suction] > values[high]
        else message(
            N_("Suction pressure {suction} is hardly below the high side, {high}: that is no running circuit"),
            **_both(values, suction, high),
        )
    )
    hint = message(
        N_("Check that the two were not swapped, that each is in its own unit, and that the compressor was running")
    )
    raise values.refuse(blame, "contradiction", problem, hint)


def _both(values: Values, suction: str, high: str) -> dict[str, str]:
    return {"suction": values.texts[suction], "high": values.texts[high]}
