"""Air pressure of the site: the fields that give it, and what follows where they are not given."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from calc.assumed import assumed_limit, assumed_note
from calc.declaration import Field
from calc.errors import Fault
from calc.frame import SITE
from calc.messages import N_, Message, message
from calc.notation import Typed
from calc.pressure import (
    HIGHEST_ELEVATION_M,
    LOWEST_ELEVATION_M,
    REDUCED_SHARE,
    STANDARD_ATMOSPHERE_PA,
    WEATHER_PA,
    standard_atmosphere_pa,
)
from calc.uncertainty import COVERAGE, Origin, from_limit
from calc.units import Unit

ELEVATION = Field(
    "elevation", N_("Elevation"), N_("Height of the site above sea level; sets the air pressure gauges count from"),
    quantity="length", low=LOWEST_ELEVATION_M, high=HIGHEST_ELEVATION_M,
)  # fmt: skip
BAROMETER = Field(
    "barometer", N_("Barometer"),
    N_("Air pressure read at the site itself (station pressure), not reduced to sea level as weather reports give it"),
    quantity="pressure", low=20e3, high=125e3, reads="absolute", error="barometer",
)  # fmt: skip
SITE_FIELDS = (ELEVATION, BAROMETER)
SITE_NAMES = (ELEVATION.name, BAROMETER.name)


def required_elevation() -> Field:
    """The elevation field where a working cannot do without it."""
    return replace(ELEVATION, required=True)


class Site(NamedTuple):
    """Air pressure [Pa], the origins of its doubt, and what to say of it."""

    pressure_pa: float
    origins: tuple[Origin, ...]
    notes: tuple[Message, ...]

    @property
    def moves(self) -> Mapping[str, float]:
        """Standard uncertainty by origin."""
        return {origin.name: origin.moves[SITE] for origin in self.origins}


def site_of(typed: Mapping[str, Typed], canonical: Mapping[str, float]) -> tuple[Site, list[Fault]]:
    """The site's air pressure from barometer or elevation; the standard atmosphere at sea level without either.

    typed: fields as typed; canonical: their canonical values, without those that are faulty
    """
    elevation = canonical.get("elevation")
    standard = STANDARD_ATMOSPHERE_PA if elevation is None else standard_atmosphere_pa(elevation)
    barometer = canonical.get("barometer")
    if barometer is not None:
        if elevation is not None and abs(barometer - standard) > REDUCED_SHARE * standard:
            return Site(standard, (), ()), [_reduced(typed["barometer"], standard)]
        reading = typed["barometer"]
        limit = assumed_limit("barometer", reading) if reading.limit is None else reading.limit
        notes = (assumed_note("barometer"),) if reading.limit is None else ()
        return Site(barometer, (Origin(SITE, {SITE: from_limit(limit)}),), notes), []
    origins = [Origin(SITE, {SITE: WEATHER_PA / COVERAGE})]
    if elevation is None:
        note = message(N_("Sea level assumed: give the elevation or the barometer of the site if it lies higher"))
        return Site(standard, tuple(origins), (note,)), []
    height = typed["elevation"].limit
    if height:
        slope = (standard_atmosphere_pa(elevation - 1.0) - standard_atmosphere_pa(elevation + 1.0)) / 2.0
        origins.append(Origin("reading:elevation", {SITE: -slope * from_limit(height)}))
    note = message(N_("Air pressure of the standard atmosphere at that elevation, ± 1.5 kPa (0.2 psi) for the weather"))
    return Site(standard, tuple(origins), (note,)), []


def _reduced(reading: Typed, standard_pa: float) -> Fault:
    unit: Unit = reading.unit
    return Fault(
        "barometer",
        reading.text,
        "contradiction",
        message(
            N_("{given} is more than 4 % from the standard pressure of the elevation, {standard}"),
            given=reading.text, standard=f"{standard_pa / unit.scale:.4g} {unit.symbol}",
        ),
        message(N_("Is it reduced to sea level? Give the station pressure, read at the site, or leave it out")),
    )  # fmt: skip
