"""Templates to pages: one environment per language, full page or the desk's block alone."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from functools import cache, partial
from importlib.resources import files
from typing import Any

from jinja2 import BaseLoader, Environment, StrictUndefined, TemplateNotFound

from webui.assets import asset
from webui.language import N_, sentence, translations
from webui.page import Page, Request
from webui.preferences import Preferences, preferences
from webui.record import Book, once
from webui.times import shown_time
from webui.words import label

AREAS = (
    ("today", "/", N_("Today")),
    ("bench", "/bench", N_("Bench")),
    ("places", "/places", N_("Places")),
    ("board", "/board", N_("Board")),
    ("manual", "/manual", N_("Manual")),
    ("settings", "/settings", N_("Settings")),
)


class PackageTemplates(BaseLoader):
    """Reads templates from inside the package, be it a folder or a zip; nothing on disk is looked at twice."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
        parts = template.split("/")
        if ".." in parts:
            raise TemplateNotFound(template)
        path = files("webui").joinpath("templates", *parts)
        try:
            return path.read_text("utf-8"), template, lambda: True
        except (FileNotFoundError, IsADirectoryError, KeyError):
            raise TemplateNotFound(template) from None


@cache
def environment(language: str) -> Environment:
    """The one environment of a language; every template is compiled once in a process."""
    made = Environment(
        loader=PackageTemplates(),
        extensions=["jinja2.ext.i18n"],
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        cache_size=-1,
    )
    catalogue = translations(language)
    made.install_gettext_callables(catalogue.gettext, catalogue.ngettext, newstyle=True)  # type: ignore[attr-defined]
    made.globals["_"] = catalogue.gettext  # the extension's own would read a % in a sentence of calc as a place
    made.globals["asset"] = asset
    made.filters["sentence"] = partial(sentence, language=language)
    made.filters["label"] = partial(label, language=language)
    return made


def page(
    request: Request,
    book: Book | None,
    template: str,
    context: Any,
    *,
    title: str,
    area: str,
    status: int = 200,
) -> Page:
    """Render a template with the fields of a dataclass, inside the whole page or, for a partial request, without it."""
    chosen = preferences(request, book)
    values = _layout(request, chosen, title, area)
    values["layout"] = "partial.html" if request.kind == "partial" else "base.html"
    html = environment(request.language).get_template(template).render(values | _fields(context))
    return Page(status, title, html, {"Content-Type": "text/html; charset=utf-8"})


def piece(request: Request, template: str, context: Any, *, status: int = 200) -> Page:
    """Render one part of a page alone, for an element that asks for itself."""
    values: dict[str, Any] = {"when": partial(shown_time, request=request)}
    html = environment(request.language).get_template(template).render(values | _fields(context))
    return Page(status, "", html, {"Content-Type": "text/html; charset=utf-8"})


@dataclasses.dataclass(frozen=True)
class Refusal:
    """What a page says that is none: the heading and what to do."""

    heading: str
    advice: str


REFUSALS = {
    401: Refusal(N_("Not signed in"), N_("Sign in, then open this page again. What is on this phone stays on it.")),
    403: Refusal(N_("For supervisors"), N_("This page belongs to the office. Your sheets are under Today.")),
    404: Refusal(
        N_("No such page"),
        N_("Nothing is kept under this address. It may be on another phone that has not been heard of yet."),
    ),
    405: Refusal(N_("Not like this"), N_("This address does not take what was sent. Go back and use its own form.")),
}


def refusal(request: Request, book: Book | None, status: int) -> Page:
    """The page for an address that is not answered: 401, 403, 404 or 405."""
    said = REFUSALS[status]
    heading = translations(request.language).gettext(said.heading)
    return page(request, book, "refusal.html", said, title=heading, area="", status=status)


def _fields(context: Any) -> dict[str, Any]:
    return {one.name: getattr(context, one.name) for one in dataclasses.fields(context)}


def _layout(request: Request, chosen: Preferences, title: str, area: str) -> dict[str, Any]:
    supervisor = request.person is not None and request.person.role == "supervisor"
    return {
        "title": title,
        "area": area,
        "areas": [one for one in AREAS if one[0] != "board" or supervisor] if request.person else [],
        "person": request.person,
        "theme": chosen.theme,
        "language": request.language,
        "host": request.host,
        "build": request.build,
        "once": _once(request),
        "when": partial(shown_time, request=request),
    }


def _once(request: Request) -> str:
    """The one-time id of the forms on this page: as it was sent, else the host's; blank where scripts set their own."""
    return once(request) or (request.pen.ids[-1] if request.pen and request.method == "GET" else "")


def speaker(request: Request) -> Callable[[str], str]:
    """gettext for the reader of this request."""
    return translations(request.language).gettext
