"""Templates: from inside a zip as on the phone, undefined names fail, partial pages, escaping."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from desk_host import Host
from jinja2 import TemplateNotFound, UndefinedError

from webui.render import environment

ROOT = Path(__file__).resolve().parents[2]


def test_pages_from_inside_a_zip(tmp_path: Path) -> None:
    """The phone's bundle is a stored zip; nothing may look for templates or tables in folders."""
    archive = tmp_path / "app.zip"
    with zipfile.ZipFile(archive, "w") as zipped:
        for package in ("calc", "webui"):
            for path in sorted((ROOT / package).rglob("*")):
                parts = path.relative_to(ROOT).parts
                if path.is_file() and "__pycache__" not in parts and "static" not in parts:
                    zipped.write(path, path.relative_to(ROOT).as_posix())
    code = (
        f"import sys; sys.path.insert(0, {str(archive)!r}); sys.path.append('tests/webui');"
        "from desk_host import *; import webui; assert '.zip' in webui.__file__;"
        "host = Host(); sheet = opened_sheet(host); host.kept(sheet + '/reading', READING);"
        "assert 'mainfigure' in host.get(sheet).html"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )  # fmt: skip
    assert done.returncode == 0, done.stderr


def test_undefined_names_fail() -> None:
    with pytest.raises(UndefinedError, match="nothing"):
        environment("en").from_string("{{ nothing }}").render()


def test_no_template_from_outside_the_package() -> None:
    for name in ("../page.py", "none.html", ""):
        with pytest.raises(TemplateNotFound):
            environment("en").get_template(name)


def test_a_partial_page_is_title_desk_and_areas(host: Host) -> None:
    full, part = host.get("/bench").html, host.get("/bench", kind="partial").html
    assert full.startswith("<!doctype html>")
    assert part.startswith("<title>Bench · Dewbook</title>")
    assert "<html" not in part
    assert '<nav id="areas" aria-label="Areas" hx-swap-oob="true">' in part
    assert 'href="/bench" aria-current="page"' in part
    assert part.partition('<div class="leaf"')[2].partition("</ul>")[0] in full


def test_what_people_type_is_escaped(host: Host) -> None:
    host.kept("/places/new", {"name": "<b>Fish & Market</b>"})
    page = host.get("/places").html
    assert "&lt;b&gt;Fish &amp; Market&lt;/b&gt;" in page
    assert "<b>Fish" not in page


def test_the_theme_is_kept_and_told(host: Host) -> None:
    assert 'data-theme="device"' in host.get("/").html
    host.kept("/settings", {"theme": "lamp", "system": "metric"})
    page = host.get("/settings").html
    assert 'data-theme="lamp"' in page
    assert 'value="metric" checked' in page
    before = len(host.entries)
    host.kept("/settings", {"theme": "lamp", "system": "metric"})
    assert len(host.entries) == before, "the same again keeps nothing"
