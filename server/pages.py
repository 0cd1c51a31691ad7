"""Pages of the doors, made with the desk's own templates, styles and sentences."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from flask import Response, make_response, request
from jinja2 import ChoiceLoader, Environment, FileSystemLoader

from webui.assets import build_id
from webui.language import translations
from webui.render import PackageTemplates, environment

_TEMPLATES = Path(__file__).resolve().parent / "templates"
LANGUAGE = "en"  # the one there is


@cache
def _environment() -> Environment:
    own = FileSystemLoader(_TEMPLATES)
    return environment(LANGUAGE).overlay(loader=ChoiceLoader([own, PackageTemplates()]))


def render(template: str, title: str, status: int = 200, host: str = "server", **context: Any) -> Response:
    """A whole page (or the piece that a template is) for somebody who is not at the desk."""
    layout = {
        "title": translations(LANGUAGE).gettext(title),
        "area": "",
        "areas": [],
        "build": build_id(),
        "host": host,
        "language": LANGUAGE,
        "layout": "base.html",
        "person": None,
        "theme": "device",
    }
    return make_response(_environment().get_template(template).render(layout | context), status)


def is_partial() -> bool:
    """Whether a script asked for part of a page."""
    asked = request.headers.get("HX-Request-Type")
    if asked is not None:
        return asked == "partial"
    return request.headers.get("HX-Request") == "true"
