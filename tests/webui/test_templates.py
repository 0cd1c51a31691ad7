"""No template lies about unused, and the manual has a page for every text it carries."""

from __future__ import annotations

from pathlib import Path

import webui
from webui.pages.manual import TOPICS

HERE = Path(webui.__file__).resolve().parent
TEMPLATES = HERE / "templates"


def test_every_template_is_named_somewhere() -> None:
    sources = [*HERE.rglob("*.py"), *TEMPLATES.rglob("*.html"), *(HERE.parent / "server").rglob("*.py")]
    texts = {path: path.read_text("utf-8") for path in sources if "gen" not in path.parts}
    for template in TEMPLATES.glob("*.html"):
        assert any(f'"{template.name}"' in text for path, text in texts.items() if path != template), template.name


def test_every_text_of_the_manual_is_a_topic() -> None:
    assert {path.stem for path in (TEMPLATES / "manual").glob("*.html")} == {name for name, _ in TOPICS}
