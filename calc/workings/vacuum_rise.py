"""Vacuum rise test: what the rise of a closed vacuum says of moisture and leaks."""

from __future__ import annotations

from itertools import pairwise
from math import exp

from calc import conformity
from calc.conformity import Verdict
from calc.declaration import Field, Result, Working
from calc.leak import throughput
from calc.messages import N_, Amount, message
from calc.rise import BOTH, FEWEST, FLATTENING, LEVEL, STRAIGHT, Choice, choose, fitted, noise_floor_pa, spread
from calc.site import SITE_FIELDS
from calc.telling import Telling, percent
from calc.uncertainty import Origin, expanded
from calc.units import MICRON_PA
from calc.values import Values
from calc.water import vapour_pressure_pa

USUAL_LIMIT_PA = 500 * MICRON_PA
USUAL_TIME_S = 600.0
LONG_LEVELLING_S, SHORT_LEVELLING_S = 120.0, 60.0
EXTRAPOLATED_PA = 1000 * MICRON_PA
USUAL_C = 20.0
_SOURCE = (
    "curves and levels: common practice, no source; choice: AICc, Burnham and Anderson (2002), 2.4 (from memory); "
    "300 then 500 micron: UFGS 15182, 3.3.3"
)
_WATER = "IAPWS R14-08 (2011), equation 6 (over ice); IAPWS-IF97 (2012), equation 30 (over liquid water)"


def _levelling_s(values: Values) -> float:
    """What is left out at the start: as said, else two minutes of a hold of ten or more, else one."""
    last = values.numbers[f"readings.{values.counts['readings'] - 1}.seconds"]
    return values.number("levelling", LONG_LEVELLING_S if last >= USUAL_TIME_S else SHORT_LEVELLING_S)


def _used(values: Values, moved: bool) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Times from the first reading after levelling [s], and pressures [Pa], as typed or as moved by their doubt."""
    count = values.counts["readings"]
    times = [values.numbers[f"readings.{row}.seconds"] for row in range(count)]
    if any(later <= earlier for earlier, later in pairwise(times)):
        raise values.refuse(
            "readings", "contradiction", message(N_("The times of the readings do not rise")),
            message(N_("Give them in order, each with the seconds since the valve was closed")),
        )  # fmt: skip
    from_row = next((row for row, time in enumerate(times) if time >= _levelling_s(values)), count)
    if count - from_row < 2:
        raise values.refuse(
            "readings", "missing",
            message(N_("Fewer than two readings after the first {seconds} s, which are left out while it levels"),
                    seconds=f"{_levelling_s(values):g}"),
            message(N_("Go on reading, or give a shorter time for levelling")),
        )  # fmt: skip
    name = "readings.{}.pressure"
    pressures = [
        values[name.format(row)] if moved else values.numbers[name.format(row)] for row in range(from_row, count)
    ]
    return tuple(time - times[from_row] for time in times[from_row:]), tuple(pressures)


def _choice(values: Values) -> Choice | None:
    """The curve, chosen from the readings as typed so that no doubt of the gauge turns it; None with too few."""
    times, pressures = _used(values, moved=False)
    return choose(times, pressures) if len(times) >= FEWEST else None


def _kind(choice: Choice | None) -> str:
    return choice.best.kind if choice and choice.told else ""


def _level_time_s(values: Values) -> float:
    """The time limit counted from the first reading used [s]."""
    count = values.counts["readings"]
    times, _ = _used(values, moved=False)
    start = values.numbers[f"readings.{count - 1}.seconds"] - times[-1]
    return values.number("limit_time", USUAL_TIME_S) - start


def vacuum_rise(values: Values) -> dict[str, float | str]:
    """Shape of the rise, its slope [Pa/s], plateau and level at the time limit [Pa], and what flows in [Pa·m³/s].

    Source
        least squares of level, exponential, straight line and their sum, chosen by AICc; see calc.rise
    """
    times, pressures = _used(values, moved=True)
    choice = _choice(values)
    kind = _kind(choice)
    best = fitted(kind or STRAIGHT, choice.best.tau_s, times, pressures, choice.noise_pa) if choice else None
    if kind and best is None:
        raise values.refuse(
            "readings", "contradiction", message(N_("The ± of the readings turns the shape of the rise")),
            message(N_("Give each reading the same ±, or leave it out")),
        )  # fmt: skip
    answer: dict[str, float] = {}
    if choice is None or best is None:
        slope, level = (pressures[-1] - pressures[0]) / times[-1], pressures[-1]
        plateau_doubt = slope_doubt = 0.0
    else:
        line = best if kind != LEVEL else fitted(STRAIGHT, 0.0, times, pressures, choice.noise_pa) or best
        slope = line.slope
        if kind == FLATTENING:
            slope = best.drop / best.tau_s * exp(-times[-1] / best.tau_s)
        level = best.at(max(_level_time_s(values), 0.0))
        plateau_doubt, slope_doubt = spread(choice, *_used(values, moved=False))
    slope += values.doubt("fit") * slope_doubt
    level += values.doubt("fit") * (choice.noise_pa if choice else 0.0)
    answer["slope"], answer["level"] = slope, level
    if best and kind in (LEVEL, FLATTENING):
        answer["plateau"] = best.level + values.doubt("fit") * plateau_doubt
    limit = values.number("limit", USUAL_LIMIT_PA)
    answer["high"] = high = max(level, answer.get("plateau", 0.0))
    if kind in (STRAIGHT, BOTH):
        shape = "both" if kind == BOTH else "leak"
    else:
        shape = ("dry" if high <= limit else "moisture") if kind else "undecided"
    if "volume" in values:
        answer["inflow"] = throughput(values["volume"], slope, 1.0, values.number("coldest_temperature", USUAL_C))
    if "coldest_temperature" in values:
        answer["water_line"] = vapour_pressure_pa(values["coldest_temperature"])
        answer["over_water"] = answer.get("plateau", 0.0) - answer["water_line"]
    return {**answer, "shape": shape}


def _shape(telling: Telling) -> str:
    """The shape, as the function gave it on the readings as typed."""
    return str(vacuum_rise(telling.values)["shape"])


def _plateau_kind(telling: Telling, shape: str) -> str | None:
    """What the plateau can be: water as long as it is not surely over the water line of the coldest part."""
    if shape != "moisture" or "over_water" not in telling:
        return None
    return "above_water_line" if telling["over_water"] > telling.expanded("over_water") else "water_possible"


def explain(telling: Telling) -> None:
    """The curve chosen and its rival, the verdict, and what to do next."""
    values = telling.values
    shape, choice = _shape(telling), _choice(values)
    times, pressures = _used(values, moved=False)
    limit, limit_time = values.number("limit", USUAL_LIMIT_PA), values.number("limit_time", USUAL_TIME_S)
    kind = _plateau_kind(telling, shape)
    telling.tell("plateau_kind", kind, message(_PLATEAUS[kind]))
    telling.because(
        N_("level, p_e − d·e^(−t/τ), straight line, or both in one: the least corrected Akaike criterion (AICc)"),
        N_("{count} readings over {minutes} min after levelling, {first} to {last}: {words}"), _SOURCE,
        count=str(len(times)), minutes=f"{times[-1] / 60:.3g}", words=_compared(choice),
        first=telling.amount(pressures[0], "pressure", "vacuum"),
        last=telling.amount(pressures[-1], "pressure", "vacuum"),
    )  # fmt: skip
    if kind:
        telling.because(
            N_("a plateau over the vapour pressure of water (below 611.657 Pa: ice) at the coldest part is no water"),
            N_("plateau {plateau}, water at {coldest}: {line}"), _WATER,
            plateau=telling.result("plateau"), coldest=telling.reading("coldest_temperature"),
            line=telling.amount(telling["water_line"], "pressure", "vacuum"),
        )  # fmt: skip
    telling.verdict = _verdict(telling, shape, kind, limit, limit_time)
    if "inflow" in telling and shape != "moisture":
        telling.publish("leak", telling["inflow"], telling.contributions["inflow"])
        telling.because(
            N_("leak = volume × slope, brought to 20 °C; what rises from moisture or oil is in it too"),
            N_("slope {slope}: {leak}"), "common practice, no source",
            slope=telling.result("slope"), leak=telling.result("leak"),
        )  # fmt: skip
    _notes(telling, shape, limit, limit_time)


def _compared(choice: Choice | None) -> str:
    if choice is None:
        return N_("too few readings to fit a curve")
    rival = choice.rival
    if rival is None:
        return choice.best.kind
    apart = rival.criterion - choice.best.criterion
    return f"{choice.best.kind}, {apart:.1f} from {rival.kind}"


def _verdict(telling: Telling, shape: str, kind: str | None, limit: float, limit_time: float) -> Verdict:
    values = telling.values
    held = values.numbers[f"readings.{values.counts['readings'] - 1}.seconds"]
    band = expanded(telling.contributions["high"])
    high = telling["high"]
    chance = conformity.inside(high, band, high=limit)
    over = conformity.state(high, band, high=limit)
    state, text = "too_close", N_("Too close to call: {high} against {limit}; read with a closer vacuum gauge")
    if shape in ("leak", "both"):
        if telling["slope"] > telling.expanded("slope"):
            state, text = "leaking", N_("Leaking: it rises by {slope} with no sign of flattening")
        else:
            text = N_("Too close to call: a straight rise of {slope}; hold {longer} min in all")
    elif shape == "undecided":
        text = N_(
            "Too close to call: leak and moisture cannot be told apart yet; hold {longer} min in all and read at least "
            "{fewest} times"
        )
    elif over == conformity.WITHIN and held < limit_time:
        text = N_("Too close to call: under {limit} so far; hold the whole {minutes} min")
    elif over == conformity.WITHIN:
        state, text = "dry", N_("Dry: {high} after {minutes} min against {limit}, flattening or level")
    elif over == conformity.OUTSIDE and kind == "above_water_line":
        text = N_(
            "Too close to call: it flattens at {high}, over the water line: gas let go inside (refrigerant from oil, "
            "trapped liquid), not water and not yet a leak"
        )
    elif over == conformity.OUTSIDE:
        state, text = "moisture", N_("Moisture: it flattens at {high} against {limit}")
    places: dict[str, str | Amount] = {
        "high": Amount(high, "Pa", telling.frame.show(high, "pressure", telling.contributions["high"], "vacuum")),
        "limit": telling.amount(limit, "pressure", "vacuum"),
        "slope": telling.result("slope"),
        "minutes": f"{limit_time / 60:g}",
        "longer": f"{max(2.0 * held, limit_time) / 60:.0f}",
        "fewest": str(FEWEST + 2),
        "chance": percent(chance),
    }
    return Verdict(state, message(text, **places), chance, "level", None, limit)


def _notes(telling: Telling, shape: str, limit: float, limit_time: float) -> None:
    values = telling.values
    telling.note(N_("The first {seconds} s are left out: it levels"), seconds=f"{_levelling_s(values):g}")
    if "limit" not in values:
        telling.note(N_("Limit assumed: 500 micron; the order or the maker may ask for another"))
    if "limit_time" not in values:
        telling.note(N_("Time assumed: 10 min; large systems 30 to 60"))
    if shape == "moisture":
        telling.note(N_("Hoses and pump valved off, gauge on the system? What comes out of hoses looks the same"))
        telling.note(N_("Warm the coldest part, or break with dry nitrogen and evacuate again"))
        if "coldest_temperature" not in values:
            telling.note(N_("Give the coldest temperature: a plateau over its water line would not be water"))
    if shape in ("leak", "both") and telling["slope"] > 0:
        rest = EXTRAPOLATED_PA - telling["level"]
        if rest > 0:
            telling.note(
                N_("At this slope 1000 micron is reached {minutes} min after the time limit"),
                minutes=f"{rest / telling['slope'] / 60:.0f}",
            )
    _, pressures = _used(values, moved=False)
    if pressures[-1] < pressures[0] - 4.0 * noise_floor_pa(pressures):
        telling.note(N_("It fell: still levelling, cooling, or the pump is not valved off"))
    telling.note(N_("A vacuum test sees one atmosphere of difference, in the wrong direction: it is no leak test"))
    telling.note(N_("A vacuum rise is never converted to mass a year"))


_PLATEAUS: dict[str | None, str] = {
    "water_possible": N_("water is possible"),
    "above_water_line": N_("over the water line: not water"),
    None: N_("not named"),
}
WORKING = Working(
    name="vacuum_rise",
    title=N_("Vacuum rise test"),
    purpose=N_("Readings of a closed vacuum: dry, moisture, leak, or not yet to be told"),
    fields=(
        Field(
            "readings", N_("Readings"),
            N_("One a line: seconds since the valve was closed, then the pressure, such as 180 325 micron"),
            shape="series", required=True, rows=(2, 500),
            columns=(
                Field("seconds", N_("Time"), N_("Since the valve was closed"), quantity="time", low=0.0, high=1e6,
                      required=True, bare="s"),
                Field("pressure", N_("Pressure"), N_("Absolute, with its unit"), quantity="pressure", low=0.01,
                      high=125e3, required=True, reads="vacuum", error="vacuum", common=True),
            ),
        ),
        Field(
            "volume", N_("Volume"), N_("Inside volume of the system, for the size of a leak"), quantity="volume",
            low=1e-5, high=100.0,
        ),
        Field(
            "coldest_temperature", N_("Coldest part"), N_("Coldest temperature of the system: where water would lie"),
            quantity="temperature", low=-60.0, high=80.0, error="clamp",
        ),
        Field(
            "limit", N_("Limit"), N_("Level it must stay under, 500 micron where not given"), quantity="pressure",
            low=1.0, high=125e3, reads="vacuum",
        ),
        Field(
            "limit_time", N_("For how long"), N_("Time it must stay under, 10 min where not given"), quantity="time",
            low=60.0, high=7 * 86400.0,
        ),
        Field(
            "levelling", N_("Levelling"), N_("Left out at the start: 2 min where not given, 1 min of a short hold"),
            quantity="time", low=0.0, high=86400.0,
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result(
            "shape", N_("Shape"), N_("dry, moisture, leak, both or undecided"), shape="text",
            words={
                "dry": N_("dry"), "moisture": N_("moisture"), "leak": N_("leak"), "both": N_("moisture and leak"),
                "undecided": N_("undecided"),
            },
        ),
        Result("slope", N_("Slope"), N_("Of the straight part, or at the end where it flattens"), "pressure_slope"),
        Result("level", N_("Level"), N_("At the time limit, by the curve"), "pressure", reads="vacuum"),
        Result("plateau", N_("Plateau"), N_("Where it flattens to"), "pressure", reads="vacuum"),
        Result("plateau_kind", N_("Plateau is"), N_("Whether water can stand at that pressure"), shape="text"),
        Result("leak", N_("Leak"), N_("Volume times slope, inward, at 20 °C"), "leak"),
    ),
    function=vacuum_rise,
    explain=explain,
    sources=(_SOURCE, _WATER),
    cautions=(
        N_("Never start, megger or hi-pot a hermetic or scroll compressor under vacuum"),
        N_("Break a vacuum with dry nitrogen through a regulator, never with refrigerant; never pressure on the gauge"),
    ),
    own_doubts=(Origin("scatter:readings", {"fit": 1.0}),),
    order=90,
)  # fmt: skip
