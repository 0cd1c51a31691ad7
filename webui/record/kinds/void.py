"""Another entry of the same subject counts no longer; it stays visible with who said so and why."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import LONGEST_PROSE, body, identity, text

KIND = Kind(
    name="void",
    subjects=("sheet", "site", "unit", "person"),
    schema=1,
    check=body({"target": identity, "why": text(LONGEST_PROSE)}),
)
