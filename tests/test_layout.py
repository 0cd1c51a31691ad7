"""The shape of the project: who may import whom, how large a file may grow, what may lie at the top."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "LICENSE",
    "Makefile",
    "pyproject.toml",
    "server",
    "webui",
    "calc",
    "tests",
    "e2e",
}
# What each package may import beside the standard library and itself. calc: nothing, so that it loads anywhere.
ALLOWED = {
    "calc": set(),
    "webui": {"calc", "jinja2", "markupsafe"},
    "server": {
        "calc", "webui", "jinja2", "markupsafe", "flask", "werkzeug", "sqlalchemy", "alembic", "argon2", "gunicorn",
        "cryptography", "brotli",
    },
}  # fmt: skip
CEILINGS = {"calc": 400, "webui/pages": 200, "webui": 300, "server": 300}
JAVASCRIPT_CEILING = 200
DRAWERS = {"util", "utils", "helper", "helpers", "common", "misc", "tools", "tool"}


def tracked(*patterns: str) -> list[Path]:
    """The files of the project: what git has, and what is not ignored."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "--", *patterns]
    listed = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout.split("\n")
    return [ROOT / name for name in listed if name and (ROOT / name).is_file()]


def imported(path: Path) -> set[str]:
    """Top-level names of everything a module imports, wherever in the file."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            found.add(node.module.split(".")[0])
    return found


@pytest.mark.parametrize("package", ALLOWED)
def test_imports_go_one_way(package: str) -> None:
    files = tracked(f"{package}/*.py")
    assert len(files) > 5
    outside = {
        f"{path.relative_to(ROOT)} imports {name}"
        for path in files
        for name in imported(path) - sys.stdlib_module_names - {package} - ALLOWED[package]
    }
    assert not outside


def test_only_the_listed_names_lie_at_the_top() -> None:
    names = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {name for name in names if not name.startswith(".")} == TOP


def ceiling(path: Path) -> int:
    relative = path.relative_to(ROOT).as_posix()
    return next(lines for prefix, lines in CEILINGS.items() if relative.startswith(prefix + "/"))


def test_no_python_file_outgrows_its_reader() -> None:
    # the longest prefix comes first in CEILINGS, so that webui/pages is not judged as webui
    grown = {
        str(path.relative_to(ROOT)): lines
        for path in tracked("calc/*.py", "webui/*.py", "server/*.py")
        if (lines := len(path.read_text("utf-8").splitlines())) > ceiling(path)
    }
    assert not grown


def test_no_script_outgrows_its_reader() -> None:
    scripts = tracked("webui/static/js/*.js")
    assert scripts
    grown = {p.name: n for p in scripts if (n := len(p.read_text("utf-8").splitlines())) > JAVASCRIPT_CEILING}
    assert not grown


def test_no_drawer_by_name() -> None:
    assert not [path for path in tracked("*.py", "*.js", "*.mjs") if path.stem in DRAWERS]


def test_importing_the_program_opens_nothing() -> None:
    """`dewbook work` answers without the server's libraries, so it starts fast and runs where only calc is there."""
    code = (
        "import sys, server.cli; server.cli.main(['work', 'site_pressure', 'elevation=1600 m', '--json']);"
        "bad = {'flask', 'sqlalchemy', 'alembic', 'jinja2', 'CoolProp', 'numpy'} & set(sys.modules);"
        "sys.exit('loaded: ' + ', '.join(sorted(bad)) if bad else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert '"ok": true' in done.stdout
