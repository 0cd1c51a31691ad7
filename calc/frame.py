"""How figures are shown in one answer: in the units that were typed, at the site's air pressure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from calc.display import alone, with_uncertainty
from calc.messages import Amount
from calc.notation import Typed
from calc.pressure import read_pa
from calc.uncertainty import combined, expanded
from calc.units import CANONICAL, Unit, difference_unit, named_unit, usual_unit

SITE = "site_pressure"
"""Name of the origin and of the value that the site's air pressure has everywhere."""


class Frame:
    """Units of one answer. system overrides what was typed; without either, US units are used."""

    def __init__(
        self, typed: Iterable[Typed], system: str | None, site_pa: float, site_moves: Mapping[str, float]
    ) -> None:
        self.site_pa = site_pa
        self.site_moves = site_moves
        self._typed: dict[str, Unit] = {}
        systems: dict[str, str] = {}
        for value in typed:
            self._typed.setdefault(value.unit.quantity, value.unit)
            systems.setdefault(value.unit.quantity, value.unit.system)
        order = ("temperature", "pressure", "temperature_difference", "pressure_difference", "length")
        known = [systems[q] for q in (*order, *systems) if systems.get(q)]
        self.system = system or (known[0] if known else "us")
        if system:
            self._typed.clear()

    def unit(self, quantity: str, reads: str = "") -> Unit:
        """The unit a quantity is shown in; reads says for pressures what the field or result is."""
        typed = self._typed.get(quantity)
        if typed:
            return typed
        for whole, difference in (("temperature", "temperature_difference"), ("pressure", "pressure_difference")):
            if quantity == difference and whole in self._typed:
                return difference_unit(self._typed[whole])
        return usual_unit(quantity, reads, self.system)

    def number(self, value: float, unit: Unit) -> float:
        """A canonical value as a number in `unit`."""
        if unit.quantity == "pressure":
            return read_pa(value, unit, self.site_pa)
        return (value - unit.zero) / unit.scale

    def show(
        self, value: float, quantity: str, contributions: Mapping[str, float] | None = None, reads: str = "",
        unit: Unit | None = None,
    ) -> str:  # fmt: skip
        """A canonical value with its expanded uncertainty, in the unit of this answer.

        A pressure shown as a gauge reads it carries what a gauge would show: the doubt about the site's air pressure
        enters against the reading.
        """
        chosen = unit or self.unit(quantity, reads)
        if contributions is None:
            most = 1 if quantity in ("temperature", "temperature_difference") else 3
            return alone(self.number(value, chosen), chosen.symbol, most)
        if chosen.reads in ("gauge", "vacuum"):
            contributions = combined((1.0, contributions), (-1.0, self.site_moves))
        return with_uncertainty(self.number(value, chosen), expanded(contributions) / chosen.scale, chosen.symbol)

    def amount(self, value: float, quantity: str, reads: str = "", unit: str = "") -> Amount:
        """A figure for a sentence, without uncertainty."""
        chosen = named_unit(unit, quantity) if unit else None
        return Amount(value, CANONICAL[quantity], self.show(value, quantity, None, reads, chosen))
