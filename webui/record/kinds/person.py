"""Who is who in a company, so that names are readable without signal. Rights come from the server's own rows."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import body, choice, text

ROLES = ("technician", "supervisor")

KIND = Kind(
    name="person",
    subjects=("person",),
    schema=1,
    check=body({"name": text(), "role": choice(*ROLES), "status": choice("active", "left")}),
)
