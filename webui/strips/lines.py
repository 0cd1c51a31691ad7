"""The strips of a sheet in the order of the day: each reading with what was worked out from it, notes, closings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.working import workings
from webui.record import Item, State, standing
from webui.strips.reading import FIELDS
from webui.subjects import shown_quantity
from webui.words import label
from webui.worked import Block, block_kept, said_once

_LABELS = {one.name: one.label for one in FIELDS}
_ORDER = {name: place for place, name in enumerate(workings())}
_WORST_FIRST = ("not_proven", "too_close", "proven", "kept")


@dataclass(frozen=True)
class Strip:
    """One strip: its item, who wrote it, how it stands, what was taken (label and text), and what was worked out.

    earlier and sides are versions that were replaced, or that stand beside each other: who, when, what.
    """

    item: Item
    who: str
    standing: str
    taken: tuple[tuple[str, str], ...]
    blocks: tuple[Block, ...]
    earlier: tuple[tuple[str, str, str], ...]
    sides: tuple[tuple[str, str, str], ...]
    voided_by: str


def strips(state: State, names: Mapping[str, str], language: str) -> tuple[Strip, ...]:
    """Every strip of a sheet; findings stand with their reading, the opening of the sheet is its head."""
    found = [item for item in state["items"] if item["kind"] == "finding" and not item["void"]]
    return tuple(
        _strip(item, found, names, language)
        for item in state["items"]
        if item["kind"] in ("reading", "note", "sheet_closed")
    )


def findings_of(state: State, reading: Item) -> list[Item]:
    """The findings that stand on what holds of a reading (on any of its versions while it is forked)."""
    ids = {reading["head"], *(one["id"] for one in reading["fork"])}
    return [
        item
        for item in state["items"]
        if item["kind"] == "finding" and not item["void"] and ids.intersection(item["body"]["of"])
    ]


def _strip(item: Item, found: list[Item], names: Mapping[str, str], language: str) -> Strip:
    own = [one for one in found if item["head"] in one["body"]["of"]] if item["kind"] == "reading" else []
    own.sort(key=lambda one: (_ORDER.get(one["body"]["working"], len(_ORDER)), one["id"]))
    own.sort(key=_place)
    states = [standing((one["body"].get("verdict") or {}).get("state")) for one in own] or ["kept"]
    return Strip(
        item=item,
        who=names.get(item["by"], ""),
        standing="void" if item["void"] else next(one for one in _WORST_FIRST if one in states),
        taken=_taken(item["body"], language) if item["kind"] == "reading" else (),
        blocks=said_once(block_kept(one["body"], language) for one in own),
        earlier=tuple(_version(one, names, language) for one in item["history"]),
        sides=tuple(_version(one, names, language) for one in item["fork"]),
        voided_by=names.get(item["void"]["by"], "") if item["void"] else "",
    )


def _place(finding: Item) -> int:
    """Findings stand in the order of the workings; one of a working not known here comes last."""
    names = list(workings())
    working = finding["body"]["working"]
    return names.index(working) if working in names else len(names)


def _taken(body: Mapping[str, Any], language: str) -> tuple[tuple[str, str], ...]:
    values = body["values"]
    order = [name for name in _LABELS if name in values] + [name for name in values if name not in _LABELS]
    return tuple((label(_LABELS.get(name) or name, language), _text(values[name], language)) for name in order)


def _text(value: Mapping[str, str], language: str) -> str:
    text = shown_quantity(value)
    return label(text, language) if "_" in text else text


def _version(line: Mapping[str, Any], names: Mapping[str, str], language: str) -> tuple[str, str, str]:
    body = line["body"]
    said = "; ".join(f"{name} {text}" for name, text in _taken(body, language)) if "values" in body else ""
    return names.get(line["by"], ""), line["made_at"], said or str(body.get("text") or body.get("why") or "")
