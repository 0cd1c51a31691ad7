"""What goes into the build: the app's Python, the libraries it renders with, the scripts and styles, the npm lock."""

from __future__ import annotations

import hashlib
import importlib.util
from collections.abc import Iterable
from pathlib import Path

from server.build.places import HERE, ROOT, STATIC, WEBUI

# The pure-Python part only: a compiled wheel would not load on the phone.
LIBRARIES = {"jinja2": None, "markupsafe": ("__init__.py", "_native.py")}
_NOT_IN_BUNDLE = {"static", "__pycache__", "package.json", "package-lock.json", "py.typed"}
_NOT_SERVED = {"gen", "pictures", "__pycache__"}


def bundle_sources() -> dict[str, Path]:
    """Every file of the phone's Python by its name in the archive: calc, webui with templates, Jinja2, MarkupSafe."""
    found = {}
    for package in ("calc", "webui"):
        for path in _files(ROOT / package, _NOT_IN_BUNDLE):
            found[path.relative_to(ROOT).as_posix()] = path
    for library, names in LIBRARIES.items():
        spec = importlib.util.find_spec(library)
        if spec is None or spec.origin is None:
            raise ModuleNotFoundError(f"{library} is not installed here; run `make assets`")
        folder = Path(spec.origin).parent
        for name in names or sorted(path.name for path in folder.glob("*.py")):
            found[f"{library}/{name}"] = folder / name
    return found


def static_sources() -> dict[str, Path]:
    """Scripts, styles, icons and the web manifest by the name that `asset()` knows them by."""
    return {path.relative_to(STATIC).as_posix(): path for path in _files(STATIC, _NOT_SERVED)}


def inputs_digest() -> str:
    """A hash over everything that the result depends on; the build is skipped while it stays the same."""
    build = {f"build/{path.name}": path for path in _files(HERE, {"__pycache__"})}
    lock = {name: WEBUI / name for name in ("package.json", "package-lock.json")}
    static = {f"static/{name}": path for name, path in static_sources().items()}
    every = {**build, **lock, **static, **bundle_sources()}
    digest = hashlib.sha256()
    for name in sorted(every):
        digest.update(f"{name}\0{hashlib.sha256(every[name].read_bytes()).hexdigest()}\n".encode())
    return digest.hexdigest()


def _files(folder: Path, leave_out: Iterable[str]) -> list[Path]:
    """Files below a folder in one order, but for the names left out and hidden ones."""
    if not folder.is_dir():
        return []
    return sorted(
        path
        for path in folder.rglob("*")
        if path.is_file()
        and not any(part in leave_out or part.startswith(".") for part in path.relative_to(folder).parts)
        and path.suffix != ".pyc"
    )
