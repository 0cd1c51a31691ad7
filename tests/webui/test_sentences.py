"""Every sentence of a template goes through gettext."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

TEMPLATES = Path(__file__).resolve().parents[2] / "webui" / "templates"
OURS = sorted(p for p in TEMPLATES.rglob("*.html") if p.name != "shell.html")
SAID = ("aria-label", "placeholder", "title", "alt")


class Bare(HTMLParser):
    """Collects words that stand outside any template expression."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []

    def handle_data(self, data: str) -> None:
        if re.search(r"[^\W\d_]{2,}", data):
            self.words.append(data.strip())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.words += [v for n, v in attrs if n in SAID and v and re.search(r"[^\W\d_]{2,}", v)]


def bare_words(text: str) -> list[str]:
    text = re.sub(r"\{#.*?#\}", "", text, flags=re.S)
    text = re.sub(r"\{% macro marks.*?endmacro %\}", "", text, flags=re.S)  # attributes only, no sentence
    text = re.sub(r"\{% trans.*?\{% endtrans %\}", "", text, flags=re.S)
    text = re.sub(r"\{%.*?%\}|\{\{.*?\}\}", "", text, flags=re.S)
    finder = Bare()
    finder.feed(text)
    return finder.words


def test_the_finder_finds() -> None:
    assert bare_words('<p aria-label="Areas">Keep {{ _("this") }}</p>') == ["Areas", "Keep"]
    assert bare_words('<p title="{{ _("Areas") }}">{% trans %}Keep{% endtrans %} {{ x }}</p>') == []


@pytest.mark.parametrize("path", OURS, ids=lambda p: p.relative_to(TEMPLATES).as_posix())
def test_no_bare_text(path: Path) -> None:
    assert bare_words(path.read_text("utf-8")) == []
