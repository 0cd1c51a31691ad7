"""A note in a person's own words."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import LONGEST_PROSE, body, instant, text

KIND = Kind(
    name="note", subjects=("sheet",), schema=1, check=body({"text": text(LONGEST_PROSE)}, {"taken_at": instant})
)
