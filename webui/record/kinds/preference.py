"""The units a person likes to see, by quantity."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import body, mapping, text

KIND = Kind(name="preference", subjects=("person",), schema=1, check=body({"units": mapping(text())}))
