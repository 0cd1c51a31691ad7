"""What a pressure test may go up to, how far to fill now, and the steps on the way."""

from __future__ import annotations

from calc.declaration import Field, Result, Working
from calc.messages import N_, message
from calc.nitrogen import HIGHEST_C, HIGHEST_PA, LOWEST_C, same_gas_pa
from calc.site import SITE_FIELDS
from calc.telling import Telling
from calc.values import Values

RELIEF_SHARE = 0.9
FIRST_SHARE = 0.1
PAUSE_S = 600
SETTLING_S = 900
STRENGTH_S = 600
_RULE = "test limit: common practice, no source; local code and plate govern"
_GAS = "nitrogen: Span and others, J. Phys. Chem. Ref. Data 29 (2000) 1361"


def _gauge(values: Values, pressure_pa: float) -> float:
    """A pressure above the site's air."""
    return pressure_pa - values.site_pa


def test_plan(values: Values) -> dict[str, float | str]:
    """Highest test pressure and how far to fill at today's temperature [Pa absolute].

    Tightness: the lowest design pressure of what is connected, or 0.9 of the relief setting if that is less. Strength:
    the code's factor times the lowest design pressure. Shares and factors are of pressures above the site's air.
    The fill is the pressure that the same nitrogen brings to the limit at the hottest temperature of the hold.

    Source
        common practice, no source; nitrogen: calc.nitrogen
    """
    lowest = min(_gauge(values, design) for design in values.items("design_pressures"))
    if lowest <= 0:
        raise values.refuse(
            "design_pressures", "impossible", message(N_("A design pressure is not above the air of the site")),
            message(N_("Read it from the plate: every connected side, as a gauge shows it")),
        )  # fmt: skip
    strength = values.word("kind") == "strength"
    governs = "design"
    if strength:
        if "factor" not in values:
            raise values.refuse(
                "factor", "missing", message(N_("A strength test needs the factor of the code that applies")),
                message(N_("Give the factor over design pressure that the code asks for; there is no usual one here")),
            )  # fmt: skip
        limit = values["factor"] * lowest
    else:
        limit = lowest
        if "relief_pressure" in values:
            relief = RELIEF_SHARE * _gauge(values, values["relief_pressure"])
            if relief <= 0:
                raise values.refuse(
                    "relief_pressure", "impossible", message(N_("That relief would be open to the air of the site")),
                    message(N_("Read the setting on the relief device, as a gauge shows it")),
                )  # fmt: skip
            if relief < limit:
                limit, governs = relief, "relief"
    top = limit + values.site_pa
    if top > HIGHEST_PA:
        raise values.refuse(
            "factor" if strength else "design_pressures", "out_of_range",
            message(N_("The test would go to {limit}, above what is worked out here ({most})"),
                    limit=values.frame.amount(top, "pressure", "gauge"),
                    most=values.frame.amount(HIGHEST_PA, "pressure", "gauge")),
            message(N_("Check the design pressure, the factor and their units")),
        )  # fmt: skip
    fill_c, hottest_c = values["fill_temperature"], values["hottest_temperature"]
    fill = same_gas_pa(top, [hottest_c], [fill_c], [1.0]) if hottest_c > fill_c else top
    return {"limit": top, "fill_limit": fill, "governed_by": governs if not strength else "factor"}


def _steps(telling: Telling) -> list[tuple[float, str, int]]:
    """Pressure [Pa], what to do there, and how long to stay [s]."""
    values = telling.values
    site = values.site_pa
    full = telling["fill_limit"] - site
    steps = [
        (site + FIRST_SHARE * full, N_("a little: listen and feel at every joint, then go on"), PAUSE_S),
        (site + 0.5 * full, N_("half: cylinder shut, everyone clear, watch the gauge"), PAUSE_S),
    ]
    if values.word("kind") == "strength":
        lowest = min(values.items("design_pressures"))
        return [
            *steps,
            (site + full, N_("full: everyone clear, nobody near while it stands; short, then let it down"), STRENGTH_S),
            (lowest, N_("back to design pressure or below before anyone comes near"), 0),
        ]
    return [
        *steps,
        (site + full, N_("full: shut the cylinder, take the hose off, let it settle; then take the start reading"),
         SETTLING_S),
    ]  # fmt: skip


def explain(telling: Telling) -> None:
    """Which setting governs, what the warming will do, and the steps."""
    values = telling.values
    strength = values.word("kind") == "strength"
    lowest = telling.amount(min(values.items("design_pressures")), "pressure", "gauge")
    if strength:
        telling.because(
            N_("limit = factor × lowest design pressure of what is connected (gauge)"),
            N_("{factor} × {lowest} = {limit}"), _RULE,
            factor=f"{values['factor']:g}", lowest=lowest, limit=telling.result("limit"),
        )  # fmt: skip
        telling.note(
            N_("Strength is not tightness: hold it short, only on parts built for it; then prove tightness at or below "
               "{lowest}"),
            lowest=lowest,
        )  # fmt: skip
        if "relief_pressure" in values:
            telling.note(
                N_("A relief device set to {relief} opens before this: whether and how it comes off is for the code"),
                relief=telling.reading("relief_pressure"),
            )
    else:
        relief = telling.reading("relief_pressure") if "relief_pressure" in values else N_("not given")
        telling.because(
            N_("limit = the less of the lowest design pressure connected and 0.9 × relief setting (gauge)"),
            N_("lowest design {lowest}, relief {relief}: {limit}"), _RULE,
            lowest=lowest, relief=relief, limit=telling.result("limit"),
        )  # fmt: skip
        if "relief_pressure" not in values:
            telling.note(N_("Relief setting not given: if one is connected, give it; 0.9 of it is the most"))
    telling.because(
        N_("fill limit: the same nitrogen, heated to the hottest temperature of the hold, stands at the limit"),
        N_("{fill} at {now} is {limit} at {hottest}"), _GAS,
        fill=telling.result("fill_limit"), now=telling.reading("fill_temperature"), limit=telling.result("limit"),
        hottest=telling.reading("hottest_temperature"),
    )  # fmt: skip
    if values["hottest_temperature"] <= values["fill_temperature"]:
        telling.note(N_("It will not get hotter than now: the fill limit is the limit itself"))
    steps = _steps(telling)
    shown = [str(telling.amount(pressure, "pressure", "gauge")) for pressure, _, _ in steps]
    told = [
        {"pressure": pressure, "unit": "Pa", "shown": text, "do": do, "wait": wait}
        for text, (pressure, do, wait) in zip(shown, steps, strict=True)
    ]
    telling.tell("steps", told, message(N_("{steps}"), steps=" → ".join(shown)))
    for text, (_, do, wait) in zip(shown, steps, strict=True):
        if wait:
            telling.note(
                N_("{pressure}: {do}; wait {minutes} min or more"), pressure=text, do=do, minutes=f"{wait // 60}"
            )
        else:
            telling.note(N_("{pressure}: {do}"), pressure=text, do=do)
    telling.note(N_("It proves only what is connected: open and hold open every valve of the sections it is to cover"))


def _temperature(name: str, label: str, help: str) -> Field:
    return Field(
        name, label, help, quantity="temperature", low=LOWEST_C, high=HIGHEST_C, required=True, error="air"
    )  # fmt: skip


WORKING = Working(
    name="test_plan",
    title=N_("Pressure test plan"),
    purpose=N_("How high a pressure test may go, how far to fill now, and in which steps"),
    fields=(
        Field(
            "kind", N_("Kind of test"), N_("Strength is short and above design; tightness is a standing test"),
            shape="choice", choices=("tightness", "strength"),
            said=(N_("tightness (standing pressure)"), N_("strength")), required=True,
        ),
        Field(
            "design_pressures", N_("Design pressures"),
            N_("Of every side connected, from the plate, one a line with its unit, such as 450 psig"), shape="list",
            quantity="pressure", low=50e3, high=HIGHEST_PA, required=True, reads="gauge", rows=(1, 20),
        ),
        Field(
            "relief_pressure", N_("Relief setting"), N_("Lowest setting of a relief device that is connected"),
            quantity="pressure", low=50e3, high=HIGHEST_PA, reads="gauge",
        ),
        Field(
            "factor", N_("Strength factor"), N_("For a strength test: the code's factor over design pressure, 1 to 3"),
            quantity="ratio", low=1.0, high=3.0,
        ),
        _temperature("fill_temperature", N_("Temperature now"), N_("Of the pipes while filling")),
        _temperature(
            "hottest_temperature", N_("Hottest in the hold"), N_("Hottest that any connected part may get in the hold")
        ),
        *SITE_FIELDS,
    ),
    results=(
        Result("limit", N_("Highest test pressure"), N_("Never above this, at any time"), "pressure", reads="gauge"),
        Result(
            "fill_limit", N_("Fill now to at most"), N_("So that it stays below the limit when it warms"), "pressure",
            reads="gauge",
        ),
        Result(
            "governed_by", N_("Set by"), N_("design: lowest design pressure; relief: its setting; factor: the code's"),
            shape="text",
            words={
                "design": N_("lowest design pressure"), "relief": N_("relief setting"), "factor": N_("code's factor"),
            },
        ),
        Result("steps", N_("Steps"), N_("On the way: pressure, what to do there, how long to wait"), shape="list"),
    ),
    function=test_plan,
    explain=explain,
    sources=(_RULE, _GAS),
    cautions=(
        N_("Dry nitrogen only, through a regulator and a relief; never oxygen, acetylene or compressed air"),
        N_("Stored pressure kills: everyone clear while it rises; let it out outdoors, nitrogen suffocates"),
        N_("Design pressure, factor and relief come from plate, maker and local code; a licensed person decides"),
    ),
    order=60,
)  # fmt: skip
