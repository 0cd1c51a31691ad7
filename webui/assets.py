"""Addresses of static files: hash-named by the build, plain where nothing has been built yet."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

_PREFIX = "/static/"
_handed_in: dict[str, str] = {}


def use(manifest: Mapping[str, Any]) -> None:
    """Take the manifest from the host: the phone's bundle cannot carry its own, which holds the bundle's hash."""
    _handed_in.clear()
    _handed_in.update(_addresses(manifest))


def asset(name: str) -> str:
    """The address of a static file, e.g. asset("css/app.css") → "/static/gen/css/app.0f3a….css".

    Raises LookupError for a file that the build does not have. Before the first build the source is named as it lies.
    """
    known = _handed_in or _built()
    if not known:
        return _PREFIX + name
    if name not in known:
        raise LookupError(f"there is no static file {name!r} in this build; files are named as below webui/static")
    return known[name]


def build_id() -> str:
    """The id of the build beside this code; "" before the first."""
    found: str = _manifest().get("build", "")
    return found


@cache
def _built() -> dict[str, str]:
    return _addresses(_manifest())


@cache
def _manifest() -> dict[str, Any]:
    path = files("webui").joinpath("static", "gen", "manifest.json")
    if not path.is_file():
        return {}
    found: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return found


def _addresses(manifest: Mapping[str, Any]) -> dict[str, str]:
    return {one["name"]: f"{_PREFIX}gen/{one['file']}" for one in manifest.get("files", ())}
