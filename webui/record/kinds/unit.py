"""A machine at a site, as its plate and the person who looked at it describe it."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import body, choice, identity, quantity, text

UNIT_KINDS = ("split", "rooftop", "heat_pump", "chiller", "walk_in", "cabinet", "rack", "other")
METERINGS = ("fixed", "modulating")

KIND = Kind(
    name="unit",
    subjects=("unit",),
    schema=1,
    touches=("site",),
    check=body(
        {
            "site": identity,
            "tag": text(),
            "kind": choice(*UNIT_KINDS),
            "refrigerant": text(),
            "metering": choice(*METERINGS),
        },
        {
            "plate_charge": quantity,
            "target_superheat": quantity,
            "target_subcooling": quantity,
            "receiver": choice("yes", "no"),
            "serial": text(),
        },
    ),
)
