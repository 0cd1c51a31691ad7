"""Fields that several workings share, so that one thing is asked for in one way."""

from __future__ import annotations

from calc.declaration import Field
from calc.messages import N_

LOWEST_PRESSURE_PA = 100.0
HIGHEST_PRESSURE_PA = 15e6
LOWEST_TEMPERATURE_C = -110.0
HIGHEST_TEMPERATURE_C = 200.0

REFRIGERANT = Field(
    "refrigerant", N_("Refrigerant"), N_("Designation as on the plate, such as R-410A"),
    shape="refrigerant", required=True,
)  # fmt: skip


def gauge_pressure(name: str, label: str, help: str, *, required: bool = False, aliases: tuple[str, ...] = ()) -> Field:
    """A refrigerant pressure as a gauge reads it, 100 Pa to 15 MPa absolute."""
    return Field(
        name, label, help, quantity="pressure", low=LOWEST_PRESSURE_PA, high=HIGHEST_PRESSURE_PA, required=required,
        aliases=aliases, reads="gauge", error="gauge",
    )  # fmt: skip


def pipe_temperature(name: str, label: str, help: str, *, required: bool = False) -> Field:
    """A temperature read by a clamp on a pipe, −110 °C to 200 °C."""
    return Field(
        name, label, help, quantity="temperature", low=LOWEST_TEMPERATURE_C, high=HIGHEST_TEMPERATURE_C,
        required=required, error="clamp",
    )  # fmt: skip


def line_drop(name: str, label: str, help: str) -> Field:
    """A pressure lost between two places of the circuit, 0 to 1 MPa."""
    return Field(name, label, help, quantity="pressure_difference", low=0.0, high=1e6)


def target_and_tolerance(what: str, tolerance: str) -> tuple[Field, Field]:
    """What a figure should be and by how much it may miss it: differences of temperature up to 60 K and 30 K."""
    return (
        Field("target", N_("Target"), what, quantity="temperature_difference", low=0.0, high=60.0),
        Field("tolerance", N_("Tolerance"), tolerance, quantity="temperature_difference", low=0.0, high=30.0),
    )


def weighed(name: str, label: str, help: str, *, required: bool = False) -> Field:
    """A mass from a scale, 1 g to 50 t."""
    return Field(name, label, help, quantity="mass", low=1e-3, high=5e4, required=required, error="mass")


def yes_or_no(name: str, label: str, help: str) -> Field:
    """A question answered by yes or no; not given means no, unless the working says otherwise."""
    return Field(name, label, help, shape="choice", choices=("yes", "no"), said=(N_("yes"), N_("no")))
