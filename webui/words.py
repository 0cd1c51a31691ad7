"""Labels: what a name of a field, result or choice is called on a page.

A name says its own label ("suction_line_drop" is "Suction line drop"), so that a new working needs nothing here; only
names that would read badly are listed.
"""

from __future__ import annotations

from webui.language import N_, translations

_LABELS = {
    "co2_equivalent": N_("CO₂ equivalent"),
    "gwp": N_("Global warming potential"),
    "suction_at": N_("Suction taken at"),
    "liquid_at": N_("Liquid taken at"),
    "cop": N_("Coefficient of performance"),
    "by_formula": N_("By the formula"),
    "metering": N_("Metering device"),
    "micron": N_("In micron"),
    "heat_pump": N_("Heat pump"),
    "walk_in": N_("Walk-in"),
    "temperature_difference": N_("Temperature difference"),
    "expected_low": N_("Expected, lowest (dew)"),
    "expected_high": N_("Expected, highest (bubble)"),
    "within": N_("within"),
    "outside": N_("outside"),
    "too_close": N_("too close to call"),
    "tight": N_("tight"),
    "dry": N_("dry"),
    "leaking": N_("leaking"),
    "moisture": N_("moisture"),
}


def label(name: str, language: str = "en") -> str:
    """The label of a name, in the reader's language."""
    said = _LABELS.get(name) or (name if " " in name else name[:1].upper() + name[1:].replace("_", " "))
    return translations(language).gettext(said)
