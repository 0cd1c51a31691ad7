"""What can hurt at the act, by what is in the circuit. Aids, not rules: local codes and licensed practice decide."""

from __future__ import annotations

from calc.messages import N_

ALWAYS = (
    N_("Eye protection and gloves when hoses go on or off: liquid refrigerant freezes skin and eyes at once."),
    N_("Before reaching behind a panel: switch off, lock off, prove dead, let capacitors discharge."),
)
_ASPHYXIATION = N_("Refrigerant gas displaces air, lowest first: ventilate pits, cellars and coolers before going in.")
_FLAMMABLE = N_("Flammable: no ignition source within reach, ventilate, gas detector on before hoses go on.")
_HIGHLY = N_("Highly flammable: a spark from a switch is enough. Tools and machines marked for it only.")
_TOXIC = N_("Toxic: know the way out, keep breathing protection at hand, do not work alone.")
_CO2 = N_(
    "R-744: pressures are many times the usual, also at rest. Hoses and gauges rated for it only; never shut liquid in "
    "between two valves. A venting line can plug with dry ice and let go. Carbon dioxide also poisons well before it "
    "smothers: detector on."
)
CLOSING = N_("The local code and licensed practice decide; where they say more than this page, they hold.")


def cautions(designation: str, group: str) -> tuple[str, ...]:
    """Cautions for working on a circuit, the most particular first."""
    said: list[str] = []
    if designation == "R-744":
        said.append(_CO2)
    if group.startswith("B"):
        said.append(_TOXIC)
    if group.endswith("3"):
        said.append(_HIGHLY)
    if group[1:] in ("2L", "2", "3"):
        said.append(_FLAMMABLE)
    said.append(_ASPHYXIATION)
    return (*said, *ALWAYS, CLOSING)
