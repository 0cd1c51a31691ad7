"""The kinds of entry, one module each. A kind is added by its module, a line here, and a golden file."""

from __future__ import annotations

from webui.record.kinds import finding, note, person, preference, reading, sheet, sheet_closed, site, unit, void
from webui.record.kinds.kind import Kind

KINDS: dict[str, Kind] = {
    module.KIND.name: module.KIND
    for module in (site, unit, sheet, sheet_closed, reading, finding, note, void, person, preference)
}

__all__ = ["KINDS", "Kind"]
