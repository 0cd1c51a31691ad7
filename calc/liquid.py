"""How far the liquid density of the tables can be trusted.

Source: models of mixtures state 0.1 % for liquid density (J. Phys. Chem. Ref. Data 33 (2004) 593 and 52 (2023) 013101);
doubled here, and widened for fitted and estimated mixtures, by our own judgement.
"""

from __future__ import annotations

from calc.messages import N_
from calc.telling import Telling
from calc.uncertainty import COVERAGE, Origin
from calc.values import Values

SHARE_OF_GRADE = {"A": 0.002, "B": 0.005, "C": 0.01}
"""Expanded uncertainty (k = 2) of a saturated liquid density as a share of it, by grade of the refrigerant."""

DENSITY_DOUBT = Origin("model:density", {"model:density": 1.0})
"""An own doubt for workings that use liquid_density, in standard uncertainties."""


def liquid_density(values: Values, temperature_c: float, field: str) -> float:
    """Density of saturated liquid [kg/m³] with the doubt of its model; Refused outside the table.

    Parameters
        temperature_c: [°C], and `field` where it comes from
    Source
        calc.saturation.density; doubt: SHARE_OF_GRADE
    """
    share = SHARE_OF_GRADE[values.refrigerant.grade] / COVERAGE
    return values.bubble_density_kg_m3(temperature_c, field) * (1.0 + share * values.doubt("model:density"))


def tell_density(telling: Telling) -> None:
    """Says how far the density can be trusted."""
    fluid = telling.values.refrigerant
    telling.note(
        N_("Liquid density of {refrigerant}: grade {grade}, ± {share} % (k = 2), saturated and of nominal composition"),
        refrigerant=fluid.designation, grade=fluid.grade, share=f"{100 * SHARE_OF_GRADE[fluid.grade]:g}",
    )  # fmt: skip
