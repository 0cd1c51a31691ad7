"""What a working gave and the person saw: figures, verdict and notes, with the versions that made them."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import (
    LONGEST_PROSE,
    body,
    decimal,
    identity,
    listing,
    mapping,
    message,
    name,
    places,
    record,
    text,
)

_FIGURE = record({"value": text(), "unit": text(empty=True), "shown": text(LONGEST_PROSE, empty=True)}, {"u": decimal})
_VERDICT = record({"state": name, "text": text(LONGEST_PROSE), "values": places})

KIND = Kind(
    name="finding",
    subjects=("sheet",),
    schema=1,
    check=body(
        {
            "of": listing(identity, least=1),
            "working": name,
            "calc_version": text(),
            "tables": text(empty=True),
            "inputs": mapping(text(empty=True)),
            "results": mapping(_FIGURE),
            "notes": listing(message),
        },
        {"verdict": _VERDICT},
    ),
)
