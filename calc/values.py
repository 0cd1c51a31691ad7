"""What a working's function is handed: canonical values by field name, and saturation with its model's own doubt."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from calc import saturation
from calc.errors import Fault, Refused
from calc.frame import SITE, Frame
from calc.messages import N_, Amount, Message, message
from calc.refrigerants import Refrigerant
from calc.saturation import REASONS, OutsideTable, Side

MODEL = "model:"


@dataclass(frozen=True)
class Values:
    """Canonical values of the fields given; moves are shifts under which the function is asked again.

    A move named after a field shifts it; "model:bubble" and "model:dew" shift a saturation temperature by so many
    standard uncertainties of the model. gauged: the pressures that were typed as a gauge reads them, up from the site's
    air or down from it. counts: rows of each list and series, whose values are named `FIELD.ROW` or `FIELD.ROW.COLUMN`.
    """

    numbers: Mapping[str, float]
    words: Mapping[str, str]
    texts: Mapping[str, str]
    frame: Frame
    fluid: Refrigerant | None = None
    gauged: frozenset[str] = frozenset()
    standard: frozenset[str] = frozenset()
    moves: Mapping[str, float] | None = None
    counts: Mapping[str, int] = field(default_factory=dict)

    def moved(self, moves: Mapping[str, float]) -> Values:
        """The same values, shifted."""
        return replace(self, moves=moves)

    def __getitem__(self, name: str) -> float:
        return self.numbers[name] + self._move(name)

    def __contains__(self, name: str) -> bool:
        return name in self.numbers or name in self.words or name in self.counts

    def number(self, name: str, default: float) -> float:
        """A value, or the default where it was not given."""
        return self[name] if name in self.numbers else default

    def items(self, name: str) -> tuple[float, ...]:
        """The values of a list; empty where it was not given."""
        return tuple(self[f"{name}.{index}"] for index in range(self.counts.get(name, 0)))

    def column(self, name: str, column: str, default: float = 0.0) -> tuple[float, ...]:
        """One column of a series, with the default in rows that leave it out."""
        return tuple(self.number(f"{name}.{row}.{column}", default) for row in range(self.counts.get(name, 0)))

    def doubt(self, name: str) -> float:
        """How far one of the working's own doubts is moved, 0 at first; in the unit it was declared with."""
        return self._move(name)

    def word(self, name: str, default: str = "") -> str:
        """The word chosen for a field, or the default."""
        return self.words.get(name, default)

    @property
    def site_pa(self) -> float:
        """Air pressure at the site [Pa]."""
        return self[SITE]

    @property
    def refrigerant(self) -> Refrigerant:
        assert self.fluid is not None, "the working has no refrigerant field"
        return self.fluid

    def bubble_temperature_c(self, pressure_pa: float, field: str) -> float:
        """Bubble temperature [°C] at a pressure [Pa absolute] that comes from `field`; Refused outside the table."""
        return self._temperature(saturation.bubble_temperature_c, "bubble", pressure_pa, field)

    def dew_temperature_c(self, pressure_pa: float, field: str) -> float:
        """Dew temperature [°C] at a pressure [Pa absolute] that comes from `field`; Refused outside the table."""
        return self._temperature(saturation.dew_temperature_c, "dew", pressure_pa, field)

    def bubble_pressure_pa(self, temperature_c: float, field: str) -> float:
        """Bubble pressure [Pa absolute] at a temperature [°C] that comes from `field`; Refused outside the table."""
        return self._pressure(saturation.bubble_pressure_pa, "bubble", temperature_c, field)

    def dew_pressure_pa(self, temperature_c: float, field: str) -> float:
        """Dew pressure [Pa absolute] at a temperature [°C] that comes from `field`; Refused outside the table."""
        return self._pressure(saturation.dew_pressure_pa, "dew", temperature_c, field)

    def bubble_density_kg_m3(self, temperature_c: float, field: str) -> float:
        """Density of saturated liquid [kg/m³] at a temperature [°C] that comes from `field`; Refused outside the table.

        Source
            calc.saturation.density, temperature_c on the bubble side
        """
        try:
            return saturation.density(self.refrigerant, "bubble", temperature_c)
        except OutsideTable as outside:
            raise self._outside(outside, field) from outside

    def refuse(self, field: str, code: str, problem: Message, hint: Message) -> Refused:
        """A Refused for one field, with what was typed there."""
        return Refused([Fault(field, self.texts.get(field, ""), code, problem, hint)])

    def _move(self, name: str) -> float:
        return self.moves.get(name, 0.0) if self.moves else 0.0

    def _model_k(self, side: Side, temperature_c: float) -> float:
        shift = self._move(MODEL + side)
        return shift * saturation.model_error_k(self.refrigerant, side, temperature_c) / 2.0 if shift else 0.0

    def _temperature(
        self, table: Callable[[Refrigerant, float], float], side: Side, pressure_pa: float, field: str
    ) -> float:
        try:
            value = table(self.refrigerant, pressure_pa)
        except OutsideTable as outside:
            raise self._outside(outside, field) from outside
        return value + self._model_k(side, value)

    def _pressure(
        self, table: Callable[[Refrigerant, float], float], side: Side, temperature_c: float, field: str
    ) -> float:
        try:
            return table(self.refrigerant, temperature_c - self._model_k(side, temperature_c))
        except OutsideTable as outside:
            raise self._outside(outside, field) from outside

    def _outside(self, outside: OutsideTable, field: str) -> Refused:
        show = self.frame.amount
        reads = "gauge" if outside.quantity == "pressure" else ""
        places: dict[str, str | Amount] = {
            "refrigerant": outside.refrigerant,
            "value": show(outside.value, outside.quantity, reads),
            "low": show(outside.low, outside.quantity, reads),
            "high": show(outside.high, outside.quantity, reads),
        }
        if outside.reason == "above_critical":
            critical = (
                show(self.refrigerant.critical_temperature_c, "temperature")
                if outside.quantity == "temperature"
                else show(self.refrigerant.critical_pressure_pa, "pressure", "gauge")
            )
            problem = message(
                N_("{refrigerant} at {value} is above its critical point ({critical}): there it has no saturation"),
                **places, critical=critical,
            )  # fmt: skip
            hint = message(N_("Judge by pressure and temperature at the outlet of the gas cooler instead"))
        else:
            problem = message(
                N_("{refrigerant} has no saturation figure at {value}: {reason} ({low} to {high})"),
                **places, reason=REASONS[outside.reason],
            )  # fmt: skip
            hint = message(N_("Check the reading, its unit and the refrigerant chosen"))
        return self.refuse(field, "outside_table", problem, hint)
