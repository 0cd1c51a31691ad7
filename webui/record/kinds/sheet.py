"""A sheet is opened: one visit to one unit. Tag and site name are kept as they were on the day."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import body, choice, identity, text

VISITS = ("inspect", "repair", "install", "decommission")

KIND = Kind(
    name="sheet",
    subjects=("sheet",),
    schema=1,
    touches=("unit", "site"),
    check=body(
        {
            "unit": identity,
            "unit_tag": text(),
            "site": identity,
            "site_name": text(),
            "visit": choice(*VISITS),
            "opened_by": identity,
        }
    ),
)
