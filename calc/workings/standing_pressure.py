"""Standing pressure test: what the nitrogen should show at the end, and whether what is missing is a leak."""

from __future__ import annotations

from calc.declaration import Field, Result, Working
from calc.errors import Refused
from calc.leak import nitrogen_kg, refrigerant_kg, throughput
from calc.messages import N_, message
from calc.nitrogen import EQUATION_SHARE, HIGHEST_C, HIGHEST_PA, LOWEST_C, same_gas_pa
from calc.site import SITE_FIELDS
from calc.standing import SETTLING_S, judged
from calc.telling import Telling
from calc.uncertainty import COVERAGE, Origin, from_limit
from calc.units import PSI_PA, ZERO_C_K
from calc.values import Values

CLAMP_TO_GAS_K = 0.5
STEP_PA = 0.5 * PSI_PA
LONG_S = 4 * 3600.0
DRIFT_PA = 1000.0
TRACER_SHARE = 0.08
"""With 5 % hydrogen the expected pressure moves by less than this share of what real and ideal gas differ, towards the
ideal; CoolProp 8.0.0."""
_GAS = "R. Span and others, J. Phys. Chem. Ref. Data 29 (2000) 1361"
_METHOD = "same gas in the same volume keeps its density: common practice, no source"
_IDEAL = "p₂ = p₁·T₂/T₁, absolute, as a check"


def _parts(values: Values) -> tuple[list[float], list[float], list[float]]:
    """Temperatures of each part of the volume at start and end [°C], and the shares of the parts."""
    starts, ends = list(values.items("start_temperature")), list(values.items("end_temperature"))
    shares = list(values.items("volume_shares"))
    count = max(len(starts), len(ends), len(shares))
    for name, found in (("start_temperature", starts), ("end_temperature", ends)):
        if len(found) not in (1, count):
            raise values.refuse(
                name, "contradiction",
                message(N_("{given} temperatures for {count} parts"), given=str(len(found)), count=str(count)),
                message(N_("Give one temperature for each part of the volume, at start and end in the same order")),
            )  # fmt: skip
    if count > 1 and len(shares) != count:
        raise values.refuse(
            "volume_shares", "missing" if not shares else "contradiction",
            message(N_("{count} temperatures need {count} shares of the volume"), count=str(count)),
            message(N_("Give the share of the volume at each temperature, such as 60 % and 40 %")),
        )  # fmt: skip
    total = sum(shares) if shares else 1.0
    if abs(total - 1.0) > 0.01:
        raise values.refuse(
            "volume_shares", "contradiction",
            message(N_("The shares add up to {total} %, not to 100 %"), total=f"{100 * total:.0f}"),
            message(N_("Give the share of the volume at each temperature, such as 60 % and 40 %")),
        )  # fmt: skip
    reach = from_limit(values.number("temperature_doubt", CLAMP_TO_GAS_K))
    starts = [at + values.doubt("gas_start") * reach for at in (starts if len(starts) > 1 else starts * count)]
    ends = [at + values.doubt("gas_end") * reach for at in (ends if len(ends) > 1 else ends * count)]
    return starts, ends, [share / total for share in shares] or [1.0]


def _vented(values: Values) -> bool:
    return "end_pressure" in values.gauged


def _drifts(values: Values) -> bool:
    """Whether the air's own change in the hold is unknown and counts."""
    return _vented(values) and "end_barometer" not in values and values["duration"] > LONG_S


def _end_pa(values: Values) -> float:
    """Absolute pressure at the end: a vented gauge counts from the air of then, read by the same barometer."""
    end = values["end_pressure"]
    if _vented(values) and "end_barometer" in values:
        if "barometer" not in values:
            raise values.refuse(
                "barometer", "missing", message(N_("The barometer at the end needs that at the start beside it")),
                message(N_("Give the barometer as read at the start, at the same place")),
            )  # fmt: skip
        end += values["end_barometer"] - values.numbers["barometer"]
    if _drifts(values):
        end += values.doubt("drift") * from_limit(DRIFT_PA)
    return end


def _one_gauge(values: Values) -> tuple[str, ...]:
    return ("start_pressure", "end_pressure") if values.word("same_gauge", "yes") == "yes" else ()


def standing_pressure(values: Values) -> dict[str, float]:
    """Pressure that the same nitrogen should show at the end, and how far the end reading is from it.

    Returns
        expected_pressure, ideal_pressure [Pa absolute]; compensated_change: end − expected, a loss is negative [Pa];
        leak, with a volume: at 20 °C, out is positive [Pa·m³/s]
    Source
        density kept, nitrogen of calc.nitrogen; leak: calc.leak
    """
    starts, ends, shares = _parts(values)
    step = from_limit(values.number("gauge_resolution", STEP_PA))
    start = values["start_pressure"] + values.doubt("step_start") * step
    if start <= values.site_pa:
        raise values.refuse(
            "start_pressure", "impossible", message(N_("A standing pressure test starts above the air of the site")),
            message(N_("Check the reading and its unit; a vacuum is judged by the vacuum rise test")),
        )  # fmt: skip
    end = _end_pa(values) + values.doubt("step_end") * step
    expected = same_gas_pa(start, starts, ends, shares)
    kelvin = [sum(share / (at + ZERO_C_K) for share, at in zip(shares, side, strict=True)) for side in (starts, ends)]
    ideal = start * kelvin[0] / kelvin[1]
    expected *= 1.0 + values.doubt("equation") * EQUATION_SHARE / COVERAGE
    if values.word("gas", "nitrogen") == "nitrogen_hydrogen":
        expected += values.doubt("tracer") * from_limit(TRACER_SHARE) * (ideal - expected)
    answer = {"expected_pressure": expected, "ideal_pressure": ideal, "compensated_change": end - expected}
    if "volume" in values:
        gas_c = 1.0 / kelvin[1] - ZERO_C_K
        answer["leak"] = throughput(values["volume"], expected - end, values["duration"], gas_c)
    return answer


def explain(telling: Telling) -> None:
    """Expected pressure by real and ideal gas, what could be seen at all, the verdict and what it does not cover."""
    values = telling.values
    visible = telling.expanded("compensated_change")
    telling.publish("smallest_visible_change", visible, {})
    _, ends, shares = _parts(values)
    if "leak" in telling:
        gas_c = 1.0 / sum(share / (at + ZERO_C_K) for share, at in zip(shares, ends, strict=True)) - ZERO_C_K
        least = throughput(values["volume"], visible, values["duration"], gas_c)
        telling.publish("smallest_visible_leak", least, {})
    telling.because(
        N_("expected: the pressure at which the same nitrogen has the same density at the end temperature, real gas"),
        N_("{start} at {warm} is {expected} at {cold}; as an ideal gas {ideal}"),
        f"{_METHOD}; nitrogen: {_GAS}; ideal: {_IDEAL}",
        start=telling.reading("start_pressure"), expected=telling.result("expected_pressure"),
        ideal=telling.amount(telling["ideal_pressure"], "pressure", "gauge"),
        warm=_said(telling, "start_temperature"), cold=_said(telling, "end_temperature"),
    )  # fmt: skip
    telling.because(
        N_("compensated change = end − expected; a loss is negative"),
        N_("{end} − {expected} = {change}"), _METHOD,
        end=telling.amount(_end_pa(values), "pressure", "gauge"), expected=telling.result("expected_pressure"),
        change=telling.result("compensated_change"),
    )  # fmt: skip
    telling.verdict = judged(telling, _yearly(telling))
    telling.because(
        N_("leaking: the loss less its ± is more than allowed; tight: the loss with its ± is within it, and no gain"),
        N_("loss {loss}, allowed {allowed}"),
        "rule of this project; guard band: JCGM 106:2012, 8.3; 1 % of the start pressure: common practice, no source",
        loss=telling.amount(-telling["compensated_change"], "pressure_difference"),
        allowed=telling.reading("allowed_change") if "allowed_change" in values
        else N_("none; tight means surely under 1 % of the absolute start pressure"),
    )  # fmt: skip
    if "leak" in telling:
        telling.because(
            N_("leak = volume × loss / time, of the test gas at the test pressure, at 20 °C"),
            N_("{leak}; the smallest that could be seen is {least}"), "common practice, no source",
            leak=telling.result("leak"), least=telling.result("smallest_visible_leak"),
        )  # fmt: skip
    _notes(telling)


def _said(telling: Telling, name: str) -> str:
    return ", ".join(str(telling.amount(at, "temperature")) for at in telling.values.items(name))


def _yearly(telling: Telling) -> str:
    """What the smallest visible leak is worth in a year; "" without a volume."""
    if "smallest_visible_leak" not in telling:
        return ""
    values, leak = telling.values, telling["smallest_visible_leak"]
    if values.fluid:
        try:
            side = values.dew_pressure_pa(20.0, "refrigerant")
        except Refused:
            telling.note(N_("{refrigerant} has no saturation at 20 °C: what the leak means for it is not worked out"),
                         refrigerant=values.fluid.designation)  # fmt: skip
        else:
            low, high = refrigerant_kg(
                leak, values["start_pressure"], side, values.site_pa, values.fluid.molar_mass
            )  # fmt: skip
            telling.note(
                N_("For {refrigerant} at its pressure at 20 °C a leak just too small to see is {low} to {high} g/year "
                   "of vapour (molecular to viscous flow); below the liquid level many times more"),
                refrigerant=values.fluid.designation, low=_grams(low), high=_grams(high),
            )  # fmt: skip
            return f"{_grams(low)} to {_grams(high)} g/year {values.fluid.designation}"
    return f"{_grams(nitrogen_kg(leak))} g/year N2"


def _grams(mass_kg: float) -> str:
    return f"{float(f'{1000 * mass_kg:.2g}'):g}"


def _notes(telling: Telling) -> None:
    values = telling.values
    if "temperature_doubt" not in values:
        telling.note(N_("Assumed: the clamp shows the gas to ± 0.5 K (0.9 °F) at each end"))
    if "gauge_resolution" not in values:
        telling.note(N_("Assumed: the gauge reads and repeats to ± 0.5 psi (3.4 kPa) at each end"))
    if _one_gauge(values):
        telling.note(N_("The same gauge at both ends: its limit of error mostly cancels"))
    if values["duration"] < SETTLING_S:
        telling.note(N_("Gas warmed by filling still cools: take the start 15 min or more after, then hold longer"))
    if _drifts(values):
        telling.note(N_("Over four hours without a second barometer: ± 1 kPa for the weather at a vented gauge"))
    if "end_barometer" in values and not _vented(values):
        telling.note(N_("The end pressure is absolute: the barometer at the end is not used"))
    elif "end_barometer" in values:
        telling.note(N_("Gauge pressures here count from the air at the start"))
    if values.word("gas", "nitrogen") == "nitrogen_hydrogen":
        telling.note(N_("At most 5 % hydrogen, ready mixed: worked as nitrogen, the difference is in the ±"))
    telling.note(N_("Cylinder shut and hose off during the hold; clamps in the shade, on the pipe"))
    telling.note(N_("It proves only what was connected and open; joints still get a bubble or tracer check"))


def _pressure(name: str, label: str, help: str) -> Field:
    return Field(
        name, label, help, quantity="pressure", low=50e3, high=HIGHEST_PA, required=True, reads="gauge", error="gauge"
    )  # fmt: skip


def _temperatures(name: str, label: str, help: str) -> Field:
    return Field(
        name, label, help, shape="list", quantity="temperature", low=LOWEST_C, high=HIGHEST_C, required=True,
        rows=(1, 12),
    )  # fmt: skip


_DANGER = N_("it can explode in the circuit; dry nitrogen only")
WORKING = Working(
    name="standing_pressure",
    title=N_("Standing pressure test"),
    purpose=N_("Nitrogen at start and end, temperature taken off: tight, leaking, or too close to call"),
    fields=(
        _pressure("start_pressure", N_("Pressure at start"), N_("15 min or more after filling, cylinder off")),
        _temperatures(
            "start_temperature", N_("Temperature at start"),
            N_("Of the gas: clamp in the shade; several parts one a line, each with its unit, such as 72 °F"),
        ),
        _pressure("end_pressure", N_("Pressure at end"), N_("Same gauge, same place")),
        _temperatures("end_temperature", N_("Temperature at end"), N_("Same places, in the same order")),
        Field(
            "duration", N_("Time held"), N_("From the start reading to the end reading"), quantity="time", low=60.0,
            high=30 * 86400.0, required=True,
        ),
        Field(
            "volume", N_("Volume"), N_("Inside volume of what was connected, for the size of a leak"),
            quantity="volume", low=1e-5, high=100.0,
        ),
        Field(
            "gas", N_("Gas"), N_("Dry nitrogen, or nitrogen with at most 5 % hydrogen, ready mixed"), shape="choice",
            choices=("nitrogen", "nitrogen_hydrogen"), said=(N_("nitrogen"), N_("nitrogen with hydrogen")),
            refused=(
                ("air", _DANGER), ("compressed_air", _DANGER), ("oxygen", _DANGER), ("acetylene", _DANGER),
                ("hydrogen", _DANGER),
            ),
        ),
        Field(
            "allowed_change", N_("Allowed loss"), N_("What the order allows to be lost; nothing where not given"),
            quantity="pressure_difference", low=0.0, high=2e6,
        ),
        Field(
            "volume_shares", N_("Shares of volume"), N_("With several temperatures: share of each, such as 60 %"),
            shape="list", quantity="ratio", low=0.0, high=1.0, rows=(1, 12),
        ),
        Field(
            "same_gauge", N_("Same gauge"), N_("Whether one gauge read both ends (yes where not given)"),
            shape="choice", choices=("yes", "no"), said=(N_("yes"), N_("no")),
        ),
        Field(
            "gauge_resolution", N_("Gauge reads to"), N_("How closely it reads and repeats (0.5 psi if not given)"),
            quantity="pressure_difference", low=0.0, high=1e6,
        ),
        Field(
            "temperature_doubt", N_("Clamp to gas"), N_("How far clamp and gas may differ, ± 0.5 K where not given"),
            quantity="temperature_difference", low=0.0, high=20.0,
        ),
        Field(
            "end_barometer", N_("Barometer at end"), N_("Station pressure at the end, on the barometer of the start"),
            quantity="pressure", low=20e3, high=125e3, reads="absolute",
        ),
        Field(
            "refrigerant", N_("Refrigerant"), N_("What the circuit will hold, to say what a leak would be of it"),
            shape="refrigerant",
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result(
            "expected_pressure", N_("Expected at end"), N_("What a tight circuit would show"), "pressure", reads="gauge"
        ),
        Result(
            "compensated_change", N_("Change without temperature"), N_("End minus expected; a loss is negative"),
            "pressure_difference",
        ),
        Result(
            "smallest_visible_change", N_("Smallest visible"), N_("A smaller change cannot be told from none"),
            "pressure_difference",
        ),
        Result("leak", N_("Leak"), N_("Of the test gas at the test pressure, at 20 °C; out is positive"), "leak"),
        Result(
            "smallest_visible_leak", N_("Smallest visible leak"), N_("A smaller leak cannot be told from none"), "leak"
        ),
    ),
    function=standing_pressure,
    explain=explain,
    sources=(_METHOD, f"nitrogen: {_GAS}", f"ideal gas: {_IDEAL}", "guard band: JCGM 106:2012, 8.3"),
    cautions=(
        N_("Dry nitrogen only, through a regulator and a relief; never oxygen, acetylene or compressed air"),
        N_("Never above the test limit, also at the hottest hour; let it out outdoors, nitrogen suffocates"),
    ),
    own_doubts=(
        Origin("clamp:start_temperature", {"gas_start": 1.0}),
        Origin("clamp:end_temperature", {"gas_end": 1.0}),
        Origin("step:start_pressure", {"step_start": 1.0}),
        Origin("step:end_pressure", {"step_end": 1.0}),
        Origin("drift:end_barometer", {"drift": 1.0}),
        Origin("gas:gas", {"equation": 1.0}),
        Origin("tracer:gas", {"tracer": 1.0}),
    ),
    together=_one_gauge,
    order=70,
)  # fmt: skip
