"""Contrast of both themes worked out from the style sheet, sizes of what is pressed, and nothing styled inline.

Source of the formula: WCAG 2.2, relative luminance and contrast ratio; 7:1 is its criterion 1.4.6, 3:1 for what is no
text its criterion 1.4.11. 48 px for a finger in a glove: common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

WEBUI = Path(__file__).resolve().parents[2] / "webui"
CSS = (WEBUI / "static/css/app.css").read_text("utf-8")
TEMPLATES = sorted(path for path in (WEBUI / "templates").rglob("*.html"))
TEXT = ("ink", "soft", "link", "good", "bad", "doubtful")


def palettes() -> list[dict[str, str]]:
    """Every block of the style sheet that sets the paper: device light, device dark, paper, lamp (print is black)."""
    blocks = re.findall(r"\{([^{}]*--paper:[^{}]*)\}", CSS)
    return [dict(re.findall(r"--([a-z]+): (#[0-9a-f]{6});", block)) for block in blocks if "#fff;" not in block]


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)  # WCAG 2.2: black on white is 21:1
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # the well-known failing grey, from memory


def test_both_themes_and_what_the_device_says() -> None:
    found = palettes()
    assert len(found) == 4
    assert found[0] == found[2]
    assert found[1] == found[3]


@pytest.mark.parametrize("palette", palettes()[:2], ids=["paper", "lamp"])
def test_text_is_readable_in_the_sun_and_in_the_dark(palette: dict[str, str]) -> None:
    for name in TEXT:
        for ground in ("paper", "wash"):
            assert contrast(palette[name], palette[ground]) >= 7, (name, ground)
    assert contrast(palette["keytext"], palette["key"]) >= 7
    assert contrast(palette["rule"], palette["paper"]) >= 3


def test_what_is_pressed_is_large_enough() -> None:
    assert "--touch: 3rem" in CSS
    assert float(re.search(r"html \{\s*font-size: ([\d.]+)%", CSS)[1]) >= 100  # so 3rem is 48 px or more
    for selector in (".button,\nbutton {", "textarea,\nselect {", ".minuskey {", ".choice {", "summary {", ".away {"):
        block = CSS.partition(selector)[2].partition("}")[0]
        assert "min-height: var(--touch)" in block, selector


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.relative_to(WEBUI).as_posix())
def test_nothing_that_the_security_policy_refuses(path: Path) -> None:
    text = path.read_text("utf-8")
    assert not re.search(r"\sstyle=|<style|\son[a-z]+=|hx-on|hx-vals=.js:|hx-trigger=\"[^\"]*\[|javascript:", text)
    assert not re.search(r"HX-Redirect|HX-Refresh|target=\"_|location\.href", text)
    assert "/static/" not in text or path.name == "shell.html"
