"""The rows that the tables are built from: which refrigerants, what they are made of, what they are worth.

refrigerants.csv (by hand), gwp.csv (by hand, with sources), critical_points.csv (from CoolProp: slow to find, so kept).
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent
COMPOSITION_SOURCE = "ASHRAE 34 designations, as listed in CoolProp dev/mixtures/ASHRAE_predefined_2026.tsv"
SAFETY_SOURCE = "ASHRAE 34 and ISO 817, from memory"
GRADES = "ABC"
# Where a blend's table starts [°C] when it is for low-temperature cascades; the others start at −60 °C.
COLD_BLENDS = {"R-508B": -100.0}


def read_csv(name: str) -> list[dict[str, str]]:
    """Rows of one of the files beside this module."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@dataclass(frozen=True)
class Row:
    """One refrigerant as asked for."""

    designation: str
    name: str
    aliases: list[str]
    components: list[str]  # CoolProp's names
    mass_fractions: list[float]
    safety_group: str
    grade: str
    model_error_k: dict[str, float]
    high_c: float | None
    remark: str

    @property
    def pure(self) -> bool:
        return len(self.components) == 1


def _row(raw: dict[str, str]) -> Row:
    fractions = [round(float(v) / 100, 6) for v in raw["mass_percent"].split(";")]
    components = raw["components"].split(";")
    if len(fractions) != len(components) or abs(sum(fractions) - 1) > 1e-9:
        raise ValueError(f"{raw['designation']}: the mass fractions {fractions} of {components} do not add up to 1")
    if raw["grade"] not in GRADES:
        raise ValueError(f"{raw['designation']}: no grade {raw['grade']!r}")
    return Row(
        raw["designation"],
        raw["name"],
        [a for a in raw["aliases"].split(";") if a],
        components,
        fractions,
        raw["safety_group"],
        raw["grade"],
        {"bubble": float(raw["error_bubble_k"]), "dew": float(raw["error_dew_k"])},
        float(raw["high_c"]) if raw["high_c"] else None,
        raw["remark"],
    )


def rows() -> list[Row]:
    """Every refrigerant of the set, in the order of the file."""
    return [_row(raw) for raw in read_csv("refrigerants.csv")]


# CoolProp's names of the components that are not simply the designation without its hyphen.
_NUMBERS = {
    "n-Propane": "R-290",
    "IsoButane": "R-600a",
    "n-Butane": "R-600",
    "n-Pentane": "R-601",
    "Isopentane": "R-601a",
    "Ammonia": "R-717",
    "CarbonDioxide": "R-744",
    "Propylene": "R-1270",
    "R152A": "R-152a",
    "R227EA": "R-227ea",
    "R236FA": "R-236fa",
}


def number_of(component: str) -> str:
    """Designation of a component that CoolProp knows under a name of its own."""
    return _NUMBERS.get(component, f"R-{component[1:]}")
