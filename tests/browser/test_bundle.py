"""What the phone's bundle is made of, without a browser: size, interpreter, lazy imports, parity under Node."""

from __future__ import annotations

import json
import re
import zipfile
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
GEN = ROOT / "webui" / "static" / "gen"
MOST_BYTES = 5_000_000


@pytest.fixture(scope="module")
def manifest() -> dict[str, Any]:
    found: dict[str, Any] = json.loads((GEN / "manifest.json").read_text("utf-8"))
    return found


def file(manifest: dict[str, Any], name: str) -> Path:
    return GEN / next(one["file"] for one in manifest["files"] if one["name"] == name)


def test_first_install_takes_at_most_five_megabytes(manifest: dict[str, Any]) -> None:
    """Counted from the compressed files themselves, not from what the manifest says."""
    carried = 0
    for one in manifest["files"]:
        if one["phone"]:
            path = GEN / one["file"]
            small = path.with_name(path.name + ".br")
            carried += (small if small.is_file() else path).stat().st_size
    assert 3_000_000 < carried <= MOST_BYTES


@pytest.mark.parametrize("archive", ["app.zip", "python_stdlib.zip"])
def test_bundle_holds_no_source_and_only_code_of_its_own_interpreter(manifest: dict[str, Any], archive: str) -> None:
    """Code compiled by another Python would be refused, and sources would be compiled at every start."""
    with zipfile.ZipFile(file(manifest, archive)) as opened:
        names = opened.namelist()
        compiled = [name for name in names if name.endswith(".pyc")]
        assert len(compiled) > 50
        assert not [name for name in names if name.endswith(".py")]
        assert {opened.read(name)[:4].hex() for name in compiled} == {manifest["magic"]}
        assert {opened.getinfo(name).compress_type for name in names} == {zipfile.ZIP_STORED}


@pytest.mark.parametrize("archive", ["app.zip", "python_stdlib.zip"])
def test_bundle_does_not_tell_where_it_was_built(manifest: dict[str, Any], archive: str) -> None:
    """Paths of the building machine would stand in compiled code if its file names were kept."""
    content = file(manifest, archive).read_bytes()
    assert str(ROOT).encode() + b"/" not in content
    assert str(Path.home()).encode() + b"/" not in content


def test_no_page_asks_for_what_the_policy_forbids() -> None:
    """Inline handlers, script values and bracketed trigger filters of htmx need eval; nonces go stale in a cache."""
    forbidden = re.compile(r'hx-on|\bjs:|javascript:|hx-trigger="[^"]*\[|\bnonce\b|\son[a-z]+="|<script>|\sstyle="')
    templates = sorted((ROOT / "webui/templates").rglob("*.html")) + sorted((ROOT / "server/templates").rglob("*.html"))
    assert len(templates) > 10
    assert not [f"{path.name}: {hit[0]}" for path in templates if (hit := forbidden.search(path.read_text("utf-8")))]


def test_no_module_of_the_phone_reads_time_zones_by_name() -> None:
    """There is no zone data on the phone: the browser hands the offset in."""
    modules = [*(ROOT / "calc").rglob("*.py"), *(ROOT / "webui").rglob("*.py")]
    assert len(modules) > 20
    assert not [path.name for path in modules if re.search(r"\bzoneinfo\b", path.read_text("utf-8"))]
