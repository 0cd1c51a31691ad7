"""Gives scripts, styles and the web manifest their hash-named addresses, inside one another too."""

from __future__ import annotations

import re
from collections.abc import Callable

from webui.routes import DESK, patterns

# A script names its neighbours as "./store.js"; styles and the web manifest name files below /static/.
_NEIGHBOUR = re.compile(r'"\./([a-z_]+\.js)"')
_STATIC = re.compile(r"/static/((?:css|icons|js|fonts)/[A-Za-z0-9_./-]+)")

_DESK_PLACE = "const DESK = [];"


class BadScript(Exception):
    """A script names a neighbour that is not there, or scripts import each other in a ring."""


def neighbours(source: str) -> list[str]:
    """The scripts that a script names, in the order it names them."""
    return _NEIGHBOUR.findall(source)


def in_order(sources: dict[str, str]) -> list[str]:
    """Names of scripts with each after those it names. Raises BadScript."""
    placed: list[str] = []

    def place(name: str, above: tuple[str, ...]) -> None:
        if name in placed:
            return
        if name in above:
            raise BadScript("scripts name each other in a ring: " + " → ".join((*above, name)))
        if name not in sources:
            raise BadScript(f"{above[-1]} names {name}, which is not there")
        for other in neighbours(sources[name]):
            place(other, (*above, name))
        placed.append(name)

    for name in sorted(sources):
        place(name, ())
    return placed


def with_addresses(source: str, address: Callable[[str], str]) -> str:
    """A script with its neighbours' names replaced; address gives the file name of a script."""
    return _NEIGHBOUR.sub(lambda found: f'"./{address(found[1])}"', source)


def with_static_addresses(source: str, address: Callable[[str], str]) -> str:
    """A style sheet or web manifest with /static/NAME replaced; address gives the path below /static/."""
    return _STATIC.sub(lambda found: f"/static/{address(found[1])}", source)


def with_desk(source: str, desk: str) -> str:
    """The service worker with the desk's addresses written into it. Raises BadScript where it has no place for them."""
    if source.count(_DESK_PLACE) != 1:
        raise BadScript(f"the service worker has to hold {_DESK_PLACE!r} once")
    return source.replace(_DESK_PLACE, f"const DESK = {desk};")


def desk_patterns() -> list[str]:
    """The desk's addresses as regular expressions that both the page's scripts and the service worker read."""
    made = []
    for pattern in patterns(DESK):
        parts = [
            "[a-z0-9][a-z0-9_-]{0,39}" if part.startswith("<") else re.escape(part)
            for part in pattern.strip("/").split("/")
        ]
        made.append("^/" + "/".join(parts) + "$")
    return made
