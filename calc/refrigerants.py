"""The refrigerants Dewbook holds: what each is, what it is called, how far its tables can be trusted."""

from __future__ import annotations

import base64
import difflib
import json
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from calc.saturation_curve import SaturationCurve, decode

ZERO_C = 273.15
_PREFIX = re.compile(r"^(?:HCFO|HCFC|HFC|HFO|CFC|HC|PFC|R)(?=\d)")
_FOLDER = "data/refrigerants"
_NEAR = 4
_LOOKALIKE = str.maketrans("OIL", "011")


class UnknownRefrigerant(LookupError):
    """No refrigerant of that name is held.

    given: what was asked for; near: designations that look like it, nearest first (may be empty).
    """

    def __init__(self, given: str, near: tuple[str, ...]) -> None:
        self.given, self.near = given, near
        did_you_mean = f" Did you mean {', '.join(near)}?" if near else ""
        super().__init__(f"{given!r} is not a refrigerant Dewbook holds tables for.{did_you_mean}")


@dataclass(frozen=True)
class Component:
    """One substance of a refrigerant: its designation and its share of the mass [1]."""

    designation: str
    mass_fraction: float


@dataclass(frozen=True)
class Gwp:
    """Global warming potential over 100 years [kg of carbon dioxide per kg] on one basis, with its source."""

    value: float
    source: str


@dataclass(frozen=True, eq=False)
class Refrigerant:
    """One refrigerant of the set.

    designation: as ASHRAE 34 and ISO 817 write it, e.g. "R-410A"; aliases: other names it answers to
    name: the substance, or for a blend its composition in words
    composition: components with mass fractions [1], nominal
    molar_mass: [kg/mol]
    critical_temperature_c [°C], critical_pressure_pa [Pa absolute]
    normal_bubble_c, normal_dew_c: at 101 325 Pa [°C]; None where the tables do not reach it (R-744 has no liquid there)
    safety_group: class of ASHRAE 34 and ISO 817, e.g. "A2L"
    gwp: by basis "EU_2024_573", "AR4", "AR5", "AR6"; a basis without a figure is absent
    grade: "A" published reference model, "B" fitted parameters for some pairs, "C" estimated pairs
    estimated: a pair of the mixture model is estimated, so every figure from it is to be marked so
    model_k: model error of the saturation temperature [K], k = 2, "bubble" and "dew" (calc.saturation.model_error_k
        widens it where a blend's model is weaker)
    remark: what else to tell whoever relies on the tables, or ""
    sources: equations of state, mixture model, safety group and the like, each under its subject
    bubble, dew: the curves, each with its range t_low_c … t_high_c [°C] and p_low_pa … p_high_pa [Pa absolute];
        alike for a pure substance
    reason_below, reason_above: why the tables end there, keys of calc.saturation.REASONS
    """

    designation: str
    name: str
    aliases: tuple[str, ...]
    composition: tuple[Component, ...]
    molar_mass: float
    critical_temperature_c: float
    critical_pressure_pa: float
    normal_bubble_c: float | None
    normal_dew_c: float | None
    safety_group: str
    gwp: Mapping[str, Gwp]
    grade: str
    estimated: bool
    model_k: Mapping[str, float]
    remark: str
    sources: Mapping[str, Any]
    bubble: SaturationCurve
    dew: SaturationCurve
    reason_below: str
    reason_above: str

    @property
    def pure(self) -> bool:
        """Whether it is one substance, so that bubble and dew are one curve."""
        return len(self.composition) == 1

    def __repr__(self) -> str:
        return f"<Refrigerant {self.designation}>"


def plain(name: str) -> str:
    """A name as it is compared: no case, marks, spaces or class prefix (R, HFC, HFO …).

    Parameters
        name: as typed
    Returns
        letters and digits only
    Source
        common practice, no source
    Example
        >>> plain("r 410a"), plain("HFO-1234ze(E)"), plain("CO₂")
        ('410A', '1234ZEE', 'CO2')
    """
    folded = unicodedata.normalize("NFKC", name).upper()
    return _PREFIX.sub("", "".join(c for c in folded if c.isalnum()))


def get(name: str) -> Refrigerant:
    """A refrigerant by designation or by another of its names.

    Parameters
        name: e.g. "R-410A", "R410A", "410a", "propane", "CO2"
    Returns
        the refrigerant; the same object each time
    Raises
        UnknownRefrigerant with what looks like it
    Source
        ASHRAE 34 designations
    Example
        >>> get("410a").designation
        'R-410A'
    """
    found = _index().names.get(plain(name))
    if found is None:
        raise UnknownRefrigerant(name, near(name))
    return _load(found)


def near(name: str) -> tuple[str, ...]:
    """Designations that look like a name, nearest first, at most four.

    Source
        common practice, no source: letters taken for digits first, then names that begin alike, then the likeness of
        Python's difflib
    Example
        >>> near("R-410")
        ('R-410A',)
    """
    names, asked = _index().names, plain(name)
    misread = [n for n in (asked.translate(_LOOKALIKE),) if n in names]
    begun = [n for n in names if asked and n.startswith(asked)]
    alike = difflib.get_close_matches(asked, names, n=2 * _NEAR, cutoff=0.6)
    return tuple(dict.fromkeys(names[n] for n in [*misread, *begun, *alike]))[:_NEAR]


def designations() -> tuple[str, ...]:
    """Every designation held: substances, then blends, each in the order of their numbers.

    Source
        the index of the tables
    Example
        >>> "R-454B" in designations()
        True
    """
    return tuple(_index().files)


def tables_id() -> str:
    """Name of this set of tables: it changes whenever any number or fact in them does.

    Source
        the index of the tables
    """
    return _index().build


@dataclass(frozen=True)
class _Index:
    build: str
    files: Mapping[str, str]  # designation → file
    names: Mapping[str, str]  # plain name → designation


def _read(name: str) -> Any:
    return json.loads(files("calc").joinpath(f"{_FOLDER}/{name}").read_text(encoding="utf-8"))


@cache
def _index() -> _Index:
    raw = _read("index.json")
    names = {
        plain(name): row["designation"] for row in raw["refrigerants"] for name in (row["designation"], *row["aliases"])
    }
    return _Index(raw["build"], {row["designation"]: row["file"] for row in raw["refrigerants"]}, names)


@cache
def _load(designation: str) -> Refrigerant:
    raw = _read(_index().files[designation])
    critical, table = raw["critical"], raw["saturation"]
    numbers = decode(base64.b64decode(table["numbers"]))
    half = len(numbers) // 2
    normal = raw.get("normal_boiling_c", {})
    return Refrigerant(
        designation=raw["designation"],
        name=raw["name"],
        aliases=tuple(raw["aliases"]),
        composition=tuple(Component(c["designation"], c["mass_fraction"]) for c in raw["composition"]),
        molar_mass=raw["molar_mass_kg_mol"],
        critical_temperature_c=round(critical["temperature_k"] - ZERO_C, 4),
        critical_pressure_pa=critical["pressure_pa"],
        normal_bubble_c=normal.get("bubble"),
        normal_dew_c=normal.get("dew"),
        safety_group=raw["safety_group"],
        gwp=MappingProxyType({basis: Gwp(g["value"], g["source"]) for basis, g in raw["gwp"].items()}),
        grade=raw["grade"],
        estimated=raw["estimated"],
        model_k=MappingProxyType(raw["model_error_k"]),
        remark=raw["remark"],
        sources=MappingProxyType(raw["sources"]),
        bubble=SaturationCurve(critical, table["bubble"], numbers[:half]),
        dew=SaturationCurve(critical, table["dew"], numbers[half:]),
        reason_below=table["reason_below"],
        reason_above=table["reason_above"],
    )
