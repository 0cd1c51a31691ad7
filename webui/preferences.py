"""How a person likes to see and type things: system, unit of each quantity, theme.

Kept as one entry per person that each change supersedes. `system` and `theme` stand in the same mapping as the units,
under names that no quantity has.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from webui.page import Ref, Request
from webui.record import Book, Writer, current

SYSTEMS = ("us", "metric")
THEMES = ("device", "paper", "lamp")


@dataclass(frozen=True)
class Preferences:
    """system: "us" or "metric"; theme: "device" follows the phone; units: quantity (or field) to unit last in hand."""

    system: str
    theme: str = "device"
    units: Mapping[str, str] = field(default_factory=dict)

    def mapping(self) -> dict[str, str]:
        return {**self.units, "system": self.system, "theme": self.theme}


def preferences(request: Request, book: Book | None) -> Preferences:
    """What the signed-in person chose, or the host's default."""
    kept: Mapping[str, str] = {}
    if request.person is not None and book is not None:
        item = current(book.state(Ref("person", request.person.id)), "preference")
        if item is not None and not item["void"]:
            kept = item["body"]["units"]
    system = kept.get("system", request.units)
    theme = kept.get("theme", "device")
    return Preferences(
        system=system if system in SYSTEMS else "us",
        theme=theme if theme in THEMES else "device",
        units={name: unit for name, unit in kept.items() if name not in ("system", "theme")},
    )


def keep(writer: Writer, request: Request, book: Book, wanted: Preferences) -> None:
    """Add the entry that makes these the preferences; nothing where they are so already."""
    if request.person is None or wanted.mapping() == preferences(request, book).mapping():
        return
    ref = Ref("person", request.person.id)
    item = current(book.state(ref), "preference")
    heads = [] if item is None else [one["id"] for one in item["fork"]] or [item["head"]]
    writer.add("preference", ref, {"units": wanted.mapping()}, supersedes=heads)
