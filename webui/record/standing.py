"""What a verdict makes of the strip it stands on."""

from __future__ import annotations

_STANDINGS = {
    "within": "proven",
    "tight": "proven",
    "dry": "proven",
    "outside": "not_proven",
    "leaking": "not_proven",
    "moisture": "not_proven",
    "too_close": "too_close",
}


def standing(verdict_state: str | None) -> str:
    """proven, not_proven, too_close, or kept where no verdict was asked for (or one not known here was given)."""
    return _STANDINGS.get(verdict_state or "", "kept")
