"""What a working gave, as a page shows it: from a fresh answer or from a finding that was kept."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from calc import CALC_VERSION
from calc.messages import Message
from calc.working import Answer, run, workings
from webui.bracket import Bar, bar
from webui.language import sentence
from webui.words import label


@dataclass(frozen=True)
class ShownFigure:
    """One result: its label, the text with uncertainty and unit, whether it is what the working is for."""

    label: str
    shown: str
    main: bool


@dataclass(frozen=True)
class ShownStep:
    """One step of why."""

    formula: str
    with_: str
    source: str


@dataclass(frozen=True)
class Block:
    """One working's answer. today and version are set where a kept figure would be another one now."""

    title: str
    figures: tuple[ShownFigure, ...]
    bar: Bar | None
    state: str
    verdict: str
    notes: tuple[str, ...]
    why: tuple[ShownStep, ...]
    today: str = ""
    version: str = ""


def decimal(value: float) -> str:
    """A computed value as an entry keeps it: nine figures, so that the two hosts' last bits do not show."""
    return format(value, ".9g")


def _as_text(value: Any) -> str:
    """A result that is no quantity, as an entry keeps it: a word as it is, anything else as JSON."""
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False, sort_keys=True)


def results_of(answer: Answer) -> dict[str, dict[str, str]]:
    """The results of an answer as an entry keeps them."""
    kept: dict[str, dict[str, str]] = {}
    for name, figure in answer.results.items():
        text = decimal(figure.value) if isinstance(figure.value, float) else _as_text(figure.value)
        kept[name] = {"value": text, "unit": figure.unit, "shown": figure.shown}
        if figure.u is not None:
            kept[name]["u"] = decimal(figure.u)
    return kept


def message_of(message: Message) -> dict[str, Any]:
    """A sentence as an entry keeps it; an amount is rounded to what both hosts agree on."""
    kept = message.to_json()
    for value in kept["values"].values():
        if isinstance(value, dict):
            value["value"] = decimal(float(value["value"]))
    return kept


def verdict_of(answer: Answer) -> dict[str, Any] | None:
    """The verdict of an answer as an entry keeps it."""
    if answer.verdict is None:
        return None
    return {"state": answer.verdict.state, **message_of(answer.verdict.text)}


def block_of(answer: Answer, language: str) -> Block:
    """A fresh answer as a page shows it."""
    why = tuple(
        ShownStep(sentence(step.formula, language), sentence(step.with_, language), step.source) for step in answer.why
    )
    notes = [message_of(note) for note in answer.notes]
    return _block(answer.working, results_of(answer), verdict_of(answer), notes, why, language)


def block_kept(body: Mapping[str, Any], language: str) -> Block:
    """A finding as it was kept; the reasons are worked out again, and so is what it would be now if that differs."""
    now = run(body["working"], body["inputs"])
    fresh = block_of(now, language) if now.ok else None
    kept = _block(
        body["working"], body["results"], body.get("verdict"), body["notes"], fresh.why if fresh else (), language
    )
    if fresh and [f.shown for f in fresh.figures] == [f.shown for f in kept.figures] and fresh.state == kept.state:
        return kept
    today = "; ".join(
        f"{one.label} {one.shown}" for one in (fresh.figures if fresh else ()) if one not in kept.figures
    ) or (label(fresh.state, language) if fresh and fresh.state else "—")
    return replace(kept, today=today, version=CALC_VERSION)


def said_once(blocks: Iterable[Block]) -> tuple[Block, ...]:
    """Blocks of one reading with each note where it is first said."""
    said: set[str] = set()
    made = []
    for block in blocks:
        made.append(replace(block, notes=tuple(note for note in block.notes if note not in said)))
        said |= set(block.notes)
    return tuple(made)


def _block(
    name: str,
    results: Mapping[str, Mapping[str, str]],
    verdict: Mapping[str, Any] | None,
    notes: list[dict[str, Any]],
    why: tuple[ShownStep, ...],
    language: str,
) -> Block:
    working = workings().get(name)
    main = _main(name, results, verdict)
    figures = []
    for key, kept in results.items():
        declared = working.result(key) if working else None
        figures.append(ShownFigure(label(declared.label if declared else key, language), kept["shown"], key == main))
    return Block(
        title=label(working.title if working else name, language),
        figures=tuple(sorted(figures, key=lambda one: not one.main)),
        bar=_bar(results[main], verdict) if verdict and main else None,
        state=verdict["state"] if verdict else "",
        verdict=_sentence(verdict, language) if verdict else "",
        notes=tuple(_sentence(note, language) for note in notes),
        why=why,
    )


def _main(name: str, results: Mapping[str, Mapping[str, str]], verdict: Mapping[str, Any] | None) -> str:
    """The result that a verdict is about, else the one the working is named after, else the first."""
    judged = (verdict or {}).get("values", {}).get("figure")
    if isinstance(judged, Mapping):
        for key, kept in results.items():
            if kept["shown"] == judged.get("shown"):
                return key
    return name if name in results else next(iter(results), "")


def _bar(result: Mapping[str, str], verdict: Mapping[str, Any]) -> Bar | None:
    low, high = verdict["values"].get("low"), verdict["values"].get("high")
    if not isinstance(low, Mapping) or not isinstance(high, Mapping):
        return None
    u = float(result["u"]) if "u" in result else None
    target = f"{low['shown']} … {high['shown']}"
    return bar(float(result["value"]), u, float(low["value"]), float(high["value"]), result["shown"], target)


def _sentence(kept: Mapping[str, Any], language: str) -> str:
    values = {name: value["shown"] if isinstance(value, Mapping) else value for name, value in kept["values"].items()}
    return sentence(Message(kept["text"], values), language)
