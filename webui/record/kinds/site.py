"""A place with units in it: the first entry opens it, later ones supersede what was known of it."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import LONGEST_PROSE, body, quantity, text

KIND = Kind(
    name="site",
    subjects=("site",),
    schema=1,
    check=body(
        {"name": text()},
        {
            "elevation": quantity,
            "address": text(LONGEST_PROSE),
            "access": text(LONGEST_PROSE),
            "contact": text(LONGEST_PROSE),
        },
    ),
)
