"""Labels: what a name of a field, result or choice is called on a page.

A name says its own label ("rooftop" is "Rooftop"), so that a new working needs nothing here; only
names that would read badly are listed.
"""

from __future__ import annotations

from webui.language import N_, translations

_LABELS = {
    "heat_pump": N_("Heat pump"),
    "walk_in": N_("Walk-in"),
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
