"""What the gauges and probes showed, as typed; taken_at where it was read earlier than it was written down."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import LONGEST_PROSE, body, instant, mapping, quantity, text

KIND = Kind(
    name="reading",
    subjects=("sheet",),
    schema=1,
    check=body({"values": mapping(quantity, least=1)}, {"taken_at": instant, "place": text(LONGEST_PROSE)}),
)
