"""`python -m server.build.pyodide_lock`: any Pyodide page can use `calc` through a lock file made by pyodide-build.

pyodide-build adds our wheel, Jinja2 and a pure MarkupSafe to Pyodide's own lock; Node then loads Dewbook from that lock
alone and works out a superheat, which has to be what this Python says. pyodide-build wants Python 3.12 or newer and
gets an environment of its own; where there is no such Python this says so and checks nothing.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from calc.working import run
from server.build.node import node
from server.build.places import HERE, PYODIDE, ROOT

_FOLDER = ROOT / "build" / "pyodide-lock"  # ignored by git
_NEWER = ("python3.14", "python3.13", "python3.12")
_EXAMPLE = {"refrigerant": "R-410A", "suction_pressure": "118 psig", "suction_temperature": "52 F"}
_LAST_BITS = 1e-9  # relative; the two hosts' floats may differ in the last bits


def newer_python() -> str | None:
    """A Python of 3.12 or newer on this machine: this one, one on PATH, or one of pyenv."""
    if sys.version_info >= (3, 12):
        return sys.executable
    of_pyenv = sorted((Path.home() / ".pyenv" / "versions").glob("3.1[2-9].*/bin/python3"), reverse=True)
    found = [*filter(None, map(shutil.which, _NEWER)), *map(str, of_pyenv)]
    return next(filter(_runs, found), None)


def _runs(python: str) -> bool:
    """Whether it is a Python that answers (what pyenv puts on PATH may be a name for nothing)."""
    return subprocess.run([python, "--version"], capture_output=True, check=False).returncode == 0


def tools(python: str) -> Path:
    """The folder of an environment's programs that has pyodide-build; made where it is not there yet."""
    programs = _FOLDER / "venv" / "bin"
    if not (programs / "pyodide").exists():
        subprocess.run([python, "-m", "venv", "--clear", str(_FOLDER / "venv")], check=True)
        subprocess.run([programs / "pip", "install", "-q", "pyodide-build>=0.39", "pkginfo"], check=True)
    return programs


def wheels(programs: Path) -> list[Path]:
    """Our wheel, Jinja2's, and MarkupSafe's without its compiled part (no C compiler answers to `false`)."""
    folder = _FOLDER / "wheels"
    shutil.rmtree(folder, ignore_errors=True)
    make = [programs / "pip", "wheel", "-q", "--no-deps", "-w", str(folder)]
    subprocess.run([*make, str(ROOT), "jinja2"], check=True)
    pure = {**os.environ, "CC": "false"}
    subprocess.run([*make, "--no-binary", "markupsafe", "--no-cache-dir", "markupsafe"], check=True, env=pure)
    return sorted(folder.glob("*.whl"))


def main() -> int:
    python = newer_python()
    if python is None:
        print("pyodide lock: not checked; pyodide-build wants Python 3.12 or newer, and there is none here")
        return 0
    _FOLDER.mkdir(parents=True, exist_ok=True)
    programs = tools(python)
    made = wheels(programs)
    lock = _FOLDER / "wheels" / "pyodide-lock.json"
    add = [programs / "pyodide", "lockfile", "add-wheels", "--input", PYODIDE / "pyodide-lock.json", "--output", lock]
    subprocess.run([*add, "--base-path", lock.parent, *made], check=True, stdout=subprocess.DEVNULL)
    asked = json.dumps({"pyodide": str(PYODIDE), "folder": str(lock.parent), "inputs": _EXAMPLE})
    script = [node(), str(HERE / "from_lock.mjs")]
    done = subprocess.run(script, input=asked, check=True, capture_output=True, text=True)
    there = json.loads(done.stdout.splitlines()[-1])["results"]["superheat"]
    here = run("superheat", _EXAMPLE).results["superheat"]
    if there["shown"] != here.shown or abs(there["value"] - here.value) > _LAST_BITS * abs(here.value):
        print(f"pyodide lock: Pyodide says {there}, this Python {here}")
        return 1
    print(f"pyodide lock: {len(made)} wheels added; loaded from it, Dewbook says {there['shown']} as it does here")
    return 0


if __name__ == "__main__":
    sys.exit(main())
