"""Air pressure at a site from its elevation."""

from __future__ import annotations

from calc.declaration import Result, Working
from calc.messages import N_
from calc.site import required_elevation
from calc.telling import Telling
from calc.values import Values

_SOURCE = "ASHRAE Handbook Fundamentals (2017), chapter 1, equation 3"


def site_pressure(values: Values) -> dict[str, float]:
    """Air pressure [Pa] of the standard atmosphere at the elevation [m]; the runner has worked it out for all workings.

    Source
        ASHRAE Handbook Fundamentals (2017), chapter 1, equation 3
    """
    return {"site_pressure": values.site_pa}


def explain(telling: Telling) -> None:
    """Says by which formula."""
    telling.because(
        N_("site pressure = 101.325 kPa · (1 − 2.25577·10⁻⁵ · elevation in m)^5.2559"),
        N_("elevation {elevation} gives {pressure}"),
        _SOURCE,
        elevation=telling.reading("elevation"),
        pressure=telling.result("site_pressure"),
    )


WORKING = Working(
    name="site_pressure",
    title=N_("Air pressure at the site"),
    purpose=N_("The air pressure that gauges count from, at the elevation of the site"),
    fields=(required_elevation(),),
    results=(
        Result(
            "site_pressure", N_("Site pressure"), N_("Absolute air pressure of the standard atmosphere"),
            quantity="pressure", reads="absolute",
        ),
    ),
    function=site_pressure,
    explain=explain,
    sources=(_SOURCE,),
    order=60,
)  # fmt: skip
