"""Where the build reads and writes."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
WEBUI = ROOT / "webui"
STATIC = WEBUI / "static"
GEN = STATIC / "gen"
WORK = ROOT / "build" / "browser"  # ignored by git
MODULES = WORK / "node_modules"
PYODIDE = MODULES / "pyodide"
HTMX = MODULES / "htmx.org"
HERE = Path(__file__).resolve().parent
