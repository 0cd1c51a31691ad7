"""Runs inside the Pyodide that is shipped: compiles the app and the part of the standard library it needs.

Reads sources below /src; JOB names them. Leaves two archives in /out, stored and not deflated (they are compressed as a
whole on their way, which is smaller), with fixed dates and sorted names, so that the same sources give the same bytes.
The last expression is what bundle.mjs prints.
"""

import ast
import importlib
import importlib.util
import json
import pkgutil
import sys
import zipfile
from importlib._bootstrap_external import _code_to_hash_pyc
from pathlib import Path, PurePosixPath

STOCK = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip"
OURS = ("calc", "webui")
# Loaded late or only when something goes wrong: a traceback, a codec, a decimal.
LATE = (
    "traceback", "linecache", "tokenize", "decimal", "fractions", "statistics", "csv", "textwrap", "zipfile",
    "importlib.resources", "importlib.metadata",
)  # fmt: skip
WHOLE = ("_pyodide/", "pyodide/", "importlib/", "zipfile/", "encodings/")  # import their own parts late


def module_name(path: str) -> str:
    parts = list(PurePosixPath(path).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports_of(source: str) -> set[str]:
    """Every module that a source imports by its full name, wherever in it."""
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            found |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return found


def import_everything(names: list[str]) -> set[str]:
    """Import all that the app can ever import; gives the names of every module that is then loaded.

    Our own modules must all load; what a library imports for platforms other than this one need not.
    """
    sys.path.insert(0, "/src")
    wanted = set(LATE)
    for name in names:
        if name.endswith(".py"):
            wanted |= imports_of(Path("/src", name).read_text("utf-8"))
            if name.startswith(tuple(f"{own}/" for own in OURS)):
                importlib.import_module(module_name(name))
    for name in sorted(wanted - set(sys.modules)):
        try:
            if importlib.util.find_spec(name) is not None:
                importlib.import_module(name)
        except ImportError:  # `from x import y` where y is no module, or a module for another platform
            continue
    return set(sys.modules)


def compiled(source: bytes, name: str, optimize: int) -> bytes:
    """The .pyc of a source, unchecked: there is no source beside it to be checked against."""
    code = compile(source, name, "exec", dont_inherit=True, optimize=optimize)
    return bytes(_code_to_hash_pyc(code, importlib.util.source_hash(source), False))


def write(archive: str, members: dict[str, bytes]) -> None:
    with zipfile.ZipFile(f"/out/{archive}", "w", zipfile.ZIP_STORED) as out:
        for name in sorted(members):
            out.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), members[name])


def app_members(names: list[str]) -> dict[str, bytes]:
    """Our packages keep their asserts and docstrings; those of libraries go."""
    members = {}
    for name in names:
        content = Path("/src", name).read_bytes()
        if name.endswith(".py"):
            ours = name.startswith(tuple(f"{own}/" for own in OURS))
            members[f"{name}c"] = compiled(content, name, 0 if ours else 2)
        else:
            members[name] = content
    return members


def library_members(loaded: set[str]) -> dict[str, bytes]:
    members = {}
    with zipfile.ZipFile(STOCK) as stock:
        for name in stock.namelist():
            if name.endswith(".py") and (module_name(name) in loaded or name.startswith(WHOLE)):
                members[f"{name}c"] = compiled(stock.read(name), name, 2)
    return members


def main() -> str:
    names = json.loads(JOB)["names"]  # noqa: F821 - set by bundle.mjs
    loaded = import_everything(names)
    Path("/out").mkdir()
    library = library_members(loaded)
    write("app.zip", app_members(names))
    write("python_stdlib.zip", library)
    return json.dumps(
        {
            "python": sys.version.split()[0],
            "magic": importlib.util.MAGIC_NUMBER.hex(),
            "archives": ["app.zip", "python_stdlib.zip"],
            "modules": sorted(module_name(name) for name in library),
            "left_out": sum(1 for one in pkgutil.iter_modules([STOCK]) if one.name not in loaded),
        }
    )


main()
