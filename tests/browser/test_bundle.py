"""What the phone's bundle is made of, without a browser: size, interpreter, lazy imports, parity under Node."""

from __future__ import annotations

import ast
import json
import re
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import pytest

from server.build.node import node
from server.build.sources import bundle_sources

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


INSIDE = """
import importlib, json, sys
sys.path.insert(0, "/app.zip")
lacking = []
for module, names in json.load(open("/asked.json")):
    try:
        found = importlib.import_module(module)
        for name in names:
            if not hasattr(found, name):
                importlib.import_module(f"{module}.{name}")
    except Exception as error:
        lacking.append([module, repr(error)])
json.dumps(lacking)
"""
COMPILED = "markupsafe._speedups"  # left out; the library goes on with its pure twin, which is asked for as well


def imports_of(name: str, source: str) -> dict[str, set[str]]:
    """Modules that a source imports anywhere in it, each with the names taken from it; for checkers of types not."""
    package = name.removesuffix(".py").removesuffix("/__init__").split("/")
    if not name.endswith("/__init__.py"):
        package = package[:-1]
    found: dict[str, set[str]] = {}
    tree = ast.parse(source)
    skipped = {
        id(inner)
        for step in ast.walk(tree)
        if isinstance(step, ast.If) and "TYPE_CHECKING" in ast.unparse(step.test)
        for one in step.body
        for inner in ast.walk(one)
    }
    for step in ast.walk(tree):
        if id(step) in skipped:
            continue
        if isinstance(step, ast.Import):
            for alias in step.names:
                found.setdefault(alias.name, set())
        elif isinstance(step, ast.ImportFrom):
            above = package[: len(package) + 1 - step.level] if step.level else []
            module = ".".join([*above, *([step.module] if step.module else [])])
            found.setdefault(module, set()).update(alias.name for alias in step.names)
    return found


def test_every_import_of_the_bundle_is_met_inside_it(manifest: dict[str, Any], tmp_path: Path) -> None:
    """Each module of ours and of the libraries, and all that any of them imports, late or early, loads from the two
    archives alone, in the interpreter of the phones."""
    asked: dict[str, set[str]] = {}
    sources = {name: path for name, path in bundle_sources().items() if name.endswith(".py")}
    assert len(sources) > 80
    for name, path in sources.items():
        own = name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        asked.setdefault(own, set())
        for module, names in imports_of(name, path.read_text("utf-8")).items():
            asked.setdefault(module, set()).update(names)
    job = {
        "core": f"{file(manifest, 'pyodide/pyodide.mjs').parent}/",
        "library": str(file(manifest, "python_stdlib.zip")),
        "app": str(file(manifest, "app.zip")),
        "lock": manifest["lock"],
        "script": INSIDE,
        "asked": sorted((module, sorted(names)) for module, names in asked.items()),
    }
    (tmp_path / "job.json").write_text(json.dumps(job), "utf-8")
    command = [node(), str(ROOT / "tests/browser/imports.mjs"), str(tmp_path / "job.json")]
    done = subprocess.run(command, stdout=subprocess.PIPE, check=True, text=True)
    assert [module for module, _ in json.loads(done.stdout)] == [COMPILED]
