"""Settings: units and theme of the signed-in person, and what this build is."""

from __future__ import annotations

from dataclasses import dataclass, replace

from calc import CALC_VERSION, refrigerants
from calc.messages import N_
from webui.page import Page, Request, redirect
from webui.preferences import SYSTEMS, THEMES, Preferences, preferences
from webui.preferences import keep as keep_preferences
from webui.record import Book, Writer
from webui.render import page, speaker
from webui.routes import Params


@dataclass(frozen=True)
class Settings:
    """chosen: what holds now; systems, themes: words to choose and what they say; versions of calc and tables."""

    chosen: Preferences
    systems: tuple[tuple[str, str], ...]
    themes: tuple[tuple[str, str], ...]
    version: str
    tables: str


def show(request: Request, book: Book, params: Params) -> Page:
    context = Settings(
        preferences(request, book),
        tuple(zip(SYSTEMS, (N_("US customary (psig, °F, lb)"), N_("Metric (barg, °C, kg)")), strict=True)),
        tuple(zip(THEMES, (N_("As the device"), N_("Paper"), N_("Lamp")), strict=True)),
        CALC_VERSION,
        refrigerants.tables_id(),
    )
    return page(request, book, "settings.html", context, title=speaker(request)("Settings"), area="settings")


def keep(request: Request, book: Book, params: Params) -> Page:
    """A system of units newly chosen also forgets the single units that were last in hand."""
    chosen = preferences(request, book)
    system, theme = request.value("system"), request.value("theme")
    if system in SYSTEMS and system != chosen.system:
        chosen = replace(chosen, system=system, units={})
    if theme in THEMES:
        chosen = replace(chosen, theme=theme)
    writer = Writer(request)
    keep_preferences(writer, request, book, chosen)
    return redirect("/settings", writer.texts)
