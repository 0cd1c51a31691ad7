"""`python -m server.build`: npm files, compiled bundle, hash-named static files and their manifest.

Skipped when nothing it depends on has changed.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from server.build import scripts, sources
from server.build.node import NoNode, node, npm
from server.build.output import Output
from server.build.places import GEN, HERE, HTMX, PYODIDE, WEBUI, WORK

OURS, HTMX_LICENCE, PYODIDE_LICENCE = "Apache-2.0", "0BSD", "MPL-2.0"
PYTHON_LICENCE = "PSF-2.0"
BUNDLE_LICENCE = "Apache-2.0 AND BSD-3-Clause"  # ours, and Jinja2 and MarkupSafe
_PYODIDE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
_UNHASHED = {"js/service_worker.js": "service_worker.js", "manifest.webmanifest": "manifest.webmanifest"}


def main() -> int:
    stamp, digest = GEN / ".inputs", sources.inputs_digest()
    if stamp.is_file() and stamp.read_text() == digest and (GEN / "manifest.json").is_file():
        print("browser files are up to date")
        return 0
    try:
        install_npm_files()
        output = Output()
        facts = add_engine(output)
    except NoNode as missing:
        print(missing, file=sys.stderr)
        return 1
    add_page_files(output)
    build = output.finish({"python": facts["python"], "magic": facts["magic"], "lock": pyodide_lock()})
    stamp.write_text(digest)
    carried = sum(one.brotli for one in output.files.values() if one.phone)
    print(f"build {build}: {len(output.files)} files, {carried / 1e6:.2f} MB to a phone")
    return 0


def install_npm_files() -> None:
    """`npm ci` into an ignored folder, when the lock there is another one."""
    locks = {name: (WEBUI / name).read_bytes() for name in ("package.json", "package-lock.json")}
    stamp, digest = WORK / ".installed", hashlib.sha256(b"".join(locks.values())).hexdigest()
    if stamp.is_file() and stamp.read_text() == digest:
        return
    WORK.mkdir(parents=True, exist_ok=True)
    for name, content in locks.items():
        (WORK / name).write_bytes(content)
    subprocess.run(
        [*npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"], cwd=WORK, check=True
    )
    stamp.write_text(digest)


def add_engine(output: Output) -> dict[str, Any]:
    """Pyodide's core in a folder named by its hash, and the two archives compiled by it."""
    core = {name: (PYODIDE / name).read_bytes() for name in _PYODIDE_FILES}
    digest = hashlib.sha256(b"".join(core.values())).hexdigest()[:12]
    for name, content in core.items():
        output.add(f"pyodide/{name}", content, PYODIDE_LICENCE, file=f"pyodide-{digest}/{name}")
    facts = compile_bundle()
    for name, licence in (("python_stdlib.zip", PYTHON_LICENCE), ("app.zip", BUNDLE_LICENCE)):
        output.add(name, (WORK / "out" / name).read_bytes(), licence)
    return facts


def pyodide_lock() -> dict[str, Any]:
    """What Pyodide wants to know of itself, without the hundred kilobytes about packages that we never load."""
    whole = json.loads((PYODIDE / "pyodide-lock.json").read_text("utf-8"))
    return {"info": whole["info"], "packages": {}}


def compile_bundle() -> dict[str, Any]:
    """Compile app and standard library inside Pyodide under Node; gives what it found out (see inside.py)."""
    out = WORK / "out"
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    job = {
        "pyodide": str(PYODIDE) + "/",
        "script": str(HERE / "inside.py"),
        "out": str(out),
        "sources": {name: str(path) for name, path in sources.bundle_sources().items()},
    }
    (WORK / "job.json").write_text(json.dumps(job))
    done = subprocess.run(
        [node(), str(HERE / "bundle.mjs"), str(WORK / "job.json")], stdout=subprocess.PIPE, check=True, text=True
    )
    facts: dict[str, Any] = json.loads(done.stdout)
    (WORK / "facts.json").write_text(done.stdout)
    return facts


def add_page_files(output: Output) -> None:
    """htmx, and everything of webui/static: first what names nothing, then what names others."""
    static = sources.static_sources()
    late = {name: path for name, path in static.items() if Path(name).suffix in {".css", ".js", ".webmanifest"}}
    for name in sorted(set(static) - set(late)):
        output.add(name, static[name].read_bytes(), OURS)
    texts = {name: path.read_text("utf-8") for name, path in late.items()}
    js = {name.removeprefix("js/"): text for name, text in texts.items() if name.startswith("js/")}
    desk = json.dumps(scripts.desk_patterns(), indent=1)
    js["desk_paths.js"] = f"export const DESK = {desk};\n"
    js["htmx.js"] = (HTMX / "dist" / "htmx.esm.min.js").read_text("utf-8")
    js["service_worker.js"] = scripts.with_desk(js["service_worker.js"], desk)
    for name in sorted(set(texts) - {f"js/{one}" for one in js}):
        content = scripts.with_static_addresses(texts[name], output.address)
        output.add(name, content.encode(), OURS, phone=name not in _UNHASHED, file=_UNHASHED.get(name, ""))
    for name in scripts.in_order(js):
        content = scripts.with_addresses(js[name], lambda other: Path(output.files[f"js/{other}"].file).name)
        whole = f"js/{name}"
        licence = HTMX_LICENCE if name == "htmx.js" else OURS
        output.add(whole, content.encode(), licence, phone=whole not in _UNHASHED, file=_UNHASHED.get(whole, ""))


if __name__ == "__main__":
    raise SystemExit(main())
