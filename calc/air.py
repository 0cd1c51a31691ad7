"""The fields that give a state of moist air, and its humidity ratio from whichever of them was given."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from calc import moist_air
from calc.declaration import Field
from calc.errors import Refused
from calc.messages import N_, message
from calc.values import Values

LOWEST_C, HIGHEST_C = -60.0, 90.0
COLDEST_WET_WICK_C = -10.0
SOURCE = "ASHRAE Handbook—Fundamentals (2017), chapter 1, ideal mixture"
_DRY = Field(
    "dry_bulb", N_("Dry bulb"), N_("Temperature of the air"), quantity="temperature", low=LOWEST_C, high=HIGHEST_C,
    required=True, error="air",
)  # fmt: skip
_WET = Field(
    "wet_bulb", N_("Wet bulb"), N_("Temperature of a wetted wick in moving air"), quantity="temperature",
    low=LOWEST_C, high=HIGHEST_C, error="air",
)  # fmt: skip
_HUMIDITY = Field(
    "relative_humidity", N_("Relative humidity"), N_("As a hygrometer shows it; below 0 °C over ice"),
    quantity="ratio", low=0.001, high=1.0, error="humidity",
)  # fmt: skip
DEW_POINT = Field(
    "dew_point", N_("Dew point"), N_("Temperature at which the air begins to give off water, below 0 °C frost"),
    quantity="temperature", low=-90.0, high=HIGHEST_C, error="air",
)  # fmt: skip


class AirFields(NamedTuple):
    """Names of the fields of one state of air; "" for one that is not asked for."""

    dry_bulb: str = "dry_bulb"
    wet_bulb: str = "wet_bulb"
    relative_humidity: str = "relative_humidity"
    dew_point: str = ""

    def moisture(self, values: Values) -> str:
        """The field that gives the moisture."""
        return next(name for name in self[1:] if name and name in values)


def air_fields(prefix: str = "", *labels: str) -> tuple[Field, Field, Field]:
    """Dry bulb, wet bulb and relative humidity of one state of air; labels where there are several states."""
    fields = (_DRY, _WET, _HUMIDITY)
    if not prefix:
        return fields
    dry, wet, humidity = (
        replace(field, name=f"{prefix}_{field.name}", label=label) for field, label in zip(fields, labels, strict=True)
    )
    return dry, wet, humidity


def frozen_wick(values: Values, names: AirFields) -> bool:
    """Whether the wick of the wet bulb given counts as frozen: as said, else below 0 °C.

    It follows the reading itself, not its ±: a wick is in one state.
    """
    return values.word("wick", "frozen" if values.numbers[names.wet_bulb] < 0.0 else "wet") == "frozen"


def ratio_of(values: Values, names: AirFields) -> float:
    """Humidity ratio [kg/kg] of the air that the fields describe.

    Raises
        Refused where the readings cannot be of the same air
    Source
        calc.moist_air
    """
    moisture, dry, pressure = names.moisture(values), values[names.dry_bulb], values.site_pa
    if moisture == names.relative_humidity:
        vapour = values[moisture] * moist_air.saturation_pressure_pa(dry)
    elif values.numbers[moisture] > values.numbers[names.dry_bulb]:
        raise _above(values, moisture, names)
    elif moisture == names.dew_point:
        vapour = moist_air.saturation_pressure_pa(values[moisture])
    else:
        iced = frozen_wick(values, names)
        _check_wick(values, moisture, iced)
        if moist_air.saturation_pressure_pa(values[moisture], iced) >= pressure:
            raise _boils(values, moisture)
        ratio = moist_air.ratio_at_wet_bulb(dry, values[moisture], pressure, iced=iced)
        if ratio <= 0.0:
            raise _too_dry(values, moisture, names)
        return ratio
    if vapour >= pressure:
        raise _boils(values, moisture)
    return moist_air.humidity_ratio(vapour, pressure)


def _above(values: Values, moisture: str, names: AirFields) -> Refused:
    problem = message(
        N_("{moist} is above the dry bulb, {dry}: no air shows that"),
        moist=values.texts[moisture], dry=values.texts[names.dry_bulb],
    )  # fmt: skip
    return values.refuse(
        moisture, "contradiction", problem,
        message(N_("Check that the two were not swapped and that both were read in the same air, steady")),
    )  # fmt: skip


def _too_dry(values: Values, moisture: str, names: AirFields) -> Refused:
    problem = message(
        N_("A wet bulb of {wet} at {dry} would be drier than air without any water"),
        wet=values.texts[moisture], dry=values.texts[names.dry_bulb],
    )  # fmt: skip
    return values.refuse(
        moisture, "contradiction", problem,
        message(N_("Check both readings and their units, and that both were read in the same air")),
    )  # fmt: skip


def _boils(values: Values, moisture: str) -> Refused:
    problem = message(
        N_("At {pressure} of air pressure water at that temperature boils: there is no such moist air"),
        pressure=values.frame.amount(values.site_pa, "pressure", unit="kPaa"),
    )
    return values.refuse(
        moisture, "impossible", problem, message(N_("Check the temperatures, the elevation and the barometer"))
    )


def _check_wick(values: Values, moisture: str, iced: bool) -> None:
    wet = values.numbers[moisture]
    if iced and wet > 0.0:
        raise values.refuse(
            moisture, "contradiction", message(N_("A frozen wick cannot show {wet}"), wet=values.texts[moisture]),
            message(N_("Say that the wick is wet, or read it again once it has settled below freezing")),
        )  # fmt: skip
    if not iced and wet < COLDEST_WET_WICK_C:
        raise values.refuse(
            moisture, "contradiction",
            message(N_("A wick does not stay wet at {wet}: it freezes"), wet=values.texts[moisture]),
            message(N_("Say that the wick is frozen, or use a hygrometer")),
        )  # fmt: skip
