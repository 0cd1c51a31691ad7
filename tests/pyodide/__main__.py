"""`python -m tests.pyodide [pytest arguments]`: tests of calc and webui inside the Pyodide of the phones, under Node.

The repository and the pure-Python test packages of this environment are mounted as they lie; the standard library is
Pyodide's whole one, since pytest needs more of it than a phone.
"""

from __future__ import annotations

import importlib.util
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from server.build.__main__ import install_npm_files
from server.build.node import node
from server.build.places import PYODIDE, ROOT

HERE = Path(__file__).resolve().parent
# pure Python all of them; jinja2 and markupsafe as in the bundle
PACKAGES = (
    "py", "pytest", "_pytest", "pluggy", "iniconfig", "packaging", "pygments", "hypothesis", "_hypothesis_pytestplugin",
    "_hypothesis_ftz_detector", "_hypothesis_globals", "sortedcontainers", "jinja2", "markupsafe",
)  # fmt: skip
SUITES = ("tests/calc", "tests/webui")
SETTINGS = """[pytest]
pythonpath = {root}
markers =
    coolprop: needs CoolProp
    browser: drives a real Chromium
    timeout: of pytest-timeout, which Pyodide lacks
"""


def main(arguments: list[str]) -> int:
    install_npm_files()
    with tempfile.TemporaryDirectory() as folder:
        packages = Path(folder, "packages")
        packages.mkdir()
        for name in PACKAGES:
            spec = importlib.util.find_spec(name)
            if spec is None or spec.origin is None:
                continue  # not every release of hypothesis has each of its small modules
            origin = Path(spec.origin)
            whole = origin.parent if origin.name == "__init__.py" else origin
            os.symlink(whole, packages / whole.name)
        settings = Path(folder, "pytest.ini")
        settings.write_text(SETTINGS.format(root="/repo"))
        job = {
            "pyodide": f"{PYODIDE}/",
            "repo": str(ROOT),
            "folder": folder,
            "packages": {path.name: str(path.resolve()) for path in packages.iterdir()},
            "script": str(HERE / "inside.py"),
            "arguments": arguments or [name for name in SUITES if (ROOT / name).is_dir()],
        }
        Path(folder, "job.json").write_text(json.dumps(job))
        return subprocess.run(
            [node(), "--stack-size=5000", str(HERE / "run.mjs"), str(Path(folder, "job.json"))], check=False
        ).returncode


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
