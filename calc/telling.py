"""What a working's explain function writes on: figures with their doubt, notes, reasons, the verdict."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, NamedTuple

from calc import conformity
from calc.conformity import Verdict
from calc.declaration import Working
from calc.display import decimals_of, plain, with_uncertainty
from calc.frame import Frame
from calc.messages import N_, Amount, Message, message
from calc.saturation import Side, model_error_k
from calc.uncertainty import Contributions, expanded
from calc.units import CANONICAL
from calc.values import Values


class Why(NamedTuple):
    """A step of the reasoning: the formula in words and symbols, the numbers put in, the source."""

    formula: Message
    with_: Message
    source: str

    def to_json(self) -> dict[str, str]:
        return {"formula": str(self.formula), "with": str(self.with_), "source": self.source}


class Figure(NamedTuple):
    """A result: value in its canonical unit, that unit, expanded uncertainty u (k = 2, None where it has no meaning).

    value is a float, the word of a text result, or what a told result holds (a number, None, a list or an object).

    contributions: standard uncertainty by origin, signed; hand them on where the result feeds another working.
    """

    value: Any
    unit: str
    u: float | None
    shown: str
    quantity: str
    contributions: Contributions = MappingProxyType({})

    def to_json(self) -> dict[str, Any]:
        return {"value": self.value, "unit": self.unit, "u": self.u, "shown": self.shown}


@dataclass
class Telling:
    """The state of one answer while it is explained."""

    working: Working
    values: Values
    frame: Frame
    central: dict[str, float]
    contributions: dict[str, dict[str, float]]
    notes: list[Message] = field(default_factory=list)
    why: list[Why] = field(default_factory=list)
    verdict: Verdict | None = None
    told: dict[str, Figure] = field(default_factory=dict)

    def __getitem__(self, name: str) -> float:
        return self.central[name]

    def __contains__(self, name: str) -> bool:
        return name in self.central

    def expanded(self, name: str) -> float:
        """Expanded uncertainty of a result or step."""
        return expanded(self.contributions[name])

    def publish(self, name: str, value: float, contributions: Mapping[str, float]) -> None:
        """Sets a result that follows from steps rather than from the function."""
        self.central[name], self.contributions[name] = value, dict(contributions)

    def tell(self, name: str, value: Any, shown: Message) -> None:
        """Sets a result that is no quantity and no word: a count, None, a list or an object, and how it reads."""
        declared = self.working.result(name)
        assert declared is not None
        self.told[name] = Figure(value, declared.unit, None, str(shown), "")

    def tell_number(self, name: str, unit: str) -> None:
        """Sets a result from the function's figure of the same name, in a unit known only to who gave the numbers."""
        value, doubt = self.central[name], self.contributions[name]
        shown = with_uncertainty(value, expanded(doubt), unit)
        self.told[name] = Figure(value, unit, expanded(doubt), shown, "", doubt)

    def amount(self, value: float, quantity: str, reads: str = "") -> Amount:
        """A figure for a sentence."""
        return self.frame.amount(value, quantity, reads)

    def rounded(self, value: float, quantity: str) -> Amount:
        """A ± of its own for a sentence, rounded as it would be behind a figure."""
        unit = self.frame.unit(quantity)
        number = value / unit.scale
        return Amount(value, CANONICAL[quantity], f"{plain(number, decimals_of(abs(number)))} {unit.symbol}")

    def absolute(self, pressure_pa: float) -> Amount:
        """An absolute pressure for a sentence, in the absolute unit nearest to the one typed."""
        typed = self.frame.unit("pressure", "gauge")
        unit = f"{typed.plain}a" if typed.reads in ("gauge", "vacuum") else typed.symbol
        return self.frame.amount(pressure_pa, "pressure", unit=unit)

    def reading(self, name: str) -> Amount:
        """A field's value for a sentence."""
        declared = self.working.field(name)
        assert declared is not None
        return self.frame.amount(self.values[name], declared.quantity, declared.reads)

    def result(self, name: str, quantity: str = "", reads: str = "") -> Amount:
        """A result with its uncertainty for a sentence."""
        declared = self.working.result(name)
        if declared:
            quantity, reads = declared.quantity, declared.reads
        shown = self.frame.show(self.central[name], quantity, self.contributions[name], reads)
        return Amount(self.central[name], CANONICAL[quantity], shown)

    def note(self, text: str, /, **values: str | Amount) -> None:
        said = message(text, **values)
        if said not in self.notes:
            self.notes.append(said)

    def taken_as_exact(self, *names: str) -> None:
        """Says which of these fields came without a limit of error and for which none is assumed."""
        doubted = {
            origin.partition(":")[2].partition(".")[0] for amounts in self.contributions.values() for origin in amounts
        }
        exact = [name for name in names if name in self.values.texts and name not in doubted]
        labels = [declared.label.lower() for declared in self.working.fields if declared.name in exact]
        if labels:
            self.note(
                N_("Taken as exact: {fields}. Write its limit of error after ± to have it counted"),
                fields=", ".join(labels),
            )

    def because(self, formula: str, with_: str, source: str, /, **values: str | Amount) -> None:
        self.why.append(Why(message(formula), message(with_, **values), source))

    def judge(self, name: str, low: float, high: float, contributions: Contributions | None = None) -> None:
        """The verdict on a result against [low, high] in its canonical unit.

        contributions: where the limits are themselves uncertain, those of the difference.
        """
        doubt = self.contributions[name] if contributions is None else contributions
        band = expanded(doubt)
        said = conformity.state(self[name], band, low, high)
        chance = conformity.inside(self[name], band, low, high)
        declared = self.working.result(name)
        assert declared is not None
        text = {
            conformity.WITHIN: N_("Within: {result} {figure} against {low} to {high} ({chance} sure)"),
            conformity.OUTSIDE: N_("Outside: {result} {figure} against {low} to {high} ({chance} likely to be inside)"),
            conformity.TOO_CLOSE: N_(
                "Too close to call: {result} {figure} against {low} to {high} ({chance} likely to be inside); "
                "what would settle it most is a closer {weakest}"
            ),
        }[said]
        self.verdict = Verdict(
            said,
            message(
                text, result=declared.label.lower(), figure=self.result(name), low=self.amount(low, declared.quantity),
                high=self.amount(high, declared.quantity), chance=percent(chance), weakest=self.weakest(doubt),
            ),
            chance, name, low, high,
        )  # fmt: skip

    def judge_under(self, name: str, high: float, contributions: Contributions | None = None) -> None:
        """The verdict on a result that may be anything up to `high` [its canonical unit]; contributions as in judge."""
        doubt = self.contributions[name] if contributions is None else contributions
        band = expanded(doubt)
        said = conformity.state(self[name], band, high=high)
        chance = conformity.inside(self[name], band, high=high)
        declared = self.working.result(name)
        assert declared is not None
        text = {
            conformity.WITHIN: N_("Within: {result} {figure}, at most {high} ({chance} sure)"),
            conformity.OUTSIDE: N_("Outside: {result} {figure}, at most {high} ({chance} likely to be inside)"),
            conformity.TOO_CLOSE: N_(
                "Too close to call: {result} {figure}, at most {high} ({chance} likely to be inside); "
                "what would settle it most is a closer {weakest}"
            ),
        }[said]
        self.verdict = Verdict(
            said,
            message(
                text, result=declared.label.lower(), figure=self.result(name),
                high=self.amount(high, declared.quantity), chance=percent(chance), weakest=self.weakest(doubt),
            ),
            chance, name, None, high,
        )  # fmt: skip

    def why_judged(self, name: str, rule: str) -> None:
        """The reason of the verdict on a result: `rule` names where the limits come from."""
        self.because(
            N_("within: the whole ± inside what is allowed; outside: all of it beyond; too close to call: between"),
            N_("{figure} against what is allowed"),
            f"{rule}; guard band: JCGM 106:2012, 8.3",
            figure=self.result(name),
        )

    def weakest(self, contributions: Contributions) -> str:
        """The origin that weighs most, in words."""
        name = max(contributions, key=lambda origin: abs(contributions[origin]), default="")
        kind, _, rest = name.partition(":")
        declared = self.working.field(rest.partition(".")[0])
        if declared:
            return str(message(N_("reading of {field}"), field=declared.label.lower()))
        if kind == "model":
            return N_("table of the refrigerant")
        return N_("air pressure at the site") if kind == "site_pressure" else N_("reading")

    def tables(self, *sides: Side, at_c: float) -> None:
        """Says how far the refrigerant's tables can be trusted; sides as used, at_c the saturation temperature."""
        fluid = self.values.refrigerant
        errors = {model_error_k(fluid, side, at_c) for side in sides}
        error = self.frame.amount(max(errors), "temperature_difference")
        places: dict[str, str | Amount] = {"refrigerant": fluid.designation, "grade": fluid.grade, "error": error}
        if fluid.estimated:
            self.note(
                N_(
                    "{refrigerant} is estimated (grade {grade}, ± {error} in saturation temperature): "
                    "check against the table on the cylinder"
                ),
                **places,
            )
        else:
            self.note(
                N_("Tables of {refrigerant}: grade {grade}, ± {error} in saturation temperature (k = 2)"), **places
            )
        if fluid.remark:
            self.note(N_("{refrigerant}: {remark}"), refrigerant=fluid.designation, remark=fluid.remark.rstrip("."))


def percent(share: float) -> str:
    """A probability for a sentence, never said to be certain.

    Example
        >>> percent(0.6626), percent(0.99999), percent(0.0)
        ('66 %', 'over 99 %', 'under 1 %')
    """
    if share > 0.99:
        return "over 99 %"
    return "under 1 %" if share < 0.01 else f"{100 * share:.0f} %"
