"""A sheet is closed; voiding this entry opens it again."""

from webui.record.kinds.kind import Kind
from webui.record.kinds.shapes import LONGEST_PROSE, body, text

KIND = Kind(name="sheet_closed", subjects=("sheet",), schema=1, check=body({}, {"why": text(LONGEST_PROSE)}))
