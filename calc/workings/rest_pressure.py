"""The pressure of a circuit at rest against saturation at its temperature: air, wrong refrigerant, or not settled."""

from __future__ import annotations

from calc import conformity
from calc.conformity import Verdict
from calc.declaration import Result, Working
from calc.fields import REFRIGERANT, gauge_pressure, pipe_temperature
from calc.messages import N_, message
from calc.site import SITE_FIELDS
from calc.telling import Telling, percent
from calc.uncertainty import expanded
from calc.units import FAHRENHEIT_K
from calc.values import Values

ALLOWED_K = 2 * FAHRENHEIT_K
_SOURCE = "at rest with liquid: common practice, no source; saturation: tables made with CoolProp 8.0.0"


def _temperatures(values: Values) -> tuple[tuple[float, str], tuple[float, str]]:
    """The coldest and the warmest temperature read, each with its field."""
    read = [(values["temperature"], "temperature")]
    if "second_temperature" in values:
        read.append((values["second_temperature"], "second_temperature"))
    return min(read), max(read)


def rest_pressure(values: Values) -> dict[str, float]:
    """Dew pressure at the coldest and bubble pressure at the warmest place: a circuit at rest with liquid lies between.

    Returns
        expected_low, expected_high [Pa absolute]; above, below: how far the pressure lies beyond each [Pa]; allowance:
        what 2 °F of temperature is worth in pressure [Pa]
    Source
        common practice, no source; saturation: calc.saturation
    """
    (cold, cold_field), (warm, warm_field) = _temperatures(values)
    high = values.bubble_pressure_pa(warm, warm_field)
    low = high if values.refrigerant.pure and cold == warm else values.dew_pressure_pa(cold, cold_field)
    pressure = values["pressure"]
    slope = high - values.bubble_pressure_pa(warm - ALLOWED_K, warm_field)
    return {
        "expected_low": low, "expected_high": high, "above": pressure - high, "below": low - pressure,
        "allowance": slope,
    }  # fmt: skip


def explain(telling: Telling) -> None:
    """Excess, verdict and what either sign of it can mean."""
    values = telling.values
    over = telling["above"] >= telling["below"]
    edge = "above" if over else "below"
    beyond, doubt = telling[edge], telling.contributions[edge]
    sign = 1.0 if over else -1.0
    telling.publish("excess", sign * max(beyond, 0.0), {origin: sign * amount for origin, amount in doubt.items()})
    telling.because(
        N_("at rest with liquid: dew pressure ≤ pressure ≤ bubble pressure, each at the circuit's temperature"),
        N_("{pressure} against {expected} ({refrigerant} at {temperature}); beyond it by {excess}"),
        _SOURCE,
        pressure=telling.reading("pressure"),
        expected=_expected(telling),
        refrigerant=values.refrigerant.designation,
        temperature=telling.reading("temperature"),
        excess=telling.result("excess"),
    )
    (cold, _), (warm, _) = _temperatures(values)
    if warm - cold > ALLOWED_K:
        telling.note(
            N_("The two places are {apart} apart: the circuit is not at rest yet, wait and read again"),
            apart=telling.amount(warm - cold, "temperature_difference"),
        )
    _verdict(telling, edge)
    telling.note(N_("With no liquid left in the circuit the pressure can be anything below saturation"))
    telling.tables("bubble", "dew", at_c=warm)


def _expected(telling: Telling) -> str:
    """The bracket in words: one figure where dew and bubble are the same."""
    low, high = str(telling.result("expected_low")), str(telling.result("expected_high"))
    return low if low == high else f"{low} … {high}"


def _verdict(telling: Telling, edge: str) -> None:
    """Agrees within its ±; beyond that and what 2 °F is worth it does not; between the two it cannot be said."""
    beyond, doubt = max(telling[edge], 0.0), telling.contributions[edge]
    band, allowance = expanded(doubt), telling["allowance"]
    if beyond <= band:
        said = conformity.WITHIN
        text = N_(
            "Within: {pressure} agrees with {expected} at this temperature; up to {band} of air could still hide in it"
        )
    elif beyond > band + allowance:
        said = conformity.OUTSIDE
        text = (
            N_(
                "Outside: {figure} above saturation; air or nitrogen in the circuit, another refrigerant than chosen, "
                "or not settled"
            )
            if edge == "above"
            else N_(
                "Outside: {figure} from saturation, below it; no liquid left, another refrigerant than chosen, "
                "or not settled"
            )
        )
    else:
        said = conformity.TOO_CLOSE
        text = N_(
            "Too close to call: {figure} beyond saturation, and 2 °F in the temperature would explain {allowance}; "
            "let it settle, then read again with a closer {weakest}"
        )
    chance = conformity.inside(telling[edge], band, high=allowance)
    telling.verdict = Verdict(
        said,
        message(
            text,
            pressure=telling.reading("pressure"),
            expected=_expected(telling),
            figure=telling.result("excess"),
            low=telling.rounded(-allowance, "pressure_difference"),
            high=telling.rounded(allowance, "pressure_difference"),
            band=telling.rounded(band, "pressure_difference"),
            allowance=telling.rounded(allowance, "pressure_difference"),
            weakest=telling.weakest(doubt),
            chance=percent(chance),
        ),
        chance,
        "excess",
        -allowance,
        allowance,
    )


WORKING = Working(
    name="rest_pressure",
    title=N_("Pressure at rest"),
    purpose=N_("Pressure of a circuit at rest against saturation at its temperature: is there air in it?"),
    fields=(
        REFRIGERANT,
        gauge_pressure(
            "pressure", N_("Pressure at rest"), N_("Pressure with the compressor off and settled, on the gauge"),
            required=True,
        ),
        pipe_temperature(
            "temperature", N_("Temperature"), N_("Temperature of the circuit where its liquid lies"), required=True,
        ),
        pipe_temperature(
            "second_temperature", N_("Second temperature"), N_("The same at another place: has it settled?"),
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result(
            "expected_low", N_("Expected, dew"), N_("Dew pressure at the coldest temperature read"), "pressure",
            reads="gauge",
        ),
        Result(
            "expected_high", N_("Expected, bubble"), N_("Bubble pressure at the warmest temperature read"), "pressure",
            reads="gauge",
        ),
        Result(
            "excess", N_("Excess"), N_("Above the bubble pressure, or negative: below the dew pressure; 0 between"),
            "pressure_difference",
        ),
    ),
    function=rest_pressure,
    explain=explain,
    sources=(_SOURCE,),
    cautions=(
        N_("Lock the unit off and let capacitors discharge before reaching in; refrigerant under pressure"),
    ),
    order=40,
)  # fmt: skip
