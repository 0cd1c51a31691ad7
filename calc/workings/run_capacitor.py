"""A run capacitor under load: its capacitance from current, voltage across it and frequency, against its rating."""

from __future__ import annotations

from math import pi

from calc.declaration import Field, Result, Working
from calc.messages import N_
from calc.telling import Telling
from calc.values import Values

TOLERANCE = 0.06
_SOURCE = "current through a capacitor on a sine supply, I = 2π f C V: first principles"
_RULE = "tolerance printed on the capacitor; 6 % where none was given: common practice, no source"
LINE_HIGHEST_V = 250.0
MUCH_ABOVE = 1.2


def run_capacitor(values: Values) -> dict[str, float]:
    """Capacitance [F] of a capacitor that carries a current [A] at a voltage [V] and frequency [Hz].

    Source
        first principles: I = 2π f C V
    """
    return {"capacitance": values["current"] / (2.0 * pi * values["frequency"] * values["voltage"])}


def explain(telling: Telling) -> None:
    """The formula, the verdict against the rating, and the mistakes that the figure shows."""
    values = telling.values
    telling.because(
        N_("capacitance = current ÷ (2π × frequency × voltage across the capacitor)"),
        N_("{current} ÷ (2π × {frequency} × {voltage}) = {capacitance}"),
        _SOURCE,
        current=telling.reading("current"),
        frequency=telling.reading("frequency"),
        voltage=telling.reading("voltage"),
        capacitance=telling.result("capacitance"),
    )
    telling.taken_as_exact("current", "voltage", "frequency")
    telling.note(
        N_(
            "Voltage across the capacitor's own two terminals, and the current of the wire to the start winding, "
            "running: the voltage of the line gives a wrong figure"
        )
    )
    if "rated" in values:
        _against_rating(telling)
    elif "tolerance" in values:
        telling.note(N_("No rating was given: the tolerance is not used"))


def _against_rating(telling: Telling) -> None:
    values = telling.values
    rated, tolerance = values["rated"], values.number("tolerance", TOLERANCE)
    if "tolerance" not in values:
        telling.note(N_("Tolerance assumed: 6 % either way"))
    telling.judge("capacitance", rated * (1.0 - tolerance), rated * (1.0 + tolerance))
    telling.why_judged("capacitance", _RULE)
    if telling["capacitance"] == 0.0:
        telling.note(N_("No current: the capacitor is open, or the clamp is on another wire"))
    elif telling["capacitance"] > MUCH_ABOVE * rated and values["voltage"] <= LINE_HIGHEST_V:
        telling.note(
            N_("Far above the rating: {voltage} may be the line's voltage, not the one across the capacitor"),
            voltage=telling.reading("voltage"),
        )


WORKING = Working(
    name="run_capacitor",
    title=N_("Run capacitor"),
    purpose=N_("Capacitance of a run capacitor in work, from current and the voltage across it, against its rating"),
    fields=(
        Field(
            "current", N_("Current"), N_("Through the capacitor, clamp on its wire to the start winding"),
            quantity="current", low=0.0, high=200.0, required=True,
        ),
        Field(
            "voltage", N_("Voltage across the capacitor"), N_("Between the capacitor's own two terminals, running"),
            quantity="voltage", low=1.0, high=1000.0, required=True, aliases=("capacitor_voltage",),
        ),
        Field(
            "frequency", N_("Frequency"), N_("Of the supply as it is, such as 60 Hz; a sine, not an inverter's output"),
            quantity="frequency", low=40.0, high=70.0, required=True,
        ),
        Field(
            "rated", N_("Rated capacitance"), N_("As printed on the capacitor"),
            quantity="capacitance", low=1e-7, high=1e-3,
        ),
        Field(
            "tolerance", N_("Tolerance"), N_("As printed on the capacitor, either way (6 % where not given)"),
            quantity="ratio", low=0.0, high=0.5,
        ),
    ),
    results=(Result("capacitance", N_("Capacitance"), N_("That the capacitor has in work"), "capacitance"),),
    function=run_capacitor,
    explain=explain,
    sources=(_SOURCE, _RULE),
    cautions=(
        N_(
            "Live parts: only who is qualified measures on them, with a meter rated for the place; "
            "local codes and the licence hold"
        ),
        N_("A capacitor holds its charge with the supply off: isolate, discharge it through a resistor, and check"),
    ),
    order=80,
)  # fmt: skip
